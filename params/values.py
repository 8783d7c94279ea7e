"""The values of a build file as types: text with a unit in, floats out.

Every bound here catches slips and says so; none judges a design.
"""

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from .units import BASE, EXAMPLES, WORDS, Kind, UnitError, fraction_text, parse

Side = Literal["front", "right", "back", "left"]
SIDES: tuple[Side, ...] = ("front", "right", "back", "left")
"""The order of everything that comes by side: counterclockwise from the front, seen from above."""


def problem(wanted: str, example: str) -> PydanticCustomError:
    """Return an error that says what was expected, with a value that would be accepted."""
    return PydanticCustomError("wanted", "{wanted}", {"wanted": wanted, "example": example})


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads a text with a unit and holds it between two bounds.

    ``low`` and ``high`` are in the unit of ``units.BASE[kind]``; they are there to catch slips
    (a point too few, inches for millimeters), not to judge the design; ``reason`` says why
    nothing beyond them is taken. A text of ``words``, or any text that begins with a letter
    where ``ids`` is set, is kept as it is.
    """

    kind: Kind
    low: float
    high: float
    example: str
    reason: str
    words: tuple[str, ...] = ()
    ids: bool = False

    def __call__(self, value: object) -> float | str:
        """Return the value in the unit of its kind, or the text that was kept."""
        if not isinstance(value, str):
            raise problem(f"{WORDS[self.kind]}, in quotes", self.example)
        text = value.strip()
        if text.lower() in self.words:
            return text.lower()
        if self.ids and text[:1].isalpha():
            return text
        try:
            found = parse(text, self.kind)
        except UnitError as error:
            example = f'"{error.meant}"' if error.meant else self.example
            raise problem(str(error), example) from None
        if not self.low <= found <= self.high:
            raise problem(f"{self.bounds()}: {self.reason}", self.example)
        return found

    def bounds(self) -> str:
        """Say from where to where, lengths in both systems."""
        unit = _SIGN.get(self.kind, f" {BASE[self.kind]}")
        if self.kind == "length" and 0 < self.low < 0.1:
            return f"a value above 0, up to {self.high:g}{unit} ({fraction_text(self.high)})"
        said = f"a value from {self.low:g}{unit} to {self.high:g}{unit}"
        if self.kind != "length":
            return said
        return f"{said} ({fraction_text(self.low)} to {fraction_text(self.high)})"


_SIGN = {"angle": " deg", "percent": " %", "volumes": " vol", "area": " m2", "difference": " K"}

SLIP = "anything else is taken for a slip"


def quantity(
    kind: Kind, low: float, high: float, example: str = "", reason: str = SLIP
) -> BeforeValidator:
    """Return a ``Reader`` as a pydantic validator."""
    return BeforeValidator(Reader(kind, low, high, example or EXAMPLES[kind], reason))


# A positive length, a length that may be zero, and one that may be negative. 10 m is beyond
# any freezer; 0.01 mm is below any tape.
_NO_FREEZER = "no part of a freezer or its room is beyond 10 m"
Length = Annotated[float, quantity("length", 0.01, 10_000, '"4 in"', _NO_FREEZER)]
LengthOrZero = Annotated[float, quantity("length", 0, 10_000, '"10 mm"', _NO_FREEZER)]
SignedLength = Annotated[float, quantity("length", -10_000, 10_000, '"-10 mm"', _NO_FREEZER)]
LipSide = Annotated[
    float, quantity("length", 200, 4_000, reason="a chest freezer's lip is not shorter or longer")
]
Diagonal = Annotated[float, quantity("length", 250, 6_000)]
Thickness = Annotated[float, quantity("length", 5, 120, '"3/4 in"')]
Width = Annotated[float, quantity("length", 40, 600, '"5 1/2 in"')]
Diameter = Annotated[float, quantity("length", 3, 200, '"1 in"')]
FoamThickness = Annotated[float, quantity("length", 3, 200, '"1 in"')]
Angle = Annotated[float, quantity("angle", 0, 180, '"45 deg"')]
Temperature = Annotated[float, quantity("temperature", -40, 60)]
Mass = Annotated[float, quantity("mass", 0.01, 500)]
Area = Annotated[float, quantity("area", 0.1, 10_000)]
Percent = Annotated[float, quantity("percent", 0, 100)]
Volumes = Annotated[float, quantity("volumes", 0, 10)]


MANY_READINGS = 20
"""Nobody reads one edge more often than this; a longer list is a slip."""


def _one_or_many(value: object) -> object:
    if isinstance(value, tuple):
        return value  # pyright: ignore[reportUnknownVariableType]
    return (value,)


LipReadings = Annotated[
    tuple[LipSide, ...],
    BeforeValidator(_one_or_many),
    Field(min_length=1, max_length=MANY_READINGS),
]
DiagonalReadings = Annotated[
    tuple[Diagonal, ...],
    BeforeValidator(_one_or_many),
    Field(min_length=1, max_length=MANY_READINGS),
]


_HIDDEN = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")


def _one_line(value: object) -> object:
    """Refuse what a sheet, a DXF note or a terminal cannot print on one line as it is meant.

    Line ends and other control characters break those formats, and signs that turn the writing
    direction can make a text read as something else.
    """
    if isinstance(value, str):
        found = _HIDDEN.search(value)
        if found:
            sign = f"U+{ord(found.group()):04X}"
            raise problem(f"text of one line, without control characters ({sign})", "")
        return value.strip()
    return value


def _some_text(value: object) -> object:
    text = _one_line(value)
    if text == "":
        raise problem("a text that says something", "")
    return text


PartId = Annotated[str, Field(max_length=80), BeforeValidator(_some_text)]
Text = Annotated[str, Field(max_length=200), BeforeValidator(_some_text)]
Title = Annotated[str, Field(max_length=200), BeforeValidator(_one_line)]

ShankOrLength = Annotated[
    str | float, BeforeValidator(Reader("length", 10, 400, '"98 mm"', SLIP, ids=True))
]
Pocket = Annotated[
    float | Literal["none"],
    BeforeValidator(Reader("length", 10, 200, '"60 mm"', SLIP, words=("none",))),
]


def _tap(value: object) -> object:
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise problem("a tap's name in quotes, or its number", "1")
    if isinstance(value, int) and value < 1:
        raise problem("a tap's number, counted from 1", "1")
    return _some_text(value)


TapNameOrNumber = Annotated[str | int, BeforeValidator(_tap)]


def is_tap(said: str | int | None, number: int, name: str) -> bool:
    """Tell whether a tap is the one that was said: by its number, or its name in any case."""
    return said.casefold() == name.casefold() if isinstance(said, str) else said == number


_PAIR = '[["300 mm", "340 mm"]]'


def _from_to(value: object) -> object:
    if not isinstance(value, tuple) or len(value) not in (2, 4):  # pyright: ignore[reportUnknownArgumentType]
        wanted = (
            "a pair: where the flaw begins and where it ends; or four: then where it begins and"
            " ends up from one edge, too"
        )
        raise problem(wanted, _PAIR)
    return value  # pyright: ignore[reportUnknownVariableType]


FromTo = Annotated[tuple[LengthOrZero, ...], BeforeValidator(_from_to)]
"""A flaw: from and to along the stick, and perhaps from and to up its width."""
