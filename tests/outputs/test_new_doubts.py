"""Slips of the tape: what is doubted, and what may have been meant."""

import pytest
from collarwright.outputs.new.doubts import doubt, slip, swapped, unit_of, usual_text
from collarwright.params.starter import BY_KEY

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
        (SIDES, "50 in", "42 17/32 in"),  # no slip that is known: the square one
        # hypot(940, 533) = 1080.6 mm
        (METRIC, "1180 mm", "1080 mm"),
        (METRIC, "1801 mm", "1081 mm"),
        (METRIC, "108 cm", None),
        (METRIC, "1300 mm", "1080.6 mm"),
        (SIDES, "42 9/16 in", None),
        (SIDES, "42 1/2 in; 42 9/16 in", None),
        (SIDES, "46 in; 46 1/16 in", "42 17/32 in"),
    ],
)
def test_a_diagonal_alone(sides: dict[str, str], typed: str, meant: str | None) -> None:
    assert offered(sides, FIRST, typed) == meant


def test_the_second_diagonal_is_held_to_the_other_five() -> None:
    # for a rectangle both are 42.544 in; 43 in is 11.6 mm off, three tape errors are 3 mm
    with_first = {**SIDES, FIRST: "42 9/16 in"}
    assert offered(with_first, SECOND, "42 17/32 in") is None
    assert offered(with_first, SECOND, "43 in") == "42 17/32 in"
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
