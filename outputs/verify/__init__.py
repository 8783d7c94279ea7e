"""Reading back what was written, before it takes DIR's place.

Each file is read from disk by a reader that shares nothing with its writer, and held against
the layout. What differs is said in words; nothing that differs is handed over.
"""

import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from ..geometry.shape.contour import outlines
from ..geometry.shape.frame import Board
from ..geometry.shape.layout import Layout
from ..geometry.shape.lining import Panel
from ..params.units import Show
from . import verify_glb
from .readback.step import Cylinder
from .told import CLOSE, TOLD, differ, names_told

FACET_RAD = 0.2
"""Greatest turn from facet to facet of a round hole in an STL file, as ``model`` meshes it."""


class ReadBackError(Exception):
    """A written file is not what the layout says; ``differences`` has a sentence for each."""

    def __init__(self, differences: list[str]) -> None:
        """Keep the sentences; the message is all of them."""
        self.differences = tuple(differences)
        super().__init__(
            "what was written does not read back right; nothing was handed over:\n  "
            + "\n  ".join(differences)
        )


def verify(
    root: Path,
    written: list[str],
    layout: Layout,
    data: dict[str, Any],
    *,
    show: Show,
    sha256: str,
    warnings: tuple[str, ...],
) -> None:
    """Read every written file and compare it with the layout.

    Args:
        root: the folder that was written.
        written: paths relative to it.
        layout: what should be in the files.
        data: the summary, whose boards and panels the cut files are held against.
        show: the unit on the templates.
        sha256: of the build file; the templates carry its start.
        warnings: failures that have to stand in print.

    Raises:
        ReadBackError: with every difference.
    """
    parts: dict[str, Board | Panel] = {f"board-{board.side}": board for board in layout.boards}
    parts |= {f"foam-{panel.side}": panel for panel in layout.panels}
    entries = {f"board-{each['side']}": each for each in data["boards"]}
    entries |= {f"foam-{each['side']}": each for each in data["foam"]}

    def cut(path: Path) -> Iterator[str]:
        from .readback import dxf

        name = next(each for each in entries if path.stem.startswith(each))
        units = "in" if path.stem.removeprefix(name).startswith("-in") else "mm"
        yield from dxf.compare(path, entries[name], units=units, warnings=warnings)

    def template(path: Path) -> Iterator[str]:
        from .readback import pdf

        board = parts[path.stem]
        assert isinstance(board, Board)
        yield from pdf.compare(path, board, show=show, sha256=sha256, failures=len(warnings))

    def solid(path: Path) -> Iterator[str]:
        if path.stem in parts:
            yield from _part_step(path, parts[path.stem])
        else:
            yield from _assembly(path, layout)

    readers: dict[str, Callable[[Path], Iterator[str]]] = {
        ".dxf": cut,
        ".pdf": template,
        ".glb": lambda path: verify_glb.compare(path, layout),
        ".step": solid,
        ".stl": lambda path: _mesh(path, parts[path.stem]),
    }
    differences: list[str] = []
    for name in written:
        path = root / name
        try:
            found = list(readers[path.suffix](path))
        except ValueError as error:  # each reader's own error for a file that is not whole
            found = [str(error)]
        differences += [f"{name}: {each.removeprefix(f'{path.name}: ')}" for each in found]
    if differences:
        raise ReadBackError(differences)


def _size(part: Board | Panel) -> tuple[float, float, float]:
    length = part.long_point if isinstance(part, Board) else part.length
    return length, part.width, part.thickness


def _box(part: Board | Panel) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the lowest and highest corner of a part as it lies flat, mm."""
    length, width, thickness = _size(part)
    if isinstance(part, Board):
        return (0.0, 0.0, 0.0), (length, width, thickness)
    corners = [v for ring in outlines(length, width, part.holes).outer for v in ring.vertices]
    xs, ys = [v.x for v in corners], [v.y for v in corners]
    return (min(xs), min(ys), 0.0), (max(xs), max(ys), thickness)


def _part_step(path: Path, part: Board | Panel) -> Iterator[str]:
    from .readback import step

    file = step.read(path)
    yield from _units(file.length_units)
    if [each.name for each in file.products] != [path.stem]:
        yield f"holds {[each.name for each in file.products]}, not one product {path.stem}"
        return
    product = file.products[0]
    if product.color is None:
        yield "has no color"
    low, high = _box(part)
    # An arc may bulge beyond its ends, so a notched panel's box is not told by its corners.
    if isinstance(part, Board) or not part.holes:
        yield from differ("its lowest corner", product.low, low)
        yield from differ("its highest corner", product.high, high)
    wanted = {
        (hole.u, hole.v, *hole.span(part.thickness), hole.diameter)
        for hole in part.holes
        if hole.diameter
    }
    found = set(map(_round_hole, product.cylinders))
    strange = [each for each in found if not any(_near(each, other) for other in wanted)]
    yield from (f"has {_told(each)}" for each in sorted(strange))
    if isinstance(part, Board):
        lost = [each for each in wanted if not any(_near(each, other) for other in found)]
        yield from (f"lacks {_told(each)}" for each in sorted(lost))


def _round_hole(cylinder: Cylinder) -> tuple[float, ...]:
    """Return where a round hole of a part that lies flat is: u, v, lowest and highest z, width."""
    ends = sorted((cylinder.at(cylinder.start), cylinder.at(cylinder.end)), key=lambda p: p[2])
    (u, v, low), (_, _, high) = ends
    return u, v, low, high, 2 * cylinder.radius


def _told(hole: tuple[float, ...]) -> str:
    u, v, low, high, diameter = hole
    return f"a hole of {diameter:.3f} mm at {u:.3f}, {v:.3f} mm, from {low:.3f} to {high:.3f} mm"


def _near(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(abs(a - b) <= 2 * CLOSE for a, b in zip(one, other, strict=True))


def _units(units: tuple[str, ...]) -> Iterator[str]:
    if units != ("MILLI METRE",):
        yield f"states lengths in {', '.join(units) or 'no unit'}, not in millimeters"


def _assembly(path: Path, layout: Layout) -> Iterator[str]:
    from .readback import step

    file = step.read(path)
    yield from _units(file.length_units)
    placed = {each.name: each for each in file.placed}
    if len(placed) != len(file.placed):
        yield "has two parts of one name"
    yield from (f"{each.name} has no color" for each in file.products if each.color is None)
    products = {each.name: each for each in file.products}
    wanted = names_told(layout)
    yield from (f"lacks {name}" for name in sorted(wanted - set(placed)))
    yield from (
        f"has {name}, which is not in the layout"
        for name in sorted(set(placed) - wanted)
        if name.startswith(TOLD)
    )
    for board in layout.boards:
        name = f"board-{board.side}"
        if name in placed:
            ends = (0.0, 0.0, board.thickness), (board.long_point, board.width, board.thickness)
            left, right = (placed[name].at(end) for end in ends)
            right_end = (*board.outer[1], board.width)
            yield from differ(f"{name}: its left long point", left, (*board.outer[0], 0.0))
            yield from differ(f"{name}: its right long point", right, right_end)
    for panel in layout.panels:
        name, board = f"foam-{panel.side}", layout.board(panel.side)
        if name in placed:
            for u, text in ((0.0, "left"), (panel.length, "right")):
                found = placed[name].at((u, 0.0, panel.thickness))
                there = board.place(board.inner_left + panel.start + u, 0.0, board.thickness)
                yield from differ(f"{name}: its {text} end on the board", found, there)
    for tap in layout.taps:
        if f"shank-{tap.number}" in placed:
            use = placed[f"shank-{tap.number}"]
            there = layout.board(tap.side).place(tap.u, tap.v, 0.0)
            axes = [(use.at(c.at(0.0)), use.at(c.at(1.0))) for c in products[use.product].cylinders]
            if not any(_off_line(there, a, b) <= CLOSE for a, b in axes):
                yield f"{use.name}: no axis goes through tap {tap.number}'s bore"
    manifold = layout.manifold
    if manifold is not None and "manifold" in placed:
        product, use = products[placed["manifold"].product], placed["manifold"]
        low, high = product.low, product.high
        center = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)
        board = layout.board(manifold.side)
        there = board.place(manifold.u, manifold.v, board.thickness + manifold.depth / 2)
        yield from differ("manifold: its center", use.at(center), there)


def _off_line(point: tuple[float, ...], start: tuple[float, ...], end: tuple[float, ...]) -> float:
    """Return the distance of a point from the line through two others, mm."""
    way = [b - a for a, b in zip(start, end, strict=True)]
    to = [p - a for a, p in zip(start, point, strict=True)]
    length = math.hypot(*way)
    along = sum(w * t for w, t in zip(way, to, strict=True)) / length
    return math.sqrt(max(0.0, sum(t * t for t in to) - along * along))


def _mesh(path: Path, part: Board | Panel) -> Iterator[str]:
    from .readback import stl

    mesh = stl.read(path)
    if not mesh.watertight:
        yield "is not closed"
    if not mesh.normals_agree:
        yield "has triangles that face inward"
    pieces = 1
    if isinstance(part, Panel):
        pieces = len(outlines(part.length, part.width, part.holes).outer)
    if mesh.bodies != pieces:
        yield f"has {mesh.bodies} bodies, not {pieces}"
    # Facets of a rad keep up to a^2/6 of what a round hole takes out (1 - sin a / a).
    round_holes = sum(math.pi * (hole.diameter or 0.0) ** 2 / 4 for hole in part.holes)
    allowed = FACET_RAD**2 / 6 * round_holes * part.thickness + 1e-6 * part.volume
    if abs(mesh.volume - part.volume) > allowed:
        yield f"encloses {mesh.volume:.0f} mm3, not {part.volume:.0f} mm3"
    low, high = _box(part)
    if isinstance(part, Board) or not part.holes:
        yield from differ("its lowest corner", mesh.box[0], low)
        yield from differ("its highest corner", mesh.box[1], high)
