"""The foam panels of one or several collars on their sheets: jobs, seams, and what is cut after."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import prod

from ....params.project import Project, Side
from ...shape.hole import Hole
from ...shape.layout import Layout
from ...shape.lining import Panel
from ..cutting.job import STEP, down, up
from .job import Job, Part, Plan, Sheet
from .measure import faults
from .seams import CLEAR, Way, clearance, ways
from .solve import sheet_plan

MOST_WAYS = 27
"""So many ways to place seams are tried: three each for three panels."""

MOST_TRIED = 10
"""With more pieces than that seams lie as far from holes as they can: trials would take long."""

OPPOSITE: dict[Side, Side] = {"front": "back", "right": "left"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A panel, or a part of one: its lower left corner in the panel and its size, steps.

    ``row`` and ``column`` count from 1, from below and from the left.
    """

    collar: int
    panel: Panel
    x: int
    y: int
    length: int
    width: int
    column: int = 1
    columns: int = 1
    row: int = 1
    rows: int = 1

    @property
    def name(self) -> str:
        """What it is called: ``front``, ``front 1 of 3`` from the left, ``front 1 of 2, lower``."""
        name: str = self.panel.side
        if self.columns > 1:
            name += f" {self.column} of {self.columns}"
        if self.rows > 1:
            name += f", row {self.row} of {self.rows}"
        return name

    @property
    def whole(self) -> bool:
        """Whether it is a panel in one piece."""
        return self.columns == self.rows == 1

    def holes(self) -> Iterator[tuple[Hole, bool]]:
        """Yield the panel's holes that reach into it, in its own place, mm, and whether all of it.

        What runs over a seam is cut when the pieces are joined.
        """
        long, wide = self.length * STEP, self.width * STEP
        for hole in self.panel.holes:
            u, v = hole.u - self.x * STEP, hole.v - self.y * STEP
            low, high = u - hole.half_length, u + hole.half_length
            under, over = v - hole.half_height, v + hole.half_height
            if high <= 0 or low >= long or over <= 0 or under >= wide:
                continue
            whole = (
                (low >= 0 or self.column == 1)
                and (high <= long or self.column == self.columns)
                and (under >= 0 or self.row == 1)
                and (over <= wide or self.row == self.rows)
            )
            yield replace(hole, u=u, v=v), whole


@dataclass(frozen=True, slots=True)
class Seam:
    """Where a panel is parted, mm from its left end, or ``lengthwise``, from its lower edge.

    ``clear`` is how far the nearest hole is, mm: less than 0 where the seam cuts into it, None
    where the panel has none.
    """

    collar: int
    side: Side
    at: float
    lengthwise: bool
    clear: float | None

    @property
    def near(self) -> bool:
        """Whether there was less room than seams should have."""
        return self.clear is not None and self.clear < CLEAR * STEP - 1e-9


@dataclass(frozen=True, slots=True)
class Lot:
    """Foam of one kind and thickness: its sheet, its pieces in the order of the job, the plan.

    ``usual`` tells that nobody gave the sheet: it is the usual one of the kind. ``trials`` is how
    many ways to place the seams were planned through.
    """

    kind: str
    thickness: float
    usual: bool
    job: Job
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    plan: Plan
    trials: int


@dataclass(frozen=True, slots=True)
class FoamPlan:
    """Lots that share sheets; the numbers of collars whose foam has no sheet."""

    lots: tuple[Lot, ...]
    without: tuple[int, ...]


def sheet_of(project: Project) -> tuple[Sheet, bool] | None:
    """Return the sheet and whether it is the usual one of its kind; None where none is known."""
    foam = project.foam
    if foam is None:
        return None
    if foam.sheet is not None:
        sides, usual = (foam.sheet.length, foam.sheet.width), False
    else:
        row = project.part("foam", foam.kind)
        long, wide = (row.get(name) if row else None for name in ("sheet_length", "sheet_width"))
        if long is None or wide is None:
            return None
        sides, usual = (long, wide), True
    return Sheet(down(max(sides)), down(min(sides))), usual


def foam_plan(collars: Sequence[tuple[Project, Layout]]) -> FoamPlan:
    """Plan the panels of all collars; those of one kind, thickness and sheet share sheets."""
    alike: dict[tuple[str, float, Sheet, bool], list[int]] = {}
    without: list[int] = []
    for number, (project, layout) in enumerate(collars):
        if not layout.panels:
            continue
        found = sheet_of(project)
        if found is None:
            without.append(number)
            continue
        kind = (project.foam.kind if project.foam else None) or ""
        alike.setdefault((kind, round(layout.foam, 2), *found), []).append(number)
    lots = tuple(
        _lot(key, [(n, panel) for n in numbers for panel in collars[n][1].panels])
        for key, numbers in alike.items()
    )
    return FoamPlan(lots, tuple(without))


@dataclass(frozen=True, slots=True)
class _Parted:
    """A panel with the places of its seams across and lengthwise."""

    collar: int
    panel: Panel
    across: Way
    lengthwise: Way


def _lot(key: tuple[str, float, Sheet, bool], panels: Sequence[tuple[int, Panel]]) -> Lot:
    kind, thickness, sheet, usual = key
    options = [list(_options(number, panel, sheet)) for number, panel in panels]
    count = sum((len(each[0].across) + 1) * (len(each[0].lengthwise) + 1) for each in options)
    if prod(map(len, options)) > MOST_WAYS or count > MOST_TRIED:
        options = [each[:1] for each in options]
    plans: dict[tuple[tuple[int, int], ...], Plan] = {}
    best: tuple[tuple[int, ...], tuple[_Parted, ...]] | None = None
    for taken in product(*options):
        pieces = [piece for each in taken for piece in _pieces(each)]
        alike = tuple(sorted((piece.length, piece.width) for piece in pieces))
        if alike not in plans:
            plans[alike] = sheet_plan(_job(pieces, sheet))
        plan = plans[alike]
        seams = [seam for each in taken for seam in _seams(each)]
        far = sum(round((seam.clear or 0.0) / STEP) for seam in seams)
        rank = len(plan.sheets), plan.cuts, _facing(taken), -far
        if best is None or rank < best[0]:
            best = rank, taken
    assert best is not None
    pieces = tuple(piece for each in best[1] for piece in _pieces(each))
    seams = tuple(seam for each in best[1] for seam in _seams(each))
    job = _job(pieces, sheet)
    plan = sheet_plan(job)
    wrong = list(faults(job, plan))
    if wrong:  # never seen; a plan that is wrong must not reach a knife
        raise AssertionError("; ".join(wrong))
    return Lot(kind, thickness, usual, job, pieces, seams, plan, prod(map(len, options)))


def _job(pieces: Sequence[Piece], sheet: Sheet) -> Job:
    return Job(tuple(Part(each.name, each.length, each.width) for each in pieces), sheet)


def _options(number: int, panel: Panel, sheet: Sheet) -> Iterator[_Parted]:
    """Yield the ways to part a panel; its longer side lies along the sheet."""
    long, wide = up(panel.length), up(panel.width)
    most = (sheet.length, sheet.width) if long >= wide else (sheet.width, sheet.length)
    for across, lengthwise in product(
        ways(long, most[0], _spans(panel, lengthwise=False)),
        ways(wide, most[1], _spans(panel, lengthwise=True)),
    ):
        yield _Parted(number, panel, across, lengthwise)


def _spans(panel: Panel, *, lengthwise: bool) -> list[tuple[int, int]]:
    if lengthwise:
        return [
            (down(hole.v - hole.half_height), up(hole.v + hole.half_height)) for hole in panel.holes
        ]
    return [
        (down(hole.u - hole.half_length), up(hole.u + hole.half_length)) for hole in panel.holes
    ]


def _pieces(parted: _Parted) -> Iterator[Piece]:
    xs = (0, *parted.across, up(parted.panel.length))
    ys = (0, *parted.lengthwise, up(parted.panel.width))
    for column in range(1, len(xs)):
        for row in range(1, len(ys)):
            yield Piece(
                collar=parted.collar,
                panel=parted.panel,
                x=xs[column - 1],
                y=ys[row - 1],
                length=xs[column] - xs[column - 1],
                width=ys[row] - ys[row - 1],
                column=column,
                columns=len(xs) - 1,
                row=row,
                rows=len(ys) - 1,
            )


def _seams(parted: _Parted) -> Iterator[Seam]:
    for places, lengthwise in ((parted.across, False), (parted.lengthwise, True)):
        spans = _spans(parted.panel, lengthwise=lengthwise)
        for at in places:
            clear = clearance(at, spans)
            far = None if clear is None else clear * STEP
            yield Seam(parted.collar, parted.panel.side, at * STEP, lengthwise, far)


def _facing(taken: Sequence[_Parted]) -> int:
    """Count seams that face each other across the well: staggered ones leave no weak section."""
    found = 0
    for one, other in product(taken, taken):
        if one.collar == other.collar and OPPOSITE.get(one.panel.side) == other.panel.side:
            long = up(other.panel.length)  # seen from outside, left and right change places
            found += sum(abs(a + b - long) < CLEAR for a in one.across for b in other.across)
    return found
