"""Vessels one by one: does each stand under the lid, go down the collar, and who lifts it?

A keg that is 10 mm too tall holds the lid open; one that does not pass the shanks is found out
with the collar glued and the freezer full of ice.
"""

from collections.abc import Iterator

from ...shape.stands import best, spots
from ...shape.vessel import Vessel
from ..design import WELL_KEYS, Design
from ..finding import Check, Finding, Where

HEAD_ROOM = Check(
    id="head-room",
    weight="must",
    unit="mm",
    question="does each vessel with its fitting stand under the lid?",
    source="well, seal, board and cap less plug, vessel and fitting; 5 mm is common practice",
    levers=("board.stock", "cap.thickness", "vessel.kind"),
)
OPENING = Check(
    id="opening",
    weight="must",
    unit="mm",
    question="does each vessel go down through the collar?",
    source="largest circle that passes between boards, foam, shanks and manifold, less the"
    " vessel; 5 mm is common practice",
    levers=(
        "foam.thickness",
        "foam.kind",
        "taps.shank",
        "manifold.side",
        "board.stock",
        "vessel.kind",
    ),
)
FOAM_LAND = Check(
    id="foam-land",
    weight="advice",
    unit="mm",
    question="does foam hang over the well's edge, where vessels knock it off?",
    source="board, foam and overhang against the lip's land; common practice",
    levers=("foam.thickness", "foam.kind", "board.overhang", "board.stock"),
)
LIFT = Check(
    id="lift",
    weight="advice",
    unit="kg",
    question="can one person lift it in?",
    source="23 kg: the load constant of the revised NIOSH lifting equation (1994), from memory",
    levers=("vessel.kind",),
)


def _no_vessel(check: Check) -> Finding:
    return check.not_checked(Where(), ("vessel",), "which vessels are to stand in the well")


def vessel_key(design: Design, vessel: Vessel, key: str) -> str:
    """Return a key of the vessel's own row."""
    return f"vessel[{vessel.row + 1}].{key}"


def find_head_room(design: Design) -> Iterator[Finding]:
    """Yield the room over each vessel's fitting where there is most of it."""
    layout = design.layout
    if not layout.inside.vessels:
        yield _no_vessel(HEAD_ROOM)
    required = design.required(HEAD_ROOM.id, 5.0)
    lacking = design.lacking(*WELL_KEYS, "lid.plug") if layout.inside.vessels else ()
    for vessel in layout.inside.vessels:
        where = Where(vessel=vessel.name)
        missing = lacking
        if vessel.fitting is None:
            missing = (*missing, vessel_key(design, vessel, "fitting"))
        if missing:
            yield HEAD_ROOM.not_checked(where, missing, "the heights of well, plug and fitting")
            continue
        spot = best(spots(design.project, layout, vessel, required))
        why = f"on the {spot.on}" + ("" if spot.wide else ", if it had room there")
        if spot.room < required:
            needed = layout.frame.height + required - spot.room
            why += f"; boards {design.text(needed)} wide would do"
        yield HEAD_ROOM.at_least(where, spot.room, required, why)


def find_opening(design: Design) -> Iterator[Finding]:
    """Yield how much wider than each vessel the widest way down is."""
    inside = design.layout.inside
    if not inside.vessels:
        yield _no_vessel(OPENING)
        return
    well = inside.well
    if well is None:
        missing = design.lacking(*WELL_KEYS)
        for vessel in inside.vessels:
            yield OPENING.not_checked(Where(vessel=vessel.name), missing, "the well's mouth")
        return
    unknown = [tap for tap in design.layout.taps if tap.shank is None]
    lacking = [design.tap_key(tap, "shank") for tap in unknown]
    if lacking:
        for vessel in inside.vessels:
            yield OPENING.not_checked(Where(vessel=vessel.name), lacking, "the shanks inside")
        return
    # Only a build file with vessels pays for the library under it.
    from ...plan.packing import Rect, largest_opening

    rects = [well.mouth, *(opening.rect for opening in inside.openings)]
    found = largest_opening(
        [Rect(r.x0, r.y0, r.x1, r.y1) for r in rects],
        [Rect(b.rect.x0, b.rect.y0, b.rect.x1, b.rect.y1) for b in inside.inner],
    )
    wide = found.diameter if found else 0.0
    required = design.required(OPENING.id, 5.0)
    for vessel in inside.vessels:
        why = f"{design.text(vessel.diameter)} across; a circle of {design.text(wide)} passes"
        if found:
            why += f", {design.text(found.x)} from the lip's left and {design.text(found.y)}"
            why += " from its front edge"
        yield OPENING.at_least(Where(vessel=vessel.name), wide - vessel.diameter, required, why)


def find_land(design: Design) -> Iterator[Finding]:
    """Yield, for each side, how far the foam reaches in beyond the lip's hard land."""
    layout, lip = design.layout, design.project.lip
    for board in layout.boards:
        where = Where(side=board.side)
        panel = layout.panel(board.side)
        if panel is None:
            yield FOAM_LAND.nothing_near(where, "there is no foam")
            continue
        missing = list(design.lacking("lip.land"))
        if design.project.well is None:
            missing.append("well")
        if not design.project.vessel:
            missing.append("vessel")
        if missing or lip.land is None:
            yield FOAM_LAND.not_checked(where, missing, "whether vessels go past the foam's edge")
            continue
        over = min(board.over_left, board.over_right)
        measured = board.thickness - over + panel.thickness - (lip.land_starts + lip.land)
        required = design.required(FOAM_LAND.id, 0.0)
        why = "the foam's inner face beyond the inner edge of the land"
        yield FOAM_LAND.at_most(where, measured, required, why)


def find_lift(design: Design) -> Iterator[Finding]:
    """Yield each vessel's mass when full, and how high it has to be lifted."""
    layout, room = design.layout, design.project.room
    if not layout.inside.vessels:
        yield _no_vessel(LIFT)
    over = layout.seal + layout.sealing_z
    for vessel in layout.inside.vessels:
        where = Where(vessel=vessel.name)
        if vessel.full_mass is None:
            missing = (vessel_key(design, vessel, "kind"),)
            yield LIFT.not_checked(where, missing, "its mass when full")
            continue
        if room is not None and room.lip_height is not None:
            why = f"its foot goes {design.text(room.lip_height + over)} above the floor"
        else:
            why = f"its foot goes {design.text(over)} above the lip's plane (add room.lip_height)"
        yield LIFT.at_most(where, vessel.full_mass, design.required(LIFT.id, 23.0), why)
