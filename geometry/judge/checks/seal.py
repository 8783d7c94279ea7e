"""How the lid meets the collar's top: gasket on wood, skirt outside it, plug inside the foam.

A gasket that closes on foam or air leaks cold all year, and so does a magnetic one on bare
wood; a skirt or plug that catches on the collar keeps the lid open, or wears away what it rubs.
"""

import math
from collections.abc import Iterator

from ....params.project import Side
from ...shape.frame import Board
from ..design import Design
from ..finding import SLACK, Check, Finding, Where

GASKET_SEAT = Check(
    id="gasket-seat",
    weight="must",
    unit="mm",
    question="does the lid's gasket close on wood, not on foam or air?",
    source="overlap of gasket and board top; 10 mm or half the gasket is common practice",
    levers=("board.overhang", "board.stock"),
)
SKIRT = Check(
    id="skirt",
    weight="must",
    unit="mm",
    question="does the collar go inside the lid's skirt, also while it opens?",
    source="plane kinematics: the front skirt needs hypot(F, k) - F more; 2 mm common practice",
    levers=("board.overhang", "cover.width", "cover.thickness", "hinge.axis_above"),
)
GASKET_PULL = Check(
    id="gasket-pull",
    weight="advice",
    unit="strip",
    question="does a magnetic gasket find steel?",
    source="a magnet pulls on steel and not on wood: one strip of it, all round, is wanted",
    levers=("cap.material",),
)
PLUG = Check(
    id="plug",
    weight="must",
    unit="mm",
    question="does the lid's inner panel clear the foam?",
    source="from the plug's edge to the foam or wood beside it, lid closed; 3 mm common practice",
    levers=("foam.below_top", "foam.thickness", "foam.kind", "board.overhang", "board.stock"),
    continuous=False,
)


def find_gasket(design: Design) -> Iterator[Finding]:
    """Yield, for each side, the least overlap of the gasket and the board's top edge."""
    lid = design.project.lid
    for board in design.layout.boards:
        where = Where(side=board.side)
        missing = design.lacking(
            f"lid.gasket_inset.{board.side}", f"lid.overhang.{board.side}", "lid.gasket_width"
        )
        if missing or lid is None:
            yield GASKET_SEAT.not_checked(where, missing, "where the gasket closes")
            continue
        assert lid.gasket_inset and lid.overhang and lid.gasket_width
        inset, overhang = lid.gasket_inset.on(board.side), lid.overhang.on(board.side)
        assert inset is not None and overhang is not None
        center, half = inset - overhang, lid.gasket_width / 2
        start, end = _top(design, board)
        measured = min(
            min(end - over, center + half) - max(start - over, center - half)
            for over in (board.over_left, board.over_right)
        )
        required = design.required(GASKET_SEAT.id, min(10.0, half))
        what = "the strip on the board" if design.layout.cap else "wood"
        why = f"gasket and {what} overlap this much"
        yield GASKET_SEAT.at_least(where, measured, required, why)


def _top(design: Design, board: Board) -> tuple[float, float]:
    """Return where the top that the gasket closes on starts and ends, inward of the face, mm."""
    cap = design.layout.cap
    return (0.0, board.thickness) if cap is None else (cap.inset, cap.inset + cap.width)


def find_skirt(design: Design) -> Iterator[Finding]:
    """Yield, for each side, the gap between the skirt's inside and the board's outer face."""
    for board in design.layout.boards:
        yield _skirt(design, board)


def _skirt(design: Design, board: Board) -> Finding:
    side, lid = board.side, design.project.lid
    where = Where(side=side)
    missing = design.lacking(f"lid.skirt.{side}")
    if missing or lid is None or lid.skirt is None:
        return SKIRT.not_checked(where, missing, "how far the lid's skirt hangs down here")
    if not lid.skirt.on(side):
        return SKIRT.nothing_near(where, "the lid has no skirt on this side")
    keys = [f"lid.overhang.{side}", f"lid.skirt_thickness.{side}"]
    if side == "front":
        keys += ["hinge.axis_behind", "hinge.axis_above"]
    missing = design.lacking(*keys)
    if missing or lid.overhang is None or lid.skirt_thickness is None:
        return SKIRT.not_checked(where, missing, "where the inside of the skirt is")
    overhang, thickness = lid.overhang.on(side), lid.skirt_thickness.on(side)
    assert overhang is not None and thickness is not None
    swing = _swing(design, side)
    cover = _cover_in_skirt(design, board)
    measured = overhang - thickness - max(board.over_left, board.over_right) - cover - swing
    why = "from the skirt's inside to the wood"
    if cover:
        why += f", its cover of {design.text(cover)} counted"
    if swing:
        why += f", less {design.text(swing)} that the front skirt comes in while the lid opens"
    return SKIRT.at_least(where, measured, design.required(SKIRT.id, 2.0), why)


def _cover_in_skirt(design: Design, board: Board) -> float:
    """Return the thickness of the side's cover where it can reach up to the skirt, mm.

    A cover whose top edge stays below the skirt's rim is not in the way.
    """
    cover, lid = design.layout.cover(board.side), design.project.lid
    if cover is None:
        return 0.0
    skirt = lid.skirt.on(board.side) if lid and lid.skirt else None
    if skirt is None:
        return cover.thickness
    return cover.thickness if cover.top > design.layout.sealing_z - skirt else 0.0


def _swing(design: Design, side: Side) -> float:
    """Return how far the front skirt comes in while it passes the collar's front edge, mm.

    The collar's front top edge is F ahead of the hinge axis and k above it; a skirt point at
    its height swings through hypot(F, k), so it needs hypot(F, k) - F. With the axis level
    with the edge or above it there is nothing to add.
    """
    axis = design.layout.hinge
    if side != "front" or axis is None:
        return 0.0
    ahead = axis.y - design.layout.front_y
    above = max(0.0, design.layout.sealing_z - axis.z)
    return math.hypot(ahead, above) - ahead


def find_pull(design: Design) -> Iterator[Finding]:
    """Yield whether a magnetic gasket has a steel strip to close on: strips there and wanted."""
    lid, cap = design.project.lid, design.layout.cap
    where = Where(text="gasket")
    if lid is None or lid.gasket is None:
        missing = design.lacking("lid.gasket")
        yield GASKET_PULL.not_checked(where, missing, "whether the gasket is magnetic")
    elif lid.gasket == "bulb":
        yield GASKET_PULL.nothing_near(where, "a bulb gasket closes on wood as well")
    else:
        steel = cap is not None and cap.steel
        top = "a steel strip" if steel else "a wooden strip" if cap else "bare wood"
        why = f"the magnetic gasket closes on {top}"
        yield GASKET_PULL.at_least(where, 1.0 if steel else 0.0, 1.0, why)


def find_plug(design: Design) -> Iterator[Finding]:
    """Yield, for each side, the gap from the plug's edge to what stands beside it."""
    for board in design.layout.boards:
        yield _plug(design, board)


def _plug(design: Design, board: Board) -> Finding:
    """Judge one side: the plug beside the foam, or above it beside the board, or the strip.

    Closed, as it is judged, the plug is at its lowest; while the lid opens its front edge comes
    forward by hypot(a, s) - a, about 1 mm for an edge 30 mm below an axis 450 mm behind it.
    """
    side, lid = board.side, design.project.lid
    where = Where(side=side)
    missing = design.lacking("lid.plug")
    if missing or lid is None or lid.plug is None:
        return PLUG.not_checked(where, missing, "how far the lid's inner panel hangs down")
    inner, what = _inner(design, board, design.layout.sealing_z - lid.plug)
    if not what:
        return PLUG.nothing_near(where, "the plug hangs above foam and wood, or there is none")
    missing = design.lacking(f"lid.plug_inset.{side}", f"lid.overhang.{side}")
    if missing or lid.plug_inset is None or lid.overhang is None:
        return PLUG.not_checked(where, missing, "where the edge of the plug is")
    inset, overhang = lid.plug_inset.on(side), lid.overhang.on(side)
    assert inset is not None and overhang is not None
    measured = inset - overhang - inner + min(board.over_left, board.over_right)
    why = f"from the plug's edge to the {what}"
    return PLUG.at_least(where, measured, design.required(PLUG.id, 3.0), why)


def _inner(design: Design, board: Board, bottom: float) -> tuple[float, str]:
    """Return what stands in farthest at the plug's height, from the outer face, mm; "" for none.

    ``bottom`` is the height of the plug's lower face above the boards' bottom edge.
    """
    layout = design.layout
    panel, cap = layout.panel(board.side), layout.cap
    found = [(0.0, "")]
    if cap is not None and bottom < layout.sealing_z - SLACK:
        found.append((cap.inset + cap.width, "strip on the board"))
    if bottom < board.width - SLACK:
        found.append((board.thickness, "board"))
    if panel is not None and bottom < panel.width - SLACK:
        found.append((board.thickness + panel.thickness, "foam"))
    return max(found)
