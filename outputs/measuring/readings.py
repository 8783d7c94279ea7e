"""What is asked on the measuring sheet, in which words, and what stays open without an answer.

The words are those of ``new``; which check waits for which reading is asked of the
checks. Keys that a builder chooses, and keys for what was built, are no readings.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from ...params.reading.keys import find
from ...params.starter import BY_KEY, Question
from ...params.units import Show
from ..new.opens import opens
from ..text import QUESTIONS as CHECK_QUESTIONS

Boxes = Literal["one", "twice", "sides", "choice"]
"""One box; two for a reading that is taken twice, or for two places; one for each side; words to
tick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One thing to measure.

    ``key`` is its name in the build file, or for what has none (flange, nut) what it is called.
    ``where`` says where the tape is held, ``left_out`` what comes of leaving it out: what is
    taken instead, nothing where a check waits. ``unit`` stands in the box.
    """

    key: str
    where: str
    boxes: Boxes = "one"
    unit: str = ""
    choices: tuple[str, ...] = ()
    needed: bool = False
    left_out: str = ""
    pictured: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What is measured together; ``note`` says what to have ready and what comes of it."""

    name: str
    note: str
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Open:
    """A check that stays open without readings: its id, what it asks, the readings."""

    check: str
    asks: str
    keys: tuple[str, ...]


_UNITS: Mapping[str, Mapping[Show, str]] = {
    "length": {"in": "in", "mm": "mm"},
    "mass": {"in": "lb", "mm": "kg"},
    "temperature": {"in": "degF", "mm": "degC"},
    "area": {"in": "ft2", "mm": "m2"},
    "angle": {"in": "deg", "mm": "deg"},
    "percent": {"in": "%", "mm": "%"},
}

_ALIKE = {"vessel.diameter": "vessel[1].diameter", "vessel.height": "vessel[1].height",
          "vessel.fitting": "vessel[1].fitting"}  # fmt: skip

SHORT: Mapping[str, str] = {
    "lip.front": "Left outer edge to right one, as if the corners were square.",
    "lip.right": "Front outer edge to back one. Leave hinges and handle out of it.",
    "lip.back": "Left to right. Measure it; do not copy the front.",
    "lip.left": "Front to back. Measure it; do not copy the right.",
    "lip.front_left_to_back_right": "Between the points where the outer edges would meet:"
    " squares at the corners show them.",
    "lip.front_right_to_back_left": "The other way across, between such points.",
    "lip.land": "Width of the rim that is hard and flat, at its narrowest place.",
    "lip.land_starts": "From the outer edge in to where it is flat; 0 at the edge.",
    "lip.corner_radius": "From a square's inside corner to where the rim first touches the square."
    " 0 if sharp.",
    "lip.gaps": "Largest gap under a straightedge laid along each side.",
    "lid.thickness": "Lid closed: from the lip up to the lid's top.",
    "lid.overhang": "Lid closed: from the rim's edge out to the lid's edge.",
    "lid.skirt": "Gasket's plane to the skirt's lower edge; 0 if none.",
    "lid.skirt_thickness": "From the lid's outer edge in, at the skirt's lower edge.",
    "lid.gasket": "A magnetic one pulls itself to steel; try a paper clip.",
    "lid.gasket_inset": "From the lid's outer edge in to the gasket's middle.",
    "lid.gasket_width": "Across the seal, where it touches the lip; talcum leaves a print.",
    "lid.plug": "From the gasket's plane down to the inner panel's lowest point.",
    "lid.plug_inset": "From the lid's outer edge in to where the panel hangs.",
    "lid.mass": "On a scale, once it is off.",
    "hinge.axis_behind": "From the freezer's back face to the middle of the pin.",
    "hinge.axis_above": "From the gasket's plane to the middle of the pin, minus if it is below.",
    "hinge.positions": "From the back's middle to each hinge's middle, minus to the left.",
    "hinge.leaf_height": "The leaf on the freezer, up and down.",
    "hinge.leaf_width": "That leaf, along the freezer's back.",
    "hinge.leaf_thickness": "That leaf's plate, across its edge.",
    "hinge.screws": "Count the holes of one leaf.",
    "hinge.open_to": "Where it stops; upright is 90.",
    "hinge.spring": "Does the lid stay where it is left?",
    "well.length": "Left wall to right wall, at the floor; over the step, if there is one.",
    "well.width": "Front wall to back wall, at the floor: the walls lean in.",
    "well.mouth_length": "Left to right, between the rim's inner edges.",
    "well.mouth_width": "Front to back, between the rim's inner edges.",
    "well.height": "From the floor up to a straightedge laid across the rim.",
    "well.front": "From the lip's front outer edge in to the mouth.",
    "well.left": "From the lip's left outer edge in to the mouth.",
    "well.corner_radius": "From a square's corner to where the wall first touches it.",
    "well.step.side": "Where is the raised floor?",
    "well.step.length": "On top of the step, from the wall to its edge.",
    "well.step.height": "From the floor up to the top of the step.",
    "vessel.diameter": "Its greatest, across handles and rim.",
    "vessel.height": "From the foot to the top, without the fitting.",
    "vessel.fitting": "Line bent over: from the top to the highest point.",
    "room.lip_height": "Floor up to the lip.",
    "room.behind": "From the lip's back edge to wall or pipe, at the lid's height.",
    "room.above": "From the lip up to a shelf, a cupboard or the ceiling.",
    "room.left": "From lip to wall.",
    "room.right": "From lip to wall.",
    "room.door": "Narrowest on the way.",
    "room.ceiling": "From the floor up.",
    "room.floor_area": "Of the room.",
    "room.temperature": "Of the air about it.",
    "room.humidity": "Of that air.",
    "room.altitude": "Above the sea.",
    "taps.shank": "From the flange's back to the end of the thread.",
    "taps.thread": "Across the thread, outside.",
    "flange": "Across the flange.",
    "nut": "Across the shank nut, flat to flat.",
    "taps.washers": "All that lies under one nut.",
    "taps.washer_diameter": "Across the largest washer.",
    "taps.bore": "Drill a scrap with the hole saw and measure the hole.",
    "taps.glass": "The tallest one.",
    "board.thickness": "Across its edge, at both ends.",
    "board.width": "Its face, or as you will rip it.",
    "foam.thickness": "Across the foam's edge.",
    "shop.tilt_max": "Blade at its stop.",
    "shop.cross_cut": "The widest board.",
    "shop.cut_depth_tilted": "Blade at 45 deg.",
}
"""Beside a picture fewer words will do than ``new`` says at a terminal."""

_FORMS: Mapping[str, Boxes] = {"readings": "twice", "list": "twice", "sides": "sides"}


def parts(show: Show) -> tuple[Part, ...]:
    """Return everything that is asked, in the order of the sheet."""
    own = (
        Reading(
            key="flange", where=SHORT["flange"],
            unit=show, left_out="The catalogue's figure stands.",
        ),
        Reading(
            key="nut", where=SHORT["nut"],
            unit=show, left_out="The catalogue's figure stands.",
        ),
    )  # fmt: skip

    def some(table: str, *names: str) -> tuple[Reading, ...]:
        return tuple(reading(f"{table}.{name}", show) for name in names)

    return (
        Part(
            name="The lip",
            note="Lid open. The boards are cut to this: read each length twice.",
            readings=some(
                "lip", "front", "right", "back", "left", "front_left_to_back_right",
                "front_right_to_back_left", "land", "land_starts", "corner_radius", "gaps",
            ),
        ),
        Part(
            name="Lid and hinge",
            note="One figure will do for what is the same on all sides.",
            readings=(
                *some(
                    "lid", "thickness", "overhang", "skirt", "skirt_thickness", "gasket",
                    "gasket_inset", "gasket_width", "plug", "plug_inset", "mass",
                ),
                *some(
                    "hinge", "axis_behind", "axis_above", "positions", "leaf_height",
                    "leaf_width", "leaf_thickness", "screws", "open_to", "spring",
                ),
            ),
        ),
        Part(
            name="The inside, and what goes in",
            note="The freezer empty and unplugged. A second kind of vessel: on the back.",
            readings=(
                *some(
                    "well", "length", "width", "mouth_length", "mouth_width", "height", "front",
                    "left", "corner_radius",
                ),
                *some("well.step", "side", "length", "height"),
                *some("vessel", "diameter", "height", "fitting"),
            ),
        ),
        Part(
            name="The room", note="",
            readings=some("room", "lip_height", "behind", "above", "left", "right"),
        ),
        Part(
            name="Parts in hand",
            note="Flange and nut go into your own shanks.csv: collarwright catalog shanks --csv",
            readings=(
                *some("taps", "shank", "thread"), *own,
                *some("taps", "washers", "washer_diameter", "bore"),
                *some("board", "thickness", "width"),
                *some("foam", "thickness"),
            ),
        ),
        Part(
            name="No picture needed", note="",
            readings=(
                *some("taps", "glass"),
                *some(
                    "room", "door", "ceiling", "floor_area", "temperature", "humidity", "altitude"
                ),
                *some("shop", "tilt_max", "cross_cut", "cut_depth_tilted"),
            ),
        ),
    )  # fmt: skip


PLAIN = frozenset(
    {"lid.mass", "lid.gasket", "hinge.spring", "well.step.side", "taps.glass", "room.door",
     "room.ceiling", "room.floor_area", "room.temperature", "room.humidity", "room.altitude",
     "shop.tilt_max", "shop.cross_cut", "shop.cut_depth_tilted"}
)  # fmt: skip
"""What no picture is needed for."""


def reading(key: str, show: Show) -> Reading:
    """Return what is asked about a key of the build file."""
    question = BY_KEY[_ALIKE.get(key, key)]
    known = find(key)
    unit = _UNITS[known.kind][show] if known is not None and known.kind else ""
    choices = question.choices
    return Reading(
        key=key,
        where=SHORT.get(key) or _words(question),
        boxes="choice" if choices else _FORMS.get(question.form, "one"),
        unit=unit if question.form != "count" else "",
        choices=choices,
        needed=question.needed,
        left_out=question.without,
        pictured=key not in PLAIN,
    )


def _words(question: Question) -> str:
    ask = question.ask.partition("; ")[0]
    return f"{ask}. {question.how}"


def numbers() -> dict[str, int]:
    """Return the number of every reading, from 1 in the order of the sheet."""
    keys = [each.key for part in parts("mm") for each in part.readings]
    return {key: i for i, key in enumerate(keys, 1)}


MANY = 3
"""More checks than that about one reading are named, and not told one by one."""


@cache
def still_open() -> tuple[Open, ...]:
    """Return the checks that wait for readings of the sheet, with what they ask.

    Checks that wait for the same readings stand together.
    """
    known = numbers()
    waiting: dict[str, list[str]] = {}
    for key, checks in opens().items():
        for check in checks:
            if key in known:
                waiting.setdefault(check, []).append(key)
    alike: dict[tuple[str, ...], list[str]] = {}
    for check, keys in waiting.items():
        alike.setdefault(tuple(keys), []).append(check)
    found: list[Open] = []
    for keys, checks in alike.items():
        if len(checks) > MANY:
            asks = "does this part fit, and can it be fitted?"
        else:
            asks = " ".join(CHECK_QUESTIONS.get(check, "") for check in checks)
        found.append(Open(", ".join(checks), asks, tuple(sorted(keys, key=known.__getitem__))))
    return tuple(sorted(found, key=lambda each: [known[key] for key in each.keys]))
