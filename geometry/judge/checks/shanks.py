"""Each shank through its wall: long enough to be clamped and to be reached, not too long.

A shank that ends inside its nut cannot be tightened; one whose thread starts too late is never
tight; one that ends inside the foam has a tail nut that no wrench reaches; a nut that clamps
over foam sinks into it and works loose. The collar is glued by the time anyone finds out.
"""

import math
from collections.abc import Iterator

from ....params.units import force_text
from ..design import Design, at
from ..finding import Check, Finding

SHANK_GRIP = Check(
    id="shank-grip",
    weight="must",
    unit="mm",
    question="is there thread left for the tailpiece after clamping?",
    source="thread less wall, washers and nut; the tailpiece's thread engagement is required",
    levers=("taps.shank", "foam.pocket", "taps.washers"),
)
SHANK_RUN = Check(
    id="shank-run",
    weight="must",
    unit="mm",
    question="can the nut run down to the wall?",
    source="wall and washers less the unthreaded length behind the flange",
    levers=("taps.washers", "taps.shank", "board.stock"),
)
SHANK_PAST_FOAM = Check(
    id="shank-past-foam",
    weight="must",
    unit="mm",
    question="does the shank reach past the insulation, so that the line's nut can be turned?",
    source="shank beyond the foam less the tail nut, or a pocket wide enough for its wrench",
    levers=("taps.shank", "foam.pocket", "foam.thickness"),
)
NUT_ROOM = Check(
    id="nut-room",
    weight="must",
    unit="mm",
    question="can the shank nut be turned in its pocket?",
    source="pocket less the nut's wrench circle",
    levers=("foam.pocket",),
)
FOAM_CRUSH = Check(
    id="foam-crush",
    weight="must",
    unit="times",
    question="is foam that is clamped over crushed?",
    source="foam's strength times the washer's ring over the nut's force, 500 N common practice",
    levers=("foam.pocket", "taps.washer_diameter", "foam.kind"),
)

NUT_FORCE = 500.0
"""Force of a shank nut that is turned hand-tight and a little more, N (common practice)."""


def find_grip(design: Design) -> Iterator[Finding]:
    """Yield the thread that each shank has left behind its nut."""
    for tap in design.layout.taps:
        shank = tap.shank
        if shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield SHANK_GRIP.not_checked(at(tap), missing, "the shank's length")
            continue
        clamped = tap.wall + tap.washers + shank.nut_thickness
        required = design.required(SHANK_GRIP.id, shank.tail_engagement)
        thread = design.text(shank.thread_length)
        why = f"thread {thread} less wall, washers and nut {design.text(clamped)}"
        yield SHANK_GRIP.at_least(at(tap), shank.thread_length - clamped, required, why)


def find_run(design: Design) -> Iterator[Finding]:
    """Yield how far each wall reaches beyond the part of the shank that has no thread."""
    for tap in design.layout.taps:
        if tap.shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield SHANK_RUN.not_checked(at(tap), missing, "where the shank's thread starts")
            continue
        measured = tap.wall + tap.washers - tap.shank.unthreaded
        why = f"{design.text(tap.shank.unthreaded)} behind the flange carry no thread"
        yield SHANK_RUN.at_least(at(tap), measured, design.required(SHANK_RUN.id, 0.0), why)


def find_past_foam(design: Design) -> Iterator[Finding]:
    """Yield how far each tail nut stands clear of the foam, or its wrench of the pocket."""
    for tap in design.layout.taps:
        shank = tap.shank
        if shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield SHANK_PAST_FOAM.not_checked(at(tap), missing, "the shank's length")
            continue
        past = shank.length - tap.insulation - shank.tail_nut_length
        why = "the tail nut stands this far past the insulation"
        if tap.pocket:
            round_it = (tap.pocket - shank.tail_wrench_circle) / 2
            if round_it > past:
                past, why = round_it, "the tail nut's wrench has this much room in the pocket"
        yield SHANK_PAST_FOAM.at_least(at(tap), past, design.required(SHANK_PAST_FOAM.id, 0.0), why)


def find_nut_room(design: Design) -> Iterator[Finding]:
    """Yield the room that each shank nut's wrench has in its pocket."""
    for tap in design.layout.taps:
        if not design.layout.panels:
            yield NUT_ROOM.nothing_near(at(tap), "there is no foam about the nut")
        elif tap.pocket == 0.0:
            yield NUT_ROOM.nothing_near(at(tap), "the nut clamps over the foam, in the open")
        elif tap.shank is None or tap.pocket is None:
            missing = (design.tap_key(tap, "shank"),)
            yield NUT_ROOM.not_checked(at(tap), missing, "the nut's wrench circle")
        else:
            circle = tap.shank.nut_wrench_circle
            required = design.required(NUT_ROOM.id, 0.0)
            why = f"pocket {design.text(tap.pocket)}, wrench circle {design.text(circle)}"
            yield NUT_ROOM.at_least(at(tap), tap.pocket - circle, required, why)


def find_crush(design: Design) -> Iterator[Finding]:
    """Yield how much more than the nut's force the foam under each washer bears, as a ratio."""
    foam = design.project.foam
    row = design.project.part("foam", foam.kind if foam else None)
    strength = row.get("compressive_strength") if row else None
    for tap in design.layout.taps:
        if tap.pocket != 0.0:
            yield FOAM_CRUSH.nothing_near(at(tap), "the nut clamps wood, not foam")
            continue
        missing = [] if strength else ["foam.kind"]
        if tap.shank is None and tap.washer_diameter is None:
            missing.append(design.tap_key(tap, "washer_diameter"))
        if missing or strength is None:
            why = (
                "the foam's strength and the washer"
                if row is None
                else (f"{row.id} has no strength in the catalogue")
            )
            yield FOAM_CRUSH.not_checked(at(tap), missing, why)
            continue
        nut = tap.shank.nut_across_flats if tap.shank else 0.0
        outer = max(nut, tap.washer_diameter or 0.0)
        ring = max(0.0, math.pi / 4 * (outer**2 - tap.bore**2))
        bears = strength / 1000 * ring  # kPa are mN/mm2
        force = force_text(bears, design.project.show)
        why = f"{design.text(outer)} over a {design.text(tap.bore)} bore bear {force}"
        required = design.required(FOAM_CRUSH.id, 1.0)
        yield FOAM_CRUSH.at_least(at(tap), bears / NUT_FORCE, required, why)
