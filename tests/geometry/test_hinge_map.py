"""Where the hinge's pin may lie: against a border worked by hand, and against ``evaluate``."""

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import count
from pathlib import Path
from random import Random
from typing import Any

import pytest
from collarwright.geometry.judge import hinge_map as hinge_map_
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.hinge_map import PIN, HingeMap, hinge_map
from collarwright.geometry.judge.tracing import WINDOW
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project
from collarwright.params.reading import read

from .test_random_designs import Tables, project_of, toml

Make = Callable[..., Project]
EXAMPLES = Path(__file__).parents[2] / "examples"
LID: dict[str, Any] = {"thickness": "60 mm", "skirt": "0 mm", "plug": "0 mm", "overhang": "5 mm"}


def of(project: Project) -> HingeMap:
    found = hinge_map(project, lay_out(project))
    assert found is not None
    return found


def sides(found: HingeMap) -> list[tuple[tuple[float, float], tuple[float, float], str]]:
    return [
        (a, b, bound)
        for area in found.areas
        for a, b, bound in zip(
            area.corners, (*area.corners[1:], area.corners[0]), area.bounds, strict=True
        )
    ]


def inside(found: HingeMap, place: tuple[float, float]) -> bool:
    """Even and odd crossings of a ray to the right."""
    crossings = 0
    for a, b, _ in sides(found):
        if (a[1] <= place[1]) != (b[1] <= place[1]):
            x = a[0] + (place[1] - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            crossings += x > place[0]
    return crossings % 2 == 1


def away(found: HingeMap, place: tuple[float, float]) -> float:
    """How far a place is from the border."""
    least = math.inf
    for a, b, _ in sides(found):
        dx, dy = b[0] - a[0], b[1] - a[1]
        share = ((place[0] - a[0]) * dx + (place[1] - a[1]) * dy) / (dx * dx + dy * dy)
        share = min(max(share, 0.0), 1.0)
        least = min(least, math.dist(place, (a[0] + share * dx, a[1] + share * dy)))
    return least


def test_the_wall_bounds_the_pin_along_a_parabola_and_a_line(design_a: Make) -> None:
    """The lid's upper rear edge is what comes nearest to the wall: 70 behind the face.

    It is 5 - b behind the pin and 60 - a above it, the face being in line with the lip's edge. If
    it is behind the pin it passes level with it: b + hypot(5 - b, 60 - a) = 70, which is
    (60 - a)^2 = (70 - b)^2 - (5 - b)^2 = 4875 - 130 b. If it is ahead, it still comes nearer at
    the stop, upright at 90 deg: b + 60 - a = 70.
    """
    room = {"behind": "70 mm", "above": "2000 mm"}
    lid = LID | {"plug": None}  # so that lid-back, which would cut off the parabola, is not asked
    found = of(design_a(lid=lid, hinge={"open_to": "90 deg"}, room=room))
    assert found.drawn is None
    assert "lid-back" in found.unknown
    wall = [(a, b) for a, b, bound in sides(found) if bound == "lid-wall"]
    places = {place for piece in wall for place in piece}
    assert sum(behind < 4 for behind, _ in places) > 1
    assert sum(behind > 6 for behind, _ in places) > 3
    for behind, above in places:
        if behind >= 5:
            assert above == pytest.approx(behind - 10, abs=0.06)
        else:
            assert above == pytest.approx(60 - math.sqrt(4875 - 130 * behind), abs=0.06)


def test_the_ceiling_cuts_the_area_off_below(design_a: Make) -> None:
    """The front edge turns above the pin: it stands hypot(f, 60 - a) over it, f ahead of it.

    With f = 21 in + 5 + b and the pin 139.7 + a up: 139.7 + a + hypot(538.4 + b, 60 - a), but
    only the corner that stands highest at 90 deg counts, which is the lower one, f ahead and
    a below: 139.7 + a + hypot(538.4 + b, a).
    """
    room = {"behind": "900 mm", "above": "700 mm"}
    project = design_a(lid=LID, hinge={"open_to": "100 deg"}, room=room)
    pieces = [(a, b) for a, b, bound in sides(of(project)) if bound == "lid-ceiling"]
    assert pieces
    for a, b in pieces:
        for behind, above in (a, b):
            ahead = 21 * 25.4 + 5 + behind
            corners = ((ahead, 60 - above), (ahead, -above))
            high = max(
                y * math.sin(th) + z * math.cos(th)
                for y, z in corners
                for th in (math.radians(k / 50) for k in range(5001))
            )
            if -40 < above < 30 and -10 < behind < 60:
                assert 139.7 + above + high == pytest.approx(700, abs=0.1)


def test_the_pin_need_not_be_known(design_a: Make) -> None:
    room = {"behind": "70 mm", "above": "2000 mm"}
    without = of(design_a(lid=LID, hinge={"open_to": "90 deg"}, room=room))
    pin = {"open_to": "90 deg", "axis_behind": "12 mm", "axis_above": "-8 mm"}
    known = of(design_a(lid=LID, hinge=pin, room=room))
    assert known.drawn == (12.0, -8.0)
    # the pin is one more place that is asked: corners differ, the border does not
    for one, other in ((known, without), (without, known)):
        assert all(away(one, place) < 0.1 for area in other.areas for place in area.corners)


def test_what_lacks_readings_is_not_in_it_and_is_named(design_a: Make) -> None:
    found = of(design_a(lid=LID, hinge={"open_to": "90 deg"}, room={"behind": "70 mm"}))
    assert "lid-ceiling" in found.unknown
    assert "hinge-hold" in found.unknown
    assert {"room.above", "lid.mass"} <= set(found.missing)
    assert "lid-wall" in found.asks
    assert not {key for key in found.missing if key.startswith("hinge.axis")}


@pytest.mark.parametrize("changes", [{"hinge": None}, {"lid": None}, {"hinge": {"screws": 2}}])
def test_without_lid_or_hinge_there_is_no_map(design_a: Make, changes: dict[str, Any]) -> None:
    project = design_a(**{"lid": LID, "hinge": {"open_to": "90 deg"}} | changes)
    assert hinge_map(project, lay_out(project)) is None


def test_where_nothing_passes_it_says_what_fails_everywhere(design_a: Make) -> None:
    room = {"behind": "5 mm", "above": "100 mm"}
    found = of(design_a(lid=LID, hinge={"open_to": "90 deg"}, room=room))
    assert found.areas == ()
    assert {"lid-ceiling", "lid-wall"} == set(found.never)
    assert found.between == ()
    assert found.heights(10.0) == ()


def test_where_two_checks_leave_no_place_together_neither_is_blamed_alone(design_a: Make) -> None:
    """The wall, 52 behind, asks for b + hypot(40 - b, 60 - a) <= 52: a pin well ahead of the
    lid's edge. That edge, swinging down at the collar, asks for one that is well behind."""
    lid = LID | {"overhang": {"front": "5 mm", "right": "5 mm", "back": "40 mm", "left": "5 mm"}}
    room = {"behind": "52 mm", "above": "2000 mm"}
    found = of(design_a(lid=lid, hinge={"open_to": "90 deg"}, room=room))
    assert found.areas == ()
    assert found.never == ()
    assert set(found.between) == {"lid-back", "lid-wall"}


def test_a_pin_beyond_the_window_widens_it(design_a: Make) -> None:
    pin = {"open_to": "90 deg", "axis_behind": "75 mm", "axis_above": "-60 mm"}
    found = of(design_a(lid=LID, hinge=pin, room={"behind": "400 mm"}))
    assert found.window == (-10.0, 80.0, -65.0, 30.0)


@pytest.mark.parametrize("far", ["9.9 m", "-9.9 m", "160 mm"])
@pytest.mark.parametrize("key", ["axis_behind", "axis_above"])
def test_a_slip_in_a_reading_does_not_widen_the_window_to_meters(
    design_a: Make, monkeypatch: pytest.MonkeyPatch, key: str, far: str
) -> None:
    """The useful window has 15 places by 15: all about it is asked a few thousand times at most."""
    pin = {"open_to": "90 deg", "axis_behind": "20 mm", "axis_above": "15 mm", key: far}
    project, times = design_a(lid=LID, hinge=pin, room={"behind": "70 mm"}), count()
    judge = hinge_map_.asked
    monkeypatch.setattr(hinge_map_, "asked", lambda *given: (next(times), judge(*given))[1])
    found = of(project)
    assert found.window == (-10.0, 60.0, -40.0, 30.0)
    assert found.drawn is not None
    assert found.inside is None
    assert found.areas
    assert next(times) < 5000


def test_heights_at_one_distance_lie_on_the_border(design_a: Make) -> None:
    found = of(
        design_a(lid=LID, hinge={"open_to": "90 deg"}, room={"behind": "70 mm", "above": "2000 mm"})
    )
    ((low, high),) = found.heights(20.0)
    assert low == pytest.approx(10, abs=0.05)  # b + 60 - a = 70, as above
    assert high == 30.0


# --- all of evaluate ------------------------------------------------------------------------------


def with_pin(project: Project, place: tuple[float, float]) -> Project:
    assert project.hinge is not None
    pin = {"axis_behind": place[0], "axis_above": place[1]}
    return replace(project, hinge=project.hinge.model_copy(update=pin))


def failing(project: Project) -> set[str]:
    return {
        each.check
        for each in evaluate(project).findings
        if each.verdict == "fail" and each.weight == "must"
    }


def designs() -> list[Project]:
    found = [read(EXAMPLES / f"{name}.toml")[0] for name in ("cold-coffee", "cider-porch")]
    seed = 100
    while len(found) < 14:
        seed += 1
        tables = Tables(Random(seed)).every()
        project = project_of("".join(f"{name} = {toml(value)}\n" for name, value in tables.items()))
        if project is not None and hinge_map(project, lay_out(project)) is not None:
            found.append(project)
    return found


def test_places_inside_pass_every_check_and_those_outside_do_not() -> None:
    chance, tried = Random(3), [0, 0]
    for project in designs():
        found = of(project)
        left, right, low, high = found.window
        # What fails with the pin anywhere, and does not ask for it, is not the map's matter.
        rest = failing(with_pin(project, (0.0, 0.0))) - PIN
        for _ in range(30):
            place = chance.uniform(left, right), chance.uniform(low, high)
            if away(found, place) < 0.1 or not found.areas:
                continue
            bad = failing(with_pin(project, place))
            assert bad - PIN == rest  # nothing else reads the pin's place
            assert inside(found, place) == (not bad & PIN), (place, bad)
            tried[inside(found, place)] += 1
    assert min(tried) > 30


def test_beyond_each_piece_of_border_the_check_fails_that_it_names() -> None:
    for project in designs()[:6]:
        found = of(project)
        pieces = [piece for piece in sides(found) if piece[2] != WINDOW]
        for a, b, bound in Random(1).sample(pieces, min(8, len(pieces))):
            long = math.dist(a, b)
            if long < 0.5:
                continue
            right = (b[1] - a[1]) / long, (a[0] - b[0]) / long
            middle = (a[0] + b[0]) / 2 + 0.1 * right[0], (a[1] + b[1]) / 2 + 0.1 * right[1]
            assert bound in failing(with_pin(project, middle))
