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

CLOSE = 1e-3
"""What a written coordinate may differ from the layout's, mm."""

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


def _differ(what: str, found: tuple[float, ...], wanted: tuple[float, ...]) -> Iterator[str]:
    if any(abs(a - b) > CLOSE for a, b in zip(found, wanted, strict=True)):
        said = ", ".join(f"{each:.3f}" for each in found)
        yield f"{what} is at {said} mm, not {', '.join(f'{each:.3f}' for each in wanted)} mm"


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
        yield from _differ("its lowest corner", product.low, low)
        yield from _differ("its highest corner", product.high, high)
    wanted = {
        (round(h.u, 3), round(h.v, 3), round(h.diameter, 3)) for h in part.holes if h.diameter
    }
    found = {
        (round(c.point[0], 3), round(c.point[1], 3), round(2 * c.radius, 3))
        for c in product.cylinders
    }
    strange = [each for each in found if not any(_near(each, other) for other in wanted)]
    yield from (f"has a round hole of {d} mm at {u}, {v} mm" for u, v, d in sorted(strange))
    if isinstance(part, Board):
        lost = [each for each in wanted if not any(_near(each, other) for other in found)]
        yield from (f"lacks the hole of {d} mm at {u}, {v} mm" for u, v, d in sorted(lost))


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
    for board in layout.boards:
        name = f"board-{board.side}"
        if name not in placed:
            yield f"lacks {name}"
            continue
        ends = (0.0, 0.0, board.thickness), (board.long_point, board.width, board.thickness)
        left, right = (placed[name].at(end) for end in ends)
        yield from _differ(f"{name}: its left long point", left, (*board.outer[0], 0.0))
        yield from _differ(f"{name}: its right long point", right, (*board.outer[1], board.width))


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
        yield from _differ("its lowest corner", mesh.box[0], low)
        yield from _differ("its highest corner", mesh.box[1], high)
