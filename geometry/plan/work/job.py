"""What a step is made from: the build file, the layout, and their figures as words."""

from dataclasses import dataclass

from ....params import supplies
from ....params.catalogue import Row
from ....params.units import both_text, convert, mass_text, mm_text
from ...shape.frame import Board
from ...shape.screws import HARDWOOD_FROM
from ...shape.taps import Tap
from ..shown import Shown


@dataclass(frozen=True, slots=True)
class Job(Shown):
    """A project and its layout, with the words that many steps need.

    ``sawn`` is whether the boards have a cut plan, and with it a saw list; ``upside_down`` whether
    the frame has to be turned over for the foam to get in past its cap.
    """

    sawn: bool = True
    upside_down: bool = False

    def bit_both(self, mm: float) -> str:
        """Write it in the units of ``show``, inches with the millimeters beside them."""
        return self.bit(mm) + (f" ({mm_text(mm)})" if self.show == "in" else "")

    def both(self, mm: float) -> str:
        """Write a length in the units of ``show``, inches with the millimeters beside them."""
        return both_text(mm, self.show)

    def mass(self, kg: float) -> str:
        """Write a mass in the units of ``show``."""
        return mass_text(kg, self.show)

    def warmth(self, celsius: float) -> str:
        """Write a temperature: ``50 degF (10 degC)``, or ``10 degC``."""
        metric = f"{celsius:.0f} degC"
        return (
            metric
            if self.show == "mm"
            else f"{convert(celsius, 'degC', 'degF'):.0f} degF ({metric})"
        )

    def height(self, mm: float) -> str:
        """Write a height above the sea: ``5280 ft (1609 m)``, or ``1609 m``."""
        metric = f"{convert(mm, 'mm', 'm'):.0f} m"
        return metric if self.show == "mm" else f"{convert(mm, 'mm', 'foot'):.0f} ft ({metric})"

    def room(self, cubic_meters: float) -> str:
        """Write the volume of a room: ``800 ft3 (22.7 m3)``, or ``22.7 m3``."""
        metric = f"{cubic_meters:.1f} m3"
        feet = convert(cubic_meters, "m**3", "foot**3")
        return metric if self.show == "mm" else f"{feet:.0f} ft3 ({metric})"

    def warmer(self, kelvin: float) -> str:
        """Write a difference of temperatures, as ``9 degF``, or ``5 K``."""
        fahrenheit = convert(kelvin, "kelvin", "delta_degF")
        return f"{kelvin:g} K" if self.show == "mm" else f"{fahrenheit:g} degF"

    def pressure(self, kpa: float, digits: int = 0) -> str:
        """Write a gauge pressure: ``30 psi``, or ``207 kPa (30 psi)``."""
        psi = f"{convert(kpa, 'kPa', 'psi'):.{digits}f} psi"
        return psi if self.show == "in" else f"{kpa:.0f} kPa ({psi})"

    @property
    def hard(self) -> bool:
        """Whether the wood is as dense as hardwood; softwood where the species is not known."""
        species = self.project.part("species", self.project.board.species)
        return species is not None and (species.get("specific_gravity") or 0.0) >= HARDWOOD_FROM

    @property
    def no_species(self) -> tuple[str, ...]:
        """The species' key where nobody named it, and softwood is taken."""
        return () if self.project.board.species else ("board.species",)

    @property
    def wood(self) -> str:
        """The wood, in words; softwood where the species is not known."""
        row = self.project.part("species", self.project.board.species)
        return row.name if row else "softwood"

    @property
    def lined(self) -> str:
        """What a drop shows on inside: the foam, or the wood where there is none."""
        return "foam" if self.layout.panels else "wood"

    @property
    def cleated(self) -> bool:
        """Whether cleats inside the lip keep the collar from sliding."""
        return self.project.seat is not None and self.project.seat.hold == "cleats"

    @property
    def parts(self) -> tuple[Board, ...]:
        """The boards, then the covers."""
        return (*self.layout.boards, *self.layout.covers)

    @property
    def bored(self) -> tuple[Board, ...]:
        """The boards and covers with holes that are drilled on the bench, set-outs left out."""
        return tuple(part for part in self.parts if any(not hole.assumed for hole in part.holes))

    @property
    def glue(self) -> Row:
        """The glue of the miters."""
        return supplies.glue(self.project)

    @property
    def finish(self) -> Row:
        """The finish of the wood."""
        return supplies.finish(self.project)

    @property
    def coats(self) -> int:
        """How many coats of it."""
        return supplies.coats(self.project)


def told(row: Row) -> str:
    """Write a bought thing's name, with what its row says to a buyer."""
    note = row.text("note")
    return row.name + (f": {note}" if note else "")


def called(tap: Tap) -> str:
    """Return what a tap is called: ``tap 1``, or ``tap 2, cold coffee``."""
    plain = f"tap {tap.number}"
    return plain if tap.name in ("", plain) else f"{plain}, {tap.name}"


def hours(row: Row, figure: str) -> tuple[float, float]:
    """Return a figure's least and most in hours; it may be in minutes, hours or days."""
    found = row.figures[figure]
    times = {"min": 1 / 60, "h": 1.0, "days": 24.0}[found.unit]
    return found.low * times, found.high * times


def source(row: Row, figure: str) -> str:
    """Say where a figure of a bought thing comes from."""
    return f"{row.name}, {figure.replace('_', ' ')}: {row.figures[figure].source}"


def words(count: int, one: str) -> str:
    """Return a count with its noun: ``1 bore``, ``3 bores``."""
    return f"{count} {one}{'' if count == 1 else 's'}"


def listed(names: list[str]) -> str:
    """Join names: ``a``, ``a and b``, ``a, b and c``."""
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), *names[-1:]])


def time_text(span: tuple[float, float]) -> str:
    """Write a span of time in the unit that it is long in: ``20 to 60 min``, ``7 to 30 days``.

    Minutes below two hours, days from 48 hours on where both ends are whole ones.
    """
    low, high = span
    if high < 2:
        unit, times = "min", 60.0
    elif high >= 48 and low % 24 == 0 and high % 24 == 0:
        unit, times = "days", 1 / 24
    else:
        unit, times = "h", 1.0
    first, last = (f"{round(each * times, 2):g}" for each in span)
    if first == last:
        return f"{last} {'day' if (unit, last) == ('days', '1') else unit}"
    return f"{first} to {last} {unit}"
