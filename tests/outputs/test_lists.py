"""Lists and workshop book: what stands in them, hostile names, and files that were spoilt."""

import csv
import io
import json
import re
import shutil
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.finding import Remedy
from collarwright.outputs.cli import main
from collarwright.outputs.drawings.draft import Draft
from collarwright.outputs.drawings.frame import Drawing
from collarwright.outputs.in_print import in_print
from collarwright.outputs.lists import files
from collarwright.outputs.lists.boards import boards
from collarwright.outputs.lists.book import blocks, book_paper
from collarwright.outputs.lists.book.blocks import Figure, Job
from collarwright.outputs.lists.book.grid import widths
from collarwright.outputs.lists.book.pictures import Pictures
from collarwright.outputs.lists.checked import checked
from collarwright.outputs.lists.collected import Collected, collect
from collarwright.outputs.lists.every import every_table
from collarwright.outputs.lists.sheet import csv_text, harmless
from collarwright.outputs.lists.table import Table
from collarwright.outputs.paper.overlap import meetings
from collarwright.outputs.readback import pdf
from collarwright.outputs.readback.lists import List, compare_book, compare_csv
from collarwright.outputs.verify.lists import Wanted, wanted
from collarwright.outputs.work import plan_work
from collarwright.params.project import Project
from collarwright.params.reading import read
from pypdf import PdfReader, PdfWriter, Transformation  # noqa: TID253 - spoils files with it
from pypdf.generic import ContentStream, NameObject, RectangleObject  # noqa: TID253

EXAMPLES = Path(__file__).parents[2] / "examples"
Spoil = Callable[[Path], None]
Make = Callable[..., Project]


class Made:
    """Lists and book of one build file, written to a folder."""

    def __init__(self, file: Path, folder: Path, paper: str = "a4") -> None:
        project, source = read(file)
        evaluation = evaluate(project)
        failing = [f for f in evaluation.findings if f.verdict == "fail" and f.weight == "must"]
        warnings = in_print(project, failing)
        self.got: Collected = collect(project, source, evaluation)
        self.tables = every_table(self.got)
        self.written = files.write(
            self.got, self.tables, folder, paper=paper, sha256=source.sha256, warnings=warnings
        )
        self.folder = folder / "lists"
        self.book = self.folder / "workshop-book.pdf"
        self.wanted: Wanted = wanted(
            self.got, self.tables, paper=paper, sha256=source.sha256, failures=len(warnings)
        )

    def faults(self, path: Path) -> list[str]:
        if path.suffix == ".csv":
            return compare_csv(path, self.wanted.lists.get(path.stem))
        return compare_book(path, self.wanted.book, tuple(self.wanted.lists.values()))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    return Made(EXAMPLES / "soda-dry-fitted.toml", tmp_path_factory.mktemp("lists"))


def test_every_file_reads_back(made: Made) -> None:
    assert len(made.written) > 8
    for path in made.folder.iterdir():
        assert made.faults(path) == [], path.name


def test_the_same_plans_give_the_same_bytes(made: Made, tmp_path: Path) -> None:
    again = Made(EXAMPLES / "soda-dry-fitted.toml", tmp_path)
    assert again.book.read_bytes() == made.book.read_bytes()


def test_contents_tell_the_page_on_which_a_chapter_begins(made: Made) -> None:
    pages = pdf.read(made.book).pages
    listed = [text for text in pages[0].texts if text.x < 23]
    numbers = {round(text.y, 1): text.text for text in pages[0].texts if text.x > 180}
    found = {
        text.text: int(numbers[round(text.y, 1)])
        for text in listed
        if numbers.get(round(text.y, 1), "").isdigit()
    }
    assert {"Order of work", "Time plan", "Cutting the boards"} <= set(found)
    for name, number in found.items():
        large = [text.text for text in pages[number - 1].texts if text.size > 5]
        assert name in large


def test_figures_fit_their_pages_and_no_text_stands_over_a_line(made: Made) -> None:
    for wide, high in ((215.9, 279.4), (210.0, 297.0)):
        job = Job(title="", sha256="", version="", warnings=("FAILS x",), width=wide, height=high)
        figures = [each for each in blocks(made.got, made.tables, job) if isinstance(each, Figure)]
        assert len(figures) > 7
        for number, figure in enumerate(figures, 1):
            assert figure.number == number
            room = (high - 35 - 14, wide - 36) if figure.turned else (wide - 36, high - 35 - 14)
            assert figure.page.width <= room[0] and figure.page.height <= room[1], figure.caption
            assert meetings(figure.page.marks) == [], figure.caption


def test_a_figure_that_a_page_of_its_own_makes_much_larger_is_turned() -> None:
    """Upright under 140 mm of text it would be 1:10; on its side 400 mm go into 236 at 1:2.5."""

    def make(draft: Draft, room: float) -> None:
        draft.view().box(0.0, 0.0, 400.0, 100.0)
        if room < 200:
            draft.view(0.0, -140.0).box(0.0, 0.0, 1.0, 140.0 / draft.scale)

    (figure,) = Pictures([Drawing("bar", "Bar", make)], "mm", 180.0, 244.5).take("bar")
    assert isinstance(figure, Figure)
    assert figure.turned and "Scale 1:2.5," in figure.caption


def test_set_outs_are_a_list_apart_from_holes_to_bore(design_a: Make) -> None:
    hinge = {"positions": ("0 mm",), "leaf_height": "60 mm", "screws": 2,
             "screw": "wood-screw-no-8", "screw_length": "30.15 mm", "leaf_thickness": "2 mm",
             "backing": "20 mm"}  # fmt: skip
    project = design_a(hinge=hinge)
    layout, work = evaluate(project).layout, plan_work(project, evaluate(project).layout)
    tables = {table.name: table for table in boards(layout, work, "mm")}
    assert all(not row[1].startswith("hinge") for row in tables["holes"].rows)
    rows = tables["set-outs"].rows
    assert [row[1] for row in rows] == ["hinge-1-1", "hinge-1-2"]
    assert {row[5] for row in rows} == {"through, 9.1 mm into the block"}
    number = work.number("hinges")
    assert any(f"to the wood, in step {number}, mark" in said for said in tables["set-outs"].notes)
    assert any(f"first (step {work.number('backing')})" in n for n in tables["set-outs"].notes)


def test_what_fails_or_is_tight_says_what_to_measure_and_what_to_change() -> None:
    project, _ = read(EXAMPLES / "kombucha-too-tight.toml")
    evaluation = evaluate(project)
    web = next(each for each in evaluation.findings if each.check == "bore-web")
    tight = replace(
        web, verdict="tight", margin=0.0, tolerance=1.0, decided_by="measure this: taps.bore",
        remedies=(Remedy(changes={"taps.bore": "1 in"}, says="taps.bore = 1 in"),
                  Remedy(changes={"taps.spacing": "60 mm"}, says="taps.spacing = 60 mm")),
    )  # fmt: skip
    fails = replace(web, verdict="fail", margin=-5.0, tolerance=1.0, decided_by="measure this: x",
                    remedies=(), levers=("taps.bore",))  # fmt: skip
    table, *_ = checked(project, replace(evaluation, findings=(tight, fails)))
    assert [row[-1] for row in table.rows] == [
        "no change was found that mends it and breaks nothing else; it hangs by taps.bore",
        "first measure this: taps.bore; change taps.bore = 1 in; or change taps.spacing = 60 mm",
    ]


def test_the_book_goes_on_letter_or_a4() -> None:
    for paper in ("legal", "tabloid", "a1", "roll-24-in", "sheet"):
        assert book_paper(paper, "in") == "letter"
        assert book_paper(paper, "mm") == "a4"
    assert book_paper("a4", "in") == "a4" and book_paper("letter", "mm") == "letter"


# --- hostile names --------------------------------------------------------------------------------

HOSTILE = '</para><font size=99>big & "quoted"</font> \u05d0\u05d1 ' + "W" * 140
FORMULA = "=HYPERLINK(A1)"


def test_titles_and_names_are_no_markup_and_no_formula(tmp_path: Path) -> None:
    text = (EXAMPLES / "soda-dry-fitted.toml").read_text("utf-8")
    lines = [
        f"title = {json.dumps(HOSTILE)}"
        if line.startswith("title =")
        else f'names = ["{FORMULA}", "<b>b</b>", "c"]'
        if line.startswith("names =")
        else line.replace('"tonic"', "2")
        for line in text.splitlines()
    ]
    file = tmp_path / "hostile.toml"
    file.write_text("\n".join(lines), "utf-8")
    made = Made(file, tmp_path)
    for path in made.folder.iterdir():
        assert made.faults(path) == [], path.name
    pages = pdf.read(made.book).pages
    assert max(text.size for page in pages for text in page.texts) < 8  # mm: the title's
    assert any("</para><font size=99>big & " in text.text for text in pages[0].texts)
    rows = list(csv.reader(io.StringIO((made.folder / "holes.csv").read_text("utf-8"))))
    assert any(f"tap 1, {FORMULA}" in row for row in rows)


@pytest.mark.parametrize(
    ("cell", "shown"),
    [
        ("=1+1", "'=1+1"), ("+cmd", "'+cmd"), ("-2+3", "'-2+3"), ("@SUM(A1)", "'@SUM(A1)"),
        (" =1", "' =1"), ("\t=1", "'<U+0009>=1"), ("-1/16 in", "-1/16 in"), ("-0.5", "-0.5"),
        ("37 5/8 in", "37 5/8 in"), ("a=b", "a=b"), ("-10 deg", "-10 deg"),
        ("-1 in+A1", "'-1 in+A1"), ("\uff1d1", "'\uff1d1"), ("\u00a0=1", "'\u00a0=1"),
    ],
)  # fmt: skip
def test_a_cell_that_would_be_run_is_made_harmless(cell: str, shown: str) -> None:
    assert harmless(cell) == shown


def test_csv_by_hand() -> None:
    table = Table(name="x", title="X", header=("a", "b"), rows=(("1, 2", 'say "so"'), ("", "=1")))
    assert csv_text(table) == 'a,b\n"1, 2","say ""so"""\n,\'=1\n'


# --- columns --------------------------------------------------------------------------------------


def test_columns_take_what_they_need_and_share_the_rest() -> None:
    def table(*row: str) -> Table:
        return Table(name="x", title="X", header=("", "", ""), rows=(row,), right=frozenset({1}))

    assert sum(widths(table("iii", "1", "i"), 3.0, 3.2, 180.0)) < 60  # no wider than needed
    found = widths(table("word " * 60, "12 3/4 in", "word " * 15), 3.0, 3.2, 180.0)
    assert sum(found) == pytest.approx(180.0, abs=0.1)
    assert found[0] > found[2] > found[1] > 12  # figures are not broken
    assert sum(widths(table("w" * 300, "w" * 300, "w"), 3.0, 3.2, 180.0)) <= 180.01


# --- spoilt files ---------------------------------------------------------------------------------


def text(pattern: str, new: str) -> Spoil:
    def spoil(path: Path) -> None:
        before = path.read_text("utf-8")
        after, count = re.subn(pattern, new, before, count=1)
        assert count
        path.write_text(after, "utf-8", newline="")

    return spoil


CSV: list[tuple[str, Spoil, str]] = [
    ("boards", text(r"\n[^\n]*\n", "\n"), r"has \d+ rows, not \d+"),
    ("boards", text("Outside", "Inside"), "its header is not"),
    ("boards", text(r"45\.0 deg", "45.5 deg"), r"'45\.5 deg' is not '45\.0 deg'"),
    ("tools", text("common practice", "=1+1"), "would be run as a formula"),
    ("saw-list", text("\n", "\r\n"), "its lines do not end"),
    ("time-plan", text(r",", ""), "cells, not|header"),
    ("work", lambda path: path.write_bytes(b"\xff" + path.read_bytes()), "cannot be read"),
    ("work", text(r"\Z", '"open'), "cannot be read|rows"),
]


@pytest.mark.parametrize(("name", "spoil", "said"), CSV)
def test_a_spoilt_list_is_told(
    made: Made, tmp_path: Path, name: str, spoil: Spoil, said: str
) -> None:
    path = tmp_path / f"{name}.csv"
    shutil.copy(made.folder / path.name, path)
    spoil(path)
    assert re.search(said, " | ".join(made.faults(path)))


def test_figures_in_mm_are_held_against_those_in_inches(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    wanted_list = List("x", ("Stop", "Stop, mm"), (("37 1/32 in", "904.5"),), frozenset({0, 1}))
    path.write_text('Stop,"Stop, mm"\n37 1/32 in,904.5\n', "utf-8")
    assert any("904.5 is not 37 1/32 in" in each for each in compare_csv(path, wanted_list))
    right = replace(wanted_list, rows=(("37 1/32 in", "940.6"),))  # 37.03125 x 25.4 = 940.59
    path.write_text('Stop,"Stop, mm"\n37 1/32 in,940.6\n', "utf-8")
    assert compare_csv(path, right) == []


def book(change: Callable[[PdfWriter], None]) -> Spoil:
    def spoil(path: Path) -> None:
        writer = PdfWriter(clone_from=PdfReader(path))
        change(writer)
        writer.write(path)

    return spoil


def without(operator: bytes, test: Callable[[list[Any]], bool]) -> Spoil:
    """Leave out the first operation that a test picks."""

    def change(writer: PdfWriter) -> None:
        for page in writer.pages:
            operations = ContentStream(page.get_contents(), writer).operations
            for i, (values, name) in enumerate(operations):
                if name == operator and test(values):
                    leave_out(writer, page, i)
                    return
        raise AssertionError("nothing to leave out")

    return book(change)


def unsaid(start: str) -> Spoil:
    """Leave out the text that starts so."""

    def spoil(path: Path) -> None:
        for page in pdf.read(path).pages:
            for place, found in enumerate(page.texts):
                if found.text.startswith(start):
                    book(lambda writer, n=page.number - 1, k=place: nth_text(writer, n, k))(path)
                    return
        raise AssertionError("it is not said")

    return spoil


def nth_text(writer: PdfWriter, number: int, place: int) -> None:
    page = writer.pages[number]
    operations = ContentStream(page.get_contents(), writer).operations
    shown = [i for i, (_, name) in enumerate(operations) if name == b"Tj"]
    leave_out(writer, page, shown[place])


def leave_out(writer: PdfWriter, page: Any, place: int) -> None:
    stream = ContentStream(page.get_contents(), writer)
    stream.operations = [*stream.operations[:place], *stream.operations[place + 1 :]]
    page[NameObject("/Contents")] = stream


def one_page_less(writer: PdfWriter) -> None:
    writer.remove_page(2)


def wider(writer: PdfWriter) -> None:
    writer.pages[3].mediabox = RectangleObject((0, 0, 612, 792))


def moved(writer: PdfWriter) -> None:
    writer.pages[4].add_transformation(Transformation().translate(-20, 0))


def font_out(writer: PdfWriter) -> None:
    for font in writer.pages[0]["/Resources"]["/Font"].values():  # type: ignore[index]
        descriptor = font.get_object().get("/FontDescriptor")
        if descriptor is not None and "/FontFile2" in descriptor.get_object():
            del descriptor.get_object()["/FontFile2"]
            return


def blank(writer: PdfWriter) -> None:
    writer.add_blank_page()


BOOK: list[tuple[Spoil, str]] = [
    (book(one_page_less), r"does not say that it is page \d+ of"),
    (book(wider), r"page 4: is 215\.90 x 279\.40 mm"),
    (book(moved), "page 5: .* runs into the margin"),
    (book(font_out), "font .* is not in the file"),
    (book(blank), "is empty"),
    (
        without(b"re", lambda values: 9 < float(str(values[2])) < 10),
        r"has \d+ boxes to tick, not \d+",
    ),
    (unsaid("Wash lip, well and lid"), "does not say 'Wash lip"),  # to be done at a step
    (unsaid("A child can be trapped"), "does not say 'A child"),  # a caution
    (unsaid("board-front"), "no row 'board-front"),
]


@pytest.mark.parametrize(("spoil", "said"), BOOK)
def test_a_spoilt_book_is_told(made: Made, tmp_path: Path, spoil: Spoil, said: str) -> None:
    path = tmp_path / made.book.name
    shutil.copy(made.book, path)
    spoil(path)
    assert re.search(said, " | ".join(made.faults(path)))


# --- the command ----------------------------------------------------------------------------------


def test_a_failing_design_is_told_on_every_page_and_no_kernel_is_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for kernel in ("OCP", "cadquery"):
        monkeypatch.setitem(sys.modules, kernel, None)  # whoever imports it fails
    out, file = tmp_path / "out", EXAMPLES / "kombucha-too-tight.toml"
    asked = ["build", str(file), "--only", "lists", "--start", "2026-05-02", "--out", str(out)]
    monkeypatch.setattr(sys, "argv", ["collarwright", *asked])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 1  # as its comment says
    told = json.loads((out / "summary.json").read_text("utf-8"))["lists"]
    assert told["paper"] == "letter" and told["work"]["start"] == "2026-05-02"
    assert "Sat 2026-05-02" in (out / "lists" / "time-plan.csv").read_text("utf-8")  # a calendar's
    for page in pdf.read(out / "lists" / "workshop-book.pdf").pages:
        assert (round(page.width, 1), round(page.height, 1)) == (215.9, 279.4)
        said = {text.text for text in page.texts}
        assert "THIS DESIGN FAILS 3 CHECKS" in said
        assert sum(text.startswith("FAILS ") for text in said) == 3
