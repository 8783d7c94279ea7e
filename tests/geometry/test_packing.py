"""Packing: verdicts and their words, the measuring apart from the solver, the well's own shape."""

import subprocess
import sys
from dataclasses import replace
from math import hypot, inf, sqrt
from random import Random

import pytest
from collarwright.geometry.plan.packing import (
    Box,
    Disc,
    HeadRoom,
    Opening,
    Place,
    Problem,
    Rect,
    Step,
    Vessel,
    Well,
    measure,
    pack,
)
from collarwright.geometry.plan.packing.cheap import most_axes
from hypothesis import given, settings
from hypothesis import strategies as st


def can(name: str, diameter: float, height: float = 600.0) -> Vessel:
    """Return a vessel that is one cylinder."""
    return Vessel(name, (Disc(0.0, height, diameter / 2),))


def room(width: float, depth: float, radius: float = 0.0, step: Step | None = None) -> Well:
    """Return an upright well, 700 deep."""
    rect = Rect(0.0, 0.0, width, depth)
    return Well(rect, rect, 0.0, 700.0, radius, step)


def at(name: str, x: float, y: float, z: float = 0.0, *, up: bool = False) -> Place:
    return Place(name, x, y, z, up)


# -- measured again, without the solver


def test_one_gap_to_walls_and_between_vessels() -> None:
    problem = Problem(room(500, 300), (can("a", 200), can("b", 100)))
    tight = measure(problem, [at("a", 110, 150), at("b", 270, 150)])
    assert tight.gap == pytest.approx(10)  # 160 - 100 - 50, and 110 - 100
    tight = measure(problem, [at("a", 112, 150), at("b", 442, 150)])
    assert (tight.gap, tight.between) == (pytest.approx(8), ("b", "the well's right wall"))


def test_a_leaning_wall_counts_at_the_height_of_each_slice() -> None:
    well = Well(Rect(10, 0, 500, 300), Rect(0, 0, 500, 300), 0, 700)
    problem = Problem(well, (can("a", 200, 350),))
    assert measure(problem, [at("a", 115, 150)]).gap == pytest.approx(5)
    wide_above = Vessel("a", (Disc(0, 350, 50), Disc(350, 700, 105)))
    # at 350 the wall stands at 5
    assert measure(Problem(well, (wide_above,)), [at("a", 115, 150)]).gap == pytest.approx(5)


def test_a_rounded_corner_is_met_by_a_disc_narrower_than_it() -> None:
    problem = Problem(room(500, 300, radius=80), (can("a", 60),))
    expected = 80 - hypot(40, 40) - 30  # the corner's center is at 80, 80
    tight = measure(problem, [at("a", 40, 40)])
    assert (tight.gap, tight.between[1]) == (pytest.approx(expected), "a corner")


def test_discs_at_other_heights_pass_over_each_other() -> None:
    low = Vessel("low", (Disc(0, 200, 100),))
    tall = Vessel("tall", (Disc(0, 240, 40), Disc(240, 600, 100)))
    problem = Problem(room(600, 300), (low, tall))
    places = [at("low", 120, 150), at("tall", 265, 150)]
    assert measure(problem, places).gap == pytest.approx(5)  # 145 - 100 - 40, not 145 - 200
    near = replace(tall, discs=(Disc(0, 203, 40), Disc(203, 600, 100)))
    # 3 mm over it is nearer than the gap of 5
    assert measure(replace(problem, vessels=(low, near)), places).gap == pytest.approx(-55)


def test_what_hangs_into_the_well_counts_at_its_heights() -> None:
    nut = Box("shank nut", Rect(100, 0, 130, 40), 500, 530)
    problem = Problem(room(500, 300), (can("a", 200, 450),), obstacles=(nut,))
    assert measure(problem, [at("a", 115, 110)]).gap == pytest.approx(10)
    tall = replace(problem, vessels=(can("a", 200, 600),))
    assert measure(tall, [at("a", 115, 110)]).gap == pytest.approx(-30)
    assert measure(tall, [at("a", 115, 145)]).between == ("a", "shank nut")


def test_a_foot_stands_wholly_on_the_step_or_not_at_all() -> None:
    problem = Problem(room(700, 300, step=Step("right", 200, 250)), (can("a", 100, 300),))
    assert measure(problem, [at("a", 550, 150, 250, up=True)]).gap == pytest.approx(100)
    assert measure(problem, [at("a", 549, 150, 250, up=True)]).gap == -inf
    assert measure(problem, [at("a", 440, 150)]).gap == pytest.approx(10)  # 500 - 440 - 50
    assert measure(problem, [at("a", 440, 150, 250)]).gap == -inf  # in the air


def test_the_lid_and_its_plug() -> None:
    lid = HeadRoom(620, Rect(200, 50, 500, 250), 590)
    problem = Problem(room(700, 300), (can("a", 100, 600),), head_room=lid)
    assert measure(problem, [at("a", 140, 150)]).gap == pytest.approx(10)  # beside the plug
    assert measure(problem, [at("a", 300, 150)]).gap < 0  # under it
    assert measure(replace(problem, vessels=(can("a", 100, 616),)), [at("a", 140, 150)]).gap == -inf


# -- verdicts


def test_two_that_fit_have_the_gap_by_hand() -> None:
    """The wide one has 10 to share between front and back; the length has more to spare."""
    found = pack(Problem(room(630, 300), (can("a", 200), can("b", 290))))
    assert found.verdict == "fits"
    assert found.gap == pytest.approx(5, abs=1e-6)
    assert "5.0 mm can be kept" in found.say()


@pytest.mark.parametrize(
    ("problem", "why", "words"),
    [
        (Problem(room(800, 381), (can("keg", 410),)), "no room", "39.0 mm too wide front to back"),
        (
            Problem(room(800, 500), (can("keg", 410, 700),), head_room=HeadRoom(700)),
            "too tall",
            "keg needs 705.0 mm of height on the floor, and 700.0 mm is there",
        ),
        (
            Problem(room(700, 420), (can("a", 400), can("b", 400))),
            "two apart",
            "need 405.0 mm between their axes",
        ),
        (
            Problem(room(900, 900), tuple(can(f"keg {k:02d}", 200) for k in range(40))),
            "too many",
            "axes so far apart have room on the floor",
        ),
    ],
)
def test_a_cheap_proof_says_its_reason(problem: Problem, why: str, words: str) -> None:
    found = pack(problem)
    assert found.verdict == "does not fit (proved)"
    assert (found.reasons[0].why, found.nodes) == (why, 0)
    assert words in found.say()


def test_no_more_axes_than_the_inequality_allows() -> None:
    """3 x 2 d: 2 * 6 / sqrt(3) + 10 / 2 + 1 = 12.93; the square grid has 4 x 3 = 12."""
    assert most_axes(3, 2, 1) == pytest.approx(12 / sqrt(3) + 6)
    assert 12 <= most_axes(3, 2, 1) < 13


# four of 216 in a zigzag with gaps of 5, 420 deep, need 221 + 3 sqrt(221^2 - 194^2) + 5 = 543.6


def test_a_search_that_closes_is_a_proof_and_says_what_it_ruled_out() -> None:
    found = pack(Problem(room(535, 420), tuple(can(f"keg {k}", 216) for k in range(4))))
    assert found.verdict == "does not fit (proved)"
    assert found.bound < 5 - 0.0005
    assert found.gap is not None and found.gap <= found.bound
    assert "none keeps more than" in found.say()


def test_stopped_early_it_is_not_found_and_never_refused() -> None:
    problem = Problem(room(535, 420), tuple(can(f"keg {k}", 216) for k in range(4)))
    found = pack(problem, nodes=1)
    assert (found.verdict, found.given_up) == ("not found", True)
    assert found.gap is not None and found.bound >= 5
    words = found.say()
    assert f"short by {5 - found.gap:.1f} mm" in words
    assert f"up to {found.bound:.1f} mm is not ruled out" in words
    assert f"stopped after {found.nodes} nodes" in words


def test_the_step_takes_what_the_floor_has_no_room_for() -> None:
    step = Step("right", 200, 250)
    problem = Problem(room(660, 300, step=step), (can("a", 216), can("b", 216), can("c", 133, 400)))
    found = pack(problem)
    assert found.verdict == "fits"
    assert [place.vessel for place in found.places if place.on_step] == ["c"]
    assert pack(replace(problem, well=room(660, 300))).verdict == "fits"
    too_low = replace(problem, head_room=HeadRoom(640))
    assert pack(too_low).verdict == "does not fit (proved)"


def test_obstacles_narrow_the_places() -> None:
    """A bar along the front, 60 deep, leaves 240 for 216: gaps of 12."""
    bar = Box("manifold", Rect(0, 0, 500, 60), 300, 400)
    found = pack(Problem(room(500, 300), (can("a", 216),), obstacles=(bar,)))
    assert found.gap == pytest.approx(12, abs=1e-6)
    assert found.bound == pytest.approx(12, abs=0.51)


def test_an_obstacle_s_corner_is_a_point() -> None:
    """One disc between the far walls and a corner: the diagonal is shared out."""
    box = Box("manifold", Rect(0, 0, 100, 100), 0, 600)
    found = pack(Problem(room(300, 300), (can("a", 150),), obstacles=(box,), gap=0))
    # x = 300 - 75 - g; sqrt(2) (200 - 75 - g) = 75 + g
    expected = (sqrt(2) * 125 - 75) / (1 + sqrt(2))
    assert found.gap == pytest.approx(expected, abs=1e-4)
    assert expected - 1e-4 <= found.bound <= expected + 0.51


def test_a_round_obstacle_is_a_point_with_a_reach() -> None:
    """A disc of 216 beside a half round of radius 60 at the left wall of 340 x 300.

    It goes to the right and to the back: ``(232 - g)^2 + (42 - g)^2 = (168 + g)^2``.
    """
    tail = Box("line", Rect(0, 150, 0, 150), 0, 600, reach=60)
    found = pack(Problem(room(340, 300), (can("a", 216),), obstacles=(tail,), gap=0))
    expected = 442 - sqrt(168_000)
    assert found.gap == pytest.approx(expected, abs=1e-4)
    assert expected - 1e-4 <= found.bound <= expected + 0.51


def test_rounded_corners_keep_small_ones_out() -> None:
    """Corners of 150 make a circle of a square of 300: two of 100 and three gaps in a row."""
    sharp = pack(Problem(room(300, 300), (can("a", 100), can("b", 100)), gap=0))
    round_ = pack(Problem(room(300, 300, radius=150), (can("a", 100), can("b", 100)), gap=0))
    assert round_.gap == pytest.approx(100 / 3, abs=0.1)
    assert sharp.gap is not None and sharp.gap > 40


def test_the_opening_of_the_collar_holds_what_reaches_into_it() -> None:
    opening = Opening(Rect(50, 0, 450, 300), 700, 840)
    tall, low = can("a", 216, 720), can("a", 216, 600)
    assert pack(Problem(room(500, 300), (low,), (opening,))).gap == pytest.approx(42)
    places = pack(Problem(room(500, 260), (tall,), (opening,))).places
    assert 50 + 108 + 5 <= places[0].x <= 450 - 108 - 5


def test_taller_ones_stand_behind() -> None:
    vessels = (can("low", 300, 300), can("tall", 300, 600))
    for order in (vessels, vessels[::-1]):
        places = {p.vessel: p.y for p in pack(Problem(room(480, 700), order)).places}
        assert places["tall"] > places["low"]


# -- whatever the numbers


SIZES = st.sampled_from([133.0, 178.0, 216.0, 235.0, 279.0])


@st.composite
def small_problems(draw: st.DrawFn) -> Problem:
    """Draw up to four usual vessels in a small well, sometimes with a step and a box."""
    vessels = tuple(
        can(f"keg {k}", draw(SIZES), draw(st.sampled_from([400.0, 600.0])))
        for k in range(draw(st.integers(1, 4)))
    )
    width, depth = draw(st.integers(480, 800)), draw(st.integers(330, 520))
    step = Step("right", draw(st.integers(150, 250)), 250) if draw(st.booleans()) else None
    x = draw(st.integers(0, width))
    box = Box("manifold", Rect(x, 0, x + 60, 60), 300, 500)
    obstacles = (box,) if draw(st.booleans()) else ()
    return Problem(room(width, depth, step=step), vessels, obstacles=obstacles)


some = settings(max_examples=12, deadline=None, derandomize=True)


@some
@given(small_problems(), st.integers(0, 999))
def test_the_order_of_the_file_changes_nothing(problem: Problem, seed: int) -> None:
    vessels = list(problem.vessels)
    Random(seed).shuffle(vessels)
    assert pack(replace(problem, vessels=tuple(vessels))) == pack(problem)


@some
@given(small_problems())
def test_what_is_found_measures_as_told_and_stays_below_the_bound(problem: Problem) -> None:
    found = pack(problem)
    if found.gap is None:
        return
    assert measure(problem, found.places).gap == found.gap
    assert found.gap <= found.bound + 1e-6


@some
@given(small_problems())
def test_one_less_or_a_wider_well_never_lowers_the_gap(problem: Problem) -> None:
    found = pack(problem)
    if found.gap is None:
        return
    well = problem.well
    wider = replace(well, floor=replace(well.floor, y1=well.floor.y1 + 20))
    wider = replace(wider, mouth=wider.floor)
    easier = [replace(problem, well=wider)]
    if len(problem.vessels) > 1:
        easier.append(replace(problem, vessels=problem.vessels[1:]))
    for other in map(pack, easier):
        assert other.gap is not None
        assert other.bound >= found.gap - 1e-6
        # both are best to the tolerance of the search, unless it was enough to refuse
        if other.verdict == "fits":
            assert other.gap >= found.gap - 0.5
        if found.verdict == "fits":
            assert other.verdict == "fits"


def mirrored(problem: Problem, scale: float = 1.0) -> Problem:
    """Turn everything over, left for right, and count in other units."""

    def rect(r: Rect) -> Rect:
        width = problem.well.floor.x1
        return Rect((width - r.x1) * scale, r.y0 * scale, (width - r.x0) * scale, r.y1 * scale)

    well, step = problem.well, problem.well.step
    return Problem(
        Well(
            rect(well.floor),
            rect(well.mouth),
            0.0,
            well.top * scale,
            step=step and Step("left", step.length * scale, step.height * scale),
        ),
        tuple(
            Vessel(v.name, tuple(Disc(0.0, d.top * scale, d.radius * scale) for d in v.discs))
            for v in problem.vessels
        ),
        obstacles=tuple(
            Box(b.name, rect(b.rect), b.bottom * scale, b.top * scale) for b in problem.obstacles
        ),
        gap=problem.gap * scale,
    )


@some
@given(small_problems(), st.sampled_from([1.0, 1 / 25.4]))
def test_a_mirror_and_inches_change_nothing(problem: Problem, scale: float) -> None:
    found, other = pack(problem), pack(mirrored(problem, scale))
    assert (found.gap is None) == (other.gap is None)
    if found.gap is None or other.gap is None:
        return
    assert other.gap / scale <= found.bound + 1e-3
    assert found.gap <= other.bound / scale + 1e-3
    if "not found" not in {found.verdict, other.verdict}:
        assert found.verdict == other.verdict


@some
@given(small_problems(), st.integers(0, 999))
def test_no_random_placement_beats_the_bound(problem: Problem, seed: int) -> None:
    chance, bound = Random(seed), pack(problem).bound
    well, step = problem.well, problem.well.step
    for _ in range(400):
        places: list[Place] = []
        for vessel in problem.vessels:
            up = step is not None and chance.random() < 0.3
            edge = well.floor.x1 - (step.length if step else 0.0)
            x = chance.uniform(edge, well.floor.x1) if up else chance.uniform(0.0, edge)
            y = chance.uniform(0.0, well.floor.y1)
            places.append(Place(vessel.name, x, y, well.step_top if up else 0.0, up))
        assert measure(problem, places).gap <= bound + 1e-6


# -- nothing printed, nothing asked that is no question


def test_the_solver_prints_nothing() -> None:
    code = (
        "from collarwright.geometry.plan.packing import *\n"
        "r = Rect(0, 0, 600, 420)\n"
        "w = Well(r, r, 0, 700)\n"
        "v = tuple(Vessel(str(k), (Disc(0, 600, 108),)) for k in range(3))\n"
        "assert pack(Problem(w, v)).nodes > 0\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert (ran.stdout, ran.stderr) == (b"", b"")


def test_no_vessels_fit_anywhere() -> None:
    assert pack(Problem(room(500, 300), ())).verdict == "fits"


@pytest.mark.parametrize("discs", [(), (Disc(0, 0, 50),), (Disc(10, 20, 50),), (Disc(0, 9, 0),)])
def test_a_vessel_without_body_is_refused(discs: tuple[Disc, ...]) -> None:
    with pytest.raises(ValueError, match="disc"):
        Vessel("keg", discs)


def test_two_of_one_name_are_refused() -> None:
    with pytest.raises(ValueError, match="name of its own"):
        Problem(room(500, 300), (can("a", 100), can("a", 100)))


def test_a_look_about_known_places_finds_them_again() -> None:
    """Eight different ones in a narrow well: a glance alone finds less than the places it is given.

    They are handed over under other names of like vessels, and in a well a little longer.
    """
    sizes = (235, 229, 216, 216, 178, 133, 133, 111)
    problem = Problem(room(860, 430), tuple(can(f"v{k}", d) for k, d in enumerate(sizes)))
    full = pack(problem, 1)
    assert full.gap is not None
    swap = {"v2": "v3", "v3": "v2"}
    near = tuple(replace(p, vessel=swap.get(p.vessel, p.vessel)) for p in full.places)
    longer = replace(problem, well=room(861, 430))
    again = pack(longer, 1, glance=True, near=near)
    assert again.gap is not None
    assert again.gap >= full.gap - 1e-6
    assert measure(longer, again.places).gap == pytest.approx(again.gap)
    # places of other vessels are no help and no harm
    stranger = (replace(near[0], vessel="nobody"), *near[1:])
    assert pack(longer, 1, glance=True, near=stranger) == pack(longer, 1, glance=True)
