"""A ring of four scraps tells how far a saw's blade stands from what its scale says.

Four scraps of one board are mitered with one setting, eight cuts that are all off by the same
``d`` = true tilt - 45 deg. The wood at a long point is then ``45 - d`` wide, so a closed joint
makes a corner of ``90 - 2 d``, and four of them lack ``8 d`` of the 360 deg of a ring:

* Held square, each joint opens by ``2 d``.
* With three joints closed the fourth lacks all of ``8 d``, but its faces do not touch any more:
  the long points of scraps that are alike stand ``4 sqrt(2) d`` of their length apart where the
  blade was tilted too little, and the scraps run into each other where it was tilted too far.
  What is seen hangs on the scraps' length, and on one side there is nothing to see.
* With two joints across from one another closed, two L's, and these pushed together, both other
  joints touch at one end and open by ``8 d`` together (the corners of a ring make 360 deg), by
  ``4 d`` each where scraps across from one another are alike. That can be done on either side,
  hangs on the thickness alone, and shows twice what a ring held square does: it is what is
  measured, as the mean of both joints, in which scraps that are not quite alike cancel out.

Tilted too far, the wood is too slim at the long points: these touch, and the joints are open
inside. Tilted too little, the short points touch and the joints are open outside. The mitered face
is ``t / cos(tilt)`` long, so the gap at its open end is ``2 t / cos(tilt) sin(2 |d|)``, to first
order ``4 sqrt(2) t |d|``. Plane geometry, derived; that one joint held square opens by
``sqrt(2) t eps`` is the rule of box miters.

How far a scale is off is known at the ring's tilt only. It is taken to be off by the same within
``NEAR`` degrees of that; a miter further off gets no setting and has to be proved on scraps.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from ...params.project import Project
from .frame import Board
from .plane import Point
from .six_lengths import Figure

SQUARE = 45.0
"""Tilt at which four corners close to a ring, degrees."""

SCRAPS, SCRAP, SCRAP_TEXT = 4, 304.8, "300 mm (12 in)"
"""How many scraps a ring takes, how long each is at least, mm, and how that is said (common
practice: no short pieces at the saw)."""

NEAR = 2.0
"""So far from the ring's tilt the scale is taken to be off by the same, degrees (common practice,
no source)."""


@dataclass(frozen=True, slots=True)
class Ring:
    """The test ring: what its scraps are, and what it told.

    ``thickness`` is the scraps', mm; ``scale_deg`` what the scale said when they were cut, and
    ``off_deg`` by how much the blade was tilted further than that, None where none was cut.
    """

    thickness: float
    scale_deg: float = SQUARE
    off_deg: float | None = None

    def setting_deg(self, tilt_deg: float) -> float | None:
        """Return what the scale has to say for a true tilt; None where the ring does not tell."""
        if self.off_deg is None or abs(tilt_deg - self.off_deg - self.scale_deg) > NEAR:
            return None
        return tilt_deg - self.off_deg

    def too_far(self, tilt_deg: float) -> bool:
        """Whether there is a ring, and a miter is too far from its tilt to be set by it."""
        return bool(tilt_deg) and self.off_deg is not None and self.setting_deg(tilt_deg) is None


def ring_gap(tilt_deg: float, thickness: float) -> float:
    """Return the gap at the open end of each open joint of two L's, mm; negative: open outside.

    Args:
        tilt_deg: the blade's true tilt from a square cut, 0 to below 90 degrees.
        thickness: of the scraps, mm.
    """
    tilt = math.radians(tilt_deg)
    return -2 * thickness * math.cos(2 * tilt) / math.cos(tilt)


def ring_tilt_deg(gap: float, thickness: float) -> float:
    """Return the blade's true tilt from the gap, degrees: the inverse of ``ring_gap``.

    With ``c = cos(tilt)`` the gap is ``2 t (1 - 2 c^2) / c``, so c solves a quadratic. Exact for
    any gap.

    Args:
        gap: mean of both open joints at their open ends, mm; negative where they open outside.
        thickness: of the scraps, mm.
    """
    k = gap / (2 * thickness)
    return math.degrees(math.acos((math.sqrt(k * k + 8) - k) / 4))


def ring_spread_deg(gap: float, reading: float, thickness: float) -> float:
    """Return how far the tilt is off where the gap is read wrong by so much, degrees.

    Half of what lies between a gap that is ``reading`` mm larger and one that is smaller.
    """
    more, less = (ring_tilt_deg(gap + off, thickness) for off in (reading, -reading))
    return (more - less) / 2


def ring_of(project: Project, thickness: float) -> Ring:
    """Return the test ring of a build file, or the one that is still to be cut.

    Args:
        project: the build file; its ``[shop]`` has the ring.
        thickness: of the collar's boards, mm: of the scraps as long as no ring told a gap, for
            which the build file has to say what they were.
    """
    shop = project.shop
    if shop is None:
        return Ring(thickness)
    scraps = shop.ring_thickness or thickness
    if shop.ring_gap is None:
        return Ring(scraps)
    gap = -shop.ring_gap if shop.ring_open == "outside" else shop.ring_gap
    return Ring(scraps, shop.ring_tilt, ring_tilt_deg(gap, scraps) - shop.ring_tilt)


def with_settings(boards: Iterable[Board], ring: Ring) -> tuple[Board, ...]:
    """Return boards with what the scale has to say at their ends, where the ring tells."""
    return tuple(
        replace(
            board,
            scale_left_deg=ring.setting_deg(board.miter_left_deg),
            scale_right_deg=ring.setting_deg(board.miter_right_deg),
            prove_left=ring.too_far(board.miter_left_deg),
            prove_right=ring.too_far(board.miter_right_deg),
        )
        for board in boards
    )


def two_ls(tilt_deg: float, thickness: float, long: float) -> tuple[Figure, ...]:
    """Return the plan of two L's of scraps pushed together, each scrap counterclockwise, mm.

    The joints between the first and the second scrap and between the third and the fourth are
    closed. The points that touch are a rhombus: of the long points with the blade tilted too
    far, of the short points with it tilted too little.

    Args:
        tilt_deg: the blade's true tilt, degrees.
        thickness: of the scraps, mm.
        long: their long point, mm.
    """
    back = thickness * math.tan(math.radians(tilt_deg))
    outside = tilt_deg >= SQUARE
    touch = long if outside else long - 2 * back
    corner = math.radians(180.0 - 2 * tilt_deg)
    turns = (0.0, math.pi - corner, math.pi, 2 * math.pi - corner)
    found: list[Figure] = []
    at: Point = (0.0, 0.0)
    for turn in turns:
        ux, uy = math.cos(turn), math.sin(turn)
        ends = (0.0, touch) if outside else (-back, touch + back)
        low = 0.0 if outside else -thickness
        places = (
            (ends[0], low), (ends[1], low),
            (ends[1] - back, low + thickness), (ends[0] + back, low + thickness),
        )  # fmt: skip
        corners = [(at[0] + ux * a - uy * b, at[1] + uy * a + ux * b) for a, b in places]
        found.append((corners[0], corners[1], corners[2], corners[3]))
        at = at[0] + ux * touch, at[1] + uy * touch
    return tuple(found)
