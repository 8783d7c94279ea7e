"""What stands beside a flat view: how the part lies, its sizes, how it is cut, and its holes."""

from collections.abc import Iterable

from ...params.units import Show, bit_text, fraction_text, mm_text
from .frame import Board
from .hole import BRACKET_SET_OUT, HINGE_SET_OUT, TRAY, Hole
from .joints import from_inner
from .lining import Panel
from .seat import Strip
from .slot import Slot
from .taps import Tap

HINGE_HOLES = (
    "Hinge holes are assumed, set out evenly along the leaf: mark through the real leaf before"
    " drilling."
)
BRACKET_HOLES = (
    "Bracket holes are on the inner face, assumed from the catalog: mark through the real bracket"
    " before drilling."
)
BLOCK_HOLES = (
    "Hinge holes go on into the block behind the board: not to be drilled before it is glued on."
)
NOMINAL = "Sizes are nominal: no kerf or bit offset added."


def board_captions(
    board: Board, taps: Iterable[Tap], show: Show, over: Board | None = None
) -> list[str]:
    """Return the lines of text for a board or a cover's board.

    Args:
        board: the board with its holes.
        taps: the taps on it, for what the builder calls them.
        show: the unit that comes first.
        over: the cover on a collar's board.
    """
    cover = board.kind == "cover"
    texts = [
        f"{board.side.capitalize()} {board.kind}, seen from outside: outer face up, lower edge"
        f" (y = 0) down{' over the body' if cover else ' on the lip'}.",
        f"Overall {_size(board.long_point, show)} from end to end,"
        if cover
        else f"Overall {_size(board.long_point, show)} from long point to long point,",
        NOMINAL,
        _miters(board),
        *_scale(board),
        "OUTLINE is a square-ended blank, long point by width: the miter is sawn, not routed.",
        "INNER-EDGE is where the miter comes out on the inner face.",
    ]
    texts[1] += f" {_size(board.width, show)} wide, {_size(board.thickness, show)} thick."
    if cover:
        texts.insert(1, _hangs(board, show))
        if not (board.inner_left or board.inner_right):
            texts = [text for text in texts if not text.startswith(("OUTLINE", "INNER-EDGE"))]
    if any(hole.face == "inner" and hole.depth is not None for hole in board.holes):
        texts.append(
            "Holes drilled from the inner face are told here and not drawn: a machine would"
            " drill them from this side."
        )
    texts += _assumed(board)
    names = _names(taps)
    texts += [
        f"{_hole(hole, names, show)}, center {_size(hole.u, show)} from the left"
        f" {'long point' if board.inner_left else 'end'},"
        f" {_size(hole.v, show)} from the bottom edge{_deep(hole, show)}"
        f"{'; assumed' if hole.assumed else ''}."
        for hole in board.holes
    ]
    covered = {hole.name for hole in over.holes if hole.purpose == "pilot"} if over else set[str]()
    for what, start in (("hinge", HINGE_SET_OUT), ("tray", TRAY)):
        if any(hole.name in covered and hole.name.startswith(start) for hole in board.holes):
            texts.append(
                f"The {what}'s pilots go on from the cover: drill them through it, glued on."
            )
    return texts + _joints(board, show)


def _assumed(board: Board) -> list[str]:
    """Say of which holes the places are a set-out, for nobody to drill them blindly."""
    told = [
        text
        for text, start in ((HINGE_HOLES, HINGE_SET_OUT), (BRACKET_HOLES, BRACKET_SET_OUT))
        if any(hole.assumed and hole.name.startswith(start) for hole in board.holes)
    ]
    return [*told, BLOCK_HOLES] if any(hole.into_block for hole in board.holes) else told


def _miters(board: Board) -> str:
    """Say how both ends are cut; a cover beside a side without one ends square."""
    left, right = (
        f"tilt the blade {tilt:.1f} deg at the {end} end" if tilt else f"cut the {end} end square"
        for end, tilt in (("left", board.miter_left_deg), ("right", board.miter_right_deg))
    )
    if board.miter_left_deg and board.miter_right_deg:
        right = right.removeprefix("tilt the blade ")
    if not (board.miter_left_deg or board.miter_right_deg):
        return "Ends are square."
    return (
        f"Miters: {left}, {right}; board flat, outer face up: the blade's top leans over the waste."
    )


def _scale(board: Board) -> list[str]:
    """Say what the saw's scale has to say, where a test ring told how far it is off."""
    told = [
        f"{scale:.1f} deg at the {end} end"
        for end, scale in (("left", board.scale_left_deg), ("right", board.scale_right_deg))
        if scale is not None
    ]
    said = [f"Saw's scale, by the test ring: set it to {', '.join(told)}."] if told else []
    proved = ((board.prove_left, "left"), (board.prove_right, "right"))
    ends = " and ".join(end for far, end in proved if far)
    if ends:
        said.append(
            f"Saw's scale, {ends} end: too far from the test ring, prove this tilt on scraps."
        )
    return said


def _hangs(cover: Board, show: Show) -> str:
    """Say where a cover lies on its board, of which the bottom edge stands at height 0."""
    low = f"its lower edge lies {_size(-cover.bottom, show)} below the board's"
    if not cover.bottom:
        low = "its lower edge is level with the board's"
    start = (
        f"its left end reaches {_size(cover.inner_left, show)} beyond the board's long point"
        if cover.inner_left
        else "its left end is level with the board's long point"
    )
    return f"On the board's outer face: {low}, {start}."


JOINT_WORDS = {
    "spline": "spline slot",
    "biscuit": "biscuit slot (no. 20)",
    "dowel": "dowel hole",
}


def _joints(board: Board, show: Show) -> list[str]:
    """Return a line for each slot in the miters, and what the marks of all are, before them."""
    if not board.slots:
        return []
    texts = [
        "CHECK-MARK lines at the ends are the middles of what is cut into the miters, square to"
        " them; set the fence on the inner edge of the miter.",
    ]
    kind = board.slots[0].kind
    for end in ("left", "right"):
        slots = [slot for slot in board.slots if slot.end == end]
        if not slots:
            continue
        size = f"{_size(slots[0].thick, show)} {'across' if kind == 'dowel' else 'thick'}"
        texts.append(
            f"{end.capitalize()} miter: {JOINT_WORDS[kind]} {size},"
            f" {_size(slots[0].depth, show)} deep, its middle"
            f" {_size(from_inner(board, slots[0]), show)} from the inner edge along the"
            f" miter{_heights(slots, show)}."
        )
    return texts


def _heights(slots: list[Slot], show: Show) -> str:
    if slots[0].kind == "spline":
        return ", from edge to edge"
    heights = ", ".join(_size(slot.v, show) for slot in slots)
    return f"; centers {heights} from the bottom edge"


def strip_captions(strip: Strip, show: Show) -> list[str]:
    """Return the lines of text for a cap strip.

    Args:
        strip: the strip.
        show: the unit that comes first.
    """
    return [
        f"{strip.side.capitalize()} cap strip, {'steel' if strip.steel else 'wood'}, seen from"
        " above: the edge y = 0 outside, the other one to the well.",
        f"Overall {_size(strip.long_point, show)} from long point to long point,"
        f" {_size(strip.width, show)} wide, {_size(strip.thickness, show)} thick.",
        NOMINAL,
        f"Miters: turn the fence {strip.miter_left_deg:.1f} deg at the left end,"
        f" {strip.miter_right_deg:.1f} deg at the right end, blade upright; OUTLINE has them.",
    ]


def panel_captions(
    panel: Panel, board: Board, taps: Iterable[Tap], pieces: int, show: Show
) -> list[str]:
    """Return the lines of text for a foam panel.

    Args:
        panel: the panel with its holes.
        board: the board that it lies on.
        taps: the taps on that board.
        pieces: how many pieces are left of the panel.
        show: the unit that comes first.
    """
    texts = [
        f"{panel.side.capitalize()} foam panel, seen from outside: the face that lies on the board"
        " is up.",
        "Its lower edge (y = 0) is level with the board's bottom edge, its left end is"
        f" {_size(board.inner_left + panel.start, show)} from the board's left long point.",
        f"Overall {_size(panel.length, show)} long, {_size(panel.width, show)} wide,"
        f" {_size(panel.thickness, show)} thick. Ends are square.",
        NOMINAL,
        "Holes that meet one another or the edge are one line.",
    ]
    if pieces != 1:
        texts.append(
            f"Falls into {pieces} pieces." if pieces else "The holes leave nothing of this panel."
        )
    if any(hole.name.startswith(HINGE_SET_OUT) for hole in panel.holes):
        texts.append(
            "Pockets about the hinge's bolts are assumed, as these are: cut them when the bolts"
            " are in."
        )
    names = _names(taps)
    return texts + [
        f"{_hole(hole, names, show)}, center {_size(hole.u, show)} from the left end,"
        f" {_size(hole.v, show)} from the lower edge{_deep(hole, show)}."
        for hole in panel.holes
    ]


def _size(mm: float, show: Show) -> str:
    """Write a size with its unit: ``37 in (939.8 mm)``, or ``939.8 mm``."""
    exact = mm_text(mm, 2)
    return f"{fraction_text(mm)} ({exact})" if show == "in" else exact


def _across(mm: float, show: Show) -> str:
    """Write the diameter that a bit bores, in the same way."""
    exact = mm_text(mm, 2)
    return f"{bit_text(mm, show)} ({exact})" if show == "in" else exact


def _names(taps: Iterable[Tap]) -> dict[str, str]:
    """Return what the builder calls a tap, by its hole's name, where that says more."""
    return {
        f"tap-{tap.number}": tap.name for tap in taps if tap.name not in ("", f"tap {tap.number}")
    }


def _hole(hole: Hole, names: dict[str, str], show: Show) -> str:
    called = f"{hole.name} ({names[hole.name]})" if hole.name in names else hole.name
    size = (
        _across(hole.diameter, show)
        if hole.diameter is not None
        else f"{_size(hole.length or 0.0, show)} x {_size(hole.height or 0.0, show)}"
    )
    return f"{called}: {hole.purpose} {size}"


def _deep(hole: Hole, show: Show) -> str:
    """Say how deep a hole goes and from where; nothing where it goes right through."""
    if hole.into_block:
        return f"; through the board and {_size(hole.into_block, show)} into the block behind it"
    return f"; {_size(hole.depth, show)} deep from the {hole.face} face" if hole.depth else ""
