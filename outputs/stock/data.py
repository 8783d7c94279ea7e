"""The cut plan as data."""

from typing import Any

from ...geometry.plan.cutting import STEP
from ...geometry.plan.cutting.saw_list import SawCut
from ..summary import FORMAT
from .laid import Row, rows_of
from .planned import Stock


def stock_data(stock: Stock) -> dict[str, Any]:
    """Return the plan as JSON-ready data; lengths in mm, prices as given."""
    plan, priced = stock.plan, stock.priced
    sticks: list[dict[str, Any]] = []
    for number, cut in enumerate(plan.cuts):
        price = getattr(cut.stick, "price", 0) / 100
        sticks.append(
            {
                "length_mm": round(cut.stick.length * STEP, 2),
                "owned": None if cut.owned is None else cut.owned + 1,
                "price": price if priced and cut.owned is None else None,
                "boards": [_board(stock, row) for row in rows_of(stock, number)],
                "offcuts": [
                    {"from_mm": round(low, 2), "to_mm": round(high, 2)}
                    for low, high in stock.saw.offcuts[number]
                ],
                "room_to_spare": number not in stock.saw.tight,
            }
        )
    return {
        "format": FORMAT,
        "sticks": sticks,
        "saw_list": [_cut(stock, cut) for cut in stock.saw.cuts],
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


def _named(stock: Stock, piece: int) -> dict[str, str]:
    number, board = stock.asked.boards[piece]
    return {"collar": stock.names[number], "name": board.name}


def _board(stock: Stock, row: Row) -> dict[str, Any]:
    left, right = row.cuts
    return {
        **_named(stock, row.piece),
        "from_mm": round(row.start, 2),
        "to_mm": round(row.end, 2),
        "turned": row.turned,
        "miter_left_deg": left.tilt_deg,
        "miter_right_deg": right.tilt_deg,
        "cuts": [left.number, right.number],
    }


def _cut(stock: Stock, cut: SawCut) -> dict[str, Any]:
    """Return a cut as data; sticks are counted from 1, as in print."""
    return {
        "number": cut.number,
        "kind": cut.kind,
        "stick": cut.stick + 1,
        "at_mm": round(cut.at, 2),
        "leads": cut.leads,
        "kerf_along_mm": round(cut.along, 3),
        "tilt_deg": cut.tilt_deg,
        "scale_deg": cut.scale_deg,
        "prove_on_scraps": cut.prove,
        "stop_mm": None if cut.stop is None else round(cut.stop, 2),
        "ends": [{**_named(stock, each.piece), "end": each.end} for each in cut.ends],
    }
