"""A cover's template says how far its lower edge lies below the board's, and draws that edge."""

from collections.abc import Callable
from pathlib import Path

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import templates
from collarwright.outputs.readback import pdf

Lay = Callable[..., Layout]
HANGS = {"thickness": "16 mm", "sides": ("front",), "below_lip": "40 mm"}
SAID = "the cover's bottom edge lies 1 9/16 in (40 mm) below the board's bottom edge"


def pages(lay: Lay, root: Path, paper: str, warnings: int = 0, **change: object) -> list[pdf.Page]:
    written = templates.write(
        lay(cover=HANGS | change), root, show="in", paper=paper, title="x", sha256="0" * 64,
        warnings=("FAILS this and that, by so much",) * warnings,
    )  # fmt: skip
    assert "templates/cover-front.pdf" in written
    return list(pdf.read(root / "templates/cover-front.pdf").pages)


@pytest.mark.parametrize("paper", ["letter", "a4", "a3", "sheet"])
@pytest.mark.parametrize("warnings", [0, 8])
def test_every_page_says_how_much_lower_the_cover_ends(
    lay: Lay, tmp_path: Path, paper: str, warnings: int
) -> None:
    for page in pages(lay, tmp_path, paper, warnings):
        said = " ".join(text.text for text in page.texts)
        assert SAID in said
        if not warnings:
            large = [text for text in page.texts if text.text.startswith("the cover's bottom")]
            assert all(text.size >= 3.5 for text in large)
            assert all(text.y + text.width <= page.height - 11.9 for text in large)


def test_the_boards_bottom_edge_is_drawn_40_mm_up(lay: Lay, tmp_path: Path) -> None:
    (page,) = pages(lay, tmp_path, "sheet")
    # design A's board is 939.8 mm long and the cover ends square with it at both ends
    level = [
        line for line in page.lines
        if abs(line.y1 - line.y2) < 0.01 and abs(line.x1 - line.x2) == pytest.approx(939.8, abs=0.1)
    ]  # fmt: skip
    heights = sorted({round(line.y1, 2) for line in level})
    assert [each - heights[0] for each in heights] == pytest.approx([0, 40, 179.7], abs=0.02)
    assert "board's bottom edge" in [text.text for text in page.texts]


def test_a_cover_level_with_its_board_says_nothing(lay: Lay, tmp_path: Path) -> None:
    for page in pages(lay, tmp_path, "sheet", below_lip="0 mm"):
        said = " ".join(text.text for text in page.texts)
        assert "below the board's" not in said
        assert "board's bottom edge" not in said
