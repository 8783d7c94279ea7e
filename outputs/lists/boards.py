"""The boards as they have to come from the saw, and every hole in them."""

from collections.abc import Iterator, Mapping, Sequence

from ...geometry.shape.frame import Board
from ...geometry.shape.hole import BRACKET_SET_OUT, HINGE_SET_OUT, Hole
from ...geometry.shape.layout import Layout
from ...params.units import Show, bit_text, length_text, mm_text
from ..drawings.flat import deep_text
from ..templates import hole_names
from ..work import Work
from .table import Table

Holes = Sequence[tuple[Board, Hole]]

PLACES = (
    "Places are the hole's center: from the left long point and from the bottom edge, the outer"
    " face seen from outside."
)


def boards(layout: Layout, work: Work, show: Show) -> list[Table]:
    """Return the tables of boards, of holes to bore, and of set-outs, as far as there are any."""
    every = (*layout.boards, *layout.covers)
    names = hole_names(layout)
    asked = [(board, hole) for board in every for hole in board.holes if not hole.assumed]
    assumed = [(board, hole) for board in every for hole in board.holes if hole.assumed]
    tables = [_boards(every, show)]
    if asked:
        notes = (
            f"{PLACES} Bore by the template or by these figures, not by a drawing.",
            *((f"Set-outs for {_bought(assumed)} are a list of their own.",) if assumed else ()),
        )
        tables.append(_holes("holes", "Holes to bore in the boards", asked, names, show, notes))
    if assumed:
        notes = tuple(_set_out_notes(assumed, work))
        title = "Set-outs: where holes for bought parts are expected"
        tables.append(_holes("set-outs", title, assumed, names, show, notes))
    return tables


def _bought(holes: Holes) -> str:
    starts = {"hinge leaves": HINGE_SET_OUT, "corner brackets": BRACKET_SET_OUT}
    return " and ".join(
        what
        for what, start in starts.items()
        if any(hole.name.startswith(start) for _, hole in holes)
    )


def _set_out_notes(holes: Holes, work: Work) -> Iterator[str]:
    """Yield when and how set-outs are drilled: last, through the bought part."""
    yield PLACES
    steps = {each.id: work.number(each.id) for each in work.steps}
    for start, part, step in (
        (HINGE_SET_OUT, "leaf", "hinges"),
        (BRACKET_SET_OUT, "bracket", "brackets"),
    ):
        if any(hole.name.startswith(start) for _, hole in holes):
            when = f", in step {steps[step]}" if step in steps else ""
            yield (
                f"Nothing to bore now: hold the real {part} to the wood{when}, mark through its"
                " own holes, and drill there."
            )
    deep = {length_text(hole.into_block, work.project.show) for _, hole in holes if hole.into_block}
    if deep:
        block = f" (step {steps['backing']})" if "backing" in steps else ""
        yield (
            f"The leaf's holes go through the board and {' or '.join(sorted(deep))} into the block"
            f" behind it, which is glued on first{block}."
        )


def _holes(
    name: str, title: str, holes: Holes, names: Mapping[str, str], show: Show,
    notes: tuple[str, ...],
) -> Table:  # fmt: skip
    inches = show == "in"
    mm = ("Across, mm", "Left, mm", "Below, mm") if inches else ()
    return Table(
        name=name,
        title=title,
        header=("Board", "Hole", "Across", "From left", "From below", "Depth", *mm),
        rows=tuple(_row(board, hole, names, show) for board, hole in holes),
        right=frozenset({2, 3, 4, *((6, 7, 8) if inches else ())}),
        spare=frozenset({6} if inches else ()),
        notes=notes,
    )


def _boards(every: Sequence[Board], show: Show) -> Table:
    inches = show == "in"
    rows = tuple(
        (
            board.name,
            *(
                length_text(each, show)
                for each in (board.long_point, board.short_point, board.width, board.thickness)
            ),
            _tilt(board.miter_left_deg),
            _tilt(board.miter_right_deg),
            *((_plain(board.long_point), _plain(board.short_point)) if inches else ()),
        )
        for board in every
    )
    scale = any(
        each is not None
        for board in every
        for each in (board.scale_left_deg, board.scale_right_deg)
    )
    said = (
        (
            "A test ring was cut: set what the saw's scale has to say, which stands in the saw list"
            " and on the templates, not these tilts.",
        )
        if scale
        else ()
    )
    return Table(
        name="boards",
        title="Boards of the collar",
        header=(
            "Board", "Outside", "Inside", "Width", "Thickness", "Tilt left", "Tilt right",
            *(("Outside, mm", "Inside, mm") if inches else ()),
        ),
        rows=rows,
        right=frozenset(range(1, 9 if inches else 7)),
        notes=(
            "Outside is the long point, on the outer face; inside is the short point. Tilt is how"
            " far the blade leans from a square cut.",
            *said,
        ),
    )  # fmt: skip


def _tilt(deg: float) -> str:
    return f"{deg:.1f} deg"


def _plain(mm: float) -> str:
    return mm_text(mm).removesuffix(" mm")


def _row(board: Board, hole: Hole, names: Mapping[str, str], show: Show) -> tuple[str, ...]:
    deep = deep_text(hole, show)
    return (
        board.name,
        names.get(hole.name, hole.name),
        _across(hole, show),
        length_text(hole.u, show),
        length_text(hole.v, show),
        deep if hole.depth is None else f"{deep}, {hole.face} face",
        *(
            (_across(hole, "mm").replace(" mm", ""), _plain(hole.u), _plain(hole.v))
            if show == "in"
            else ()
        ),
    )


def _across(hole: Hole, show: Show) -> str:
    if hole.diameter is not None:
        return bit_text(hole.diameter, show)
    return f"{length_text(hole.length or 0.0, show)} x {length_text(hole.height or 0.0, show)}"
