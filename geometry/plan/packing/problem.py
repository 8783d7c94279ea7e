"""What is asked: the well, what hangs into it, and the vessels. Plain values, all lengths in mm.

Plan coordinates and heights are the caller's: any x to the right, y to the back, z up, as long as
all parts of one problem share them.
"""

from dataclasses import dataclass
from typing import Literal

Side = Literal["front", "right", "back", "left"]


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle in plan, its sides along x and y, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    def away(self, x: float, y: float) -> tuple[float, float]:
        """Return the step from the nearest point of the rectangle to a point; zero inside."""
        dx = self.x0 - x if x < self.x0 else max(x - self.x1, 0.0)
        dy = self.y0 - y if y < self.y0 else max(y - self.y1, 0.0)
        return (-dx if x < self.x0 else dx, -dy if y < self.y0 else dy)

    def holds(self, other: "Rect") -> bool:
        """Say whether the other rectangle lies in this one, borders included."""
        return (
            self.x0 <= other.x0
            and self.y0 <= other.y0
            and self.x1 >= other.x1
            and self.y1 >= other.y1
        )


@dataclass(frozen=True, slots=True)
class Box:
    """Something to stay clear of: a rectangle in plan from one height to another, mm.

    ``reach`` rounds it out: what lies within that distance of the rectangle belongs to it. A
    rectangle without a size and with a reach is a round thing.
    """

    name: str
    rect: Rect
    bottom: float
    top: float
    reach: float = 0.0


@dataclass(frozen=True, slots=True, order=True)
class Disc:
    """One slice of a vessel, heights above the vessel's foot, mm."""

    bottom: float
    top: float
    radius: float


@dataclass(frozen=True, slots=True)
class Vessel:
    """A stack of discs on one upright axis: body, shoulder, fitting with its side reach.

    Vessels with the same discs can stand in for each other; names only tell them apart.
    """

    name: str
    discs: tuple[Disc, ...]

    def __post_init__(self) -> None:
        """Refuse a vessel that has no body.

        Raises:
            ValueError: No disc, a disc without height or radius, or none that stands on z = 0.
        """
        if not self.discs or any(d.top <= d.bottom or d.radius <= 0 for d in self.discs):
            raise ValueError(f"{self.name}: every disc needs a radius and a height")
        if min(d.bottom for d in self.discs) != 0:
            raise ValueError(f"{self.name}: the lowest disc starts at 0, the foot")

    @property
    def foot(self) -> float:
        """Radius of what stands on the floor, mm."""
        return max(d.radius for d in self.discs if d.bottom == 0)

    @property
    def height(self) -> float:
        """From the foot to the top of the highest disc, mm."""
        return max(d.top for d in self.discs)

    @property
    def radius(self) -> float:
        """The greatest radius, mm."""
        return max(d.radius for d in self.discs)

    @property
    def kind(self) -> tuple[Disc, ...]:
        """What makes two vessels the same: their discs in a fixed order."""
        return tuple(sorted(self.discs))


def in_order(vessels: tuple[Vessel, ...]) -> list[Vessel]:
    """Return the vessels widest first, then tallest; the file's order plays no part."""
    return sorted(vessels, key=lambda v: (-v.radius, -v.height, v.kind, v.name))


@dataclass(frozen=True, slots=True)
class Step:
    """The raised floor along one whole wall: ``length`` out from that wall, ``height`` high."""

    side: Side
    length: float
    height: float


@dataclass(frozen=True, slots=True)
class Well:
    """The inside of the freezer: four flat walls between the floor and the mouth.

    ``corner_radius`` is that of the upright corners at every height.
    """

    floor: Rect
    mouth: Rect
    bottom: float
    top: float
    corner_radius: float = 0.0
    step: Step | None = None

    def at(self, z: float) -> Rect:
        """Return the rectangle between the walls at a height; below and above as at the ends."""
        part = min(max((z - self.bottom) / (self.top - self.bottom), 0.0), 1.0)
        f, m = self.floor, self.mouth
        return Rect(
            f.x0 + part * (m.x0 - f.x0),
            f.y0 + part * (m.y0 - f.y0),
            f.x1 + part * (m.x1 - f.x1),
            f.y1 + part * (m.y1 - f.y1),
        )

    @property
    def step_top(self) -> float:
        """Height of the step's top; the floor's where there is no step."""
        return self.bottom + (self.step.height if self.step else 0.0)

    @property
    def step_rect(self) -> Rect | None:
        """The step in plan, at the floor."""
        if self.step is None:
            return None
        f, length = self.floor, self.step.length
        return {
            "left": Rect(f.x0, f.y0, f.x0 + length, f.y1),
            "right": Rect(f.x1 - length, f.y0, f.x1, f.y1),
            "front": Rect(f.x0, f.y0, f.x1, f.y0 + length),
            "back": Rect(f.x0, f.y1 - length, f.x1, f.y1),
        }[self.step.side]


@dataclass(frozen=True, slots=True)
class Opening:
    """A way through above the well: ``rect`` is free from ``bottom`` to ``top``.

    The collar between its boards, or between its foam panels over the panels' height; several
    may share heights, and each of them holds.
    """

    rect: Rect
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class HeadRoom:
    """The closed lid's underside at ``lid``; lower, at ``plug_bottom``, within ``plug``."""

    lid: float
    plug: Rect | None = None
    plug_bottom: float = 0.0


@dataclass(frozen=True, slots=True)
class Problem:
    """All vessels in one well.

    ``gap`` is the least gap that is asked for between any two vessels and between each vessel
    and every wall and obstacle, measured level. Things that pass over each other within that gap
    count as being at the same height. ``above`` is the least room over each vessel.
    """

    well: Well
    vessels: tuple[Vessel, ...]
    openings: tuple[Opening, ...] = ()
    obstacles: tuple[Box, ...] = ()
    head_room: HeadRoom | None = None
    gap: float = 5.0
    above: float = 5.0

    def __post_init__(self) -> None:
        """Refuse two vessels of one name, since places are told by name.

        Raises:
            ValueError: Two vessels have the same name.
        """
        if len({v.name for v in self.vessels}) < len(self.vessels):
            raise ValueError("every vessel needs a name of its own")

    def meet(self, a: tuple[float, float], b: tuple[float, float]) -> bool:
        """Say whether two ranges of height overlap or come nearer than the gap."""
        return a[0] < b[1] + self.gap and b[0] < a[1] + self.gap
