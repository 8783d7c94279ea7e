"""Which kegs hang on the manifold: one gas, one pressure; the rest has regulators of its own."""

from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.plan.hoses import Hoses, hoses
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project

Make = Callable[..., Project]

CO2, NITROGEN = "co2-5lb-aluminium", "nitrogen-20cuft-steel"
BOTH = (CO2, NITROGEN)


def fizzy(volumes: float, gas: str | None = "CO2") -> dict[str, Any]:
    return {"drink": "carbonated", "carbonation": f"{volumes} vol", "gas": gas}


def nitro(gas: str | None = "nitrogen") -> dict[str, Any]:
    return {"drink": "nitrogenated", "gas": gas}


def hung(design_a: Make, pours: list[dict[str, Any] | None], bottles: tuple[str, ...]) -> Hoses:
    """Return what hangs where of three kegs, one to each tap, that pour this (None: not told)."""
    kegs = [{"kind": "keg-sixth-barrel", "tap": tap} for tap in (1, 2, 3)]
    project = design_a(
        vessel=[*kegs, *({"kind": each} for each in bottles)],
        pour=[{"tap": tap, **each} for tap, each in enumerate(pours, 1) if each],
        manifold={"kind": "manifold-3-outlet"},
    )
    return hoses(project, lay_out(project))


@pytest.mark.parametrize(
    ("pours", "bottles", "gas", "gases", "on"),
    [
        # most kegs take CO2; where as many take either, the manifold has CO2, whichever is first
        ([fizzy(2.5), fizzy(2.5), nitro()], BOTH, "CO2", ["CO2", "CO2", "nitrogen"], [1, 2]),
        ([nitro(), fizzy(2.5), None], BOTH, "CO2", ["nitrogen", "CO2", None], [2, 3]),
        ([nitro(), fizzy(2.5), nitro()], BOTH, "nitrogen", ["nitrogen", "CO2", "nitrogen"], [1, 3]),
        # one gas, several pressures: the manifold has that of most kegs, the highest where alike
        ([fizzy(2.4), fizzy(3.8), fizzy(3.7)], (CO2,), "CO2", ["CO2"] * 3, [2, 3]),
        ([fizzy(2.4), fizzy(3.8), fizzy(2.5)], (CO2,), "CO2", ["CO2"] * 3, [1, 3]),
        ([fizzy(2.4), fizzy(3.8), fizzy(3.0)], (CO2,), "CO2", ["CO2"] * 3, [2]),
        # a gas that is named counts, though nobody says what kind of drink it is
        ([{"gas": "Nitrogen"}, {"gas": "CO2"}, {"gas": "CO2"}], BOTH, "CO2",
         ["nitrogen", "CO2", "CO2"], [2, 3]),
        # nothing told: what is in the cylinders, where that is one gas
        ([None, None, None], (CO2, CO2), "CO2", ["CO2"] * 3, [1, 2, 3]),
        ([None, None, None], BOTH, None, [None] * 3, [1, 2, 3]),
        ([None, None, None], (), None, [None] * 3, [1, 2, 3]),
    ],
)  # fmt: skip
def test_only_kegs_of_one_gas_and_pressure_hang_on_the_manifold(
    design_a: Make,
    pours: list[dict[str, Any] | None],
    bottles: tuple[str, ...],
    gas: str | None,
    gases: list[str | None],
    on: list[int],
) -> None:
    found = hung(design_a, pours, bottles)
    assert found.gas == gas
    assert [each.gas for each in found.kegs] == gases  # cylinders are no kegs
    assert [each.vessel.tap for each in found.kegs if each.on_manifold] == on


def test_a_manifold_of_a_lower_pressure_hangs_behind_a_secondary_regulator(
    design_a: Make,
) -> None:
    """Two kegs of beer and one of soda: the soda's has the first regulator, and is led straight."""
    beer = hung(design_a, [fizzy(2.4), fizzy(3.8), fizzy(2.5)], (CO2,))
    assert (beer.second, [keg.second for keg in beer.kegs]) == (True, [True, False, True])
    assert beer.pressure is not None and beer.pressure.volumes == (2.4, 2.5)
    assert beer.straight == ("CO2",)
    soda = hung(design_a, [fizzy(2.4), fizzy(3.8), nitro()], BOTH)
    assert (soda.second, soda.straight) == (False, ("CO2", "nitrogen"))
