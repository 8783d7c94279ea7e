"""Shanks, faucets and handles in their bores."""

from collections.abc import Iterator

from ...shape.taps import Tap
from ..shown import PRACTICE
from . import cautions
from .job import Job, called
from .lid import tips
from .step import Step, after
from .surface import finish_cured

PHASE = "Taps"


def steps(job: Job) -> Iterator[Step]:
    """Yield shanks, then faucets; no handle before every coupling ring is tight."""
    yield _shanks(job)
    yield _faucets(job)


def _shanks(job: Job) -> Step:
    figures: list[tuple[str, str]] = []
    missing: list[str] = []
    for tap in job.layout.taps:
        row = "" if len(job.project.taps) == 1 else f"[{tap.row + 1}]"
        if tap.shank is None:
            missing.append(f"taps{row}.shank")
            continue
        foam = "nut over the foam" if tap.pocket == 0 else "nut on the wood"
        if tap.pocket:
            foam = f"nut in a pocket of {job.length(tap.pocket)}"
        figures.append(
            (
                called(tap),
                f"wall {job.length(tap.wall)}, {foam}, {_washers(job, tap)}",
            )
        )
        if tap.washer_diameter is None:
            missing.append(f"taps{row}.washer_diameter")
    return Step(
        id="shanks",
        phase=PHASE,
        title="Put the shanks in",
        do=(
            "Go by the list of the assembly: it has the order in which each nut can be turned.",
            "Seal the bare wood in the bores, if any is left, and let it dry.",
            "Push each shank through from outside, its flange flat on the face, teeth for the"
            " faucet in front.",
            "Inside: washer, if there is one, then nut. Hold the flange and tighten the nut until"
            " the flange no longer turns; wood is crushed if you go on.",
        ),
        hands=(0.25 + 0.15 * len(job.layout.taps), 0.5 + 0.35 * len(job.layout.taps)),
        figures=tuple(figures),
        cautions=(cautions.FOOD, cautions.PROP, *tips(job)),
        after=(*after("lid-on"), finish_cured(job)),
        papers=(
            "lists/assembly.csv",
            *(("drawings/tap-section.pdf",) if any(t.shank for t in job.layout.taps) else ()),
        ),
        missing=tuple(dict.fromkeys(missing)),
        sources=(f"how tight: {PRACTICE}",),
    )


def _washers(job: Job, tap: Tap) -> str:
    return f"washers {job.length(tap.washers)} thick" if tap.washers else "no washer"


def _faucets(job: Job) -> Step:
    lid = job.project.limits.tighten_with_lid
    do = [
        "Take each faucet apart, wash it, and put it together with food-grade lubricant on its"
        " seals.",
        "Hook the faucet's teeth into the shank's, upright, and screw the coupling ring on by"
        " hand.",
        f"Tighten every ring with the faucet wrench, the lid {lid}. Look at the ring's thread to"
        " see which way it turns.",
        "Screw the handles on last, and pull each: it must not meet a neighbor or the lid.",
    ]
    return Step(
        id="faucets",
        phase=PHASE,
        title="Faucets, then handles",
        do=tuple(do),
        hands=(0.25 + 0.15 * len(job.layout.taps), 0.5 + 0.3 * len(job.layout.taps)),
        cautions=(cautions.FOOD, cautions.ACID),
        after=after("shanks"),
        papers=("lists/assembly.csv", *(("drawings/wrench.pdf",) if _wrench_drawn(job) else ())),
        sources=(f"handles last: {PRACTICE}",),
    )


def _wrench_drawn(job: Job) -> bool:
    """Whether enough is known of a tap and its neighbors for the drawing of the wrench."""
    return any(
        tap.shank and tap.wrench and all(each.shank for each in job.layout.taps_on(tap.side))
        for tap in job.layout.taps
    )
