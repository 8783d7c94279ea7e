"""The lip from tape readings: cosine rule, least squares, closing changes, refusals.

Nothing here trusts the fit's own arithmetic: angles come from a printed table or the cosine
rule, the least-squares figure from an independent optimizer, and closing is judged by the
Cayley-Menger determinant, which is zero exactly where four points lie in one plane.
"""

import itertools
import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.shape.lip import Lip, fit
from collarwright.geometry.shape.six_lengths import KEYS
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Lip as Readings
from collarwright.params.units import Show
from hypothesis import given, settings
from hypothesis import strategies as st

# A worked lip (derived: cosine rule, the same from either diagonal): corners (0, 0), (955, 0),
# (958, 561), (4, 559), lengths printed to 0.001 mm, angles to 0.001 deg.
PRINTED = {
    "front": 955.000,
    "right": 561.008,
    "back": 954.002,
    "left": 559.014,
    "front_left_to_back_right": 1110.173,
    "front_right_to_back_left": 1103.124,
}
PRINTED_DEG = (89.590, 90.306, 89.573, 90.530)
FIRST, SECOND = KEYS[4:]
EDGES = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))


def read(lengths: Mapping[str, float | tuple[float, ...]], **more: str) -> Lip:
    """Fit the lip to readings in mm; a tuple is a repeated reading."""
    texts = {
        key: tuple(f"{each:.9f} mm" for each in (value if isinstance(value, tuple) else (value,)))
        for key, value in lengths.items()
    }
    return fit(Readings(**texts, **more))


def sides(front: float, right: float, back: float, left: float, *diagonals: float) -> Lip:
    """Fit the lip to four sides and the diagonals that are given."""
    return read(dict(zip(KEYS, (front, right, back, left, *diagonals), strict=False)))


def random_corners(rng: np.random.Generator) -> np.ndarray:
    """Return a rim that is out of square by up to 15 mm at each corner."""
    width, depth = rng.uniform(500, 1800), rng.uniform(400, 800)
    corners = np.array([(0, 0), (width, 0), (width, depth), (0, depth)])
    return corners + rng.uniform(-15, 15, (4, 2))


def lengths_of(corners: np.ndarray) -> dict[str, float]:
    return {
        key: float(np.hypot(*(corners[j] - corners[i])))
        for key, (i, j) in zip(KEYS, EDGES, strict=True)
    }


def cayley_menger(lengths: Mapping[str, float]) -> float:
    """Return the determinant over the six lengths, in m; 288 times a squared volume."""
    matrix = np.ones((5, 5)) - np.eye(5)
    for key, (i, j) in zip(KEYS, EDGES, strict=True):
        matrix[i + 1, j + 1] = matrix[j + 1, i + 1] = (lengths[key] / 1000) ** 2
    return float(np.linalg.det(matrix))


# --- four sides -----------------------------------------------------------------------------


def test_four_sides_make_a_rectangle_of_the_means_of_opposite_sides() -> None:
    lip = sides(940, 534, 938.5, 535)
    width, depth = (940 + 938.5) / 2, (534 + 535) / 2
    assert lip.corners == ((0, 0), (width, 0), (width, depth), (0, depth))
    assert lip.sides == (width, depth, width, depth)
    assert lip.angles_deg == (90, 90, 90, 90)
    assert (lip.width, lip.depth) == (width, depth)
    assert lip.known_by == "sides"
    assert lip.closing == ()


@pytest.mark.parametrize(("tape", "apart"), [("1 mm", 2.0), ("0.5 mm", 1.0), ("3 mm", 6.0)])
@pytest.mark.parametrize(
    ("key", "sign", "named"),
    [("back", 1, ("lip.front", "lip.back")), ("left", -1, ("lip.right", "lip.left"))],
)
def test_opposite_sides_may_differ_by_twice_the_tape(
    tape: str, apart: float, key: str, sign: int, named: tuple[str, str]
) -> None:
    rectangle = {"front": 940.0, "right": 534.0, "back": 940.0, "left": 534.0}
    just = rectangle | {key: rectangle[key] + sign * apart}
    beyond = rectangle | {key: rectangle[key] + sign * (apart + 0.01)}
    assert read(just, tape=tape).known_by == "sides"
    with pytest.raises(BuildFileError) as refused:
        read(beyond, tape=tape)
    (problem,) = refused.value.problems
    assert (problem.key, *problem.keys) == named
    assert "diagonal" in problem.wanted
    # A diagonal settles it.
    settled = read(beyond | {FIRST: math.hypot(940, 534)}, tape=tape)
    assert settled.known_by == "one diagonal"


def test_both_pairs_of_sides_are_reported_at_once() -> None:
    with pytest.raises(BuildFileError) as refused:
        sides(940, 534, 950, 520)
    assert [problem.key for problem in refused.value.problems] == ["lip.front", "lip.right"]


# --- diagonals ------------------------------------------------------------------------------


@pytest.mark.parametrize("diagonals", [(FIRST,), (SECOND,), (FIRST, SECOND)])
def test_the_printed_lip_has_the_printed_angles(diagonals: tuple[str, ...]) -> None:
    lip = read({key: PRINTED[key] for key in (*KEYS[:4], *diagonals)})
    assert lip.angles_deg == pytest.approx(PRINTED_DEG, abs=0.001)
    for found, (x, y) in zip(lip.corners, ((0, 0), (955, 0), (958, 561), (4, 559)), strict=True):
        # readings printed to 0.001 mm place a corner to a few of these
        assert found == pytest.approx((x, y), abs=0.005)
    assert lip.known_by == ("two diagonals" if len(diagonals) == 2 else "one diagonal")


def test_a_diagonal_gives_the_two_corners_it_faces_by_the_cosine_rule() -> None:
    front, right, back, left, diagonal = 955.0, 561.0, 950.0, 556.0, 1108.0

    def facing(p: float, q: float, d: float) -> float:
        return math.degrees(math.acos((p * p + q * q - d * d) / (2 * p * q)))

    across = sides(front, right, back, left, diagonal)  # front-left to back-right
    assert across.angles_deg[1] == pytest.approx(facing(front, right, diagonal), abs=1e-9)
    assert across.angles_deg[3] == pytest.approx(facing(back, left, diagonal), abs=1e-9)
    given = dict(zip(KEYS[:4], (front, right, back, left), strict=True))
    other = read(given | {SECOND: diagonal})  # front-right to back-left
    assert other.angles_deg[0] == pytest.approx(facing(front, left, diagonal), abs=1e-9)
    assert other.angles_deg[2] == pytest.approx(facing(right, back, diagonal), abs=1e-9)
    for lip in (across, other):
        assert sum(lip.angles_deg) == pytest.approx(360, abs=1e-9)
        assert lip.sides == pytest.approx((front, right, back, left), abs=1e-9)
        assert lip.closing == ()


def test_six_readings_of_a_true_figure_give_it_back() -> None:
    rng = np.random.default_rng(1)
    for _ in range(50):
        corners = random_corners(rng)
        lip = read(lengths_of(corners))
        exact = lengths_of(corners)
        assert lip.sides + lip.diagonals == pytest.approx(list(exact.values()), abs=1e-6)
        assert lip.closing == pytest.approx([0] * 6, abs=1e-5)


@pytest.mark.parametrize("noise", [0.3, 2.0, 8.0])
def test_six_readings_are_fitted_like_an_independent_optimizer_fits_them(noise: float) -> None:
    from scipy.optimize import least_squares

    rng = np.random.default_rng(2)
    for _ in range(15):
        corners = random_corners(rng)
        readings = {k: v + rng.normal(0, noise) for k, v in lengths_of(corners).items()}
        wanted = np.array(list(readings.values()))

        def off(places: np.ndarray, wanted: np.ndarray = wanted) -> np.ndarray:
            x1, x2, y2, x3, y3 = places
            figure = np.array([(0, 0), (x1, 0), (x2, y2), (x3, y3)])
            return np.array(list(lengths_of(figure).values())) - wanted

        start = (readings["front"], readings["front"], readings["right"], 0, readings["left"])
        best = least_squares(off, start, xtol=1e-15, ftol=1e-15, gtol=1e-15)
        x1, x2, y2, x3, y3 = best.x
        lip = read(readings)
        found = np.array(lip.corners)
        assert found == pytest.approx(np.array([(0, 0), (x1, 0), (x2, y2), (x3, y3)]), abs=2e-4)
        # The optimizer stops a little early; never may it be better.
        ours = sum((lengths_of(found)[key] - readings[key]) ** 2 for key in KEYS)
        assert ours <= float(np.sum(best.fun**2)) + 1e-9


def test_each_closing_change_alone_closes_the_figure() -> None:
    rng = np.random.default_rng(3)
    for _ in range(50):
        exact = lengths_of(random_corners(rng))
        readings = {key: value + rng.normal(0, 1.5) for key, value in exact.items()}
        open_by = abs(cayley_menger(readings))
        for key, change in zip(KEYS, read(readings).closing, strict=True):
            assert change is not None
            closed = readings | {key: readings[key] + change}
            assert abs(cayley_menger(closed)) < 1e-6 * max(open_by, 1e-4)
            # The determinant sees 0.05 mm, so its silence above means something.
            assert abs(cayley_menger(closed | {key: closed[key] + 0.05})) > 1e-6


def test_one_wrong_reading_is_found_with_its_own_error() -> None:
    exact = dict(zip(KEYS, (940.0, 534.0, 940.0, 534.0, *[math.hypot(940, 534)] * 2), strict=True))
    for index, key in enumerate(KEYS):
        closing = read(exact | {key: exact[key] + 4}).closing
        assert closing[index] == pytest.approx(-4, abs=1e-9)


# --- repeated and mirrored readings -----------------------------------------------------------


def test_of_a_repeated_reading_the_mean_counts_and_the_spread_is_kept() -> None:
    lip = read({"front": (940, 942, 943), "right": 534, "back": (941, 942.5), "left": (534,)})
    assert lip.sides[0] == pytest.approx(((940 + 942 + 943) / 3 + (941 + 942.5) / 2) / 2)
    assert lip.spreads == (("front", pytest.approx(3)), ("back", pytest.approx(1.5)))


def test_a_repeated_diagonal_counts_as_its_mean() -> None:
    given = {key: PRINTED[key] for key in KEYS[:4]}
    middle = PRINTED[FIRST]
    lip = read(given | {FIRST: (middle - 2, middle + 1, middle + 1)})
    assert lip.angles_deg == pytest.approx(PRINTED_DEG, abs=0.001)
    assert lip.spreads == ((FIRST, pytest.approx(3)),)


def test_mirrored_readings_give_the_mirrored_figure() -> None:
    rng = np.random.default_rng(4)
    for count in (1, 2):
        exact = lengths_of(random_corners(rng))
        readings = {key: value + rng.normal(0, 1) for key, value in exact.items()}
        if count == 1:
            del readings[SECOND]
        swap = {"right": "left", "left": "right", FIRST: SECOND, SECOND: FIRST}
        mirrored = read({swap.get(key, key): value for key, value in readings.items()})
        lip = read(readings)
        fl, fr, br, bl = lip.angles_deg
        assert mirrored.angles_deg == pytest.approx((fr, fl, bl, br), abs=1e-7)
        width = lip.corners[1][0]
        for ours, theirs in zip(lip.corners, (1, 0, 3, 2), strict=True):
            x, y = mirrored.corners[theirs]
            assert (width - x, y) == pytest.approx(ours, abs=1e-5)


# --- refusals -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lengths", "named"),
    [
        # 940 + 534 = 1474: the diagonal is longer than the two sides that it spans
        ((940, 534, 940, 534, 1480), {"lip.front", "lip.right", f"lip.{FIRST}"}),
        # 940 - 534 = 406: it is shorter than their difference
        ((940, 534, 940, 534, 400), {"lip.front", "lip.right", f"lip.{FIRST}"}),
        # the front triangle closes (500 + 700 > 1190), the one behind does not
        ((700, 500, 690, 490, 1190), {"lip.back", "lip.left", f"lip.{FIRST}"}),
    ],
)
def test_a_triangle_that_cannot_close_is_refused_with_its_three_readings(
    lengths: tuple[float, ...], named: set[str]
) -> None:
    with pytest.raises(BuildFileError) as refused:
        sides(*lengths)
    (problem,) = refused.value.problems
    assert {problem.key, *problem.keys} == named


def test_the_change_that_would_close_a_triangle_is_told() -> None:
    with pytest.raises(BuildFileError) as refused:
        sides(940, 534, 940, 534, 1480)  # 6 mm more than 940 + 534
    (problem,) = refused.value.problems
    assert f"{FIRST} shorter by more than 1/4 in (6 mm)" in problem.wanted
    assert "front longer by more than 1/4 in (6 mm)" in problem.wanted
    assert "right longer by more than 1/4 in (6 mm)" in problem.wanted


def test_the_other_diagonal_names_the_other_triangles() -> None:
    given = {"front": 940.0, "right": 534.0, "back": 940.0, "left": 534.0, SECOND: 1480.0}
    with pytest.raises(BuildFileError) as refused:
        read(given)
    (problem,) = refused.value.problems
    assert {problem.key, *problem.keys} == {"lip.front", "lip.left", f"lip.{SECOND}"}


def rhombus(deg: float) -> Lip:
    """A rhombus of 800 mm sides; ``deg`` is its corner at the front left."""
    # FL-BR faces the front-right corner (180 - deg), FR-BL the front-left one.
    half = math.radians(deg) / 2
    return sides(800, 800, 800, 800, 1600 * math.cos(half), 1600 * math.sin(half))


@pytest.mark.parametrize("deg", [60.01, 75.0, 119.99])
def test_corners_up_to_thirty_degrees_from_square_are_laid_out(deg: float) -> None:
    angles = rhombus(deg).angles_deg
    assert angles == pytest.approx((deg, 180 - deg, deg, 180 - deg), abs=1e-6)


@pytest.mark.parametrize("deg", [59.99, 40.0, 120.01])
def test_corners_beyond_are_a_slip_that_names_the_readings(deg: float) -> None:
    with pytest.raises(BuildFileError) as refused:
        rhombus(deg)
    (problem,) = refused.value.problems
    assert problem.keys == tuple(f"lip.{key}" for key in KEYS)
    assert problem.key in problem.keys


def test_a_diagonal_read_far_too_short_is_refused() -> None:
    # A rim of 940 x 534 whose diagonal of 1081 mm was read 300 mm too short: by the cosine
    # rule that corner would be 58.4 deg.
    short = math.hypot(940, 534) - 300
    corner = math.degrees(math.acos((940**2 + 534**2 - short**2) / (2 * 940 * 534)))
    assert corner < 60
    with pytest.raises(BuildFileError) as refused:
        sides(940, 534, 940, 534, short)
    (problem,) = refused.value.problems
    assert problem.key == f"lip.{FIRST}"


def test_a_slip_is_told_with_the_worst_corner_and_what_would_be_square() -> None:
    """Cosine rule: 900, 600 and 1400 make 136.2 deg; 905 and 600 with 1400 make 135.6."""
    given = {"front": 900.0, "right": 600.0, "back": 905.0, "left": 600.0, FIRST: 1400.0}
    worst = math.degrees(math.acos((900**2 + 600**2 - 1400**2) / (2 * 900 * 600)))
    with pytest.raises(BuildFileError) as refused:
        read(given)
    (problem,) = refused.value.problems
    assert problem.read == f"a front-right corner of {worst:.1f} deg"
    assert f"({math.hypot(902.5, 600):.1f} mm)" in problem.wanted
    assert "would close" not in problem.wanted  # one diagonal always closes


def test_a_slip_with_two_diagonals_is_told_with_what_would_close_it() -> None:
    given = {"front": 900.0, "right": 600.0, "back": 900.0, "left": 600.0, FIRST: 1400.0}
    # a parallelogram: the squares of its diagonals are together 2 (900^2 + 600^2)
    true = math.sqrt(2 * (900**2 + 600**2) - 1400**2)
    with pytest.raises(BuildFileError) as refused:
        read(given | {SECOND: true + 5})
    (problem,) = refused.value.problems
    assert f"{SECOND} shorter by 3/16 in (5 mm)" in problem.wanted
    assert problem.wanted.count(", or ") == 5
    with pytest.raises(BuildFileError) as refused:
        read(given | {SECOND: true})  # it closes as it is: all of it is wrong together
    (problem,) = refused.value.problems
    assert problem.wanted.endswith(f"{math.hypot(900, 600):.1f} mm))")


@pytest.mark.parametrize(
    ("lengths", "odd", "with_it"),
    [
        # front and right changed about: 26 and 21 are no 42.5; the back is as it should be
        ((21, 21, 37, 21, 42.5), "front", "back"),
        ((37, 21, 17, 21, 42.5), "back", "front"),
        # 37, 8 and 42.5 close, at 129 deg by the cosine rule: with 21 they would be square
        ((37, 8, 37, 21, 42.5), "right", "left"),
        ((37, 21, 37, 8, None, 42.5), "left", "right"),
    ],
)
def test_a_side_far_from_the_opposite_one_is_blamed_and_not_the_diagonal(
    lengths: tuple[float | None, ...], odd: str, with_it: str
) -> None:
    """A lip of 37 x 21 in with diagonals of 42.5 in: one of its sides was read far too short."""
    given = {key: 25.4 * each for key, each in zip(KEYS, lengths, strict=False) if each}
    texts: dict[str, Any] = {key: f"{value} mm" for key, value in given.items()}
    with pytest.raises(BuildFileError) as refused:
        fit(Readings(**texts), "in")
    (problem,) = refused.value.problems
    assert (problem.key, problem.keys) == (f"lip.{odd}", (f"lip.{with_it}",))
    assert f"measure {odd} again" in problem.wanted
    assert problem.example == f'{odd} = "{"21 in" if odd in ("right", "left") else "37 in"}"'


def test_two_pairs_far_apart_blame_no_single_side() -> None:
    """Front and right changed about: a kite of 534, 940, 940 and 534 mm."""
    with pytest.raises(BuildFileError) as refused:
        sides(534, 940, 940, 534, math.hypot(940, 534))
    (problem,) = refused.value.problems
    assert {problem.key, *problem.keys} == {f"lip.{key}" for key in KEYS[:5]}
    assert "front and back 15 31/32 in (406 mm) apart, right and left 15 31/32 in" in problem.read
    assert "measure all four again" in problem.wanted and not problem.example


def test_a_diagonal_is_named_where_no_side_explains_it() -> None:
    """A freezer that really tapers, and a diagonal read 270 mm too long."""
    with pytest.raises(BuildFileError) as refused:
        sides(940, 530, 880, 530, 1320)
    (problem,) = refused.value.problems
    assert "lip.front_left_to_back_right" in problem.keys
    assert "and the diagonals" in problem.wanted


@pytest.mark.parametrize(("show", "square"), [("mm", "1081.1 mm"), ("in", "42 9/16 in")])
def test_the_example_of_a_diagonal_is_in_the_unit_of_the_file(show: Show, square: str) -> None:
    lip = Readings.model_validate(
        {"front": "940 mm", "right": "534 mm", "back": "940 mm", "left": "534 mm",
         FIRST: "1480 mm"}
    )  # fmt: skip
    with pytest.raises(BuildFileError) as refused:
        fit(lip, show)  # sqrt(940^2 + 534^2) = 1081.1 mm, 42.563 in
    assert refused.value.problems[0].example == f'{FIRST} = "{square}"'


def test_sides_that_disagree_are_told_by_how_much_and_what_is_allowed() -> None:
    with pytest.raises(BuildFileError) as refused:
        read({"front": 940.0, "right": 534.0, "back": 945.0, "left": 534.0}, tape="1.5 mm")
    (problem,) = refused.value.problems
    assert problem.read == "front and back 3/16 in (5 mm) apart"
    assert problem.wanted.startswith("opposite sides within 1/8 in (3 mm)")


def test_corner_angles_and_edges_are_in_the_order_of_the_corners() -> None:
    """A lip whose four corners all differ, so that a swapped corner cannot hide."""
    assert len({round(a, 2) for a in PRINTED_DEG}) == 4
    lip = read(PRINTED)
    for i, (before, here, after) in enumerate(
        zip(np.roll(lip.corners, 1, 0), lip.corners, np.roll(lip.corners, -1, 0), strict=True)
    ):
        one, two = before - np.array(here), after - np.array(here)
        cosine = one @ two / (np.linalg.norm(one) * np.linalg.norm(two))
        assert lip.angles_deg[i] == pytest.approx(math.degrees(math.acos(cosine)), abs=1e-7)
    turns = [np.cross([*b, 0], [*c, 0])[2] for b, c in itertools.pairwise(lip.corners[1:])]
    assert all(turn > 0 for turn in turns)  # counterclockwise seen from above


def test_beside_a_diagonal_that_cannot_be_only_its_own_change_would_close() -> None:
    # 940 + 534 = 1474: with 1480 no front and no right could close, with 1081.1 all do.
    lip = sides(940, 534, 940, 534, 1480, math.hypot(940, 534))
    assert lip.closing == (None, None, None, None, pytest.approx(1081.1 - 1480, abs=0.05), None)


ANY_SIDE = st.integers(200, 4000)
ANY_DIAGONAL = st.none() | st.integers(250, 6000)


@settings(deadline=None, max_examples=300)
@given(st.tuples(ANY_SIDE, ANY_SIDE, ANY_SIDE, ANY_SIDE, ANY_DIAGONAL, ANY_DIAGONAL))
def test_whatever_is_read_there_is_a_lip_or_a_refusal_that_names_a_reading(
    lengths: tuple[int | None, ...],
) -> None:
    readings = {k: float(v) for k, v in zip(KEYS, lengths, strict=True) if v is not None}
    try:
        lip = read(readings)
    except BuildFileError as refused:
        for problem in refused.problems:
            assert problem.key.removeprefix("lip.") in {*KEYS, "lip"}
    else:
        assert all(60 <= angle <= 120 for angle in lip.angles_deg)
        assert sum(lip.angles_deg) == pytest.approx(360, abs=1e-6)
