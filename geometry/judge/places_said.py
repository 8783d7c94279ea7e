"""Where vessels stand, in words that a builder can follow with a tape in the freezer."""

import math
from typing import TYPE_CHECKING

from ..shape.vessel import Vessel
from .design import Design
from .standing import Standing

if TYPE_CHECKING:
    from ..plan.packing import Place

REGULATOR = 35.0
"""Half the width that a regulator with its gauges takes across its arm, mm (from memory)."""

ARM_BELOW, TURNS = 60.0, 72
"""How far below the valve's top a regulator's arm hangs, mm (from memory); directions tried."""


def places_said(design: Design, standing: Standing) -> str:
    """Return places, way in, lines and regulators of a placement that was found."""
    floor = standing.problem.well.floor
    vessels = {vessel.name: vessel for vessel in design.layout.inside.vessels}
    parts = ["axes from the well's left and front walls at its floor"]
    for place in standing.places:
        x, y = design.text(place.x - floor.x0), design.text(place.y - floor.y0)
        on = "step" if place.on_step else "floor"
        said = f"{place.vessel} at {x} and {y} on the {on}"
        said += _line(design, vessels[place.vessel], place)
        said += _regulator(standing, vessels[place.vessel], place)
        parts.append(said)
    if standing.order is not None:
        parts.append(standing.order.say())
        parts += [
            f"{entry.vessel} goes down at {design.text(entry.lowered_at[0] - floor.x0)} and"
            f" {design.text(entry.lowered_at[1] - floor.y0)} and is slid to its place"
            for entry in standing.order.entries
            if not entry.straight_down
        ]
    return "; ".join(parts)


def _line(design: Design, vessel: Vessel, place: "Place") -> str:
    """Say how long a straight line from the vessel's fitting to its tap is: its own is longer."""
    run = next((each for each in design.layout.inside.runs if each.tap == vessel.tap), None)
    if run is None:
        return ""
    tap = design.layout.taps[run.tap - 1]
    length = math.dist((place.x, place.y, place.z + vessel.tall), (run.x, run.y, tap.v))
    return f", {design.text(length)} straight to tap {run.tap}"


def _regulator(standing: Standing, vessel: Vessel, place: "Place") -> str:
    """Say whether a gas cylinder's regulator can point somewhere without touching anything."""
    if vessel.side_reach is None:
        return ""
    reach = vessel.diameter / 2 + vessel.side_reach
    for turn in range(TURNS):
        angle = turn * 2 * math.pi / TURNS
        if all(
            _clear(standing, vessel, place, place.x + part * math.cos(angle),
                   place.y + part * math.sin(angle))
            for part in (reach - REGULATOR, (reach + vessel.diameter / 2) / 2)
        ):  # fmt: skip
            return ", with room for its regulator"
    return ", with no direction in which its regulator has room: mind it"


def _clear(standing: Standing, vessel: Vessel, place: "Place", x: float, y: float) -> bool:
    """Tell whether a regulator's round end at a point is clear of walls and other vessels."""
    problem = standing.problem
    low, high = place.z + vessel.height - ARM_BELOW, place.z + vessel.tall
    rects = [problem.well.at(low)] if low < problem.well.top else []
    rects += [o.rect for o in problem.openings if o.bottom < high and low < o.top]
    r = REGULATOR
    if any(x - r < b.x0 or x + r > b.x1 or y - r < b.y0 or y + r > b.y1 for b in rects):
        return False
    if any(
        math.hypot(*box.rect.away(x, y)) < r + box.reach
        for box in problem.obstacles
        if box.bottom < high and low < box.top
    ):
        return False
    discs = {each.name: each.discs for each in problem.vessels}
    return not any(
        math.hypot(other.x - x, other.y - y) < r + disc.radius
        for other in standing.places
        if other.vessel != place.vessel
        for disc in discs[other.vessel]
        if other.z + disc.bottom < high and low < other.z + disc.top
    )
