"""Each bore in its board: does the shank go through, and is the hole covered on both sides?

A bore is drilled once. Too tight and the thread cuts the wood; too wide and it shows beside
the flange; too near an edge or a neighbour and the board splits; too near a corner and the
nut cannot lie flat.
"""

import math
from collections.abc import Iterator

from ...shape.frame import Board, Corner
from ...shape.lining import Bracket, between
from ...shape.taps import Shank, Tap
from ..design import Design, apart, at
from ..finding import Check, Finding

BORE_ENTRY = Check(
    id="bore-entry",
    weight="must",
    unit="mm",
    question="does the shank go through the bore?",
    source="bore less thread; 0.4 mm of play is common practice",
    levers=("taps.bore",),
)
BORE_COVER = Check(
    id="bore-cover",
    weight="must",
    unit="mm",
    question="does the flange cover the bore however the shank sits in it?",
    source="flange over bore, less the shank's play; 2 mm is common practice",
    levers=("taps.bore", "taps.shank"),
)
NUT_COVER = Check(
    id="nut-cover",
    weight="must",
    unit="mm",
    question="does the nut or its washer cover the bore inside?",
    source="nut or washer over bore, less the shank's play; 2 mm is common practice",
    levers=("taps.washer_diameter", "taps.bore"),
)
BORE_WEB = Check(
    id="bore-web",
    weight="must",
    unit="mm",
    question="is there wood between neighbouring bores?",
    source="wood left between two bores; at least the larger bore is common practice",
    levers=("taps.spacing", "taps.bore"),
)
BORE_EDGE = Check(
    id="bore-edge",
    weight="must",
    unit="mm",
    question="does the flange sit wholly on the face of the board or cover?",
    source="distance to the nearer edge less half the flange; 3 mm is common practice",
    levers=("taps.height", "cover.width", "cover.below_lip", "board.stock"),
)
BORE_END = Check(
    id="bore-end",
    weight="must",
    unit="mm",
    question="does the nut clear the next board's foam or bracket inside?",
    source="along the board, to what reaches into the nut's layer, less half its wrench circle",
    levers=("taps.spacing", "taps.offset", "foam.order", "board.bracket"),
)


def find_entry(design: Design) -> Iterator[Finding]:
    """Yield the play of each shank in its bore."""
    for tap in design.taps:
        if tap.thread is None:
            missing = (design.tap_key(tap, "shank"),)
            yield BORE_ENTRY.not_checked(at(tap), missing, "the thread's diameter")
            continue
        required = design.required(BORE_ENTRY.id, 0.4)
        why = f"bore {design.text(tap.bore)}, thread {design.text(tap.thread)}"
        yield BORE_ENTRY.at_least(at(tap), tap.bore - tap.thread, required, why)


def _covered(tap: Tap, shank: Shank, cover: float) -> float:
    """Return how far a cover reaches over the bore when the shank lies against its side, mm."""
    return (cover - tap.bore) / 2 - (tap.bore - shank.thread_diameter) / 2


def find_cover(design: Design) -> Iterator[Finding]:
    """Yield how far each flange covers its bore at the worst."""
    for tap in design.taps:
        if tap.shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield BORE_COVER.not_checked(at(tap), missing, "the flange's diameter")
            continue
        measured = _covered(tap, tap.shank, tap.shank.flange_diameter)
        why = f"flange {design.text(tap.shank.flange_diameter)} over a {design.text(tap.bore)} bore"
        yield BORE_COVER.at_least(at(tap), measured, design.required(BORE_COVER.id, 2.0), why)


def find_nut_cover(design: Design) -> Iterator[Finding]:
    """Yield how far nut or washer covers each bore inside at the worst."""
    for tap in design.taps:
        if tap.shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield NUT_COVER.not_checked(at(tap), missing, "the nut's size")
            continue
        nut, washer = tap.shank.nut_across_flats, tap.washer_diameter or 0.0
        measured = _covered(tap, tap.shank, max(nut, washer))
        what = (
            f"washer {design.text(washer)}"
            if washer > nut
            else f"nut {design.text(nut)}, no wider washer"
        )
        why = f"{what}, over a {design.text(tap.bore)} bore"
        yield NUT_COVER.at_least(at(tap), measured, design.required(NUT_COVER.id, 2.0), why)


def find_web(design: Design) -> Iterator[Finding]:
    """Yield the wood between each bore and the neighbour that leaves least to spare."""
    for tap in design.taps:
        webs = [
            (
                apart(tap, other) - (tap.bore + other.bore) / 2,
                design.required(BORE_WEB.id, max(tap.bore, other.bore)),
                other.number,
            )
            for other in design.neighbours(tap)
        ]
        if not webs:
            yield BORE_WEB.nothing_near(at(tap), "no other bore in this board")
            continue
        measured, required, number = min(webs, key=lambda web: web[0] - web[1])
        yield BORE_WEB.at_least(at(tap), measured, required, f"wood left to tap {number}")


def find_edge(design: Design) -> Iterator[Finding]:
    """Yield how much face is left beside each flange at the nearer edge."""
    for tap in design.taps:
        if tap.shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield BORE_EDGE.not_checked(at(tap), missing, "the flange's diameter")
            continue
        measured, edge = min(_faces(design, tap, tap.shank))
        required = design.required(BORE_EDGE.id, 3.0)
        yield BORE_EDGE.at_least(at(tap), measured, required, f"face left at the {edge}")


def _faces(design: Design, tap: Tap, shank: Shank) -> Iterator[tuple[float, str]]:
    """Yield how far the flange stays from each edge of the face that it sits on, and which.

    On a cover that is the cover's face, and the bore also has to leave wood in the board behind.
    A cover that ends below the bore leaves the flange on the board, from the cover's edge up.
    """
    board, cover = design.layout.board(tap.side), design.layout.cover(tap.side)
    half = max(shank.flange_diameter, tap.bore) / 2
    up = board.width - tap.v
    if not tap.cover or cover is None:
        low = 0.0 if cover is None else max(0.0, cover.top)
        yield tap.v - low - half, "cover's top edge" if low else "bottom edge"
        yield up - half, "top edge"
        return
    yield tap.v - cover.bottom - half, "cover's bottom edge"
    yield cover.top - tap.v - half, "cover's top edge"
    yield min(tap.v, up) - tap.bore / 2, "board's edge beside the bore"


def find_end(design: Design) -> Iterator[Finding]:
    """Yield the room along the board between each nut and what stands at the corner inside."""
    layout = design.layout
    for tap in design.taps:
        if tap.shank is None:
            missing = (design.tap_key(tap, "shank"),)
            yield BORE_END.not_checked(at(tap), missing, "the nut's wrench circle")
            continue
        board = layout.board(tap.side)
        ends = (
            (tap.u - board.inner_left, "left", layout.frame.left_of(tap.side)),
            (
                board.long_point - board.inner_right - tap.u,
                "right",
                layout.frame.right_of(tap.side),
            ),
        )
        reached = [
            (to_corner - far, end, what)
            for to_corner, end, corner in ends
            for far, what in _obstacles(design, tap, tap.shank, board, corner, end)
        ]
        distance, end, what = min(reached)
        measured = distance - tap.shank.nut_wrench_circle / 2
        why = f"from the nut's wrench circle to the {what} at the {end} end"
        yield BORE_END.at_least(at(tap), measured, design.required(BORE_END.id, 0.0), why)


def _obstacles(
    design: Design, tap: Tap, shank: Shank, board: Board, corner: Corner, end: str
) -> Iterator[tuple[float, str]]:
    """Yield what reaches into the nut's layer at one end: how far from the inner corner, and name.

    The layer runs from the board's inner face, or from the foam's where the nut clamps over
    it, inward by the nut's thickness. At a corner sharper than square the next board comes in
    with the depth; its foam stands f / sin(theta) further along.
    """
    theta = math.radians(corner.interior_deg)
    foam = design.layout.foam
    near = foam if tap.pocket == 0.0 else 0.0
    far = near + shank.nut_thickness
    slope = math.cos(theta) / math.sin(theta)
    lean = max(near * slope, far * slope)
    yield lean, "next board"
    if foam and (between(design.project, tap.side) or far > foam):
        yield lean + foam / math.sin(theta), "next board's foam"
    for leg in design.layout.brackets:
        if leg.side == board.side and leg.at == end and _meets(leg, tap, shank, near):
            yield leg.leg, "corner bracket"


def _meets(leg: Bracket, tap: Tap, shank: Shank, near: float) -> bool:
    """Tell whether a bracket's leg reaches into the nut's layer at the nut's height."""
    overlap = (leg.width + shank.nut_wrench_circle) / 2 - abs(leg.v - tap.v)
    return near < leg.thickness and overlap > 0
