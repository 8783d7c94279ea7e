"""The command line: parse, call, print, exit. Results on stdout, everything else on stderr.

Exit status: 0 no *must* fails, 1 one does, 2 the input or the call is wrong, 3 a written file
did not come out right. Heavy libraries are loaded only by the command that needs them.
"""

import sys
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

from ..params.problem import BuildFileError, Problem
from ..params.reading import Source

OK, MUST_FAILS, WRONG_INPUT, WRONG_OUTPUT = 0, 1, 2, 3

app = typer.Typer(
    add_completion=True,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From tape measure to a mitered collar with taps for a chest freezer.",
    epilog="Example: collarwright check examples/cold-coffee.toml",
)

File = Annotated[Path, typer.Argument(metavar="FILE", help="The build file.")]
Json = Annotated[bool, typer.Option("--json", help="Print data instead of text.")]


def _version(asked: bool) -> None:
    if asked:
        from .summary import program_version

        typer.echo(f"collarwright {program_version()}")
        raise typer.Exit


def _schema(asked: bool) -> None:
    if asked:
        from .schema import schema_text

        typer.echo(schema_text(), nl=False)
        raise typer.Exit


@app.callback()
def top(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Print the version."),
    ] = False,
) -> None:
    """From tape measure to a mitered collar with taps for a chest freezer."""


@app.command(epilog="Example: collarwright new my-freezer.toml")
def new(
    file: File,
    answer: Annotated[
        list[str] | None,
        typer.Option(
            "--set", metavar="KEY=VALUE", help="Answer without being asked; may be repeated."
        ),
    ] = None,
    complete: Annotated[
        bool, typer.Option("--complete", help="Go on with a file that this command wrote.")
    ] = False,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Write over FILE if it is there.")
    ] = False,
) -> None:
    """Ask for the readings and write a commented build file; nobody to ask: an example."""
    from .new import starting

    said = starting.from_flags(answer or [])
    if isinstance(said, list):
        _refuse(said, json=False)
    problem = starting.refused(file, complete=complete, overwrite=overwrite)
    if problem is not None:
        _refuse([problem], json=False)
    talking = sys.stdin.isatty() and sys.stdout.isatty() and not said
    written = starting.start(file, said, complete=complete, talking=talking)
    if isinstance(written, list):
        _refuse(written, json=False)
    raise typer.Exit(written)


@app.command(epilog="Example: collarwright check examples/cold-coffee.toml -v")
def check(
    file: File,
    json: Json = False,
    verbose: Annotated[
        bool, typer.Option("-v", "--verbose", help="Also list everything that passes.")
    ] = False,
    schema: Annotated[
        bool,
        typer.Option(
            "--schema", callback=_schema, is_eager=True, help="Print the JSON Schema of --json."
        ),
    ] = False,
) -> None:
    """Say what will not fit, what was not checked, and which keys change it. Writes nothing."""
    from ..geometry.judge.evaluate import evaluate

    project, source = _read(file, json)
    evaluation = evaluate(project)
    if json:
        from .summary import dumps, summary

        typer.echo(dumps(summary(project, evaluation, source.file, source.sha256)), nl=False)
    else:
        from .text import report

        typer.echo(report(project, evaluation, source.file, verbose, source.examples), nl=False)
    raise typer.Exit(MUST_FAILS if evaluation.verdict == "fail" else OK)


@app.command(epilog="Example: collarwright build examples/cold-coffee.toml --out coffee --paper a4")
def build(
    file: File,
    out: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="The folder to write; by default the file's name."),
    ] = None,
    only: Annotated[
        list[str] | None,
        typer.Option(metavar="KIND", help="Only model, cut or templates; may be repeated."),
    ] = None,
    paper: Annotated[
        str | None,
        typer.Option(help="Paper of the templates: letter, a4, legal, a3, tabloid, sheet."),
    ] = None,
    dxf_units: Annotated[str, typer.Option(help="Units of the cut files: mm or in.")] = "mm",
    dxf_version: Annotated[
        str, typer.Option(help="R2000, or R12 for old machines (it cannot state units).")
    ] = "R2000",
    despite_failures: Annotated[
        bool,
        typer.Option(
            "--despite-failures", help="Write cut files and templates with the failures in print."
        ),
    ] = False,
    json: Json = False,
) -> None:
    """Write model, cut files and full-size drilling templates to a folder."""
    from .build import KINDS, Options
    from .build import build as run
    from .paper.sizes import PAPER_NAMES
    from .place import PlaceError

    wrong = [
        Problem(key=key, read=repr(value), wanted=f"one of {', '.join(choices)}")
        for key, values, choices in (
            ("--only", only or (), KINDS),
            ("--paper", (paper,) if paper is not None else (), PAPER_NAMES),
            ("--dxf-units", (dxf_units,), ("mm", "in")),
            ("--dxf-version", (dxf_version,), ("R2000", "R12")),
        )
        for value in values
        if value not in choices
    ]
    if wrong:
        _refuse(wrong, json)
    project, source = _read(file, json)
    folder = out if out is not None else Path(file.stem or "collar")
    options = Options(
        only=tuple(kind for kind in KINDS if not only or kind in only),
        paper=paper,
        dxf_units=dxf_units,  # type: ignore[arg-type]
        dxf_version=dxf_version,  # type: ignore[arg-type]
        despite_failures=despite_failures,
    )
    try:
        done = run(project, source, folder, options, _progress)
    except PlaceError as error:
        _refuse([Problem(key="--out", read="", wanted=str(error))], json, str(error))
    if json:
        from .summary import dumps

        typer.echo(dumps(done.summary), nl=False)
    else:
        from .text import report

        typer.echo(
            report(project, done.evaluation, source.file, examples=source.examples), nl=False
        )
        for each in done.left_out:
            typer.echo(f"Note: {each}.")
        written = [entry["path"] for entry in done.summary["files"]]
        typer.echo(f"Wrote {len(written) + 1} files to {folder}")
        for kind in done.held_back:
            typer.echo(
                f"Held back: {kind}/ (a failure above would be cut into wood;"
                " --despite-failures writes it with the failures in print)"
            )
    raise typer.Exit(MUST_FAILS if done.evaluation.verdict == "fail" else OK)


@app.command(epilog="Example: collarwright catalog shanks")
def catalog(
    name: Annotated[
        str | None, typer.Argument(metavar="NAME", help="One catalogue; without it, all names.")
    ] = None,
    beside: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Also read the CSV files beside this build file."),
    ] = None,
    json: Json = False,
) -> None:
    """List the catalogues, or one with every figure's range, basis and source."""
    from .catalog import as_data, names_data, names_text, rows_text

    folder = None if beside is None else beside.parent
    if folder is not None and not folder.is_dir():
        read = "a folder that is not there"
        _refuse([Problem(key="--beside", read=read, wanted="the path of a build file")], json)
    try:
        if name is None:
            typer.echo(names_data() if json else names_text(), nl=False)
        else:
            typer.echo((as_data if json else rows_text)(name, folder), nl=False)
    except BuildFileError as error:
        _refuse(error.problems, json)


@app.command(epilog="Example: collarwright keys lip")
def keys(
    table: Annotated[
        str | None,
        typer.Argument(metavar="TABLE", help="One table, or one key; without it, everything."),
    ] = None,
    json: Json = False,
) -> None:
    """Say what may be written in a build file, and what each key means."""
    from .keys import keys_data, keys_text

    try:
        typer.echo((keys_data if json else keys_text)(table), nl=False)
    except BuildFileError as error:
        _refuse(error.problems, json)


def _read(file: Path, json: bool) -> tuple[Any, Source]:
    """Read the build file, or print every problem and leave with status 2."""
    from ..geometry.shape.layout import lay_out
    from ..params.reading import read

    try:
        return read(file, lay_out)
    except BuildFileError as error:
        _refuse(error.problems, json)


def _refuse(problems: Any, json: bool, sentence: str = "") -> NoReturn:
    """Print problems, as text on stderr or as data on stdout, and leave with status 2."""
    if json:
        from .summary import FORMAT, dumps

        data = [
            {
                "file": each.file,
                "line": each.line,
                "key": each.key,
                "read": each.read,
                "expected": each.wanted,
                "example": each.example,
            }
            for each in problems
        ]
        typer.echo(dumps({"format": FORMAT, "problems": data}), nl=False)
    else:
        typer.echo(sentence or "\n".join(str(each) for each in problems), err=True)
    raise typer.Exit(WRONG_INPUT)


def _progress(what: str) -> None:
    """Tell somebody at a terminal what is being done; say nothing into a pipe."""
    if sys.stderr.isatty():
        typer.echo(f"… {what}", err=True)


def main() -> None:
    """Run the program; whatever goes wrong leaves as a sentence and an exit status."""
    try:
        app()
    except KeyboardInterrupt:
        typer.echo("stopped", err=True)
        sys.exit(130)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(OK)
    except Exception as error:  # noqa: BLE001 - the last door: nobody is handed a traceback
        typer.echo(f"collarwright: {_sentence(error)}", err=True)
        sys.exit(WRONG_OUTPUT)


def _sentence(error: Exception) -> str:
    known = {"SolidError", "KernelMissing", "ReadBackError"}
    if type(error).__name__ in known:
        return str(error)
    return (
        f"a fault of the program itself ({type(error).__name__}: {error});"
        " nothing was written. Please report it with the build file."
    )
