"""Bores, passages and the drip tray's pilots: all before the boards are glued."""

from collections.abc import Iterator

from ...handbook.boring import most_rpm
from ...shape.frame import Board
from ...shape.hole import TRAY, Hole
from ..shown import PRACTICE
from . import cautions
from .job import Job, called, listed, words
from .saw import inner_templates
from .step import Step, after

PHASE = "Bores"

LARGE = 12.0
"""From this diameter on a hole is cut with a hole saw or a large bit, mm (common practice)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield what is bored."""
    yield _bore(job)


def _place(job: Job, part: Board, hole: Hole) -> tuple[str, str]:
    taps = {tap.hole.name: tap for tap in job.layout.taps}
    name = hole.name
    if name in taps:
        name = called(taps[name])
    elif name.startswith(TRAY):
        name = f"drip tray, screw {name.removeprefix(TRAY)}"
    size = f"{job.bit(hole.half_length * 2)} across"
    deep = "" if hole.depth is None else f", {job.length(hole.depth)} deep"
    return (
        f"{part.kind} {part.side}: {name}",
        f"{size}{deep}, {job.length(hole.u)} from the left end, {job.length(hole.v)} up",
    )


def _bore(job: Job) -> Step:
    found = [(part, hole) for part in job.bored for hole in part.holes if not hole.assumed]
    large = sorted({hole.half_length * 2 for _, hole in found if hole.half_length * 2 >= LARGE})
    do = [
        "Fold each template over its board's edges, outer face up, and tape it down; the left end"
        " of the paper is the left end of the board as seen from outside.",
        "Punch every center through the paper.",
        "Clamp the board on a flat backing board, outer face up.",
        "Bore from the outer face until the point of hole saw or bit comes through; turn the board"
        " over, clamp it again, and finish from the inner face, so that neither face splinters. The"
        " inner template shows where each has to come out.",
    ]
    if job.layout.covers:
        do.append(
            "Covers have an outer template alone: bore them from their outer face, hard down on"
            " the backing board."
        )
    if job.project.tray is not None:
        do.append(
            "Drill the pilots of the drip tray's screws from the outer face, with a stop on the"
            " bit."
        )
    if any(hole.assumed for part in job.parts for hole in part.holes):
        do.append(
            "Bore none of the holes for the hinge or for brackets now: their places are set out"
            " only, and each is marked through the real part in its own step."
        )
    do.append("Try a shank in each bore, and measure where its center came out.")
    wood = "hardwood" if job.hard else "softwood"
    figures = [_place(job, part, hole) for part, hole in found]
    figures += [
        (f"speed at {job.bit(size)}, {wood}", f"at most {most_rpm(size, job.hard):.0f} rpm")
        for size in large
    ]
    covers = sum(part.kind == "cover" for part in job.bored)
    what = [words(len(job.bored) - covers, "board")]
    what += [words(covers, "cover")] if covers else []
    return Step(
        id="bore",
        phase=PHASE,
        title=f"Bore {listed(what)}",
        do=tuple(do),
        hands=(0.5 + 0.15 * len(found), 1.0 + 0.35 * len(found)),
        figures=tuple(figures),
        cautions=(cautions.HOLE_SAW, cautions.DUST),
        after=after("cut", "templates"),
        papers=(
            "lists/holes.csv",
            *(
                f"{folder}/{part.name}.pdf"
                for part in job.bored
                for folder in ("templates", "drawings")
            ),
            *inner_templates(job.bored),
        ),
        assumed=job.no_species,
        sources=(
            "speed: the rim at 250 ft/min in softwood, 125 ft/min in hardwood, published on a"
            " teaching page of a machine shop from a drill press chart; a maker of hole saws allows"
            " more, the slower is taken",
            f"from both faces, on a backing board: {PRACTICE}",
        ),
    )
