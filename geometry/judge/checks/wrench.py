"""Can the faucet wrench turn each coupling ring? The free arc about it, for one bite at least.

The wrench is a capsule: an arm of half width w with a rounded tip at the reach l from the
ring's axis. Neighbouring rings and bodies are discs, keep-outs are rectangles, the lid (only if
``limits.tighten_with_lid`` says closed) is a level edge. Only what stands out past the flange
reaches into the slab that the arm sweeps; the tap's own faucet, and all levers, spouts and
handles, begin farther out. So fitting the last faucet and taking any one off to clean it find
the same things in the way, with all others on, and one arc answers both.

The arcs themselves are ``shape.turning``'s.
"""

from collections.abc import Iterator

from ...shape.keep_out import Place, places
from ...shape.taps import Shank, Tap, Wrench
from ...shape.turning import Arc, FreeArc, box_arc, disc_arc, edge_arc, largest_free
from ..design import Design, at
from ..finding import Check, Finding

WRENCH_SWING = Check(
    id="wrench-swing",
    weight="must",
    unit="deg",
    question="can the faucet wrench turn each coupling ring?",
    source="plane geometry of the arm; a bite of 360 deg / holes in the ring, and 5 deg to seat"
    " it, is common practice",
    levers=("taps.spacing", "taps.wrench"),
    continuous=False,
)


def free_arc(design: Design, tap: Tap) -> FreeArc | None:
    """Return the largest free arc about a tap's ring, for a drawing; None where it is not known.

    What the lid or a neighbour lacks is taken as not in the way: the finding says what is missing.
    """
    if tap.shank is None or tap.wrench is None:
        return None
    if any(other.shank is None for other in design.neighbours(tap)):
        return None
    lid_closed = design.project.limits.tighten_with_lid == "closed"
    return largest_free(list(_blocked(design, tap, tap.shank, tap.wrench, lid_closed)))


def find(design: Design) -> Iterator[Finding]:
    """Yield, for each tap, the largest free arc of the wrench about its coupling ring."""
    lid_closed = design.project.limits.tighten_with_lid == "closed"
    for tap in design.taps:
        shank, wrench = tap.shank, tap.wrench
        missing = [
            design.tap_key(tap, key)
            for key, part in (("shank", shank), ("wrench", wrench))
            if part is None
        ]
        missing += [
            design.tap_key(other, "shank")
            for other in design.neighbours(tap)
            if other.shank is None
        ]
        if lid_closed:
            missing += design.lacking(f"lid.overhang.{tap.side}", f"lid.skirt.{tap.side}")
        if missing or shank is None or wrench is None:
            yield WRENCH_SWING.not_checked(at(tap), missing, "the wrench's reach, the ring's size")
            continue
        free = largest_free(list(_blocked(design, tap, shank, wrench, lid_closed)))
        holes = shank.ring_holes
        required = design.required(WRENCH_SWING.id, 360.0 / holes + 5.0)
        where = free.text if free.size > 0.0 else "none"
        why = (
            f"largest free arc, {where}; the same to fit the last faucet and to take this one off"
            f" to clean; one bite of a ring with {holes:g} holes is {360 / holes:.0f} deg"
            " (rings have 2 to 8: count yours)"
        )
        yield WRENCH_SWING.at_least(at(tap), free.size, required, why)


def _blocked(
    design: Design, tap: Tap, shank: Shank, wrench: Wrench, lid_closed: bool
) -> Iterator[Arc]:
    """Yield what stands in the arm's way about one tap, seen from outside."""
    for other in design.neighbours(tap):
        assert other.shank is not None
        body = other.faucet.body_width if other.faucet else 0.0
        radius = max(other.shank.ring_diameter, body) / 2
        arc = disc_arc(other.u - tap.u, other.v - tap.v, radius, wrench)
        if arc:
            yield arc
    if design.project.keep_out:
        for place in places(design.project, design.layout.board(tap.side)):
            # What ends behind the flange's face stays behind the slab that the arm sweeps.
            if place.stands_before(tap.cover + shank.flange_thickness):
                arc = box_arc(*_box(place, tap), wrench)
                if arc:
                    yield arc
    if lid_closed:
        arc = _lid_arc(design, tap, shank, wrench)
        if arc:
            yield arc


def _box(place: Place, tap: Tap) -> tuple[float, float, float, float]:
    """Return a keep-out's left, right, low and high from the ring's axis, mm."""
    return place.left - tap.u, place.right - tap.u, place.low - tap.v, place.high - tap.v


def _lid_arc(design: Design, tap: Tap, shank: Shank, wrench: Wrench) -> Arc | None:
    """Return what the closed lid blocks, if it stands further out than the flange's face."""
    lid = design.project.lid
    overhang = lid.overhang.on(tap.side) if lid and lid.overhang else None
    skirt = lid.skirt.on(tap.side) if lid and lid.skirt else None
    if overhang is None or skirt is None:
        return None
    board = design.layout.board(tap.side)
    face = max(board.over_left, board.over_right) + tap.cover + shank.flange_thickness
    return None if overhang <= face else edge_arc(design.layout.sealing_z - skirt - tap.v, wrench)
