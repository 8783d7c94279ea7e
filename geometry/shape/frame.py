"""The collar in plan: its outer corners, and a board along each side.

Side i of (front, right, back, left) runs from corner i to corner i + 1, so a board seen from
outside has corner i at its left. The miter goes through the board's thickness at half the
corner's angle.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from ...params.project import SIDES, Project, Side
from .built import DryFrame, dry_frame
from .contour import outlines
from .hole import Hole
from .lip import Lip
from .plane import Point, along, distance, interior_deg, left_of, moved_out
from .six_lengths import CORNERS, Figure
from .slot import Slot


@dataclass(frozen=True, slots=True)
class Corner:
    """An outer corner of the collar in plan, mm and degrees."""

    name: str
    x: float
    y: float
    interior_deg: float
    miter_deg: float

    @property
    def half_rad(self) -> float:
        """Half of the interior angle, radians."""
        return math.radians(self.interior_deg) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One side of the collar, or of the cover on it (``kind``), mm and degrees.

    ``outer`` and ``inner`` are the ends of its faces in plan, left then right as seen from
    outside; ``inner_left`` and ``inner_right`` tell how far the inner face ends short of the
    long points. ``over_left`` and ``over_right`` are how far the outer face stands outside
    the lip's corner at that end, square to the face (``o`` of the checks). ``bottom`` is the
    height of its bottom edge over what the collar stands on. ``slots`` is what the joints at its
    ends take out of the miters. ``scale_left_deg`` and ``scale_right_deg`` are what the saw's
    scale has to say for its miters, None where no test ring told how far it is off there;
    ``prove_left`` and ``prove_right`` are whether there is a ring, but too far from that tilt.
    """

    side: Side
    long_point: float
    short_point: float
    width: float
    thickness: float
    miter_left_deg: float
    miter_right_deg: float
    inner_left: float
    inner_right: float
    outer: tuple[Point, Point]
    inner: tuple[Point, Point]
    over_left: float
    over_right: float
    holes: tuple[Hole, ...] = ()
    kind: Literal["board", "cover"] = "board"
    bottom: float = 0.0
    slots: tuple[Slot, ...] = ()
    scale_left_deg: float | None = None
    scale_right_deg: float | None = None
    prove_left: bool = False
    prove_right: bool = False

    @property
    def name(self) -> str:
        """The part's name: ``board-front``, ``cover-front``."""
        return f"{self.kind}-{self.side}"

    @property
    def top(self) -> float:
        """Height of its top edge over what the collar stands on, mm."""
        return self.bottom + self.width

    @property
    def plan(self) -> Figure:
        """The board's outline seen from above, counterclockwise."""
        return self.outer[0], self.outer[1], self.inner[1], self.inner[0]

    @property
    def volume(self) -> float:
        """Volume after boring, mm3: w t (long + short)/2 less what holes and slots take out.

        Holds because every hole of a board stays between its short points and clear of the
        slots in its miters. Holes may overlap: between two depths at which one begins or ends
        the cut is the same all through, so each such slice takes out the area of the holes'
        union times its height.
        """
        left = self.width * self.thickness * (self.long_point + self.short_point) / 2
        left -= sum(slot.volume for slot in self.slots)
        spans = [(*hole.span(self.thickness), hole) for hole in self.holes]
        depths = sorted({z for low, high, _ in spans for z in (low, high)})
        for low, high in pairwise(depths):
            there = [hole for a, b, hole in spans if a <= low and high <= b]
            uncut = outlines(self.long_point, self.width, there).area
            left -= (high - low) * (self.long_point * self.width - uncut)
        return left

    def place(self, u: float, v: float, inward: float = 0.0) -> tuple[float, float, float]:
        """Return the point in space at (u, v) on the outer face, ``inward`` behind it, mm."""
        ux, uy = along(*self.outer)
        x0, y0 = self.outer[0]
        return x0 + ux * u - uy * inward, y0 + uy * u + ux * inward, self.bottom + v


@dataclass(frozen=True, slots=True)
class Frame:
    """The collar as a whole: outer corners, and size where it is a rectangle (mm).

    ``dry`` is there where the collar is the one that was really cut and dry-fitted; ``moved``
    are then how far the faces of front, right, back and left stand outside the drawn ones.
    """

    corners: tuple[Corner, Corner, Corner, Corner]
    width: float | None
    depth: float | None
    height: float
    dry: DryFrame | None = None
    moved: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)

    def left_of(self, side: Side) -> Corner:
        """Return the corner at the left end of a side, seen from outside."""
        return self.corners[SIDES.index(side)]

    def right_of(self, side: Side) -> Corner:
        """Return the corner at the right end of a side, seen from outside."""
        return self.corners[(SIDES.index(side) + 1) % 4]


def overhangs(project: Project) -> tuple[float, float, float, float]:
    """Return the wanted overhang of front, right, back and left, mm (0 where not given)."""
    front, right, back, left = (project.board.overhang.on(side) or 0.0 for side in SIDES)
    return front, right, back, left


def outline(project: Project, lip: Lip) -> Figure:
    """Return the collar's outer corners in plan.

    ``follow = "lip"``: the lip's own sides moved outward. ``"square"``: a rectangle of the
    mean sides, centered on the mean of the lip's corners, its front parallel to the line from
    the middle of the lip's left side to the middle of its right side, then moved outward.
    """
    over = overhangs(project)
    base = lip.corners
    if project.board.follow == "square":
        base = _rectangle_over(lip)
    return moved_out(base, over)  # type: ignore[return-value]


def _rectangle_over(lip: Lip) -> Figure:
    c = lip.corners
    left_middle = (c[0][0] + c[3][0]) / 2, (c[0][1] + c[3][1]) / 2
    right_middle = (c[1][0] + c[2][0]) / 2, (c[1][1] + c[2][1]) / 2
    ux, uy = along(left_middle, right_middle)
    cx, cy = sum(p[0] for p in c) / 4, sum(p[1] for p in c) / 4
    w, d = lip.width / 2, lip.depth / 2
    front_left, front_right, back_right, back_left = (
        (cx + ux * a - uy * b, cy + uy * a + ux * b)
        for a, b in ((-w, -d), (w, -d), (w, d), (-w, d))
    )
    return front_left, front_right, back_right, back_left


def build(
    project: Project, lip: Lip, thickness: float, width: float
) -> tuple[Frame, tuple[Board, ...]]:
    """Lay out the four boards, without their holes.

    Args:
        project: for the overhangs and what the collar follows.
        lip: the fitted lip.
        thickness: of the boards, mm.
        width: of the boards and so the height of the collar, mm.

    Returns:
        The frame, and the boards in the order front, right, back, left.
    """
    outer = drawn = outline(project, lip)
    sawn = angles = [interior_deg(drawn, i) for i in range(4)]
    dry = None
    if project.as_built and project.built is not None:
        dry = dry_frame(project.built, drawn, project.show)
        outer, angles = dry.figure, list(dry.angles_deg)
    corners = tuple(
        Corner(name, *point, angle, 90 - cut / 2)
        for name, point, angle, cut in zip(CORNERS, outer, angles, sawn, strict=True)
    )
    inner = moved_out(outer, (-thickness,) * 4)
    boards: list[Board] = []
    for i, side in enumerate(SIDES):
        j = (i + 1) % 4
        long_point = distance(outer[i], outer[j])
        inner_left = thickness / math.tan(math.radians(sawn[i]) / 2)
        inner_right = thickness / math.tan(math.radians(sawn[j]) / 2)
        direction = along(outer[i], outer[j])
        within = inner[i], inner[j]
        if dry is not None:  # a miter that stands open: each board ends where it was sawn
            within = _inner_face(outer[i], outer[j], thickness, inner_left, inner_right)
        boards.append(
            Board(
                side=side,
                long_point=long_point,
                short_point=long_point - inner_left - inner_right,
                width=width,
                thickness=thickness,
                miter_left_deg=corners[i].miter_deg,
                miter_right_deg=corners[j].miter_deg,
                inner_left=inner_left,
                inner_right=inner_right,
                outer=(outer[i], outer[j]),
                inner=within,
                over_left=left_of(outer[i], direction, lip.corners[i]),
                over_right=left_of(outer[i], direction, lip.corners[j]),
            )
        )
    square = project.board.follow == "square"
    frame = Frame(
        corners=corners,  # type: ignore[arg-type]
        width=boards[0].long_point if square and dry is None else None,
        depth=boards[1].long_point if square and dry is None else None,
        height=width,
        dry=dry,
        moved=(0.0, 0.0, 0.0, 0.0) if dry is None else _moved(boards, drawn, lip),
    )
    return frame, tuple(boards)


def _inner_face(
    start: Point, end: Point, thickness: float, left: float, right: float
) -> tuple[Point, Point]:
    """Return the ends of a board's inner face, ``left`` and ``right`` short of its long points."""
    ux, uy = along(start, end)
    (x0, y0), (x1, y1) = start, end
    return (
        (x0 + ux * left - uy * thickness, y0 + uy * left + ux * thickness),
        (x1 - ux * right - uy * thickness, y1 - uy * right + ux * thickness),
    )


def _moved(boards: list[Board], drawn: Figure, lip: Lip) -> tuple[float, float, float, float]:
    """Return how far the boards' faces stand outside the drawn ones, at their sides' middles."""
    found: list[float] = []
    for i, board in enumerate(boards):
        j = (i + 1) % 4
        direction = along(drawn[i], drawn[j])
        was = [left_of(drawn[i], direction, lip.corners[corner]) for corner in (i, j)]
        found.append((board.over_left + board.over_right - sum(was)) / 2)
    front, right, back, left = found
    return front, right, back, left
