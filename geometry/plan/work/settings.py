"""At which pressure drinks are served, and so how high gas and lines are tested before that.

The pressure for one carbonation at one temperature is not worked out here: what is printed are the
usual ranges where they hold, and which figure is to be looked up. Where none holds, gas and line
are tested at the highest that is printed for any drink.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ....params.project import Pour
from ....params.units import convert
from ...handbook.gases import air_pressure
from ..cylinders import cylinders
from ..pressures import (
    ALIKE_WARM,
    COLD,
    USUAL,
    drink_gas,
    drink_of,
    pour_of,
    pressures,
    set_point,
)
from .job import Job, called

TEST_PSI = 30.0
"""Pressure of a gas's leak test, psi, where none of its drinks wants more (common practice)."""

WATER_PSI = 12.0
"""Pressure of the test with water, psi, where the line's drink wants no more (common practice)."""


FOOT_PSI = 1 / 2000
"""What a carbonated drink wants more for each foot above the sea, psi (common practice)."""

NEAR_SEA = 0.5
"""So much more than at the sea still counts as near sea level, psi: half of what a small gauge
tells (common practice)."""


@dataclass(frozen=True, slots=True)
class Served:
    """How a drink is usually served: its kind, up to which carbonation, gauge pressure in psi.

    ``gases`` are those on which that holds; all of them do while nobody tells the drink.
    """

    drink: str
    most_volumes: float
    psi: tuple[float, float]
    of: str
    gases: tuple[str, ...]
    minding: str = ""


LEAST_VOLUMES = 2.4
"""The least carbonation that a pressure is printed for."""

SERVED = (
    Served("carbonated", 2.7, (10, 14), "2.4 to 2.7 volumes, as beer and cider", ("CO2",)),
    Served("carbonated", 3.5, (15, 25), "2.8 to 3.5 volumes, as wheat beer", ("CO2",)),
    Served("carbonated", 5.0, (25, 40), "above 3.5 to 5 volumes, as soda", ("CO2",),
           "with a line or faucet that holds it back"),
    Served("nitrogenated", math.inf, (30, 40), "", ("blended gas", "nitrogen"), "for a faucet with"
           " a restrictor; beer has a blend of 25/75 to 30/70 CO2 and nitrogen, coffee nitrogen"),
    Served("still", math.inf, (3, 6), "wine", ("nitrogen", "blended gas", "CO2"),
           "just enough to pour; CO2 makes it prickle"),
    Served("still", math.inf, (5, 10), "others", ("nitrogen", "blended gas", "CO2"),
           "CO2 makes it prickle"),
)  # fmt: skip
"""Gauge pressures by kind of drink, cold, about 38 degF (3 degC), near sea level (common practice;
30 to 40 psi for nitrogenated drinks is published in a trade manual of draught systems; 5 volumes at
4 degC are 38 psi by the usual fit to the carbonation table)."""

RATING = (
    "No rating of any part is in the build file or the catalog. Before you set a pressure, read the"
    " one that stands on the label, print or stamp of regulator, hoses, manifold, check valves,"
    " drink lines, couplers or disconnects, and kegs; never set more than the least of them, and"
    " ask the maker of a part that names none. A part that is rated below its drink's pressure does"
    " not belong there."
)


def served(job: Job, pour: Pour | None) -> tuple[Served, ...]:
    """Return how a drink is served: each way that it may be, of any kind where nobody told that.

    None where nothing that is printed holds for it: on another gas, or for a carbonated drink in a
    well that is colder or warmer than the table, high above the sea, or of other carbonation.
    """
    drink = None if pour is None else drink_of(pour)
    gas = None if pour is None or drink is None else drink_gas(job.project, pour)
    found = [
        each
        for each in SERVED
        if drink in (None, each.drink)
        and gas in (None, *each.gases)
        and (each.drink != "carbonated" or _as_printed(job))
    ]
    volumes = None if pour is None else pour.carbonation
    if volumes is not None and drink == "carbonated":
        enough = volumes >= LEAST_VOLUMES
        found = [each for each in found if enough and volumes <= each.most_volumes][:1]
    return tuple(found)


def highest(job: Job, pour: Pour | None) -> float:
    """Return the pressure to test a drink's line at, psi: the highest at which it is served.

    That is the highest of its kind, of any kind where nothing that is printed holds for it; where
    it may be carbonated with what the height adds, rounded up.
    """
    drink = None if pour is None else drink_of(pour)
    rows = SERVED if drink is None else served(job, pour) or SERVED
    most = max(each.psi[1] for each in rows)
    return math.ceil(most + (height_psi(job) if drink in (None, "carbonated") else 0.0) - 1e-9)


def height_psi(job: Job) -> float:
    """Return what a carbonated drink wants more for the height above the sea, psi."""
    return max(0.0, convert(_altitude(job) or 0.0, "mm", "foot") * FOOT_PSI)


def room_air(job: Job) -> float:
    """Return the pressure of the room's air, kPa, at sea level where nobody told its height."""
    return air_pressure(convert(_altitude(job) or 0.0, "mm", "m"))


def _altitude(job: Job) -> float | None:
    return job.project.room.altitude if job.project.room else None


def _as_printed(job: Job) -> bool:
    """Whether the well is as cold, and as near the sea, as the pressures are printed for."""
    cold = set_point(job.project)
    warm_off = 0.0 if cold is None else abs(cold - COLD)
    return warm_off <= ALIKE_WARM + 1e-6 and height_psi(job) < NEAR_SEA


def _untold(job: Job) -> bool:
    pours = [pour_of(job.project, tap) for tap in job.layout.taps]
    return any(each is None or drink_of(each) is None for each in pours)


def gas_tests(job: Job) -> dict[float, list[str]]:
    """Return the pressures to test at, psi, with the gases of each: the highest of its drinks.

    A drink of no told kind may hang on any gas. A gas that nobody names has an empty name.
    """
    groups = pressures(job.project)
    any_gas = highest(job, None) if _untold(job) else 0.0
    gases = [each.gas for each in cylinders(job.project)] + [each.gas for each in groups]
    found: dict[float, list[str]] = {}
    for gas in dict.fromkeys(gases or [""]):
        drinks = [highest(job, pour) for each in groups if each.gas == gas for pour in each.pours]
        found.setdefault(max([TEST_PSI, any_gas, *drinks]), []).append(gas)
    return found


def water_tests(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each tap with the pressure that its line is tested at."""
    for tap in job.layout.taps:
        psi = max(WATER_PSI, highest(job, pour_of(job.project, tap)))
        yield called(tap), job.pressure(convert(psi, "psi", "kPa"))


def setting_figures(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the usual pressures of the drinks, then what is to be looked up for each of them."""
    told = [pour for pour in job.project.pour if drink_of(pour)]
    for each in SERVED:
        gases = [drink_gas(job.project, pour) or "" for pour in told if each in served(job, pour)]
        if not told and each in served(job, None):
            gases = list(each.gases)
        if gases:
            said = f"{' or '.join(dict.fromkeys(gases))}, {_span(job, each.psi)}"
            name = f"{each.drink}, {each.of}" if each.of else each.drink
            yield name, said + (f", {each.minding}" if each.minding else "")
    if not told and not _as_printed(job):
        yield "carbonated, look up", _look_up(job, None)
    for tap in job.layout.taps:
        pour = pour_of(job.project, tap)
        drink = drink_of(pour) if pour is not None else None
        if pour is None or drink is None:
            continue
        gas = drink_gas(job.project, pour)
        if gas not in USUAL[drink]:
            yield (
                f"ask about {called(tap)}",
                f"{gas} is not usual for a {drink} drink: which gas and pressure its maker wants",
            )
        elif drink == "carbonated":
            yield f"look up for {called(tap)}", _look_up(job, pour)


def _look_up(job: Job, pour: Pour | None) -> str:
    """Say which pressure is looked up: for one temperature, the well's, and one height."""
    volumes, cold = None if pour is None else pour.carbonation, set_point(job.project)
    how = "its carbonation" if volumes is None else f"{volumes:g} volumes"
    where = "the temperature of the well" if cold is None else job.warmth(cold)
    said = f"the pressure for {how} at {where}, in a carbonation table, before you set anything"
    if _altitude(job) is None:
        said += "; the table says what to add for the height above the sea"
    elif height_psi(job) >= 0.05:
        more = job.pressure(convert(height_psi(job), "psi", "kPa"), 1)
        said += f"; to a table for sea level add {more} for the height"
    if pour is not None and drink_gas(job.project, pour) == "blended gas":
        air = job.pressure(room_air(job), 1)
        said += (
            f". That is for CO2 alone; on a blend add the air's {air}, divide by the blend's part"
            f" of CO2 (60 % is 0.6), and take {air} off again"
        )
    return said


def lacking(job: Job) -> tuple[str, ...]:
    """Return the keys without which the pressures are not known."""
    told = [pour for pour in job.project.pour if drink_of(pour)]
    if not told:
        return ("pour.drink",)
    fizzy = [pour for pour in told if drink_of(pour) == "carbonated"]
    keys = {
        "pour.drink": _untold(job),
        "pour.carbonation": any(each.carbonation is None for each in fizzy),
        "pour.temperature": bool(fizzy) and set_point(job.project) is None,
    }
    return tuple(key for key, missing in keys.items() if missing)


def _span(job: Job, psi: tuple[float, float]) -> str:
    low, high = (convert(each, "psi", "kPa") for each in psi)
    said = f"{psi[0]:g} to {psi[1]:g} psi"
    return said if job.show == "in" else f"{low:.0f} to {high:.0f} kPa ({said})"
