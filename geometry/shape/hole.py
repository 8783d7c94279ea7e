"""Whatever is cut into a face: bores, pockets, passages, openings, screw holes.

All of them are one kind of thing, and sheets, solids, checks and cut files read one list.
"""

from dataclasses import dataclass
from typing import Literal

Purpose = Literal["bore", "passage", "pocket", "opening", "pilot"]


HINGE_SET_OUT = "hinge-"
BRACKET_SET_OUT = "bracket-"
"""How the names of pilots begin whose places are a set-out and no measure."""

TRAY = "tray-"
"""How the names of the drip tray's pilots begin: their places were asked for."""


def assumed(name: str, purpose: Purpose) -> bool:
    """Tell whether a hole is set out for a bought part whose own holes decide where it goes.

    Hinge leaves and brackets are held to the wood and marked through.
    """
    return purpose == "pilot" and name.startswith((HINGE_SET_OUT, BRACKET_SET_OUT))


def about_assumed(name: str, purpose: Purpose) -> bool:
    """Tell whether a pocket in the foam lies about a part whose own place is only set out."""
    return purpose == "pocket" and name.startswith((HINGE_SET_OUT, BRACKET_SET_OUT))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """One hole in a board or a panel: round (``diameter``), or a rectangle of two sizes.

    ``u`` and ``v`` are its center in the part's flat view, seen from outside, mm: for a board
    from its left long point and bottom edge, for a foam panel from the panel's left end and
    the board's bottom edge. ``length`` goes along u and ``height`` along v. ``depth`` is None
    where the hole goes right through; otherwise it is drilled that deep from ``face``.
    ``into_block`` is how deep a hole that goes through goes on into a block that is glued on
    behind; the block is no part, so nothing is cut from it here.
    """

    name: str
    purpose: Purpose
    u: float
    v: float
    diameter: float | None = None
    length: float | None = None
    height: float | None = None
    face: Literal["outer", "inner"] = "outer"
    depth: float | None = None
    into_block: float | None = None

    def span(self, thickness: float) -> tuple[float, float]:
        """Return how deep the hole goes in a flat part, lowest and highest z, mm.

        The part lies with its inner face on z = 0 and its outer face up.
        """
        depth = thickness if self.depth is None else min(self.depth, thickness)
        return (0.0, depth) if self.face == "inner" else (thickness - depth, thickness)

    @property
    def assumed(self) -> bool:
        """Whether the hole is only set out; see ``assumed``."""
        return assumed(self.name, self.purpose)

    @property
    def half_length(self) -> float:
        """Half of what the hole takes along u, mm."""
        return (self.diameter or self.length or 0.0) / 2

    @property
    def half_height(self) -> float:
        """Half of what the hole takes along v, mm."""
        return (self.diameter or self.height or 0.0) / 2
