"""The cut plan as data."""

from typing import Any

from ...geometry.plan.cutting import STEP
from ..summary import FORMAT
from .laid import offcut, rows_of
from .planned import Stock


def stock_data(stock: Stock) -> dict[str, Any]:
    """Return the plan as JSON-ready data; lengths in mm, prices as given."""
    plan, priced = stock.plan, stock.priced
    sticks: list[dict[str, Any]] = []
    number = 1
    for cut in plan.cuts:
        rows = rows_of(stock, cut, number)
        number = rows[-1].cuts[1] + 1
        price = getattr(cut.stick, "price", 0) / 100
        sticks.append(
            {
                "length_mm": round(cut.stick.length * STEP, 2),
                "owned": None if cut.owned is None else cut.owned + 1,
                "price": price if priced and cut.owned is None else None,
                "boards": [
                    {
                        "collar": stock.names[stock.asked.boards[row.piece][0]],
                        "name": stock.asked.boards[row.piece][1].name,
                        "from_mm": round(row.start, 2),
                        "to_mm": round(row.end, 2),
                        "turned": row.turned,
                        "miter_left_deg": row.miters[0],
                        "miter_right_deg": row.miters[1],
                        "cuts": list(row.cuts),
                    }
                    for row in rows
                ],
                "left_mm": round(offcut(stock, cut), 2),
            }
        )
    return {
        "format": FORMAT,
        "sticks": sticks,
        "bought_mm": round(plan.bought * STEP, 2),
        "price": plan.price / 100 if priced else None,
        "runs": plan.runs if stock.asked.job.matched else None,
        "least": plan.least / 100 if priced else round(plan.least * STEP, 2),
        "least_unit": "price" if priced else "mm",
        "proved": {
            "first": plan.first_proved,
            "all": plan.proved,
            "runs": plan.runs_proved if stock.asked.job.matched else None,
        },
        "assumed": stock.asked.assumed,
        "left_out": [
            {"collar": stock.names[k], "name": board.name} for k, board in stock.asked.left_out
        ],
    }
