"""A printer that is not true: pages drawn for it, what they say, and that the reader sees a slip.

What stands on paper is worked out here from the PDF's own points: a place in the file, times what
the printer makes of it.
"""

import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Words
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.printed import Printed, PrintedError, parse_printed, ways
from collarwright.outputs.paper.sizes import PAPERS
from collarwright.outputs.readback import pdf, saw_ring, test_page
from collarwright.outputs.readback.pdf_parts import bars
from collarwright.outputs.readback.printer import Printer
from collarwright.outputs.templates import saw_ring as ring_writer
from collarwright.outputs.templates import test_page as writer
from collarwright.outputs.templates.furniture import Job
from collarwright.params.units import parse

SHA = "0123456789ab" * 5 + "0123"
ACROSS, UP = 99.2, 99.6
A4 = PAPERS["a4"]
SIZES = ((297.0, 210.0), (210.0, 297.0))
PRINTER = Printer(across=ACROSS, up=UP)
JOB = Job(title="Shed", sha256=SHA, show="mm")


@pytest.fixture(scope="module")
def layout(lay: Callable[..., Layout]) -> Layout:
    return lay(shop={"ring_gap": "0.8 mm", "ring_open": "inside"})


@pytest.fixture(scope="module")
def written(layout: Layout, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Templates for a printer that makes 99.2 mm across and 99.6 mm up of 100 mm."""
    root = tmp_path_factory.mktemp("printed")
    templates.write(
        layout, root, show="mm", paper="a4", title="Shed", sha256=SHA,
        printed=Printed(ACROSS, UP, "a4"),
    )  # fmt: skip
    return root / "templates"


def test_the_files_page_is_the_sheet_and_its_bars_are_longer_by_what_the_printer_loses(
    written: Path,
) -> None:
    """On the upright test page level bars are 100 / 0.992 long in the file; on a turned one not."""
    (page,) = pdf.read(written / "test-page.pdf").pages
    assert (page.width, page.height) == pytest.approx((210, 297), abs=0.01)
    found = {(bar.text, bar.upright): bar.length for bar in bars(page, test_page.ALL_BARS)}
    assert found["check 100 mm", False] == pytest.approx(100 / 0.992, abs=0.01)
    assert found["check 100 mm", True] == pytest.approx(100 / 0.996, abs=0.01)
    assert found["check 8 in", True] == pytest.approx(203.2 / 0.996, abs=0.01)
    turned = pdf.read(written / "board-front.pdf").pages[0]
    assert (turned.width, turned.height) == pytest.approx((297, 210), abs=0.01)
    found = {(bar.text, bar.upright): bar.length for bar in bars(turned)}
    assert found["check 100 mm", False] == pytest.approx(100 / 0.996, abs=0.01)
    assert found["check 100 mm", True] == pytest.approx(100 / 0.992, abs=0.01)


def test_what_is_printed_reads_back_true(written: Path, layout: Layout) -> None:
    board = layout.board("front")
    say = {"show": "mm", "paper": SIZES, "sha256": SHA}
    assert pdf.compare(written / "board-front.pdf", board, printer=PRINTER, **say) == []  # type: ignore[arg-type]
    page = written / "test-page.pdf"
    assert test_page.compare(page, paper=SIZES, sha256=SHA, printer=PRINTER) == []
    ring = written / "saw-ring.pdf"
    assert saw_ring.compare(ring, layout, paper=SIZES, sha256=SHA, printer=PRINTER) == []


@pytest.mark.parametrize(
    ("printer", "said"),
    [
        (Printer(across=UP, up=ACROSS), "bar 'check 100 mm' is"),  # the pair swapped
        (Printer(across=ACROSS, up=UP, turns=False), "bar 'check 100 mm' is"),
        (None, "bar 'check 100 mm' is 100."),
        (Printer(across=ACROSS, up=UP + 0.1), "bar 'check 4 in' is"),
    ],
)
def test_a_page_for_another_printer_is_seen(
    written: Path, layout: Layout, printer: Printer | None, said: str
) -> None:
    found = pdf.compare(
        written / "board-front.pdf", layout.board("front"), show="mm", paper=SIZES, sha256=SHA,
        printer=printer,
    )  # fmt: skip
    assert any(said in each for each in found), found
    if printer is not None and printer.turns:
        found = test_page.compare(written / "test-page.pdf", paper=SIZES, printer=printer)
        assert any("check 8 in" in each for each in found), found
        assert any("does not say" in each for each in found)


def test_a_page_that_was_not_scaled_is_seen(layout: Layout, tmp_path: Path) -> None:
    templates.write(layout, tmp_path, show="mm", paper="a4", title="Shed", sha256=SHA)
    found = pdf.compare(
        tmp_path / "templates/board-front.pdf", layout.board("front"), show="mm", paper=SIZES,
        printer=PRINTER,
    )  # fmt: skip
    assert any("does not say 'scaled for" in each for each in found)
    assert any("upright bar 'check 100 mm' is 99.20 mm long" in each for each in found)
    assert any("level bar 'check 100 mm' is 99.60 mm long" in each for each in found)


@pytest.mark.parametrize("paper", ["roll-24-in", "sheet"])
def test_of_a_roll_it_is_across_and_along_and_of_a_large_page_level_and_upright(
    layout: Layout, tmp_path: Path, paper: str
) -> None:
    templates.write(
        layout, tmp_path, show="mm", paper=paper, title="", sha256=SHA,
        printed=Printed(ACROSS, UP, paper),
    )  # fmt: skip
    page = pdf.read(tmp_path / "templates/board-front.pdf").pages[0]
    found = {bar.upright: bar.length for bar in bars(page) if bar.text == "check 100 mm"}
    if paper == "sheet":
        assert found == pytest.approx({False: 100 / 0.992, True: 100 / 0.996}, abs=0.01)
        printer, sizes = Printer(across=ACROSS, up=UP, turns=False), ()
    else:
        assert page.height == pytest.approx(609.6, abs=0.01)  # it lies: the roll goes up it
        assert found == pytest.approx({False: 100 / 0.996, True: 100 / 0.992}, abs=0.01)
        printer = Printer(across=ACROSS, up=UP, roll=609.6)
        sizes = ((None, 609.6), (609.6, None))
    for name in ("test-page", "board-front"):
        path = tmp_path / f"templates/{name}.pdf"
        if name == "test-page":
            assert test_page.compare(path, paper=sizes, sha256=SHA, printer=printer) == []
        else:
            board = layout.board("front")
            assert pdf.compare(path, board, show="mm", paper=sizes, printer=printer) == []


def test_a_page_that_fits_across_the_roll_is_not_turned(layout: Layout, tmp_path: Path) -> None:
    """A page wider than the roll is turned; one that lies on it as it is has level bars across.

    24 in are 609.6 mm. The ends of a board with no holes are narrower, its whole face is wider.
    """
    templates.write(
        layout, tmp_path, show="mm", paper="roll-24-in", title="", sha256=SHA,
        printed=Printed(ACROSS, UP, "roll-24-in"),
    )  # fmt: skip
    lies: set[bool] = set()
    for path in sorted((tmp_path / "templates").glob("board-*.pdf")):
        for page in pdf.read(path).pages:
            turned = page.width > 609.7
            lies.add(turned)
            wide = page.height if turned else page.width
            assert wide == pytest.approx(609.6, abs=0.01)
            found = {bar.upright: bar.length for bar in bars(page) if bar.text == "check 100 mm"}
            wanted = {turned: 100 / 0.992, not turned: 100 / 0.996}
            assert found == pytest.approx(wanted, abs=0.01), path.name
    assert lies == {True, False}


@pytest.mark.parametrize("long", [200.0, 600.0, 609.6, 609.62, 612.0, 614.5])
def test_no_page_of_a_roll_lies_that_is_not_clearly_longer_than_it_is_wide(long: float) -> None:
    for printed in (None, Printed(100.0, 100.0, "roll-24-in")):
        (standing,) = ways("roll-24-in", long, 300.0, printed)
        assert (standing.width, standing.height) == pytest.approx((609.6, 300.0))
    lying, _ = ways("roll-24-in", 620.0, 300.0, Printed(ACROSS, UP, "roll-24-in"))
    assert (lying.width, lying.height) == pytest.approx((620.0, 609.6 * 0.992))
    assert lying.scale == pytest.approx((1 / 0.996, 1 / 0.992))


def test_the_reader_takes_the_same_pages_for_turned_ones() -> None:
    printer = Printer(across=ACROSS, up=UP, roll=609.6)
    assert printer.makes(228.9, 609.6) == (0.992, 0.996)
    assert printer.makes(609.6, 228.9) == (0.992, 0.996)
    assert printer.makes(614.6, 609.6) == (0.996, 0.992)


@pytest.mark.parametrize("paper", ["letter", "a4", "legal", "a3", "tabloid", "a1", "a0"])
def test_the_test_page_on_every_paper(paper: str, tmp_path: Path) -> None:
    sheet = PAPERS[paper]
    sizes = ((sheet.width, sheet.height), (sheet.height, sheet.width))
    write_pdf([writer.page(paper, JOB)], tmp_path / "t.pdf", "x")
    assert test_page.compare(tmp_path / "t.pdf", paper=sizes, sha256=SHA) == []


def gone(page: Any, at: Callable[[Any], bool]) -> Any:
    return replace(page, marks=tuple(mark for mark in page.marks if not at(mark)))


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda p: replace(p, scale=(0.97, 0.97)), "level bar 'check 100 mm' is 97.00"),
        (lambda p: replace(p, scale=(1.0, 1.001)), "upright bar 'check 200 mm' is 200.20"),
        (lambda p: replace(p, width=p.height, height=p.width), "lies on its long side"),
        (lambda p: gone(p, lambda m: getattr(m, "diameter", 0) == 50), "0 circles of 50 mm"),
        (lambda p: gone(p, lambda m: "fit to page" in getattr(m, "text", "")), "'turn off fit"),
        (lambda p: gone(p, lambda m: getattr(m, "text", "") == "check 8 in"), "no upright bar"),
        (lambda p: gone(p, lambda m: getattr(m, "text", "") == "7"), "no line 7 mm from the upper"),
        (
            lambda p: gone(p, lambda m: getattr(m, "closed", False) and len(m.steps) == 3),
            "the square lacks its line from corner 1 to corner 2",
        ),
    ],
)  # fmt: skip
def test_a_spoilt_test_page_is_seen(spoil: Callable[[Any], Any], said: str, tmp_path: Path) -> None:
    write_pdf([spoil(writer.page("a4", JOB))], tmp_path / "t.pdf", "x")
    found = test_page.compare(tmp_path / "t.pdf", paper=SIZES, sha256=SHA)
    assert any(said in each for each in found), found


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        ("99.2x99.6", (99.2, 99.6)),
        (" 99.2 X 100 ", (99.2, 100)),
        ("99.2 mm x 99.6 mm", (99.2, 99.6)),
        ("9.92cm\u00d799.6mm", (99.2, 99.6)),
        ("3 29/32 in x 3.92 in", (99.22, 99.57)),  # 99.21875 and 99.568 by hand
        ("98x102", (98, 102)),
    ],
)
def test_a_pair_is_read(text: str, pair: tuple[float, float]) -> None:
    assert parse_printed(text) == pair


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "two lengths"),
        ("99.2", "two lengths"),
        ("99.2x", "two lengths"),
        ("99x99x99", "two lengths"),
        ("nanx99", "two lengths"),
        ("-99x99", "two lengths"),
        ("1e2x99", "power of ten"),
        ("99,2x99", "decimal point"),
        ("99x99\u0661", "two lengths"),
        ("99x" + "9" * 5000, "two lengths"),
        ("97x97", "fit to page or a wrong paper size"),
        ("97.9x99", "turn off fit to page"),
        ("99x102.1", "turn off fit to page"),
        ("99 kg x 99", "two lengths"),
    ],
)
def test_what_is_no_pair_is_refused_with_a_sentence(text: str, said: str) -> None:
    with pytest.raises(PrintedError) as refused:
        parse_printed(text)
    assert said in str(refused.value)


def test_pages_keep_their_place_on_the_sheet() -> None:
    lying, standing = ways("a4", 0, 0, Printed(ACROSS, UP, "a4"))
    assert (standing.width, standing.height) == pytest.approx((210 * 0.992, 297 * 0.996))
    assert (lying.width, lying.height) == pytest.approx((297 * 0.996, 210 * 0.992))
    assert standing.scale == pytest.approx((1 / 0.992, 1 / 0.996))
    assert ways("a4", 0, 0, None)[1] == A4


# --- the saw's ring -------------------------------------------------------------------------------


@pytest.mark.parametrize(("old", "new", "said"), [
    ("0.13 deg", "0.31 deg", "is said to be off by 0.31"),
    ("44.87 deg", "44.78 deg", "open inside by 0.25 mm"),
    ("45.13 deg", "45.31 deg", "open outside by 0.25 mm"),
    ("Unplug the saw", "The saw", "unplug the saw"),
    ("0.42 deg more", "0.24 deg more", "tilted 0.42 deg more than"),
    ("0.42 deg more", "0.42 deg less", "tilted 0.42 deg more than"),
    ("side: inside,", "side: outside,", "both are open on the same side"),
    ("outside, too little", "inside, too little", "both are open on the same side"),
    ("19.05 mm thick", "19.5 mm thick", "is for scraps of 19.5 mm"),
    ('  # or "outside"', "", "ring_open"),
])  # fmt: skip
def test_a_spoilt_page_of_the_ring_is_seen(
    layout: Layout, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, old: str, new: str, said: str
) -> None:
    """19.05 mm and 0.25 mm: 0.25 / (4 sqrt(2) 19.05) rad = 0.133 deg, by hand."""
    monkeypatch.setitem(ring_writer.GAPS, "mm", (0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 1.0, 2.0, 3.0))
    page = ring_writer.page(layout, "a4", JOB)
    write_pdf([page], tmp_path / "r.pdf", "x")
    say: Any = {"paper": SIZES, "sha256": SHA}
    assert saw_ring.compare(tmp_path / "r.pdf", layout, **say) == []
    marks = tuple(
        replace(mark, text=mark.text.replace(old, new)) if isinstance(mark, Words) else mark
        for mark in page.marks
    )
    assert marks != page.marks
    write_pdf([replace(page, marks=marks)], tmp_path / "r.pdf", "x")
    found = saw_ring.compare(tmp_path / "r.pdf", layout, **say)
    assert any(said in each for each in found), found


def said_by(layout: Layout, show: Any = "mm") -> list[str]:
    page = ring_writer.page(layout, "a4", replace(JOB, show=show))
    return [mark.text for mark in page.marks if isinstance(mark, Words)]


@pytest.mark.parametrize(("show", "gap"), [("in", 0.396875), ("mm", 0.5)])
def test_the_lines_for_the_build_file_stand_as_in_one(
    layout: Layout, show: Any, gap: float
) -> None:
    texts = said_by(layout, show)
    at = texts.index("[shop]")
    shop = tomllib.loads("\n".join(texts[at : at + 4]))["shop"]
    assert parse(shop["ring_gap"], "length") == pytest.approx(gap)
    assert shop["ring_open"] == "inside"
    assert parse(shop["ring_thickness"], "length") == pytest.approx(19.05, abs=0.051)


def test_the_page_is_of_the_scraps_that_were_cut(
    lay: Callable[..., Layout], tmp_path: Path
) -> None:
    """38.1 mm and 0.5 mm: 0.5 / (4 sqrt(2) 38.1) rad = 0.133 deg, by hand."""
    ring = {"ring_gap": "0.8 mm", "ring_open": "outside", "ring_thickness": "38.1 mm"}
    layout = lay(shop=ring)
    texts = said_by(layout)
    assert "Scraps 38.1 mm thick, scale at 45 deg when the ring was cut" in texts
    assert texts[texts.index("0.5 mm") + 1] == "0.13 deg"
    assert any("is tilted 0.21 deg less than the scale says" in text for text in texts)
    write_pdf([ring_writer.page(layout, "a4", JOB)], tmp_path / "r.pdf", "x")
    assert saw_ring.compare(tmp_path / "r.pdf", layout, paper=SIZES, sha256=SHA) == []
    boards = lay(shop={**ring, "ring_thickness": "19.05 mm"})
    found = saw_ring.compare(tmp_path / "r.pdf", boards, paper=SIZES, sha256=SHA)
    assert any("is for scraps of 38.1 mm" in each for each in found)


def test_a_ring_that_closed_says_so(lay: Callable[..., Layout], tmp_path: Path) -> None:
    layout = lay(shop={"ring_gap": "0 mm"})
    assert any("the blade is tilted as the scale says" in text for text in said_by(layout))
    write_pdf([ring_writer.page(layout, "a4", JOB)], tmp_path / "r.pdf", "x")
    assert saw_ring.compare(tmp_path / "r.pdf", layout, paper=SIZES, sha256=SHA) == []


def test_a_tilt_too_far_from_the_ring_is_to_be_proved(
    lay: Callable[..., Layout], tmp_path: Path
) -> None:
    """4.9152 mm at 19.05 mm is a ring at 47.5 deg, see test_saw_ring."""
    layout = lay(shop={"ring_gap": "4.9152 mm", "ring_open": "inside"})
    templates.write(layout, tmp_path, show="mm", paper="a4", title="Shed", sha256=SHA)
    path, board = tmp_path / "templates/board-front.pdf", layout.board("front")
    say: Any = {"show": "mm", "paper": SIZES, "sha256": SHA}
    assert pdf.compare(path, board, **say) == []
    said = " ".join(text.text for page in pdf.read(path).pages for text in page.texts)
    assert "outer face up; prove this tilt on scraps" in said
    assert "set the scale" not in said
    found = pdf.compare(path, replace(board, prove_left=False, scale_left_deg=42.5), **say)
    assert any("set the scale to 42.5 deg" in each for each in found)


@pytest.mark.parametrize("paper", ["letter", "a4", "legal", "a3", "a0", "sheet", "roll-36-in"])
@pytest.mark.parametrize("show", ["in", "mm"])
def test_the_page_of_the_ring_on_every_paper(
    lay: Callable[..., Layout], paper: str, show: Any, tmp_path: Path
) -> None:
    for stock in ("board-1x6", "dimension-2x8"):
        layout = lay(board={"stock": stock})
        page = ring_writer.page(layout, paper, replace(JOB, show=show))
        lowest = min(mark.y for mark in page.marks if isinstance(mark, Words))
        assert lowest > 12
        write_pdf([page], tmp_path / "r.pdf", "x")
        assert saw_ring.compare(tmp_path / "r.pdf", layout, sha256=SHA) == []
