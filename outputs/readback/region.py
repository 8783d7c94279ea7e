"""What should be left of a rectangle with holes, held against lines that were drawn of it.

Nothing is joined or worked out as a contour here: points are taken along every edge, and it is
asked of each drawn point whether the boundary of what is left runs there, and of each point of
that boundary whether something is drawn there.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

Point = tuple[float, float]

OFF = 0.001
"""How far a drawn line may be from where it should be, mm."""

CLEAR = 0.01
"""A point that is nearer to another edge is left to that one, mm."""

EQUAL = 1e-6
"""Places and sizes that differ by less are equal, mm."""

SAMPLES = 48
"""Points taken along each edge and each circle."""


@dataclass(frozen=True, slots=True)
class Edge:
    """A straight line or an arc (``bulge``) between two points."""

    start: Point
    end: Point
    bulge: float = 0.0

    @property
    def arc(self) -> tuple[Point, float, float, float]:
        """Center, radius, first angle and angle turned (radians, + counterclockwise) of an arc."""
        (x1, y1), (x2, y2) = self.start, self.end
        turned = 4 * math.atan(self.bulge)
        chord = math.hypot(x2 - x1, y2 - y1) or 1e-12  # a spoilt file may hold an arc of no length
        radius = chord / (2 * math.sin(abs(turned) / 2))
        # From the middle of the chord to the center: radius times the cosine of half the angle,
        # to the left of the way where the arc turns left by less than half a circle.
        off = radius * math.cos(turned / 2) * math.copysign(1, turned) / chord
        cx = (x1 + x2) / 2 - (y2 - y1) * off
        cy = (y1 + y2) / 2 + (x2 - x1) * off
        return (cx, cy), radius, math.atan2(y1 - cy, x1 - cx), turned

    @property
    def length(self) -> float:
        """Length along the edge, mm."""
        if self.bulge:
            _, radius, _, turned = self.arc
            return radius * abs(turned)
        return math.dist(self.start, self.end)

    def points(self, count: int) -> Iterator[Point]:
        """Yield points along the edge, the ends among them."""
        shares = [i / (count - 1) for i in range(count)]
        if self.bulge:
            (cx, cy), radius, first, turned = self.arc
            for share in shares:
                angle = first + turned * share
                yield cx + radius * math.cos(angle), cy + radius * math.sin(angle)
            return
        (x1, y1), (x2, y2) = self.start, self.end
        for share in shares:
            yield x1 + (x2 - x1) * share, y1 + (y2 - y1) * share

    def distance(self, x: float, y: float) -> float:
        """Return how far a point is from the edge."""
        (x1, y1), (x2, y2) = self.start, self.end
        if self.bulge:
            (cx, cy), radius, first, turned = self.arc
            way = math.atan2(y - cy, x - cx) - first
            way = way % (2 * math.pi) if turned > 0 else -way % (2 * math.pi)
            if way <= abs(turned):
                return abs(math.hypot(x - cx, y - cy) - radius)
            return min(math.hypot(x - x1, y - y1), math.hypot(x - x2, y - y2))
        square = (x2 - x1) ** 2 + (y2 - y1) ** 2
        share = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / square if square else 0.0
        share = min(max(share, 0.0), 1.0)
        return math.hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1))


@dataclass(frozen=True, slots=True)
class Cut:
    """A hole as it should be: round (``diameter``) or a rectangle, about (x, y), mm."""

    name: str
    purpose: str
    x: float
    y: float
    diameter: float | None
    length: float = 0.0
    height: float = 0.0

    def beyond(self, x: float, y: float) -> float:
        """Return the distance of a point from the hole's edge, negative inside."""
        if self.diameter is not None:
            return math.hypot(x - self.x, y - self.y) - self.diameter / 2
        dx, dy = abs(x - self.x) - self.length / 2, abs(y - self.y) - self.height / 2
        return math.hypot(max(dx, 0.0), max(dy, 0.0)) + min(max(dx, dy), 0.0)

    def edges(self) -> tuple[Edge, ...]:
        """Return the hole's edge; a circle as two halves."""
        if self.diameter is not None:
            left, right = (self.x - self.diameter / 2, self.y), (self.x + self.diameter / 2, self.y)
            return Edge(left, right, 1.0), Edge(right, left, 1.0)
        x0, x1 = self.x - self.length / 2, self.x + self.length / 2
        y0, y1 = self.y - self.height / 2, self.y + self.height / 2
        return box_edges(x0, y0, x1, y1)

    def around(self, other: "Cut") -> float:
        """Return how deep another hole lies inside this round one, negative where it sticks out."""
        radius = (self.diameter or 0.0) / 2
        if other.diameter is not None:
            apart = math.hypot(self.x - other.x, self.y - other.y)
            return radius - apart - other.diameter / 2
        return -max(self.beyond(*edge.start) for edge in other.edges())

    def same(self, other: "Cut", off: float = OFF) -> bool:
        """Whether two holes have one place and size, within ``off``."""
        sizes = (
            (each.x, each.y, each.diameter or 0.0, each.length, each.height)
            for each in (self, other)
        )
        return all(abs(a - b) <= off for a, b in zip(*sizes, strict=True))

    def gap(self, other: "Cut") -> float:
        """Return the least distance of another hole's edge from this hole, negative inside."""
        if self.diameter is not None and other.diameter is not None:
            apart = math.hypot(self.x - other.x, self.y - other.y)
            return apart - (self.diameter + other.diameter) / 2
        if self.diameter is None and other.diameter is not None:
            return self.beyond(other.x, other.y) - other.diameter / 2
        if self.diameter is not None:
            return other.gap(self)
        dx = abs(self.x - other.x) - (self.length + other.length) / 2
        dy = abs(self.y - other.y) - (self.height + other.height) / 2
        return max(dx, dy)


def box_edges(x0: float, y0: float, x1: float, y1: float) -> tuple[Edge, ...]:
    """Return the four sides of a rectangle."""
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return tuple(Edge(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))


@dataclass(frozen=True, slots=True)
class Region:
    """A rectangle from (0, 0) less its holes."""

    length: float
    width: float
    cuts: tuple[Cut, ...]

    @property
    def plate(self) -> Cut:
        """The rectangle itself."""
        x, y = self.length / 2, self.width / 2
        return Cut("", "", x, y, None, self.length, self.width)

    def lone(self) -> tuple[list[Cut], list[Cut]]:
        """Return round holes that touch nothing, and those that may or may not touch.

        A hole that lies in another one is neither; what lies in a hole does not touch it. Of
        equal holes one is drawn, whichever it is.
        """
        surely: list[Cut] = []
        perhaps: list[Cut] = []
        for i, cut in enumerate(self.cuts):
            if cut.diameter is None:
                continue
            room = -self.plate.beyond(cut.x, cut.y) - cut.diameter / 2
            for j, other in enumerate(self.cuts):
                if i == j or (i < j and cut.same(other, EQUAL)):
                    continue
                # How far apart the two are, or how deep the other one lies in this.
                room = min(room, max(cut.gap(other), cut.around(other)))
            if room > OFF:
                surely.append(cut)
            elif room > -OFF:
                perhaps.append(cut)
        return surely, perhaps

    def bounds(self, x: float, y: float, off: float = OFF) -> bool:
        """Whether the boundary of what is left runs through a point, within ``off``."""
        sides = (self.plate, *self.cuts)
        return (
            min(abs(side.beyond(x, y)) for side in sides) <= off
            and self.plate.beyond(x, y) <= off
            and all(cut.beyond(x, y) >= -off for cut in self.cuts)
        )

    def boundary(self, apart: float = math.inf) -> Iterator[tuple[Cut, Point]]:
        """Yield points of the boundary of what is left, each with the hole or plate it is of.

        ``SAMPLES`` along each edge, and no two next to each other farther ``apart``, mm.
        """
        plate = self.plate
        for side in (plate, *self.cuts):
            # Only these come near enough to take a part of this edge.
            near = [cut for cut in self.cuts if cut is not side and side.gap(cut) <= CLEAR]
            for edge in side.edges():
                for x, y in edge.points(max(SAMPLES, math.ceil(edge.length / apart) + 1)):
                    if (side is plate or plate.beyond(x, y) < -CLEAR) and all(
                        cut.beyond(x, y) > CLEAR for cut in near
                    ):
                        yield side, (x, y)

    def strays(self, drawn: Iterable[Edge]) -> list[Point]:
        """Return drawn points where no boundary of what is left runs."""
        return [(x, y) for edge in drawn for x, y in edge.points(9) if not self.bounds(x, y)]

    def missing(self, drawn: Sequence[Edge]) -> list[Point]:
        """Return points of the boundary of what is left at which nothing is drawn."""
        return [
            (x, y)
            for _, (x, y) in self.boundary()
            if min((each.distance(x, y) for each in drawn), default=math.inf) > OFF
        ]

    def followed(self, edges: Iterable[Edge]) -> set[str]:
        """Return the purposes of the holes whose edges some lines follow."""
        middles = [list(edge.points(5))[1:-1] for edge in edges]
        return {
            cut.purpose
            for cut in self.cuts
            for points in middles
            if all(abs(cut.beyond(x, y)) <= OFF for x, y in points)
        }
