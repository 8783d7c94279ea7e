"""Bores, passages and the drip tray's pilots: all before the boards are glued."""

from collections.abc import Iterator

from ...handbook.boring import most_rpm
from ...shape.frame import Board
from ...shape.hole import Hole
from . import cautions
from .job import PRACTICE, Job, listed, words
from .step import Step, after

PHASE = "Bores"

LARGE = 12.0
"""From this diameter on a hole is cut with a hole saw or a large bit, mm (common practice)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield what is printed and bored."""
    yield _templates(job)
    yield _bore(job)


def _templates(job: Job) -> Step:
    papers = [f"templates/{part.name}.pdf" for part in job.bored]
    return Step(
        id="templates",
        phase=PHASE,
        title="Print the templates and prove the print",
        do=(
            "Print the test page first, with fit to page turned off.",
            "Measure its bars across the sheet and up it. If they are not true, run collarwright"
            " build FILE with --printed and what 100 mm came out as, and print that.",
            f"Print {words(len(papers), 'template')}; measure the ruler on every page.",
            "Tape the pages of each template together at their marks.",
        ),
        hands=(0.5, 1.5),
        after=after("measure", "buy"),
        papers=("templates/test-page.pdf", *papers),
    )


def _place(job: Job, part: Board, hole: Hole) -> tuple[str, str]:
    names = {f"tap-{tap.number}": f"tap {tap.number}, {tap.name}" for tap in job.layout.taps}
    name = names.get(hole.name, hole.name) if part.kind == "board" else hole.name
    name = name.replace(f"tap {hole.name[4:]}, tap {hole.name[4:]}", f"tap {hole.name[4:]}")
    size = f"{job.length(hole.half_length * 2)} across"
    deep = "" if hole.depth is None else f", {job.length(hole.depth)} deep"
    return (
        f"{part.kind} {part.side}: {name}",
        f"{size}{deep}, {job.length(hole.u)} from the left end, {job.length(hole.v)} up",
    )


def _bore(job: Job) -> Step:
    found = [(part, hole) for part in job.bored for hole in part.holes if not hole.assumed]
    large = sorted({hole.half_length * 2 for _, hole in found if hole.half_length * 2 >= LARGE})
    pilots = [hole for _, hole in found if hole.half_length * 2 < LARGE]
    do = [
        "Fold each template over its board's edges, outer face up, and tape it down; the left end"
        " of the paper is the left end of the board as seen from outside.",
        "Punch every center through the paper.",
        "Clamp the board on a flat backing board, outer face up.",
        "Bore from the outer face until the hole saw's own pilot comes through; turn the board"
        " over, clamp it again, and finish from the inner face, so that neither face splinters.",
    ]
    if job.layout.covers:
        do.append(
            "Covers have an outer template alone: bore them from their outer face, hard down on"
            " the backing board."
        )
    if pilots:
        do.append(
            f"Drill the {words(len(pilots), 'pilot')} of the small holes from the outer face, with"
            " a stop on the bit."
        )
    do.append("Try a shank in each bore, and measure where its center came out.")
    wood = "hardwood" if job.hard else "softwood"
    figures = [_place(job, part, hole) for part, hole in found]
    figures += [
        (f"speed at {job.length(size)}, {wood}", f"at most {most_rpm(size, job.hard):.0f} rpm")
        for size in large
    ]
    sides = listed(list(dict.fromkeys(f"{part.kind} {part.side}" for part, _ in found)))
    return Step(
        id="bore",
        phase=PHASE,
        title=f"Bore the boards: {sides}",
        do=tuple(do),
        hands=(0.5 + 0.15 * len(found), 1.0 + 0.35 * len(found)),
        figures=tuple(figures),
        cautions=(cautions.HOLE_SAW, cautions.DUST),
        after=after("cut", "templates"),
        papers=tuple(
            f"{folder}/{part.name}.pdf"
            for part in job.bored
            for folder in ("templates", "drawings")
        ),
        assumed=job.no_species,
        sources=(
            "speed: the rim at 250 ft/min in softwood, 125 ft/min in hardwood, published on a"
            " teaching page of a machine shop from a drill press chart; a maker of hole saws allows"
            " more, the slower is taken",
            f"from both faces, on a backing board: {PRACTICE}",
        ),
    )
