"""What goes on the wood: glue, primer, finish, and the paper that it is sanded with."""

from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import Row
from ..shown import PRACTICE
from . import areas
from .item import Item, Job
from .lip import cartridges

GROUP = "glue and finish"

SQUEEZED_OUT = 10.0
"""Added to glue, percent (common practice): it is squeezed out, and sticks to the brush."""

LEFT_IN_THE_BRUSH = 10.0
"""Added to finish, percent (common practice)."""

SHEET = 0.5e6
"""Wood that one sheet of sandpaper of 230 x 280 mm does in one grit, mm2 (from memory)."""

LIGHTLY = 1e6
"""The same between coats, mm2 (from memory)."""

GRITS = (120, 180)
"""Grits before the first coat (common practice)."""

BETWEEN = 220
"""Grit between coats (common practice)."""


def on_the_wood(job: Job) -> Iterator[Item]:
    """Yield glue, primer, finish and sandpaper."""
    yield _glue(job)
    if job.layout.cap is not None and job.layout.cap.steel:
        yield cartridges(
            supplies.strip_adhesive(job.project),
            GROUP,
            sum((strip.long_point + strip.short_point) / 2 for strip in job.layout.strips),
            "one bead along each strip",
            "steel strips on the top edges, if no flush screws hold them",
        )
    area = areas.finished(job.layout)
    coats, primer = supplies.coats(job.project), supplies.primer(job.project)
    if primer is not None:
        yield _brushed(primer, 1, area, "on all the bare wood, before the first coat", bare=True)
    why = "all faces, edges and bores, before the foam; the miters stay bare for the glue"
    yield _brushed(supplies.finish(job.project), coats, area, why, bare=primer is None)
    for grit in GRITS:
        yield _paper(grit, area, SHEET, "before the first coat")
    between = coats if primer is not None else coats - 1
    if between:
        yield _paper(BETWEEN, area * between, LIGHTLY, "lightly, between coats")


def glue_mass(job: Job) -> float:
    """Return the glue that goes into the joints, g.

    Every glue line takes the glue's spread; the two faces of each miter are half end grain and get
    a sizing coat each before. Glue lines: miters, covers on their boards, what holds the miters,
    a wooden cap strip, backing blocks.
    """
    row = supplies.glue(job.project)
    layout = job.layout
    ends = areas.miters(layout)
    flat = sum(areas.covered(layout, cover) for cover in layout.covers)
    flat += sum(areas.joint(each) for each in layout.joints)
    if layout.cap is not None and not layout.cap.steel:
        flat += sum(areas.under(layout, strip) for strip in layout.strips)
    hinge = job.project.hinge
    if hinge is not None and hinge.backing and hinge.positions:
        flat += len(hinge.positions) * (hinge.leaf_width or 0.0) * (hinge.leaf_height or 0.0)
    sizing = 2 * ends * (row.get("sizing_coat") or 0.0)
    return ((ends + flat) * row.value("spread") + sizing) * 1e-6


def _glue(job: Job) -> Item:
    row = supplies.glue(job.project)
    spread, sizing = row.figures["spread"], row.figures.get("sizing_coat")
    said = f"{spread.value:g} g/m2 on each glue line ({spread.source})"
    if sizing is not None:
        said += f", {sizing.value:g} g/m2 first on both faces of each miter ({sizing.source})"
    return Item(
        id=row.id,
        group=GROUP,
        name=row.name,
        unit="mL",
        net=glue_mass(job) / row.value("density") * 1000,
        allowance=SQUEEZED_OUT,
        pack=None,
        basis=spread.basis,
        source=f"{said}; allowance {PRACTICE}",
        why="miters and whatever else is glued wood to wood",
    )


def _brushed(row: Row, coats: int, area: float, why: str, *, bare: bool) -> Item:
    """Return what so many coats of a row take on an area in mm2; ``bare`` wood drinks more."""
    coverage, note = row.figures["coverage"], row.text("note")
    extra = row.get("first_coat_extra") or 0.0
    layers = coats + (extra / 100 if bare else 0.0)
    more = f", the first coat {extra:g} % more" if bare else ""
    return Item(
        id=row.id,
        group=GROUP,
        name=f"{row.name}, {coats} coat{'' if coats == 1 else 's'}",
        unit="mL",
        net=area * 1e-6 * layers / coverage.value * 1000,
        allowance=LEFT_IN_THE_BRUSH,
        pack=None,
        basis=coverage.basis,
        source=f"{area * 1e-6:.2f} m2 at {coverage.value:g} m2/L ({coverage.source}){more};"
        f" allowance {PRACTICE}",
        why=f"{why}; {note}" if note else why,
    )


def _paper(grit: int, area: float, sheet: float, why: str) -> Item:
    return Item(
        id=f"sandpaper-{grit}",
        group=GROUP,
        name=f"sandpaper {grit} grit, sheet",
        net=area / sheet,
        basis="from memory",
        source=f"a sheet of 230 x 280 mm does {sheet * 1e-6:g} m2: from memory, no source",
        why=why,
    )
