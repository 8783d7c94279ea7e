"""The build file's tables as types: the validated, immutable ``Project``.

Each class is one table of the build file and each field one key, so this page is also the
list of what may be written. Lengths are mm, angles degrees, masses kg, temperatures degC,
pressures kPa, percentages plain (60 for ``60 %``), whatever unit they were written in.
A key that was left out is ``None``, or the default that is stated here: nothing ever
invents a measurement.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Annotated, Generic, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, model_validator

from .catalogue import Row
from .units import Show
from .values import (
    SIDES,
    Angle,
    Area,
    Diagonal,
    DiagonalReadings,
    Diameter,
    FoamThickness,
    FromTo,
    Length,
    LengthOrZero,
    LipReadings,
    LipSide,
    Mass,
    PartId,
    Percent,
    Pocket,
    ShankOrLength,
    Side,
    SignedLength,
    TapNameOrNumber,
    Temperature,
    Text,
    Thickness,
    Title,
    Volumes,
    Width,
    problem,
    quantity,
)

__all__ = [
    "SIDES",
    "Board",
    "Built",
    "BuiltBore",
    "BySide",
    "Cover",
    "Foam",
    "FoamSheet",
    "Hinge",
    "KeepOut",
    "Lid",
    "Limits",
    "Lip",
    "Manifold",
    "Passage",
    "Pour",
    "Project",
    "Room",
    "Seat",
    "Shop",
    "Side",
    "StickOnSale",
    "StickOwned",
    "Stock",
    "Table",
    "Taps",
    "Top",
    "Vessel",
    "Well",
    "WellStep",
]

T = TypeVar("T")


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
                raise problem("a side: front, right, back or left", '{ front = "10 mm" }')
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
