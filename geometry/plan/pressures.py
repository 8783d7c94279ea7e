"""Which drinks one regulator can serve: those of one gas that want about the same pressure.

Here is also what else a pressure hangs on: a tap's drink, its gas, and how cold the well is.

A regulator holds all that hangs on it at one pressure. The pressure itself is not worked out here;
drinks are told apart by their kind and their carbonation. It hangs on the drink's temperature, too,
but all vessels of one well are as cold as its controller keeps them, whatever ``pour.temperature``
asks for: two temperatures make no second pressure.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ...params.project import Pour, Project
from ...params.values import is_tap
from ..shape.taps import Tap
from .cylinders import cylinders

ALIKE = 0.2
"""So far apart, volumes of gas, drinks still share a regulator: about 2 psi at 4 degC, as much as
a small gauge is off (common practice, no source)."""

ALIKE_WARM = 1.0
"""Temperatures that differ by no more are one, K (common practice: what a controller swings)."""

COLD = 3.0
"""How cold a well is where no drink has a temperature, degC (common practice)."""

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

    @property
    def kind(self) -> str:
        """What the drinks are, as ``carbonated, 2.4 to 2.5 volumes``."""
        if self.volumes is None:
            return self.drink
        low, high = (f"{each:g}" for each in self.volumes)
        return f"{self.drink}, {low if low == high else f'{low} to {high}'} volumes"


def pressures(project: Project) -> tuple[Pressure, ...]:
    """Return the pressures that the drinks of ``[[pour]]`` want, gas by gas, the least first.

    Carbonated drinks share one where their carbonation lies within 0.2 volumes; one that tells
    none goes with the least of its gas. A drink that tells neither kind nor carbonation is left
    out, and where no cylinder has a gas for a drink it has its usual one.
    """
    found: dict[str, dict[str, list[Pour]]] = {}
    for pour in project.pour:
        drink, gas = drink_of(pour), drink_gas(project, pour)
        if drink and gas:
            found.setdefault(gas, {}).setdefault(drink, []).append(pour)
    return tuple(
        each
        for gas, kinds in found.items()
        for drink in ORDER
        if drink in kinds
        for each in _groups(gas, drink, kinds[drink])
    )


def pour_of(project: Project, tap: Tap) -> Pour | None:
    """Return what comes out of a tap; None where the build file does not tell."""
    return next((each for each in project.pour if is_tap(each.tap, tap.number, tap.name)), None)


def set_point(project: Project) -> float | None:
    """Return how cold the well is, degC: the coldest that a drink asks for, None where none does.

    All drinks of one well are as cold as that, whatever each asks for.
    """
    asked = [each.temperature for each in project.pour if each.temperature is not None]
    return min(asked, default=None)


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


def drink_gas(project: Project, pour: Pour) -> str | None:
    """Return a drink's gas: as it is named, else of its kind's usual ones the first that there is.

    None where the build file tells neither its gas nor its kind.
    """
    named, drink = gas_named(pour), drink_of(pour)
    if named or drink is None:
        return named
    usual, there = USUAL[drink], {each.gas for each in cylinders(project)}
    return next((gas for gas in usual if gas in there), usual[0])


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
