"""The boards as they have to come from the saw, and every hole in them."""

from collections.abc import Iterator, Sequence

from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole, assumed
from ...geometry.shape.layout import Layout
from ...params.units import Show, bit_text, length_text, mm_text
from ..templates import hole_names
from .table import Table


def boards(layout: Layout, show: Show) -> list[Table]:
    """Return the tables of boards, of holes through their faces, and of cap strips."""
    every = (*layout.boards, *layout.covers)
    tables = [_boards(every, show)]
    holes = tuple(_holes(every, layout, show))
    if holes:
        tables.append(
            Table(
                name="holes",
                title="Holes in the boards",
                header=("Board", "Hole", "Across", "From left", "From below", "Depth", *_mm(show)),
                rows=holes,
                right=frozenset({2, 3, 4, 5, *((6, 7, 8) if show == "in" else ())}),
                notes=(
                    "Places are the hole's center: from the left long point and from the bottom"
                    " edge, the outer face seen from outside. Bore by the template or by these"
                    " figures, not by a drawing.",
                    *(
                        (
                            "Holes for hinges and brackets are a set-out: hold the bought part to"
                            " the wood and mark through it.",
                        )
                        if any(assumed(h.name, h.purpose) for b in every for h in b.holes)
                        else ()
                    ),
                ),
            )
        )
    return tables


def _mm(show: Show) -> tuple[str, ...]:
    return ("Across, mm", "Left, mm", "Below, mm") if show == "in" else ()


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


def _holes(every: Sequence[Board], layout: Layout, show: Show) -> Iterator[tuple[str, ...]]:
    names = hole_names(layout)
    for board in every:
        for hole in board.holes:
            yield (
                board.name,
                names.get(hole.name, hole.name),
                _across(hole, show),
                length_text(hole.u, show),
                length_text(hole.v, show),
                "through" if hole.depth is None else f"{length_text(hole.depth, show)} {hole.face}",
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
