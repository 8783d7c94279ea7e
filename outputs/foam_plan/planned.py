"""The foam plan with what it is for: sheets and cuts numbered through, pieces called by name."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ...geometry.plan.sheets import STEP, Cut, Placed, Rect, SheetPlan
from ...geometry.plan.sheets.panels import FoamPlan, Lot, Piece, foam_plan
from ...geometry.shape.hole import Hole, about_assumed
from ...geometry.shape.layout import Layout
from ...params.catalogue import Row
from ...params.project import Project
from ...params.units import Show, bit_text, both_text, length_text
from ..templates import hole_names

LEFT_OVER = "left over"
CUT_ON = "cut on"
"""What becomes of pieces that are no panel."""

EDGE = 0.02
"""What ends so near a piece's edge, mm, ends at it: pieces are rounded up to 0.01 mm."""

SIDES = {"across": ("left", "right"), "along": ("lower", "upper")}
"""The two pieces that a cut makes."""


@dataclass(frozen=True, slots=True)
class Numbered:
    """A cut with its number through all sheets, the piece that it parts, and what that becomes."""

    number: int
    cut: Cut
    of: str
    gives: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Laid:
    """One sheet by its number: its lot, its plan, its cuts."""

    number: int
    lot: Lot
    plan: SheetPlan
    cuts: tuple[Numbered, ...]

    def piece(self, placed: Placed) -> Piece:
        """Return the piece that lies at a place."""
        return self.lot.pieces[placed.part]


@dataclass(frozen=True, slots=True)
class Opening:
    """What is cut out of a piece when that is cut to size, mm; round, or from edge to edge.

    ``u`` and ``v`` are its lowest and highest place from the piece's left end and lower edge, for a
    round one the center twice. ``later``: it runs over a seam, and waits until that is made.
    """

    piece: Piece
    name: str
    diameter: float | None
    u: tuple[float, float]
    v: tuple[float, float]
    later: bool

    @property
    def sides(self) -> int:
        """How many knife cuts an opening takes: none along the piece's own edges."""
        long, wide = self.piece.length * STEP, self.piece.width * STEP
        inside = (
            self.u[0] > EDGE, self.u[1] < long - EDGE, self.v[0] > EDGE, self.v[1] < wide - EDGE
        )  # fmt: skip
        return 0 if self.diameter else sum(inside)


@dataclass(frozen=True, slots=True)
class Foam:
    """The plan, how its collars are called (one nameless one: its own papers), and its units."""

    plan: FoamPlan
    collars: tuple[tuple[Project, Layout], ...]
    names: tuple[str, ...]

    @property
    def show(self) -> Show:
        """The unit that lengths are told in: the first collar's."""
        return self.collars[0][0].show

    def name(self, piece: Piece) -> str:
        """Return a piece's name, with its collar's where there are several."""
        several = len(self.names) > 1
        return f"{self.names[piece.collar]} {piece.name}" if several else piece.name

    def row(self, lot: Lot) -> Row | None:
        """Return the catalog's row of a lot's foam; None where no kind is named."""
        project = self.collars[lot.pieces[0].collar][0]
        return project.part("foam", lot.kind or None)

    def foam(self, lot: Lot) -> str:
        """Say what foam a lot is of: its thickness and its kind."""
        row = self.row(lot)
        thick = both_text(lot.thickness, self.show)
        return f"{thick} thick, {row.name}" if row else f"{thick} thick"

    def sheet(self, lot: Lot) -> str:
        """Say how large a lot's sheet is, and whether that is only usual."""
        return f"{size_text(lot.job.sheet.length, lot.job.sheet.width, self.show)}" + (
            ", the usual sheet" if lot.usual else ""
        )

    def sheets(self) -> Iterator[Laid]:
        """Yield the sheets of all lots, numbered through, with their cuts numbered through."""
        sheet = number = 0
        for lot in self.plan.lots:
            for plan in lot.plan.sheets:
                sheet += 1
                cuts = tuple(self._numbered(lot, plan, sheet, number + 1))
                number += len(cuts)
                yield Laid(sheet, lot, plan, cuts)

    def _numbered(self, lot: Lot, plan: SheetPlan, sheet: int, first: int) -> Iterator[Numbered]:
        names = {placed.rect: self.name(lot.pieces[placed.part]) for placed in plan.parts}
        names |= dict.fromkeys(plan.left, LEFT_OVER)
        whence = {Rect(0, 0, lot.job.sheet.length, lot.job.sheet.width): f"sheet {sheet}"}
        for number, cut in enumerate(plan.cuts, first):
            for side, rect in zip(SIDES[cut.way], cut.after, strict=True):
                whence[rect] = f"{side} piece of cut {number}"
            one, two = (names.get(rect, CUT_ON) for rect in cut.after)
            yield Numbered(number, cut, whence[cut.before], (one, two))

    def openings(self, lot: Lot) -> Iterator[Opening]:
        """Yield what is cut out of a lot's pieces once these are cut to size, panel by panel."""
        for piece in lot.pieces:
            names = hole_names(self.collars[piece.collar][1])
            for hole, whole in piece.holes():
                name = names.get(hole.name) or hole.name.replace("-", " ")
                if about_assumed(hole.name, hole.purpose):
                    name += ", set out only"
                yield _opening(piece, name, hole, whole)


def plan_foam(
    collars: Sequence[tuple[Project, Layout]], names: Sequence[str] = ("",)
) -> Foam | None:
    """Plan the foam of all collars together; None where none has any."""
    if not any(layout.panels for _, layout in collars):
        return None
    return Foam(foam_plan(collars), tuple(collars), tuple(names))


def _opening(piece: Piece, name: str, hole: Hole, whole: bool) -> Opening:
    if hole.diameter is not None:
        return Opening(piece, name, hole.diameter, (hole.u, hole.u), (hole.v, hole.v), not whole)
    long, wide = piece.length * STEP, piece.width * STEP
    u = max(0.0, hole.u - hole.half_length), min(long, hole.u + hole.half_length)
    v = max(0.0, hole.v - hole.half_height), min(wide, hole.v + hole.half_height)
    return Opening(piece, name, None, u, v, not whole)


def size_text(length: int, width: int, show: Show) -> str:
    """Write a size given in steps: ``902.4 mm x 139.7 mm``."""
    return f"{length_text(length * STEP, show)} x {length_text(width * STEP, show)}"


def where_text(cut: Cut, show: Show) -> str:
    """Say how a cut runs: ``across, 902.4 mm from its left edge``."""
    return f"{cut.way}, {length_text(cut.at * STEP, show)} from its {SIDES[cut.way][0]} edge"


def gives_text(each: Numbered) -> str:
    """Say what a cut's two pieces become: ``lower: front; upper: left over``."""
    sides = SIDES[each.cut.way]
    return "; ".join(f"{side}: {what}" for side, what in zip(sides, each.gives, strict=True))


def how_text(opening: Opening, show: Show) -> str:
    """Say what an opening is cut with."""
    if opening.diameter is not None:
        how = f"hole cutter {bit_text(opening.diameter, show)}"
    else:
        how = f"{opening.sides} knife cuts"
    return f"{how}, when the pieces are joined" if opening.later else how


def at_text(span: tuple[float, float], show: Show) -> str:
    """Write a place, or from where to where."""
    low, high = (length_text(each, show) for each in span)
    return low if span[0] == span[1] else f"{low.removesuffix(' ' + show)} to {high}"
