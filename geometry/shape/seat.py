"""What the collar stands on and what the lid closes on: the seal below, the cap strip above.

The collar stands on Z = 0, the top of the squeezed seal: the lip's plane lies that much below.
Without ``seat.seal`` nothing is known of a seal and the collar stands on the lip itself.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, Project, Side
from ...params.units import both_text
from .frame import Board, Frame
from .plane import Point, distance, moved_out
from .six_lengths import Figure


@dataclass(frozen=True, slots=True)
class CapStrip:
    """A strip on the boards' top edges; ``inset`` from the outer face to its outer edge, mm."""

    steel: bool
    thickness: float
    width: float
    inset: float


def squeezed(project: Project) -> float:
    """Return the height of the seal under the collar's weight, mm; 0 where none is named.

    Free height less its working compression, both of the ``seals`` catalogue.
    """
    row = project.part("seals", project.seat.seal if project.seat else None)
    if row is None:
        return 0.0
    return row.value("free_height") * (1 - row.value("working_compression") / 100)


def standing(project: Project, board: Board) -> float:
    """Return how much of a board's thickness stands on the lip, at the end where it is less, mm.

    On the hard land where that was read, else anywhere inside the lip's outer edge. Negative: so
    far beside it.
    """
    start, end = 0.0, math.inf
    if project.lip.land is not None:
        start = project.lip.land_starts
        end = start + project.lip.land
    return min(
        min(board.thickness - over, end) - max(-over, start)
        for over in (board.over_left, board.over_right)
    )


LEAST_HELD = 3.0
"""Less room than that for what holds the collar is none, mm: half of a 6 mm bead (common practice,
no source)."""


def held_width(project: Project, boards: Sequence[Board]) -> float:
    """Return how wide what holds the collar on the lip lies under the boards, mm.

    ``seat.hold_width``, as far as that finds room beside the seal on what stands on the lip; 0
    where it finds less than ``LEAST_HELD``, or without ``[seat]``.
    """
    seat = project.seat
    if seat is None:
        return 0.0
    row = project.part("seals", seat.seal)
    room = min(standing(project, board) for board in boards) - (row.value("width") if row else 0.0)
    return min(seat.hold_width, room) if room >= min(LEAST_HELD, seat.hold_width) else 0.0


def cap_strip(project: Project) -> CapStrip | None:
    """Return the strip on the top edge, None without ``[cap]``."""
    cap = project.cap
    if cap is None:
        return None
    return CapStrip(cap.material == "steel", cap.thickness, cap.width, cap.inset)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One side of the cap strip, mm and degrees; it lies on the boards' top edges.

    ``outer`` and ``inner`` are the ends of its edges in plan, left then right as seen from
    outside. ``inner_left`` and ``inner_right`` tell how far its inner edge ends short of the long
    points, and the miters run from the one to the other, across its width: they are cut with the
    fence turned by ``miter_left_deg`` and ``miter_right_deg`` from a square cut, blade upright.
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
    bottom: float
    steel: bool

    @property
    def name(self) -> str:
        """The part's name."""
        return f"cap-{self.side}"

    @property
    def volume(self) -> float:
        """Its volume, mm3: a trapezoid's area times its thickness."""
        return (self.long_point + self.short_point) / 2 * self.width * self.thickness

    @property
    def flat(self) -> tuple[Point, Point, Point, Point]:
        """Its outline seen from above, from the left long point along the outer edge."""
        return (
            (0.0, 0.0),
            (self.long_point, 0.0),
            (self.long_point - self.inner_right, self.width),
            (self.inner_left, self.width),
        )


def strips(project: Project, cap: CapStrip | None, frame: Frame) -> tuple[Strip, ...]:
    """Lay out the cap's four strips, mitered as the collar is; none without ``[cap]``.

    Raises:
        BuildFileError: opposite strips meet: nothing is left of the opening.
    """
    if cap is None:
        return ()
    corners: Figure = tuple((c.x, c.y) for c in frame.corners)  # type: ignore[assignment]
    outer = moved_out(corners, (-cap.inset,) * 4)
    inner = moved_out(corners, (-cap.inset - cap.width,) * 4)
    found: list[Strip] = []
    for i, side in enumerate(SIDES):
        j = (i + 1) % 4
        long_point = distance(outer[i], outer[j])
        left, right = (cap.width / math.tan(frame.corners[k].half_rad) for k in (i, j))
        short_point = long_point - left - right
        if short_point <= 0:
            raise BuildFileError(
                [
                    Problem(
                        key="cap.width",
                        keys=("cap.inset",),
                        read=both_text(cap.width, project.show),
                        wanted=f"strips that leave an opening: the {side} one has no inner edge",
                    )
                ]
            )
        found.append(
            Strip(
                side=side,
                long_point=long_point,
                short_point=short_point,
                width=cap.width,
                thickness=cap.thickness,
                miter_left_deg=frame.corners[i].miter_deg,
                miter_right_deg=frame.corners[j].miter_deg,
                inner_left=left,
                inner_right=right,
                outer=(outer[i], outer[j]),
                inner=(inner[i], inner[j]),
                bottom=frame.height,
                steel=cap.steel,
            )
        )
    return tuple(found)
