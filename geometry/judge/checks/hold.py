"""The lid thrown open: do the hinge's screws hold it, and does the collar stay on the lip?

On a bare freezer the hinge is bolted to steel. On a collar it hangs on a board, and the board on
a bead of glue: a lid that is thrown against its stop, or leaned on there, pulls at both.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ....params.catalogue import Row
from ....params.project import Hinge
from ....params.units import force_text, moment_text
from ...handbook.bolts import (
    LEAF_BEARING,
    bearing_across,
    held_times,
    pull_through,
    yield_modes,
)
from ...handbook.fasteners import (
    LEAST_LATERAL,
    combined,
    lateral_limit,
    lateral_share,
    thread_in_wood,
    withdrawal_ultimate,
)
from ...handbook.statics import (
    GRAVITY,
    bond_moment,
    lid_moment,
    pull_on_worst,
    spring_reaction,
    stop_moment,
)
from ...shape.plane import Point, area
from ...shape.screws import hole_diameter
from ..design import Design
from ..finding import Check, Finding, Where

COLLAR_HOLD = Check(
    id="collar-hold",
    weight="must",
    unit="times",
    question="does the collar stay when the lid is thrown open?",
    source="moments about the lip's back edge: own weight and a bond, as wide as the seal leaves"
    " room for, that pulls the more the farther in front, over the lid at its stop and 100 N at its"
    " front edge; 1.5 is common practice",
    levers=("seat.hold_width", "seat.seal", "hinge.open_to", "board.stock"),
    continuous=False,
)
HINGE_HOLD = Check(
    id="hinge-hold",
    weight="must",
    unit="times",
    question="do the hinge's fasteners hold the lid?",
    source="screws: out 108.25 G2 D L (Wood Handbook eq. 8-10), sideways K D2 at the proportional"
    " limit (Wood Handbook ch. 8, from memory), combined as in NDS 12.4.1 (from memory);"
    " bolts: compression across the grain under the washer (Wood Handbook table 5-3), yield modes"
    " of NDS 12.3 without their reduction, shares added (no source, on the safe side);"
    " 1.5 with a pull and 6 without are common practice; a block is taken for the board's wood",
    levers=(
        "hinge.bolt_washer",
        "hinge.bolt",
        "hinge.screw_length",
        "hinge.backing",
        "hinge.screw",
        "hinge.screws",
        "hinge.leaf_height",
        "board.stock",
    ),
    continuous=False,
)

PULL = 100.0
"""What somebody pulls or leans on the open lid's front edge with, N (common practice)."""

LID_KEYS = (
    "lid.mass", "lid.overhang.front", "lid.overhang.back", "lid.thickness", "hinge.axis_behind",
    "hinge.axis_above", "hinge.open_to",
)  # fmt: skip
SCREW_KEYS = (
    "hinge.positions", "hinge.leaf_height", "hinge.leaf_thickness", "hinge.screw",
    "hinge.screw_length", "hinge.screws", "hinge.spring", "board.species",
)  # fmt: skip
BOLT_KEYS = (
    "hinge.positions", "hinge.leaf_height", "hinge.leaf_thickness", "hinge.bolt",
    "hinge.bolt_washer", "hinge.screws", "hinge.spring", "board.species",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Lid:
    """The closed lid from its hinge axis: mass, kg, center of mass and front edge, mm.

    The lid is taken for an even slab from edge to edge, so its center is the slab's.
    """

    mass: float
    ahead: float
    above: float
    front: float
    under: float
    open_to: float

    @property
    def weight(self) -> float:
        """Weight, N."""
        return self.mass * GRAVITY


def _lid(design: Design) -> _Lid | None:
    """Return the lid as the statics need it; None where a reading is missing."""
    section, axis, hinge = design.layout.lid, design.layout.hinge, design.project.hinge
    mass = design.project.lid.mass if design.project.lid else None
    if section is None or axis is None or hinge is None or mass is None or hinge.open_to is None:
        return None
    if section.front_y is None or section.back_y is None or section.top_z is None:
        return None
    return _Lid(
        mass=mass,
        ahead=axis.y - (section.front_y + section.back_y) / 2,
        above=(section.under_z + section.top_z) / 2 - axis.z,
        front=axis.y - section.front_y,
        under=section.under_z - axis.z,
        open_to=hinge.open_to,
    )


# --- the collar on the lip ------------------------------------------------------------------------


def find_collar(design: Design) -> Iterator[Finding]:
    """Yield what holds the collar down over what tips it back, both about the lip's back edge."""
    where, seat = Where(text="collar"), design.project.seat
    lid, species = _lid(design), design.project.part("species", design.project.board.species)
    missing = design.lacking("seat.hold", "board.species", *LID_KEYS)
    if missing or seat is None or lid is None or species is None:
        yield COLLAR_HOLD.not_checked(where, missing, "what holds the collar, and its lid's stop")
        return
    required = design.required(COLLAR_HOLD.id, 1.5)
    own, tips = _own_weight(design, species.value("density")), _tips(design, lid)
    if seat.hold == "cleats":
        why = "held by its own weight alone: cleats keep it from sliding, not from tipping"
        yield COLLAR_HOLD.at_least(where, own / tips, required, why)
        return
    lip, width, bond = design.layout.lip, design.layout.held_width, 0.0
    if seat.hold_strength is not None:
        # kPa are mN/mm2
        bond = bond_moment(lip.width, lip.depth, seat.hold_strength / 1000 * width)
    elif width and own / tips < required:
        why = f"its own weight holds {own / tips:.2f} of what tips it; the {seat.hold} adds to that"
        yield COLLAR_HOLD.not_checked(where, ("seat.hold_strength",), why)
        return
    show = design.project.show
    beside = "beside the seal" if seat.seal else "on the lip"
    room = f", {design.text(width)} of it {beside}," if width < seat.hold_width else ""
    why = (
        f"its own weight holds {moment_text(own, show)} and the {seat.hold}{room}"
        f" {moment_text(bond, show)}; the lid at its stop, pulled at its front edge, tips with"
        f" {moment_text(tips, show)}"
    )
    yield COLLAR_HOLD.at_least(where, (own + bond) / tips, required, why)


def _own_weight(design: Design, density: float) -> float:
    """Return the moment of the boards' weight about the lip's back edge, N mm.

    The boards before boring; what taps, foam and manifold add is left out, on the safe side.
    ``density`` in kg/m3.
    """
    depth, moment = design.layout.lip.depth, 0.0
    for board in design.layout.boards:
        surface, middle = area(board.plan), _center_y(board.plan)
        moment += surface * board.width * density * 1e-9 * GRAVITY * (depth - middle)
    return moment


def _center_y(corners: tuple[Point, ...]) -> float:
    """Return the y of the center of a simple polygon's area."""
    following = corners[1:] + corners[:1]
    total = sum(
        (a[1] + b[1]) * (a[0] * b[1] - b[0] * a[1]) for a, b in zip(corners, following, strict=True)
    )
    return total / (6 * area(corners))


def _tips(design: Design, lid: _Lid) -> float:
    """Return what tips the collar back about the lip's back edge, N mm.

    The lid's weight at its stop, as far as it hangs behind that edge (a lid that still leans to
    the front is not counted as a help), and the pull at its front edge in the direction that
    tips most.
    """
    lip, axis = design.layout.lip, design.layout.hinge
    assert axis is not None
    behind = axis.y - lip.depth
    weight = -lid_moment(lid.mass, lid.ahead, lid.above, lid.open_to) + lid.weight * behind
    th = math.radians(lid.open_to)
    back = behind - lid.front * math.cos(th) + lid.under * math.sin(th)
    up = axis.z + design.layout.seal + lid.front * math.sin(th) + lid.under * math.cos(th)
    return max(0.0, weight) + PULL * math.hypot(back, up)


# --- the leaf on the board ------------------------------------------------------------------------


def find_hinge(design: Design) -> Iterator[Finding]:
    """Yield how many times the worst screw or bolt holds its load, with a pull and without."""
    project, hinge, lid = design.project, design.project.hinge, _lid(design)
    species = project.part("species", project.board.species)
    bolted = hinge is not None and hinge.fix == "bolt"
    missing = design.lacking(*LID_KEYS, *(BOLT_KEYS if bolted else SCREW_KEYS))
    # the builder's limit means the hinge as it hangs; a pull is the rarer load and asks for less
    alone = design.required(HINGE_HOLD.id, 6.0)
    for pull, required, text in (
        (PULL, min(1.5, alone), "with a pull"),
        (0.0, alone, "without a pull"),
    ):
        where = Where(side="back", text=text)
        if missing or hinge is None or lid is None or species is None:
            yield HINGE_HOLD.not_checked(where, missing, "the lid's weight and what carries it")
            continue
        load = _load(hinge, lid, pull)
        pulled = "without a pull"
        if pull:
            pulled = f"with a pull of {force_text(pull, project.show)} at the lid's front edge"
        held = (_bolt if bolted else _screw)(design, hinge, species, load)
        if held is None:
            why = "what the boards' species bears under a washer is not in its catalogue row"
            yield HINGE_HOLD.not_checked(where, (), why)
            continue
        yield HINGE_HOLD.at_least(where, held[0], required, f"{pulled}: {held[1]}")


@dataclass(frozen=True, slots=True)
class _Load:
    """What the worst screw or bolt of a leaf takes, N: out of the wood and across; and why."""

    out: float
    across: float
    what: str


def _load(hinge: Hinge, lid: _Lid, pull: float) -> _Load:
    """Return the load on the worst screw or bolt of a leaf.

    Each leaf takes its share of the lid's weight, across the screws, and of the moment: the
    spring's greatest reaction in the whole swing, or the stop's, and the pull's. A stiff leaf
    turns about its upper or lower edge; the screws stand alike from both.
    """
    leaves, count = len(hinge.positions or ()), hinge.screws or 1
    pitch = (hinge.leaf_height or 0.0) / count
    levers = tuple(pitch * (place + 0.5) for place in range(count))
    if hinge.spring:
        moment, at = spring_reaction(lid.mass, lid.ahead, lid.above, lid.open_to)
        turns = f"the spring at {at:.0f} deg of the swing"
    else:
        moment = stop_moment(lid.mass, lid.ahead, lid.above, lid.open_to)
        turns = "the stop" if moment else ""
    out = pull_on_worst((moment + pull * lid.front) / leaves, levers)
    weight = "the lid's weight" + ("" if turns else " (it leans to the front and needs no stop)")
    parts = [part for part in (turns, "the pull" if pull else "") if part]
    what = f"{', '.join(parts)} and {weight} put" if parts else f"{weight} puts"
    return _Load(out, lid.weight / leaves / count, what)


def _screw(design: Design, hinge: Hinge, species: Row, load: _Load) -> tuple[float, str]:
    """Return how many times the worst screw holds its load, and how."""
    total, show = math.hypot(load.out, load.across), design.project.show
    holds, how = _capacity(design, hinge, species, math.atan2(load.out, load.across))
    why = (
        f"{load.what} {force_text(load.out, show)} out of the wood and"
        f" {force_text(load.across, show)} sideways on the worst screw; {how}:"
        f" {force_text(holds, show)} of such a load"
    )
    return holds / total, why


def _bolt(design: Design, hinge: Hinge, species: Row, load: _Load) -> tuple[float, str] | None:
    """Return how many times the worst bolt holds its load, and how; None without its species' row.

    The weight loads it across the grain; the pull presses its washer into the wood inside. Cover,
    board and backing block are taken for one piece of the boards' wood.
    """
    bolt, washer = hinge.bolt or 0.0, hinge.bolt_washer or 0.0
    hole, compression = hole_diameter(design.project, hinge), species.get("compression_across")
    if compression is None or hole is None:
        return None
    bears = bearing_across(species.value("specific_gravity"), bolt)
    modes = yield_modes(
        bolt, _wood(design, hinge), hinge.leaf_thickness or 0.0, bears, LEAF_BEARING
    )
    mode = min(modes, key=lambda each: modes[each])
    # kPa are mN/mm2
    out = pull_through(compression / 1000, washer, hole, bolt)
    show = design.project.show
    why = (
        f"{load.what} {force_text(load.out, show)} out and"
        f" {force_text(load.across, show)} sideways on the worst bolt; its washer holds"
        f" {force_text(out, show)} and the bolt {force_text(modes[mode], show)} sideways"
        f" (yield mode {mode}); shares added"
    )
    return held_times(load.out, load.across, out, modes[mode]), why


def _wood(design: Design, hinge: Hinge) -> float:
    """Return what the hinge's screws or bolts go through: cover, board and backing block, mm."""
    layout = design.layout
    return layout.board("back").thickness + layout.leaf_out + (hinge.backing or 0.0)


def _capacity(design: Design, hinge: Hinge, species: Row, angle: float) -> tuple[float, str]:
    """Return what a screw holds of a load at an angle to the wood's face, radians, and how.

    Cover, board and backing block are taken for one piece of the boards' wood.
    """
    screw, wood = design.project.part("screws", hinge.screw), _wood(design, hinge)
    assert screw is not None
    length, through = hinge.screw_length or 0.0, hinge.leaf_thickness or 0.0
    diameter, gravity = screw.value("shank_diameter"), species.value("specific_gravity")
    thread = thread_in_wood(length, screw.value("threaded_share"), through, wood, diameter)
    deep = max(0.0, min(wood, length - through))
    withdrawal = withdrawal_ultimate(gravity, diameter, thread)
    limit = lateral_limit(gravity, species.text("kind") == "hardwood", diameter) or 0.0
    lateral = limit * lateral_share(deep, diameter)
    show = design.project.show
    how = f"it holds {force_text(withdrawal, show)} straight out and"
    if lateral:
        how += f" {force_text(lateral, show)} sideways"
    elif limit:
        how += (
            f" nothing sideways (it goes {design.text(deep)} into the wood, less than its 4"
            f" diameters, {design.text(LEAST_LATERAL * diameter)}, which counts as nothing"
            " sideways)"
        )
    else:
        how += " nothing sideways (no value is known for so light a wood)"
    return combined(withdrawal, lateral, math.degrees(angle)), how
