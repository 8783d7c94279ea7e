"""The opening lid's edges: does the rear one foul the collar, does the front one clear the taps?

The lid turns on a pin that was moved when the collar came between: what hangs below its
sealing plane, and what lies behind the pin, swings at the wood, the leaf, a tap on the back. In
front its edge first swings outward, and a handle at rest leans back toward it.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

from ....params.project import Project
from ...shape.envelope import OUTSIDE
from ...shape.lid import HingeAxis, LidSection
from ...shape.rear import collar_back, met_at, standing
from ...shape.section import Named, Section, box
from ...shape.swing import Meeting, nearest_of
from ...shape.taps import Tap
from ..design import Design, at
from ..finding import Check, Finding, Where

LID_BACK = Check(
    id="lid-back",
    weight="must",
    unit="mm",
    question="does the lid's rear edge or plug foul the collar, the leaf, a tap on the back?",
    source="closed form over the whole sweep; 2 mm, or the axis' distance from the face if that"
    " is less, is common practice",
    levers=("hinge.axis_above", "hinge.axis_behind", "board.overhang", "foam.thickness"),
    continuous=False,
)
LID_FRONT = Check(
    id="lid-front",
    weight="must",
    unit="mm",
    question="does the lid's edge clear flange, ring, faucet and handle of every tap?",
    source="closed form over the whole sweep, closed lid included; 3 mm is common practice",
    levers=("taps.height", "taps.handle", "board.overhang", "cover.thickness", "taps.faucet"),
)

HINGE = ("hinge.axis_behind", "hinge.axis_above", "hinge.open_to")


def find_back(design: Design) -> Iterator[Finding]:
    """Yield the least gap between the collar's back and what of the lid swings at it."""
    project, layout = design.project, design.layout
    where = Where(side="back")
    keys = ["lid.overhang.back", "lid.thickness", "lid.skirt.back", "lid.plug"]
    lid = project.lid
    if lid and lid.skirt and lid.skirt.back:
        keys.append("lid.skirt_thickness.back")
    if lid and lid.plug:
        keys += ["lid.plug_inset.front", "lid.plug_inset.back", "lid.overhang.front"]
    missing = [*design.lacking(*keys, *HINGE), *_without(design, layout.taps_on("back"))]
    if missing or not (layout.lid and layout.hinge and project.hinge and project.hinge.open_to):
        yield LID_BACK.not_checked(where, missing, "the lid's rear edge, its hinge, what is there")
        return
    moving = layout.lid.behind(layout.hinge)
    if not moving:
        why = "nothing of the lid hangs below its sealing plane or lies behind the hinge axis"
        yield LID_BACK.nothing_near(where, why)
        return
    face = layout.back_y
    fixed = (*collar_back(project, layout), *_back_taps(design, face))
    met = nearest_of(moving, fixed, layout.hinge.point, project.hinge.open_to)
    assert met is not None
    what = met_at(met.fixed, met.nearest.place, face, layout.board("back").thickness)
    met = replace(met, fixed=what)
    behind = layout.hinge.y - face - layout.leaf_out
    required = design.required(LID_BACK.id, max(0.0, min(2.0, behind)))
    yield LID_BACK.at_least(where, met.nearest.gap, required, _told(design, met))


def _back_taps(design: Design, face: float) -> Iterator[Named]:
    """Yield every envelope of the back's taps, those inside too: the plug may come there."""
    for tap in design.layout.taps_on("back"):
        for each in design.layout.envelopes_of(tap):
            yield f"{each.reason} of tap {tap.number}", standing(each, face)


def _without(design: Design, taps: tuple[Tap, ...]) -> list[str]:
    """Return the keys of the parts that these taps' envelopes lack."""
    return [
        design.tap_key(tap, key)
        for tap in taps
        for key, part in (("shank", tap.shank), ("faucet", tap.faucet), ("handle", tap.handle))
        if part is None
    ]


def _told(design: Design, met: Meeting) -> str:
    """Say what meets what, at which angle and where; or what comes nearest."""
    near, pair = met.nearest, (met.moving, met.fixed)
    there = f"{near.angle_deg:.1f} deg, {design.text(near.place[1])} above the collar's bottom edge"
    if near.gap > 0.0:
        return f"the {pair[0]} comes nearest to the {pair[1]} at {there}"
    deepest = f", deepest at {near.deepest_deg:.1f} deg" if near.gap < 0.0 else ""
    return f"the {pair[0]} first meets the {pair[1]} at {there}{deepest}"


def find_front(design: Design) -> Iterator[Finding]:
    """Yield, for each tap, the least gap from its envelopes to the lid's edge on that side."""
    project, layout = design.project, design.layout
    for tap in design.taps:
        if tap.side == "back":
            yield LID_FRONT.nothing_near(at(tap), "a tap on the back is lid-back's matter")
            continue
        keys = {"lid.overhang.front", f"lid.overhang.{tap.side}", f"lid.skirt.{tap.side}"}
        missing = [
            *design.lacking(*sorted(keys), "lid.thickness", *HINGE),
            *_without(design, (tap,)),
        ]
        hinge = project.hinge
        if missing or not (layout.lid and layout.hinge and hinge and hinge.open_to):
            yield LID_FRONT.not_checked(at(tap), missing, "the lid's edge, its hinge, the tap")
            continue
        outside = [each for each in layout.envelopes_of(tap) if each.reason in OUTSIDE]
        over = _over(design, tap)
        if tap.side == "front":
            edge = layout.lid.front_edge(layout.hinge)
            fixed = [(each.reason, standing(each, -over)) for each in outside]
            axis, open_to, name = layout.hinge.point, hinge.open_to, "lid's front edge"
        else:
            edge = _side_edge(project, layout.lid, layout.hinge, tap, over, _across(design, tap))
            fixed = [(each.reason, each.section) for each in outside]
            axis, open_to, name = (0.0, 0.0), 0.0, f"lid's {tap.side} edge"
        if edge is None:
            yield LID_FRONT.nothing_near(at(tap), "the lid lies wholly behind its hinge axis")
            continue
        met = nearest_of([(name, edge)], fixed, axis, open_to)
        assert met is not None
        required = design.required(LID_FRONT.id, 3.0)
        why = _told(design, met) if tap.side == "front" else _beside(design, met)
        yield LID_FRONT.at_least(at(tap), met.nearest.gap, required, why)


def _over(design: Design, tap: Tap) -> float:
    """Return how far the board's outer face stands outside the lip's edge at the tap, mm."""
    board = design.layout.board(tap.side)
    share = tap.u / board.long_point
    # Rounded far below a reading, so that taps of one row are seen to stand alike.
    return round(board.over_left + share * (board.over_right - board.over_left), 9)


def _across(design: Design, tap: Tap) -> tuple[float, float]:
    """Return the places (y) between which a side tap's envelopes lie."""
    y = design.layout.board(tap.side).place(tap.u, 0.0)[1]
    half = max(each.width for each in design.layout.envelopes_of(tap)) / 2
    return y - half, y + half


def _side_edge(
    project: Project,
    lid: LidSection,
    axis: HingeAxis,
    tap: Tap,
    over: float,
    across: tuple[float, float],
) -> Section | None:
    """Return all that the lid's side sweeps at a side tap: (out from the board's face, up).

    The side slides in its own plane, so it reaches out as far as when closed, down to its
    skirt, and up as high as the opening lid comes there: the front top corner on its circle,
    or, where the lid stops before, its upper face at the stop.
    """
    table = project.lid
    assert table and table.overhang and table.skirt and project.hinge and project.hinge.open_to
    overhang, skirt = table.overhang.on(tap.side), table.skirt.on(tap.side)
    assert overhang is not None and skirt is not None
    assert lid.front_y is not None and lid.top_z is not None
    out = overhang - over
    ahead, top = axis.y - lid.front_y, lid.top_z - axis.z
    near, far = (min(max(axis.y - y, 0.0), ahead) for y in reversed(across))
    high = lid.top_z + _highest(ahead, top, (near, far), math.radians(project.hinge.open_to))
    return box(min(-_INWARD, out - _INWARD), out, lid.under_z - skirt, high)


_INWARD = 1000.0
"""How deep the lid is behind its side edge, mm: deeper than any handle leans back."""


def _highest(ahead: float, top: float, between: tuple[float, float], open_to: float) -> float:
    """Return the most that the lid comes above its closed top between two places, mm.

    What it reaches grows with the place up to where the front corner is at the stop, and falls
    from there on: that place counts, or the end of the range that is nearest to it.
    """
    near, far = between
    corner = ahead * math.cos(open_to) - top * math.sin(open_to)
    places = (near, min(max(corner, near), far), far)
    return max(_rise(ahead, top, place, open_to) for place in places)


def _rise(ahead: float, top: float, place: float, open_to: float) -> float:
    """Return how far above the closed lid's top it comes ``place`` ahead of the axis, mm.

    Its upper face at the angle th is (top + place sin th) / cos th high there. It rises until the
    front corner on its circle has passed, hypot(ahead, top) from the axis, or until the stop;
    with the axis above the upper face it may sink again before, from sin th = place / -top on.
    """
    radius = math.hypot(ahead, top)
    passes = math.atan2(ahead, top) - math.asin(min(1.0, place / radius))
    # At the corner's own place at the stop both are right, and a float decides which is taken.
    if passes <= open_to + 1e-12:
        return math.sqrt(max(0.0, radius * radius - place * place)) - top
    if place < -top * math.sin(min(open_to, math.pi / 2)):
        return -math.sqrt(top * top - place * place) - top
    return (top + place * math.sin(open_to)) / math.cos(open_to) - top


def _beside(design: Design, met: Meeting) -> str:
    """Say what is nearest to the lid's side, which slides in its own plane."""
    where = f"{design.text(met.nearest.place[1])} above the collar's bottom edge"
    if met.nearest.gap > 0.0:
        return f"the {met.moving} passes the {met.fixed} nearest {where}, closed or opening"
    return f"the {met.moving}, closed or opening, meets the {met.fixed} {where}"
