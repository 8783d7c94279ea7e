"""Taps side by side: do the bodies clear each other, and can a hand pull one handle alone?

What the builder keeps free, a lock or a pipe, is a neighbor too: flange, ring, body, spout and
lever stay out of it, and a hand about the handle has room beside it.
"""

from collections.abc import Iterator

from ...shape.envelope import OUTSIDE
from ...shape.keep_out import Place, places
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
    """Yield the least gap from each tap's flange or body to a neighbor's, or to a keep-out."""
    for tap in design.taps:
        kept = _kept(design, tap)
        gaps = [
            (apart(tap, other) - (tap.outside + other.outside) / 2, f"body or flange to tap {n}")
            for other in design.neighbours(tap)
            if tap.outside is not None and other.outside is not None
            for n in (other.number,)
        ]
        gaps += _to_places(design, tap, kept)
        without = [
            design.tap_key(each, "shank")
            for each in (tap, *design.neighbours(tap))
            if each.outside is None
        ]
        if not design.neighbours(tap) and not kept:
            yield TAP_GAP.nothing_near(at(tap), "no other tap on this side")
        elif without:
            yield TAP_GAP.not_checked(at(tap), without, "the flange's diameter")
        elif not gaps:
            yield TAP_GAP.nothing_near(at(tap), "the keep-outs end behind the flange")
        else:
            gap, what = min(gaps)
            yield TAP_GAP.at_least(at(tap), gap, design.required(TAP_GAP.id, 2.0), f"from {what}")


def _kept(design: Design, tap: Tap) -> tuple[Place, ...]:
    """Return the keep-outs on a tap's side."""
    if not design.project.keep_out:
        return ()
    return places(design.project, design.layout.board(tap.side))


def _to_places(design: Design, tap: Tap, kept: tuple[Place, ...]) -> list[tuple[float, str]]:
    """Return the gaps from what hangs at the bore, but for the handle, to each keep-out."""
    if not kept:
        return []
    found = [
        (place.gap(each), f"{each.reason} to {place.name}")
        for each in design.layout.envelopes_of(tap)
        if each.reason in OUTSIDE and each.reason != "handle"
        for place in kept
    ]
    return [(gap, what) for gap, what in found if gap is not None]


def find_handles(design: Design) -> Iterator[Finding]:
    """Yield the least room from each handle to a neighbor's, or a keep-out, at the same height."""
    for tap in design.taps:
        near, kept = design.neighbours(tap), _kept(design, tap)
        if not near and not kept:
            yield HANDLE_GAP.nothing_near(at(tap), "no other tap on this side")
            continue
        missing = [key for other in (tap, *near) for key in _missing(design, tap, other) if key]
        if kept:
            parts = (("shank", tap.shank), ("faucet", tap.faucet), ("handle", tap.handle))
            missing += [design.tap_key(tap, key) for key, part in parts if part is None]
        if missing:
            yield HANDLE_GAP.not_checked(at(tap), missing, "the handles' width and height")
            continue
        gaps = [
            (abs(tap.u - other.u) - (tap.handle.width + other.handle.width) / 2, f"tap {n}")
            for other in near
            if tap.handle and other.handle and _overlap(tap, other)
            for n in (other.number,)
        ]
        gaps += _beside(design, tap, kept)
        if not gaps:
            what = "no other handle" if not kept else "no other handle and no keep-out"
            yield HANDLE_GAP.nothing_near(at(tap), f"{what} at this height")
            continue
        gap, what = min(gaps)
        required = design.required(HANDLE_GAP.id, 20.0)
        yield HANDLE_GAP.at_least(at(tap), gap, required, f"room for a hand to {what}")


def _beside(design: Design, tap: Tap, kept: tuple[Place, ...]) -> list[tuple[float, str]]:
    """Return the room along the board from a handle to each keep-out that reaches as far out."""
    if not kept:
        return []
    return [
        (place.beside(each.u) - each.width / 2, place.name)
        for each in design.layout.envelopes_of(tap)
        if each.reason == "handle"
        for place in kept
        if place.stands_before(each.out[0]) and each.up[0] < place.high and place.low < each.up[1]
    ]


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
