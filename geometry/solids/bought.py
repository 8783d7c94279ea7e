"""Bought parts as simple solids: how much room they take, not how they look.

Sizes come from the layout. The few that no catalogue holds are constants here, from memory and
for the eye only: no check reads them. A tap's parts are made in the tap's own view: z outward
along the shank's axis from the flange's seat, x to the right, y up.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import cadquery as cq

from ...params.project import SIDES
from ..shape.envelope import STEM, leaning
from ..shape.frame import Board
from ..shape.lining import Bracket, Manifold
from ..shape.plane import over_corners
from ..shape.six_lengths import CORNERS
from ..shape.taps import Faucet, Handle, Shank, Tap
from . import kernel
from .part import Part

SHANK_BORE = 6.5
"""Way of the drink through the shank, mm (from memory: about a quarter of an inch)."""

TAIL_NUT_OVER_THREAD = 1.2
"""A tail nut's diameter over that of the thread it runs on (from memory)."""

TAILPIECE = 10.0
"""Outer diameter of the straight tailpiece, mm (from memory: takes 3/8 in line)."""

Points = tuple[tuple[float, float], ...]


def turned(profile: Points) -> cq.Solid:
    """Return the solid of revolution of a profile in (radius, z) about the z axis, mm."""
    wire = cq.Wire.makePolygon([cq.Vector(r, 0.0, z) for r, z in profile], close=True)
    return cq.Solid.revolve(wire, [], 360.0, cq.Vector(), cq.Vector(0.0, 0.0, 1.0))


def ring(outer: float, inner: float, low: float, high: float) -> cq.Solid:
    """Return a tube between two heights; ``outer`` and ``inner`` are diameters, mm."""
    axis = cq.Vector(0.0, 0.0, low), cq.Vector(0.0, 0.0, 1.0)
    return cq.Solid.extrudeLinear(
        cq.Wire.makeCircle(outer / 2, *axis),
        [cq.Wire.makeCircle(inner / 2, *axis)],
        cq.Vector(0.0, 0.0, high - low),
    )


def hexagon(across_flats: float, inner: float, low: float, high: float) -> cq.Solid:
    """Return a hexagonal nut between two heights, a flat up; ``inner`` is its hole, mm."""
    radius = over_corners(across_flats) / 2
    angles = [math.radians(60 * k) for k in range(6)]
    points = [cq.Vector(radius * math.cos(a), radius * math.sin(a), low) for a in angles]
    hole = cq.Wire.makeCircle(inner / 2, cq.Vector(0.0, 0.0, low), cq.Vector(0.0, 0.0, 1.0))
    wire = cq.Wire.makePolygon(points, close=True)
    return cq.Solid.extrudeLinear(wire, [hole], cq.Vector(0.0, 0.0, high - low))


def shank_solid(shank: Shank) -> cq.Solid:
    """Return shank, flange and the toothed collar in front of it, bored through."""
    bore, thread = SHANK_BORE / 2, shank.thread_diameter / 2
    face = shank.flange_thickness
    front = face + shank.collar_projection
    return turned(
        (
            (bore, -shank.length),
            (thread, -shank.length),
            (thread, 0.0),
            (shank.flange_diameter / 2, 0.0),
            (shank.flange_diameter / 2, face),
            (thread, face),
            (thread, front),
            (bore, front),
        )
    )


def faucet_solid(faucet: Faucet, shank: Shank) -> cq.Solid:
    """Return a faucet's body in front of the coupling ring, with spout and lever."""
    face = shank.flange_thickness
    behind = face + max(shank.ring_length, shank.collar_projection)
    front = max(face + faucet.body_forward, behind + 1.0)
    slender = STEM * faucet.body_width
    body = kernel.cylinder((0, 0, behind), (0, 0, 1), faucet.body_width, front - behind)
    spout_z = min(max(face + faucet.spout_forward, behind), front)
    lever_z = min(max(face + faucet.lever_axis_forward, behind), front)
    spout = kernel.cylinder((0, 0, spout_z), (0, -1, 0), slender, faucet.spout_below)
    lever = kernel.cylinder((0, 0, lever_z), (0, 1, 0), slender, faucet.lever_top)
    (solid,) = body.fuse(spout, lever).Solids()
    return solid


def handle_solid(faucet: Faucet, handle: Handle, shank: Shank) -> cq.Solid:
    """Return a handle at rest on the faucet's lever: its envelope, less the lever's end in it."""
    forward = shank.flange_thickness + faucet.lever_axis_forward
    section = leaning((forward, faucet.lever_top), handle)
    half = handle.width / 2
    body = kernel.prism([(-half, up, out) for out, up in section], (handle.width, 0.0, 0.0))
    slender = STEM * faucet.body_width
    lever = kernel.cylinder((0, 0, forward), (0, 1, 0), slender, faucet.lever_top)
    (solid,) = body.cut(lever).Solids()
    return solid


@dataclass(slots=True)
class Bought:
    """Bought parts as they are collected; equal ones share one solid and one product name."""

    parts: list[Part] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    _kinds: dict[tuple[object, ...], tuple[str, cq.Shape]] = field(default_factory=dict)
    _counts: dict[str, int] = field(default_factory=dict)

    def add(
        self,
        word: str,
        place: int | str,
        figures: tuple[object, ...],
        make: Callable[[], cq.Shape],
        location: cq.Location,
        group: str = "",
    ) -> None:
        """Add one part, made by ``make`` unless one of the same word and figures is there.

        Args:
            word: what it is; with ``place`` it is the part's name.
            place: number of the tap, name of the corner, or "" for the only one.
            figures: everything that ``make`` depends on, mm.
            make: makes the solid.
            location: where it goes.
            group: the group whose color it has; ``word`` unless given.
        """
        name = f"{word}-{place}" if place else word
        sizes = ", ".join(map(_said, figures))
        if (word, *figures) not in self._kinds:
            with kernel.guarded(name, "making the bought part", sizes):
                shape = make()
            count = self._counts[word] = self._counts.get(word, 0) + 1
            product = word if count == 1 else f"{word}-kind-{count}"
            self._kinds[(word, *figures)] = product, shape
        product, shape = self._kinds[(word, *figures)]
        self.parts.append(
            Part(
                name=name,
                group=group or word,
                product=product,
                made=False,
                flat=shape,
                location=location,
                sizes=sizes,
            )
        )

    def add_ring(
        self,
        word: str,
        place: int | str,
        outer: float,
        inner: float,
        span: tuple[float, float],
        location: cq.Location,
        make: Callable[[float, float, float, float], cq.Solid] = ring,
    ) -> None:
        """Add a nut, ring or washer; left out with a remark where it would have no wall.

        Args:
            word: what it is.
            place: number of the tap.
            outer: diameter, or width across flats, mm.
            inner: diameter of its hole, mm.
            span: from where to where along the axis it goes, mm, in the view it is made in.
            location: where it goes.
            make: ``ring`` or ``hexagon``.
        """
        low, high = span
        if outer <= inner or high <= low:
            self.remarks.append(
                f"{word}-{place} is left out of the model: {outer:g} mm outside,"
                f" {inner:g} mm inside, {high - low:g} mm long"
            )
            return
        # Made at the origin and moved along the axis: taps on other walls share it.
        length = high - low
        self.add(
            word,
            place,
            (outer, inner, length),
            lambda: make(outer, inner, 0.0, length),
            location * cq.Location(cq.Vector(0.0, 0.0, low)),
        )


def _said(figure: object) -> str:
    """Return a figure for a message: a length, or the id of a bought part."""
    return f"{figure:g} mm" if isinstance(figure, float) else str(getattr(figure, "id", figure))


def add_tap(found: Bought, tap: Tap, board: Board) -> None:
    """Add what goes through a bore and what hangs on it; nothing without a shank.

    Args:
        found: takes the parts.
        tap: the tap.
        board: the board that it is in.
    """
    shank = tap.shank
    if shank is None:
        return
    seat = kernel.frame(board, tap.u, tap.v, -tap.cover)
    n, thread, inside = tap.number, shank.thread_diameter, -(tap.wall + tap.washers)
    found.add("shank", n, (shank,), lambda: shank_solid(shank), seat)
    face = shank.flange_thickness
    found.add_ring("ring", n, shank.ring_diameter, thread, (face, face + shank.ring_length), seat)
    if tap.washers > 0 and tap.washer_diameter is not None:
        found.add_ring("washer", n, tap.washer_diameter, thread, (inside, -tap.wall), seat)
    nut = (inside - shank.nut_thickness, inside)
    found.add_ring("nut", n, shank.nut_across_flats, thread, nut, seat, hexagon)
    end = -shank.length
    tail = (end, end + shank.tail_nut_length)
    found.add_ring("tail-nut", n, TAIL_NUT_OVER_THREAD * thread, thread, tail, seat)
    piece = (end - shank.tailpiece_length, end)
    found.add_ring("tailpiece", n, TAILPIECE, SHANK_BORE, piece, seat)
    faucet, handle = tap.faucet, tap.handle
    if faucet is not None:
        found.add("faucet", n, (faucet, shank), lambda: faucet_solid(faucet, shank), seat)
    if faucet is not None and handle is not None:
        figures = (faucet, handle, shank)
        found.add("handle", n, figures, lambda: handle_solid(faucet, handle, shank), seat)


def add_manifold(found: Bought, manifold: Manifold, board: Board) -> None:
    """Add the manifold as a box on the board's inner face."""
    half, tall = manifold.length / 2, manifold.height / 2
    found.add(
        "manifold",
        "",
        (manifold.length, manifold.height, manifold.depth),
        lambda: kernel.box((-half, -tall, -manifold.depth), (half, tall, 0.0)),
        kernel.frame(board, manifold.u, manifold.v, board.thickness),
    )


def add_bracket(found: Bought, leg: Bracket, board: Board, corner_half_rad: float) -> None:
    """Add a corner bracket: both legs as one angle, from the leg at a board's left end.

    Args:
        found: takes the part.
        leg: the leg at the board's left end; the other one is its mirror image.
        board: the board to the right of the corner, seen from outside.
        corner_half_rad: half of the corner's interior angle, radians.
    """
    turn = 2 * corner_half_rad
    inset = leg.thickness / math.tan(corner_half_rad)
    if inset >= leg.leg:
        found.remarks.append(
            f"the bracket at the corner left of {board.side} is left out of the model:"
            f" {leg.thickness:g} mm thick, legs of {leg.leg:g} mm"
        )
        return
    # In plan, x along the board from the corner and inward as -z: first this board's leg, then
    # the same backward along the other board, whose face turns inward by the corner's angle.
    along_other = math.cos(turn), -math.sin(turn)
    inward_other = math.sin(turn), math.cos(turn)
    ends = [leg.leg * c for c in along_other]
    plan = (
        (0.0, 0.0),
        (leg.leg, 0.0),
        (leg.leg, -leg.thickness),
        (inset, -leg.thickness),
        (ends[0] + leg.thickness * inward_other[0], ends[1] + leg.thickness * inward_other[1]),
        (ends[0], ends[1]),
    )
    bottom = -leg.width / 2
    corners = [(x, bottom, z) for x, z in plan]
    found.add(
        "bracket",
        CORNERS[SIDES.index(board.side)],
        (leg.leg, leg.width, leg.thickness, round(turn, 12)),
        lambda: kernel.prism(corners, (0.0, leg.width, 0.0)),
        kernel.frame(board, board.inner_left, leg.v, board.thickness),
    )
