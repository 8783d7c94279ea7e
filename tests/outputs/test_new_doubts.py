"""Slips of the tape: what is doubted, and what may have been meant."""

import math
import random
import re

import pytest
from collarwright.outputs.new.doubts import doubt, slip, swapped, unit_of, usual_text
from collarwright.params.starter import BY_KEY
from collarwright.params.units import Show, length_text, parse

FIRST, SECOND = "lip.front_left_to_back_right", "lip.front_right_to_back_left"
SIDES = {"lip.front": "37 in", "lip.right": "21 in", "lip.back": "37 in", "lip.left": "21 in"}
METRIC = {"lip.front": "940 mm", "lip.right": "533 mm", "lip.back": "940 mm", "lip.left": "533 mm"}


def offered(answers: dict[str, str], key: str, typed: str) -> str | None:
    found = doubt(answers, BY_KEY[key], typed)
    return None if found is None else found.offer


@pytest.mark.parametrize(
    ("sides", "typed", "meant"),
    [
        # hypot(37, 21) = 42.544 in; 42 1/2 in with its digits changed about is 24 1/2 in
        (SIDES, "24 1/2 in", "42 1/2 in"),
        (SIDES, "43 1/2 in", "42 1/2 in"),  # an inch
        (SIDES, "50 in", ""),  # no slip that is known: nothing to offer
        # hypot(940, 533) = 1080.6 mm
        (METRIC, "1180 mm", "1080 mm"),
        (METRIC, "1801 mm", "1081 mm"),
        (METRIC, "108 cm", None),
        (METRIC, "1300 mm", ""),
        (SIDES, "42 9/16 in", None),
        (SIDES, "42 1/2 in; 42 9/16 in", None),
        (SIDES, "46 in; 46 1/16 in", ""),
    ],
)
def test_a_diagonal_alone(sides: dict[str, str], typed: str, meant: str | None) -> None:
    assert offered(sides, FIRST, typed) == meant


def test_the_second_diagonal_is_held_to_the_other_five() -> None:
    # for a rectangle both are 42.544 in; 43 in is 11.6 mm off, three tape errors are 3 mm
    with_first = {**SIDES, FIRST: "42 9/16 in"}
    assert offered(with_first, SECOND, "42 17/32 in") is None
    assert offered(with_first, SECOND, "43 in") == ""
    told = doubt(with_first, BY_KEY[SECOND], "43 in")
    # the other five are a rectangle with a diagonal of 42.5625 in: the sixth is 42.526 +- 0.118,
    # 42.408 to 42.644 in, and in 1/32 in inward of that 42.4375 to 42.625
    assert told is not None and "between 42 7/16 in and 42 5/8 in. Measure it again" in told.text
    assert told.text.startswith("this diagonal cannot belong to the other five readings")
    assert offered(with_first, SECOND, "43 1/2 in") == "42 1/2 in"
    # 42 1/2 in and 42 5/8 in have the mean 42.5625 in, but are 3.2 mm apart: read again
    spread = doubt(with_first, BY_KEY[SECOND], "42 1/2 in; 42 5/8 in")
    assert spread is not None and "apart" in spread.text and not spread.offer
    assert offered(with_first, SECOND, "42 1/2 in; 42 9/16 in") is None


@pytest.mark.parametrize(
    ("key", "typed", "meant"),
    [
        ("lip.back", "36 in", "37 in"),
        ("lip.back", "38 1/16 in", "37 1/16 in"),
        ("lip.back", "73 in", "37 in"),
        ("lip.back", "49 in", "37 in"),
        ("lip.left", "22 in", "21 in"),
        ("lip.back", "37 1/16 in", None),
        ("lip.back", "37 1/2 in", None),  # no slip of a tape: told, but nothing is offered
    ],
)
def test_a_side_by_a_slip_off_the_opposite_one(key: str, typed: str, meant: str | None) -> None:
    assert offered(SIDES, key, typed) == meant


@pytest.mark.parametrize(
    ("typed", "meant"), [("930 mm", "940 mm"), ("1040 mm", "940 mm"), ("904 mm", "940 mm")]
)
def test_metric_slips(typed: str, meant: str) -> None:
    assert offered(METRIC, "lip.back", typed) == meant


def test_a_diagonal_without_a_slip_is_told_where_it_lies() -> None:
    # sqrt(940^2 + 533^2 -+ 2 * 940 * 533 * sin 2 deg) = 1064.29 and 1096.66 mm, inward of it
    found = doubt(METRIC, BY_KEY[FIRST], "1300 mm")
    assert found is not None and not found.offer
    assert "within 2 deg of square it lies between 1064.3 mm and 1096.6 mm" in found.text


def test_a_diagonal_within_the_tape_s_error_at_all_readings_hardly_fits() -> None:
    """The other five put the second diagonal at 52.379 in, and 52 1/2 in is 3.07 mm off.

    Three tape errors are 3 mm. Of a rectangle of w x h a reading of w moves the diagonal by w / d
    of its error, the other diagonal by all of it: 2 (46.3 + 24.5) / 52.4 + 1 = 3.7 mm, and the
    reading itself may be 1 mm off: beyond 4.7 mm, 52.564 in, it cannot belong.
    """
    sides = {"lip.front": "46 3/8 in", "lip.right": "24 1/2 in", "lip.back": "46 1/4 in",
             "lip.left": "24 9/16 in", FIRST: "52 7/16 in"}  # fmt: skip
    hardly, cannot = (doubt(sides, BY_KEY[SECOND], each) for each in ("52 1/2 in", "52 19/32 in"))
    assert hardly is not None and cannot is not None
    assert hardly.text.startswith("this diagonal hardly fits the other five readings")
    assert cannot.text.startswith("this diagonal cannot belong to the other five readings")
    # 52.379 -+ 0.118 in: from 52.261, 52 9/32, to 52.497, 52 15/32
    assert all("between 52 9/32 in and 52 15/32 in" in each.text for each in (hardly, cannot))
    for fine in ("52 9/32 in", "52 15/32 in", "52 3/8 in"):
        assert doubt(sides, BY_KEY[SECOND], fine) is None


@pytest.mark.parametrize("show", ["in", "mm"])
def test_what_is_refused_is_never_within_the_printed_bounds(show: Show) -> None:
    """Lips at random, also with sides a little apart: both bounds are taken, a step beyond none."""
    rng = random.Random(11)
    step = 25.4 / 32 if show == "in" else 0.1
    for _ in range(40):
        wide, deep = rng.uniform(700, 1700), rng.uniform(480, 800)
        given = {"lip.front": wide, "lip.back": wide + rng.uniform(-8, 8),
                 "lip.right": deep, "lip.left": deep + rng.uniform(-8, 8)}  # fmt: skip
        answers = {key: f"{value:.2f} mm" for key, value in given.items()}
        key = rng.choice((FIRST, SECOND))
        if rng.random() < 0.5:
            answers[FIRST], key = f"{math.hypot(wide, deep):.2f} mm", SECOND
        told = doubt(answers, BY_KEY[key], length_text(1.25 * math.hypot(wide, deep), show))
        assert told is not None
        if told.offer:  # by chance a foot off
            continue
        found = re.search("between (.+) and (.+)[.] Measure", told.text)
        assert found is not None
        low, high = (parse(each, "length") for each in found.groups())
        for inside in (low, high):
            assert doubt(answers, BY_KEY[key], length_text(inside, show)) is None, answers
        for outside in (low - step, high + step):
            assert doubt(answers, BY_KEY[key], length_text(outside, show)) is not None, answers


def test_sides_far_apart_are_blamed_at_the_diagonal() -> None:
    """The front was kept at 24 1/2 in beside a back of 46 1/4: no diagonal can be right."""
    sides = {"lip.front": "24 1/2 in", "lip.right": "24 1/2 in", "lip.back": "46 1/4 in",
             "lip.left": "24 9/16 in"}  # fmt: skip
    told = doubt(sides, BY_KEY[FIRST], "52 7/16 in")
    assert told is not None and not told.offer
    assert "front and back are 21 3/4 in (552.5 mm) apart" in told.text
    assert "Type lip.front or lip.back" in told.text


@pytest.mark.parametrize("typed", ["y", "cats", "42 1/2", "42,5 in"])
def test_what_is_no_length_is_left_to_the_door(typed: str) -> None:
    assert doubt(SIDES, BY_KEY[FIRST], typed) is None


def test_opposite_edges_far_apart_are_doubted_at_once() -> None:
    found = doubt({"lip.front": "41 1/4 in"}, BY_KEY["lip.back"], "22 1/16 in")
    assert found is not None and not found.offer
    assert "19 3/16 in" in found.text and "measure both again" in found.text
    # a twentieth of 40 in is 2 in
    assert doubt({"lip.front": "40 in"}, BY_KEY["lip.back"], "37 15/16 in") is not None
    assert doubt({"lip.front": "40 in"}, BY_KEY["lip.back"], "38 1/16 in") is None


def test_one_hinge_alone_is_doubted() -> None:
    positions = BY_KEY["hinge.positions"]
    assert doubt({}, positions, "0 in") is not None
    assert doubt({}, positions, "-13 in, 13 in") is None
    assert doubt({}, positions, "-13 in; 13 in") is None


def test_repeated_readings_must_agree() -> None:
    assert doubt({}, BY_KEY["lip.front"], "940 mm; 943 mm") is None
    found = doubt({}, BY_KEY["lip.front"], "940 mm; 944 mm")
    assert found is not None and "4 mm apart" in found.text


def test_what_is_far_from_usual_is_doubted() -> None:
    inset = BY_KEY["lid.gasket_inset"]  # usual 12 to 35 mm: doubted below 6 and beyond 70
    assert doubt({}, inset, "70 mm") is None
    assert doubt({}, inset, "71 mm") is not None
    assert doubt({}, inset, "front 20 mm, others 5 mm") is not None
    assert doubt({}, BY_KEY["lid.skirt"], "0 in") is None
    assert "12 to 35 mm, about 1/2 to 1 3/8 in" in usual_text(inset)


def test_digits_changed_about() -> None:
    assert swapped("34 1/2 in") == ["43 1/2 in"]
    assert swapped("945 mm") == ["495 mm", "954 mm"]
    assert swapped("7 in") == []
    assert swapped("77 in") == []
    assert slip("34 1/2 in", 43.5 * 25.4, 3.0) == ("43 1/2 in", "two digits swapped")
    assert slip("37 in", 37 * 25.4, 3.0) == ("", "")


def test_the_unit_that_somebody_measures_in() -> None:
    assert [unit_of(each) for each in ("37 in", "3'", "94 cm", "940mm")] == ["in", "in", "mm", "mm"]
