"""The boards stick by stick, the cuts one after the other, and what to mind at the saw."""

from collections.abc import Iterator

from ...geometry.plan.cutting import STEP
from ...geometry.plan.cutting.saw_list import SawCut, Setting
from ...geometry.plan.work.cautions import LABELS, OFFCUT, TABLE_SAW
from ...params.units import both_text, length_text, mm_text
from ..stock.laid import rows_of
from ..stock.planned import Stock
from .table import Table

FACE_UP = (
    "Every board lies flat, its outer face up, and is never turned over. Mark the places on that"
    " face of the whole stick, from its left end, and the boards' names, before the first cut. The"
    " blade takes its wood beside the mark, away from the board, on the side that is told: where"
    " blanks are parted, on the mark's right."
)

NO_STOP = "none"
NOT_STOPPED = "Where no stop is told the cut is made at its mark."

ORDER = (
    "The blade leans away from the board, over the wood that falls off, so the outer face stays the"
    " longer one. The end under that cut leads: it points to where the blade leans. On a saw that"
    " tilts to one side only, turn the board end for end for its other end, its face still up."
)

NOT_BEFORE = (
    "Cut nothing by this list before the wood that was bought is measured and has lain in the room,"
    " and the test ring is cut (of what is left over at the sticks' right ends, as far as that"
    " goes) and its gap put into the build file: the order of work has these steps first. A list"
    " from before that is out of date."
)

STOP = (
    "The stop is set from its face to the blade, both at the outer face, and touches the fresh long"
    " point: cut a scrap against it, measure that, then the boards of one length one after the"
    " other without touching it. It has to be as high as the board is thick; push lightly: a"
    " long point is sharp and dents."
)

CAUTIONS = (OFFCUT, TABLE_SAW, LABELS)


def saw(stock: Stock) -> list[Table]:
    """Return the sticks with their boards, and the saw list."""
    return [sticks(stock), cuts(stock)]


def sticks(stock: Stock) -> Table:
    """Return the boards stick by stick: where they lie, and the cuts at their ends."""
    show = stock.project.show
    rows: list[tuple[str, ...]] = []
    for number, _ in enumerate(stock.plan.cuts):
        for row in rows_of(stock, number):
            left, right = row.cuts
            spans = (row.start, row.end, stock.asked.boards[row.piece][1].long_point)
            rows.append(
                (
                    str(number + 1),
                    stock.name(row.piece) + (", turned end for end" if row.turned else ""),
                    *(length_text(each, show) for each in spans),
                    f"{left.tilt_deg:.1f} deg, {right.tilt_deg:.1f} deg",
                    f"{left.number}, {right.number}",
                    *((_plain(row.start), _plain(row.end)) if show == "in" else ()),
                )
            )
    millimeters = ("From, mm", "To, mm") if show == "in" else ()
    return Table(
        name="sticks",
        title="Boards on their sticks",
        header=("Stick", "Board", "From", "To", "Long point", "Tilts", "Cuts", *millimeters),
        rows=tuple(rows),
        right=frozenset({0, 2, 3, 4, 7, 8} if millimeters else {0, 2, 3, 4}),
        notes=(
            *(stick_text(stock, number) for number in range(len(stock.plan.cuts))),
            "From and to are the long points on the outer face, from the stick's left end. Tilts"
            " and cuts are those at the left and at the right end as the board lies there.",
        ),
    )


def stick_text(stock: Stock, number: int) -> str:
    """Say what a stick is, and what is left of it."""
    show, cut = stock.project.show, stock.plan.cuts[number]
    length = both_text(cut.stick.length * STEP, show)
    if cut.owned is not None:
        what = f"owned, [[stock.owned]] {cut.owned + 1}, {length}"
    else:
        price = getattr(cut.stick, "price", 0)
        what = f"to buy, {length}" + (f", {price / 100:.2f}" if stock.priced else "")
    left = [both_text(high - low, show) for low, high in stock.saw.offcuts[number]]
    over = f"left over {' and '.join(left)}" if left else "nothing left that is worth keeping"
    flawed = getattr(cut.stick, "flaws", ())
    close = "Flaws leave boards no room" if flawed else "No room to spare"
    tight = f". {close}: saw to the marks" if number in stock.saw.tight else ""
    return f"Stick {number + 1}: {what}; {over}{tight}."


def cuts(stock: Stock) -> Table:
    """Return the saw list, cut by cut."""
    inches = stock.project.show == "in"
    rows = tuple(
        (
            str(cut.number),
            blade_text(cut),
            length_text(cut.stop, stock.project.show) if cut.stop is not None else "",
            *cut_cells(stock, cut),
            *((_plain(cut.stop), _plain(cut.at)) if inches else ()),
        )
        for cut in stock.saw.cuts
    )
    return Table(
        name="saw-list",
        title="Saw list",
        header=(
            "Cut", "Blade", "Stop", "Stick", "What", "Mark", "Side", "Leads",
            *(("Stop, mm", "Mark, mm") if inches else ()),
        ),
        rows=rows,
        right=frozenset({0, 2, 3, 5, 8, 9} if inches else {0, 2, 3, 5}),
        notes=(
            NOT_BEFORE, NOT_STOPPED, FACE_UP, ORDER, *([STOP] if stock.saw.stops else []), *CAUTIONS
        ),
    )  # fmt: skip


def cut_cells(stock: Stock, cut: SawCut) -> tuple[str, str, str, str, str]:
    """Return a cut's stick, what it makes, its mark, on which side of it the blade runs, the lead.

    The lead is the end of the stick that points to where the blade leans.
    """
    ends = [_named(stock, each.piece, f", {each.end} end") for each in cut.ends]
    mark = length_text(cut.at, stock.project.show)
    what = " and ".join(ends) or _blank(stock, cut)
    return str(cut.stick + 1), what, mark, cut.leads, cut.leads if cut.tilt_deg else "either"


def _blank(stock: Stock, cut: SawCut) -> str:
    """Say beside which board a stick is parted: the nearer one."""
    rows = rows_of(stock, cut.stick)
    behind = [(cut.at - row.end, "behind", row.piece) for row in rows if row.end < cut.at]
    before = [(row.start - cut.at - cut.along, "before", row.piece) for row in rows
              if row.start > cut.at]  # fmt: skip
    # the same room on both sides: behind
    _, side, piece = min((*behind, *before), key=lambda each: round(each[0], 1))
    return f"part {side} {_named(stock, piece)}"


def _named(stock: Stock, piece: int, end: str = "") -> str:
    """Return a board's name with the collar's behind it: a narrow column shortens the latter."""
    collar, board = stock.asked.boards[piece]
    return board.name + end + (f", {stock.names[collar]}" if len(stock.names) > 1 else "")


def blade_text(cut: SawCut) -> str:
    """Say how the blade is set: what the scale has to say where a test ring told it."""
    if not cut.tilt_deg:
        return "square"
    if cut.scale_deg is not None:
        return f"{cut.tilt_deg:.1f} deg: {cut.scale_deg:.1f} on the scale"
    if cut.prove:
        return f"{cut.tilt_deg:.1f} deg: prove on scraps"
    return f"{cut.tilt_deg:.1f} deg"


def setting_texts(stock: Stock) -> Iterator[tuple[str, Setting]]:
    """Yield each setting with a heading that says what is set and what it is for."""
    show = stock.project.show
    before: Setting | None = None
    for number, setting in enumerate(stock.saw.settings, 1):
        first, last = setting.cuts[0], setting.cuts[-1]
        stays = before is not None and blade_text(before.cuts[0]) == blade_text(first)
        blade = f"Blade {'stays at ' if stays and first.tilt_deg else ''}{blade_text(first)}"
        stop = f", stop at {both_text(setting.stop, show)}" if setting.stop is not None else ""
        join = "and" if last.number == first.number + 1 else "to"
        span = (
            f"cuts {first.number} {join} {last.number}"
            if first is not last
            else f"cut {first.number}"
        )
        yield f"{number}. {blade}{stop}: {span}, {_aim(setting)}", setting
        before = setting


def _aim(setting: Setting) -> str:
    kinds = {cut.kind for cut in setting.cuts}
    aims = (
        ("apart", "saw the sticks apart into rough blanks"),
        ("first", "first ends, at their marks"),
        ("second", "second ends, against the stop"),
    )
    return "; ".join(aim for kind, aim in aims if kind in kinds)


def _plain(mm: float | None) -> str:
    return "" if mm is None else mm_text(mm).removesuffix(" mm")
