"""Writes a commented build file from answers, and knows what to ask for and why.

Each question is one key of the build file: where to hold the tape, what the reading is for, and
which checks stay open without it. The text that is written is a build file like any other: it
is read, and judged, by the same door as one that somebody wrote by hand.
"""

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from .reading.document import EXAMPLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One thing to ask.

    ``key`` is its path in the build file, ``ask`` what is asked in a few words, ``how`` where to
    hold the tape and what it is for. ``example`` stands in the file that ``new`` writes without
    answers; ``opens`` are the checks that need it. ``number`` is true for a plain count.
    """

    key: str
    ask: str
    how: str
    example: str
    opens: tuple[str, ...] = ()
    required: bool = False
    number: bool = False

    @property
    def table(self) -> str:
        """Name of the table that the key stands in; empty at the top of the file."""
        return self.key.rpartition(".")[0]

    @property
    def name(self) -> str:
        """The key itself."""
        return self.key.rpartition(".")[2]


def _lip(key: str, ask: str, how: str, example: str, **more: Any) -> Question:
    return Question(key=f"lip.{key}", ask=ask, how=how, example=example, **more)


QUESTIONS: tuple[Question, ...] = (
    Question(
        key="title",
        ask="A name for this build",
        how="It is printed on every sheet.",
        example="My freezer",
    ),
    Question(
        key="show",
        ask="Print lengths in inches or millimeters: in or mm",
        how="You may write readings in either, whatever is printed.",
        example="in",
    ),
    _lip(
        "front",
        "Front edge of the lip, outside",
        "Lid open: hold the tape along the front of the body's rim, from its left outer edge to"
        " its right one. The front board is cut to this.",
        "37 in",
        required=True,
    ),
    _lip(
        "right",
        "Right edge of the lip, outside",
        "From the front outer edge to the back one, on the right side.",
        "21 in",
        required=True,
    ),
    _lip(
        "back",
        "Back edge of the lip, outside",
        "Along the back, left outer edge to right one; it need not equal the front.",
        "37 in",
        required=True,
    ),
    _lip(
        "left",
        "Left edge of the lip, outside",
        "From the front outer edge to the back one, on the left side.",
        "21 in",
        required=True,
    ),
    _lip(
        "front_left_to_back_right",
        "Diagonal, front left corner to back right",
        "Across the open freezer between outer corners, where the edges would meet if they were"
        " not rounded. It shows how square the lip is.",
        "42 9/16 in",
        opens=("lip-square", "readings"),
    ),
    _lip(
        "front_right_to_back_left",
        "Diagonal, front right corner to back left",
        "The other way across. With both, a slip in any reading shows.",
        "42 9/16 in",
        opens=("readings",),
    ),
    _lip(
        "land",
        "Width of the lip that is hard and flat",
        "From the outer edge inward to where the rim gets soft or rounds over: the boards stand"
        " on it.",
        "2 in",
        opens=("stand",),
    ),
    _lip(
        "corner_radius",
        "Radius of the lip's rounded corner",
        "Hold a square to the corner: how far from the square's corner each edge starts to round.",
        "3/4 in",
    ),
    Question(
        key="board.stock",
        ask="Boards, by their id (collarwright catalog lumber)",
        how="The width becomes the collar's height. Measure a board: thickness = and width = go"
        " before the catalogue's figures.",
        example="board-1x6",
        required=True,
    ),
    Question(
        key="taps.count",
        ask="How many taps in the front board",
        how="They stand about the board's middle.",
        example="3",
        required=True,
        number=True,
    ),
    Question(
        key="taps.spacing",
        ask="From tap to tap, center to center",
        how="4 in suits ordinary handles, 3 in is the least.",
        example="4 in",
        required=True,
    ),
    Question(
        key="taps.bore",
        ask="Diameter of the bores: your hole saw",
        how="1 in is the usual one; the shank's thread is 7/8 in or a little more.",
        example="1 in",
        required=True,
    ),
    Question(
        key="taps.shank",
        ask="Shank: an id (collarwright catalog shanks), or the thread's length measured",
        how="Measure the part: behind the flange, to the end of the thread.",
        example="shank-4-1-8-in",
        opens=(
            "bore-entry",
            "bore-cover",
            "nut-cover",
            "bore-edge",
            "bore-end",
            "shank-grip",
            "shank-run",
            "shank-past-foam",
            "nut-room",
            "tap-gap",
        ),
    ),
    Question(
        key="taps.washer_diameter",
        ask="Outside diameter of the washer under each shank nut",
        how="A nut alone hardly covers a 1 in bore.",
        example="2 in",
    ),
    Question(
        key="taps.washers",
        ask="Thickness of what lies under each shank nut",
        how="Washers and gasket together.",
        example="1/8 in",
    ),
    Question(
        key="taps.faucet",
        ask="Faucet, by its id (collarwright catalog faucets)",
        how="Its body has to clear the neighbour's.",
        example="faucet-forward-sealing",
        opens=("tap-gap",),
    ),
    Question(
        key="taps.handle",
        ask="Handle, by its id (collarwright catalog handles)",
        how="A hand pulls one alone.",
        example="handle-short-knob",
        opens=("handle-gap",),
    ),
    Question(
        key="taps.wrench",
        ask="Faucet wrench, by its id (collarwright catalog wrenches)",
        how="It must turn each coupling ring between its neighbours.",
        example="wrench-hook-pin",
        opens=("wrench-swing",),
    ),
    Question(
        key="foam.thickness",
        ask="Thickness of the foam board inside; skip for none",
        how="The shank has to reach past it.",
        example="1 in",
    ),
    Question(
        key="lid.overhang",
        ask="How far the closed lid stands out beyond the lip, all round",
        how="Lid closed: from the body's outer edge to the lid's outer edge. Where sides differ,"
        " write a table in the file: { front = …, right = …, back = …, left = … }.",
        example="1/4 in",
        opens=("gasket-seat", "skirt", "lid-wall", "lid-ceiling"),
    ),
    Question(
        key="lid.gasket_inset",
        ask="From the lid's outer edge in to the middle of its gasket",
        how="Lid open, on its underside. The gasket has to close on wood.",
        example="7/8 in",
        opens=("gasket-seat",),
    ),
    Question(
        key="lid.gasket_width",
        ask="Width of the lid's gasket",
        how="Across the seal, where it touches the lip.",
        example="1 in",
        opens=("gasket-seat",),
    ),
    Question(
        key="lid.thickness",
        ask="Thickness of the lid, from the gasket's plane up",
        how="Lid closed: from the lip to the top of the lid, all round the same.",
        example="2 1/4 in",
        opens=("lid-wall", "lid-ceiling"),
    ),
    Question(
        key="lid.skirt",
        ask="How far the lid's rim hangs below the gasket's plane; 0 in for none",
        how="Lid open: a straightedge across the gasket, down to the rim's edge. If it hangs, the"
        " file also wants skirt_thickness.",
        example="0 in",
        opens=("skirt", "lid-wall", "lid-ceiling"),
    ),
    Question(
        key="hinge.axis_behind",
        ask="Hinge pin: how far behind the face that carries the leaf",
        how="From the body's back face to the middle of the pin; the hinge moves up with the"
        " collar. Negative if the pin is ahead of the face.",
        example="3/4 in",
        opens=("lid-wall", "lid-ceiling", "skirt"),
    ),
    Question(
        key="hinge.axis_above",
        ask="Hinge pin: how far above the plane that the gasket closes on",
        how="Negative where the pin is lower, as it mostly is.",
        example="-1/2 in",
        opens=("lid-wall", "lid-ceiling", "skirt"),
    ),
    Question(
        key="hinge.open_to",
        ask="Angle at which the lid stops",
        how="90 deg is straight up.",
        example="85 deg",
        opens=("lid-wall", "lid-ceiling"),
    ),
    Question(
        key="room.behind",
        ask="From the lip's back edge to the wall",
        how="At the height of the lid, not at the floor.",
        example="6 in",
        opens=("lid-wall",),
    ),
    Question(
        key="room.above",
        ask="From the lip up to the lowest thing above",
        how="A shelf, a cupboard, the ceiling.",
        example="60 in",
        opens=("lid-ceiling",),
    ),
    Question(
        key="shop.tilt_max",
        ask="How far the saw's blade tilts",
        how="Many stop at 45 deg; a lip out of square that is followed wants more.",
        example="47 deg",
        opens=("saw",),
    ),
    Question(
        key="shop.cross_cut",
        ask="Widest board that the saw cuts across",
        how="The miter is cut across the board's width.",
        example="12 in",
        opens=("saw",),
    ),
    Question(
        key="shop.cut_depth_tilted",
        ask="Depth of cut with the blade tilted to 45 deg",
        how="It must go through the board.",
        example="2 1/8 in",
        opens=("saw",),
    ),
)

BY_KEY: Mapping[str, Question] = {question.key: question for question in QUESTIONS}

HEAD = """\
# A build file for collarwright: what a tape measure says, and what is to be made of it.
#
# Every length carries its unit, as a person writes it: "37 5/8 in", "3 ft 1 5/8 in", "955 mm".
# A line that begins with # is not read. Unplug the freezer before you measure inside it, and
# never drill its walls: refrigerant lines run in them.
#
#   collarwright check FILE     what will not fit, what was not checked, what passes
#   collarwright build FILE     model, cut files and drilling templates
"""


def build_text(answers: Mapping[str, str], examples: frozenset[str] = frozenset()) -> str:
    """Return a commented build file.

    Args:
        answers: what was said, by key.
        examples: keys whose example stands in for an answer, and says so.

    A key that is neither stands as a comment with the checks that stay open without it.
    """
    lines = [HEAD]
    table = ""
    for question in QUESTIONS:
        if question.table != table:
            table = question.table
            used = any(
                each.table == table and (each.key in answers or each.key in examples)
                for each in QUESTIONS
            )
            lines.append(f"\n{'' if used else '# '}[{table}]")
        lines += _entry(question, answers, examples)
    return "\n".join(lines) + "\n"


def _entry(question: Question, answers: Mapping[str, str], examples: frozenset[str]) -> list[str]:
    lines = [f"# {question.ask}."]
    if question.key in answers:
        return [*lines, f"{question.name} = {_value(question, answers[question.key])}"]
    value = _value(question, question.example)
    if question.key in examples:
        return [*lines, f"{question.name} = {value}  {EXAMPLE}"]
    still = f"; open without it: {', '.join(question.opens)}" if question.opens else ""
    return [*lines, f"# {question.name} = {value}  # not given yet{still}"]


def _value(question: Question, text: str) -> str:
    """Return an answer as TOML writes it."""
    if question.number and text.strip().isdecimal():
        return str(int(text))
    return json.dumps(text, ensure_ascii=False)


def answers_in(text: str) -> dict[str, str] | None:
    """Return the answers that stand in a build file, to go on from; None if it holds more.

    Only a file whose every key is one of the questions, and whose every comment is one of
    ours, can be written again without loss. An example that nobody changed is no answer.
    """
    kept = [line for line in text.splitlines() if not line.endswith(EXAMPLE)]
    known = set(build_text({}).splitlines()) | set(build_text({}, frozenset(BY_KEY)).splitlines())
    if any(line.startswith("#") and line not in known for line in kept):
        return None
    try:
        data: dict[str, Any] = tomllib.loads("\n".join(kept))
    except (tomllib.TOMLDecodeError, RecursionError):
        return None
    found: dict[str, str] = {}
    for key, value in data.items():
        if isinstance(value, dict):
            inner = cast("dict[str, object]", value)
            found.update({f"{key}.{name}": _said(each) for name, each in inner.items()})
        else:
            found[key] = _said(value)
    return found if all(found.values()) and set(found) <= set(BY_KEY) else None


def _said(value: object) -> str:
    """Return a value as it would be typed; empty for what cannot be an answer."""
    if isinstance(value, bool):
        return ""
    return str(value) if isinstance(value, str | int) else ""
