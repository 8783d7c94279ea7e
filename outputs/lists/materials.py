"""What to buy, as two lists: what goes into the collar, and the tools for it."""

from collections.abc import Sequence

from ...geometry.plan.materials import TOOLS, Cost
from ...params.project import Show
from ..buy import Shopping, amount_text, buy_cells, buy_text, money, notes, sums, thing_text
from .table import Table

HEADER = ("Thing", "Net", "More", "To buy", "Comes to", "Basis", "Amount", "Unit", "Id")


def materials_lists(found: Shopping) -> list[Table]:
    """Return the tables ``materials`` and ``tools``; the sum is told under the first."""
    show = found.project.show
    costs = found.bill.costs
    bought = [each for each in costs if each.item.group not in TOOLS]
    tools = [each for each in costs if each.item.group in TOOLS]
    estimated = (
        "Net is what goes into the collar, more is what is added to it. Basis computed: counted or"
        " worked out in the layout; everything else rests on figures that the label, the part in"
        " your hand, or your shop may change. A row of prices.csv begins with a thing's id, which"
        " the CSV file has and collarwright buy FILE."
    )
    return [
        _table("materials", "What to buy", bought, show, (*notes(found), estimated, *sums(found))),
        _table("tools", "Tools, and what protects", tools, show, (estimated,)),
    ]


def _table(
    name: str, title: str, costs: Sequence[Cost], show: Show, said: tuple[str, ...]
) -> Table:
    return Table(
        name=name,
        title=title,
        header=HEADER,
        rows=tuple(_row(each, show) for each in costs),
        right=frozenset({1, 2, 3, 4}),
        spare=frozenset(map(HEADER.index, ("Amount", "Unit", "Id"))),
        notes=said,
    )


def _row(cost: Cost, show: Show) -> tuple[str, ...]:
    item = cost.item
    return (
        thing_text(cost),
        amount_text(item, item.net, "mm" if item.unit == "mL" else show),
        f"{item.allowance:.0f} %" if item.allowance else "",
        buy_text(item, show),
        money(cost.total),
        item.basis,
        *buy_cells(item, show),
        item.id,
    )
