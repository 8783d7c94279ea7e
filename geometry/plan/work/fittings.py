"""What is fixed on the frame before the foam: brackets, cleats, steel strips."""

from collections.abc import Iterator

from ....params import supplies
from ....params.catalogue import load
from ...shape.hole import BRACKET_SET_OUT
from ...shape.screws import pilot_diameter
from ..materials.fixings import (
    CLEAT_SCREW,
    CLEAT_SCREWS,
    CLEATS_A_SIDE,
    cleat_pilot,
    cleat_screw,
    cleat_thickness,
)
from ..shown import PRACTICE
from . import cautions
from .job import Job, hours, source, time_text
from .saw import inner_templates
from .step import After, Step, after
from .surface import finish_cured

PHASE = "Lining"

PILOT_RULE = (
    "pilot: 70 % of the thread's root in softwood, 90 % in hardwood (NDS commentary 11.1.2.1; Wood"
    " Handbook chapter 8 has about the same); root diameters from memory"
)


def steps(job: Job) -> Iterator[Step]:
    """Yield what the build file asks for of it."""
    if job.layout.brackets:
        yield _brackets(job)
    if job.cleated:
        yield _cleats(job)
    if job.layout.cap and job.layout.cap.steel:
        yield _steel_cap(job)


def _brackets(job: Job) -> Step:
    row = job.project.part("brackets", job.project.board.bracket)
    assert row is not None
    screw = job.project.part("screws", row.text("screw") or None)
    holes = [
        hole
        for board in job.layout.boards
        for hole in board.holes
        if hole.name.startswith(BRACKET_SET_OUT)
    ]
    figures = [
        ("bracket", row.name),
        ("screws", f"{len(holes)}" + (f", {screw.name}" if screw else "")),
    ]
    if holes:
        hole = holes[0]
        deep = job.both(hole.depth) if hole.depth is not None else "through"
        figures += [
            ("pilot", f"{job.bit_both(hole.half_length * 2)} across, {deep} deep"),
            ("wood", job.wood),
        ]
        figures.append(("middle of the bracket, from the bottom edge up", job.length(hole.v)))
    return Step(
        id="brackets",
        phase=PHASE,
        title="Screw the brackets into the inner corners",
        do=(
            "Hold each bracket in its corner and mark through its own holes: those on the papers"
            " are the catalogue's estimate.",
            "Drill the pilots with a stop on the bit: none may come out at the face.",
            "Drive the screws by hand; use some wax.",
        ),
        hands=(0.5, 1.0),
        figures=tuple(figures),
        after=(finish_cured(job),),
        papers=inner_templates(job.layout.boards),
        assumed=job.no_species,
        sources=(PILOT_RULE,),
    )


def _cleats(job: Job) -> Step:
    board, screw = job.layout.boards[0], load("screws")[CLEAT_SCREW]
    count = CLEATS_A_SIDE * len(job.layout.boards)
    pilot = job.bit_both(pilot_diameter(job.project, screw))
    deep, longest = job.both(cleat_pilot(board)), job.both(cleat_screw(job))
    return Step(
        id="cleats",
        phase=PHASE,
        title="Screw the cleats to the boards",
        do=(
            f"Hold {CLEATS_A_SIDE} on each inner face, clear of brackets, bores and manifold, so"
            " that they reach a little way down inside the lip. Where the lip reaches farther in"
            " than the board, notch the cleat over it; what is left of it hangs down just inside.",
            "They are screwed to the boards, never to the freezer. They keep the collar from"
            " sliding, and hold nothing down.",
            f"Bore each cleat through for its {CLEAT_SCREWS} screws, then drill the pilots in the"
            " board with a stop on the bit: none may come out at the outer face.",
            "Drive the screws by hand; use some wax. A point that comes out of the face cuts.",
        ),
        hands=(0.75, 1.5),
        figures=(
            ("cleats", f"{count}, {job.both(cleat_thickness(job))} thick"),
            ("pilots in the boards", f"{pilot} across, {deep} deep, in {job.wood}"),
            ("screws", f"{count * CLEAT_SCREWS}, {screw.name}"),
            ("a screw is from under its head at most", longest),
        ),
        cautions=(cautions.WALLS,),
        after=(finish_cured(job),),
        missing=() if job.project.lip.land is not None else ("lip.land",),
        assumed=job.no_species,
        sources=(PILOT_RULE, f"how many cleats and screws: {PRACTICE}"),
    )


def _steel_cap(job: Job) -> Step:
    cap, row = job.layout.cap, supplies.strip_adhesive(job.project)
    assert cap is not None
    return Step(
        id="cap",
        phase=PHASE,
        title="Fix the steel strips on the top edges",
        do=(
            "Lay the strips on and close their corners; break every edge that a hand can meet.",
            "Fix them with an adhesive for wood and metal, or with flush screws beside the gasket's"
            " line; the top has to be flat all round: a magnetic gasket closes on it.",
        ),
        hands=(0.5, 1.0),
        figures=(
            ("strip, thickness by width", f"{job.length(cap.thickness)} x {job.length(cap.width)}"),
            ("from the outer face in to the strip", job.length(cap.inset)),
            ("if it is glued, cured after", time_text(hours(row, "cure"))),
        ),
        cautions=(cautions.STEEL, cautions.FUMES),
        after=(*after("cut"), finish_cured(job)),
        sources=("how a strip is fixed is not in the build file", source(row, "cure")),
    )


def strips_hold(job: Job) -> tuple[After, ...]:
    """Return the wait until steel strips may be pulled at by the lid's magnets."""
    cap = job.layout.cap
    if cap is None or not cap.steel:
        return ()
    cure = hours(supplies.strip_adhesive(job.project), "cure")
    return (After("cap", cure, "for the adhesive of the steel strips to cure"),)
