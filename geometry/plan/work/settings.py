"""At which pressure drinks are served, and so how high gas and lines are tested before that.

The pressure for one carbonation at one temperature is not worked out here: what is printed are the
usual ranges, and which figure is to be looked up.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ....params.project import Pour
from ....params.units import convert
from ....params.values import is_tap
from ...shape.taps import Tap
from ..cylinders import cylinders
from ..pressures import drink_of, pressures
from .job import Job, called

TEST_PSI = 30.0
"""Pressure of a gas's leak test, psi, where none of its drinks wants more (common practice)."""

WATER_PSI = 12.0
"""Pressure of the test with water, psi, where the line's drink wants no more (common practice)."""


@dataclass(frozen=True, slots=True)
class Served:
    """How a drink is usually served: its kind, up to which carbonation, gauge pressure in psi."""

    drink: str
    most_volumes: float
    psi: tuple[float, float]
    of: str
    gas: str
    minding: str = ""


SERVED = (
    Served("carbonated", 2.7, (10, 14), "2.4 to 2.7 volumes, as beer and cider", "CO2"),
    Served("carbonated", 3.5, (15, 25), "2.8 to 3.5 volumes, as wheat beer", "CO2"),
    Served("carbonated", math.inf, (25, 40), "above 3.5 volumes, as soda", "CO2",
           "with a line or faucet that holds it back"),
    Served("nitrogenated", math.inf, (30, 40), "", "25/75 to 30/70 blend of CO2 and nitrogen for"
           " beer, nitrogen for coffee", "for a faucet with a restrictor"),
    Served("still", math.inf, (3, 6), "wine", "nitrogen or a blend", "just enough to pour"),
    Served("still", math.inf, (5, 10), "others", "nitrogen or a blend"),
)  # fmt: skip
"""Gauge pressures by kind of drink, cold, about 38 degF (3 degC), near sea level (common practice;
30 to 40 psi for nitrogenated drinks is published in a trade manual of draught systems)."""

RATING = (
    "No rating of any part is in the build file or the catalog. Before you set a pressure, read the"
    " one that stands on the label, print or stamp of regulator, hoses, manifold, check valves,"
    " drink lines, couplers or disconnects, and kegs; never set more than the least of them, and"
    " ask the maker of a part that names none. A part that is rated below its drink's pressure does"
    " not belong there."
)


def served(pour: Pour | None) -> tuple[Served, ...]:
    """Return how a drink is served: each way that it may be, all where nobody told its kind."""
    drink = None if pour is None else drink_of(pour)
    found = [each for each in SERVED if drink in (None, each.drink)]
    volumes = None if pour is None else pour.carbonation
    if volumes is not None and drink == "carbonated":
        found = [min((e for e in found if volumes <= e.most_volumes), key=lambda e: e.psi[1])]
    return tuple(found)


def highest(pour: Pour | None) -> float:
    """Return the highest pressure that is printed for a drink, psi."""
    return max(each.psi[1] for each in served(pour))


def pour_of(job: Job, tap: Tap) -> Pour | None:
    """Return what comes out of a tap; None where the build file does not tell."""
    return next((p for p in job.project.pour if is_tap(p.tap, tap.number, tap.name)), None)


def _untold(job: Job) -> bool:
    pours = [pour_of(job, tap) for tap in job.layout.taps]
    return any(each is None or drink_of(each) is None for each in pours)


def gas_tests(job: Job) -> dict[float, list[str]]:
    """Return the pressures to test at, psi, with the gases of each: the highest of its drinks.

    A drink of no told kind may hang on any gas. A gas that nobody names has an empty name.
    """
    groups = pressures(job.project)
    any_gas = highest(None) if _untold(job) else 0.0
    gases = [each.gas for each in cylinders(job.project)] + [each.gas for each in groups]
    found: dict[float, list[str]] = {}
    for gas in dict.fromkeys(gases or [""]):
        drinks = [highest(pour) for each in groups if each.gas == gas for pour in each.pours]
        found.setdefault(max([TEST_PSI, any_gas, *drinks]), []).append(gas)
    return found


def water_tests(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each tap with the pressure that its line is tested at."""
    for tap in job.layout.taps:
        psi = max(WATER_PSI, highest(pour_of(job, tap)))
        yield called(tap), job.pressure(convert(psi, "psi", "kPa"))


def setting_figures(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the usual pressures of the drinks, then what is to be looked up for each of them."""
    told = [pour for pour in job.project.pour if drink_of(pour)]
    rows = {each for pour in told for each in served(pour)} or set(SERVED)
    for each in SERVED:
        if each in rows:
            said = f"{each.gas}, {_span(job, each.psi)}"
            name = f"{each.drink}, {each.of}" if each.of else each.drink
            yield name, said + (f", {each.minding}" if each.minding else "")
    for tap in job.layout.taps:
        pour = pour_of(job, tap)
        if pour is not None and drink_of(pour) == "carbonated":
            yield f"look up for {called(tap)}", _look_up(job, pour)


def _look_up(job: Job, pour: Pour) -> str:
    volumes, warm = pour.carbonation, pour.temperature
    how = "its carbonation" if volumes is None else f"{volumes:g} volumes"
    where = "the temperature it is kept at" if warm is None else job.warmth(warm)
    return (
        f"the pressure for {how} at {where}, in a carbonation table, before you set anything; the"
        " table says what to add for the height above the sea"
    )


def lacking(job: Job) -> tuple[str, ...]:
    """Return the keys without which the pressures are not known."""
    told = [pour for pour in job.project.pour if drink_of(pour)]
    if not told:
        return ("pour.drink",)
    fizzy = [pour for pour in told if drink_of(pour) == "carbonated"]
    keys = {
        "pour.drink": _untold(job),
        "pour.carbonation": any(each.carbonation is None for each in fizzy),
        "pour.temperature": any(each.temperature is None for each in fizzy),
    }
    return tuple(key for key, missing in keys.items() if missing)


def _span(job: Job, psi: tuple[float, float]) -> str:
    low, high = (convert(each, "psi", "kPa") for each in psi)
    said = f"{psi[0]:g} to {psi[1]:g} psi"
    return said if job.show == "in" else f"{low:.0f} to {high:.0f} kPa ({said})"
