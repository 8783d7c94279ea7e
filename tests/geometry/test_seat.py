"""The squeezed seal under the collar and the cap strip on it: every height that they move."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.shape.layout import Layout

Lay = Callable[..., Layout]
Find = Callable[..., list[Finding]]

SEAL = {"seal": "foam-tape-closed-cell"}
SQUEEZED = 6.4 * 0.7
"""6.4 mm free, 30 % working compression."""
CAP = {"material": "steel", "thickness": "1.5 mm", "width": "15 mm", "inset": "2 mm"}
LID = {"thickness": "60 mm", "skirt": "12 mm", "skirt_thickness": "1 mm", "overhang": "10 mm"}
HINGE = {"axis_behind": "20 mm", "axis_above": "-5 mm", "open_to": "90 deg"}
WELL = {"length": "700 mm", "width": "400 mm", "height": "700 mm"}


def test_without_seat_and_cap_the_collar_stands_on_the_lip(lay: Lay) -> None:
    layout = lay()
    assert (layout.seal, layout.cap, layout.sealing_z) == (0.0, None, 139.7)


def test_the_lip_and_the_well_lie_below_the_collar_by_the_squeezed_seal(lay: Lay) -> None:
    layout = lay(seat=SEAL, well=WELL)
    assert layout.seal == pytest.approx(SQUEEZED)
    about = layout.reference
    assert about.lip is not None and about.lip.top == pytest.approx(-SQUEEZED)
    assert about.well is not None
    assert about.well.inside.low[2] == pytest.approx(-SQUEEZED - 700)
    assert about.well.inside.high[2] == pytest.approx(-SQUEEZED)
    assert layout.sealing_z == 139.7  # the collar itself stays on Z = 0


def test_the_lid_and_its_hinge_rise_by_the_cap_strip(lay: Lay) -> None:
    layout = lay(cap=CAP, lid=LID, hinge=HINGE)
    assert layout.sealing_z == pytest.approx(141.2)
    assert layout.lid is not None and layout.lid.under_z == pytest.approx(141.2)
    assert layout.hinge is not None and layout.hinge.z == pytest.approx(136.2)
    assert layout.reference.lid is not None
    assert layout.reference.lid.extent.low[2] == pytest.approx(141.2 - 12)


def test_the_ceiling_sees_seal_and_cap(findings: Find) -> None:
    room = {"above": "800 mm"}
    (plain,) = findings("lid-ceiling", lid=LID, hinge=HINGE, room=room)
    (raised,) = findings("lid-ceiling", lid=LID, hinge=HINGE, room=room, seat=SEAL, cap=CAP)
    assert plain.measured is not None and raised.measured is not None
    assert raised.measured - plain.measured == pytest.approx(SQUEEZED + 1.5)


def test_the_front_skirt_swings_past_a_corner_that_the_cap_made_higher(findings: Find) -> None:
    front = findings("skirt", lid=LID, hinge=HINGE, cap={**CAP, "thickness": "30 mm"})[0]
    # The axis goes up with the sealing plane, so k stays 5 mm: F = 21 in + 20 mm.
    ahead = 21 * 25.4 + 20
    assert front.measured == pytest.approx(10 - 1 - (math.hypot(ahead, 5) - ahead))


@pytest.mark.parametrize(
    ("cap", "measured"),
    [
        # gasket from 2.5 to 27.5 mm inside the lip's edge, collar flush with it
        (CAP, 17 - 2.5),
        ({**CAP, "inset": "5 mm", "width": "12 mm"}, 12),
        ({**CAP, "inset": "20 mm", "width": "30 mm"}, 27.5 - 20),
    ],
)
def test_the_gasket_closes_on_the_strip(
    findings: Find, cap: dict[str, Any], measured: float
) -> None:
    found = findings("gasket-seat", cap=cap)
    assert [each.measured for each in found] == pytest.approx([measured] * 4)
    assert "strip" in found[0].why
