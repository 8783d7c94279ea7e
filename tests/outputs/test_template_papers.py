"""Every bored board of every example, on every paper: a file, read back, nothing left out."""

import re
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.outputs import templates
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.sizes import PAPER_NAMES
from collarwright.outputs.readback import pdf, plates
from collarwright.outputs.templates.furniture import Job
from collarwright.params.project import Project
from collarwright.params.reading import read

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SHA = "0123456789abcdef" * 4

IN = 25.4
Size = tuple[float | None, float | None]
SIZES: dict[str, tuple[Size, ...]] = {
    **{
        name: ((short, long), (long, short))
        for name, short, long in (
            ("letter", 8.5 * IN, 11 * IN), ("legal", 8.5 * IN, 14 * IN),
            ("tabloid", 11 * IN, 17 * IN), ("a4", 210.0, 297.0), ("a3", 297.0, 420.0),
            ("a1", 594.0, 841.0), ("a0", 841.0, 1189.0),
        )
    },
    **{f"roll-{wide}-in": ((None, wide * IN), (wide * IN, None)) for wide in (24, 36)},
    "sheet": (),
}  # fmt: skip
"""What a page may measure, mm: ISO 216, ASME Y14.1 and common practice (tests/published); a roll
is cut off anywhere, and a lone sheet is as large as it has to be."""


@cache
def example(path: Path) -> tuple[Project, Layout]:
    project, _ = read(path)
    return project, lay_out(project)


def files(path: Path, paper: str, folder: Path) -> dict[str, Path]:
    """Write the templates of an example's boards, and return them by name.

    Those of foam panels are asked for on every paper in ``test_foam_template``.
    """
    project, layout = example(path)
    job = Job(title=project.title, sha256=SHA, show=project.show)
    found: dict[str, Path] = {}
    for kind in (templates.outer_faces, templates.inner_faces, templates.board_ends):
        for each in kind(layout, paper, job):
            found[each.name] = folder / f"{each.name}.pdf"
            write_pdf(each.pages(), found[each.name], each.title)
    return found


def faults(file: Path, project: Project, board: Board, sizes: tuple[Size, ...]) -> list[str]:
    """Read a board's template back as what its name says that it is."""
    told: dict[str, Any] = {"paper": sizes, "sha256": SHA}
    if file.stem.endswith("-inner"):
        return list(plates.compare_inner(file, board, show=project.show, **told))
    if file.stem.endswith("-ends"):
        return list(plates.compare_ends(file, board, **told))
    return pdf.compare(file, board, show=project.show, **told)


def whole(ring: pdf.Circle) -> bool:
    """Tell whether all of a circle is seen."""
    left, low, right, high = ring.seen
    half = ring.diameter / 2 - 1e-6
    return left <= ring.x - half and ring.x + half <= right and (
        low <= ring.y - half and ring.y + half <= high
    )  # fmt: skip


def cut_up(pages: tuple[pdf.Page, ...], holes: list[Hole]) -> Iterator[str]:
    """Name the sizes of which fewer whole circles are printed than there are holes.

    Where a page says that a seam cuts one, that is not a fault.
    """
    said = " ".join(text.text for page in pages for text in page.texts)
    for size in {round(hole.diameter or 0.0, 3) for hole in holes}:
        places = {
            (round(hole.u, 3), round(hole.v, 3))
            for hole in holes
            if round(hole.diameter or 0.0, 3) == size
        }
        rings = sum(
            abs(ring.diameter - size) < 0.01 and not ring.filled and whole(ring)
            for page in pages
            for ring in page.circles
        )
        if rings < len(places) and "cut by a seam" not in said:
            yield f"{rings} whole circles of {size} mm, {len(places)} holes"


def empty(page: pdf.Page, long: float, wide: float) -> bool:
    """Tell whether a page shows nothing of a board that begins where the page says."""
    (zero,) = [
        re.fullmatch(r"board zero at (\S+) (\S+) mm", text.text)
        for text in page.texts
        if text.text.startswith("board zero")
    ]
    assert zero is not None
    x, y = float(zero[1]), float(zero[2])
    for left, low, right, high in page.windows:
        lines = [
            line
            for line in page.lines
            if left <= (line.x1 + line.x2) / 2 <= right and low <= (line.y1 + line.y2) / 2 <= high
        ]
        across, up = min(right, x + long) - max(left, x), min(high, y + wide) - max(low, y)
        if lines and across > 5 and up > 5:
            return False
    return True


@pytest.mark.parametrize("paper", PAPER_NAMES)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda each: each.stem)
def test_every_bored_board_is_on_paper(
    path: Path, tmp_path: Path, paper: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pdf, "read", cache(pdf.read))  # each file is read once
    project, layout = example(path)
    found = files(path, paper, tmp_path)
    for board in (*layout.boards, *layout.covers):
        outer = [hole for hole in board.holes if hole.face == "outer"]
        inner = [hole for hole in board.holes if hole.face == "inner" or hole.depth is None]
        if board.kind == "cover":
            inner = [hole for hole in inner if hole.face == "inner"]
        wanted = {board.name: outer, f"{board.name}-inner": inner}
        assert {name for name, holes in wanted.items() if holes} <= set(found)
        for name in [each for each in found if each in (*wanted, f"{board.name}-ends")]:
            assert faults(found[name], project, board, SIZES[paper]) == []
            pages = pdf.read(found[name]).pages
            assert list(cut_up(pages, wanted.get(name, []))) == []
            if name in wanted:
                blank = [
                    each.number for each in pages if empty(each, board.long_point, board.width)
                ]
                assert blank == []
    assert len(found) >= len(layout.boards)


@pytest.mark.parametrize(
    ("example_name", "name"),
    [
        ("cold-coffee", "board-front"), ("cold-coffee", "board-back-inner"),
        ("cold-coffee", "board-left-ends"), ("terrace-bar", "cover-left"),
    ],
)  # fmt: skip
def test_97_percent_is_seen_on_every_kind_of_template(
    tmp_path: Path, example_name: str, name: str
) -> None:
    paper = "a3"
    path = next(each for each in EXAMPLES if each.stem == example_name)
    project, layout = example(path)
    file = files(path, paper, tmp_path)[name]
    kind, side = name.split("-")[:2]
    plates_of: Any = layout.boards if kind == "board" else layout.covers
    board = next(each for each in plates_of if each.side == side)
    assert faults(file, project, board, SIZES[paper]) == []
    pypdf: Any = import_module("pypdf")
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(file))
    for page in writer.pages:
        page.add_transformation(pypdf.Transformation().scale(0.97))
    writer.write(file)
    said = "\n".join(faults(file, project, board, SIZES[paper]))
    assert "the level bar 'check 100 mm' is 97.00 mm long" in said
    assert "the upright bar 'check 4 in' is 98.55 mm long" in said
