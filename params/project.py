"""The build file's tables as types: the validated, immutable ``Project``.

Each class is one table of the build file and each field one key, so this page is also the
list of what may be written. Lengths are mm, angles degrees, masses kg, temperatures degC,
pressures kPa, percentages plain (60 for ``60 %``), whatever unit they were written in.
A key that was left out is ``None``, or the default that is stated here: nothing ever
invents a measurement.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Annotated, Generic, Literal, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from .catalogue import Row
from .units import BASE, EXAMPLES, WORDS, Kind, Show, UnitError, fraction_text, parse

Side = Literal["front", "right", "back", "left"]
SIDES: tuple[Side, ...] = ("front", "right", "back", "left")
"""The order of everything that comes by side: anticlockwise from the front, seen from above."""

T = TypeVar("T")


def _problem(wanted: str, example: str) -> PydanticCustomError:
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
            raise _problem(f"{WORDS[self.kind]}, in quotes", self.example)
        text = value.strip()
        if text.lower() in self.words:
            return text.lower()
        if self.ids and text[:1].isalpha():
            return text
        try:
            found = parse(text, self.kind)
        except UnitError as error:
            example = f'"{error.meant}"' if error.meant else self.example
            raise _problem(str(error), example) from None
        if not self.low <= found <= self.high:
            raise _problem(f"{self.bounds()}: {self.reason}", self.example)
        return found

    def bounds(self) -> str:
        """Say from where to where, lengths in both systems."""
        unit = _SIGN.get(self.kind, f" {BASE[self.kind]}")
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
            raise _problem(f"text of one line, without control characters ({sign})", "")
        return value.strip()
    return value


def _some_text(value: object) -> object:
    text = _one_line(value)
    if text == "":
        raise _problem("a text that says something", "")
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
        raise _problem("a tap's name in quotes, or its number", "1")
    if isinstance(value, int) and value < 1:
        raise _problem("a tap's number, counted from 1", "1")
    return _some_text(value)


TapNameOrNumber = Annotated[str | int, BeforeValidator(_tap)]

_PAIR = '[["300 mm", "340 mm"]]'


def _from_to(value: object) -> object:
    if not isinstance(value, tuple) or len(value) != 2:  # pyright: ignore[reportUnknownArgumentType]
        raise _problem("a pair: where the flaw begins and where it ends", _PAIR)
    return value  # pyright: ignore[reportUnknownVariableType]


FromTo = Annotated[tuple[LengthOrZero, LengthOrZero], BeforeValidator(_from_to)]


class Table(BaseModel):
    """One table of the build file: unknown keys are errors, numbers are not guessed from text."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class BySide(Table, Generic[T]):
    """A value for each side; ``None`` where a side was left out of the table.

    ``one`` is true where one value was written for all four sides: then it is one reading.
    """

    front: T | None = None
    right: T | None = None
    back: T | None = None
    left: T | None = None
    one: bool = Field(default=False, exclude=True)

    @model_validator(mode="before")
    @classmethod
    def _spread(cls, value: object) -> object:
        if isinstance(value, dict):
            if "one" in value:
                raise _problem("a side: front, right, back or left", '{ front = "10 mm" }')
            return value  # pyright: ignore[reportUnknownVariableType]
        return {**dict.fromkeys(SIDES, value), "one": True}

    def on(self, side: Side) -> T | None:
        """Return the value of one side."""
        return getattr(self, side)

    def replaced(self, side: Side, value: T) -> "BySide[T]":
        """Return a copy with one side changed, or all four where they are one reading."""
        return self.model_copy(update=dict.fromkeys(SIDES if self.one else (side,), value))


class Top(Table):
    """The keys above the first table."""

    title: Title = ""
    show: Show = "mm"


class Lip(Table):
    """``[lip]``: the freezer's rim, read with a tape."""

    front: LipReadings
    right: LipReadings
    back: LipReadings
    left: LipReadings
    front_left_to_back_right: DiagonalReadings | None = None
    front_right_to_back_left: DiagonalReadings | None = None
    land: Annotated[float, quantity("length", 5, 300, '"2 in"')] | None = None
    land_starts: Annotated[float, quantity("length", 0, 300, '"0 mm"')] = 0.0
    corner_radius: Annotated[float, quantity("length", 0, 300, '"20 mm"')] = 0.0
    gaps: BySide[LengthOrZero] | None = None
    tape: Annotated[float, quantity("length", 0.05, 20, '"1 mm"')] = 1.0


class Board(Table):
    """``[board]``: what the collar is made of and how it stands over the lip."""

    stock: PartId | None = None
    thickness: Thickness | None = None
    width: Width | None = None
    species: PartId | None = None
    grain: Literal["flat", "quarter"] | None = None
    moisture: Percent = 12.0
    overhang: BySide[SignedLength] = BySide[SignedLength]()
    follow: Literal["square", "lip"] = "square"
    corner: Literal["glue", "spline", "biscuit", "dowel"] = "glue"
    bracket: PartId | None = None


class Seat(Table):
    """``[seat]``: how the collar is held and sealed on the lip."""

    hold: Literal["adhesive", "sealant", "tape", "cleats"] | None = None
    seal: PartId | None = None


class Cover(Table):
    """``[cover]``: a second, outer layer of boards that hangs over the body."""

    thickness: Thickness
    width: Width | None = None
    below_lip: LengthOrZero | None = None
    sides: Annotated[tuple[Side, ...], Field(min_length=1, max_length=4)] = SIDES


class StickOnSale(Table):
    """``[[stock.length]]``: a length that the shop sells."""

    length: Length
    price: Annotated[float, Field(ge=0, le=1e6)] | None = None


class StickOwned(Table):
    """``[[stock.owned]]``: a stick that lies in the shop, with its flaws as [from, to] pairs."""

    length: Length
    defects: Annotated[tuple[FromTo, ...], Field(max_length=60)] = ()


class Stock(Table):
    """``[stock]``: what the boards are cut from."""

    kerf: Annotated[float, quantity("length", 0, 20, '"3 mm"')] = 3.0
    trim: LengthOrZero | None = None
    match_grain: bool = False
    length: tuple[StickOnSale, ...] = ()
    owned: tuple[StickOwned, ...] = ()


class Shop(Table):
    """``[shop]``: what the saw and the router can do."""

    tilt_max: Angle | None = None
    cross_cut: Length | None = None
    cut_depth_tilted: Length | None = None
    router_bit: Length | None = None


class Taps(Table):
    """``[[taps]]``: one row of taps on one side."""

    count: Annotated[int, Field(ge=1, le=60)] | None = None
    spacing: Length | None = None
    offset: SignedLength = 0.0
    positions: Annotated[tuple[SignedLength, ...], Field(min_length=1, max_length=60)] | None = None
    side: Side = "front"
    height: Length | None = None
    names: Annotated[tuple[Text, ...], Field(max_length=60)] = ()
    bore: Diameter
    shank: ShankOrLength | None = None
    thread: Diameter | None = None
    faucet: PartId | None = None
    handle: PartId | None = None
    wrench: PartId | None = None
    washers: Annotated[float, quantity("length", 0, 50, '"3 mm"')] = 0.0
    washer_diameter: Diameter | None = None
    glass: Length | None = None


class FoamSheet(Table):
    """``[foam.sheet]``: the sheet the panels are cut from."""

    length: Length
    width: Length


class Foam(Table):
    """``[foam]``: insulation on the collar's inner face."""

    kind: PartId | None = None
    thickness: FoamThickness | None = None
    order: Literal["front-back", "sides"] = "front-back"
    pocket: Pocket | None = None
    below_top: LengthOrZero = 0.0
    face: Text | None = None
    sheet: FoamSheet | None = None


class Manifold(Table):
    """``[manifold]``: the gas distributor on the collar's inner face."""

    kind: PartId | None = None
    length: Length | None = None
    height: Length | None = None
    depth: Length | None = None
    side: Side = "back"
    offset: SignedLength = 0.0
    centre: Length | None = None


class Lid(Table):
    """``[lid]``: the freezer's lid, read with a tape."""

    overhang: BySide[SignedLength] | None = None
    thickness: Length | None = None
    skirt: BySide[LengthOrZero] | None = None
    skirt_thickness: BySide[LengthOrZero] | None = None
    gasket: Literal["bulb", "magnetic"] | None = None
    gasket_inset: BySide[LengthOrZero] | None = None
    gasket_width: Length | None = None
    plug: LengthOrZero | None = None
    plug_inset: BySide[LengthOrZero] | None = None
    mass: Mass | None = None


class Hinge(Table):
    """``[hinge]``: where the lid turns and what holds it."""

    on: Literal["board"] = "board"
    axis_behind: SignedLength | None = None
    axis_above: SignedLength | None = None
    positions: Annotated[tuple[SignedLength, ...], Field(min_length=1, max_length=12)] | None = None
    leaf_height: Length | None = None
    leaf_width: Length | None = None
    leaf_thickness: LengthOrZero | None = None
    fix: Literal["screw", "bolt"] | None = None
    backing: LengthOrZero | None = None
    screw: PartId | None = None
    screw_length: Length | None = None
    screws: Annotated[int, Field(ge=1, le=20)] | None = None
    spring: bool | None = None
    open_to: Annotated[float, quantity("angle", 1, 180, '"90 deg"')] | None = None


class Room(Table):
    """``[room]``: what stands about the freezer, and the air."""

    behind: LengthOrZero | None = None
    above: Length | None = None
    lip_height: Length | None = None
    left: LengthOrZero | None = None
    right: LengthOrZero | None = None
    door: Length | None = None
    temperature: Temperature | None = None
    humidity: Percent | None = None
    floor_area: Area | None = None
    ceiling: Length | None = None
    altitude: Annotated[float, quantity("length", -500_000, 5_000_000, '"120 m"')] | None = None


class WellStep(Table):
    """``[well.step]``: the raised floor over the compressor."""

    side: Side
    length: Length
    height: Length


class Well(Table):
    """``[well]``: the inside of the freezer."""

    front: LengthOrZero | None = None
    left: LengthOrZero | None = None
    length: Length | None = None
    width: Length | None = None
    mouth_length: Length | None = None
    mouth_width: Length | None = None
    height: Length | None = None
    corner_radius: LengthOrZero = 0.0
    gap: LengthOrZero = 5.0
    step: WellStep | None = None


class Vessel(Table):
    """``[[vessel]]``: kegs and cylinders."""

    kind: PartId | None = None
    diameter: Length | None = None
    height: Length | None = None
    fitting: LengthOrZero | None = None
    count: Annotated[int, Field(ge=1, le=40)] = 1
    tap: TapNameOrNumber | None = None


class Pour(Table):
    """``[[pour]]``: what comes out of a tap."""

    tap: TapNameOrNumber
    drink: Literal["still", "carbonated", "nitrogenated"] | None = None
    name: Text | None = None
    carbonation: Volumes | None = None
    temperature: Temperature | None = None
    gas: Text | None = None
    line: Text | None = None


class Passage(Table):
    """``[[hole]]``: a way through for a probe, a cable or hoses."""

    side: Side
    height: Length
    diameter: Diameter
    offset: SignedLength = 0.0
    name: Text | None = None


class KeepOut(Table):
    """``[[keep_out]]``: a place on a side that nothing may enter."""

    side: Side
    height: SignedLength
    width: Length
    tall: Length
    offset: SignedLength = 0.0
    depth: Length | None = None
    name: Text | None = None


class BuiltBore(Table):
    """``[[built.bore]]``: a bore as it was really drilled."""

    tap: TapNameOrNumber
    from_left: Length | None = None
    from_bottom: Length | None = None
    diameter: Diameter | None = None


class Built(Table):
    """``[built]``: what was really cut and dry-fitted."""

    front: LipSide | None = None
    right: LipSide | None = None
    back: LipSide | None = None
    left: LipSide | None = None
    front_left_to_back_right: Diagonal | None = None
    front_right_to_back_left: Diagonal | None = None
    thickness: Thickness | None = None
    width: Width | None = None
    foam: FoamThickness | None = None
    bore: tuple[BuiltBore, ...] = ()


@dataclass(frozen=True, slots=True)
class Limits:
    """``[limits]``: what the builder wants looser or tighter than a check's default.

    ``required`` maps a check's id to the figure it is held to; ``readings`` maps a key of the
    build file (``lid.gasket_inset``) to its limit of error; both in the unit of their kind.
    """

    required: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    readings: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    tighten_with_lid: Literal["open", "closed"] = "open"
    heat: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A whole build file, validated; with the catalogue rows that it names.

    ``parts`` maps (catalogue, id) to its row, so that nothing after the door reads a file.
    """

    lip: Lip
    board: Board
    taps: tuple[Taps, ...]
    title: str = ""
    show: Show = "mm"
    seat: Seat | None = None
    cover: Cover | None = None
    stock: Stock | None = None
    shop: Shop | None = None
    foam: Foam | None = None
    manifold: Manifold | None = None
    lid: Lid | None = None
    hinge: Hinge | None = None
    room: Room | None = None
    well: Well | None = None
    vessel: tuple[Vessel, ...] = ()
    pour: tuple[Pour, ...] = ()
    hole: tuple[Passage, ...] = ()
    keep_out: tuple[KeepOut, ...] = ()
    limits: Limits = field(default_factory=Limits)
    built: Built | None = None
    parts: Mapping[tuple[str, str], Row] = field(default_factory=lambda: MappingProxyType({}))

    def part(self, catalogue: str, part_id: str | None) -> Row | None:
        """Return the catalogue row of an id of this build file; None for no id."""
        return None if part_id is None else self.parts[catalogue, part_id]
