"""Templates of inner faces and of ends alone: mirrored, and sawn at the true angle.

The board is drawn up by hand: 420 mm from long point to long point, 20 mm thick, its left miter
45 degrees and its right one 50, so that nothing on it lies alike from both ends.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.sheet import End, Sheet, inner_sheet, miter_lines, plate_sheet
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Mark, Page, Window, Words
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.readback import pdf, plates
from collarwright.outputs.readback.pdf_page import Line
from collarwright.outputs.readback.pdf_parts import assemble, first_gap
from collarwright.outputs.templates.furniture import Job
from pypdf import PdfReader, PdfWriter, Transformation  # noqa: TID253 - spoils files with it

Lay = Callable[..., Layout]

SHA = "fedcba9876543210" * 4
JOB = Job(title="Kombucha", sha256=SHA, show="mm")
RIGHT = 20 * math.tan(math.radians(50))  # 23.835 mm: how far the inner face ends short there
HOLES = (
    Hole(name="tap-1", purpose="bore", u=120, v=60, diameter=24),
    Hole(name="tap-2", purpose="bore", u=210, v=75, diameter=24),
    Hole(name="probe", purpose="passage", u=330, v=40, diameter=12),
    Hole(name="hinge-1-1", purpose="pilot", u=270, v=110, diameter=3, depth=13),
    Hole(name="bracket-left-1", purpose="pilot", u=60, v=70, diameter=2.5, face="inner", depth=13),
)
BOARD = Board(
    side="right",
    long_point=420,
    short_point=400 - RIGHT,
    width=140,
    thickness=20,
    miter_left_deg=45,
    miter_right_deg=50,
    inner_left=20,
    inner_right=RIGHT,
    outer=((420, 0), (420, 420)),
    inner=((400, 20), (400, 420 - RIGHT)),
    over_left=0,
    over_right=0,
    holes=HOLES,
)
BARE = replace(BOARD, holes=())


def outer_sheet(lay: Lay, board: Board) -> Sheet:
    return plate_sheet(lay(), board, "mm")


def write_inner(path: Path, sheet: Sheet, paper: str = "letter") -> Path:
    templates.write_sheet(sheet, path, paper, JOB)
    return path


def write_ends(path: Path, sheet: Sheet, paper: str = "letter") -> Path:
    write_pdf(templates.ends_template(sheet, paper, JOB), path, "ends")
    return path


def inner_faults(path: Path, board: Board = BOARD) -> list[str]:
    return plates.compare_inner(path, board, show="mm", sha256=SHA)


def ends_faults(path: Path, board: Board = BARE) -> list[str]:
    return plates.compare_ends(path, board, sha256=SHA)


# what is where


def test_the_inner_face_starts_at_the_right_end_and_ends_at_the_short_points() -> None:
    sheet = inner_sheet(BOARD)
    # from the right short point, at 420 - 23.835 = 396.165 mm
    assert {each.name: (each.x, each.y) for each in sheet.circles} == {
        "tap-1": (pytest.approx(276.165, abs=1e-3), 60),
        "tap-2": (pytest.approx(186.165, abs=1e-3), 75),
        "probe": (pytest.approx(66.165, abs=1e-3), 40),
        "bracket-left-1": (pytest.approx(336.165, abs=1e-3), 70),
    }
    assert sheet.length == pytest.approx(376.165, abs=1e-3)
    assert sheet.beyond == (pytest.approx(23.835, abs=1e-3), 20)
    assert sheet.ends is not None
    # the right board's left corner, seen from outside, is in front
    assert [end.corner for end in sheet.ends] == ["back-right", "front-right"]
    assert [end.tilt_deg for end in sheet.ends] == [50, 45]


def test_a_blind_hole_is_on_the_face_that_it_is_drilled_from(lay: Lay) -> None:
    inner = {each.name for each in inner_sheet(BOARD).circles}
    outer = {each.name for each in outer_sheet(lay, BOARD).circles}
    assert inner ^ outer == {"bracket-left-1", "hinge-1-1"}
    assert "hinge-1-1" in outer
    bolt = replace(HOLES[3], depth=None)  # a bolt's goes right through
    assert len(inner_sheet(replace(BOARD, holes=(bolt,))).circles) == 1


def test_the_saws_lines_start_at_the_fold_and_run_at_the_miters_angle(lay: Lay) -> None:
    lean = 8 * math.tan(math.radians(50))
    outer = miter_lines(outer_sheet(lay, BOARD), 8)
    wanted = [
        (0, 0, 8, -8), (0, 140, 8, 148),
        (420, 0, 420 - lean, -8), (420, 140, 420 - lean, 148),
    ]  # fmt: skip
    assert [pytest.approx(each) for each in wanted] == list(outer)
    # from inside they run outward, to the long points
    length = 400 - RIGHT
    wanted = [
        (0, 0, -lean, -8), (0, 140, -lean, 148),
        (length, 0, length + 8, -8), (length, 140, length + 8, 148),
    ]  # fmt: skip
    assert [pytest.approx(each) for each in wanted] == list(miter_lines(inner_sheet(BOARD), 8))
    # no line is longer than the edge is wide
    assert miter_lines(outer_sheet(lay, BOARD), 30)[0] == pytest.approx((0, 0, 20, -20))


# what is printed


@pytest.mark.parametrize("paper", ["letter", "a4", "a3", "roll-24-in", "sheet"])
@pytest.mark.parametrize("show", ["mm", "in"])
def test_an_inner_face_reads_back(tmp_path: Path, paper: str, show: str) -> None:
    path = tmp_path / "inner.pdf"
    templates.write_sheet(inner_sheet(BOARD), path, paper, replace(JOB, show=show))  # type: ignore[arg-type]
    found = plates.compare_inner(path, BOARD, show=show, sha256=SHA)  # type: ignore[arg-type]
    assert found == []


@pytest.mark.parametrize("show", ["mm", "in"])
def test_a_blind_hole_says_how_deep_it_is(lay: Lay, tmp_path: Path, show: str) -> None:
    sheet, path = outer_sheet(lay, BOARD), tmp_path / "x.pdf"
    templates.write_sheet(sheet, path, "letter", replace(JOB, show=show))  # type: ignore[arg-type]
    said = [text.text for page in pdf.read(path).pages for text in page.texts]
    deep = [text for text in said if text.endswith(" deep")]
    assert deep == [{"mm": "13 mm deep", "in": "1/2 in deep"}[show]]  # of the hinge's pilot alone
    deeper = replace(HOLES[3], depth=15)
    other = replace(BOARD, holes=(*HOLES[:3], deeper, HOLES[4]))
    found = pdf.compare(path, other, show=show, sha256=SHA)  # type: ignore[arg-type]
    assert any("hinge-1-1" in each and "deep" in each for each in found)


def test_set_outs_of_both_kinds_are_told_in_one_whole_sentence(tmp_path: Path) -> None:
    through = replace(HOLES[3], depth=None)
    made = replace(BOARD, holes=(*HOLES[:3], through, HOLES[4]))
    path = write_inner(tmp_path / "x.pdf", inner_sheet(made))
    said = " ".join(text.text for page in pdf.read(path).pages for text in page.texts)
    assert "Dashed: assumed, do not punch; mark through the real leaf and bracket." in said
    assert "\u2026" not in said


def test_every_page_says_large_that_it_is_mirrored(tmp_path: Path) -> None:
    pages = pdf.read(write_inner(tmp_path / "inner.pdf", inner_sheet(BOARD))).pages
    assert len(pages) > 1
    for page in pages:
        large = " ".join(text.text for text in page.texts if text.size >= 3.6)
        assert "inner face, seen from inside: mirrored" in large
        assert "inner face" in {text.text for text in page.texts if text.size >= 4}
        assert any(
            text.text.startswith("all sheets") and "mirrored" in text.text
            and text.x + text.width <= page.width - 11.9
            for text in page.texts
        )  # fmt: skip


def test_figures_are_taken_from_the_left_short_point(tmp_path: Path) -> None:
    path = write_inner(tmp_path / "inner.pdf", inner_sheet(BOARD), "sheet")
    texts = {text.text for page in pdf.read(path).pages for text in page.texts}
    assert {"276.2 mm from left short point", "60 mm up from bottom edge", "⌀ 24 mm"} <= texts
    assert "left short point, back-right corner. fold here once it is mitered" in texts
    assert "long point, 23.8 mm out. Not yet mitered: the blank ends here, fold here" in texts
    assert not any("left long point" in text for text in texts)
    assert (
        "Dashed: assumed bracket holes, mark through the real bracket, do not punch."
        in " ".join(text.text for page in pdf.read(path).pages for text in page.texts)
    )


@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid", "roll-36-in", "sheet"])
@pytest.mark.parametrize("width", [60, 140, 285])
def test_ends_alone_read_back(lay: Lay, tmp_path: Path, paper: str, width: float) -> None:
    made = replace(BARE, width=width)
    path = write_ends(tmp_path / "ends.pdf", outer_sheet(lay, made), paper)
    assert ends_faults(path, made) == []
    pages = pdf.read(path).pages
    assert len(pages) == 2 or (width == 285 and paper in ("letter", "a4"))
    for page in pages:
        said = " ".join(text.text for text in page.texts)
        assert ("left end, front-right corner" in said) != ("right end, back-right corner" in said)


@pytest.mark.parametrize("thick", [2, 5, 7.9])
def test_a_board_thinner_than_the_paper_is_folded_reads_back(
    lay: Lay, tmp_path: Path, thick: float
) -> None:
    """The saw's lines end at its other face, nearer than the paper reaches."""
    right = thick * math.tan(math.radians(50))
    made = replace(
        BOARD, thickness=thick, inner_left=thick, inner_right=right,
        short_point=420 - thick - right, holes=HOLES[:3],
    )  # fmt: skip
    path = tmp_path / "thin.pdf"
    write_inner(path, outer_sheet(lay, made))
    assert pdf.compare(path, made, show="mm", sha256=SHA) == []
    write_inner(path, inner_sheet(made))
    assert inner_faults(path, made) == []
    bare = replace(made, holes=())
    write_ends(path, outer_sheet(lay, bare))
    assert ends_faults(path, bare) == []


def test_the_edges_of_an_end_are_folded_over_whole_where_there_is_room(
    lay: Lay, tmp_path: Path
) -> None:
    path = write_ends(tmp_path / "ends.pdf", outer_sheet(lay, BARE), "letter")
    together = assemble(pdf.read(path).pages)
    # from the long point over the edge's 20 mm to the inner face
    assert first_gap(together.lines, (0, 0), (20, -20)) is None
    assert first_gap(together.lines, (420, 140), (420 - RIGHT, 160)) is None
    assert "inner face begins: fold again" in {
        text.text for page in pdf.read(path).pages for text in page.texts
    }


def boxes(page: pdf.Page) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Return what each text covers; capitals of the font are 0.73 em high."""
    found: list[tuple[str, tuple[float, float, float, float]]] = []
    for text in page.texts:
        low, high = 0.02 * text.size, 0.71 * text.size
        if abs(text.turn_deg) < 1:
            box = (text.x, text.y + low, text.x + text.width, text.y + high)
        else:
            box = (text.x - high, text.y, text.x - low, text.y + text.width)
        found.append((text.text, box))
    return found


def crosses(line: Line, box: tuple[float, float, float, float]) -> bool:
    """Whether a line runs through a box, looked at every 0.2 mm."""
    count = max(int(line.length / 0.2), 1)
    return any(
        box[0] < line.x1 + (line.x2 - line.x1) * i / count < box[2]
        and box[1] < line.y1 + (line.y2 - line.y1) * i / count < box[3]
        for i in range(count + 1)
    )


@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid", "sheet"])
@pytest.mark.parametrize("kind", ["outer", "inner", "ends"])
def test_no_text_stands_over_a_line_or_another_text(
    lay: Lay, tmp_path: Path, paper: str, kind: str
) -> None:
    path = tmp_path / "x.pdf"
    if kind == "inner":
        write_inner(path, inner_sheet(BOARD), paper)
    elif kind == "outer":
        write_inner(path, outer_sheet(lay, BOARD), paper)
    else:
        write_ends(path, outer_sheet(lay, BARE), paper)
    for page in pdf.read(path).pages:
        texts = boxes(page)
        for i, (text, box) in enumerate(texts):
            for other, (x0, y0, x1, y1) in texts[:i]:
                wide, tall = min(box[2], x1) - max(box[0], x0), min(box[3], y1) - max(box[1], y0)
                assert not (wide > 0.01 and tall > 0.01), f"{text!r} over {other!r}"
            inside = tuple(side + by for side, by in zip(box, (0.1, 0.1, -0.1, -0.1), strict=True))
            for line in page.lines:
                if not text.isdigit():  # a number on the map stands in its box
                    assert not crosses(line, inside), f"{text!r} over a line"  # type: ignore[arg-type]
            assert min(box[:2]) >= 11.9, text
            assert box[2] <= page.width - 11.9, text
            assert box[3] <= page.height - 11.9, text


# what spoils a board


def changed(path: Path, pages: list[Page], change: Callable[[Mark], Mark | None]) -> Path:
    """Write pages with marks changed or left out, in their windows and around them."""

    def of(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
        found: list[Mark] = []
        for mark in marks:
            now = replace(mark, marks=of(mark.marks)) if isinstance(mark, Window) else change(mark)
            found += [now] if now is not None else []
        return tuple(found)

    write_pdf([replace(page, marks=of(page.marks)) for page in pages], path, "spoilt")
    return path


def reworded(old: str, new: str) -> Callable[[Mark], Mark]:
    def change(mark: Mark) -> Mark:
        if isinstance(mark, Words):
            return replace(mark, text=mark.text.replace(old, new))
        return mark

    return change


def smaller(path: Path) -> Path:
    writer = PdfWriter(clone_from=PdfReader(path))
    for page in writer.pages:
        page.add_transformation(Transformation().scale(0.97))
    writer.write(path)
    return path


def leaning(sheet: Sheet, by_deg: float) -> Sheet:
    """Return a sheet whose left cut over the edges is off by so many degrees."""
    assert sheet.ends is not None
    left, right = sheet.ends
    run = math.copysign(math.tan(math.radians(left.tilt_deg + by_deg)), left.run)
    return replace(sheet, ends=(End(left.corner, left.tilt_deg, run), right))


def unmirrored(sheet: Sheet) -> Sheet:
    circles = tuple(replace(each, x=sheet.length - each.x) for each in sheet.circles)
    return replace(sheet, circles=circles)


@pytest.mark.parametrize(
    ("spoil", "fault"),
    [
        (unmirrored, "tap-1: should be 24.00 mm wide at 276.16, 60.00 mm"),
        (lambda sheet: leaning(sheet, 0.5), "over the bottom edge at the left short point stands"),
        (lambda sheet: leaning(sheet, -1), "stands at 49.0 deg, not at 50.0 deg"),
        (lambda sheet: replace(sheet, ends=None), "top edge at the right short point is not there"),
        (
            lambda sheet: replace(sheet, beyond=(20.0, RIGHT)),
            "left end of the blank is not drawn from 0.00 mm on",
        ),
        (
            lambda sheet: replace(sheet, circles=sheet.circles[1:]),
            "tap-1: should be 24.00 mm wide",
        ),
        (
            lambda sheet: replace(sheet, ends=tuple(reversed(sheet.ends or ()))),
            "does not say 'left short point, back-right corner'",
        ),
        (
            lambda sheet: replace(
                sheet, circles=tuple(replace(c, purpose="passage") for c in sheet.circles)
            ),
            "bracket-left-1: a point at its center, though its place is assumed",
        ),
    ],
)  # fmt: skip
def test_a_spoilt_inner_face_is_seen(
    tmp_path: Path, spoil: Callable[[Sheet], Sheet], fault: str
) -> None:
    found = inner_faults(write_inner(tmp_path / "x.pdf", spoil(inner_sheet(BOARD))))
    assert any(fault in each for each in found), found


def test_an_outer_face_is_no_inner_one(lay: Lay, tmp_path: Path) -> None:
    path = write_inner(tmp_path / "x.pdf", outer_sheet(lay, BOARD))
    found = inner_faults(path)
    for fault in (
        "page 1: does not say 'inner face, seen from inside: mirrored'",
        "page 1: the map of sheets does not say 'mirrored'",
        "the right short point is not drawn",
        "tap-1: should be",
        "that is no hole of the board",
    ):
        assert any(fault in each for each in found), fault


def test_an_inner_face_printed_small_or_without_its_word_is_seen(tmp_path: Path) -> None:
    path = write_inner(tmp_path / "x.pdf", inner_sheet(BOARD))
    assert any("'check 100 mm' is 97.00 mm long" in each for each in inner_faults(smaller(path)))
    pages = templates.template(inner_sheet(BOARD), "letter", JOB, {})
    assert inner_faults(changed(path, pages, lambda mark: mark)) == []
    found = inner_faults(changed(path, pages, reworded(": mirrored", "")))
    assert any("does not say 'inner face, seen from inside: mirrored'" in each for each in found)


def test_taps_named_as_from_outside_are_seen_where_all_else_lies_alike(tmp_path: Path) -> None:
    """Two bores as far from one short point as from the other: only their names can be wrong."""
    holes = tuple(
        Hole(name=f"tap-{i}", purpose="bore", u=u, v=70, diameter=24)
        for i, u in enumerate((120.0, 300.0), 1)
    )
    even = replace(
        BOARD, holes=holes, inner_right=20, miter_right_deg=45, short_point=380,
        inner=((400, 20), (400, 400)),
    )  # fmt: skip
    sheet = inner_sheet(even)
    assert inner_faults(write_inner(tmp_path / "x.pdf", sheet), even) == []
    path = tmp_path / "named.pdf"
    templates.write_sheet(sheet, path, "letter", JOB, {"tap-1": "tap 2", "tap-2": "tap 1, cider"})
    assert any(
        "the order in which they are seen from outside" in e for e in inner_faults(path, even)
    )


def test_a_spoilt_end_is_seen(lay: Lay, tmp_path: Path) -> None:
    path, sheet = tmp_path / "x.pdf", outer_sheet(lay, BARE)
    pages = templates.ends_template(sheet, "letter", JOB)
    spoilt = {
        "stands at 44.0 deg, not at 45.0 deg": write_ends(
            tmp_path / "lean.pdf", leaning(sheet, -1)
        ),
        "top edge at the right long point is not there": changed(
            tmp_path / "half.pdf", pages[:1], lambda mark: mark
        ),
        "does not say 'tilt the blade 50.0 deg, board flat, outer face up'": changed(
            tmp_path / "tilt.pdf", pages, reworded("50.0", "45.0")
        ),
        "does not say 'left end, front-right corner'": changed(
            tmp_path / "corner.pdf", pages, reworded("front-right", "front-left")
        ),
        "'check 4 in' is 98.55 mm long": smaller(write_ends(tmp_path / "small.pdf", sheet)),
        "inner face's end at the left long point is not drawn": write_ends(
            tmp_path / "lines.pdf", replace(sheet, lines=sheet.lines[1:])
        ),
        "on a board without holes": write_ends(
            tmp_path / "hole.pdf",
            replace(sheet, circles=(replace(inner_sheet(BOARD).circles[0], x=60),)),
        ),
    }
    assert ends_faults(write_ends(path, sheet)) == []
    for fault, file in spoilt.items():
        found = ends_faults(file)
        assert any(fault in each for each in found), (fault, found)


def test_spoilt_miters_of_an_outer_face_are_seen(lay: Lay, tmp_path: Path) -> None:
    sheet, path = outer_sheet(lay, BOARD), tmp_path / "x.pdf"
    assert pdf.compare(write_inner(path, sheet), BOARD, show="mm", sha256=SHA) == []
    found = pdf.compare(write_inner(path, leaning(sheet, 1)), BOARD, show="mm")
    assert any("at the left long point stands at 46.0 deg, not at 45.0" in each for each in found)
    pages = templates.template(sheet, "letter", JOB, {})
    changed(path, pages, reworded("tilt the blade", "cut"))
    found = pdf.compare(path, BOARD, show="mm")
    assert any("does not say 'tilt the blade 45.0 deg" in each for each in found)
    no_line = replace(sheet, lines=tuple(e for e in sheet.lines if e.layer != "INNER-EDGE"))
    found = pdf.compare(write_inner(path, no_line), BOARD, show="mm")
    assert any("inner face's end at the right long point is not drawn" in each for each in found)


# which boards get which


def files(lay: Lay, root: Path, **design: object) -> set[str]:
    written = templates.write(
        lay(**design), root, show="in", paper="letter", title="x", sha256=SHA
    )  # fmt: skip
    return {name.removeprefix("templates/").removesuffix(".pdf") for name in written}


def test_each_corner_has_its_lines_on_both_boards(lay: Lay, tmp_path: Path) -> None:
    plain = files(lay, tmp_path / "plain")
    assert {each for each in plain if each.startswith("board")} == {
        "board-front", "board-front-inner", "board-right-ends", "board-back-ends",
        "board-left-ends",
    }  # fmt: skip
    # a bracket's holes alone: drilled from inside, and the outer face has no hole
    held = files(lay, tmp_path / "held", board={"bracket": "bracket-2x2-in"})
    assert {"board-back-inner", "board-back-ends"} <= held
    assert "board-back" not in held


def test_a_cover_has_its_ends_only_where_it_is_mitered(lay: Lay, tmp_path: Path) -> None:
    cover = {"thickness": "16 mm", "sides": ("back",)}
    square = files(lay, tmp_path / "square", cover=cover)
    assert not any(each.startswith("cover") for each in square)
    cover = {"thickness": "16 mm", "sides": ("back", "left")}
    mitered = files(lay, tmp_path / "mitered", cover=cover)
    assert {each for each in mitered if each.startswith("cover")} == {
        "cover-back-ends", "cover-left-ends",
    }  # fmt: skip
    (page,) = pdf.read(tmp_path / "mitered" / "templates" / "cover-back-ends.pdf").pages
    said = " ".join(text.text for text in page.texts)
    assert "right end, back-left corner" in said
    assert "left end" not in said


def test_the_blades_tilt_leaves_the_joints_their_heights(lay: Lay, tmp_path: Path) -> None:
    layout = lay(board={"corner": "biscuit"})
    board = layout.board("front")
    heights = {slot.v for slot in board.slots}
    assert heights
    path = write_inner(tmp_path / "x.pdf", plate_sheet(layout, board, "mm"), "a3")
    texts = [text.text for page in pdf.read(path).pages for text in page.texts]
    assert sum(text.startswith("joint ") for text in texts) == 2 * len(heights)
    assert sum(text.startswith("tilt the blade 45.0") for text in texts) == 2
