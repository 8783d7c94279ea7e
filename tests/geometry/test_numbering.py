"""Taps are numbered twice: at the door, for names in other tables, and in the layout.

The order is the contract's: front, right, back, left; on a board row by row, the lowest first,
each row from left to right seen from outside.
"""

import random
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.params import project as tables
from collarwright.params.project import SIDES
from collarwright.params.reading.cross import numbered

Lay = Callable[..., Layout]


@pytest.mark.parametrize("seed", range(25))
def test_door_and_layout_number_taps_alike(lay: Lay, seed: int) -> None:
    chance = random.Random(seed)
    rows: list[dict[str, Any]] = []
    for row in range(chance.randint(1, 5)):
        size = chance.randint(1, 3)
        given: dict[str, Any] = {
            "bore": "20 mm",
            "side": chance.choice(SIDES),
            "names": tuple(f"row {row} place {place}" for place in range(size)),
        }
        if chance.random() < 0.6:
            given["height"] = f"{chance.choice((40, 70, 100))} mm"
        if chance.random() < 0.5:
            places = chance.sample(range(-150, 150, 30), size)
            given["positions"] = tuple(f"{place} mm" for place in places)
        else:
            given |= {"count": size, "spacing": "60 mm"}
        rows.append(given)
    layout = lay(taps=rows)
    at_the_door = numbered([tables.Taps(**row) for row in rows], 139.7)
    assert {tap.number: tap.name for tap in layout.taps} == at_the_door
    keys = [(SIDES.index(tap.side), tap.v) for tap in layout.taps]
    assert keys == sorted(keys)
