"""The foam sheet by sheet, the knife's cuts in their order, and what is cut out of the panels."""

from collections.abc import Iterator

from ...geometry.plan.sheets import STEP
from ...params.units import length_text, mm_text
from ..foam_plan import Foam
from ..foam_plan.planned import at_text, how_text, size_text, where_text
from ..foam_plan.words import AFTER, CARE, HOW, about, closing
from .table import Table


def foam_lists(foam: Foam) -> list[Table]:
    """Return the tables ``foam``, ``foam-cuts`` and ``foam-openings``; none without a sheet."""
    if not foam.plan.lots:
        return []
    tables = [_pieces(foam), _cuts(foam), _openings(foam)]
    return [table for table in tables if table.rows]


def _pieces(foam: Foam) -> Table:
    show = foam.show
    rows: list[tuple[str, ...]] = []
    for laid in foam.sheets():
        for placed in laid.plan.parts:
            piece, rect = laid.piece(placed), placed.rect
            sizes = tuple(each * STEP for each in (piece.length, piece.width, rect.x, rect.y))
            rows.append(
                (
                    str(laid.number),
                    foam.name(piece) + (", on its left end" if placed.turned else ""),
                    *(length_text(each, show) for each in (*sizes[:2], piece.panel.thickness)),
                    *(length_text(each, show) for each in sizes[2:]),
                    *((_plain(each) for each in sizes[:2]) if show == "in" else ()),
                )
            )
        rows += [
            (
                str(laid.number),
                "left over",
                *(length_text(each * STEP, show) for each in (rect.length, rect.width)),
                length_text(laid.lot.thickness, show),
                *(length_text(each * STEP, show) for each in (rect.x, rect.y)),
                *((_plain(each * STEP) for each in (rect.length, rect.width))
                  if show == "in" else ()),
            )
            for rect in laid.plan.left
        ]  # fmt: skip
    millimeters = ("Length, mm", "Width, mm") if show == "in" else ()
    header = ("Sheet", "Panel", "Length", "Width", "Thick", "From left", "From below")
    return Table(
        name="foam",
        title="Foam panels on their sheets",
        header=(*header, *millimeters),
        rows=tuple(rows),
        right=frozenset({0, *range(2, len(header) + len(millimeters))}),
        notes=tuple(_notes(foam)),
    )


def _notes(foam: Foam) -> Iterator[str]:
    for lot in foam.plan.lots:
        count = len(lot.plan.sheets)
        size = size_text(lot.job.sheet.length, lot.job.sheet.width, foam.show)
        yield f"{count} sheet{'' if count == 1 else 's'} of {size}, {foam.foam(lot)}."
        yield from about(foam, lot)
    yield ("Places are a piece's lower left corner on the sheet; an offcut is not cut to any size.")
    yield from closing(foam)


def _cuts(foam: Foam) -> Table:
    rows = tuple(
        (
            str(each.number),
            each.of,
            size_text(each.cut.before.length, each.cut.before.width, foam.show),
            where_text(each.cut, foam.show),
            *each.gives,
            *((_plain(each.cut.at * STEP),) if foam.show == "in" else ()),
        )
        for laid in foam.sheets()
        for each in laid.cuts
    )
    header = ("Cut", "What", "Its size", "How it runs", "Left or lower", "Right or upper")
    millimeters = ("At, mm",) if foam.show == "in" else ()
    return Table(
        name="foam-cuts",
        title="Cuts in the foam, in their order",
        header=(*header, *millimeters),
        rows=rows,
        right=frozenset({0, *range(len(header), len(header) + len(millimeters))}),
        notes=(HOW, *CARE),
    )


def _openings(foam: Foam) -> Table:
    rows = tuple(
        (
            foam.name(each.piece),
            each.name,
            how_text(each, foam.show),
            at_text(each.u, foam.show),
            at_text(each.v, foam.show),
        )
        for lot in foam.plan.lots
        for each in foam.openings(lot)
    )
    return Table(
        name="foam-openings",
        title="What is cut out of the foam panels",
        header=("Panel", "What", "How", "From left", "From below"),
        rows=rows,
        right=frozenset({3, 4}),
        notes=(AFTER,),
    )


def _plain(mm: float) -> str:
    """Write millimeters for a spreadsheet: the unit stands in the header."""
    return mm_text(mm, 2).removesuffix(" mm")
