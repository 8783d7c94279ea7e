"""The build file's tables as types: the validated, immutable ``Project``.

Each class is one table of the build file and each field one key, so this page is also the
list of what may be written; the line below a field says what the key means to a builder, and
``collarwright keys`` prints it. Lengths are mm, angles degrees, masses kg, temperatures degC,
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
    "Cap",
    "Cover",
    "Finish",
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
    "Tray",
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


class Top(Table):
    """The keys above the first table."""

    title: Title = ""
    """What this build is called; it is printed on every sheet."""
    show: Show = "mm"
    """The units that lengths are printed in, inches or millimeters; readings may be in either."""


class Lip(Table):
    """``[lip]``: the freezer's rim, read with a tape."""

    front: LipReadings
    """Front edge of the lip, from its left outer edge to its right one, as if its corners
    were not rounded; one reading, or a list of readings of the same edge."""
    right: LipReadings
    """Right edge, from the front outer edge to the back one; one reading or a list."""
    back: LipReadings
    """Back edge, from the left outer edge to the right one; one reading or a list."""
    left: LipReadings
    """Left edge, from the front outer edge to the back one; one reading or a list."""
    front_left_to_back_right: DiagonalReadings | None = None
    """Diagonal between outer corners, where the edges would meet if they were not
    rounded; shows how far the lip is out of square. One reading or a list."""
    front_right_to_back_left: DiagonalReadings | None = None
    """The other diagonal, read the same way; with both, a slip in any reading of the lip shows."""
    land: Annotated[float, quantity("length", 5, 300, '"2 in"')] | None = None
    """Width of the hard, flat part of the lip that a board can stand on, from where it
    starts inward to where the rim gets soft or rounds over."""
    land_starts: Annotated[float, quantity("length", 0, 300, '"0 mm"')] = 0.0
    """How far inside the lip's outer edge the land starts, inward; zero where it
    starts at the edge."""
    corner_radius: Annotated[float, quantity("length", 0, 300, '"20 mm"')] = 0.0
    """Radius of the lip's outer corners, seen from above; zero for sharp ones. Less
    wood stands there."""
    gaps: BySide[LengthOrZero] | None = None
    """By side: the largest gap under a straightedge laid along the lip; the seal has to fill it."""
    tape: Annotated[float, quantity("length", 0.05, 20, '"1 mm"')] = 1.0
    """Limit of error: how far one reading of the lip may be off either way; says when
    readings do not close."""


class Board(Table):
    """``[board]``: what the collar is made of and how it stands over the lip."""

    stock: PartId | None = None
    """The board as it is sold: gives thickness and width. Needed, or thickness and width."""
    thickness: Thickness | None = None
    """Thickness of the boards, outer face to inner; goes before the figure of the stock."""
    width: Width | None = None
    """Width of the boards, bottom edge to top: the collar's height; goes before the
    figure of the stock."""
    species: PartId | None = None
    """The wood; sets the pilot holes, and how the boards move between the seasons."""
    grain: Literal["flat", "quarter"] | None = None
    """How the boards are sawn, flat or quarter; a quarter-sawn one moves less in its width."""
    moisture: Percent = 12.0
    """Moisture content of the wood as bought; from there it dries or swells to the room's."""
    overhang: BySide[SignedLength] = BySide[SignedLength]()
    """By side: how far the collar's outer face stands beyond the lip's outer edge, +
    outward; zero on a side that is left out."""
    follow: Literal["square", "lip"] = "square"
    """What the collar follows: "square" is a true rectangle over the lip's mean sides,
    "lip" the lip as it is, every corner with a miter of its own."""
    corner: Literal["glue", "spline", "biscuit", "dowel"] = "glue"
    """What holds the miters: glue alone, or a spline, biscuits (no. 20) or dowels beside it; where
    they go is worked out and marked on cut files and templates."""
    bracket: PartId | None = None
    """The metal bracket in each inner corner, or "none"; it takes room from nuts and foam."""
    glue: PartId | None = None
    """The glue of the miters, by its id; without it a waterproof PVA glue."""


class Finish(Table):
    """``[finish]``: what keeps water out of the wood."""

    kind: PartId | None = None
    """The finish by its id; without it, and without the table, spar varnish."""
    coats: Annotated[int, Field(ge=1, le=12)] | None = None
    """How many coats all faces and bores get; without it as many as the finish usually takes."""


class Seat(Table):
    """``[seat]``: how the collar is held and sealed on the lip."""

    hold: Literal["adhesive", "sealant", "tape", "cleats"] | None = None
    """What holds the collar on the lip; cleats keep it from sliding and hold nothing down."""
    hold_strength: Annotated[float, quantity("pressure", 1, 5_000, '"20 psi"')] | None = None
    """Pull that adhesive, sealant or tape takes over its area, off the lip, by its data sheet for
    the lip's plastic or painted steel; without it only the collar's own weight holds it down."""
    hold_width: Annotated[float, quantity("length", 1, 100, '"6 mm"')] = 6.0
    """Width of that adhesive, sealant or tape under the boards, all round; without it that of a
    6 mm bead. What finds no room beside the seal is not counted."""
    seal: PartId | None = None
    """The seal between the boards' bottom edges and the lip."""


class Cover(Table):
    """``[cover]``: a second, outer layer of boards that hangs over the body."""

    thickness: Thickness
    """Thickness of the cover's boards, on the collar's outer faces; part of the wall that a shank
    goes through. Between covered sides they are mitered, beside a bare one they end square."""
    width: Width | None = None
    """Width of the cover's boards, from bottom edge to top; without it they end at the collar's
    top edge. A flange sits on the cover, or where that ends below the bore, on the board."""
    below_lip: LengthOrZero | None = None
    """How far the cover hangs below the plane of the lip, over the freezer's body; nothing
    without it. The side needs an overhang of zero or more; a body that bulges is not known."""
    sides: Annotated[tuple[Side, ...], Field(min_length=1, max_length=4)] = SIDES
    """The sides that have a cover. One on the back that reaches the collar's top edge carries the
    hinge leaves, and axis_behind counts from it; below a lower one the leaves are on the board."""


class Cap(Table):
    """``[cap]``: a strip on the boards' top edges, all round, that the lid's gasket closes on."""

    material: Literal["wood", "steel"]
    """What the strip is: wood, or steel, which a magnetic gasket holds on to."""
    thickness: Annotated[float, quantity("length", 0.3, 100, '"1.5 mm"')]
    """Thickness of the strip; the lid closes higher by it."""
    width: Length
    """Width of the strip, from its outer edge inward."""
    inset: LengthOrZero = 0.0
    """From the collar's outer face in to the strip's outer edge; zero where they are flush."""


class StickOnSale(Table):
    """``[[stock.length]]``: a length that the shop sells."""

    length: Length
    """Length of the stick, end to end."""
    price: Annotated[float, Field(ge=0, le=1e6)] | None = None
    """Price of one stick, in whatever currency, the same for all."""


class StickOwned(Table):
    """``[[stock.owned]]``: a stick that lies in the shop, with its flaws."""

    length: Length
    """Length of the stick, end to end."""
    defects: Annotated[tuple[FromTo, ...], Field(max_length=60)] = ()
    """Knots and other flaws: from where to where from the stick's left end, its face for outside
    up; with four lengths also from where to where up from the near edge: a board may hold it."""


class Stock(Table):
    """``[stock]``: what the boards are cut from."""

    kerf: Annotated[float, quantity("length", 0, 20, '"3 mm"')] = 3.0
    """Width of wood that one saw cut removes; for the cut plan, sizes in files stay nominal."""
    trim: LengthOrZero | None = None
    """What is cut off each end of a stick before it is used, that cut's own kerf included."""
    match_grain: bool = False
    """true: neighboring boards come from one stick, so that the grain runs on round a corner."""
    length: tuple[StickOnSale, ...] = ()
    """The lengths on sale, one table each."""
    owned: tuple[StickOwned, ...] = ()
    """The sticks that lie in the shop, one table each."""


class Shop(Table):
    """``[shop]``: what the saw and the router can do."""

    tilt_max: Angle | None = None
    """How far the saw's blade tilts away from a square cut, by its scale; 45 deg is where many
    stop."""
    cross_cut: Length | None = None
    """Widest board that the saw cuts across; the collar's boards must not be wider."""
    cut_depth_tilted: Length | None = None
    """Depth of cut with the blade tilted for the miter; it has to go through the
    board's thickness."""
    router_bit: Length | None = None
    """Diameter of the router's bit: how round an inside corner comes out; files stay nominal."""
    ring_gap: Annotated[float, quantity("length", 0, 40, '"0.8 mm"')] | None = None
    """Test ring of four scraps, as templates/saw-ring.pdf has it: the gap at the open end of its
    open joints, the mean of both; zero where all four are tight."""
    ring_open: Literal["inside", "outside"] | None = None
    """Where the ring's joints stand open: inside, the blade was tilted too far, or outside, too
    little. Needed with a ring_gap above zero."""
    ring_thickness: Thickness | None = None
    """Thickness of the ring's scraps. Needed with a ring_gap above zero."""
    ring_tilt: Annotated[float, quantity("angle", 40, 50, '"45 deg"')] = 45.0
    """What the saw's scale said when the ring was cut."""


class Taps(Table):
    """``[[taps]]``: one row of taps on one side."""

    count: Annotated[int, Field(ge=1, le=60)] | None = None
    """How many taps the row has, with spacing if more than one. Needed, or positions."""
    spacing: Length | None = None
    """Center to center of neighbors in the row, all the same."""
    offset: SignedLength = 0.0
    """From the board's middle to the row's middle, + to the right, seen from outside."""
    positions: Annotated[tuple[SignedLength, ...], Field(min_length=1, max_length=60)] | None = None
    """Each tap's center in place of count and spacing: from the board's middle (moved
    by offset), + to the right, seen from outside."""
    side: Side = "front"
    """The board that carries the row."""
    height: Length | None = None
    """From the collar's bottom edge up to the bores' centers; without it half of the
    board's width."""
    names: Annotated[tuple[Text, ...], Field(max_length=60)] = ()
    """What each tap is called, from left to right seen from outside; other tables may
    use the name for the number."""
    bore: Diameter
    """Diameter of the hole for each shank: what the hole saw or bit really cuts."""
    shank: ShankOrLength | None = None
    """The shank by its id, or the length of thread behind the flange, measured on the part."""
    thread: Diameter | None = None
    """Outside diameter of the shank's thread, measured; goes before the catalogue's figure."""
    faucet: PartId | None = None
    """The faucet on each shank; its body has to clear the neighbors."""
    handle: PartId | None = None
    """The handle on each faucet; a hand has to pull it alone."""
    wrench: PartId | None = None
    """The faucet wrench that turns the coupling rings; its arm has to swing between neighbors."""
    washers: Annotated[float, quantity("length", 0, 50, '"3 mm"')] = 0.0
    """Thickness of all that lies under each shank nut, washers and gasket together."""
    washer_diameter: Diameter | None = None
    """Outside diameter of the largest washer under each shank nut; it covers the bore inside."""
    glass: Length | None = None
    """Height of the tallest glass that has to fit under the spout."""


class FoamSheet(Table):
    """``[foam.sheet]``: the sheet the panels are cut from."""

    length: Length
    """Long side of the sheet."""
    width: Length
    """Short side of the sheet."""


class Foam(Table):
    """``[foam]``: insulation on the collar's inner face."""

    kind: PartId | None = None
    """The foam board by its id. Needed, or thickness."""
    thickness: FoamThickness | None = None
    """Thickness of the foam panels, from the board's inner face into the well; goes
    before the figure of the kind."""
    order: Literal["front-back", "sides"] = "front-back"
    """Which panels run the whole clear length: front and back, or the sides; the
    others stand between them."""
    pocket: Pocket | None = None
    """Diameter of the round pocket about each shank nut, or "none": the nut clamps
    over the foam. Without it the next hole cutter above the nut's wrench circle."""
    below_top: LengthOrZero = 0.0
    """How far the panels' top edge stays below the collar's top edge, down."""
    face: Text | None = None
    """What covers the foam toward the well, in your own words."""
    adhesive: PartId | None = None
    """What glues the panels to the boards, by its id; without it a foam-safe construction
    adhesive. Solvents melt polystyrene."""
    sheet: FoamSheet | None = None
    """The sheet that the panels are cut from."""


class Manifold(Table):
    """``[manifold]``: the gas distributor on the collar's inner face."""

    kind: PartId | None = None
    """The manifold by its id. Needed, or length, height and depth."""
    length: Length | None = None
    """Its length along the board; the opening in the foam is cut to it."""
    height: Length | None = None
    """Its height up the board; the opening in the foam is cut to it."""
    depth: Length | None = None
    """How far it stands off the board's inner face, into the well."""
    side: Side = "back"
    """The board that carries it."""
    offset: SignedLength = 0.0
    """From the board's middle to its own, + to the right, seen from outside."""
    centre: Length | None = None
    """From the collar's bottom edge up to its center; without it half of the board's width."""


class Lid(Table):
    """``[lid]``: the freezer's lid, read with a tape."""

    overhang: BySide[SignedLength] | None = None
    """By side, lid closed: from the lip's outer edge to the lid's outer edge, + outward."""
    thickness: Length | None = None
    """From the sealing plane, where the gasket closes, up to the lid's top."""
    skirt: BySide[LengthOrZero] | None = None
    """By side: how far the skirt hangs below the sealing plane, down; zero for none."""
    skirt_thickness: BySide[LengthOrZero] | None = None
    """By side: thickness of the skirt, from the lid's outer edge inward; the collar
    has to stay inside it."""
    gasket: Literal["bulb", "magnetic"] | None = None
    """What kind of gasket: a soft bulb, or a magnetic one that wants steel to close on."""
    gasket_inset: BySide[LengthOrZero] | None = None
    """By side: from the lid's outer edge in to the gasket's center line; it has to
    close on wood."""
    gasket_width: Length | None = None
    """Width of the gasket across the seal, where it touches the lip."""
    plug: LengthOrZero | None = None
    """How far the plug, the lid's inner panel, hangs below the sealing plane, down;
    zero for none."""
    plug_inset: BySide[LengthOrZero] | None = None
    """By side: from the lid's outer edge in to the edge of the plug."""
    mass: Mass | None = None
    """Mass of the lid with all that is fixed to it; the hinge's fasteners hold it."""


class Hinge(Table):
    """``[hinge]``: where the lid turns and what holds it."""

    on: Literal["board"] = "board"
    """What carries the lower leaf: the back board, the one way that is modeled."""
    axis_behind: SignedLength | None = None
    """From the face that carries the leaf (the collar's back face) to the hinge axis,
    + to the back; negative where the axis is ahead of the face."""
    axis_above: SignedLength | None = None
    """From the sealing plane to the hinge axis, + up; negative where the axis is
    below, as it mostly is."""
    positions: Annotated[tuple[SignedLength, ...], Field(min_length=1, max_length=12)] | None = None
    """Each leaf's middle from the back board's middle, + to the right, seen from
    outside (from behind the freezer)."""
    leaf_height: Length | None = None
    """Height of the leaf on the board, from the board's top edge down."""
    leaf_width: Length | None = None
    """Width of the leaf along the board."""
    leaf_thickness: LengthOrZero | None = None
    """Thickness of the leaf's plate; a screw goes through it before it reaches wood."""
    fix: Literal["screw", "bolt"] | None = None
    """What fixes the leaves: screws into the board, or bolts through it."""
    backing: LengthOrZero | None = None
    """Thickness of the block behind the board that takes the screws or bolts; zero for none."""
    screw: PartId | None = None
    """The screw by its id; sets the pilot holes and what the leaf holds."""
    screw_length: Length | None = None
    """Length of the screw, from under its head to the tip."""
    screws: Annotated[int, Field(ge=1, le=20)] | None = None
    """How many screws or bolts each leaf has."""
    bolt: Length | None = None
    """Diameter of the bolts that go right through the board, where `fix` is "bolt"."""
    bolt_washer: Length | None = None
    """Outside diameter of the washer or stiff plate under each bolt's nut, inside."""
    spring: bool | None = None
    """true: the hinge is sprung, and its spring pulls on the leaf."""
    open_to: Annotated[float, quantity("angle", 1, 180, '"90 deg"')] | None = None
    """Angle at which the open lid stops, from closed; 90 deg is straight up."""


class Room(Table):
    """``[room]``: what stands about the freezer, and the air."""

    behind: LengthOrZero | None = None
    """From the lip's back edge to the wall, at the height of the lid; the opening lid
    must not reach it."""
    above: Length | None = None
    """From the lip's plane up to the lowest thing above: shelf, cupboard or ceiling."""
    lip_height: Length | None = None
    """From the floor up to the lip's plane; how high a vessel has to be lifted."""
    left: LengthOrZero | None = None
    """From the lip's left edge, out to the nearest wall or other thing."""
    right: LengthOrZero | None = None
    """From the lip's right edge, out to the nearest wall or other thing."""
    door: Length | None = None
    """Clear width of the narrowest door on the way in."""
    temperature: Temperature | None = None
    """Temperature of the air about the freezer; for heat, and for wood and metal that sweat."""
    humidity: Percent | None = None
    """Relative humidity of that air; for sweating, and for how the wood moves."""
    floor_area: Area | None = None
    """Floor area of the room; with the ceiling its air, which leaking gas would displace."""
    ceiling: Length | None = None
    """From the floor up to the ceiling."""
    altitude: Annotated[float, quantity("length", -500_000, 5_000_000, '"120 m"')] | None = None
    """Height above the sea, negative below it; moves the pressure that a gauge has to show."""


class WellStep(Table):
    """``[well.step]``: the raised floor over the compressor."""

    side: Side
    """The wall of the well that the step stands against."""
    length: Length
    """From that wall out to the step's edge."""
    height: Length
    """From the well's floor up to the step's top."""


class Well(Table):
    """``[well]``: the inside of the freezer."""

    front: LengthOrZero | None = None
    """From the lip's front outer edge in to the mouth of the well; without it the
    mouth is centered."""
    left: LengthOrZero | None = None
    """From the lip's left outer edge in to the mouth of the well; without it the mouth
    is centered."""
    length: Length | None = None
    """Inside, from left wall to right, at the floor."""
    width: Length | None = None
    """Inside, from front wall to back, at the floor."""
    mouth_length: Length | None = None
    """Inside, from left to right, at the lip; without it the same as at the floor."""
    mouth_width: Length | None = None
    """Inside, from front to back, at the lip; without it the same as at the floor."""
    height: Length | None = None
    """From the well's floor up to the lip's plane."""
    corner_radius: LengthOrZero = 0.0
    """Radius of the well's upright corners, seen from above; zero for sharp ones."""
    gap: LengthOrZero = 5.0
    """The least gap that vessels keep from each other and from the walls."""
    step: WellStep | None = None
    """The raised floor over the compressor."""


class Vessel(Table):
    """``[[vessel]]``: kegs and cylinders."""

    kind: PartId | None = None
    """The keg or cylinder by its id. Needed, or diameter, height and fitting."""
    diameter: Length | None = None
    """Its greatest diameter, handles and rim included."""
    height: Length | None = None
    """From its foot to its top, without the fitting."""
    fitting: LengthOrZero | None = None
    """How far the fitting with its line stands above the top."""
    count: Annotated[int, Field(ge=1, le=40)] = 1
    """How many of these there are."""
    tap: TapNameOrNumber | None = None
    """The tap that it feeds, by name or number; none for a gas cylinder."""


class Pour(Table):
    """``[[pour]]``: what comes out of a tap."""

    tap: TapNameOrNumber
    """The tap that it comes out of, by name or number."""
    drink: Literal["still", "carbonated", "nitrogenated"] | None = None
    """What kind of drink: still, carbonated or nitrogenated."""
    name: Text | None = None
    """What the drink is called, for the sheets."""
    carbonation: Volumes | None = None
    """Carbonation that the drink is to hold, in volumes of gas for one of drink."""
    temperature: Temperature | None = None
    """The temperature at which the drink is kept and poured."""
    gas: Text | None = None
    """The gas that pushes it, in your own words."""
    line: Text | None = None
    """The line from vessel to shank, by its inside diameter as it is sold."""


class Passage(Table):
    """``[[hole]]``: a way through for a probe, a cable or hoses."""

    side: Side
    """The board that it goes through."""
    height: Length
    """From the collar's bottom edge up to its center."""
    diameter: Diameter
    """Its diameter, the same through cover, board and foam."""
    offset: SignedLength = 0.0
    """From the board's middle to its center, + to the right, seen from outside."""
    name: Text | None = None
    """What goes through, for the sheets; each name once."""


class Tray(Table):
    """``[tray]``: the screws that a drip tray hangs on, in the collar's wood."""

    side: Side | None = None
    """The board that carries the tray; without it that of the first row of taps."""
    count: Annotated[int, Field(ge=1, le=20)] | None = None
    """How many screws it hangs on, with spacing if more than one. Needed, or positions."""
    spacing: Length | None = None
    """Center to center of neighboring screws, all the same."""
    offset: SignedLength | None = None
    """From the board's middle to the row's middle, + to the right, seen from outside; without
    it the middle of that side's taps."""
    positions: Annotated[tuple[SignedLength, ...], Field(min_length=1, max_length=20)] | None = None
    """Each screw's place in place of count and spacing: from the row's middle (see offset), + to
    the right, seen from outside."""
    height: Length
    """From the collar's bottom edge up to the screws; the freezer's own wall is never drilled.
    Whether a glass fits over the tray is asked of a [[keep_out]] of its size."""
    pilot: Annotated[float, quantity("length", 0.5, 25, '"3 mm"')]
    """Diameter of the screws' pilot holes, by the screws at hand; in a cover and in the board
    behind it the same."""
    depth: Length | None = None
    """How deep they are drilled from the outer face, a cover counted; without it two thirds of
    the wood. As much as the wood is thick, or more, goes right through."""


class KeepOut(Table):
    """``[[keep_out]]``: a place on a side that nothing may enter."""

    side: Side
    """The board that it lies before."""
    height: SignedLength
    """From the collar's bottom edge to its center, + up."""
    width: Length
    """Its size along the board; its center is at offset."""
    tall: Length
    """Its size up the board, half of it above height and half below."""
    offset: SignedLength = 0.0
    """From the board's middle to its center, + to the right, seen from outside."""
    depth: Length | None = None
    """How far it stands out from the board's face; without it all the way."""
    name: Text | None = None
    """What is there: a lock, a lamp, a handle recess, a pipe on the wall."""


class BuiltBore(Table):
    """``[[built.bore]]``: a bore as it was really drilled."""

    tap: TapNameOrNumber
    """The tap that it was drilled for, by name or number."""
    from_left: Length | None = None
    """From the board's left long point to the bore's center, seen from outside; measured on the
    board, not on the cover."""
    from_bottom: Length | None = None
    """From the board's bottom edge up to the bore's center; measured on the board, not on the
    cover, whose edge may lie lower."""
    diameter: Diameter | None = None
    """Diameter of the hole as it came out."""
    plate: Length | None = None
    """Diameter of the plate that covers the bore, one on each face of the board, where it came
    out too wide; the flange and the nut then bear on the plates."""


class Built(Table):
    """``[built]``: what was really cut and dry-fitted."""

    front: LipSide | None = None
    """The front board as it was cut, long point to long point."""
    right: LipSide | None = None
    """The right board as it was cut, long point to long point."""
    back: LipSide | None = None
    """The back board as it was cut, long point to long point."""
    left: LipSide | None = None
    """The left board as it was cut, long point to long point."""
    front_left_to_back_right: Diagonal | None = None
    """Diagonal of the dry frame, between its outer corners."""
    front_right_to_back_left: Diagonal | None = None
    """The other diagonal of the dry frame."""
    thickness: Thickness | None = None
    """Thickness of the boards as they came off the planer."""
    width: Width | None = None
    """Width of the boards as they were ripped, bottom edge to top."""
    foam: FoamThickness | None = None
    """Thickness of the foam as it was bought."""
    bore: tuple[BuiltBore, ...] = ()
    """The bores that were drilled, one table each."""


@dataclass(frozen=True, slots=True)
class Limits:
    """``[limits]``: what the builder wants looser or tighter than a check's default.

    ``required`` maps a check's id to the figure it is held to; ``readings`` maps a key of the
    build file (``lid.gasket_inset``) to its limit of error; both in the unit of their kind.
    """

    required: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """A check by its id, and the figure that it is held to instead of its own; hinge-hold means
    the hinge without a pull, hinge-fit the leaf's room and not its screws' distances."""
    readings: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    """A reading by its key in quotes, and its limit of error: how far it may be off either way."""
    tighten_with_lid: Literal["open", "closed"] = "open"
    """Where the lid is while faucets are tightened; closed, its edge may stop the faucet wrench."""
    heat: float | None = None
    """The most heat that may come in through the collar; the same as collar-heat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """A whole build file, validated; with the catalogue rows that it names.

    ``parts`` maps (catalogue, id) to its row, so that nothing after the door reads a file;
    ``supplies`` the rows of what is used up in the work, see ``params.supplies``.
    ``as_built``: the collar is the one that ``[built]`` measured, not the one that was drawn.
    """

    lip: Lip
    board: Board
    taps: tuple[Taps, ...]
    title: str = ""
    show: Show = "mm"
    seat: Seat | None = None
    cover: Cover | None = None
    cap: Cap | None = None
    finish: Finish | None = None
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
    tray: Tray | None = None
    keep_out: tuple[KeepOut, ...] = ()
    limits: Limits = field(default_factory=Limits)
    built: Built | None = None
    as_built: bool = False
    parts: Mapping[tuple[str, str], Row] = field(default_factory=lambda: MappingProxyType({}))
    supplies: Mapping[tuple[str, str], Row] = field(default_factory=lambda: MappingProxyType({}))

    def part(self, catalogue: str, part_id: str | None) -> Row | None:
        """Return the catalogue row of an id of this build file; None for no id."""
        return None if part_id is None else self.parts[catalogue, part_id]
