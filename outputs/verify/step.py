"""Holding STEP files, read back, against the layout: the assembly, and each part by itself."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Panel
from ...geometry.shape.seat import Strip
from ...geometry.shape.slot import CUTTER, Slot
from ...geometry.shape.taps import Tap
from ..readback.step import Cylinder, Placed, Product, StepFile
from .told import CLOSE, Box, Corner, boxes, colored, differ, flat_box, names, spans, volumes

COLOR_CLOSE = 1e-5
"""What a color's channel may be off, of 1."""

UPRIGHT = 1e-9
"""What the z of an axis may lack of 1 for the axis to run along z."""

VOLUME_CLOSE = 1e-8
"""What a volume may be off, as a share of it; files carry fifteen digits."""


def part(path: Path, made: Board | Panel | Strip) -> Iterator[str]:
    """Hold the file of one made part, lying flat, against the layout."""
    from ..readback import step

    file = step.read(path)
    yield from _units(file)
    if [each.name for each in file.products] != [path.stem]:
        found = ", ".join(each.name for each in file.products) or "no product"
        yield f"holds {found}, not one product {path.stem}"
        return
    yield from colored(path.stem, file.products[0].color, COLOR_CLOSE)
    yield from _flat(file.products[0], made)


def assembly(path: Path, layout: Layout) -> Iterator[str]:
    """Hold the assembly's file against the layout."""
    from ..readback import step

    file = step.read(path)
    yield from _units(file)
    placed = {each.name: each for each in file.placed}
    if len(placed) != len(file.placed):
        each_name = [each.name for each in file.placed]
        twice = sorted({name for name in each_name if each_name.count(name) > 1})
        yield f"has two parts of one name: {', '.join(twice)}"
    wanted = names(layout)
    yield from (f"lacks {name}" for name in sorted(wanted - set(placed)))
    yield from (f"has {name}, which is not in the layout" for name in sorted(set(placed) - wanted))
    products = {each.name: each for each in file.products}
    for product in file.products:
        yield from colored(product.name, product.color, COLOR_CLOSE)
    for name, made in made_parts(layout).items():
        if name in placed and placed[name].product in products:
            found = products[placed[name].product]
            if found.name != name:
                yield f"{name}: is the product {found.name}"
            yield from (f"{name}: {each}" for each in _flat(found, made))
    told = volumes(layout)
    for name, box in boxes(layout).items():
        if name in placed:
            use, product = placed[name], products[placed[name].product]
            yield from _box(name, use, product, box)
            yield from _volume(f"{name}: ", product, told[name])
    for tap in layout.taps:
        yield from _tap(tap, layout.board(tap.side), placed, products)


def made_parts(layout: Layout) -> dict[str, Board | Panel | Strip]:
    """Return what is cut here, by the parts' names."""
    plates = (*layout.boards, *layout.covers, *layout.strips)
    parts: dict[str, Board | Panel | Strip] = {plate.name: plate for plate in plates}
    return parts | {f"foam-{panel.side}": panel for panel in layout.panels}


def _units(file: StepFile) -> Iterator[str]:
    if file.length_units != ("MILLI METRE",):
        found = ", ".join(file.length_units) or "no unit"
        yield f"states lengths in {found}, not in millimeters (MILLI METRE)"


def _flat(product: Product, made: Board | Panel | Strip) -> Iterator[str]:
    """Hold a made part in coordinates of its own against the layout: box, volume, round holes."""
    box = flat_box(made)
    if box is not None:
        yield from differ("its lowest corner", product.low, box[0])
        yield from differ("its highest corner", product.high, box[1])
    yield from _volume("", product, made.volume)
    if isinstance(made, Strip):
        yield from ("has a round hole, which no strip has" for _ in product.cylinders)
        return
    slots = made.slots if isinstance(made, Board) else ()
    along_z = [each for each in product.cylinders if abs(each.axis[2]) > 1 - UPRIGHT]
    others = [each for each in product.cylinders if abs(each.axis[2]) <= 1 - UPRIGHT]
    yield from _slots(others, slots, made.thickness)
    wanted = {
        (hole.u, hole.v, *hole.span(made.thickness), hole.diameter): hole
        for hole in made.holes
        if hole.diameter
    }
    found = set(map(_round_hole, along_z))
    strange = [each for each in found if not any(_near(each, other) for other in wanted)]
    yield from (f"has {_said(each)}, which is not in the layout" for each in sorted(strange))
    if isinstance(made, Board):
        lost = [
            each
            for each, hole in wanted.items()
            if not any(_near(each, other) for other in found) and _has_wall(hole, made)
        ]
        yield from (f"lacks {_said(each)}" for each in sorted(lost))


def _slots(cylinders: list[Cylinder], slots: Sequence[Slot], thickness: float) -> Iterator[str]:
    """Hold the round surfaces in a board's miters against its dowels' holes and biscuits' slots."""
    wanted = {slot.joint: _axis(slot, thickness) for slot in slots if slot.kind != "spline"}
    for cylinder in cylinders:
        ends = cylinder.at(cylinder.start), cylinder.at(cylinder.end)
        if not any(_same_axis((*ends, cylinder.radius), axis) for axis in wanted.values()):
            said = ", ".join(f"{c:.3f}" for c in ends[0])
            yield (
                f"has a round cut of {2 * cylinder.radius:.3f} mm in its miter from {said} mm on,"
                " which is not in the layout"
            )
    for name, axis in wanted.items():
        found = [(each.at(each.start), each.at(each.end), each.radius) for each in cylinders]
        if not any(_same_axis(each, axis) for each in found):
            yield f"lacks the cut for {name} in its miter"


def _axis(slot: Slot, thickness: float) -> tuple[Corner, Corner, float]:
    """Return the ends of the axis of a slot's round surface, lying flat, and its radius, mm."""
    (u, inward), (way_u, way_in), (across_u, across_in) = slot.mouth, slot.way, slot.across
    if slot.kind == "dowel":
        tip = u + way_u * slot.depth, slot.v, thickness - inward - way_in * slot.depth
        return (u, slot.v, thickness - inward), tip, slot.thick / 2
    back, half = slot.depth - CUTTER, slot.thick / 2
    center_u, center_in = u + way_u * back, inward + way_in * back
    low, high = (
        (center_u + side * across_u, slot.v, thickness - center_in - side * across_in)
        for side in (-half, half)
    )
    return low, high, CUTTER


def _same_axis(one: tuple[Corner, Corner, float], other: tuple[Corner, Corner, float]) -> bool:
    (a, b, radius), (c, d, wanted) = one, other
    straight, turned = (_near(a, c) and _near(b, d)), (_near(a, d) and _near(b, c))
    return abs(radius - wanted) <= CLOSE and (straight or turned)


def _has_wall(hole: Hole, made: Board) -> bool:
    """Whether anything is left of a round hole's wall where other holes run into it."""
    others = [other for other in made.holes if other is not hole and not _near_hole(other, hole)]
    low, high = hole.span(made.thickness)
    depths = {low, high, *(z for other in others for z in other.span(made.thickness))}
    levels = sorted(z for z in depths if low <= z <= high)
    radius = (hole.diameter or 0.0) / 2
    for bottom, top in pairwise(levels):
        there = [
            other
            for other in others
            if other.span(made.thickness)[0] <= bottom and top <= other.span(made.thickness)[1]
        ]
        for degree in range(0, 360, 5):
            turn = math.radians(degree)
            u, v = hole.u + radius * math.cos(turn), hole.v + radius * math.sin(turn)
            if not any(
                math.dist((u, v), (other.u, other.v)) < (other.diameter or 0.0) / 2 + CLOSE
                for other in there
            ):
                return True
    return False


def _near_hole(one: Hole, other: Hole) -> bool:
    return math.dist((one.u, one.v), (other.u, other.v)) <= CLOSE and one.diameter == other.diameter


def _round_hole(cylinder: Cylinder) -> Corner:
    """Return where a round hole of a part that lies flat is: u, v, lowest and highest z, width."""
    ends = sorted((cylinder.at(cylinder.start), cylinder.at(cylinder.end)), key=lambda p: p[2])
    (u, v, low), (_, _, high) = ends
    return u, v, low, high, 2 * cylinder.radius


def _said(hole: Corner) -> str:
    u, v, low, high, diameter = hole
    return f"a hole of {diameter:.3f} mm at {u:.3f}, {v:.3f} mm, from {low:.3f} to {high:.3f} mm"


def _near(one: Corner, other: Corner) -> bool:
    return all(abs(a - b) <= 2 * CLOSE for a, b in zip(one, other, strict=True))


def _volume(name: str, product: Product, wanted: float) -> Iterator[str]:
    if product.volume is None:
        return  # a surface of a kind that no part of the collar has
    if not abs(product.volume - wanted) <= VOLUME_CLOSE * wanted + CLOSE:
        yield f"{name}encloses {product.volume:.3f} mm3, not {wanted:.3f} mm3"


def _box(name: str, use: Placed, product: Product, box: Box) -> Iterator[str]:
    """Hold the corners of a placed product's own box against where its part must be."""
    corners = [box.own(use.at(corner)) for corner in _corners(product)]
    axes = list(zip(*corners, strict=True))
    yield from differ(f"{name}: its lowest corner in the collar", tuple(map(min, axes)), box.low)
    yield from differ(f"{name}: its highest corner in the collar", tuple(map(max, axes)), box.high)


def _corners(product: Product) -> list[tuple[float, float, float]]:
    (x0, y0, z0), (x1, y1, z1) = product.low, product.high
    return [(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)]


def _tap(
    tap: Tap, board: Board, placed: dict[str, Placed], products: dict[str, Product]
) -> Iterator[str]:
    """Hold what goes through a bore against its axis, and how far it reaches along it."""
    seat = board.place(tap.u, tap.v, -tap.cover)
    ahead = board.place(tap.u, tap.v, -tap.cover - 1.0)
    for name, span in spans(tap).items():
        if name not in placed:
            continue
        use = placed[name]
        ends = [
            use.at(cylinder.at(along))
            for cylinder in products[use.product].cylinders
            for along in (cylinder.start, cylinder.end)
        ]
        off = max((_off_line(end, seat, ahead) for end in ends), default=math.inf)
        if off > CLOSE:
            yield f"{name}: no axis goes through tap {tap.number}'s bore; it is {off:.3f} mm off"
            continue
        out = [sum((e - s) * (a - s) for e, s, a in zip(end, seat, ahead, strict=True))
               for end in ends]  # fmt: skip
        found = min(out), max(out)
        if any(abs(a - b) > CLOSE for a, b in zip(found, (span.low, span.high), strict=True)):
            yield (
                f"{name}: reaches from {found[0]:.3f} to {found[1]:.3f} mm outward of the"
                f" flange's seat, not from {span.low:.3f} to {span.high:.3f} mm"
            )
    name = f"faucet-{tap.number}"
    if name in placed and tap.shank is not None:
        product, use = products[placed[name].product], placed[name]
        nearest = min(
            sum((c - s) * (a - s) for c, s, a in zip(use.at(corner), seat, ahead, strict=True))
            for corner in _corners(product)
        )
        if nearest < tap.shank.flange_thickness - CLOSE:
            yield f"{name}: reaches {nearest:.3f} mm from the flange's seat, and so into the flange"


def _off_line(point: Corner, start: Corner, end: Corner) -> float:
    """Return the distance of a point from the line through two others, mm."""
    way = [b - a for a, b in zip(start, end, strict=True)]
    to = [p - a for a, p in zip(start, point, strict=True)]
    along = sum(w * t for w, t in zip(way, to, strict=True)) / math.hypot(*way)
    return math.sqrt(max(0.0, sum(t * t for t in to) - along * along))
