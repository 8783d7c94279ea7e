"""How fast a large bit or a hole saw may turn in wood."""

import math

RIM = {"softwood": 76_000.0, "hardwood": 38_000.0}
"""Speed of a large bit's rim, mm/min: 250 and 125 ft/min (published on a teaching page of a machine
shop, from a drill press chart: 500 rpm in softwood and 250 in hardwood for 2 in). A maker of hole
saws allows three times as much in wood; the slower is taken."""

FAST = 1500.0
"""No higher speed is told, rpm: the chart's highest for bits of 3/4 to 2 in (from memory)."""

STEP = 50.0
"""Speeds are told in steps of so many rpm, rounded down."""


def most_rpm(diameter: float, hardwood: bool) -> float:
    """Return how fast a hole saw or bit of a diameter may turn, rpm.

    The rim's speed over the circumference, at most 1500 rpm; for 12 to 150 mm. The chart goes
    from 3/4 to 2 in: smaller bits are held at its highest speed, larger ones turn slower.

    Args:
        diameter: of the bit, mm.
        hardwood: whether the slower speed is taken.
    """
    rim = RIM["hardwood" if hardwood else "softwood"]
    return min(FAST, rim / (math.pi * diameter) // STEP * STEP)
