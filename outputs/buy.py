"""``buy``: what to buy for one collar and what it comes to, as text, data or CSV."""

import csv
import io
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from itertools import groupby
from pathlib import Path
from typing import Any

from ..geometry.plan.materials import TOOLS, Bill, Cost, Item, bill, materials, untold
from ..geometry.plan.sheets.panels import Lot, foam_plan
from ..geometry.shape.layout import Layout
from ..params.prices import COLUMNS, NAME, read_prices
from ..params.problem import visible
from ..params.project import Project, Show
from ..params.reading import Source
from ..params.units import area_text, run_text, volume_text
from .lists.sheet import harmless
from .stock import Stock, plan_or_why
from .summary import FORMAT
from .terminal import fitted
from .text import WIDTH

MOST_NAMED = 12
"""So many things without a price are named; more are seen on the list itself."""

KIT = "tool or thing that protects", "tools and things that protect"

MINDED = {
    "regulator": "Each gas has its own regulator and never an adapter: their pressures differ."
    " Cylinders stand upright and chained.",
    "secondary-regulator": "A regulator holds one pressure; drinks of one gas here want several."
    " Its first regulator holds the highest, a secondary one each lower one. A first regulator with"
    " as many outlets, each set by itself, does it too.",
    "adhesive-foam-safe": "The foam's adhesive has to be made for foam board: solvents melt"
    " polystyrene.",
    "temperature-controller": "The controller has to bear the current with which the freezer's"
    " compressor starts.",
    "co2-alarm": "CO2 in a small room can kill unseen: think of an alarm, low down. An oxygen alarm"
    " is not enough for it.",
    "oxygen-alarm": "Nitrogen takes consciousness without a warning: where it or a blend is used,"
    " think of an oxygen alarm.",
}
"""What to mind, by how the id of the thing begins that it is about."""

CODES = "Local codes and licensed trades come first, for electricity, gas and drink."

LABELS = (
    "Amounts of glue, finish and adhesive are estimates: the label of what you buy goes first."
    " Measure bought parts before you cut for them."
)


@dataclass(frozen=True, slots=True)
class Shopping:
    """The bill of a collar; ``no_stock`` says why boards are told by running length, if they are.

    ``fails`` is whether a *must* fails as the design stands, ``priced`` whether there are prices,
    ``owned`` how many sticks that lie in the shop the boards' cut plan takes.
    """

    project: Project
    bill: Bill
    no_stock: str = ""
    fails: bool = False
    owned: int = 0

    @property
    def priced(self) -> bool:
        """Whether anything has a price."""
        return any(each.total is not None for each in self.bill.costs)


def shopping(
    project: Project,
    source: Source,
    layout: Layout,
    planned: tuple[Stock | None, str] | None = None,
    lots: Sequence[Lot] | None = None,
    *,
    fails: bool = False,
    prices: bool = True,
) -> Shopping:
    """List what to buy and put the prices on it that lie beside the build file.

    ``planned`` is the boards' cut plan, or why there is none, where that is known already;
    ``lots`` the foam's. Without ``prices`` the file of prices is not read.

    Raises:
        BuildFileError: ``prices.csv`` cannot be used.
    """
    known = read_prices(Path(source.file).parent) if prices else {}
    stock, no_stock = planned or plan_or_why((project, source, layout))
    if lots is None:
        lots = foam_plan([(project, layout)]).lots
    items = materials(
        project,
        layout,
        stock.plan if stock else None,
        lots[0] if lots else None,
        stick_prices=stock is not None and stock.priced and not stock.asked.assumed,
    )
    owned = sum(cut.owned is not None for cut in stock.plan.cuts) if stock else 0
    return Shopping(project, bill(items, known), no_stock, fails, owned)


# --- words ----------------------------------------------------------------------------------------


def amount_text(item: Item, amount: float, show: Show) -> str:
    """Write an amount of a thing: ``3``, ``9.80 m``, ``32.0 ft``, ``390 mL (13.2 fl oz)``."""
    match item.unit:
        case "piece":
            return f"{round(amount, 2):g}"
        case "mm":
            return run_text(amount, show)
        case "mL":
            return volume_text(amount, show)
        case "m2":
            return area_text(amount, show)


def buy_text(item: Item, show: Show) -> str:
    """Write what to ask for: ``2``, ``2 cartridges``, or the amount, allowance in it."""
    if item.buy is None:
        return amount_text(item, item.needed, show)
    plural = "" if item.buy == 1 else "s"
    return f"{item.buy} {item.pack_name}{plural}" if item.pack_name else f"{item.buy}"


def buy_cells(item: Item, show: Show) -> tuple[str, str]:
    """Return how much to buy as a bare number, and what it counts, for a spreadsheet."""
    if item.buy is not None:
        return f"{item.buy}", item.pack_name or "piece"
    number, unit = amount_text(item, item.needed, show).split(" ")[:2]
    return number, unit


def money(amount: float | None) -> str:
    """Write a price; nothing for none."""
    return "" if amount is None else f"{amount:.2f}"


def thing_text(cost: Cost) -> str:
    """Return what a thing is called; behind it what one price buys, where that is not one."""
    pack = f" ({money(cost.price)} for {visible(cost.per)})" if cost.per else ""
    return visible(cost.item.name) + pack


def sums(found: Shopping) -> Iterator[str]:
    """Yield what the list comes to and what that leaves out, in whole sentences."""
    bought = found.bill
    without = [each for each in bought.unpriced if each.group not in TOOLS]
    tools = [each for each in bought.unpriced if each.group in TOOLS]
    if not found.priced:
        yield (
            f"No total: nothing has a price. collarwright buy FILE --prices > {NAME}, in the build"
            " file's folder, starts a file of prices; it writes over one that is there."
        )
    else:
        yield f"Total of what has a price: {money(bought.total)}, in the currency of your prices."
        if without or tools:
            parts = [_count(without, "thing to buy", "things to buy")] if without else []
            parts += [_count(tools, *KIT)] if tools else []
            named = _named(without + tools)
            yield f"It leaves out what has no price: {' and '.join(parts)}.{named}"
        yield "It leaves out shipping, tax, filling of cylinders, the freezer and the drinks."


def _not_used(bought: Bill) -> Iterator[str]:
    """Yield which prices of the file are of no use here."""
    known = [each.item.id for each in bought.costs]
    for part_id in bought.unused:
        near = get_close_matches(part_id, known, n=1, cutoff=0.6)
        meant = f"; did you mean {near[0]}?" if near else "."
        yield f"{NAME}: {part_id} is not on this list, so its price is not used{meant}"
    for part_id in bought.double:
        yield f"{NAME}: {part_id} has a price in the build file already, which counts."


def _parted(bought: Bill) -> Iterator[str]:
    """Yield which prices a decimal comma may have parted."""
    for each in bought.costs:
        if each.doubt:
            yield f"{NAME}: {each.item.id} {each.doubt}"


def _named(without: list[Item]) -> str:
    """Name the things that have no price, as long as they are few."""
    if not 0 < len(without) <= MOST_NAMED:
        return ""
    return f" Without a price: {', '.join(each.id for each in without)}."


def _count(items: list[Item], one: str, many: str) -> str:
    return f"{len(items)} {one if len(items) == 1 else many}"


def notes(found: Shopping) -> Iterator[str]:
    """Yield what has to be said before somebody goes and buys."""
    if found.fails:
        yield (
            "As the build file stands a must fails: collarwright check FILE says which. Buy nothing"
            " for it before that is put right."
        )
    yield from _not_used(found.bill)
    yield from _parted(found.bill)
    if found.no_stock:
        yield f"Boards are told by running length, for want of a cut plan: {found.no_stock}"
    if found.owned:
        sticks = "a stick" if found.owned == 1 else f"{found.owned} sticks"
        yield (
            f"Boards come out of {sticks} that you have; only what these do not give is to buy"
            " (collarwright stock FILE)."
        )
    lacking = list(untold(found.project))
    if lacking:
        said = ", ".join(f"{what} ({', '.join(keys)})" for what, keys in lacking)
        yield f"Not on this list, as the build file does not say it: {said}."
    yield LABELS
    for begins, said in MINDED.items():
        if any(each.item.id.startswith(begins) for each in found.bill.costs):
            yield said
    yield CODES


def shopping_text(found: Shopping) -> str:
    """Return the list by group with what it comes to; ``~`` marks an amount that is estimated."""
    show, costs = found.project.show, found.bill.costs
    lines = fitted("What to buy. ~ marks an amount that rests on more than the layout.")
    for said in notes(found):
        lines += fitted(said)
    wide = max(len(_asked(each.item, show)) for each in costs)
    for group, some in groupby(costs, key=lambda each: each.item.group):
        lines += ["", group[0].upper() + group[1:]]
        for each in some:
            lines += _lines(each, show, wide, found.priced)
    lines.append("")
    for said in sums(found):
        lines += fitted(said)
    return "\n".join(lines) + "\n"


def _asked(item: Item, show: Show) -> str:
    guessed = item.estimated and not (item.unit == "piece" and item.net == 1)
    return ("~" if guessed else "") + buy_text(item, show)


def _lines(cost: Cost, show: Show, wide: int, priced: bool) -> list[str]:
    """Return one thing's lines: amount, what it is with its id, and what it comes to."""
    right = 10 if priced else 0
    start = f"  {_asked(cost.item, show):>{wide}}  "
    text = f"{thing_text(cost)} [{cost.item.id}]"
    words = textwrap.wrap(
        text, WIDTH - len(start) - right, break_long_words=False, break_on_hyphens=False
    )
    first = f"{words[0]:<{WIDTH - len(start) - right}}{money(cost.total):>{right}}"
    return [(start + first).rstrip(), *(" " * len(start) + each for each in words[1:])]


# --- data -----------------------------------------------------------------------------------------


def shopping_data(found: Shopping) -> dict[str, Any]:
    """Return the list as JSON-ready data; amounts in pieces, mm, mL or m2."""
    bought = found.bill
    return {
        "format": FORMAT,
        "items": [_data(each) for each in bought.costs],
        "total": round(bought.total, 2) if found.priced else None,
        "left_out": [each.id for each in bought.unpriced],
        "prices_not_used": list(bought.unused),
        "prices_of_the_build_file": list(bought.double),
        "not_said": [{"what": what, "keys": list(keys)} for what, keys in untold(found.project)],
        "no_cut_plan": found.no_stock or None,
        "must_fails": found.fails,
    }


def _data(cost: Cost) -> dict[str, Any]:
    item = cost.item
    return {
        "id": item.id,
        "group": item.group,
        "name": item.name,
        "unit": item.unit,
        "net": round(item.net, 4),
        "allowance_percent": round(item.allowance, 2),
        "needed": round(item.needed, 4),
        "buy": item.buy,
        "pack": item.pack,
        "price": cost.price,
        "per": cost.per or None,
        "packs": cost.packs,
        "total": None if cost.total is None else round(cost.total, 2),
        "basis": item.basis,
        "source": item.source,
        "why": item.why,
    }


def shopping_csv(found: Shopping) -> str:
    """Return the list as CSV: the data, a row a thing."""
    rows = [_data(each) for each in found.bill.costs]
    text = io.StringIO()
    writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: _cell(value) for key, value in row.items()} for row in rows)
    return text.getvalue()


def _cell(value: Any) -> Any:
    """Return a value as a spreadsheet may have it: no text of ours or a person's is a formula."""
    if isinstance(value, str):
        return harmless(value)
    return "" if value is None else value


def prices_csv(found: Shopping) -> str:
    """Return a ``prices.csv`` to fill in: every id with a blank price, given ones too.

    What the build file has a price for is not in it.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for cost in found.bill.costs:
        if cost.item.price is None:
            row = cost.item.id, "", _per(cost.item, found.project.show), cost.item.name
            writer.writerow(map(_cell, row))
    return text.getvalue()


def _per(item: Item, show: Show) -> str:
    """Return what a price is for to begin with: one of what is bought by the piece, else a unit."""
    if item.buy is not None:
        return ""
    units = {"mm": ("1 m", "1 ft"), "mL": ("1 L", "1 qt"), "m2": ("1 m2", "1 ft2")}
    return units[item.unit][show == "in"]
