"""What a check looks at: a project and its layout, and which keys are not there."""

import math
from dataclasses import dataclass
from functools import cache

from ...params.project import BySide, Project, Side
from ...params.units import both_text
from ..shape.layout import Layout
from ..shape.taps import Tap
from .finding import Where

WELL_KEYS = ("well.length", "well.width", "well.height")
"""What has to be known of a well before anything can be said of it."""


@dataclass(frozen=True, slots=True)
class Design:
    """A project with its layout; checks read it and never change it.

    ``only`` are the numbers of the taps that are asked about, all where it is None: a loop that
    moves one bore need not hear of those that are far from it.
    """

    project: Project
    layout: Layout
    only: frozenset[int] | None = None

    @property
    def taps(self) -> tuple[Tap, ...]:
        """The taps that are asked about; ``layout.taps`` are all that stand about them."""
        if self.only is None:
            return self.layout.taps
        return tuple(tap for tap in self.layout.taps if tap.number in self.only)

    def required(self, check_id: str, default: float) -> float:
        """Return what a check is held to: the builder's ``[limits]`` before the default."""
        return self.project.limits.required.get(check_id, default)

    def text(self, mm: float) -> str:
        """Write a length in the units that the build file asks for."""
        return both_text(mm, self.project.show)

    def lacking(self, *keys: str) -> tuple[str, ...]:
        """Return those keys that the build file does not have.

        A key is ``table.key`` or, for what comes by side, ``table.key.side``; the side is named
        in the answer only where other sides were given.
        """
        return tuple(key for key in map(self._lack, keys) if key)

    def tap_key(self, tap: Tap, key: str) -> str:
        """Return a key of the tap's own row: ``taps.shank``, or ``taps[2].shank`` of several."""
        return f"taps.{key}" if len(self.project.taps) == 1 else f"taps[{tap.row + 1}].{key}"

    def neighbours(self, tap: Tap) -> list[Tap]:
        """Return the other taps on the same board."""
        return [other for other in self.layout.taps_on(tap.side) if other is not tap]

    def _lack(self, key: str) -> str:
        table, name, side = _parts(key)
        found = getattr(self.project, table)
        value: object = None if found is None else getattr(found, name)
        if value is None:
            return f"{table}.{name}"
        if side and isinstance(value, BySide):
            on_side: object = getattr(value, side)  # pyright: ignore[reportUnknownArgumentType]
            return key if on_side is None else ""
        return ""


@cache
def _parts(key: str) -> tuple[str, str, str]:
    """Return table, name and side of a key; the side is empty where it names none."""
    table, name, *side = key.split(".")
    return table, name, side[0] if side else ""


def at(tap: Tap) -> Where:
    """Return where a tap's finding is."""
    return _at(tap.side, tap.number)


@cache
def _at(side: Side, number: int) -> Where:
    return Where(side=side, tap=number)


def apart(one: Tap, other: Tap) -> float:
    """Return the distance of two bores' centers in the face's plane, mm."""
    return math.hypot(one.u - other.u, one.v - other.v)
