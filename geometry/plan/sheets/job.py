"""What is asked of the knife: parts, the sheet they come from, and a plan as the answer.

All sizes are whole steps of 0.01 mm: parts are rounded up to the step, a sheet is rounded down. A
knife takes no foam, so cuts have no width. A sheet lies with its long side from left to right;
places are measured from its lower left corner. Foam has no grain: a part may lie either way, but
is never turned over.
"""

from dataclasses import dataclass
from typing import Literal

Across = Literal["across", "along"]
"""A cut across the sheet's length runs from front to back; one along it from left to right."""


@dataclass(frozen=True, slots=True)
class Part:
    """A rectangle to be cut, steps. Its ``length`` may be the shorter side."""

    name: str
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """The sheet that can be bought as often as needed, steps; ``length`` is the longer side."""

    length: int
    width: int

    def takes(self, part: Part) -> bool:
        """Tell whether a part comes out of it, one way or the other."""
        long, short = max(part.length, part.width), min(part.length, part.width)
        return long <= self.length and short <= self.width


@dataclass(frozen=True, slots=True)
class Job:
    """All that is asked."""

    parts: tuple[Part, ...]
    sheet: Sheet


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A piece of a sheet: its lower left corner and its size along and across, steps."""

    x: int
    y: int
    length: int
    width: int

    def parted(self, way: Across, at: int) -> tuple["Rect", "Rect"]:
        """Return what a cut ``at`` steps from the left (or lower) edge makes of it."""
        if way == "across":
            return (
                Rect(self.x, self.y, at, self.width),
                Rect(self.x + at, self.y, self.length - at, self.width),
            )
        return (
            Rect(self.x, self.y, self.length, at),
            Rect(self.x, self.y + at, self.length, self.width - at),
        )

    @property
    def area(self) -> int:
        """Its area, square steps."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Cut:
    """One pass of the knife through one piece, from edge to edge.

    ``before`` is the piece, ``at`` the distance from its left edge (``across``) or its lower one
    (``along``), ``after`` what it falls into: left and right, or lower and upper.
    """

    before: Rect
    way: Across
    at: int

    @property
    def after(self) -> tuple[Rect, Rect]:
        """Return the two pieces that it makes."""
        return self.before.parted(self.way, self.at)


@dataclass(frozen=True, slots=True)
class Placed:
    """A part by its number, and the piece of the sheet that it is.

    ``turned``: its length runs across the sheet, a quarter turn counterclockwise.
    """

    part: int
    rect: Rect
    turned: bool = False


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """One sheet: its cuts in the order in which they are made, the parts and what is left over."""

    cuts: tuple[Cut, ...]
    parts: tuple[Placed, ...]
    left: tuple[Rect, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """Sheets and their cuts, and what is proved.

    The aims, in this order: fewest sheets, fewest cuts, the largest piece left over beside the
    parts of a sheet. No plan has fewer than ``least`` sheets; ``proved`` tells that none with as
    many sheets has fewer cuts.
    """

    sheets: tuple[SheetPlan, ...]
    least: int
    proved: bool

    @property
    def cuts(self) -> int:
        """How many cuts there are on all sheets."""
        return sum(len(sheet.cuts) for sheet in self.sheets)

    @property
    def sheets_proved(self) -> bool:
        """Whether no plan has fewer sheets."""
        return len(self.sheets) == self.least


class NoPlanError(ValueError):
    """``part`` comes out of no sheet."""

    def __init__(self, part: Part) -> None:
        self.part = part
        super().__init__(f"{part.name} is larger than a sheet")
