"""What is asked of the saw: pieces, the sticks they may come from, and a plan as the answer.

All lengths are whole steps of 0.01 mm: pieces and kerfs are rounded up to the step, what a stick
has to give is rounded down, so no plan needs more wood than there is. Prices are whole
hundredths.

**How boards lie on the stick.** Every board lies with its outer face up and is never flipped: one
face of the stick stays out all round the collar. It lies left end first, or turned end for end
where a flaw asks for it: in its own plane, so that its right end comes first and its bottom edge
lies where its top edge lay. Its outer face is the longer one, so it takes its long point of the
stick. Where two boards follow each other, the end of the
first leans back under its long point, and so does the start of the second: two cuts that lean
against each other, with a wedge between them that falls out. They meet in the outer face. The
first cut takes ``kerf / cos(miter)`` along the stick; the blade of the second runs in the wedge
and takes no more of it. One cut for both would lean the second board's end the wrong way, so
that it had to be flipped, inner face out; that is not done. Two square ends share their cut.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...shape.stick import stretches

STEP = 0.01
"""Lengths are counted in it, mm."""
CORNERS = 4
"""A ring of boards goes round this many corners."""
NOISE = 1e-6
"""Steps that floats may be off: 955 mm are 95500 steps, not 95501."""


def up(mm: float) -> int:
    """Return a length in steps, rounded up: what a piece or a cut needs."""
    return math.ceil(mm / STEP - NOISE)


def down(mm: float) -> int:
    """Return a length in steps, rounded down: what a stick has to give."""
    return math.floor(mm / STEP + NOISE)


def kerf_along(kerf: float, miter_deg: float) -> int:
    """Return what a cut takes along the stick, steps: ``kerf / cos(miter)``.

    Args:
        kerf: what the blade takes square to itself, mm.
        miter_deg: how far the blade tilts away from a square cut, 0 to less than 90 deg.
    """
    return up(kerf / math.cos(math.radians(miter_deg)))


@dataclass(frozen=True, slots=True)
class Flaw:
    """A knot, a crack: from where to where along a stick, steps, and how far up its width.

    ``low`` and ``high`` are measured from the long edge that boards have at the bottom which are
    not turned. Without them it takes the stick's whole width, edges and all, and no board may
    hold it.
    """

    start: int
    end: int
    low: int | None = None
    high: int | None = None

    @property
    def through(self) -> bool:
        """Whether it takes the whole width."""
        return self.low is None or self.high is None


@dataclass(frozen=True, slots=True)
class Sound:
    """A stretch of a board that has to be sound wood: a bore, a screw, a mitered end; steps.

    From the left long point and the bottom edge, as the board is seen from outside.
    """

    what: str
    left: int
    right: int
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Piece:
    """A board to be cut: its long point, and what the cut at its right end takes, steps.

    ``kerf_left`` is what the cut at its left end takes, which lies behind it when it is turned
    (None: as much as at its right); corners of a lip that is not square have two miters.
    ``sound`` is where no flaw may lie; edges are seen to by ``Flaw``.
    ``ring`` is the ring of boards it belongs to, ``place`` its place there in the order front,
    right, back, left: at its right stands the board of the next place. Without a ring its grain
    meets no other's.
    """

    name: str
    length: int
    kerf: int
    ring: int | None = None
    place: int = 0
    kerf_left: int | None = None
    sound: tuple[Sound, ...] = ()

    def cut_behind(self, turned: bool) -> int:
        """Return what the cut behind it takes along the stick, steps."""
        return self.kerf_left if turned and self.kerf_left is not None else self.kerf

    def followed_by(self, other: "Piece") -> bool:
        """Tell whether the other one stands at its right end, round the corner."""
        return (
            self.ring is not None
            and self.ring == other.ring
            and (self.place + 1) % CORNERS == other.place
        )


@dataclass(frozen=True, slots=True)
class OnSale:
    """A length on sale, steps, and its price in hundredths (0 where there are no prices)."""

    length: int
    price: int = 0


@dataclass(frozen=True, slots=True)
class Owned:
    """A stick that is there, steps, and its flaws."""

    length: int
    flaws: tuple[Flaw, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """All that is asked. ``trim`` is lost at each end of a stick, steps, that cut included.

    ``matched``: the grain runs on round as many corners as can be, before all other aims; then
    flaws stay out of the boards altogether, as one would show in the run. ``width`` is that of
    boards and sticks, steps: where a board's edges lie when it is turned.
    """

    pieces: tuple[Piece, ...]
    on_sale: tuple[OnSale, ...]
    owned: tuple[Owned, ...] = ()
    trim: int = 0
    matched: bool = False
    width: int = 0

    @property
    def widest_cut(self) -> int:
        """The most that one cut takes along a stick, steps."""
        return max(
            (piece.cut_behind(turned) for piece in self.pieces for turned in (False, True)),
            default=0,
        )


@dataclass(frozen=True, slots=True)
class Room:
    """Clear wood from ``start`` to ``end`` along a stick, steps.

    ``owned`` is the number of the stick that lies there, or None: then it can be bought as often
    as needed, at ``price``, as a stick of ``bought`` steps. ``flaws`` are those that a board may
    hold where it need not be sound.
    """

    start: int
    end: int
    price: int = 0
    bought: int = 0
    owned: int | None = None
    flaws: tuple[Flaw, ...] = ()

    @property
    def length(self) -> int:
        """How much wood there is, steps."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece by its number, where it begins along the stick, steps, and which way it lies.

    ``start`` is where its outer face begins: at its left long point, or at its right one where it
    is ``turned`` end for end.
    """

    piece: int
    start: int
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """A stick and what is cut from it, from the stick's left end on."""

    stick: OnSale | Owned
    pieces: tuple[Placed, ...]
    owned: int | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """Sticks and their cuts; what they come to; what is proved of it.

    The aims, in this order: fewest runs of grain (only where it is matched), least price, least
    length bought, fewest sticks bought. ``least`` is what no plan can be below in the first of
    price and length that counts; ``proved`` tells whether all aims are proved; ``first_proved``
    whether price (without prices: length) is; ``runs_proved`` whether the runs are.
    """

    cuts: tuple[Cut, ...]
    runs: int
    price: int
    bought: int
    least: int
    first_proved: bool
    proved: bool
    runs_proved: bool = True


class NoPlanError(ValueError):
    """The pieces do not come out of the sticks; ``piece`` names one that fits none, if any."""

    def __init__(self, piece: Piece | None, longest: int) -> None:
        self.piece, self.longest = piece, longest
        what = f"{piece.name} fits no stick" if piece else "the sticks do not suffice"
        super().__init__(what)


def shop_rooms(job: Job) -> tuple[Room, ...]:
    """Return what each length on sale has to give between its trims."""
    return tuple(
        Room(job.trim, stick.length - job.trim, stick.price, stick.length)
        for stick in job.on_sale
        if stick.length > 2 * job.trim
    )


def owned_rooms(job: Job, cut: int) -> tuple[Room, ...]:
    """Return the clear wood of the owned sticks, stick by stick, from the left.

    A flaw through the whole width ends it, and where the grain is matched any flaw does; others
    lie within. Clear wood begins ``cut`` steps behind the wood before it, or farther: behind a
    flaw narrower than a cut, what ends the board before it would take some of it.
    """
    found: list[Room] = []
    for number, stick in enumerate(job.owned):
        ending = [each for each in stick.flaws if job.matched or each.through]
        within = [each for each in stick.flaws if each not in ending]
        ends = ((each.start, each.end) for each in ending)
        for begin, end in stretches(stick.length, job.trim, ends, cut):
            inside = tuple(each for each in within if each.start < end and begin < each.end)
            found.append(Room(begin, end, owned=number, flaws=inside))
    return tuple(found)


def runs_of(laid: Sequence[tuple[Piece, bool]]) -> int:
    """Return in how many runs of grain pieces lie that follow each other on a stick.

    Each comes with whether it is turned. A run is turned only as a whole: then the board round
    the corner at the right lies before, not behind.
    """

    def runs_on(one: tuple[Piece, bool], two: tuple[Piece, bool]) -> bool:
        first, second = (two, one) if one[1] else (one, two)
        return one[1] == two[1] and first[0].followed_by(second[0])

    return sum(i == 0 or not runs_on(laid[i - 1], each) for i, each in enumerate(laid))
