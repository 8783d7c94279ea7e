"""What a list comes to: a person's prices on its things, and what has no price."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ....params.prices import DECIMAL_COMMA, Price
from ....params.problem import BuildFileError, Problem
from .item import SLACK, Item, Unit

KINDS: Mapping[Unit, str] = {"piece": "count", "mm": "length", "mL": "volume", "m2": "area"}

WANTED = {
    "count": 'a number of pieces, cartridges or sheets, or nothing for one: "100"',
    "length": 'a length with its unit: "10 ft" or "1 m"',
    "volume": 'an amount with its unit: "473 mL" or "1 qt"',
    "area": 'an area with its unit: "2.9 m2"',
}


@dataclass(frozen=True, slots=True)
class Cost:
    """A thing with its price: ``packs`` of what is sold at ``price`` each; None without one.

    ``per`` is what one price buys, as its file has it; empty for one. ``doubt`` is what is said of
    a price that a decimal comma may have parted; empty of others.
    """

    item: Item
    price: float | None = None
    packs: int | None = None
    per: str = ""
    doubt: str = ""

    @property
    def total(self) -> float | None:
        """What it comes to; None without a price."""
        return None if self.price is None or self.packs is None else self.price * self.packs


@dataclass(frozen=True, slots=True)
class Bill:
    """All things with what they come to, in whatever currency the prices are.

    ``unused`` are the ids of prices that no thing of this list has; ``double`` those of things
    that the build file has a price for already, which counts.
    """

    costs: tuple[Cost, ...]
    unused: tuple[str, ...] = ()
    double: tuple[str, ...] = ()

    @property
    def total(self) -> float:
        """The sum of what has a price."""
        return sum(each.total or 0.0 for each in self.costs)

    @property
    def unpriced(self) -> tuple[Item, ...]:
        """What the total leaves out."""
        return tuple(each.item for each in self.costs if each.total is None)


def bill(items: Sequence[Item], prices: Mapping[str, Price]) -> Bill:
    """Put prices on a list.

    Raises:
        BuildFileError: a price is per something that its thing is not sold by; with every such.
    """
    problems: list[Problem] = []
    costs: list[Cost] = []
    double: list[str] = []
    for item in items:
        price = prices.get(item.id)
        if item.price is not None:
            costs.append(Cost(item, item.price, item.buy))
            if price is not None:
                double.append(item.id)
        elif price is None or price.price is None:
            costs.append(Cost(item))
        else:
            costs.append(_cost(item, price, problems))
    if problems:
        raise BuildFileError(problems)
    known = {item.id for item in items}
    return Bill(tuple(costs), tuple(each for each in prices if each not in known), tuple(double))


def _cost(item: Item, price: Price, problems: list[Problem]) -> Cost:
    """Return one thing's cost: as many whole ``per`` as cover what is needed."""
    kind = KINDS[item.unit]
    counted = item.buy is not None and price.kind in ("count", "")
    if counted or price.kind == kind:
        needed = item.buy if counted and item.buy is not None else item.needed
        per = "" if price.kind in ("count", "") and price.per == 1 else price.written
        packs = math.ceil(needed / price.per - SLACK)
        return Cost(item, price.price, packs, per, price.doubt)
    wanted = WANTED["count" if item.buy is not None else kind]
    if price.parted:
        wanted = f"{DECIMAL_COMMA}: {price.parted}; {wanted}"
    read = f'"{price.written}"' if price.written else "nothing"
    problems.append(
        Problem(key=f"{item.id}: per", read=read, wanted=f"{wanted}, as {item.id} is sold")
        .at(price.file, price.line)
    )  # fmt: skip
    return Cost(item)
