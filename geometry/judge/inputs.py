"""What a design rests on and how far each of it may be off: readings and figures of parts.

A reading that the build file holds may be off by its limit of error: the builder's own from
``[limits]``, else the one of its table here. A figure of a bought part that no reading has
replaced may be anywhere from its low to its high. What ``[built]`` measured counts where the
collar is laid out as built. A key that was left out is no reading: its
default is what the program promises, not what somebody measured.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, cast

from ...params.project import SIDES, BySide, Project, Table
from ...params.reading.keys import TABLES, Key, find
from ...params.reading.paths import row_keys
from .change import changed, figure_changed


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One reading or one figure of a bought part, in the unit of its kind.

    ``key`` is the build file's key, or ``catalogue: id, figure``. ``low`` and ``high`` are how
    far it may be off on either side of ``value``. ``part`` is (catalogue, id) of a bought one.
    """

    key: str
    value: float
    low: float
    high: float
    part: tuple[str, str] | None = None
    figure: str = ""

    def moved(self, project: Project, value: float) -> Project:
        """Return the project with this input at another value."""
        if self.part is not None:
            return figure_changed(project, self.part, self.figure, value)
        return changed(project, {self.key: value})

    @property
    def says(self) -> str:
        """What to do to know it better."""
        if self.part is not None:
            return f"measure the part you bought: {self.part[1]}, {self.figure.replace('_', ' ')}"
        return f"measure this: {self.key}"


_BY_KEY = {
    "lid.gasket_inset": 2.0,
    "lid.plug_inset": 2.0,
    "hinge.axis_behind": 3.0,
    "hinge.axis_above": 3.0,
    "shop.ring_gap": 0.25,
}
"""Limits of error of readings that are hard to take, and of a gap that is read to half a mark of a
rule in half millimeters, mm (common practice, no source)."""

_MADE = 0.5
"""Limit of error of what is cut or bored: boards, taps, foam and what goes with them, mm
(common practice, no source)."""

_BY_TABLE: dict[str, float | None] = {
    **dict.fromkeys(("lip", "lid", "well", "vessel", "keep_out"), None),
    **dict.fromkeys(("board", "cover", "cap", "taps", "foam", "manifold", "hinge", "hole"), _MADE),
    **dict.fromkeys(("tray", "built", "shop"), _MADE),
    "room": 10.0,
}
"""Limit of error of a table's lengths, mm; None: the lip's tape, ``lip.tape``. Tables that are
not here hold no readings. All common practice, no source."""

_BY_KIND = {"angle": 2.0, "temperature": 1.0}
"""Limits of error of other quantities: degrees, K (common practice, no source)."""

_HUMIDITY = 5.0
"""Limit of error of a household hygrometer, percent of relative humidity (common practice)."""

_DEMANDS = ("lip.tape", "well.gap", "room.altitude", "shop.ring_tilt")
"""Keys that say what is wanted or known, not what was read: a scale can be set to a mark again."""


_NONE_AT_ZERO = ("lid.skirt", "lid.plug", "hinge.backing")
"""Keys whose zero says that the part is not there: nobody reads that off a tape."""


def error_of(key: Key, project: Project) -> float:
    """Return a reading's limit of error in the unit of its kind; 0 where none is known."""
    asked = project.limits.readings.get(key.path)
    if asked is not None:
        return asked
    table = key.path.partition(".")[0]
    if key.path in _DEMANDS or table not in _BY_TABLE:
        return 0.0
    if key.kind == "length":
        by_table = _BY_TABLE[table]
        return _BY_KEY.get(key.path, project.lip.tape if by_table is None else by_table)
    if key.path == "room.humidity":
        return _HUMIDITY
    return _BY_KIND.get(key.kind or "", 0.0)


def inputs(project: Project) -> tuple[Input, ...]:
    """Return everything that the design rests on and that may be off, readings first."""
    return (*_readings(project), *_figures(project))


def _readings(project: Project) -> Iterator[Input]:
    for name in TABLES:
        there: Any = getattr(project, name)
        if there is None or (name == "built" and not project.as_built):
            continue
        several = isinstance(there, tuple)
        rows = cast("tuple[Any, ...]", there) if several else (there,)
        keys = row_keys(name, len(rows)) if several else [name]
        for key, row in zip(keys, rows, strict=True):
            yield from _of_table(project, row, key)


def _of_table(project: Project, table: Table, above: str) -> Iterator[Input]:
    for name in sorted(table.model_fields_set, key=list(type(table).model_fields).index):
        value: Any = getattr(table, name)
        path = f"{above}.{name}"
        if isinstance(value, Table) and not isinstance(value, BySide):
            yield from _of_table(project, value, path)
            continue
        if isinstance(value, tuple) and value and isinstance(value[0], Table):
            for number, row in enumerate(cast("tuple[Table, ...]", value), 1):
                yield from _of_table(project, row, f"{path}[{number}]")
            continue
        key = find(path)
        error = error_of(key, project) if key is not None else 0.0
        if error > 0:
            for place, each in _values(path, value):
                if each == 0 and path in _NONE_AT_ZERO:
                    continue
                yield Input(key=place, value=each, low=each - error, high=each + error)


def _values(path: str, value: Any) -> Iterator[tuple[str, float]]:
    """Yield the single readings under a key: of each side, or of each that was repeated."""
    if isinstance(value, BySide):
        sides = cast("BySide[float]", value)
        if sides.one:
            yield path, cast("float", sides.front)
            return
        for side in SIDES:
            each = sides.on(side)
            if each is not None:
                yield f"{path}.{side}", each
    elif isinstance(value, tuple):
        several = cast("tuple[float, ...]", value)
        for number, each in enumerate(several, 1):
            yield (path if len(several) == 1 else f"{path}[{number}]"), each
    elif isinstance(value, float):
        yield path, value


def _figures(project: Project) -> Iterator[Input]:
    for part, row in project.parts.items():
        for name, figure in row.figures.items():
            if figure.low < figure.value or figure.high > figure.value:
                yield Input(
                    key=f"{part[0]}: {part[1]}, {name}",
                    value=figure.value,
                    low=figure.low,
                    high=figure.high,
                    part=part,
                    figure=name,
                )
