"""Text with a unit in, plain numbers out, and back again: the only user of pint.

Lengths arrive as a person writes them: ``37 5/8 in``, ``3' 1-5/8"``, ``95.5 cm``. Feet, inches
and fractions are taken apart here before pint sees anything, because pint multiplies what
stands side by side and reads ``37 5/8 in`` as 23.125 in without a word. pint gets one plain
number and one unit from a closed list.

Factors: NIST Special Publication 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 ft = 304.8 mm,
1 yd = 914.4 mm, 1 lb = 0.453 592 37 kg, 1 psi = 6.894 757 kPa, K = (degF + 459.67)/1.8, 1 gal (US)
= 231 in3 = 4 qt = 8 pt = 128 fl oz; all exact but psi, which follows from the exact lb, in and the
standard acceleration 9.806 65 m/s2.
"""

import math
import re
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, Literal

import pint

Kind = Literal[
    "length",
    "angle",
    "temperature",
    "difference",
    "mass",
    "pressure",
    "area",
    "volume",
    "percent",
    "volumes",
    "power",
    "force",
]
Show = Literal["in", "mm"]


class UnitError(ValueError):
    """A text is not a quantity of the wanted kind; the message completes "expected …".

    ``meant`` is the text that was probably meant, where that is plain; empty otherwise.
    """

    def __init__(self, wanted: str, meant: str = "") -> None:
        super().__init__(wanted)
        self.meant = meant


EXAMPLES: dict[str, str] = {
    "length": '"37 5/8 in"',
    "angle": '"95 deg"',
    "temperature": '"38 degF"',
    "difference": '"1 K"',
    "mass": '"12 kg"',
    "pressure": '"12 psi"',
    "area": '"12 m2"',
    "volume": '"473 mL"',
    "percent": '"60 %"',
    "volumes": '"2.5 vol"',
    "power": '"15 W"',
    "force": '"100 N"',
}
"""A text of each kind that is accepted."""

WORDS: dict[str, str] = {
    "length": "a length with its unit",
    "angle": "an angle with its unit",
    "temperature": "a temperature with its unit",
    "difference": "a difference of temperatures with its unit",
    "mass": "a mass with its unit",
    "pressure": "a pressure with its unit",
    "area": "an area with its unit",
    "volume": "a volume with its unit",
    "percent": "a percentage with its sign",
    "volumes": "a carbonation in volumes",
    "power": "a power with its unit",
    "force": "a force with its unit",
}
"""How each kind is called in a message."""

# unit as written (lower case) -> pint's name; the value of each kind comes out in BASE[kind].
_SPELLINGS: dict[str, dict[str, str]] = {
    "length": {
        **dict.fromkeys(("mm", "millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
        **dict.fromkeys(("cm", "centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
        **dict.fromkeys(("m", "meter", "meters", "metre", "metres"), "m"),
        **dict.fromkeys(("in", "in.", "inch", "inches", '"'), "inch"),
        **dict.fromkeys(("ft", "ft.", "foot", "feet", "'"), "foot"),
        **dict.fromkeys(("yd", "yard", "yards"), "yard"),
    },
    "angle": dict.fromkeys(("deg", "degree", "degrees", "°"), "degree"),
    "temperature": {
        **dict.fromkeys(("degc", "c", "°c", "celsius"), "degC"),
        **dict.fromkeys(("degf", "f", "°f", "fahrenheit"), "degF"),
    },
    "difference": {
        **dict.fromkeys(("k", "kelvin", "degc", "c", "°c"), "kelvin"),
        **dict.fromkeys(("degf", "f", "°f"), "delta_degF"),
    },
    "mass": {
        **dict.fromkeys(("kg", "kilogram", "kilograms"), "kg"),
        **dict.fromkeys(("g", "gram", "grams"), "g"),
        **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
        **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    },
    "pressure": {"kpa": "kPa", "bar": "bar", "psi": "psi", "mpa": "MPa"},
    "area": {
        **dict.fromkeys(("m2", "m²", "m^2"), "m**2"),
        **dict.fromkeys(("ft2", "ft²", "ft^2", "sq ft"), "foot**2"),
    },
    "volume": {
        "ml": "mL",
        **dict.fromkeys(("l", "liter", "liters", "litre", "litres"), "L"),
        "fl oz": "fl_oz",
        **dict.fromkeys(("pt", "pint", "pints"), "pint"),
        **dict.fromkeys(("qt", "quart", "quarts"), "quart"),
        **dict.fromkeys(("gal", "gallon", "gallons"), "gallon"),
    },
    "percent": dict.fromkeys(("%", "percent"), "percent"),
    "volumes": dict.fromkeys(("vol", "vols", "volumes"), "volumes"),
    "power": {"w": "W", "watt": "W", "watts": "W"},
    "force": {"n": "N", "lbf": "lbf"},
}

BASE: dict[str, str] = {
    "length": "mm",
    "angle": "degree",
    "temperature": "degC",
    "difference": "kelvin",
    "mass": "kg",
    "pressure": "kPa",
    "area": "m**2",
    "volume": "mL",
    "percent": "percent",
    "volumes": "volumes",
    "power": "W",
    "force": "N",
}
"""The unit in which each kind travels through the program."""

INCH = 25.4
"""1 in in mm."""

PRINTED: dict[Show, float] = {"in": INCH / 32, "mm": 0.1}
"""To what a length is printed by ``length_text``, mm."""

LB = 0.45359237
"""1 lb in kg; times 9.80665 it is 1 lbf in N."""

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_SIGNS = {
    **dict.fromkeys("″”“", '"'),
    **dict.fromkeys("′’‘", "'"),
    **dict.fromkeys("−–\u2010\u2011", "-"),
    "\u2044": "/",  # the fraction slash that word processors set
}
_LONGEST = 80
"""No quantity takes more characters than this; what is longer is not taken apart."""
_NUMBER = r"\d+(?:\.\d+)?|\.\d+"
_PLAIN = re.compile(rf"\s*([+-]?)\s*({_NUMBER})\s*(\D.*?)?\s*", re.ASCII)
_INCH = r"(?:\"|in\.?|inch|inches)"
_FOOT = r"(?:'|ft\.?|foot|feet)"
_MIXED = re.compile(
    rf"\s*(?P<sign>[+-]?)\s*"
    rf"(?:(?P<feet>{_NUMBER})\s*{_FOOT}\s*(?:[-,]\s*)?)?"
    rf"(?:(?:(?P<whole>{_NUMBER})(?:\s+|\s*-\s*))?(?P<over>\d+)\s*/\s*(?P<under>\d+)\s*{_INCH}"
    rf"|(?P<inches>{_NUMBER})\s*{_INCH})?\s*",
    re.IGNORECASE | re.ASCII,
)


@cache
def _registry() -> Any:
    """Return a registry that knows the accepted units and no others; 4 ms, against 100."""
    empty: Any = None  # no file of definitions: pint's own would cost 100 ms
    known: Any = pint.UnitRegistry(empty)  # pyright: ignore[reportUnknownVariableType]
    for line in (
        "mm = [length]",
        "cm = 10 * mm",
        "m = 1000 * mm",
        "inch = 25.4 * mm",
        "foot = 304.8 * mm",
        "yard = 914.4 * mm",
        "mL = cm ** 3",
        "L = 1000 * mL",
        "gallon = 231 * inch ** 3",
        "quart = gallon / 4",
        "pint = gallon / 8",
        "fl_oz = gallon / 128",
        "degree = []",
        "percent = []",
        "volumes = []",
        "kg = [mass]",
        "g = 0.001 * kg",
        "lb = 0.45359237 * kg",
        "oz = lb / 16",
        "second = [time]",
        "N = kg * m / second ** 2",
        "lbf = 9.80665 * lb * m / second ** 2",
        "kPa = 1000 * N / m ** 2",
        "MPa = 1000 * kPa",
        "bar = 100 * kPa",
        "psi = lbf / inch ** 2",
        "W = N * m / second",
        "kelvin = [temperature]; offset: 0 = K",
        "degC = kelvin; offset: 273.15",
        "degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9",
    ):
        known.define(line)
    return known


def convert(value: float, unit: str, into: str) -> float:
    """Convert one plain number between two units of the closed list (pint's names)."""
    return float(_registry().Quantity(value, unit).to(into).magnitude)


def parse(text: str, kind: Kind) -> float:
    """Read a quantity as a person writes it.

    Args:
        text: for example ``37 5/8 in``, ``38 degF``, ``60 %``.
        kind: what is wanted.

    Returns:
        The value in ``BASE[kind]``: mm, degrees, degC, kg, kPa, m2, mL, percent, volumes, W, N.

    Raises:
        UnitError: the text is not such a quantity; the message says what was expected.
    """
    if len(text) > _LONGEST:
        raise UnitError(f"{WORDS[kind]}, in at most {_LONGEST} characters")
    clean = " ".join(text.split())
    for old, new in _SIGNS.items():
        clean = clean.replace(old, new)
    clean = clean.replace("''", '"')
    if kind == "length":
        for old, new in _VULGAR.items():
            clean = clean.replace(old, f" {new}")
        mixed = _feet_and_inches(clean.strip())
        if mixed is not None:
            return _finite(mixed, kind)
    if re.search(r"\d,\d", clean):
        raise _comma(clean)
    match = _PLAIN.fullmatch(clean)
    if match is None:
        raise UnitError(WORDS[kind])
    sign, number, unit = match.groups()
    if unit is None or re.fullmatch(r"[\s\d/.-]+", unit):
        raise UnitError(f"{WORDS[kind]}: the unit is missing")
    unit = unit.strip()
    if re.fullmatch(r"e[+-]?\d.*", unit, re.IGNORECASE):
        raise UnitError("a number written out, without a power of ten")
    fraction = re.match(r"(?:\d+\s*)?/\s*\d+\s*(.*)", unit)
    if fraction is not None:
        unit = fraction[1]
        if not unit or unit.lower() in _SPELLINGS[kind]:
            raise UnitError(
                f"{WORDS[kind]}: fractions are for inches, elsewhere write a decimal point"
            )
        raise UnitError(_wrong_unit(unit, kind))
    spelling = _SPELLINGS[kind].get(unit.lower())
    if spelling is None:
        raise UnitError(_wrong_unit(unit, kind))
    value = float(sign + number)
    return _finite(convert(value, spelling, BASE[kind]), kind)


def _comma(text: str) -> UnitError:
    """Say what to write for a comma, which may stand for a point or between thousands."""
    point = re.sub(r"(\d),(?=\d)", r"\1.", text, count=1)
    plain = re.sub(r"(\d),(?=\d)", r"\1", text)
    if not re.match(r"[+-]?\d{1,3}(,\d{3})+(?!\d)", text):
        return UnitError(f"a decimal point, not a comma: {point}", point)
    if text.count(",") > 1 or "." in text:
        return UnitError(f"a number without commas: {plain}", plain)
    return UnitError(f"a number without a comma: {point} or {plain}")


def _feet_and_inches(text: str) -> float | None:
    """Return mm for feet, inches and fractions; None where the text is something else."""
    match = _MIXED.fullmatch(text)
    if match is None or not any(match[name] for name in ("feet", "over", "inches")):
        return None
    inches = Fraction(0)
    if match["inches"]:
        inches = Fraction(match["inches"])
    if match["over"]:
        over, under = int(match["over"]), int(match["under"])
        if under == 0:
            raise UnitError("a fraction that is not over zero")
        if match["whole"] and over >= under:
            raise UnitError(f"a fraction smaller than one after the {match['whole']}")
        if match["whole"] and "." in match["whole"]:
            raise UnitError("a whole number before the fraction")
        inches = Fraction(match["whole"] or 0) + Fraction(over, under)
    feet = Fraction(match["feet"] or 0)
    if feet and (match["inches"] or match["over"]):
        if feet.denominator != 1:
            raise UnitError("whole feet before the inches")
        if inches >= 12:
            raise UnitError("less than 12 inches after the feet")
    sign = -1.0 if match["sign"] == "-" else 1.0
    return sign * (convert(float(feet), "foot", "mm") + convert(float(inches), "inch", "mm"))


def _wrong_unit(unit: str, kind: Kind) -> str:
    """Say what is wrong with a unit: of another kind, or unknown."""
    for other, spellings in _SPELLINGS.items():
        if other != kind and unit.lower() in spellings:
            return f"{WORDS[kind]}, not {WORDS[other].removesuffix(' with its unit')}"
    known = ": in, ft, mm, cm" if kind == "length" else ""
    return f"{WORDS[kind]}: the unit {unit[:20]!r} is not known here{known}"


def _finite(value: float, kind: Kind) -> float:
    if not math.isfinite(value):
        raise UnitError(f"{WORDS[kind]} of a sensible size")
    return round(value, 9) + 0.0  # 7/8 in is 22.225 mm, not 22.224999999999998


def fraction_text(mm: float, parts: int = 32) -> str:
    """Write a length in inches to the nearest 1/``parts``: ``37 5/8 in``, ``-1/16 in``, ``0 in``.

    Rounding is to the nearest; a tie goes to the even numerator.
    """
    whole = round(abs(mm) / 25.4 * parts)
    sign = "-" if mm < 0 and whole else ""
    inches, rest = divmod(whole, parts)
    if not rest:
        return f"{sign}{inches} in"
    shared = math.gcd(rest, parts)
    lead = f"{inches} " if inches else ""
    return f"{sign}{lead}{rest // shared}/{parts // shared} in"


def mm_text(mm: float, decimals: int = 1) -> str:
    """Write a length in millimeters, without a trailing ``.0``: ``955 mm``, ``139.7 mm``.

    A half goes away from 0, also where the float falls just short of it: 82.55 is ``82.6 mm``.
    """
    rounded = round(mm + math.copysign(1e-9, mm), decimals) + 0.0
    return (
        f"{rounded:.{decimals}f}".rstrip("0").rstrip(".") + " mm"
        if decimals
        else f"{rounded:.0f} mm"
    )


def thousandths_text(mm: float) -> str:
    """Write a length in inches to 0.001 in: ``0.110 in``, where a fraction would hide it."""
    return f"{round(mm / 25.4, 3) + 0.0:.3f} in"


def gap_text(mm: float, show: Show) -> str:
    """Write a gap to 0.01 mm: ``0.25 mm``, ``1/64 in (0.4 mm)``, ``0.010 in (0.25 mm)``."""
    if show == "mm":
        return mm_text(mm, 2)
    parts = mm / 25.4 * 64
    inches = fraction_text(mm, 64) if abs(parts - round(parts)) < 1e-6 else thousandths_text(mm)
    return f"{inches} ({mm_text(mm, 2)})"


def mass_text(kg: float, show: Show) -> str:
    """Write a mass: ``51.1 lb (23.2 kg)``, or ``23.2 kg``."""
    metric = f"{round(kg, 1) + 0.0:.1f} kg"
    return f"{round(kg / LB, 1) + 0.0:.1f} lb ({metric})" if show == "in" else metric


def force_text(newton: float, show: Show) -> str:
    """Write a force: ``22.5 lbf (100 N)``, or ``100 N``."""
    return _in_pounds(newton, LB * 9.80665, "lbf", "N", show)


def moment_text(newton_mm: float, show: Show) -> str:
    """Write a moment of so many N mm: ``53.1 lbf ft (72 N m)``, or ``72 N m``."""
    return _in_pounds(newton_mm / 1e3, LB * 9.80665 * 0.3048, "lbf ft", "N m", show)


def _in_pounds(value: float, one: float, unit: str, metric_unit: str, show: Show) -> str:
    metric = f"{round(value) + 0:d} {metric_unit}"
    if show == "mm":
        return metric
    pounds = value / one
    return f"{pounds:.{1 if abs(pounds) < 99.95 else 0}f} {unit} ({metric})"


def length_text(mm: float, show: Show) -> str:
    """Write a length as the build file's ``show`` asks: fractions to 1/32 in, or mm to 0.1."""
    return fraction_text(mm) if show == "in" else mm_text(mm)


def run_text(mm: float, show: Show) -> str:
    """Write how much is bought of what is sold by its length: ``9.80 m``, or ``32.2 ft``."""
    if show == "in":
        return f"{convert(mm, 'mm', 'foot'):.1f} ft"
    return f"{convert(mm, 'mm', 'm'):.2f} m"


def volume_text(milliliters: float, show: Show) -> str:
    """Write how much is bought of a liquid: ``390 mL``, or ``390 mL (13.2 fl oz)``."""
    metric = f"{milliliters:.{0 if milliliters >= 10 else 1}f} mL"
    ounces = convert(milliliters, "mL", "fl_oz")
    return f"{metric} ({ounces:.1f} fl oz)" if show == "in" else metric


def area_text(square_meters: float, show: Show) -> str:
    """Write an area: ``2.15 m2``, or ``23.1 ft2``."""
    if show == "in":
        return f"{convert(square_meters, 'm**2', 'foot**2'):.1f} ft2"
    return f"{square_meters:.2f} m2"


def bit_text(mm: float, show: Show) -> str:
    """Write the diameter of a hole that a bit makes: as a length, but to 1/64 in up to 1/2 in.

    Drill bits are sold in 64ths up to there (common practice), and a pilot minds the difference:
    2.7 mm is 7/64 in, where the nearest 1/32 would be 3/32 in, 2.4 mm.
    """
    if show == "in" and mm <= 12.7:
        return fraction_text(mm, 64)
    return length_text(mm, show)


@lru_cache(maxsize=4096)
def both_text(mm: float, show: Show) -> str:
    """Write a length in the units of ``show``; inches carry the millimeters beside them.

    What was written is kept: loops over designs that hardly differ write the same lengths again.
    A small margin would vanish in a fraction: ``1/16 in (1.7 mm)``, but ``1.7 mm``. What is
    not nothing is not written as 0 in, but in thousandths: ``0.012 in (0.3 mm)``.
    """
    metric = mm_text(mm)
    if show == "mm":
        return metric
    inches = fraction_text(mm)
    if inches == "0 in" and metric != "0 mm":
        inches = thousandths_text(mm)
    return f"{inches} ({metric})"
