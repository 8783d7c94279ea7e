"""What a catalogue may hold: one table of figures, units, ranges and meanings.

A figure ``thread_length`` in mm stands in five columns of its CSV file: ``thread_length_mm``,
``thread_length_low``, ``thread_length_high``, ``thread_length_basis``, ``thread_length_source``.
The range of a figure is no judgement of quality: it is wide enough for anything that is sold
and narrow enough to catch a slip of a factor of ten, a wrong unit or a swapped column.

Required means that layout and checks need it: a row of the program's own or of a person's file
always has it. Optional figures may be blank, and what needs them is then not checked.
"""

from collections.abc import Mapping
from dataclasses import dataclass

SUFFIXES: Mapping[str, str] = {
    "mm": "mm",
    "kg": "kg",
    "kg/m3": "kg_m3",
    "W/mK": "w_mk",
    "kPa": "kpa",
    "deg": "deg",
    "count": "count",
    "percent": "pct",
    "per_percent": "per_pct",
    "L": "l",
    "1/in": "per_in",
    "ratio": "ratio",
    "g/m2": "g_m2",
    "m2/L": "m2_l",
    "mL": "ml",
    "min": "min",
    "h": "h",
    "days": "days",
    "degC": "degc",
}
"""Unit of a figure -> how its column's name ends."""

BASES = ("published", "common practice", "from memory", "measured")
"""What a number can rest on."""

TEXT = "text"
"""The unit of a column that holds words."""


@dataclass(frozen=True, slots=True)
class Column:
    """One figure of a catalogue, or one text column.

    ``low`` and ``high`` bound value, low and high of a figure, in its unit; ``choices`` lists
    the words that a text column takes, none meaning any.
    """

    name: str
    unit: str
    low: float
    high: float
    required: bool
    meaning: str
    choices: tuple[str, ...] = ()

    @property
    def heading(self) -> str:
        """Name of the CSV column that holds the value."""
        return self.name if self.unit == TEXT else f"{self.name}_{SUFFIXES[self.unit]}"


@dataclass(frozen=True, slots=True)
class Schema:
    """One catalogue: what its rows are, and their columns in the order of the file."""

    name: str
    meaning: str
    columns: tuple[Column, ...]

    @property
    def figures(self) -> tuple[Column, ...]:
        """The columns that hold numbers."""
        return tuple(column for column in self.columns if column.unit != TEXT)

    @property
    def texts(self) -> tuple[Column, ...]:
        """The columns that hold words."""
        return tuple(column for column in self.columns if column.unit == TEXT)

    def figure(self, name: str) -> Column | None:
        """The figure of that name, or None."""
        return next((column for column in self.figures if column.name == name), None)

    def headings(self) -> tuple[str, ...]:
        """Return every column that the CSV file may have, in its usual order."""
        found = ["id", "name"]
        for column in self.columns:
            found.append(column.heading)
            if column.unit != TEXT:
                found += [f"{column.name}_{part}" for part in ("low", "high", "basis", "source")]
        return tuple(found)


def _must(name: str, unit: str, low: float, high: float, meaning: str) -> Column:
    return Column(name, unit, low, high, True, meaning)


def _may(name: str, unit: str, low: float, high: float, meaning: str) -> Column:
    return Column(name, unit, low, high, False, meaning)


def _words(name: str, meaning: str, *choices: str) -> Column:
    return Column(name, TEXT, 0.0, 0.0, bool(choices), meaning, choices)


_NOTE = _words("note", "what a buyer should know")
_SYSTEM = _words("system", "sold by the inch or by the millimeter", "inch", "metric")

_TABLE: tuple[tuple[str, str, tuple[Column, ...]], ...] = (
    (
        "lumber",
        "boards, dimension lumber and sheets, as dressed",
        (
            _must("thickness", "mm", 3, 110, "thickness as dressed"),
            _may("width", "mm", 15, 1600, "width as dressed; of a sheet: its short side"),
            _may("length", "mm", 300, 6500, "length of a sheet"),
            _words("kind", "what sort of wood product it is"),
            _words("nominal", "what the yard calls it"),
            _SYSTEM,
            _NOTE,
        ),
    ),
    (
        "lengths",
        "lengths in which boards are sold",
        (_must("length", "mm", 300, 7500, "length of the stick"), _SYSTEM, _NOTE),
    ),
    (
        "species",
        "woods, at 12 % moisture content",
        (
            _must("specific_gravity", "ratio", 0.1, 1.3, "oven-dry mass over volume at 12 %"),
            _must("density", "kg/m3", 100, 1400, "mass over volume, both at 12 %"),
            _must("movement_tangential", "per_percent", 0.0005, 0.009, "flat-sawn width, per % MC"),
            _must("movement_radial", "per_percent", 0.0003, 0.006, "quartersawn width, per % MC"),
            _may("shrinkage_tangential", "percent", 1.5, 18, "green to oven-dry"),
            _may("shrinkage_radial", "percent", 0.8, 12, "green to oven-dry"),
            _must("conductivity", "W/mK", 0.05, 0.4, "heat conductivity across the grain"),
            _may("compression_across", "kPa", 1500, 25_000, "what a washer may press on its face"),
            _words("kind", "decides the pilot hole", "softwood", "hardwood"),
            _NOTE,
        ),
    ),
    (
        "foam",
        "insulation boards: each kind and thickness sold, and each kind by itself",
        (
            _may("thickness", "mm", 6, 160, "thickness as sold; blank: give foam.thickness"),
            _must("conductivity", "W/mK", 0.015, 0.08, "heat conductivity"),
            _may("density", "kg/m3", 8, 80, "least density"),
            _may("compressive_strength", "kPa", 20, 1000, "least strength at 10 % strain"),
            _may("sheet_length", "mm", 300, 3700, "long side of the sheet"),
            _may("sheet_width", "mm", 200, 1600, "short side of the sheet"),
            _words("material", "what it is made of"),
            _words("standard", "the standard that grades it"),
            _words("sheets", "every sheet size sold"),
            _words("caution", "fire and food"),
            _NOTE,
        ),
    ),
    (
        "vessels",
        "kegs and gas cylinders",
        (
            _must("diameter", "mm", 50, 500, "greatest diameter"),
            _must("height", "mm", 100, 1500, "height without coupler, disconnect or regulator"),
            _must("fitting_height", "mm", 0, 250, "what coupler or disconnect adds on top"),
            _may("side_reach", "mm", 0, 250, "how far a fitting reaches out sideways"),
            _may("empty_mass", "kg", 0.9, 30, "mass empty"),
            _may("full_mass", "kg", 1.8, 90, "mass full"),
            _may("volume", "L", 1.2, 70, "content; of a gas cylinder: water capacity"),
            _words(
                "kind",
                "what it holds and how it is tapped",
                "keg",
                "soda keg",
                "CO2 cylinder",
                "nitrogen cylinder",
                "blended gas cylinder",
            ),
            _words("height_to", "where the height is measured to"),
            _NOTE,
        ),
    ),
    (
        "shanks",
        "through-wall tap fittings with flange, nut, tail nut and coupling ring",
        (
            _may("length", "mm", 30, 400, "behind the flange's seat"),
            _may("thread_length", "mm", 15, 400, "usable thread behind the flange's seat"),
            _must("thread_diameter", "mm", 15, 40, "outside diameter of the thread"),
            _must("unthreaded", "mm", 0, 40, "plain part behind the flange's seat"),
            _must("flange_diameter", "mm", 25, 90, "outer flange"),
            _must("flange_thickness", "mm", 1, 20, "outer flange"),
            _must("collar_projection", "mm", 3, 50, "toothed end in front of the flange"),
            _must("nut_across_flats", "mm", 22, 70, "shank nut"),
            _must("nut_across_corners", "mm", 22, 80, "shank nut"),
            _must("nut_thickness", "mm", 3, 30, "shank nut"),
            _must("nut_wrench_circle", "mm", 28, 120, "room a socket needs about the shank nut"),
            _must("tail_nut_length", "mm", 5, 40, "tail nut, along the shank"),
            _must("tail_nut_across_flats", "mm", 15, 60, "tail nut"),
            _must("tail_wrench_circle", "mm", 30, 200, "room a wrench needs about the tail nut"),
            _must("tail_engagement", "mm", 3, 30, "thread that the tail nut must grip"),
            _must("tailpiece_length", "mm", 5, 120, "straight barb beyond the shank's end"),
            _must("ring_diameter", "mm", 25, 70, "coupling ring"),
            _must("ring_length", "mm", 5, 50, "coupling ring, along the shank"),
            _must("ring_holes", "count", 1, 16, "holes or slots round the coupling ring"),
            _may("washer_diameter", "mm", 24, 120, "washer under the shank nut, where one is used"),
            _may("washer_thickness", "mm", 0.5, 12, "washer under the shank nut"),
            _NOTE,
        ),
    ),
    (
        "faucets",
        "valves that screw on outside",
        (
            _must("body_width", "mm", 15, 120, "widest part, coupling ring or side lever included"),
            _must("body_forward", "mm", 40, 300, "furthest point ahead of the flange's face"),
            _must("spout_forward", "mm", 20, 250, "flange's face to the spout's axis"),
            _must("spout_below", "mm", 10, 250, "spout's tip below the shank's axis"),
            _must("lever_top", "mm", 15, 200, "top of the lever's thread above the shank's axis"),
            _must("lever_axis_forward", "mm", 10, 150, "lever at rest, ahead of the flange's face"),
            _words("handle_thread", "thread that takes the handle"),
            _NOTE,
        ),
    ),
    (
        "handles",
        "what is pulled",
        (
            _must("length", "mm", 25, 600, "from its lower end to its top"),
            _must("width", "mm", 10, 250, "widest, along the board"),
            _must("depth", "mm", 10, 250, "thickest, out from the board"),
            _must("lever_pivot_below_top", "mm", 5, 100, "pivot below the lever thread's top"),
            _must("closed_angle", "deg", 0, 45, "behind vertical when closed"),
            _must("open_angle", "deg", 5, 90, "ahead of vertical when open"),
            _NOTE,
        ),
    ),
    (
        "wrenches",
        "wrenches that turn the coupling ring",
        (
            _must("reach", "mm", 60, 500, "ring's axis to the arm's rounded tip"),
            _must("half_width", "mm", 2, 40, "half of the arm's width"),
            _may("handle_length", "mm", 50, 500, "arm alone"),
            _may("head_thickness", "mm", 1, 30, "head, along the shank"),
            _may("head_radius", "mm", 12, 100, "head, about the ring's axis"),
            _may("handle_clearance", "mm", 2, 100, "room over the arm for a hand"),
            _NOTE,
        ),
    ),
    (
        "manifolds",
        "gas distributors",
        (
            _must("length", "mm", 40, 1000, "envelope along the board"),
            _must("height", "mm", 20, 300, "envelope upward"),
            _must("depth", "mm", 10, 200, "envelope off the board"),
            _must("outlets", "count", 1, 16, "number of outlets"),
            _may("outlet_spacing", "mm", 15, 200, "outlet to outlet"),
            _may("first_outlet_from_end", "mm", 5, 200, "end of the bar to the first outlet"),
            _may("inlet_projection", "mm", 5, 150, "inlet barb beyond the bar"),
            _may("outlet_projection", "mm", 5, 200, "outlet with its valve beyond the bar"),
            _may("handle_sweep_radius", "mm", 8, 150, "valve handle about its axis"),
            _may("handle_sweep_angle", "deg", 20, 360, "valve handle from shut to open"),
            _may("handle_width", "mm", 3, 60, "valve handle"),
            _may("mount_hole_spacing", "mm", 20, 900, "mounting hole to mounting hole"),
            _may("mount_hole_diameter", "mm", 2, 15, "mounting hole"),
            _words("mount_screw", "screw that suits the mounting holes"),
            _NOTE,
        ),
    ),
    (
        "brackets",
        "angle brackets for the collar's inside corners",
        (
            _must("leg", "mm", 10, 200, "along each board, from the corner"),
            _must("width", "mm", 8, 200, "upward"),
            _must("thickness", "mm", 0.5, 12, "of the metal"),
            _must("hole_diameter", "mm", 2, 14, "screw hole"),
            _must("holes_per_leg", "count", 1, 8, "screw holes in a row, at half of the width"),
            _must("hole_from_corner", "mm", 3, 150, "corner to the nearest hole's center"),
            _may("hole_pitch", "mm", 3, 150, "hole to hole along the leg"),
            _words("screw", "id of a screw that suits"),
            _NOTE,
        ),
    ),
    (
        "screws",
        "flat-head wood screws by gauge",
        (
            _must("shank_diameter", "mm", 1.5, 14, "plain shank"),
            _must("root_diameter", "mm", 1, 12, "at the thread's root"),
            _may("threads_per_inch", "1/in", 4, 40, "threads in an inch"),
            _must("head_diameter", "mm", 3, 30, "flat head, to the sharp edge"),
            _must("pilot_softwood", "mm", 0.7, 10, "lead hole for the thread"),
            _must("pilot_hardwood", "mm", 0.8, 11, "lead hole for the thread"),
            _must("shank_hole", "mm", 1.5, 15, "hole for the plain shank"),
            _must("threaded_share", "ratio", 0.3, 1, "thread over the screw's length"),
            _NOTE,
        ),
    ),
    (
        "seals",
        "tapes and profiles between collar and lip, or collar and lid",
        (
            _must("width", "mm", 3, 100, "width"),
            _must("free_height", "mm", 0.6, 45, "height before it is pressed"),
            _must("working_compression", "percent", 2, 80, "of the free height, in use"),
            _NOTE,
        ),
    ),
    (
        "glues",
        "wood glues for the miters",
        (
            _must("spread", "g/m2", 40, 800, "glue on one glue line"),
            _may("sizing_coat", "g/m2", 40, 800, "a first, thin coat on end grain and miters"),
            _must("density", "kg/m3", 700, 1900, "mass over volume"),
            _must("open_time", "min", 1, 90, "from spreading to the joint closed"),
            _must("clamp_time", "min", 15, 1500, "in clamps, at room temperature"),
            _must("full_cure", "h", 4, 400, "until the joint may be loaded"),
            _must("least_temperature", "degC", -10, 30, "of wood, glue and air"),
            _may("clamp_pressure", "kPa", 20, 3000, "on the glue line"),
            _words("water", "what the joint stands up to", "dry", "damp", "wet"),
            _NOTE,
        ),
    ),
    (
        "finishes",
        "what keeps water out of the wood",
        (
            _must("coverage", "m2/L", 2, 40, "area of one coat"),
            _must("coats", "count", 1, 12, "coats that it takes"),
            _may("first_coat_extra", "percent", 3, 90, "that a first coat on bare wood takes more"),
            _must("recoat", "h", 0.6, 72, "from coat to coat"),
            _must("cure", "days", 0.8, 60, "from the last coat until the well may be used"),
            _words("base", "what it is made with; rags with oil heat up", "oil", "water", "epoxy"),
            _words("primer", "id of the row that goes on the bare wood under it, one coat"),
            _NOTE,
        ),
    ),
    (
        "adhesives",
        "adhesives and sealants from a cartridge",
        (
            _must("bead", "mm", 2, 20, "diameter of the bead"),
            _may("over", "percent", 3, 90, "that a bead by hand takes more than a round one"),
            _must("cartridge", "mL", 70, 1000, "content of one cartridge"),
            _must("tack", "min", 3, 200, "until it has a skin, or holds by itself"),
            _must("cure", "h", 6, 400, "until it may be loaded"),
            _may("least_temperature", "degC", -20, 40, "of what it is put on"),
            _words("kind", "adhesive holds for good, sealant comes off", "adhesive", "sealant"),
            _NOTE,
        ),
    ),
    (
        "lines",
        "tubing for drink and for gas, by its inside diameter",
        (
            _must("inside_diameter", "mm", 2, 20, "inside"),
            _must("outside_diameter", "mm", 4, 30, "outside"),
            _must("bend_radius", "mm", 12, 250, "least radius of a bend, on the center line"),
            _words("use", "what runs in it", "drink", "gas"),
            _words("material", "what it is made of"),
            _NOTE,
        ),
    ),
)

SCHEMAS: Mapping[str, Schema] = {
    name: Schema(name, meaning, columns) for name, meaning, columns in _TABLE
}
"""Every catalogue by its name, in the order in which they are listed."""
