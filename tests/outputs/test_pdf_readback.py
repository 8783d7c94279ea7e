"""The reader of templates sees each thing that would spoil a board."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.sheet import Circle, Contour, End, Line, Sheet, Vertex
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Mark, Window
from collarwright.outputs.paper.marks import Path as Path_
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.readback import pdf
from collarwright.outputs.readback.pdf_parts import assemble
from collarwright.outputs.templates.furniture import Job
from pypdf import PdfReader, PdfWriter, Transformation  # noqa: TID253 - spoils files with it
from pypdf.generic import (  # noqa: TID253
    DictionaryObject,
    FloatObject,
    NameObject,
    StreamObject,
)

SHA = "fedcba9876543210" * 4
BORES = ((120.0, 60.0), (210.0, 75.0), (300.0, 60.0))
"""Not the same from left and right, nor from above and below."""

BOARD = Board(
    side="right",
    long_point=420.0,
    short_point=380.0,
    width=140.0,
    thickness=20.0,
    miter_left_deg=45.0,
    miter_right_deg=45.0,
    inner_left=20.0,
    inner_right=20.0,
    outer=((420.0, 0.0), (420.0, 420.0)),
    inner=((400.0, 20.0), (400.0, 400.0)),
    over_left=0.0,
    over_right=0.0,
    holes=tuple(
        Hole(name=f"tap-{i}", purpose="bore", u=u, v=v, diameter=24.0)
        for i, (u, v) in enumerate(BORES, 1)
    ),
)
PLACES = {hole.name: (hole.u, hole.v) for hole in BOARD.holes}


def sheet(**moved: tuple[float, float]) -> Sheet:
    """Return the board's flat view; ``tap_1=(x, y)`` draws a bore somewhere else."""
    places = PLACES | {name.replace("_", "-"): place for name, place in moved.items()}
    corners = ((0, 0), (420, 0), (420, 140), (0, 140))
    return Sheet(
        name="board-right",
        kind="board",
        side="right",
        length=420.0,
        width=140.0,
        thickness=20.0,
        contours=(Contour("OUTLINE", tuple(Vertex(*each) for each in corners)),),
        circles=tuple(
            Circle(layer="BORE", name=name, purpose="bore", x=x, y=y, diameter=24.0)
            for name, (x, y) in places.items()
        ),
        lines=(Line("INNER-EDGE", 20, 0, 20, 140), Line("INNER-EDGE", 400, 0, 400, 140)),
        notes=(),
        ends=(End("front-right", 45.0, 1.0), End("back-right", 45.0, 1.0)),
    )


@pytest.fixture
def good(tmp_path: Path) -> Path:
    return write(tmp_path / "good.pdf", sheet())


def write(path: Path, drawn: Sheet) -> Path:
    job = Job(title="Kombucha", sha256=SHA, show="mm")
    templates.write_sheet(drawn, path, "letter", job)
    return path


def faults(path: Path, made: Board = BOARD, **more: Any) -> list[str]:
    return pdf.compare(path, made, show="mm", sha256=SHA, **more)


Spoil = Callable[[PdfWriter], None]


def spoilt(good: Path, spoil: Spoil) -> Path:
    """Return a copy of a good file with something done to it."""
    writer = PdfWriter(clone_from=PdfReader(good))
    spoil(writer)
    path = good.with_name("spoilt.pdf")
    writer.write(path)
    return path


def test_a_good_file_has_no_faults(good: Path) -> None:
    assert len(pdf.read(good).pages) == 3
    assert faults(good) == []
    assert faults(spoilt(good, lambda _: None)) == []


def transform(by: Transformation, *numbers: int) -> Spoil:
    def spoil(writer: PdfWriter) -> None:
        for i in numbers or range(len(writer.pages)):
            writer.pages[i].add_transformation(by)

    return spoil


def without_wish(writer: PdfWriter) -> None:
    del writer.root_object["/ViewerPreferences"]


def other_wish(writer: PdfWriter) -> None:
    writer.root_object["/ViewerPreferences"][NameObject("/PrintScaling")] = NameObject(
        "/AppDefault"
    )


def without_page(writer: PdfWriter) -> None:
    del writer.pages[1]


def turned(writer: PdfWriter) -> None:
    writer.pages[0].rotate(90)


def larger_unit(writer: PdfWriter) -> None:
    writer.pages[0][NameObject("/UserUnit")] = FloatObject(1.03)


def foreign_font(writer: PdfWriter) -> None:
    plain = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Font"),
            NameObject("/Subtype"): NameObject("/Type1"),
            NameObject("/BaseFont"): NameObject("/Helvetica"),
        }
    )
    writer.pages[0]["/Resources"]["/Font"][NameObject("/X1")] = plain


def edited(old: bytes, new: bytes, page: int = 0) -> Spoil:
    """Change the content of a page."""

    def spoil(writer: PdfWriter) -> None:
        contents = writer.pages[page].get_contents()
        assert contents is not None
        data = contents.get_data()
        assert old in data
        stream = StreamObject()
        stream.set_data(data.replace(old, new))
        writer.pages[page][NameObject("/Contents")] = writer._add_object(stream)

    return spoil


SMALLER = Transformation().scale(0.97)
LETTER = 792  # 11 in lying on its side, points
MIRROR = Transformation((-1, 0, 0, 1, LETTER, 0))

SPOILT: list[tuple[str, Spoil, str]] = [
    ("97 %", transform(SMALLER), "bar 'check 100 mm' is 97.00 mm long"),
    ("97 %, second page", transform(SMALLER, 1), "page 2: the level bar 'check 4 in' is 98.55"),
    ("99.8 % across", transform(Transformation().scale(0.998, 1)), "page 1: the level bar"),
    ("99.8 % up", transform(Transformation().scale(1, 0.998)), "page 1: the upright bar"),
    ("larger unit", larger_unit, "bar 'check 100 mm' is 103.00 mm long"),
    ("mirrored", transform(MIRROR), "page 1: is mirrored"),
    ("moved", transform(Transformation().translate(0.5 * 72 / 25.4, 0), 1), "mm apart on its two"),
    ("turned", turned, "page 1: is turned by 90 degrees"),
    ("no wish", without_wish, "not told to print without scaling: None"),
    ("other wish", other_wish, "not told to print without scaling: /AppDefault"),
    ("a page short", without_page, "register mark A1 is on 1 pages"),
    ("foreign font", foreign_font, "font /Helvetica is not in the file"),
    ("image", edited(b"BT", b"/Im1 Do BT"), "holds what cannot be read back: Do"),
    ("white ink", edited(b"0 G", b"1 G"), "no level bar"),
]


@pytest.mark.parametrize(
    ("spoil", "fault"), [row[1:] for row in SPOILT], ids=[r[0] for r in SPOILT]
)
def test_a_spoilt_file_is_seen(good: Path, spoil: Spoil, fault: str) -> None:
    found = faults(spoilt(good, spoil))
    assert any(fault in each for each in found), found


@pytest.mark.parametrize("off", [(0.5, 0.0), (0.0, -0.5), (0.06, 0.0)])
def test_a_bore_in_the_wrong_place_is_seen(tmp_path: Path, off: tuple[float, float]) -> None:
    path = write(tmp_path / "off.pdf", sheet(tap_2=(210 + off[0], 75 + off[1])))
    found = faults(path)
    assert any("tap-2: should be 24.00 mm wide at 210.00, 75.00 mm" in each for each in found)
    assert not any("tap-1" in each or "tap-3" in each for each in found)


def test_a_bore_within_the_tolerance_passes(tmp_path: Path) -> None:
    assert faults(write(tmp_path / "near.pdf", sheet(tap_2=(210.04, 75.0)))) == []


def drawn_with(good: Path, change: Callable[[Mark], Mark | None]) -> Path:
    """Write the pages with each mark in their windows changed, or left out."""
    pages = templates.template(sheet(), "letter", Job(title="", sha256=SHA, show="mm"), {})
    changed = [
        replace(page, marks=tuple(each for mark in page.marks if (each := change(mark))))
        for page in pages
    ]
    write_pdf(changed, good, "spoilt")
    return good


def test_a_bar_without_ticks_is_no_bar(good: Path) -> None:
    def change(mark: Mark) -> Mark | None:
        if isinstance(mark, Path_) and len(mark.steps) == 1:
            (x, y), (end,) = mark.start, mark.steps[0]
            return None if abs(end[0] - x) + abs(end[1] - y) == pytest.approx(4) else mark
        return mark

    assert faults(drawn_with(good, lambda mark: mark)) == []
    found = faults(drawn_with(good, change))
    assert any("page 1: no upright bar 'check 100 mm'" in each for each in found)


def test_a_bore_that_is_partly_clipped_is_seen(good: Path) -> None:
    def change(mark: Mark) -> Mark | None:
        # 60 mm of board above the corner: through the bores at 60 mm, below all of the one at 75
        return replace(mark, height=68.0) if isinstance(mark, Window) else mark

    found = faults(drawn_with(good, change))
    assert any("tap-1: is not whole when the pages are put together" in each for each in found)
    assert any("the top edge is not drawn" in each for each in found)


def test_figures_of_another_place_are_seen(good: Path) -> None:
    # The hole list says 60.4 mm where the paper says 60 mm: nearer than a figure can hide.
    holes = (replace(BOARD.holes[0], v=60.4), *BOARD.holes[1:])
    assert any(
        "'60.4 mm' is not printed near it" in each
        for each in faults(good, replace(BOARD, holes=holes))
    )


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"long_point": 420.5}, "the right long point is not drawn from 0.00 mm on"),
        ({"width": 139.5}, "the top edge is not drawn from 0.00 mm on"),
        ({"side": "left"}, "page 1: does not say 'left board'"),
        ({"holes": BOARD.holes[:2]}, "that is no hole of the board"),
        (
            {"holes": (*BOARD.holes, Hole(name="x", purpose="passage", u=50, v=30, diameter=9.0))},
            "x: is not there",
        ),
        (
            {"holes": (replace(BOARD.holes[0], diameter=24.2), *BOARD.holes[1:])},
            "tap-1: should be 24.20 mm wide",
        ),
    ],
)
def test_a_template_of_another_board_is_seen(
    good: Path, changes: dict[str, Any], fault: str
) -> None:
    found = faults(good, replace(BOARD, **changes))
    assert any(fault in each for each in found), found


def test_another_build_file_and_missing_failures_are_seen(good: Path) -> None:
    found = pdf.compare(good, BOARD, show="mm", sha256="0" * 64, failures=1)
    assert any("does not say 'build file 000000000000'" in each for each in found)
    assert any("does not say 'THIS DESIGN FAILS'" in each for each in found)


def test_pages_are_put_together_in_the_boards_own_millimeters(good: Path) -> None:
    together = assemble(pdf.read(good).pages)
    assert sorted((views[0].x, views[0].y) for views in together.circles) == [
        pytest.approx(place, abs=1e-3) for place in BORES
    ]
    for views in together.circles:
        assert views[0].diameter == pytest.approx(24.0, abs=1e-3)
    assert together.problems == ()


@pytest.mark.parametrize("data", [b"", b"%PDF-1.6\n", b"not a pdf at all", b"%PDF-1.6\n%%EOF\n"])
def test_what_is_no_pdf_is_refused(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "x.pdf"
    path.write_bytes(data)
    with pytest.raises(ValueError, match=r"x\.pdf cannot be read"):
        pdf.read(path)
