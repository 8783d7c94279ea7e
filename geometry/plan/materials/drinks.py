"""From the vessel to the shank and from the cylinder to the vessel: couplers, lines, gas.

How long a line must be to pour well is not worked out here. What is bought reaches from each
shank to the farthest corner of the well, and is no shorter than what is usual.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ....params import supplies
from ....params.catalogue import Row
from ....params.project import Vessel
from ..cylinders import cylinders
from ..hoses import hoses as on_manifold
from ..hoses import second_pressures
from ..pressures import Pressure
from ..shown import PRACTICE
from .item import Item, Job
from .taps import SPARE_WASHERS

DRINK, GAS = "drink side", "gas side"

USUAL_RUN = 1500.0
"""A line from a vessel to its tap, or a hose to it, at least, mm (common practice: 5 ft)."""

BENDS = 20.0
"""Added to lines, percent (common practice): bends, and ends that are cut again."""

GAS_LINE = "gas-5-16-in"
"""The gas hose, as no key names one (common practice)."""

GASES = {
    "CO2": "CO2 regulator with its own relief valve (its valve is CGA 320 in North America)",
    "nitrogen": "nitrogen regulator with its own relief valve (its valve is CGA 580 in North"
    " America)",
    "blended gas": "regulator for the blend, with its own relief valve: ask who fills the cylinder"
    " which valve it has",
}
"""A regulator by its gas; CGA numbers as public pages on cylinder valves have them."""


@dataclass(frozen=True, slots=True)
class Fed:
    """Vessels that a tap is fed from: kegs, soda kegs, and what has no kind (``other``).

    ``assumed``: the build file names none, so there is one for each tap.
    """

    kegs: int
    soda: int
    other: int
    assumed: bool = False

    @property
    def count(self) -> int:
        """How many vessels get gas."""
        return self.kegs + self.soda + self.other


def kind(job: Job, vessel: Vessel) -> str:
    """Return what kind of vessel it is: keg, soda keg, a gas's cylinder, or nothing known."""
    row = job.project.part("vessels", vessel.kind)
    return row.text("kind") if row else ""


def fed(job: Job) -> Fed:
    """Count the vessels that drink comes from; without any, one of no kind for each tap."""
    counts: Counter[str] = Counter()
    for each in job.project.vessel:
        counts[kind(job, each)] += each.count
    named = Fed(counts["keg"], counts["soda keg"], counts[""])
    return named if named.count else Fed(0, 0, len(job.layout.taps), assumed=True)


def gases(job: Job) -> Counter[str]:
    """Return how many cylinders there are of each gas, in the order of the build file."""
    return Counter(each.gas for each in cylinders(job.project))


def farthest(job: Job, x: float, y: float, z: float) -> float | None:
    """Return how far it is from a place at the collar to the well's farthest corner, mm.

    Along the floor and straight down to it: no line in the well needs more. None without a well.
    """
    well = job.layout.inside.well
    if well is None:
        return None
    rect = well.mouth
    across = max(math.hypot(x - a, y - b) for a in (rect.x0, rect.x1) for b in (rect.y0, rect.y1))
    return across + z - well.bottom


def run(job: Job, x: float, y: float, z: float) -> float:
    """Return the length of a line from a place at the collar, before its allowance, mm."""
    return max(USUAL_RUN, farthest(job, x, y, z) or 0.0)


RULE = (
    "straight down and along the floor to the farthest corner of the well, at least 1.5 m (5 ft);"
    f" bends: {PRACTICE}"
)
"""How long a line is, behind where it comes from."""


def drinks(job: Job) -> Iterator[Item]:
    """Yield couplers, drink lines and the clamps on them."""
    yield from _couplers(job)
    yield from _drink_lines(job)
    yield from _gas(job)
    yield from _vessels(job)


def _couplers(job: Job) -> Iterator[Item]:
    found = fed(job)
    for each in job.project.vessel:
        row = job.project.part("vessels", each.kind)
        if row is None or row.text("kind") != "soda keg":
            continue
        lock = "pin-lock" if "pin-lock" in row.id else "ball-lock"
        for side in ("drink", "gas"):
            yield Item(
                id=f"disconnect-{lock}-{side}", group=DRINK if side == "drink" else GAS,
                name=f"{lock} disconnect for {side}, with its barb", net=each.count,
                why="one for each soda keg; drink and gas are not the same",
            )  # fmt: skip
    if found.kegs:
        yield Item(
            id="keg-coupler", group=DRINK,
            name="keg coupler for your kegs' valve, with both tailpieces", net=found.kegs,
            why="ask the brewery which valve its kegs have",
        )  # fmt: skip
        yield Item(
            id="tail-washer", group="taps", name="washer for a tail nut, food grade",
            net=2 * found.kegs, allowance=SPARE_WASHERS,
            source=f"one a joint; spares {PRACTICE}", why="drink and gas at each coupler",
        )  # fmt: skip
    if found.other:
        yield Item(
            id="vessel-fitting", group=DRINK, name="coupler or disconnects that fit your vessel",
            net=found.other, why="for vessels whose kind the build file does not name",
            basis="common practice" if found.assumed else "computed",
            source=f"one vessel a tap, as no [[vessel]] is one: {PRACTICE}" if found.assumed
            else "counted in the build file",
        )  # fmt: skip


def _drink_lines(job: Job) -> Iterator[Item]:
    for tap in job.layout.taps:
        board = job.layout.board(tap.side)
        length = run(job, *board.place(tap.u, tap.v, board.thickness))
        row, words = supplies.drink_line(job.project, tap.number, tap.name)
        part_id = row.id if row else "drink-line"
        yield Item(
            id=part_id, group=DRINK,
            name=row.name if row else f"drink line, {words}", unit="mm", net=length,
            allowance=BENDS, pack=None, basis="common practice", source=f"from each shank {RULE}",
            why="food grade; cut long, shorten while you pour",
        )  # fmt: skip
        if row is None or not supplies.push_fit(row):
            yield _clamps(job, row, DRINK)


def _clamps(job: Job, row: Row | None, group: str, lines: int = 1, parted: str = "") -> Item:
    """Return the clamps of some lines: one on the barb at each end.

    ``parted`` says what parts a line in two, each with its own ends.
    """
    across = row.value("outside_diameter") if row else None
    size = f" for a line of {job.length(across)} outside" if across else ", by the line's size"
    return Item(
        id=f"hose-clamp-{job.slug(across)}" if across else "hose-clamp", group=group,
        name=f"hose clamp{size}", net=2 * lines, allowance=SPARE_WASHERS,
        source=f"one on the barb at each end of a line{parted}; spares {PRACTICE}",
        why="each barb",
    )  # fmt: skip


def _gas(job: Job) -> Iterator[Item]:
    found, there = fed(job), gases(job)
    manifold = job.layout.manifold
    asked = job.project.manifold
    row = job.project.part("manifolds", asked.kind if asked else None)
    if manifold is not None:
        yield Item(
            id=row.id if row else "manifold", group=GAS,
            name=row.name if row else "gas manifold, the size of the build file's",
            net=1, why="one gas a manifold: another gas gets hoses of its own",
        )  # fmt: skip
    for gas in there:
        yield Item(
            id=f"regulator-{gas.lower().replace(' ', '-')}", group=GAS, name=GASES[gas], net=1,
            why="each gas has its own regulator and never an adapter: the pressures differ",
            source="one for each gas of the build file",
        )  # fmt: skip
    if not there:
        yield Item(
            id="regulator", group=GAS,
            name="regulator with its own relief valve, made for the gas that you use", net=1,
            basis="common practice", source=f"no cylinder is named under [[vessel]]: {PRACTICE}",
            why="each gas has its own regulator and never an adapter: the pressures differ",
        )  # fmt: skip
    second = second_pressures(job.project)
    yield from _second_regulators(second)
    hoses = found.count + (1 if manifold is not None else 0) + len(second)
    tees, rule = _tees(job)
    if tees:
        yield Item(
            id="gas-tee", group=GAS, name="tee for a gas hose", net=tees, basis="common practice",
            source=f"{rule}: {PRACTICE}",
            why="not where a regulator has an outlet for each hose",
        )  # fmt: skip
    hose = supplies.row(job.project, "lines", GAS_LINE)
    yield Item(
        id=hose.id, group=GAS, name=hose.name, unit="mm", net=hoses * _hose(job),
        allowance=BENDS, pack=None, basis="common practice",
        source=f"{hoses} hose{'' if hoses == 1 else 's, each'} {RULE}",
        why="regulator to manifold, manifold to each vessel, rated for the pressure"
        if manifold is not None else "regulator to each vessel, rated for the pressure",
    )  # fmt: skip
    parted = ", which each tee and each check valve parts in two"
    yield _clamps(job, hose, GAS, hoses + tees + found.count, parted)
    yield Item(
        id="check-valve", group=GAS, name="check valve for a gas hose", net=found.count,
        source="one for each vessel that is fed",
        why="drink must not run back into the gas; not where the manifold has them built in",
    )  # fmt: skip
    yield Item(
        id="cylinder-chain", group=GAS, name="chain or strap with its fixing",
        net=max(1, there.total()), source="one for each cylinder, one at least",
        why="cylinders stand upright and chained",
    )  # fmt: skip
    if there:
        yield Item(
            id="cylinder-strap", group=GAS, name="strap that holds a cylinder to full vessels",
            net=there.total(), source="one for each cylinder of the build file",
            why="for one that stands in the well: nothing is fixed to the freezer for it",
        )  # fmt: skip


def _tees(job: Job) -> tuple[int, str]:
    """Return how many tees the gas hoses take, and by which rule.

    A regulator without a manifold feeds its vessels one behind the other, a tee between two; a
    secondary regulator branches off before the first one's vessels, which takes a tee like one more
    vessel, and gives its own first vessel none. So it is with the gases that have no manifold; of
    the manifold's own gas the manifold counts as the first vessel, and the others take one each.
    """
    if job.layout.manifold is not None:
        hung = on_manifold(job.project, job.layout)
        straight = Counter(hung.straight)
        rule = "one for each vessel past the manifold, less the first of each other gas"
        return straight.total() - len(straight.keys() - {hung.gas}), rule
    vessels, regulators = fed(job).count, max(1, len(gases(job)))
    return max(0, vessels - regulators), "one for each vessel beyond the first of a gas"


def _second_regulators(second: Sequence[Pressure]) -> Iterator[Item]:
    for gas, count in Counter(each.gas for each in second).items():
        yield Item(
            id=f"secondary-regulator-{gas.lower().replace(' ', '-')}", group=GAS,
            name=f"secondary regulator for {gas}, with its own relief valve", net=count,
            basis="common practice",
            source="one for each pressure beyond the first of a gas, drinks told apart by kind and"
            f" carbonation: {PRACTICE}",
            why=f"{count + 1} pressures of {gas}: its first regulator holds the highest, each of"
            " these one that is lower; or a first regulator with as many outlets, each set by"
            " itself",
        )  # fmt: skip


def _hose(job: Job) -> float:
    """Return the length of one gas hose: from the manifold, else from the collar's back."""
    manifold = job.layout.manifold
    board = job.layout.board(manifold.side if manifold else "back")
    u = manifold.u if manifold else board.long_point / 2
    v = manifold.v if manifold else board.width
    return run(job, *board.place(u, v, board.thickness))


def _vessels(job: Job) -> Iterator[Item]:
    for number, each in enumerate(job.project.vessel, 1):
        row = job.project.part("vessels", each.kind)
        size = " x ".join(job.length(mm) for mm in (each.diameter, each.height) if mm)
        yield Item(
            id=row.id if row else f"vessel-{number}", group="vessels",
            name=row.name if row else f"vessel {size}", net=each.count,
            source="as the build file has it",
            why="bought, hired or filled in exchange; cylinders are tested and filled by a trade",
        )  # fmt: skip
