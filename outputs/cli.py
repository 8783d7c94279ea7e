"""The command line: parse, call, print, exit. Results on stdout, everything else on stderr.

Exit status: 0 no *must* fails, 1 one does, 2 the input or the call is wrong, 3 a written file
did not come out right; 128 and more where a signal ended the run, as shells have it. Heavy
libraries are loaded only by the command that needs them.
"""

import os
import signal
import sys
from collections.abc import Generator, Iterable
from contextlib import contextmanager, suppress
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer
from typer.core import TyperGroup

from ..params.problem import BuildFileError, Problem, visible
from . import complete as offer
from .stops import Stop, catch_stops, let_stops_end_it, undisturbed

if TYPE_CHECKING:
    from ..params.reading import Source

OK, MUST_FAILS, WRONG_INPUT, WRONG_OUTPUT = 0, 1, 2, 3


class _Ended(Exception):  # noqa: N818 - not always an error
    """Carries what ended a command past typer, which has other exit statuses for it."""

    def __init__(self, by: OSError | KeyboardInterrupt) -> None:
        self.by = by
        super().__init__(str(by))


@contextmanager
def _carried() -> Generator[None]:
    try:
        yield
    except (OSError, KeyboardInterrupt) as by:
        raise _Ended(by) from None


class _Commands(TyperGroup):
    """The commands, with ends of our own: typer's 1 would say here that a *must* fails."""

    def make_context(self, *args: Any, **more: Any) -> Any:
        with _carried():
            return super().make_context(*args, **more)

    def invoke(self, ctx: Any) -> Any:
        with _carried():
            return super().invoke(ctx)


app = typer.Typer(
    cls=_Commands,
    add_completion=True,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From tape measure to a mitered collar with taps for a chest freezer.",
    epilog="""\b
Exit status: 0 no must fails, 1 one does, 2 the input or the call is wrong,
3 a written file did not come out right; 128 and more: stopped by a signal.
\b
Example: collarwright check examples/cold-coffee.toml
Every key of the build file: collarwright keys""",
)

File = Annotated[
    Path,
    typer.Argument(
        metavar="FILE", help="The build file, a .toml.", autocompletion=offer.build_files
    ),
]
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
            "--set",
            metavar="KEY=VALUE",
            help='Answer without being asked, say lip.front="37 5/8 in"; may be repeated.',
        ),
    ] = None,
    complete: Annotated[
        bool, typer.Option("--complete", help="Go on with FILE; what was written by hand stays.")
    ] = False,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Write over FILE if it is there.")
    ] = False,
) -> None:
    """Ask for the readings and write a commented build file.

    Without a terminal, or with --set, nothing is asked: what was not said is an example, and the
    file says so.
    """
    with undisturbed():
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


@app.command(
    short_help="Write a sheet to measure with: pictures of where to hold the tape, and boxes.",
    epilog="Example: collarwright sheet --paper a4",
)
def sheet(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The PDF to write.")] = Path(
        "measuring-sheet.pdf"
    ),
    paper: Annotated[
        str | None,
        typer.Option(
            metavar="PAPER",
            help="letter or a4. By default what goes with --show, or else letter.",
            autocompletion=offer.sheet_papers,
        ),
    ] = None,
    show: Annotated[
        str | None,
        typer.Option(
            metavar="UNITS",
            help="The unit in the boxes: in or mm. By default what goes with --paper.",
            autocompletion=offer.shows,
        ),
    ] = None,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Write over FILE if it is there.")
    ] = False,
) -> None:
    """Write a sheet to measure with: pictures of where to hold the tape, and boxes to fill in.

    It says what cannot be left out, which check stays open without the rest, and what to mind
    before touching the freezer.
    """
    with undisturbed():
        from .measuring import USUAL, refused, write

    _refuse_others(
        False,
        ("--paper", (paper,) if paper is not None else (), offer.SHEET_PAPERS),
        ("--show", (show,) if show is not None else (), offer.SHOWS),
    )
    problem = refused(file, overwrite=overwrite)
    if problem is not None:
        _refuse([problem], json=False)
    unit = show or ("mm" if paper == "a4" else "in")
    with undisturbed():  # a second of work, most of it loading
        count = write(file, paper or USUAL[unit], unit)  # type: ignore[arg-type]
    typer.echo(f"Wrote {visible(str(file))}: {count} pages, {paper or USUAL[unit]}")
    typer.echo("Measure, fill it in, then: collarwright new my-freezer.toml")


@app.command(
    short_help="Say what will not fit, what was not checked, and what changes it.",
    epilog="Example: collarwright check examples/cold-coffee.toml -v",
)
def check(
    file: File,
    json: Json = False,
    verbose: Annotated[
        bool, typer.Option("-v", "--verbose", help="Also list everything that passes.")
    ] = False,
    mend: Annotated[
        Path | None,
        typer.Option(
            "--mend",
            metavar="NEW",
            help="Also write a copy to NEW with the fewest changes after which no must fails;"
            " other boards or vessels come last.",
        ),
    ] = None,
    built: Annotated[
        bool,
        typer.Option(
            "--built",
            help="Judge what was really cut and dry-fitted, by [built], and say what can be done.",
        ),
    ] = False,
    prove: Annotated[
        bool,
        typer.Option(
            "--prove",
            help="Look ten times longer for places of the vessels, or for a proof that there"
            " are none.",
        ),
    ] = False,
    schema: Annotated[
        bool,
        typer.Option(
            "--schema", callback=_schema, is_eager=True, help="Print the JSON Schema of --json."
        ),
    ] = False,
) -> None:
    """Say what will not fit, what was not checked, and the keys that change it.

    Nothing is written but the copy that --mend asks for, and no file is overwritten. Lengths are
    printed in the units of the build file's show.
    """
    with undisturbed():
        from ..geometry.judge.answer import answer
        from ..geometry.judge.packed import Question
        from .terminal import painted, slow

    project, source = _read(file, json, built=built)
    if built and mend is not None:
        wanted = "--built or --mend, not both: a copy of the file does not change what is cut"
        _refuse([Problem(key="--mend", read="", wanted=wanted)], json)
    if mend is not None:
        _mend(project, source, mend, json)
    with slow("judging the design"):
        question = Question(prove=prove)
        evaluation = answer(project, source.catalogue, question)
    if json:
        from .summary import dumps, summary

        standing = question.standing(project, evaluation.layout)
        data = summary(project, evaluation, source.file, source.sha256, standing=standing)
        typer.echo(dumps(data), nl=False)
    else:
        from .text import report

        text = report(project, evaluation, source.file, verbose, source.examples, painted)
        typer.echo(text, nl=False)
    raise typer.Exit(MUST_FAILS if evaluation.verdict == "fail" else OK)


def _mend(project: Any, source: "Source", new: Path, json: bool) -> NoReturn:
    """Write the mended copy, say what was changed, and leave with its status."""
    with undisturbed():
        from .mended import mended, refused
        from .terminal import fitted, painted, slow

    problem = refused(new)
    if problem is not None:
        _refuse([problem], json)
    try:
        with slow("looking for changes"):
            done = mended(project, source, new)
    except BuildFileError as error:
        _refuse(error.problems, json)
    copied = not done.left
    if json:
        from .summary import dumps, summary

        data = summary(
            done.project,
            done.evaluation,
            done.source.file,
            done.source.sha256,
            standing=done.standing,
        )
        typer.echo(dumps({**data, "mended": dict(done.changes)}), nl=False)
        raise typer.Exit(OK if copied else MUST_FAILS)
    from .text import report

    name = done.source.file
    typer.echo(report(done.project, done.evaluation, name, paint=painted), nl=False)
    said = [f"Changed: {each}" for each in done.says] if copied else []
    if copied:
        changes = f"{len(done.says)} change{'' if len(done.says) == 1 else 's'}"
        said += [f"Wrote {visible(str(new))}: {changes}, no must fails in it."]
    else:
        checks = ", ".join(dict.fromkeys(each.check for each in done.left))
        said += [f"No copy was written: no set of changes was found that mends {checks}."]
    for each in said:
        typer.echo("\n".join(fitted(each)))
    raise typer.Exit(OK if copied else MUST_FAILS)


@app.command(
    short_help="Write model, cut files, full-size templates, drawings and lists to a folder.",
    epilog="Example: collarwright build examples/cold-coffee.toml --paper a4",
)
def build(
    file: File,
    out: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="The folder to write; by default the file's name."),
    ] = None,
    only: Annotated[
        list[str] | None,
        typer.Option(
            metavar="KIND",
            help="Only model, cut, templates, drawings or lists; may be repeated.",
            autocompletion=offer.kinds,
        ),
    ] = None,
    paper: Annotated[
        str | None,
        typer.Option(
            metavar="PAPER",
            help="Paper of the templates: letter, a4, legal, a3, tabloid, a1, a0; roll-24-in or"
            " roll-36-in, as long as needed; or sheet: one page as large as the template. By"
            " default letter where show is in, a4 where it is mm. Drawings are on letter, tabloid,"
            " a4 or a3, whichever is nearest.",
            autocompletion=offer.papers,
        ),
    ] = None,
    printed: Annotated[
        str | None,
        typer.Option(
            metavar="MMxMM",
            help="What 100 mm came out as on the test page, across the sheet and up it, as"
            " 99.2x99.6 (98 to 102): templates are scaled so that this printer makes them true.",
        ),
    ] = None,
    dxf_units: Annotated[
        str,
        typer.Option(
            metavar="UNITS",
            help="Units of the cut files: mm or in.",
            autocompletion=offer.dxf_units,
        ),
    ] = "mm",
    dxf_version: Annotated[
        str,
        typer.Option(
            metavar="VERSION",
            help="R2000, or R12 for old machines (it cannot state units).",
            autocompletion=offer.dxf_versions,
        ),
    ] = "R2000",
    start: Annotated[
        str | None,
        typer.Option(
            metavar="DATE",
            help="The date of the first day of the work, as 2026-05-02; the workshop book's time"
            " plan then has dates.",
        ),
    ] = None,
    despite_failures: Annotated[
        bool,
        typer.Option(
            "--despite-failures", help="Write cut files and templates with the failures in print."
        ),
    ] = False,
    json: Json = False,
) -> None:
    """Write model, cut files, full-size templates, drawings and the workshop book to a folder.

    DIR is replaced whole or left as it was. While a must fails, cut files and templates are held
    back.
    """
    with undisturbed():
        from .build import KINDS, Options
        from .build import build as run
        from .paper.printed import EXAMPLE, PrintedError, parse_printed
        from .paper.sizes import PAPER_NAMES
        from .place import PlaceError
        from .terminal import Progress, fitted, painted
        from .work import parse_start

    _refuse_others(
        json,
        ("--only", only or (), KINDS),
        ("--paper", (paper,) if paper is not None else (), PAPER_NAMES),
        ("--dxf-units", (dxf_units,), offer.DXF_UNITS),
        ("--dxf-version", (dxf_version,), offer.DXF_VERSIONS),
    )
    pair: tuple[float, float] | None = None
    if printed is not None:
        try:
            pair = parse_printed(printed)
        except PrintedError as error:
            wanted, example = str(error), f"--printed {EXAMPLE}"
            read = repr(visible(printed[:60]))
            _refuse([Problem(key="--printed", read=read, wanted=wanted, example=example)], json)
    day = None if start is None else parse_start(start)
    if isinstance(day, Problem):
        _refuse([day], json)
    project, source = _read(file, json)
    folder = out if out is not None else Path(file.stem or "collar")
    options = Options(
        only=tuple(kind for kind in KINDS if not only or kind in only),
        paper=paper,
        dxf_units=dxf_units,  # type: ignore[arg-type]
        dxf_version=dxf_version,  # type: ignore[arg-type]
        despite_failures=despite_failures,
        printed=pair,
        start=day,
    )
    try:
        with Progress() as say:
            done = run(project, source, folder, options, say)
    except BuildFileError as error:  # what lies beside the build file: prices
        _refuse(error.problems, json)
    except PlaceError as error:
        _refuse([Problem(key="--out", read="", wanted=str(error))], json, str(error))
    if json:
        from .summary import dumps

        typer.echo(dumps(done.summary), nl=False)
    else:
        from .text import report

        text = report(
            project, done.evaluation, source.file, examples=source.examples, paint=painted
        )
        typer.echo(text, nl=False)
        written = [entry["path"] for entry in done.summary["files"]]
        said = [f"Note: {each}." for each in done.left_out]
        said += [f"Wrote {len(written) + 1} files to {visible(str(folder))}"]
        said += [
            f"Held back: {kind}/ (a failure above would be cut into wood;"
            " --despite-failures writes it with the failures in print)"
            for kind in done.held_back
        ]
        for each in said:
            typer.echo("\n".join(fitted(each)))
    raise typer.Exit(MUST_FAILS if done.evaluation.verdict == "fail" else OK)


@app.command(
    short_help="Plan how boards are cut from sticks, and foam from sheets.",
    epilog="Example: collarwright stock examples/cold-coffee.toml",
)
def stock(
    files: Annotated[
        list[Path],
        typer.Argument(
            metavar="FILE...",
            help="The build files; collars share sticks. Only the first one's [stock] counts.",
            autocompletion=offer.build_files,
        ),
    ],
    draw: Annotated[
        Path | None,
        typer.Option(
            "--draw",
            metavar="FILE",
            help="Also draw the plan, to scale, into FILE: a PDF, or an SVG if one sheet will do.",
        ),
    ] = None,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Draw over FILE if it is there.")
    ] = False,
    json: Json = False,
) -> None:
    """Plan how the boards are cut from sticks: least cost, then least waste, then fewest sticks.

    Sticks on sale are entered as [[stock.length]], sticks that lie in the shop as
    [[stock.owned]] with their flaws; these are used where they save something. It says what is
    proved of the plan, and lists the cuts in their order, with the blade's tilt and the stop for
    each.
    """
    with undisturbed():
        from ..geometry.shape.layout import lay_out
        from .foam_plan import foam_data, foam_text, plan_foam
        from .stock import plan_stock, stock_data, stock_text
        from .terminal import slow

    if draw is not None:
        with undisturbed():
            from .stock.drawn import refused
        problem = refused(draw, overwrite=overwrite)
        if problem is not None:
            _refuse([problem], json)
    read = [_read(file, json) for file in files]
    collars = [(project, source, lay_out(project)) for project, source in read]
    try:
        with slow("planning the cuts"), undisturbed():
            plan = plan_stock(collars)
            foam = plan_foam([(project, layout) for project, _, layout in collars], plan.names)
    except BuildFileError as error:
        _refuse(error.problems, json)
    said = _draw(draw, plan, foam, collars, json) if draw is not None else ""
    if json:
        from .summary import dumps

        data = stock_data(plan) | {"foam": foam_data(foam) if foam else None}
        typer.echo(dumps(data), nl=False)
    else:
        about_foam = f"\n{foam_text(foam)}" if foam else ""
        typer.echo(stock_text(plan) + about_foam + said, nl=False)


def _draw(file: Path, plan: Any, foam: Any, collars: Any, json: bool) -> str:
    """Draw what ``stock`` planned, and return what is said of it."""
    with undisturbed():
        from ..geometry.judge.evaluate import evaluate
        from .drawings.board_plan import board_plans
        from .drawings.foam_plan import foam_plans
        from .stock.drawn import draw, too_many

        drawings = [*board_plans(plan), *(foam_plans(foam) if foam else ())]
        problem = too_many(file, drawings)
        if problem is not None:
            _refuse([problem], json)
        judged = [evaluate(project) for project, _, _ in collars]
        count = draw(file, drawings, plan, collars, judged)
    return f"Drawn: {visible(str(file))}, {count} sheet{'' if count == 1 else 's'}\n"


@app.command(
    short_help="Tell the order of work: steps, cautions, waits, and a plan of days.",
    epilog="Example: collarwright work examples/cold-coffee.toml --start 2026-05-02",
)
def work(
    file: File,
    start: Annotated[
        str | None,
        typer.Option(
            metavar="DATE", help="The date of the first day, as 2026-05-02; without it, day 1."
        ),
    ] = None,
    hours: Annotated[
        float,
        typer.Option(metavar="HOURS", help="Hours at the bench on a day, from 0.5 to 12."),
    ] = 6.0,
    json: Json = False,
) -> None:
    """Tell the order of work, from the build file: what after what, minding what, on which day.

    Steps that do not apply are left out. Waits and hours are planned at their longest. Local codes
    and licensed trades come first.
    """
    with undisturbed():
        from ..geometry.judge.evaluate import evaluate
        from .stock import plan_or_why
        from .work import parse_start, plan_work, work_data, work_text, wrong_hours

    day = None if start is None else parse_start(start)
    if isinstance(day, Problem):
        _refuse([day], json)
    problem = wrong_hours(hours)
    if problem is not None:
        _refuse([problem], json)
    project, source = _read(file, json)
    found = evaluate(project)
    plan = plan_work(
        project,
        found.layout,
        day,
        hours,
        fails=found.verdict == "fail",
        sawn=plan_or_why((project, source, found.layout))[0] is not None,
    )
    if json:
        from .summary import dumps

        typer.echo(dumps(work_data(plan)), nl=False)
    else:
        typer.echo(work_text(plan), nl=False)


@app.command(
    short_help="Tell what to buy, how much of it, and what it comes to.",
    epilog="Example: collarwright buy examples/cold-coffee.toml",
)
def buy(
    file: File,
    json: Json = False,
    csv: Annotated[
        bool, typer.Option("--csv", help="Print the list as CSV, with sources.")
    ] = False,
    prices: Annotated[
        bool, typer.Option("--prices", help="Print a prices.csv to fill in; none is read.")
    ] = False,
) -> None:
    """Tell what to buy: how much by the layout, what is added to it, and what it comes to.

    Prices are read from prices.csv beside FILE, and those of boards from [[stock.length]]. The
    total says what it leaves out.
    """
    with undisturbed():
        from ..geometry.judge.evaluate import evaluate
        from .buy import prices_csv, shopping, shopping_csv, shopping_data, shopping_text
        from .terminal import slow

    if json + csv + prices > 1:
        wanted = "one of --json, --csv and --prices"
        _refuse([Problem(key="", read="more than one of them", wanted=wanted)], json)
    project, source = _read(file, json)
    try:
        with slow("planning the cuts"), undisturbed():
            found = evaluate(project)
            fails = found.verdict == "fail"
            list_ = shopping(project, source, found.layout, fails=fails, prices=not prices)
    except BuildFileError as error:
        _refuse(error.problems, json)
    if json:
        from .summary import dumps

        typer.echo(dumps(shopping_data(list_)), nl=False)
    elif csv or prices:
        typer.echo((shopping_csv if csv else prices_csv)(list_), nl=False)
    else:
        typer.echo(shopping_text(list_), nl=False)


@app.command(
    short_help="List the catalogues, or show one with ranges and sources.",
    epilog="Example: collarwright catalog shanks",
)
def catalog(
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="NAME",
            help="One catalogue; without it, all names.",
            autocompletion=offer.catalogues,
        ),
    ] = None,
    beside: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Also read the CSV files beside this build file.",
            autocompletion=offer.build_files,
        ),
    ] = None,
    show: Annotated[
        str,
        typer.Option(
            metavar="UNITS",
            help="Units that lengths are printed in: mm or in.",
            autocompletion=offer.shows,
        ),
    ] = "mm",
    own: Annotated[
        bool,
        typer.Option(
            "--csv",
            help="Print a CSV file to start your own from, with one row as an example; it goes"
            " beside the build file as NAME.csv.",
        ),
    ] = False,
    json: Json = False,
) -> None:
    """List the catalogues, or show one with each figure's range and source."""
    from .catalog import as_data, names_data, names_text, own_csv, rows_text

    _refuse_others(json, ("--show", (show,), offer.SHOWS))
    if own and (name is None or json):
        wanted = "a catalogue and no --json, say collarwright catalog shanks --csv"
        _refuse([Problem(key="--csv", read="", wanted=wanted)], json)

    folder = None if beside is None else beside.parent
    if folder is not None and not folder.is_dir():
        read = "a folder that is not there"
        _refuse([Problem(key="--beside", read=read, wanted="the path of a build file")], json)
    try:
        if name is None:
            text = names_data() if json else names_text()
        elif own:
            text = own_csv(name, folder)
        elif json:
            text = as_data(name, folder)
        else:
            text = rows_text(name, folder, show)  # type: ignore[arg-type]
        typer.echo(text, nl=False)
    except BuildFileError as error:
        _refuse(error.problems, json)


@app.command(epilog="Example: collarwright keys lip")
def keys(
    table: Annotated[
        str | None,
        typer.Argument(
            metavar="TABLE",
            help="One table (lip), or one key (lip.land); without it, everything.",
            autocompletion=offer.tables,
        ),
    ] = None,
    json: Json = False,
) -> None:
    """Say what may be written in a build file, and what each key means."""
    from .keys import keys_data, keys_text

    try:
        typer.echo((keys_data if json else keys_text)(table), nl=False)
    except BuildFileError as error:
        _refuse(error.problems, json)


def _refuse_others(json: bool, *asked: tuple[str, Iterable[str], Iterable[str]]) -> None:
    """Refuse what is none of an option's choices: each is option, values, choices."""
    wrong = [
        Problem(key=option, read=repr(value), wanted=f"one of {', '.join(choices)}")
        for option, values, choices in asked
        for value in values
        if value not in choices
    ]
    if wrong:
        _refuse(wrong, json)


def _read(file: Path, json: bool, *, built: bool = False) -> "tuple[Any, Source]":
    """Read the build file, or print every problem and leave with status 2.

    ``built``: the project is the one that its ``[built]`` measured.
    """
    with undisturbed():
        from ..geometry.shape.layout import as_built, lay_out
        from ..params.reading import read
        from .terminal import slow

    def placed(project: Any) -> None:
        if project.vessel:
            with undisturbed():  # the packing's solver is compiled, too
                import_module("..geometry.plan.packing", __package__)
                import_module("highspy")
        lay_out(project)
        if built and project.built is not None:
            lay_out(as_built(project))

    try:
        with slow("reading the build file"):
            project, source = read(file, placed)
        if not built:
            return project, source
        if project.built is not None:
            return as_built(project), source
        wanted = "what was really cut and dry-fitted: long points, diagonals, bores, foam"
        example = '[built]\nfront = "37 5/8 in"\nfront_left_to_back_right = "43 3/16 in"'
        problem = Problem(key="built", read="nothing", wanted=wanted, example=example)
        _refuse([source.place(problem)], json)
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
        from .terminal import fitted, problems_text

        typer.echo("\n".join(fitted(sentence)) if sentence else problems_text(problems), err=True)
    raise typer.Exit(WRONG_INPUT)


def main() -> None:
    """Run the program; whatever goes wrong leaves as a sentence and an exit status."""
    for number in (0, 1, 2):  # what is closed must not become the number of a file that we write
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    catch_stops()
    try:
        app()
    except _Ended as end:
        sys.exit(_ended(end.by))
    except (OSError, KeyboardInterrupt) as by:
        sys.exit(_ended(by))
    except MemoryError:
        _last_words("collarwright: there is not enough memory; nothing was written")
        sys.exit(WRONG_INPUT)
    except Exception as error:  # noqa: BLE001 - the last door: nobody is handed a traceback
        _last_words(f"collarwright: {_sentence(error)}")
        sys.exit(WRONG_OUTPUT)
    finally:
        let_stops_end_it()


def _ended(by: OSError | KeyboardInterrupt) -> int:
    """Say what ended the run, and return the exit status."""
    if isinstance(by, KeyboardInterrupt):
        number = by.number if isinstance(by, Stop) else signal.SIGINT
        _last_words("; ".join(("stopped", *getattr(by, "__notes__", ()))))
        return 128 + number
    # What is left in the buffers would be tried again at the end, with a message of Python's.
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    if isinstance(by, BrokenPipeError):
        return 128 + signal.SIGPIPE  # as "| head" ends any program: nobody listens any more
    of = f" ({visible(str(by.filename))})" if by.filename else ""
    _last_words(f"collarwright: the output could not be written: {by.strerror or by}{of}")
    return WRONG_INPUT


def _last_words(text: str) -> None:
    with suppress(OSError):
        typer.echo(text, err=True)


def _sentence(error: Exception) -> str:
    known = {"SolidError", "KernelMissing", "ReadBackError"}
    if type(error).__name__ in known:
        return str(error)
    return (
        f"a fault of the program itself ({type(error).__name__}: {error});"
        " nothing was written. Please report it with the build file."
    )
