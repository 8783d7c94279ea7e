"""What is bought: how much is needed, what is added to it, and what the figures rest on."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from ..cutting import Plan as BoardPlan
from ..sheets.panels import Lot
from ..shown import Shown

Unit = Literal["piece", "mm", "mL", "m2"]
"""What an amount is told in; lengths are mm here and whole meters or feet nowhere."""

GROUPS = (
    "wood",
    "glue and finish",
    "foam",
    "lip",
    "fixings",
    "taps",
    "drink side",
    "gas side",
    "vessels",
    "cold",
    "cleaning",
    "tools",
    "protection",
)
"""The groups in the order in which they are listed."""

TOOLS = ("tools", "protection")
"""The groups of things that are not used up, and that a workshop may have."""

COUNTED = "counted in the layout"
"""The source of a count that nobody had to assume anything for."""

SLACK = 1e-9
"""What is a whole number but for rounding is one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing to buy.

    Attributes:
        id: small letters, digits and dashes; a catalogue row's own where there is one.
        group: one of ``GROUPS``.
        name: what it is, in words, with its sizes in the units of ``show``.
        unit: what the amounts are in.
        net: how much goes into the collar.
        allowance: what is added to that, percent.
        pack: content of one that is sold, in ``unit``: a piece is 1, a cartridge so many mL; None
            where it is sold in many sizes.
        pack_name: what such a one is called where that is no piece.
        basis: what the amount rests on: ``computed``, or as in the catalogues.
        source: the rule and figures that it rests on.
        why: what it is for, and what to look at.
        price: of one pack, where the build file says it.
    """

    id: str
    group: str
    name: str
    net: float
    why: str
    unit: Unit = "piece"
    allowance: float = 0.0
    pack: float | None = 1.0
    pack_name: str = ""
    basis: str = "computed"
    source: str = COUNTED
    price: float | None = None

    @property
    def needed(self) -> float:
        """How much is wanted, allowance and all, in ``unit``; of pieces a whole number."""
        whole = self.net * (1 + self.allowance / 100)
        return float(math.ceil(whole - SLACK)) if self.unit == "piece" else whole

    @property
    def buy(self) -> int | None:
        """How many packs to buy; None where it is sold in many sizes: then ``needed`` of it."""
        return None if self.pack is None else math.ceil(self.needed / self.pack - SLACK)

    @property
    def estimated(self) -> bool:
        """Whether somebody had to assume more than the layout says."""
        return self.basis != "computed"


@dataclass(frozen=True, slots=True)
class Job(Shown):
    """What the list is made from.

    ``boards`` and ``sheets`` are the cut plans of boards and foam, the latter with its seams;
    without them running length and area are told. ``stick_prices``: the plan's prices are real.
    """

    boards: BoardPlan | None = None
    sheets: Lot | None = None
    stick_prices: bool = False

    def slug(self, mm: float) -> str:
        """Write a length as a part of an id: ``1-1-4-in``, ``25-4-mm``."""
        return _slug(self.length(mm))

    def bit_slug(self, mm: float) -> str:
        """Write the diameter that a bit bores as a part of an id."""
        return _slug(self.bit(mm))


def _slug(text: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in text)


def joined(found: Iterable[Item]) -> tuple[Item, ...]:
    """Return the items in the order of their groups, those of one id as one."""
    by_id: dict[str, Item] = {}
    for each in found:
        old = by_id.get(each.id)
        by_id[each.id] = each if old is None else _both(old, each)
    return tuple(sorted(by_id.values(), key=lambda each: GROUPS.index(each.group)))


def _both(one: Item, other: Item) -> Item:
    """Return two amounts of one thing as one; their allowances go on in proportion."""
    net = one.net + other.net
    added = one.net * one.allowance + other.net * other.allowance
    sources = one.source if one.source == other.source else f"{one.source}; {other.source}"
    return replace(
        one,
        net=net,
        allowance=added / net if net else 0.0,
        source=sources,
        why=one.why if one.why == other.why else f"{one.why}; {other.why}",
        basis=one.basis if one.estimated else other.basis,
    )
