"""Which kegs hang on the manifold, and where the others have their gas from.

A manifold has one gas at one pressure, so only kegs whose drinks want both may hang on it. Which
gas that is nobody writes down: it is taken to be the one of most kegs, at its highest pressure.
"""

from collections import Counter
from dataclasses import dataclass

from ...params.project import Pour, Project
from ...params.values import is_tap
from ..shape.layout import Layout
from ..shape.vessel import Vessel
from .cylinders import cylinders, gas_of
from .pressures import gas_named, pressures


@dataclass(frozen=True, slots=True)
class Keg:
    """A vessel that takes gas.

    ``gas`` is None where the build file does not tell it; ``on_manifold`` tells whether it hangs
    there.
    """

    vessel: Vessel
    gas: str | None
    on_manifold: bool


@dataclass(frozen=True, slots=True)
class Hoses:
    """The manifold's gas, None where nobody can tell, and all kegs in the layout's order."""

    gas: str | None
    kegs: tuple[Keg, ...]


def hoses(project: Project, layout: Layout) -> Hoses:
    """Return the manifold's gas and what hangs on it.

    Where as many kegs take one gas as another, the manifold has CO2, or else the gas of the first
    of them. A drink that does not tell has the gas of the cylinders, where that is one; if they
    have several, its keg hangs on the manifold too, and whoever draws it has to say so.
    """
    kegs = [
        (vessel, _pour(project, layout, vessel.tap))
        for vessel in layout.inside.vessels
        if not cylinder_gas(project, vessel)
    ]
    there = {each.gas for each in cylinders(project)}
    only = next(iter(there)) if len(there) == 1 else None
    gases = [_gas(project, pour) or only for _, pour in kegs]
    counted = Counter(gas for gas in gases if gas)
    most = max(counted.values(), default=0)
    alike = [gas for gas in counted if counted[gas] == most]
    own = "CO2" if "CO2" in alike else next(iter(alike), None)
    wanted = [each.pours for each in pressures(project) if each.gas == own]
    lower = [pour for pours in wanted[:-1] for pour in pours]
    return Hoses(
        own,
        tuple(
            Keg(vessel, gas, gas in (own, None) and pour not in lower)
            for (vessel, pour), gas in zip(kegs, gases, strict=True)
        ),
    )


def cylinder_gas(project: Project, vessel: Vessel) -> str:
    """Return the gas in a vessel that is a gas cylinder; empty for a keg."""
    return gas_of(project.part("vessels", project.vessel[vessel.row].kind))


def _pour(project: Project, layout: Layout, number: int | None) -> Pour | None:
    tap = next((each for each in layout.taps if each.number == number), None)
    if tap is None:
        return None
    return next((each for each in project.pour if is_tap(each.tap, tap.number, tap.name)), None)


def _gas(project: Project, pour: Pour | None) -> str | None:
    """Return a drink's gas: as named, or as its kind usually has; None where it tells neither."""
    if pour is None:
        return None
    wanted = next((each.gas for each in pressures(project) if pour in each.pours), None)
    return wanted or gas_named(pour)
