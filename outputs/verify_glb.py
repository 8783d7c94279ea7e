"""Holding ``model/collar.glb``, read back, against the layout."""

from collections.abc import Iterator
from pathlib import Path

from ..geometry.shape.contour import outlines
from ..geometry.shape.layout import Layout
from .told import TOLD, differ, names_told

BOX_CLOSE = 1e-2
"""What a part may reach farther or less far than the layout says in a model for viewers, mm."""


def compare(path: Path, layout: Layout) -> Iterator[str]:
    """Hold a model for viewers against the layout, and its names against the assembly's."""
    from .readback import glb

    nodes = glb.read(path)
    parts = {node.name: node for node in nodes if node.vertices is not None}
    if len({node.name for node in nodes}) != len(nodes):
        yield "has two nodes of one name"
    wanted = names_told(layout)
    beside = _assembly_names(path.with_suffix(".step"))
    # An assembly that is wrong itself is told as such, and is no measure.
    whole = wanted <= beside
    wanted |= beside if whole else set()
    yield from (f"lacks {name}" for name in sorted(wanted - set(parts)))
    strange = {name for name in set(parts) - wanted if whole or name.startswith(TOLD)}
    yield from (f"has {name}, which is not in the model" for name in sorted(strange))
    yield from (f"{node.name} has no color" for node in parts.values() if node.color is None)
    for name, (low, high) in _boxes(layout).items():
        if name in parts:
            # Y up: the collar's y is the file's -z, its z the file's y.
            (x0, y0, z0), (x1, y1, z1) = parts[name].box
            found = tuple(1000 * each for each in (x0, -z1, y0, x1, -z0, y1))
            yield from differ(f"{name}: its lowest corner", found[:3], low, BOX_CLOSE)
            yield from differ(f"{name}: its highest corner", found[3:], high, BOX_CLOSE)
            if parts[name].volume <= 0:
                yield f"{name} has its inside out"
    hung = {node.name for node in nodes if "lid-hinge" in node.above}
    axes = [node for node in nodes if node.name == "lid-hinge"]
    if layout.hinge is None or layout.reference.lid is None:
        if axes:
            yield "has a hinge axis, which was not measured"
        return
    if hung != {"lid"}:
        yield f"has {', '.join(sorted(hung)) or 'nothing'} under lid-hinge, not the lid alone"
    for node in axes:
        x, y, z = (1000 * each for each in node.place)
        there = (0.0, layout.hinge.y, layout.hinge.z)
        yield from differ("lid-hinge", (x, -z, y), there, BOX_CLOSE)


def _assembly_names(path: Path) -> set[str]:
    """Return the names in the assembly, which has the small bought parts too; none if unread."""
    from .readback import step

    try:
        return {each.name for each in step.read(path).placed}
    except (OSError, ValueError):
        return set()


def _boxes(layout: Layout) -> dict[str, tuple[tuple[float, ...], tuple[float, ...]]]:
    """Return the lowest and highest corner, in the collar, of what the layout tells exactly, mm.

    Panels with round notches in their edge are left out, as an arc may bulge beyond its ends.
    """
    boxes: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {}

    def add(name: str, corners: list[tuple[float, ...]]) -> None:
        axes = list(zip(*corners, strict=True))
        boxes[name] = tuple(map(min, axes)), tuple(map(max, axes))

    for board in layout.boards:
        add(f"board-{board.side}", [(*p, z) for p in board.plan for z in (0.0, board.width)])
    for panel in layout.panels:
        board = layout.board(panel.side)
        rings = outlines(panel.length, panel.width, panel.holes).outer
        corners = [v for ring in rings for v in ring.vertices]
        if not corners or any(v.bulge for v in corners):
            continue
        start, thickness = board.inner_left + panel.start, board.thickness
        faces = (thickness, thickness + panel.thickness)
        add(
            f"foam-{panel.side}",
            [board.place(start + v.x, v.y, inward) for v in corners for inward in faces],
        )
    about, back = layout.reference, layout.board("back")
    if about.lid is not None:
        add("lid", [about.lid.extent.low, about.lid.extent.high])
    if about.well is not None:
        add("well", [about.well.outside.low, about.well.outside.high])
    if about.lip is not None:
        lip, top = about.lip, about.lip.top
        add("lip", [(*p, z) for p in lip.outer for z in (top - lip.depth, top)])
    for leaf in about.leaves:
        ends = (leaf.u - leaf.width / 2, leaf.u + leaf.width / 2)
        heights, faces = (leaf.top - leaf.height, leaf.top), (-leaf.thickness, 0.0)
        corners = [back.place(u, v, inward) for u in ends for v in heights for inward in faces]
        add(f"hinge-{leaf.number}", list(corners))
    return boxes
