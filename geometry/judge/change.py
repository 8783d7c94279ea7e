"""A project with some of its keys changed: the step of every what-if loop.

Nothing is validated here: a value must be one that the build file would take, in the unit of
its kind. What cannot be laid out afterwards is refused by ``lay_out`` as ever.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, cast

from ...params import catalogue
from ...params.catalogue import Row
from ...params.project import SIDES, BuiltBore, BySide, Project, Table
from ...params.reading.keys import IDS, TABLES, find
from ...params.reading.paths import plain

Value = float | int | str | bool
Rows = Callable[[str], Mapping[str, Row]]
"""Gives the rows of a catalogue by its name; ``catalogue.load`` for the built-in ones alone."""

_STEP = re.compile(r"([a-z_]+)(?:\[(\d+)\])?")


def changed(project: Project, changes: Mapping[str, Value], rows: Rows = catalogue.load) -> Project:
    """Return the project with other values under some keys.

    Args:
        project: stays as it is.
        changes: values by key as messages write it: ``taps[2].spacing``, ``lip.front[2]``,
            ``lid.overhang.left``; a key by side without a side stands for all four.
        rows: where the row of a changed id is taken from.

    Raises:
        KeyError: a key that the build file does not have, or an id that no row has.
    """
    for key, value in changes.items():
        project = _with(project, key, value)
        catalogue_name = IDS.get(plain(key), ("", ""))[0]
        if catalogue_name and isinstance(value, str) and (plain(key), value) != NO_BRACKET:
            project = replace(project, parts=_parts(project, catalogue_name, value, rows))
    return project


NO_BRACKET = ("board.bracket", "none")

_ROWS: Mapping[str, type[Table]] = {"bore": BuiltBore}
"""Tables within a table of which a change may add the next one."""


def figure_changed(project: Project, part: tuple[str, str], figure: str, value: float) -> Project:
    """Return the project with another value of one figure of a bought part."""
    row = project.parts[part].with_figure(figure, value)
    return replace(project, parts=MappingProxyType({**project.parts, part: row}))


def value_of(project: Project, key: str) -> Any:
    """Return what stands under a key; None where nothing does. A key by side gives the table."""
    found: Any = project
    for name, index in _STEP.findall(key):
        found = getattr(found, name)  # pyright: ignore[reportUnknownArgumentType]
        if isinstance(found, tuple):
            several = cast("tuple[Any, ...]", found)
            place = int(index or 1) - 1
            if index or _is_rows(several):
                found = several[place] if place < len(several) else None
        if found is None:
            return None
    return cast("Any", found)


def _is_rows(value: tuple[Any, ...]) -> bool:
    return bool(value) and isinstance(value[0], Table)


def _with(project: Project, key: str, value: Value) -> Project:
    """Set one key; tables that the build file does not have are made."""
    steps = [(name, int(index) - 1 if index else None) for name, index in _STEP.findall(key)]
    (table, index), *rest = steps
    if table not in TABLES:
        raise KeyError(key)
    old: Any = getattr(project, table)
    if isinstance(old, tuple):
        place = index or 0
        rows = cast("tuple[Any, ...]", old)
        new = (*rows[:place], _in_table(rows[place], rest, key, value), *rows[place + 1 :])
        return replace(project, **{table: new})
    base = TABLES[table].model_construct() if old is None else old
    return replace(project, **{table: _in_table(base, rest, key, value)})


def _in_table(table: Any, steps: list[tuple[str, int | None]], key: str, value: Value) -> Any:
    (name, index), *rest = steps
    # A table that is new has none of the keys that it cannot do without.
    old: Any = getattr(table, name, None)
    new: Any = value
    known = find(key) if not rest and index is None else None
    if rest and index is not None and isinstance(old, tuple):
        rows = cast("tuple[Any, ...]", old)
        row = rows[index] if index < len(rows) else _ROWS[name].model_construct(tap=index + 1)
        new = (*rows[:index], _in_table(row, rest, key, value), *rows[index + 1 :])
    elif rest and (isinstance(old, BySide) or (old is None and rest[0][0] in SIDES)):
        sides: BySide[Any] = BySide[Any]() if old is None else old  # pyright: ignore[reportUnknownVariableType]
        new = sides.model_copy(update={rest[0][0]: value, "one": False})
    elif rest:
        new = _in_table(old, rest, key, value)
    elif index is not None:
        several = cast("tuple[Any, ...]", old)
        new = (*several[:index], value, *several[index + 1 :])
    elif known is not None and known.by_side:
        new = BySide[Any].model_construct(**dict.fromkeys(SIDES, value), one=True)
    elif known is not None and known.many and not isinstance(value, tuple):
        new = (value,)
    return table.model_copy(update={name: new})


def _parts(project: Project, name: str, part_id: str, rows: Rows) -> Mapping[tuple[str, str], Row]:
    """Return the project's parts with one more row, and the screw that a bracket brings."""
    row = rows(name)[part_id]
    parts = {**project.parts, (name, part_id): row}
    screw = row.text("screw") if name == "brackets" else ""
    if screw:
        parts["screws", screw] = rows("screws")[screw]
    return MappingProxyType(parts)
