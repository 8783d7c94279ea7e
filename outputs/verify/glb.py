"""Holding ``model/collar.glb``, read back, against the layout."""

from collections.abc import Iterator
from pathlib import Path

from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...geometry.shape.taps import Tap
from ..readback.glb import Node
from .stl import FACET_RAD
from .told import Box, boxes, colored, differ, names, spans

BOX_CLOSE = 1e-2
"""What a part may reach farther or less far than the layout says in a model for viewers, mm."""

COLOR_CLOSE = 1e-4
"""What a color's channel may be off, of 1: linear light is written with six decimals."""

MM = 1000.0


def compare(path: Path, layout: Layout) -> Iterator[str]:
    """Hold a model for viewers against the layout."""
    from ..readback import glb

    nodes = glb.read(path)
    parts = {node.name: node for node in nodes if node.vertices is not None}
    if len({node.name for node in nodes}) != len(nodes):
        yield "has two nodes of one name"
    wanted = names(layout)
    yield from (f"lacks {name}" for name in sorted(wanted - set(parts)))
    yield from (f"has {name}, which is not in the layout" for name in sorted(set(parts) - wanted))
    for node in parts.values():
        color = None if node.color is None else tuple(map(_encoded, node.color[:3]))
        yield from colored(node.name, color, COLOR_CLOSE)
        if not node.closed:
            yield f"{node.name} is not closed"
        if node.volume <= 0:
            yield f"{node.name} has its inside out"
    for name, box in boxes(layout).items():
        if name in parts:
            low, high = _reach(parts[name], box)
            yield from differ(f"{name}: its lowest corner", low, box.low, BOX_CLOSE)
            yield from differ(f"{name}: its highest corner", high, box.high, BOX_CLOSE)
    for tap in layout.taps:
        yield from _tap(tap, layout.board(tap.side), parts)
    yield from _hinge(nodes, layout)


def _encoded(channel: float) -> float:
    """Return linear light as an sRGB channel (IEC 61966-2-1)."""
    return channel * 12.92 if channel <= 0.0031308 else 1.055 * channel ** (1 / 2.4) - 0.055


def _reach(node: Node, box: Box) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return how far a mesh reaches in the coordinates of a box, mm."""
    assert node.vertices is not None
    # Y up: the collar's y is the file's -z, its z the file's y.
    points = [box.own((MM * x, -MM * z, MM * y)) for x, y, z in node.vertices.tolist()]
    axes = list(zip(*points, strict=True))
    return tuple(map(min, axes)), tuple(map(max, axes))


def _tap(tap: Tap, board: Board, parts: dict[str, Node]) -> Iterator[str]:
    """Hold what is round about a tap's axis against it, and how far it reaches along it."""
    for name, span in spans(tap).items():
        if name not in parts:
            continue
        low, high = _reach(parts[name], Box((), (), board.outer))
        middle = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
        # Facets of a nut or ring may end a little short on one side.
        short = BOX_CLOSE + (high[1] - low[1]) / 2 * FACET_RAD**2 / 8
        yield from differ(f"{name}: its axis", middle, (tap.u, tap.v), short)
        along = -tap.cover - high[2], -tap.cover - low[2]
        yield from differ(f"{name}: its ends outward", along, (span.low, span.high), BOX_CLOSE)


def _hinge(nodes: tuple[Node, ...], layout: Layout) -> Iterator[str]:
    hung = {node.name for node in nodes if "lid-hinge" in node.above}
    axes = [node for node in nodes if node.name == "lid-hinge"]
    if layout.hinge is None or layout.reference.lid is None:
        if axes:
            yield "has a hinge axis, which was not measured"
        return
    if hung != {"lid"}:
        yield f"has {', '.join(sorted(hung)) or 'nothing'} under lid-hinge, not the lid alone"
    for node in axes:
        x, y, z = (MM * each for each in node.place)
        there = (0.0, layout.hinge.y, layout.hinge.z)
        yield from differ("lid-hinge", (x, -z, y), there, BOX_CLOSE)
