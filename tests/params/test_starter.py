"""The questions of ``new``, the file they are written to, and changes of that file."""

import random
import re
import tomllib
from pathlib import Path

import pytest
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.reading import draft
from collarwright.params.reading.keys import TABLES
from collarwright.params.starter import (
    BY_KEY,
    EXAMPLES,
    GROUPS,
    QUESTIONS,
    UNASKED,
    EditError,
    answered,
    answers_in,
    build_text,
    edit,
    makes_sense,
)
from collarwright.params.starter.unasked import Unasked
from collarwright.params.starter.value import by_side, is_zero, toml_of, typed_of

ALL = {each.key: each.example for each in QUESTIONS}


def test_every_example_is_accepted_by_the_door() -> None:
    assert draft(Path("x.toml"), build_text(ALL).encode()).problems == ()


def test_each_key_stands_once_under_its_explanation_within_80_columns() -> None:
    text = build_text({})
    lines = text.splitlines()
    assert max(map(len, lines)) <= 80
    for question in QUESTIONS:
        stands = [n for n, line in enumerate(lines) if line.startswith(f"# {question.name} = ")]
        assert stands, question.key
        first = question.ask.split()[0]
        above = [lines[n - k] for n in stands for k in range(1, 12)]
        assert any(line.startswith(f"# {first}") for line in above), question.key
    assert "# Not measured yet; the collar cannot be cut without it." in text
    said = build_text({}, opens={"lip.land": ("stand",)})
    assert '# Not measured yet; not checked without it: stand.\n# land = "2 in"' in said


def test_a_given_key_has_its_explanation_and_no_word_of_being_open() -> None:
    text = build_text({"lip.land": "45 mm"})
    assert "[lip]\n" in text and "\n# [lip]" not in text
    block = text.partition("# Width of the lip that is hard and flat.")[2].partition("\n\n")[0]
    assert block.endswith('\nland = "45 mm"')
    assert "Not measured" not in block


def test_answers_put_in_one_by_one_make_the_text_of_all_of_them() -> None:
    rng = random.Random(3)
    for _ in range(18):
        some = {key: value for key, value in ALL.items() if rng.random() < 0.4}
        if not any(key.startswith("vessel[1]") for key in some):
            some = {key: value for key, value in some.items() if not key.startswith("vessel[2]")}
        text = build_text({})
        for key in rng.sample(sorted(some), len(some)):
            if not key.startswith("vessel[2]"):
                text = edit(text, {key: some[key]})
        text = edit(text, {key: value for key, value in some.items() if "vessel[2]" in key})
        assert text == build_text(some)
        found = answers_in(text)
        assert found is not None and found.answers == some
        assert edit(text, dict.fromkeys(some)) == build_text({})


def test_a_change_leaves_comments_order_and_other_keys_alone() -> None:
    mine = (
        "# my freezer, measured on a cold day\n"
        '[board]\nstock = "board-1x6"  # from the shop round the corner\n\n'
        "[lip]  # with the steel tape\n"
        'front = "37 in"  # read by two\n'
        '  back="37 in"\n'
        "[cover]\n"
        'thickness = "10 mm"\n'
    )
    text = edit(mine, {"lip.front": "940 mm", "lip.right": "21 in", "lid.skirt": "front 5 mm"})
    for line in mine.splitlines():
        assert line in text.splitlines() or line.startswith("front")
    assert 'front = "940 mm"  # read by two' in text
    data = tomllib.loads(text)
    assert data["lip"] == {"front": "940 mm", "back": "37 in", "right": "21 in"}
    assert data["cover"] == {"thickness": "10 mm"}
    assert data["lid"] == {"skirt": {"front": "5 mm"}}
    assert text.index("[lip]") < text.index("right =") < text.index("[cover]")


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ('lip.front = "37 in"\n', "lip.front"),
        ('lip = { front = "37 in" }\n', "lip.front"),
        ('[lip]\nfront = [\n  "37 in",\n  "38 in",\n]\n', "lip.front"),
        ("[lip\n", "lip.front"),
        ("[[taps]]\ncount = 1\n[[taps]]\ncount = 1\n", "taps.bore"),
    ],
)
def test_what_cannot_be_changed_line_by_line_is_refused(text: str, key: str) -> None:
    with pytest.raises(EditError):
        edit(text, {key: "940 mm"})


def test_an_example_is_no_answer_and_its_mark_goes_with_it() -> None:
    text = build_text({}, EXAMPLES)
    found = answers_in(text)
    assert found is not None and found.answers == {}
    changed = edit(text, {"lip.front": "950 mm"})
    assert 'front = "950 mm"\n' in changed
    assert changed.count("not your reading") == text.count("not your reading") - 1


def test_what_was_said_by_hand_is_not_asked_for() -> None:
    rows = answers_in('[[taps]]\ncount = 1\nbore = "1 in"\n[[taps]]\ncount = 1\nbore = "1 in"\n')
    assert rows is not None and "taps.count" in rows.own and "taps.bore" not in rows.answers
    places = answers_in('[taps]\npositions = ["0 in"]\nbore = "1 in"\n')
    assert places is not None and {"taps.count", "taps.spacing"} <= places.own
    assert places.answers == {"taps.bore": "1 in"}
    assert answers_in("[lip") is None


@pytest.mark.parametrize(
    ("key", "typed", "toml"),
    [
        ("lip.front", "37 in", '"37 in"'),
        ("lip.front", "37 in; 37 1/16 in", '["37 in", "37 1/16 in"]'),
        ("lip.front", "940 mm and 941 mm", '["940 mm", "941 mm"]'),
        ("lid.overhang", "5 mm", '"5 mm"'),
        (
            "lid.overhang",
            "front 10 mm, others 5 mm",
            '{ front = "10 mm", right = "5 mm", back = "5 mm", left = "5 mm" }',
        ),
        ("lid.overhang", "back: 1/4 in; front 1/2 in", '{ front = "1/2 in", back = "1/4 in" }'),
        ("taps.count", "3", "3"),
        ("taps.count", "three", '"three"'),
        ("hinge.positions", "-10 in; 10 in", '["-10 in", "10 in"]'),
        ("hinge.positions", "0 in", '["0 in"]'),
        ("hinge.spring", "no", "false"),
        ("title", 'Anna\'s "cold" corner', '"Anna\'s \\"cold\\" corner"'),
    ],
)
def test_answers_as_toml_writes_them(key: str, typed: str, toml: str) -> None:
    question = BY_KEY[key]
    assert toml_of(question, typed) == toml
    value = tomllib.loads(f"x = {toml}")["x"]
    back = typed_of(question, value)
    if key != "taps.count" or typed == "3":
        assert back is not None and toml_of(question, back) == toml


def test_sides_that_are_not_named_throughout_are_no_table() -> None:
    assert by_side("5 mm") == {}
    assert by_side("front 5 mm, 4 mm") == {}
    assert by_side("front 5 mm, front 4 mm") == {}


def test_zero_and_what_follows_from_it() -> None:
    assert is_zero("0 in") and is_zero("front 0 mm, others 0 mm")
    assert not is_zero("front 0 mm, others 1 mm") and not is_zero("none")
    rim = BY_KEY["lid.skirt_thickness"]
    assert not makes_sense(rim, {})
    assert not makes_sense(rim, {"lid.skirt": "0 in"})
    assert makes_sense(rim, {"lid.skirt": "1/2 in"})
    assert not makes_sense(BY_KEY["taps.spacing"], {"taps.count": "1"})
    boards = BY_KEY["board.stock"]
    assert not answered(boards, {"board.thickness": "19 mm"})
    assert answered(boards, {"board.thickness": "19 mm", "board.width": "140 mm"})


def test_every_table_is_asked_for_or_named_at_the_end_of_the_file() -> None:
    asked = {each.table.partition("[")[0].partition(".")[0] for each in QUESTIONS}
    foot = build_text({}).partition("# What `collarwright new` does not ask for")[2]
    named = set(re.findall(r"\[\[?([a-z_]+)", foot))
    assert set(TABLES) | {"limits"} == asked - {""} | named
    assert {"taps", "vessel"} <= named, "there may be more of them than are asked for"


@pytest.mark.parametrize("each", UNASKED, ids=[each.header for each in UNASKED])
def test_a_table_that_is_not_asked_for_is_good_without_its_marks(each: Unasked) -> None:
    text = build_text({}, EXAMPLES)
    block = "\n".join([each.header, *each.lines])
    marked = "\n".join(f"# {line}" for line in block.splitlines())
    assert text.count(marked) == 1
    found = draft(Path("x.toml"), text.replace(marked, block).encode())
    assert found.problems == () and found.project is not None
    lay_out(found.project)


def test_what_is_needed_comes_first_and_a_first_walk_is_short() -> None:
    first = [each for group in GROUPS if group.first for each in group.questions]
    later = [each for group in GROUPS if not group.first for each in group.questions]
    assert not [each.key for each in later if each.needed]
    assert list(QUESTIONS) == first + later
    assert len(first) < 35
    assert all(re.search(r"[.?]$", each.how) for each in QUESTIONS)
