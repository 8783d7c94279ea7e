"""Taps side by side: do the bodies clear each other, and can a hand pull one handle alone?"""

from collections.abc import Iterator

from ...shape.taps import Tap
from ..design import Design, apart, at
from ..finding import Check, Finding

TAP_GAP = Check(
    id="tap-gap",
    weight="must",
    unit="mm",
    question="do bodies and flanges clear each other?",
    source="distance less half of each one's wider of flange and body; 2 mm is common practice",
    levers=("taps.spacing", "taps.faucet"),
)
HANDLE_GAP = Check(
    id="handle-gap",
    weight="must",
    unit="mm",
    question="can a hand pull one handle alone?",
    source="along the board, less half of each handle; 20 mm is common practice",
    levers=("taps.spacing", "taps.handle"),
)


def find_gap(design: Design) -> Iterator[Finding]:
    """Yield the least gap from each tap's flange or body to a neighbour's."""
    for tap in design.layout.taps:
        gaps = [
            (apart(tap, other) - (tap.outside + other.outside) / 2, other.number)
            for other in design.neighbours(tap)
            if tap.outside is not None and other.outside is not None
        ]
        without = [
            design.tap_key(each, "shank")
            for each in (tap, *design.neighbours(tap))
            if each.outside is None
        ]
        if not design.neighbours(tap):
            yield TAP_GAP.nothing_near(at(tap), "no other tap on this side")
        elif without:
            yield TAP_GAP.not_checked(at(tap), without, "the flange's diameter")
        else:
            gap, number = min(gaps)
            required = design.required(TAP_GAP.id, 2.0)
            yield TAP_GAP.at_least(at(tap), gap, required, f"from body or flange to tap {number}")


def find_handles(design: Design) -> Iterator[Finding]:
    """Yield the least room from each handle to a neighbour's at the same height."""
    for tap in design.layout.taps:
        near = design.neighbours(tap)
        if not near:
            yield HANDLE_GAP.nothing_near(at(tap), "no other tap on this side")
            continue
        missing = [key for other in (tap, *near) for key in _missing(design, tap, other) if key]
        if missing:
            yield HANDLE_GAP.not_checked(at(tap), missing, "the handles' width and height")
            continue
        gaps = [
            (abs(tap.u - other.u) - (tap.handle.width + other.handle.width) / 2, other.number)
            for other in near
            if tap.handle and other.handle and _overlap(tap, other)
        ]
        if not gaps:
            yield HANDLE_GAP.nothing_near(at(tap), "no other handle at this height")
            continue
        gap, number = min(gaps)
        required = design.required(HANDLE_GAP.id, 20.0)
        yield HANDLE_GAP.at_least(at(tap), gap, required, f"room for a hand to tap {number}")


def _missing(design: Design, tap: Tap, other: Tap) -> list[str]:
    """Return the keys without which two handles cannot be compared.

    Handles of one row stand at one height whatever the faucet is; other rows need it.
    """
    keys = [] if other.handle else [design.tap_key(other, "handle")]
    if other.row != tap.row:
        keys += [design.tap_key(each, "faucet") for each in (tap, other) if not each.faucet]
    return keys


def _overlap(tap: Tap, other: Tap) -> bool:
    """Tell whether two handles share some height at rest."""
    if other.row == tap.row:
        return True
    one, two = tap.handle_span, other.handle_span
    return one is None or two is None or (one[0] < two[1] and two[0] < one[1])
