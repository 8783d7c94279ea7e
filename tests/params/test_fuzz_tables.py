"""Catalogue files that hypothesis makes up, beside a build file that names their rows.

``test_fuzz.py`` spoils good files; here files are made from cells, so that they come through the
first lines of the reader: right headings and wrong cells, figures at and beyond their limits, ids
twice, quotes, zero bytes, signs that a terminal obeys. Whatever they hold, the answer is a
design or a list of problems, and the command ends with 0, 1 or 2.
"""

import csv
import io
import re
import tempfile
from pathlib import Path

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.cli import app
from collarwright.outputs.summary import dumps, summary
from collarwright.outputs.text import report
from collarwright.params import catalogue
from collarwright.params.catalogue.schema import BASES, SCHEMAS, TEXT, Schema
from collarwright.params.problem import BuildFileError
from collarwright.params.reading import read
from hypothesis import HealthCheck, Phase, given, note, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

EXAMPLES = [
    path.read_text("utf-8")
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
]
HIDDEN = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""What a terminal would obey or turn around instead of showing it."""

HARD = st.sampled_from(
    [
        "", " ", "0", "-0", "-1", "1e9", "1e308", "1e999", "-1e999", "nan", "inf", "1_000", "0x10",
        "1,5", "1 mm", "1/2", "9" * 400, "0." + "0" * 400 + "1", "\u0663", "½", "none", "id", '"',
        '""', "'", ",", ";", "\n", "\r", "\r\n", "\t", "\0", "\x1b[31m", "\u202e", "\u2028",
        "\ufeff", "=1+1", "@x", "../../x", "<b>", "%s", "{0}", "🍺", "x" * 5_000, "\ud7ff", "\x85",
    ]
)  # fmt: skip


def cell(schema: Schema, heading: str) -> st.SearchStrategy[str]:
    """Return what may stand below a heading: mostly what is right, at times what is not."""
    good: list[st.SearchStrategy[str]] = []
    for column in schema.columns:
        if heading == column.name and column.unit == TEXT:
            good = [st.sampled_from(column.choices or ("a text",))]
        elif heading == column.heading:
            middle = (column.low + column.high) / 2
            some = [column.low, column.high, *[middle] * 4]
            if column.unit == "count":
                some = [round(value) for value in some]
            good = [st.sampled_from([f"{value:.12g}" for value in some])]
        elif heading == f"{column.name}_low":
            good = [st.sampled_from([f"{column.low:.12g}", ""])]
        elif heading == f"{column.name}_high":
            good = [st.sampled_from([f"{column.high:.12g}", ""])]
    if heading == "id":
        known = sorted(catalogue.load(schema.name))
        good = [st.sampled_from(known), st.sampled_from(known), st.just("part-of-mine")]
    elif heading == "name":
        good = [st.just("A part"), st.text(max_size=20)]
    elif heading.endswith("_basis"):
        good = [st.sampled_from(BASES), st.just("")]
    elif heading.endswith("_source"):
        good = [st.just(""), st.just("a tape")]
    usual = st.one_of(good or [st.text(max_size=8)])
    return st.integers(0, 60).flatmap(
        lambda chance: (HARD | st.text(max_size=12)) if chance == 60 else usual
    )


@st.composite
def tables(draw: st.DrawFn) -> tuple[str, bytes]:
    """Return a catalogue's name and the bytes of a file for it."""
    name = draw(st.sampled_from(sorted(SCHEMAS)))
    schema = SCHEMAS[name]
    known = list(schema.headings())
    some = draw(st.lists(st.sampled_from(schema.columns), max_size=4, unique_by=id))
    if draw(st.booleans()):  # as a new row needs it
        some = [*some, *(column for column in schema.columns if column.required)]
    headings = ["id", *draw(st.lists(st.just("name"), max_size=1))]
    for column in some:
        parts = ("low", "high", "basis", "source") if column.unit != TEXT else ()
        headings += [column.heading if parts else column.name]
        headings += [f"{column.name}_{part}" for part in parts if draw(st.booleans())]
    headings = list(dict.fromkeys(headings))
    if draw(st.integers(0, 19)) == 19:
        headings.insert(draw(st.integers(0, len(headings))), draw(HARD | st.sampled_from(known)))
    if draw(st.integers(0, 19)) == 19:
        headings.remove("id") if "id" in headings else None
    rows = [
        [draw(cell(schema, heading)) for heading in headings]
        for _ in range(draw(st.integers(0, 3)))
    ]
    if rows and draw(st.integers(0, 19)) == 19:
        rows.append(rows[0])  # an id twice
    if rows and draw(st.integers(0, 19)) == 19:
        rows[-1] = rows[-1][: draw(st.integers(0, len(rows[-1])))] + draw(
            st.lists(HARD, max_size=3)
        )
    stream = io.StringIO()
    quoting = draw(st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]))
    delimiter = draw(st.sampled_from([","] * 18 + [";", "\t"]))
    ends = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    csv.writer(stream, quoting=quoting, delimiter=delimiter, lineterminator=ends).writerows(
        [headings, *rows]
    )
    text = stream.getvalue()
    if draw(st.integers(0, 19)) == 19:
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(HARD) + text[at:]
    encoding = draw(st.sampled_from(["utf-8"] * 24 + ["utf-8-sig"] * 8 + ["utf-16", "latin-1"]))
    return name, text.encode(encoding, "replace")


def naming(example: str) -> str:
    """Return an example in which a part is the one that only the made files hold."""
    return example.replace('handle = "handle-short-knob"', 'handle = "part-of-mine"', 1)


TEXTS = [*EXAMPLES, *(naming(each) for each in EXAMPLES if naming(each) != each)]


def outcome(file: Path) -> str:
    """Read and judge a file as ``check`` does; return the verdict, or "refused"."""
    try:
        project, source = read(file, lay_out)
        done = evaluate(project)
    except BuildFileError as error:
        if not error.problems or HIDDEN.search(str(error)):
            raise
        return "refused"
    dumps(summary(project, done, source.file, source.sha256))
    said = report(project, done, source.file, True, source.examples)
    assert not HIDDEN.search(said)
    return done.verdict


ends: list[str] = []

QUICK = [Phase.explicit, Phase.generate]
"""No shrinking: with two files and a design it takes minutes and says little more."""


@settings(
    max_examples=700,
    deadline=None,
    phases=QUICK,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(st.sampled_from(TEXTS), st.lists(tables(), min_size=1, max_size=2))
def test_any_catalogue_file_is_used_or_refused(text: str, files: list[tuple[str, bytes]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for name, data in files:
            note(f"{name}.csv: {data!r}")
            (Path(folder) / f"{name}.csv").write_bytes(data)
        (Path(folder) / "x.toml").write_text(text, "utf-8")
        ends.append(outcome(Path(folder) / "x.toml"))


def test_some_files_are_used_and_some_refused() -> None:
    if not ends:
        pytest.skip("the files were not made in this process")
    refused = ends.count("refused") / len(ends)
    assert 0.1 < refused < 0.9
    assert {"fail", "not-checked"} <= set(ends)


@settings(
    max_examples=60, deadline=None, phases=QUICK, suppress_health_check=[HealthCheck.too_slow]
)
@given(st.sampled_from(TEXTS), tables(), st.sampled_from(["text", "json"]))
def test_the_commands_end_with_0_1_or_2(text: str, file: tuple[str, bytes], how: str) -> None:
    name, data = file
    with tempfile.TemporaryDirectory() as folder:
        csv_file, toml = Path(folder) / f"{name}.csv", Path(folder) / "x.toml"
        csv_file.write_bytes(data)
        toml.write_text(text, "utf-8")
        more = ["--json"] if how == "json" else []
        for words in (["check", str(toml)], ["catalog", name, "--beside", str(toml)]):
            done = CliRunner().invoke(app, [*words, *more])
            assert done.exit_code in (0, 1, 2), (done.exit_code, done.exception)
            assert done.exception is None or isinstance(done.exception, SystemExit)
            assert not HIDDEN.search(done.stderr)
            assert how == "json" or not HIDDEN.search(done.stdout)
        assert sorted(path.name for path in Path(folder).iterdir()) == sorted(
            [csv_file.name, toml.name]
        )
