"""The talk of ``new``: each answer as it is given, and the ways about in it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from collarwright.outputs.new.paper import Paper
from collarwright.outputs.new.talk import talk
from collarwright.outputs.new.words import after
from collarwright.params.starter import QUESTIONS, Said, answers_in, build_text

SIDES = {"lip.front": "37 in", "lip.right": "21 in", "lip.back": "37 in", "lip.left": "21 in"}
NAMED = {"title": "x", "show": "in", **SIDES}
LIP = {
    **NAMED,
    "lip.front_left_to_back_right": "42 9/16 in",
    "lip.front_right_to_back_left": "42 9/16 in",
    "lip.land": "2 in",
    "lip.land_starts": "0 in",
    "lip.corner_radius": "3/4 in",
}
BOARDS = {
    **LIP,
    "board.stock": "board-1x6",
    "board.thickness": "3/4 in",
    "board.width": "5 1/2 in",
    "board.species": "eastern-white-pine",
}
TAPS = {**BOARDS, "taps.count": "3", "taps.spacing": "4 in", "taps.bore": "1 in"}


class Talked:
    """A talk with these lines typed; ended when they run out."""

    def __init__(self, folder: Path, known: dict[str, str], *lines: str) -> None:
        self.printed: list[str] = []
        self.kept: list[str] = []
        given: Iterator[str] = iter(lines)

        def hear(prompt: str) -> str:
            self.printed.append(prompt)
            line = next(given, None)
            if line is None:
                raise EOFError
            return line

        self.paper = Paper(folder / "x.toml", build_text(known), self.kept.append)
        try:
            self.ending = talk(self.paper, hear, self.printed.append)
        except EOFError:
            self.ending = "broken off"

    @property
    def answers(self) -> dict[str, str]:
        return self.paper.answers

    @property
    def said(self) -> str:
        """What was printed, as one line of words."""
        return " ".join(" ".join(self.printed).split())


def test_a_wrong_answer_is_told_at_once_and_asked_again(tmp_path: Path) -> None:
    had = Talked(tmp_path, {}, "", "", "37,5 in", "37 cats", "37", "37 1/2 in")
    assert had.answers == {"lip.front": "37 1/2 in"}
    assert "37.5 in" in had.said
    assert "'cats' is not known here" in had.said
    assert had.said.count("1 of 9.") == 1
    assert max(len(line) for line in had.printed) <= 80


def test_a_missing_unit_is_offered(tmp_path: Path) -> None:
    had = Talked(tmp_path, {}, "", "", "37 1/2", "y")
    assert "The unit is missing; did you mean 37 1/2 in? y takes that." in had.said
    assert had.answers == {"lip.front": "37 1/2 in"}
    metric = Talked(tmp_path, {"title": "x", "show": "mm"}, "940", "yes")
    assert metric.answers["lip.front"] == "940 mm"
    assert "y" not in Talked(tmp_path, {"title": "x", "show": "in"}, "cats", "y").answers.values()


def test_each_answer_is_kept_before_the_next_question(tmp_path: Path) -> None:
    had = Talked(tmp_path, {"title": "x", "show": "in"}, "37 in", "21 in")
    assert had.ending == "broken off"
    first = {"title": "x", "show": "in", "lip.front": "37 in"}
    second = {**first, "lip.right": "21 in"}
    assert [answers_in(text) for text in had.kept] == [Said(first), Said(second)]


def test_sides_far_apart_are_told_and_a_diagonal_cannot_wait(tmp_path: Path) -> None:
    known = {"title": "x", "show": "in", "lip.front": "37 in", "lip.right": "21 in"}
    had = Talked(tmp_path, {**known, "lip.back": "37 in"}, "21 1/2 in", "", "42 9/16 in", "stop")
    assert "opposite sides differ by more than the tape's error" in had.said
    assert "four sides alone do not say what shape the lip has" in had.said
    assert had.answers["lip.front_left_to_back_right"] == "42 9/16 in"
    # 1/16 in is within twice the tape's error of 1 mm: nothing is told, the diagonal can wait
    fine = Talked(tmp_path, {**known, "lip.back": "37 in"}, "21 1/16 in", "", "stop")
    assert "opposite sides" not in fine.said
    assert "Stays open, not checked" in fine.said


def test_a_slip_is_named_at_the_side_and_y_takes_what_was_meant(tmp_path: Path) -> None:
    known = {"title": "x", "show": "in", "lip.front": "37 in", "lip.right": "21 in"}
    had = Talked(tmp_path, known, "36 in", "y", "21 in")
    assert "looks like a slip of 1 in; did you mean 37 in? y takes that." in had.said
    assert had.answers["lip.back"] == "37 in"
    kept = Talked(tmp_path, known, "36 in", "36 in", "21 in")
    assert kept.answers["lip.back"] == "36 in"
    assert kept.said.count("did you mean") == 1


def test_a_diagonal_with_digits_changed_about(tmp_path: Path) -> None:
    had = Talked(tmp_path, NAMED, "24 1/2 in", "y")
    assert "did you mean 42 1/2 in (two digits swapped)?" in had.said
    assert had.answers["lip.front_left_to_back_right"] == "42 1/2 in"


def test_a_diagonal_that_no_slip_explains_is_to_be_measured_again(tmp_path: Path) -> None:
    had = Talked(tmp_path, NAMED, "33 in", "y", "42 9/16 in")
    assert "did you mean" not in had.said
    assert "Measure it again." in had.said
    assert had.answers["lip.front_left_to_back_right"] == "42 9/16 in"


def test_a_back_edge_far_from_the_front_is_questioned_once(tmp_path: Path) -> None:
    known = {"title": "x", "show": "in", "lip.front": "41 1/4 in", "lip.right": "22 1/16 in"}
    had = Talked(tmp_path, known, "22 1/16 in", "41 1/4 in", "stop")
    assert "measure both again" in had.said
    assert had.answers["lip.back"] == "41 1/4 in"


def test_hinges_may_be_listed_with_commas_and_one_alone_is_questioned(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "hinge.positions", "-13 in, 13 in", "stop")
    assert had.answers["hinge.positions"] == "-13 in; 13 in"
    one = Talked(tmp_path, TAPS, "hinge.positions", "0 in", "0 in", "stop")
    assert one.said.count("one place alone".capitalize()) == 1
    assert one.answers["hinge.positions"] == "0 in"


def test_a_missing_unit_of_an_angle_is_offered(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "hinge.open_to", "88", "y", "stop")
    assert "did you mean 88 deg? y takes that." in had.said
    assert had.answers["hinge.open_to"] == "88 deg"


def test_a_word_inside_a_name_is_found(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "board.species", "cedar", "stop")
    assert "Nothing in the catalogue" not in had.said
    assert "western-redcedar" in had.said


def test_skipping_a_fitting_says_what_stands(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "vessel[1].fitting", "", "stop")
    assert "The catalogue's figure stands" in had.said


def test_back_keeps_the_answer_until_another_is_given(tmp_path: Path) -> None:
    had = Talked(tmp_path, {}, "a name", "back", "another name", "in", "stop")
    assert had.ending == "stopped"
    assert had.answers == {"title": "another name", "show": "in"}
    kept = Talked(tmp_path, {}, "a name", "back", "", "in", "stop")
    assert kept.answers == {"title": "a name", "show": "in"}
    assert "title [a name; Enter keeps it]" in kept.said
    gone = Talked(tmp_path, {}, "a name", "back", "skip", "in", "stop")
    assert gone.answers == {"show": "in"}
    assert "no question before" in Talked(tmp_path, {}, "back", "stop").said


def test_a_key_s_name_goes_to_its_question_and_back_again(tmp_path: Path) -> None:
    had = Talked(tmp_path, LIP, "lip.front", "37 1/32 in", "1x6 softwood", "stop")
    assert had.answers["lip.front"] == "37 1/32 in"
    assert had.answers["board.stock"] == "board-1x6"
    ahead = Talked(tmp_path, LIP, "room.behind", "6 in", "1x6 softwood", "stop")
    assert ahead.answers["room.behind"] == "6 in"
    assert ahead.answers["board.stock"] == "board-1x6"


def test_only_what_is_open_is_asked(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "stop")
    asked = [line.split()[0] for line in had.printed if line.rstrip().endswith(("]:", "):"))]
    assert asked == ["taps.height"]


def test_what_can_wait_is_skipped_and_what_stays_open_is_said_in_words(tmp_path: Path) -> None:
    had = Talked(tmp_path, NAMED, "", "", "", "", "", "stop")
    assert "- does the board stand on the hard, flat part of the lip? (stand)" in had.said
    assert "Sharp corners are taken." in had.said
    assert "This one cannot wait" in had.said  # board.stock
    assert "lip.land" not in had.answers


def test_the_question_mark_says_more(tmp_path: Path) -> None:
    had = Talked(tmp_path, {**NAMED, "lip.front_left_to_back_right": "42 9/16 in"}, "", "?", "stop")
    for part in (
        "Where: Across the rim, from its outer edge inward",
        "What for: The boards stand on it.",
        "Usual: 25 to 70 mm, about 1 to 2 3/4 in (common practice, no source).",
        "For example: 2 in",
        "Without it:",
        "(stand)",
    ):
        assert part in had.said


@pytest.mark.parametrize(
    ("typed", "stands"),
    [
        (("1x6 softwood",), {"stock": "board-1x6"}),
        (("1x6", "1"), {"stock": "board-1x6"}),
        (("1x6", "2"), {"stock": "hardwood-s4s-1x6"}),
        (("dimension-2x8",), {"stock": "dimension-2x8"}),
        (("3/4 in x 5 1/2 in",), {"thickness": "3/4 in", "width": "5 1/2 in"}),
        (("19 x 140 mm",), {"thickness": "19 mm", "width": "140 mm"}),
        (("19mm by 140mm",), {"thickness": "19mm", "width": "140mm"}),
        (("1 x 6 in", "1"), {"stock": "board-1x6"}),
        (("1 x 6 in", "3"), {"thickness": "1 in", "width": "6 in"}),
    ],
)
def test_boards_by_id_by_words_and_by_sizes(
    tmp_path: Path, typed: tuple[str, ...], stands: dict[str, str]
) -> None:
    had = Talked(tmp_path, LIP, *typed, "stop")
    found = {k.removeprefix("board."): v for k, v in had.answers.items() if k.startswith("board.")}
    assert found == stands


def test_one_length_for_a_board_is_not_enough(tmp_path: Path) -> None:
    had = Talked(tmp_path, LIP, "1 in", "marble slab", "list", "stop")
    assert "give thickness and width, as 3/4 in x 5 1/2 in" in had.said
    assert "Nothing in the catalogue is called 'marble slab'" in had.said
    assert "dimension-2x12: 2x12 dimension lumber, 1 1/2 in x 11 1/4 in" in had.said
    assert "board.stock" not in had.answers


@pytest.mark.parametrize(
    ("typed", "stands"),
    [
        (("4-1/8",), "shank-4-1-8-in"),
        (("98 mm",), "98 mm"),
        (("4 1/8 in", "1"), "shank-4-1-8-in"),
        (("4 1/8 in", "2"), "4 1/8 in"),
    ],
)
def test_shanks_as_sold_and_as_measured(
    tmp_path: Path, typed: tuple[str, ...], stands: str
) -> None:
    had = Talked(tmp_path, TAPS, "", "", *typed, "stop")
    assert had.answers["taps.shank"] == stands


def test_foam_by_thickness_and_by_kind(tmp_path: Path) -> None:
    start = ("foam.kind",)
    assert Talked(tmp_path, TAPS, *start, "25 mm", "stop").answers["foam.thickness"] == "25 mm"
    had = Talked(tmp_path, TAPS, *start, "xps type iv 1 in", "stop")
    assert had.answers["foam.kind"] == "xps-type-iv-1-in"
    assert "foam.thickness" not in had.answers
    bare = Talked(tmp_path, {**TAPS, "show": "mm"}, *start, "25", "y", "stop")
    assert bare.answers["foam.thickness"] == "25 mm"
    assert "foam.kind" not in bare.answers


def test_what_the_layout_refuses_is_told_at_the_question_that_brought_it(tmp_path: Path) -> None:
    # 12 taps 4 in apart span 44 in of a 37 in board; no bore was said yet
    had = Talked(tmp_path, BOARDS, "12", "4 in", "taps.count", "3", "4 in", "stop")
    assert had.said.count("short points") == 1
    assert "type the name of taps.count (12) to change that one" in had.said
    assert had.answers["taps.count"] == "3"
    # the bores' centers 3 in up a 5 1/2 in board are fine, 6 in are above it
    high = Talked(tmp_path, TAPS, "6 in", "3 in", "stop")
    assert "inside the front board" in high.said
    assert high.answers["taps.height"] == "3 in"


def test_the_land_is_held_against_the_sides(tmp_path: Path) -> None:
    # from edge to land's end must be less than half of the shortest side: 8 1/2 in of 17 in
    small = {**NAMED, "lip.right": "17 in", "lip.left": "17 in"}
    diagonal = {"lip.front_left_to_back_right": "40 23/32 in"}
    known = {**small, **diagonal, "lip.front_right_to_back_left": "40 23/32 in"}
    had = Talked(tmp_path, known, "9 in", "stop")
    assert "less than half of the shortest side" in had.said
    assert "lip.land" not in had.answers


def test_a_check_that_fails_is_told_with_what_mends_it(tmp_path: Path) -> None:
    # the shank's thread is 7/8 in: a bore of 7/8 in leaves 0, 0.4 mm are asked
    known = {**TAPS, "taps.bore": "7/8 in"}
    had = Talked(tmp_path, known, "", "", "4-1/8", "taps.bore", "1 in", "stop")
    assert "this fails as it stands: does the shank go through the bore? (bore-entry)" in had.said
    assert "To change it, type taps.bore." in had.said
    assert "That mends bore-entry." in had.said


def test_a_check_that_a_later_answer_may_mend_waits_for_it(tmp_path: Path) -> None:
    # a 32 mm nut over a 1 in bore covers too little; the washer is asked after the shank
    told = "does the nut or its washer cover the bore inside? (nut-cover)"
    before = Talked(tmp_path, TAPS, "", "", "4-1/8", "stop")
    assert told not in before.said
    skipped = Talked(tmp_path, TAPS, "", "", "4-1/8", "", "stop")
    assert told in skipped.said
    given = Talked(tmp_path, TAPS, "", "", "4-1/8", "2 in", "stop")
    assert told not in given.said


def test_groups_are_offered_passed_over_and_opened(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, "skip all", "skip all", "n", "y", "stop")
    assert "Also measure lid and hinge?" in had.said
    assert "gasket-seat" in had.said
    assert "hinge.positions (for example" in had.said
    jump = Talked(tmp_path, TAPS, "skip all", "skip all", "?", "y", "1/4 in", "skip all", "stop")
    assert jump.answers["lid.overhang"] == "1/4 in"
    assert "The rest of the taps is left open" in jump.said


def test_a_whole_talk_can_be_skipped_through(tmp_path: Path) -> None:
    had = Talked(tmp_path, TAPS, *("",) * 40)
    assert had.ending == "done"
    assert had.answers == TAPS


def test_an_answer_that_makes_others_senseless_takes_them_along(tmp_path: Path) -> None:
    known = {**TAPS, "lid.skirt": "1/2 in", "lid.skirt_thickness": "1/16 in"}
    had = Talked(tmp_path, known, "lid.skirt", "0 in", "stop")
    assert had.answers["lid.skirt"] == "0 in"
    assert "lid.skirt_thickness" not in had.answers


def test_choices_take_their_beginning_and_any_case(tmp_path: Path) -> None:
    assert Talked(tmp_path, {"title": "x"}, "IN", "stop").answers["show"] == "in"
    assert Talked(tmp_path, {"title": "x"}, "inches", "stop").answers["show"] == "in"
    assert Talked(tmp_path, TAPS, "lid.gasket", "mag", "stop").answers["lid.gasket"] == "magnetic"
    assert Talked(tmp_path, {"title": "x"}, "metric", "stop").answers["show"] == "mm"
    wrong = Talked(tmp_path, {"title": "x"}, "furlong", "stop")
    assert "show" not in wrong.answers


def test_what_somebody_changed_in_the_file_meanwhile_stays(tmp_path: Path) -> None:
    paper = Paper(tmp_path / "x.toml", build_text(LIP), lambda text: None)
    theirs = build_text(LIP).replace('land = "2 in"', 'land = "45 mm"  # again, by daylight')
    paper.changed = lambda: theirs
    paper.take({"board.stock": "board-1x6"})
    assert 'land = "45 mm"  # again, by daylight' in paper.text
    assert paper.answers["lip.land"] == "45 mm"
    assert paper.answers["board.stock"] == "board-1x6"


@pytest.mark.parametrize(
    ("show", "key", "typed", "taken"),
    [
        ("in", "room.temperature", "75", "75 degF"),
        ("mm", "room.temperature", "24", "24 degC"),
        ("in", "room.floor_area", "120", "120 ft2"),
        ("mm", "room.humidity", "60", "60 %"),
    ],
)
def test_a_missing_unit_of_the_air_is_offered(
    tmp_path: Path, show: str, key: str, typed: str, taken: str
) -> None:
    had = Talked(tmp_path, {**TAPS, "show": show}, key, typed, "y", "stop")
    assert f"did you mean {taken}? y takes that." in had.said
    assert had.answers[key] == taken


def test_examples_are_in_the_units_that_somebody_measures_in(tmp_path: Path) -> None:
    """1 in is 25.4 mm, 8 ft 2438 mm, 500 ft 152.4 m; 75 degF are 23.9 degC; 120 ft2 11.15 m2."""
    for key, inches, metric in (
        ("lip.land", "2 in", "51 mm"),
        ("room.ceiling", "8 ft", "2440 mm"),
        ("room.altitude", "500 ft", "150 m"),
        ("room.temperature", "75 degF", "24 degC"),
        ("room.floor_area", "120 ft2", "11 m2"),
        ("room.humidity", "60 %", "60 %"),
    ):
        for show, wanted in (("in", inches), ("mm", metric)):
            had = Talked(tmp_path, {**TAPS, "show": show, "lip.land": ""}, key, "?", "stop")
            assert f"{key} (for example {wanted}): " in had.printed[-1] + had.said, (key, show)


def test_what_was_not_asked_for_is_named_at_the_end() -> None:
    end = " ".join(" ".join(after("x.toml", "in", [], fails=False, stem="x")).split())
    told = end.partition("Not asked for:")[2]
    assert told.endswith("collarwright keys explains them.")
    for table in ("[[taps]]", "[[vessel]]", "[[pour]]", "[manifold]", "[[hole]]", "[tray]", "[cap]",
                  "[cover]", "[[stock.length]]", "[foam.sheet]"):  # fmt: skip
        assert table in told


def test_every_question_can_be_gone_to(tmp_path: Path) -> None:
    keys = [each.key for each in QUESTIONS if "." in each.key]
    had = Talked(tmp_path, TAPS, *keys, "stop")
    prompts = [line.split()[0] for line in had.printed if line.rstrip().endswith(("]:", "):"))]
    assert prompts[1:] == keys


def test_examples_come_in_the_unit_that_is_measured_in(tmp_path: Path) -> None:
    # 28 in are 711.2 mm, 2 in are 50.8 mm
    assert "lip.front (for example 711 mm)" in Talked(tmp_path, {"title": "x", "show": "mm"}).said
    assert "lip.front (for example 28 in)" in Talked(tmp_path, {"title": "x", "show": "in"}).said


def test_what_a_file_has_wrong_is_told_and_asked_for_again(tmp_path: Path) -> None:
    had = Talked(tmp_path, {**LIP, "lip.land": "2 cats"}, "", "2 in", "1x6 softwood", "stop")
    assert 'lip.land: "2 cats" will not do' in had.said
    assert "What stands in the file will not do." in had.said
    assert had.answers["lip.land"] == "2 in"
    assert had.answers["board.stock"] == "board-1x6"
    gone = Talked(tmp_path, {**LIP, "lip.land": "2 cats"}, "skip", "stop")
    assert "lip.land" not in gone.answers


def test_an_answer_is_not_blamed_for_a_key_that_begins_like_its_own(tmp_path: Path) -> None:
    known = {**TAPS, "lid.plug": "1 in", "lid.plug_inset": "3 cats"}
    had = Talked(tmp_path, known, "lid.plug", "1/2 in", "lid.plug_inset", "", "3 in", "stop")
    assert had.answers["lid.plug"] == "1/2 in"
    assert had.answers["lid.plug_inset"] == "3 in"
