"""The cuts of a plan in the order in which they are made, so that each setting is set once.

**How a mitered end is sawn.** The stick lies with its outer face up, and so does every board until
it is finished. The blade leans away from the board, over the wood that falls off: then the outer
face stays the longer one. On a saw that tilts to one side only, the end to be cut points to that
side: for the other end the board is turned end for end, its face still up. ``leads`` says which
end of the stick that is, as the stick was laid out.

**The order.** First boards are sawn apart square, as rough blanks, where there is wood for it.
Then tilt by tilt, from the least: each board gets its first end at its mark, the left one where
both have the same tilt. Its second end is cut against a stop block that its fresh long point
touches, so boards of one length come out of one setting of the stop, whatever the tape said. The
end with the lesser tilt comes first, so that no tilt is set twice.

**That it can be done.** Any cut at a board's end takes wood from beside that board only, but where
the room between two boards is no more than the cut that the plan counts, that of the board in
front, a wider cut at the board behind would reach into it. The wider one is the one with the
greater tilt, and that comes later, when the board in front is already off.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Literal

from ...shape.frame import Board
from .boards import Asked
from .job import STEP, Cut, Flaw, OnSale, Owned, Plan

Way = Literal["left", "right"]
Kind = Literal["apart", "first", "second"]

ALLOWANCE = 5.0
"""What a rough blank is longer than its board at an end, mm, where there is wood for it (common
practice)."""

CLEAR = 1.0
"""With less wood than this on either side of a square cut, mm, boards are not sawn apart first
(common practice: as true as a saw is steered to a pencil line)."""

KEPT = 100.0
"""A shorter end of a stick is not worth keeping, mm (common practice)."""

DIGITS = 1
"""Tilts that are the same in tenths of a degree are one setting: nobody sets a blade finer."""


@dataclass(frozen=True, slots=True)
class End:
    """An end that a cut makes: the piece by its number, and which of the board's ends it is.

    The board's ends are named as seen from outside; those of one that lies turned on its stick
    are the other way round there.
    """

    piece: int
    end: Way


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """One cut; lengths in mm along the outer face, tilts in degrees.

    Attributes:
        number: in the order of the work, from 1.
        kind: ``apart`` parts rough blanks; ``first`` ends a board at its mark, ``second``
            against the stop.
        stick: its place in the plan, from 0.
        at: where the blade's line lies on the face, from the stick's left end, before any cut.
        leads: to which side of that line the blade takes its wood, as the stick was laid out: the
            end that points to where the blade leans.
        along: what the blade takes along the face, ``kerf / cos(tilt)``.
        tilt_deg: the true tilt from a square cut.
        scale_deg: what the saw's scale has to say for it, None where no test ring told; one
            figure for tilts that are one setting.
        prove: whether there is a test ring, but too far from this tilt to be set by it.
        stop: from the stop block's face to the blade's line, both at the outer face: the board's
            long point. None for a cut at a mark.
        ends: what it makes: one end, two where square ends share their cut, none where blanks are
            parted.
    """

    number: int = 0
    kind: Kind
    stick: int
    at: float
    leads: Way
    along: float
    tilt_deg: float = 0.0
    scale_deg: float | None = None
    prove: bool = False
    stop: float | None = None
    ends: tuple[End, ...] = ()


@dataclass(frozen=True, slots=True)
class Setting:
    """Cuts that are made with one setting of blade and stop, which is their first cut's."""

    cuts: tuple[SawCut, ...]

    @property
    def tilt_deg(self) -> float:
        """The blade's tilt, degrees."""
        return self.cuts[0].tilt_deg

    @property
    def stop(self) -> float | None:
        """From the stop block's face to the blade's line, mm; None where none is set."""
        return self.cuts[0].stop


@dataclass(frozen=True, slots=True)
class SawList:
    """The settings in their order; what is left of each stick; sticks without room to spare.

    ``offcuts`` holds for each stick the stretches that are worth keeping but for their flaws, from
    and to, mm along the face. On the sticks of ``tight``, by their place in the plan, boards lie as
    close as the cut between them.
    """

    settings: tuple[Setting, ...]
    offcuts: tuple[tuple[tuple[float, float], ...], ...]
    tight: tuple[int, ...]

    @property
    def cuts(self) -> Iterator[SawCut]:
        """All cuts in their order."""
        return (cut for setting in self.settings for cut in setting.cuts)

    @property
    def stops(self) -> bool:
        """Whether any cut is made against a stop."""
        return any(setting.stop is not None for setting in self.settings)

    def of_end(self, end: End) -> SawCut:
        """Return the cut that makes an end."""
        return next(cut for cut in self.cuts if end in cut.ends)


@dataclass(frozen=True, slots=True)
class _Laid:
    """A board on its stick: from and to, mm along the face; its ends as they lie."""

    piece: int
    board: Board
    turned: bool
    start: float
    stop: float
    length: int

    def end_at(self, side: Way) -> Way:
        """Return which of the board's ends lies at a side."""
        return side if not self.turned else "right" if side == "left" else "left"

    def tilt_deg(self, side: Way) -> float:
        return getattr(self.board, f"miter_{self.end_at(side)}_deg")

    def key(self, side: Way) -> float:
        return round(self.tilt_deg(side), DIGITS)


def saw_list(asked: Asked, plan: Plan) -> SawList:
    """Return the cuts of a plan in their order.

    Args:
        asked: what was planned, with the blade's kerf.
        plan: sticks, and the boards on them.
    """
    kerf = asked.kerf
    cuts: list[SawCut] = []
    offcuts: list[tuple[tuple[float, float], ...]] = []
    tight: list[int] = []
    for stick, cut in enumerate(plan.cuts):
        laid = _laid(asked, cut)
        parted, left, close = _parted(laid, cut.stick, kerf, stick)
        cuts += [*parted, *_ends(laid, kerf, stick)]
        offcuts.append(left)
        if close:
            tight.append(stick)
    cuts.sort(key=_order)
    blades: dict[float, SawCut] = {}
    for cut in cuts:
        blades.setdefault(round(cut.tilt_deg, DIGITS), cut)
    numbered = [
        replace(cut, number=number, scale_deg=blade.scale_deg, prove=blade.prove)
        for number, cut in enumerate(cuts, 1)
        for blade in (blades[round(cut.tilt_deg, DIGITS)],)
    ]
    grouped = groupby(numbered, lambda cut: (round(cut.tilt_deg, DIGITS), cut.stop))
    settings = tuple(Setting(tuple(same)) for _, same in grouped)
    return SawList(settings, tuple(offcuts), tuple(tight))


def _laid(asked: Asked, cut: Cut) -> list[_Laid]:
    found: list[_Laid] = []
    for placed in cut.pieces:
        length = asked.job.pieces[placed.piece].length
        start, stop = placed.start * STEP, (placed.start + length) * STEP
        board = asked.boards[placed.piece][1]
        found.append(_Laid(placed.piece, board, placed.turned, start, stop, length))
    return found


def _order(cut: SawCut) -> tuple[bool, float, bool, float, bool, int, float]:
    """Blanks first, then tilt by tilt: first ends, then seconds from the longest stop down."""
    return (
        cut.kind != "apart",
        round(cut.tilt_deg, DIGITS),
        cut.kind == "second",
        -(cut.stop or 0.0),
        cut.leads == "right",
        cut.stick,
        cut.at,
    )


def _shared(one: _Laid, two: _Laid, kerf: float) -> bool:
    """Whether one cut ends both boards: square ends no farther apart than that cut."""
    square = one.tilt_deg("right") == 0 == two.tilt_deg("left")
    return square and two.start - one.stop < kerf + STEP


def _parted(
    laid: Sequence[_Laid], wood: OnSale | Owned, kerf: float, stick: int
) -> tuple[list[SawCut], tuple[tuple[float, float], ...], bool]:
    """Return the square cuts that part a stick, what is left of it, and whether it is tight.

    They keep off flaws; only two boards between which there is nothing else are parted in one.
    """
    long = wood.length * STEP
    flaws = [(flaw.start * STEP - CLEAR, flaw.end * STEP + CLEAR) for flaw in _flaws(wood)]
    marks: list[float] = []
    left: list[tuple[float, float]] = []
    tight = False
    between = [(one.stop, two.start) for one, two in pairwise(laid) if not _shared(one, two, kerf)]
    edges = ((None, laid[0].start), *between, (laid[-1].stop, None))
    for low, high in edges:
        # An offcut between a cut at either side, or the stick's end.
        least = KEPT if low is None else low + ALLOWANCE
        most = (long - KEPT if high is None else high - ALLOWANCE) - kerf
        first = None if low is None else _off(flaws, kerf, least, most)
        second = None if high is None else _off(flaws, kerf, most, least)
        begin = 0.0 if low is None else math.inf if first is None else first + kerf
        end = long if high is None else -math.inf if second is None else second
        if end - begin >= KEPT:
            marks += [mark for mark in (first, second) if mark is not None]
            left.append((begin, end))
        elif low is not None and high is not None:
            spare = (high - low - kerf) / 2
            if spare >= CLEAR - STEP:
                at = low + min(ALLOWANCE, spare)
                farther = _off(flaws, kerf, at, high - CLEAR - kerf)
                nearer = _off(flaws, kerf, at, low + CLEAR)
                marks.append(next((each for each in (farther, nearer) if each is not None), at))
            else:
                tight = True
    cuts = [SawCut(kind="apart", stick=stick, at=mark, leads="right", along=kerf) for mark in marks]
    return cuts, tuple(left), tight


def _flaws(wood: OnSale | Owned) -> tuple[Flaw, ...]:
    return wood.flaws if isinstance(wood, Owned) else ()


def _off(
    flaws: Sequence[tuple[float, float]], kerf: float, first: float, last: float
) -> float | None:
    """Return the mark nearest to the first one, up to the last, whose square cut meets no flaw."""
    at, rightward = first, first <= last
    for low, high in sorted(flaws, reverse=not rightward):
        if low < at + kerf and at < high:
            at = high if rightward else low - kerf
    return at if min(first, last) <= at <= max(first, last) else None


def _ends(laid: Sequence[_Laid], kerf: float, stick: int) -> Iterator[SawCut]:
    """Yield the cuts at the boards' ends, not yet in order."""
    for number, here in enumerate(laid):
        before = number > 0 and _shared(laid[number - 1], here, kerf)
        behind = number + 1 < len(laid) and _shared(here, laid[number + 1], kerf)
        if before:  # it was made with the board in front
            done: Way | None = "left"
        elif behind:
            done = "right"
        else:
            done = "left" if here.key("left") <= here.key("right") else "right"
            yield _end(here, done, "first", kerf, stick)
        if behind:
            both = (End(here.piece, here.end_at("right")),
                    End(laid[number + 1].piece, laid[number + 1].end_at("left")))  # fmt: skip
            yield replace(_end(here, "right", "first", kerf, stick), ends=both)
        if not (before and behind):
            yield _end(here, "right" if done == "left" else "left", "second", kerf, stick)


def _end(laid: _Laid, side: Way, kind: Kind, kerf: float, stick: int) -> SawCut:
    end = laid.end_at(side)
    tilt = laid.tilt_deg(side)
    return SawCut(
        kind=kind,
        stick=stick,
        at=laid.start if side == "left" else laid.stop,
        leads=side,
        along=kerf / math.cos(math.radians(tilt)),
        tilt_deg=tilt,
        scale_deg=getattr(laid.board, f"scale_{end}_deg"),
        prove=getattr(laid.board, f"prove_{end}"),
        stop=laid.length * STEP if kind == "second" else None,
        ends=(End(laid.piece, end),),
    )
