"""Holes for bought leaves and brackets are a set-out: every paper says so, none has a point."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.sheet import plate_sheet
from collarwright.outputs import templates
from collarwright.outputs.drawings.flat import _texts, deep_text
from collarwright.outputs.readback import pdf
from collarwright.outputs.templates.furniture import Job

Lay = Callable[..., Layout]
HINGE = {
    "positions": ("-200 mm", "200 mm"), "leaf_height": "60 mm", "screws": 2,
    "screw": "wood-screw-no-8",
}  # fmt: skip
JOB = Job(title="Shed", sha256="0123456789abcdef" * 4, show="mm")


def printed(path: Path) -> str:
    return " ".join(text.text for page in pdf.read(path).pages for text in page.texts)


def test_a_template_tells_set_outs_and_has_no_point_to_punch(lay: Lay, tmp_path: Path) -> None:
    layout = lay(hinge=HINGE, board={"bracket": "bracket-2x2-in"})
    board = layout.board("back")
    path = tmp_path / "back.pdf"
    templates.write_sheet(plate_sheet(layout, board, "mm"), path, "a3", JOB)
    seen = replace(board, holes=tuple(h for h in board.holes if h.face == "outer"))
    assert len(seen.holes) == 4
    assert pdf.compare(path, seen, show="mm") == []
    said = printed(path)
    assert "hinge-1-1 assumed: mark by leaf" in said
    assert "Dashed: assumed hinge holes, mark through the leaf, do not punch." in said
    assert "Bracket holes: on the inner face." in said
    bored = tuple(replace(hole, name="probe", purpose="passage") for hole in seen.holes)
    faults = pdf.compare(path, replace(board, holes=bored), show="mm")
    assert [fault for fault in faults if "no point at its center" in fault]


def test_a_point_in_a_set_out_is_seen(lay: Lay, tmp_path: Path) -> None:
    layout = lay(hinge=HINGE)
    board = layout.board("back")
    sheet = plate_sheet(layout, board, "mm")
    measured = replace(
        sheet, circles=tuple(replace(each, purpose="passage") for each in sheet.circles)
    )
    path = tmp_path / "back.pdf"
    templates.write_sheet(measured, path, "a3", JOB)
    faults = pdf.compare(path, board, show="mm")
    assert len([fault for fault in faults if "its place is assumed" in fault]) == 4


def test_a_board_without_set_outs_says_nothing_of_them(lay: Lay, tmp_path: Path) -> None:
    layout = lay(taps={"count": 2, "spacing": "100 mm"})
    path = tmp_path / "front.pdf"
    board = layout.board("front")
    templates.write_sheet(plate_sheet(layout, board, "mm"), path, "a3", JOB)
    said = printed(path)
    assert "assumed" not in said and "racket" not in said


def test_cut_files_and_drawings_tell_set_outs(lay: Lay) -> None:
    layout = lay(hinge=HINGE, board={"bracket": "bracket-2x2-in"})
    board = layout.board("back")
    notes = [note.text for note in plate_sheet(layout, board, "mm").notes]
    drawn = _texts(layout, board, "mm")
    for start in ("Hinge holes are assumed", "Bracket holes are on the inner face, assumed"):
        for texts in (notes, drawn):
            assert [t for t in texts if t.startswith(start) and "mark through the real" in t]
    holes = [text for text in notes if text.startswith(("hinge-", "bracket-"))]
    assert len(holes) == 4 + 4 and all(text.endswith("; assumed.") for text in holes)


@pytest.mark.parametrize(
    ("length", "into"),
    # the board is 19.05 mm, the block 20 mm, the leaf 2 mm: of a screw 30.15 mm long 28.15 mm are
    # in wood; without a screw's length two thirds of 39.05 mm are drilled
    [("30.15 mm", 28.15 - 19.05), (None, 39.05 * 2 / 3 - 19.05)],
)
def test_holes_into_board_and_block_are_told_alike(
    lay: Lay, length: str | None, into: float
) -> None:
    hinge = HINGE | {"backing": "20 mm", "leaf_thickness": "2 mm"}
    layout = lay(hinge=hinge | ({"screw_length": length} if length else {}))
    board = layout.board("back")
    assert {hole.depth for hole in board.holes} == {None}
    assert [hole.into_block for hole in board.holes] == [pytest.approx(into)] * 4
    notes = [note.text for note in plate_sheet(layout, board, "mm").notes]
    holes = [text for text in notes if text.startswith("hinge-")]
    said = f"through the board and {round(into, 2):g} mm"
    assert len(holes) == 4 and all(said in text for text in holes)
    assert [t for t in _texts(layout, board, "mm") if "before it is glued on" in t]
    assert deep_text(board.holes[0], "mm") == f"through, {round(into, 1):g} mm into the block"


def test_a_screw_that_ends_in_the_board_leaves_the_block_alone(lay: Lay) -> None:
    hinge = HINGE | {"backing": "20 mm", "leaf_thickness": "2 mm", "screw_length": "17 mm"}
    (hole, *_) = lay(hinge=hinge).board("back").holes
    assert hole.depth == pytest.approx(15.0) and hole.into_block is None
