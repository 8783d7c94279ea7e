"""Values changed in a build file's text: everything else stays, letter by letter."""

import tomllib

import pytest
from collarwright.params.rewrite import rewritten

TEXT = """\
# my freezer
title = "Perry"  # pear cider

[lip]   # with the long tape
front = "37 in"  # twice
land = "2 in"

[board]
overhang = "2 mm"  # all round

[[taps]]
count = 3
spacing = "3 in"   # hand wide

[[taps]]
side = "left"
bore = "1 in"

[lid]
overhang = { front = "5 mm", left = "3 mm" } # by side
"""


def lines_that_differ(after: str) -> list[tuple[str, str]]:
    return [(a, b) for a, b in zip(TEXT.splitlines(), after.splitlines(), strict=True) if a != b]


def test_one_value_and_its_comment_stays() -> None:
    after = rewritten(TEXT, {"lip.front": "36 1/2 in"})
    assert lines_that_differ(after) == [
        ('front = "37 in"  # twice', 'front = "36 1/2 in"  # twice')
    ]


@pytest.mark.parametrize(
    ("key", "value", "old", "new"),
    [
        ("taps[2].bore", "25 mm", 'bore = "1 in"', 'bore = "25 mm"'),
        ("taps[1].count", 2, "count = 3", "count = 2"),
        ("taps[1].spacing", "4 in", 'spacing = "3 in"   # hand wide',
         'spacing = "4 in"   # hand wide'),
        ("title", "Cider", 'title = "Perry"  # pear cider', 'title = "Cider"  # pear cider'),
    ],
)  # fmt: skip
def test_the_right_one_of_several(key: str, value: str | int, old: str, new: str) -> None:
    assert lines_that_differ(rewritten(TEXT, {key: value})) == [(old, new)]


def test_one_value_for_all_sides_becomes_a_table_by_side() -> None:
    after = rewritten(TEXT, {"board.overhang.left": "4 mm"})
    sides = tomllib.loads(after)["board"]["overhang"]
    assert sides == {"front": "2 mm", "right": "2 mm", "back": "2 mm", "left": "4 mm"}
    ((_, line),) = lines_that_differ(after)
    assert line.endswith("# all round")


def test_a_side_of_a_table_by_side() -> None:
    after = tomllib.loads(rewritten(TEXT, {"lid.overhang.back": "1 mm"}))
    assert after["lid"]["overhang"] == {"front": "5 mm", "left": "3 mm", "back": "1 mm"}


def test_a_new_key_goes_to_the_end_of_its_table_and_a_new_table_to_the_end() -> None:
    after = rewritten(TEXT, {"taps[2].washers": "3 mm", "hinge.screws": 3, "foam.pocket": "none"})
    data = tomllib.loads(after)
    assert data["taps"][1] == {"side": "left", "bore": "1 in", "washers": "3 mm"}
    assert (data["hinge"], data["foam"]) == ({"screws": 3}, {"pocket": "none"})
    assert [line for line in TEXT.splitlines() if line not in after.splitlines()] == []


def test_a_side_of_a_key_that_was_not_there() -> None:
    after = tomllib.loads(rewritten(TEXT, {"lid.skirt.left": "12 mm"}))
    assert after["lid"]["skirt"] == {"left": "12 mm"}


def test_one_value_of_a_list() -> None:
    text = '[hinge]\npositions = ["-300 mm", "300 mm"]  # from behind\n'
    after = rewritten(text, {"hinge.positions[2]": "290 mm"})
    assert after == '[hinge]\npositions = ["-300 mm", "290 mm"]  # from behind\n'


def test_a_new_table_with_several_keys() -> None:
    changes = {"cap.material": "wood", "cap.width": "19 mm", "cap.thickness": "8 mm"}
    after = rewritten(TEXT, changes)
    assert tomllib.loads(after)["cap"] == {
        "material": "wood",
        "width": "19 mm",
        "thickness": "8 mm",
    }
    assert [line for line in TEXT.splitlines() if line not in after.splitlines()] == []


def test_text_in_the_value_stays_text() -> None:
    nasty = 'a "quoted" \\ name\t# no comment'
    assert tomllib.loads(rewritten(TEXT, {"title": nasty}))["title"] == nasty
