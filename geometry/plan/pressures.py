"""Which drinks one regulator can serve: those of one gas that want about the same pressure.

A regulator holds all that hangs on it at one pressure. The pressure itself is not worked out here;
drinks are told apart by their kind and their carbonation. It hangs on the drink's temperature, too,
but all vessels of one well are as cold as its controller keeps them, whatever ``pour.temperature``
asks for: two temperatures make no second pressure.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from ...params.project import Pour, Project
from .cylinders import cylinders

ALIKE = 0.2
"""So far apart, volumes of gas, drinks still share a regulator: about 2 psi at 4 degC, as much as
a small gauge is off (common practice, no source)."""

USUAL = {
    "carbonated": ("CO2", "blended gas"),
    "nitrogenated": ("blended gas", "nitrogen"),
    "still": ("nitrogen", "blended gas", "CO2"),
}
"""The gases that a drink may have which names none, the likeliest first (common practice)."""

NAMED = {"nitrogen": "nitrogen", "blend": "blended gas", "co2": "CO2", "carbon dioxide": "CO2"}
"""A gas by what stands in ``pour.gas``."""

ORDER = ("still", "carbonated", "nitrogenated")
"""Kinds of drink by pressure, least first (common practice)."""


@dataclass(frozen=True, slots=True)
class Pressure:
    """Drinks of one gas that share a regulator.

    ``volumes`` are the least and the most carbonation among them; None where none is told.
    """

    gas: str
    drink: str
    volumes: tuple[float, float] | None
    pours: tuple[Pour, ...]


def pressures(project: Project) -> tuple[Pressure, ...]:
    """Return the pressures that the drinks of ``[[pour]]`` want, gas by gas, the least first.

    Carbonated drinks share one where their carbonation lies within 0.2 volumes; one that tells
    none goes with the least of its gas. A drink that tells neither kind nor carbonation is left
    out, and where no cylinder has a gas for a drink it has its usual one.
    """
    gases = {each.gas for each in cylinders(project)}
    found: dict[str, dict[str, list[Pour]]] = {}
    for pour in project.pour:
        drink = drink_of(pour)
        if drink:
            kinds = found.setdefault(_gas(pour, drink, gases), {})
            kinds.setdefault(drink, []).append(pour)
    return tuple(
        each
        for gas, kinds in found.items()
        for drink in ORDER
        if drink in kinds
        for each in _groups(gas, drink, kinds[drink])
    )


def drink_of(pour: Pour) -> str | None:
    """Return the kind of a drink; one that only tells its carbonation is carbonated."""
    return pour.drink or (None if pour.carbonation is None else "carbonated")


def gas_named(pour: Pour) -> str | None:
    """Return the gas that a drink's own words name, None where they name none."""
    said = (pour.gas or "").casefold()
    named = [gas for word, gas in NAMED.items() if word in said]
    if "blended gas" in named or {"CO2", "nitrogen"} <= set(named):  # "70 % nitrogen, 30 % CO2"
        return "blended gas"
    return named[0] if named else None


def _gas(pour: Pour, drink: str, gases: Collection[str]) -> str:
    """Return a drink's gas: as it is named, else of the usual ones the first that there is."""
    usual = USUAL[drink]
    return gas_named(pour) or next((gas for gas in usual if gas in gases), usual[0])


def _groups(gas: str, drink: str, pours: Sequence[Pour]) -> list[Pressure]:
    if drink != "carbonated":
        return [Pressure(gas, drink, None, tuple(pours))]
    told = sorted((each.carbonation, i) for i, each in enumerate(pours) if each.carbonation)
    untold = [each for each in pours if not each.carbonation]
    groups: list[list[tuple[float, int]]] = []
    for one in told:
        if groups and one[0] <= groups[-1][0][0] + ALIKE + 1e-9:
            groups[-1].append(one)
        else:
            groups.append([one])
    if not groups:
        return [Pressure(gas, drink, None, tuple(untold))]
    return [
        Pressure(
            gas,
            drink,
            (group[0][0], group[-1][0]),
            tuple(pours[i] for _, i in group) + (tuple(untold) if group is groups[0] else ()),
        )
        for group in groups
    ]
