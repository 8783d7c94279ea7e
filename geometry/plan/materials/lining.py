"""Foam: sheets, what glues them, what seals their edges, what covers them."""

import math
from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Row, load
from ...shape.hole import Hole
from ...shape.lining import Panel
from ..sheets import STEP
from ..sheets.panels import sheet_of
from ..shown import PRACTICE
from .item import SLACK, Item, Job
from .lip import cartridges

GROUP = "foam"

LINES_APART = 100.0
"""The most between beads of adhesive across a panel, mm (common practice, no source)."""

SHEET_WASTE = 15.0
"""Added to the panels' area where no cut plan says how they come out of sheets, percent (common
practice)."""

TAPE_WASTE = 15.0
"""Added to tape, percent (common practice): it overlaps."""

THICKER = 1.6 / 25
"""By which part a board may measure more than it is sold as (ASTM C578 as quoted in AASHTO M 230:
1.6 mm for each 25 mm)."""

WIDEST_TAPE = 100.0
"""The widest foil tape on sale, mm (from memory: 50 to 100 mm)."""


def foam(job: Job) -> Iterator[Item]:
    """Yield the foam and what belongs to it; nothing without foam."""
    panels, row = job.layout.panels, supplies.foam_adhesive(job.project)
    if not panels or row is None:
        return
    yield _sheets(job)
    yield cartridges(
        row,
        GROUP,
        _layers(job) * sum(bead_length(*sides) for sides in _sides(job)),
        "beads along the edges of panels and their parts, and lines between them no more than"
        f" {job.length(LINES_APART)} apart: {PRACTICE}",
        "foam to wood; none into bores, pockets or the opening",
    )
    yield _tape(job)
    asked = job.project.foam
    if asked is not None and asked.face:
        yield Item(
            id="foam-face",
            group=GROUP,
            name=f"{asked.face}, over the foam",
            unit="m2",
            net=sum(each.volume / each.thickness for each in panels) * 1e-6,
            allowance=TAPE_WASTE,
            pack=None,
            basis="common practice",
            source=f"the panels' faces less what is cut out; allowance {PRACTICE}",
            why="covers the foam toward the well",
        )


def bead_length(length: float, width: float) -> float:
    """Return the adhesive on a panel, mm: round its edges, and along it every 100 mm across."""
    lines = max(0, math.ceil(width / LINES_APART) - 1)
    return 2 * (length + width) + lines * length


def _sides(job: Job) -> Iterator[tuple[float, float]]:
    """Yield length and width of each panel, of its parts where the cut plan parts it, mm."""
    if job.sheets is None:
        yield from ((each.length, each.width) for each in job.layout.panels)
    else:
        yield from ((each.length * STEP, each.width * STEP) for each in job.sheets.pieces)


def around(hole: Hole) -> float:
    """Return the length of a hole's edge, mm."""
    if hole.diameter is not None:
        return math.pi * hole.diameter
    return 2 * ((hole.length or 0.0) + (hole.height or 0.0))


def taped(panels: tuple[Panel, ...]) -> float:
    """Return what is taped, mm: top and bottom edges, the upright corners, the edges of holes."""
    edges = sum(2 * each.length + each.width for each in panels)
    return edges + sum(around(hole) for each in panels for hole in each.holes)


def seams(job: Job) -> float:
    """Return the length of the seams between the parts of panels, mm; 0 without a cut plan."""
    found = job.sheets.seams if job.sheets is not None else ()
    sides = {each.side: each for each in job.layout.panels}
    return sum(
        sides[seam.side].length if seam.lengthwise else sides[seam.side].width for seam in found
    )


def _tape(job: Job) -> Item:
    thick = job.layout.foam
    strips = math.floor(thick / WIDEST_TAPE) + 1
    size = f"wider than the foam ({job.length(thick)})"
    if strips > 1:
        size = f"{strips} strips side by side over edges of {job.length(thick)}"
    return Item(
        id="foil-tape",
        group=GROUP,
        name=f"foil tape, {size}",
        unit="mm",
        net=strips * taped(job.layout.panels) + seams(job),
        allowance=TAPE_WASTE,
        pack=None,
        basis="common practice",
        source="edges, inner corners, walls of pockets and openings, and once along each seam of"
        f" the cut plan; allowance {PRACTICE}",
        why="keeps damp air from getting behind the foam",
    )


def _layers(job: Job) -> int:
    """Return of how many layers the foam is made: one, but where none is sold so thick.

    What a row has is sold, and may measure a little more; beyond that counts the thickest board
    of the built-in catalog.
    """
    row = _row(job)
    sold = (row.get("thickness") if row else None) or 0.0
    if job.layout.foam <= sold * (1 + THICKER):
        return 1
    thickest = max(sold, *(each.get("thickness") or 0.0 for each in load("foam").values()))
    return max(1, math.ceil(job.layout.foam / thickest - SLACK))


def _row(job: Job) -> Row | None:
    """Return the foam's row; None where the build file names none."""
    foam = job.project.foam
    return job.project.part("foam", foam.kind if foam else None)


def _sheets(job: Job) -> Item:
    part_id, name = _board(job)
    layers, found = _layers(job), sheet_of(job.project)
    each_layer = ", for each layer" if layers > 1 else ""
    area = layers * sum(each.length * each.width for each in job.layout.panels)
    if found is None:
        return Item(
            id=part_id, group=GROUP, name=name, unit="m2", net=area * 1e-6,
            allowance=SHEET_WASTE, pack=None, basis="common practice",
            source=f"the panels' area{each_layer}; waste {PRACTICE}",
            why="the panels inside the boards",
        )  # fmt: skip
    length, width = found[0].length * STEP, found[0].width * STEP
    name += f", sheet of {job.length(length)} x {job.length(width)}"
    if job.sheets is not None:
        return Item(
            id=part_id, group=GROUP, name=name, net=layers * len(job.sheets.plan.sheets),
            pack_name="sheet", source=f"the cut plan{each_layer}",
            why="the panels inside the boards",
        )  # fmt: skip
    return Item(
        id=part_id, group=GROUP, name=name, pack_name="sheet", net=area / (length * width),
        allowance=SHEET_WASTE, basis="common practice",
        source=f"the panels' area over a sheet's{each_layer}; waste {PRACTICE}",
        why="the panels inside the boards; a panel longer than a sheet gets a seam",
    )  # fmt: skip


def _board(job: Job) -> tuple[str, str]:
    """Return the foam's id, and its name with its thickness."""
    row = _row(job)
    size, layers = job.length(job.layout.foam), _layers(job)
    name = row.name if row else f"foam board, {size} thick"
    if row is not None and row.get("thickness") is None:
        name += f": {size} thick"
    if layers > 1:
        name += f", in {layers} layers: none is sold so thick"
    return row.id if row else f"foam-{job.slug(job.layout.foam)}", name
