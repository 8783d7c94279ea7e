"""Bodies that are not made or bought here, but stand about the collar: lid, leaves, lip, well.

They are there to look at and to measure from in the model; no check reads them. Each is worked
out only where the build file gives enough for it. Z = 0 is what the collar stands on, mm; the
lip's plane is ``lip_z``, below it by the squeezed height of a seal.
"""

from dataclasses import dataclass

from ...params.project import SIDES, Project
from .frame import Board
from .lip import Lip
from .plane import along, moved_out
from .six_lengths import Figure
from .well import Well, place

LIP_DEPTH = 20.0
"""How deep below its plane the lip is drawn, mm (for the eye only, no source)."""

WELL_WALL = 2.0
"""Thickness of the well's drawn wall, outside the inner sizes, mm (for the eye only, no source)."""

Point3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box from its lowest to its highest corner, mm."""

    low: Point3
    high: Point3

    @property
    def there(self) -> bool:
        """Whether it has any volume."""
        return all(a < b for a, b in zip(self.low, self.high, strict=True))

    @property
    def volume(self) -> float:
        """Its volume, mm3."""
        length, width, height = (b - a for a, b in zip(self.low, self.high, strict=True))
        return length * width * height


@dataclass(frozen=True, slots=True)
class LidBody:
    """The closed lid as boxes that touch and do not overlap: slab first, then skirt and plug."""

    boxes: tuple[Box, ...]

    @property
    def volume(self) -> float:
        """Volume of all of it, mm3."""
        return sum(box.volume for box in self.boxes)

    @property
    def extent(self) -> Box:
        """The box round all of it."""
        lows, highs = zip(*((box.low, box.high) for box in self.boxes), strict=True)
        return Box(
            tuple(min(values) for values in zip(*lows, strict=True)),  # type: ignore[arg-type]
            tuple(max(values) for values in zip(*highs, strict=True)),  # type: ignore[arg-type]
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """A hinge leaf on the back board's outer face: ``u`` is its middle, it hangs from ``top``.

    ``u`` from the board's left long point as seen from outside, ``top`` from its bottom edge.
    ``out`` is how far the face that it lies on stands outside the board's: a cover's thickness.
    """

    number: int
    u: float
    top: float
    width: float
    height: float
    thickness: float
    out: float = 0.0


@dataclass(frozen=True, slots=True)
class LipRing:
    """The lip's land in plan, as if its corners were not rounded; from ``top`` down, mm."""

    outer: Figure
    inner: Figure
    depth: float
    top: float


@dataclass(frozen=True, slots=True)
class WellShell:
    """The well: its inside with the floor's length and width, and a wall round and under it."""

    inside: Box
    wall: float

    @property
    def outside(self) -> Box:
        """Walls and floor from outside; open at the top."""
        (x0, y0, z0), (x1, y1, z1) = self.inside.low, self.inside.high
        wall = self.wall
        return Box((x0 - wall, y0 - wall, z0 - wall), (x1 + wall, y1 + wall, z1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """What stands about the collar; None or empty where the build file does not give enough."""

    lid: LidBody | None
    leaves: tuple[Leaf, ...]
    lip: LipRing | None
    well: WellShell | None


def reference(
    project: Project, lip: Lip, back: Board, sealing_z: float, lip_z: float, leaf_out: float = 0.0
) -> Reference:
    """Place every reference body; the leaves hang on the ``back`` board from its top edge.

    ``leaf_out`` is the thickness of a cover between board and leaves, mm.
    """
    return Reference(
        lid=_lid(project, lip, sealing_z),
        leaves=_leaves(project, back, leaf_out),
        lip=_ring(project, lip, lip_z),
        well=_well(place(project, lip, lip_z)),
    )


def _lid(project: Project, lip: Lip, height: float) -> LidBody | None:
    """Return the lid in its closed place over the lip.

    Front and back skirt run the whole width, the sides between them. A side whose skirt or
    its thickness was not measured has none; the plug is drawn inside the skirt.
    """
    lid = project.lid
    if lid is None or lid.overhang is None or lid.thickness is None:
        return None
    overs = [lid.overhang.on(side) for side in SIDES]
    front, right, back, left = (over if over is not None else 0.0 for over in overs)
    top = height + lid.thickness
    slab = Box((-left, -front, height), (lip.width + right, lip.depth + back, top))
    if None in overs or not slab.there:
        return None
    (x0, y0, _), (x1, y1, _) = slab.low, slab.high
    drops = [(lid.skirt.on(side) if lid.skirt else None) or 0.0 for side in SIDES]
    walls = [(lid.skirt_thickness.on(side) if lid.skirt_thickness else None) or 0.0
             for side in SIDES]  # fmt: skip
    walls = [wall if drop > 0 else 0.0 for wall, drop in zip(walls, drops, strict=True)]
    if walls[0] + walls[2] >= y1 - y0 or walls[1] + walls[3] >= x1 - x0:
        walls = [0.0] * 4
    x2, x3 = x0 + walls[3], x1 - walls[1]
    y2, y3 = y0 + walls[0], y1 - walls[2]
    boxes = [
        slab,
        Box((x0, y0, height - drops[0]), (x1, y2, height)),
        Box((x3, y2, height - drops[1]), (x1, y3, height)),
        Box((x0, y3, height - drops[2]), (x1, y1, height)),
        Box((x0, y2, height - drops[3]), (x2, y3, height)),
    ]
    insets = [lid.plug_inset.on(side) if lid.plug_inset else None for side in SIDES]
    if lid.plug and None not in insets:
        pf, pr, pb, pl = (
            max(inset or 0.0, wall) for inset, wall in zip(insets, walls, strict=True)
        )
        boxes.append(Box((x0 + pl, y0 + pf, height - lid.plug), (x1 - pr, y1 - pb, height)))
    return LidBody(tuple(box for box in boxes if box.there))


def _leaves(project: Project, back: Board, out: float) -> tuple[Leaf, ...]:
    hinge = project.hinge
    if hinge is None or not (
        hinge.positions and hinge.leaf_width and hinge.leaf_height and hinge.leaf_thickness
    ):
        return ()
    return tuple(
        Leaf(
            number=n,
            u=back.long_point / 2 + position,
            top=back.width,
            width=hinge.leaf_width,
            height=hinge.leaf_height,
            thickness=hinge.leaf_thickness,
            out=out,
        )
        for n, position in enumerate(hinge.positions, 1)
    )


def _ring(project: Project, lip: Lip, lip_z: float) -> LipRing | None:
    land, starts = project.lip.land, project.lip.land_starts
    if not land:
        return None
    outer = moved_out(lip.corners, (-starts,) * 4)
    inner = moved_out(outer, (-land,) * 4)
    for i in range(4):
        was = along(lip.corners[i], lip.corners[(i + 1) % 4])
        (ax, ay), (bx, by) = inner[i], inner[(i + 1) % 4]
        # A side that runs backward: the lands of opposite sides would meet.
        if (bx - ax) * was[0] + (by - ay) * was[1] <= 0:
            return None
    return LipRing(outer, inner, LIP_DEPTH, lip_z)  # type: ignore[arg-type]


def _well(well: Well | None) -> WellShell | None:
    """Return the well as it is drawn: with the floor's length and width all the way up."""
    if well is None:
        return None
    floor = well.floor
    low, high = (floor.x0, floor.y0, well.bottom), (floor.x1, floor.y1, well.top)
    return WellShell(Box(low, high), WELL_WALL)
