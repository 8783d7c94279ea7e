"""Ids in a build file -> rows of the catalogues, once, at the door."""

import os
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path as File
from types import MappingProxyType
from typing import Any

from .. import catalogue
from ..catalogue import Row
from ..problem import BuildFileError
from ..project import Table
from ..supplies import SUPPLIES
from .keys import IDS
from .notes import Notes
from .paths import ROWS, row_keys, shown

MEASURED_SHANK = "shank-measured"
"""The row whose other figures stand in where the builder measured the thread's length."""

_SHANK_FIGURES = ("length", "thread_length")


@dataclass(slots=True)
class Catalogues:
    """The catalogues with what lies beside the build file, each read when it is needed."""

    folder: File
    notes: Notes
    broken: set[str] = field(default_factory=set[str])
    _rows: dict[str, dict[str, Row]] = field(default_factory=dict[str, dict[str, Row]])

    def rows(self, name: str) -> dict[str, Row]:
        """Return one catalogue; what is wrong with a file beside the build file is noted."""
        if name not in self._rows:
            try:
                self._rows[name] = catalogue.load(name, self.folder)
            except BuildFileError as error:
                self.notes.problems += error.problems
                self.broken.add(name)
                self._rows[name] = catalogue.load(name)
        return self._rows[name]

    def read_all_beside(self) -> None:
        """Read every catalogue file beside the build file, also those that nothing asks for."""
        for name in catalogue.NAMES:
            if os.path.lexists(self.folder / f"{name}.csv"):
                self.rows(name)


def resolve(
    found: dict[str, object], catalogues: Catalogues, notes: Notes
) -> MappingProxyType[tuple[str, str], Row]:
    """Return the row of every id; an id that does not exist is noted and taken out of its table.

    Args:
        found: the tables by name, as ``tables`` returns them; changed in place.
        catalogues: where the rows are.
        notes: takes the problems and the keys that were taken out.
    """
    parts: dict[tuple[str, str], Row] = {}
    for key, name, part_id in list(_ids(found)):
        row = catalogues.rows(name).get(part_id)
        if row is None:
            if name not in catalogues.broken:  # it may be in the file that could not be read
                _no_such_part(key, name, part_id, catalogues, notes)
        elif name in SUPPLIES:
            _primer_of(key, row, catalogues, notes)
            continue  # the project has them all
        elif _complete(key, row, notes):
            parts[name, part_id] = row
            _screw_of(key, row, parts, catalogues, notes)
            continue
        notes.drop(key)
        _take_out(found, key)
    taps: Any = found.get("taps", ())
    if any(isinstance(row.shank, float) for row in taps):
        parts["shanks", MEASURED_SHANK] = catalogues.rows("shanks")[MEASURED_SHANK]
    return MappingProxyType(parts)


def supplies(catalogues: Catalogues) -> MappingProxyType[tuple[str, str], Row]:
    """Return every row of what is used up in the work, also of what no key names."""
    return MappingProxyType(
        {
            (name, part_id): row
            for name in SUPPLIES
            for part_id, row in catalogues.rows(name).items()
        }
    )


def _ids(found: dict[str, object]) -> Iterator[tuple[str, str, str]]:
    """Yield every id with its key and its catalogue."""
    for path, (name, _) in IDS.items():
        table, _, last = path.partition(".")
        for key, row in _tables(found, table):
            part_id = getattr(row, last)
            if isinstance(part_id, str) and (path, part_id) != ("board.bracket", "none"):
                yield f"{key}.{last}", name, part_id


def _tables(found: dict[str, object], name: str) -> list[tuple[str, Table]]:
    value: Any = found.get(name)
    if value is None:
        return []
    if name not in ROWS:
        return [(name, value)]
    return list(zip(row_keys(name, len(value)), value, strict=True))


def _take_out(found: dict[str, object], key: str) -> None:
    """Set one key of one table to None."""
    table, _, last = key.rpartition(".")
    name = table.partition("[")[0]
    if name not in ROWS:
        one: Any = found[name]
        found[name] = one.model_copy(update={last: None})
        return
    found[name] = tuple(
        row.model_copy(update={last: None}) if each == table else row
        for each, row in _tables(found, name)
    )


def _no_such_part(key: str, name: str, part_id: str, catalogues: Catalogues, notes: Notes) -> None:
    last = key.rpartition(".")[2]
    rows = catalogues.rows(name)
    near = catalogue.near(name, part_id, rows)
    elsewhere = [
        each for each in catalogue.NAMES if each != name and part_id in catalogues.rows(each)
    ]
    if near:
        wanted = f"an id of the catalogue {name}; near: {', '.join(near)}"
    elif elsewhere:
        wanted = f"an id of the catalogue {name}; this one is of the catalogue {elsewhere[0]}"
    else:
        wanted = f"an id of the catalogue {name}; `collarwright catalog {name}` lists them"
    usual = next(part for each, part in IDS.values() if each == name)
    example = near[0] if near else usual if usual in rows else next(iter(rows))
    notes.add(key, shown(part_id), wanted, f'{last} = "{example}"')


def _complete(key: str, row: Row, notes: Notes) -> bool:
    """Say so where a row cannot stand for the part: a shank of which no length is known."""
    if row.catalogue != "shanks" or all(name in row.figures for name in _SHANK_FIGURES):
        return True
    lacking = " and no ".join(each for each in _SHANK_FIGURES if each not in row.figures)
    wanted = f"the threaded length behind the flange, read on the part: that row has no {lacking}"
    notes.add(key, shown(row.id), wanted, 'shank = "98 mm"')
    return False


def _primer_of(key: str, row: Row, catalogues: Catalogues, notes: Notes) -> None:
    """Say so where a finish is the primer of another one, or names one that cannot be under it.

    A primer is what the built-in catalog has as one: rows of one's own may put a finish that
    stands by itself, a sealer, under another.
    """
    primer = row.text("primer")
    built_in = catalogue.load("finishes").values()
    over = [each.id for each in built_in if each.text("primer") == row.id]
    if over:
        wanted = f"what goes over it: it is the primer of {', '.join(over)}, no finish by itself"
        notes.add(key, shown(row.id), wanted, f'kind = "{over[0]}"')
    elif primer == row.id:
        wanted = f"a finish whose primer is another row than itself ({row.origin})"
        notes.add(key, shown(row.id), wanted)
    elif primer and primer not in catalogues.rows("finishes"):
        wanted = f"a finish whose primer is in the catalogue finishes ({row.origin} names {primer})"
        notes.add(key, shown(row.id), wanted)


def _screw_of(
    key: str,
    row: Row,
    parts: dict[tuple[str, str], Row],
    catalogues: Catalogues,
    notes: Notes,
) -> None:
    """Add the screw that a bracket's row names."""
    screw_id = row.text("screw")
    if row.catalogue != "brackets" or not screw_id:
        return
    screw = catalogues.rows("screws").get(screw_id)
    if screw is not None:
        parts["screws", screw_id] = screw
    elif "screws" not in catalogues.broken:
        wanted = f"a bracket whose screw is in the catalogue screws ({row.origin} names {screw_id})"
        notes.add(key, shown(row.id), wanted)
