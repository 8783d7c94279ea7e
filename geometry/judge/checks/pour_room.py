"""Under each spout: does a glass fit over the tray, or over whatever stands lowest?

The tray is a ``[[keep_out]]`` below the taps; without one the glass is filled over the floor. In
a second row of taps the handles of the lower row are what the glass meets.
"""

from collections.abc import Iterator

from ...shape.taps import Faucet, Tap
from ..design import Design, at
from ..finding import Check, Finding

POUR_ROOM = Check(
    id="pour-room",
    weight="advice",
    unit="mm",
    question="does a glass fit under the spout?",
    source="spout's tip above tray, tap or floor below it; the tallest glass is required",
    levers=("taps.height", "taps.faucet", "board.stock"),
)


def find(design: Design) -> Iterator[Finding]:
    """Yield the height of each spout above the highest thing below it."""
    for tap in design.layout.taps:
        yield _room(design, tap)


def _room(design: Design, tap: Tap) -> Finding:
    glass, faucet = design.project.taps[tap.row].glass, tap.faucet
    if glass is None or faucet is None:
        keys = (("glass", glass), ("faucet", faucet))
        missing = [design.tap_key(tap, key) for key, value in keys if value is None]
        return POUR_ROOM.not_checked(at(tap), missing, "how tall the glass is, and the spout")
    spout = tap.v - faucet.spout_below
    below = [*_keep_outs(design, tap, faucet, spout), *_lower_taps(design, tap, faucet)]
    room = design.project.room
    if room is not None and room.lip_height is not None:
        below.append((-design.layout.seal - room.lip_height, "the floor"))
    if not below:
        missing = design.lacking("room.lip_height")
        return POUR_ROOM.not_checked(at(tap), missing, "what is below: the floor, or a keep_out")
    top, what = max(below)
    required = design.required(POUR_ROOM.id, glass)
    return POUR_ROOM.at_least(at(tap), spout - top, required, f"from the spout down to {what}")


def _keep_outs(
    design: Design, tap: Tap, faucet: Faucet, spout: float
) -> Iterator[tuple[float, str]]:
    """Yield the tops of keep-outs that reach under the spout, within half of the faucet's width."""
    half = faucet.body_width / 2
    flange = tap.shank.flange_thickness if tap.shank else 0.0
    out = tap.cover + flange + faucet.spout_forward
    middle = design.layout.board(tap.side).long_point / 2
    for place in design.project.keep_out:
        beside = abs(middle + place.offset - tap.u) < place.width / 2 + half
        under = place.height - place.tall / 2 < spout
        reaches = place.depth is None or place.depth > out - half
        if place.side == tap.side and beside and under and reaches:
            yield place.height + place.tall / 2, place.name or "the keep-out"


def _lower_taps(design: Design, tap: Tap, faucet: Faucet) -> Iterator[tuple[float, str]]:
    """Yield the tops of taps that stand under this one, their handles counted."""
    for other in design.neighbours(tap):
        if other.faucet is None or other.v >= tap.v:
            continue
        if abs(other.u - tap.u) < (faucet.body_width + other.faucet.body_width) / 2:
            span = other.handle_span
            top = span[1] if span else other.v + other.faucet.lever_top
            yield top, f"tap {other.number}"
