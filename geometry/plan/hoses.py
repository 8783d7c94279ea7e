"""Which kegs hang on the manifold, and where the others have their gas from.

A manifold has one gas at one pressure, so only kegs whose drinks want both may hang on it. Which
these are nobody writes down: the gas of most kegs, and of its pressures that of most kegs.
"""

from collections import Counter
from dataclasses import dataclass

from ...params.project import Pour, Project
from ..shape.layout import Layout
from ..shape.vessel import Vessel
from .cylinders import cylinders, gas_of
from .pressures import Pressure, drink_gas, pour_of, pressures


@dataclass(frozen=True, slots=True)
class Keg:
    """A vessel that takes gas.

    ``gas`` is None where the build file does not tell it; ``on_manifold`` tells whether it hangs
    there, ``second`` whether its gas comes from a secondary regulator.
    """

    vessel: Vessel
    gas: str | None
    on_manifold: bool
    second: bool


@dataclass(frozen=True, slots=True)
class Hoses:
    """What hangs on the manifold, and what does not.

    ``gas`` is the manifold's, None where nobody can tell; ``pressure`` what it has of that, None
    where no drink tells; ``second`` whether that is a lower one, so that the manifold hangs behind
    a secondary regulator. ``kegs`` are all of them in the layout's order, ``straight`` the gases of
    those that have a hose past the manifold. Where no keg names its tap each drink has one.
    """

    gas: str | None
    pressure: Pressure | None
    second: bool
    kegs: tuple[Keg, ...]
    straight: tuple[str, ...]


def hoses(project: Project, layout: Layout) -> Hoses:
    """Return the manifold's gas and pressure, and what hangs on it.

    Where as many kegs take one gas as another, the manifold has CO2, or else the gas of the first
    of them; where as many want one pressure as another, the highest. A drink that does not tell
    has the gas of the cylinders, where that is one; if they have several, its keg hangs on the
    manifold too, and whoever draws it has to say so.
    """
    kegs = [
        (vessel, _pour(project, layout, vessel.tap))
        for vessel in layout.inside.vessels
        if not cylinder_gas(project, vessel)
    ]
    there = {each.gas for each in cylinders(project)}
    only = next(iter(there)) if len(there) == 1 else None
    gases = [(drink_gas(project, pour) if pour else None) or only for _, pour in kegs]
    tapped = any(vessel.tap is not None for vessel, _ in kegs)
    drinks = [pour for _, pour in kegs if pour] if tapped else list(project.pour)
    own = _most([each for each in gases if each])
    own = own or _most([gas for pour in drinks if (gas := drink_gas(project, pour))])
    found, second = pressures(project), second_pressures(project)
    mine = [each for each in found if each.gas == own]
    pressure = max(reversed(mine), key=lambda each: _count(each, drinks), default=None)
    lower = [pour for each in second for pour in each.pours]
    past = [pour for each in found if each != pressure for pour in each.pours]
    hung = tuple(
        Keg(vessel, gas, gas in (own, None) and pour not in past, pour in lower)
        for (vessel, pour), gas in zip(kegs, gases, strict=True)
    )
    straight = (
        [each.gas for each in hung if not each.on_manifold]
        if tapped
        else [
            gas
            for pour in drinks
            if (gas := drink_gas(project, pour)) not in (own, None) or pour in past
        ]
    )
    return Hoses(own, pressure, pressure in second, hung, tuple(g for g in straight if g))


def second_pressures(project: Project) -> tuple[Pressure, ...]:
    """Return every pressure that a gas is wanted at beside its highest, which its regulator has."""
    found = pressures(project)
    return tuple(
        each for each in found if each != [other for other in found if other.gas == each.gas][-1]
    )


def cylinder_gas(project: Project, vessel: Vessel) -> str:
    """Return the gas in a vessel that is a gas cylinder; empty for a keg."""
    return gas_of(project.part("vessels", project.vessel[vessel.row].kind))


def _pour(project: Project, layout: Layout, number: int | None) -> Pour | None:
    tap = next((each for each in layout.taps if each.number == number), None)
    return pour_of(project, tap) if tap is not None else None


def _most(gases: list[str]) -> str | None:
    """Return the gas that stands there most often; of several CO2, or else the first."""
    counted = Counter(gases)
    alike = [gas for gas in counted if counted[gas] == max(counted.values())]
    return "CO2" if "CO2" in alike else next(iter(alike), None)


def _count(pressure: Pressure, drinks: list[Pour]) -> int:
    return sum(pour in pressure.pours for pour in drinks)
