"""Foam: sheets, what glues them, what seals their edges, what covers them."""

import math
from collections.abc import Iterator

from ....params import supplies
from ...shape.hole import Hole
from ...shape.lining import Panel
from ..shown import PRACTICE
from .item import Item, Job
from .lip import cartridges

GROUP = "foam"

LINES_APART = 100.0
"""The most between beads of adhesive across a panel, mm (common practice, no source)."""

SHEET_WASTE = 15.0
"""Added to the panels' area where no cut plan says how they come out of sheets, percent (common
practice)."""

TAPE_WASTE = 15.0
"""Added to tape, percent (common practice): it overlaps."""


def foam(job: Job) -> Iterator[Item]:
    """Yield the foam and what belongs to it; nothing without foam."""
    panels, row = job.layout.panels, supplies.foam_adhesive(job.project)
    if not panels or row is None:
        return
    yield _sheets(job)
    yield cartridges(
        row,
        GROUP,
        sum(bead_length(panel) for panel in panels),
        "beads along the panels' edges and lines between them no more than"
        f" {job.length(LINES_APART)} apart: {PRACTICE}",
        "foam to wood; none into bores, pockets or the opening",
    )
    yield Item(
        id="foil-tape",
        group=GROUP,
        name=f"foil tape, wider than the foam ({job.length(job.layout.foam)})",
        unit="mm",
        net=taped(panels),
        allowance=TAPE_WASTE,
        pack=None,
        basis="common practice",
        source=f"edges, inner corners, walls of pockets and openings; allowance {PRACTICE}",
        why="keeps damp air from getting behind the foam",
    )
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


def bead_length(panel: Panel) -> float:
    """Return the adhesive on a panel, mm: round its edges, and along it every 100 mm across."""
    lines = max(0, math.ceil(panel.width / LINES_APART) - 1)
    return 2 * (panel.length + panel.width) + lines * panel.length


def around(hole: Hole) -> float:
    """Return the length of a hole's edge, mm."""
    if hole.diameter is not None:
        return math.pi * hole.diameter
    return 2 * ((hole.length or 0.0) + (hole.height or 0.0))


def taped(panels: tuple[Panel, ...]) -> float:
    """Return what is taped, mm: top and bottom edges, the upright corners, the edges of holes."""
    edges = sum(2 * each.length + each.width for each in panels)
    return edges + sum(around(hole) for each in panels for hole in each.holes)


def _sheets(job: Job) -> Item:
    foam, panels = job.project.foam, job.layout.panels
    row = job.project.part("foam", foam.kind if foam else None)
    part_id = row.id if row else f"foam-{job.slug(job.layout.foam)}"
    name = row.name if row else f"foam board, {job.length(job.layout.foam)} thick"
    sides = _sheet_size(job)
    if sides is None:
        return Item(
            id=part_id, group=GROUP, name=name, unit="m2",
            net=sum(each.length * each.width for each in panels) * 1e-6,
            allowance=SHEET_WASTE, pack=None, basis="common practice",
            source=f"the panels' area; waste {PRACTICE}", why="the panels inside the boards",
        )  # fmt: skip
    name += f", sheet of {job.length(sides[0])} x {job.length(sides[1])}"
    if job.sheets is not None:
        return Item(
            id=part_id, group=GROUP, name=name, net=len(job.sheets.sheets), pack_name="sheet",
            source="the cut plan", why="the panels inside the boards",
        )  # fmt: skip
    return Item(
        id=part_id, group=GROUP, name=name, pack_name="sheet",
        net=sum(each.length * each.width for each in panels) / (sides[0] * sides[1]),
        allowance=SHEET_WASTE, basis="common practice",
        source=f"the panels' area over a sheet's; waste {PRACTICE}",
        why="the panels inside the boards; a panel longer than a sheet gets a seam",
    )  # fmt: skip


def _sheet_size(job: Job) -> tuple[float, float] | None:
    """Return length and width of a sheet: as the build file says, else the foam's usual ones."""
    foam = job.project.foam
    if foam is not None and foam.sheet is not None:
        return foam.sheet.length, foam.sheet.width
    row = job.project.part("foam", foam.kind if foam else None)
    length, width = (row.get("sheet_length"), row.get("sheet_width")) if row else (None, None)
    return (length, width) if length and width else None
