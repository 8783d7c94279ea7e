"""One catalogue's CSV text -> rows, or every problem in it with its line and column.

The same reader serves the built-in files and a file that somebody laid beside the build file.
Built-in files are held to more: a basis and a source for each figure. In a person's file
low and high may be left out (then they are the value), the basis too (then "measured") and the
source (then file and line); a row with the id of a built-in row keeps what it does not name.
"""

import csv
import io
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from ..problem import Problem, visible
from .rows import Figure, Row
from .schema import BASES, TEXT, Column, Schema

_ID = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?", re.ASCII)
_RESERVED = {"none"}  # a value of its own in the build file


@dataclass(slots=True)
class _Reader:
    """Reads one file; ``base`` holds the built-in rows, and is None for a built-in file."""

    schema: Schema
    file: str
    base: Mapping[str, Row] | None
    problems: list[Problem] = field(default_factory=list[Problem])
    line: int = 0
    whole: bool = True  # every heading was understood, so what is missing is really missing
    seen: dict[tuple[str, ...], Figure] = field(default_factory=dict[tuple[str, ...], Figure])

    def refuse(self, key: str, read: str, wanted: str, example: str = "") -> None:
        self.problems.append(
            Problem(
                key=_shown(key),
                read=_shown(read),
                wanted=wanted,
                example=example,
                file=self.file,
                line=self.line or None,
            )
        )

    def origin(self) -> str:
        return f"{Path(self.file).name}, line {self.line}"

    def example(self, column: Column) -> str:
        """A cell that would be accepted: what a built-in row holds there."""
        for row in (self.base or {}).values():
            figure = row.figures.get(column.name)
            if figure is not None:
                return f"{figure.value:g} in the column {column.heading}"
        return f"{math.ceil(column.low) or column.high:g} in the column {column.heading}"

    def headings(self, cells: Sequence[str]) -> dict[str, int] | None:
        """Return where each column stands, or None if the first line is of no use."""
        known = self.schema.headings()
        example = "id,name," + ",".join(column.heading for column in self.schema.figures[:1])
        if len(cells) > 2 * len(known):
            self.refuse("", f"{len(cells)} columns", f"at most {len(known)} columns", example)
            return None
        if len(cells) == 1 and re.search(r"[;\t]", cells[0]):
            self.refuse("", f'"{cells[0]}"', "values separated by commas", example)
            return None
        at: dict[str, int] = {}
        for index, cell in enumerate(cells):
            if cell in at:
                self.refuse(cell, "the column twice", "each column once")
            elif cell in known:
                at[cell] = index
            else:
                self.refuse(cell, "an unknown column", *self.nearest(cell))
        if "id" not in at:
            self.refuse("id", "no such column", "a column of ids", example)
            return None
        self.whole = not self.problems
        return at

    def nearest(self, cell: str) -> tuple[str, str]:
        """Return what an unknown heading should have been, and an example."""
        from difflib import get_close_matches  # only a mistake pays for it

        known = self.schema.headings()
        close = get_close_matches(cell[:60].lower(), known, n=1, cutoff=0.6)
        if close:
            return f"a column of {self.schema.name}; the nearest is {close[0]}", close[0]
        values = ["id", "name", *(column.heading for column in self.schema.columns)]
        return f"a column of {self.schema.name}: " + ", ".join(values), values[-1]

    def rows(self, text: str) -> dict[str, Row]:
        """Return the rows of the file; those with a problem are left out."""
        found: dict[str, Row] = {}
        lines: dict[str, int] = {}
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        columns: _Columns | None = None
        try:
            for cells in reader:
                start, self.line = self.line + 1, reader.line_num
                cells = [cell.strip() for cell in cells]
                while cells and not cells[-1] and (not columns or len(cells) > columns.count):
                    cells.pop()  # spreadsheets fill lines up with commas
                if not any(cells):
                    continue
                after, self.line = self.line, start
                if columns is None:
                    at = self.headings(cells)
                    if at is None:
                        return found
                    columns = _Columns.of(self.schema, at, len(cells))
                else:
                    row = self.row(columns, cells, lines)
                    if row is not None:
                        found[row.id] = row
                self.line = after
        except csv.Error as error:
            self.line += 1  # where the part begins: an open quote swallows the rest of the file
            self.refuse("", str(error), "quotes in pairs and values separated by commas")
        if columns is None and not self.problems:
            self.line = 0
            self.refuse("", "an empty file", "a line of column names, and a line for each part")
        return found

    def row(self, columns: "_Columns", cells: list[str], lines: dict[str, int]) -> Row | None:
        """Return one row, or None with its problems noted."""
        if len(cells) != columns.count:
            wanted = f"{columns.count} cells, as many as there are columns"
            self.refuse("", f"{len(cells)} cells", wanted, "quotes round a text that has a comma")
            return None
        before = len(self.problems)
        complete = self.whole
        row_id = cells[columns.id]
        if not _ID.fullmatch(row_id) or row_id in _RESERVED:
            read = f'"{row_id}"' if row_id else "nothing"
            wanted = "an id: small letters, digits and single dashes, a letter first"
            self.refuse("id", read, wanted, next(iter(self.base or {}), "part-1-in"))
            complete = False  # it may be meant for a built-in row
        elif row_id in lines:
            self.refuse("id", f'"{row_id}"', f"each id once; line {lines[row_id]} has it already")
        lines.setdefault(row_id, self.line)
        old = (self.base or {}).get(row_id)
        figures: dict[str, Figure] = {}
        for column, indexes in columns.figures:
            noted = len(self.problems)
            figure = self.figure(column, indexes, cells)
            if figure is None and old is not None:
                figure = old.figures.get(column.name)
            if figure is not None:
                figures[column.name] = figure
            elif column.required and complete and len(self.problems) == noted:
                wanted = f"{_amount(column)} ({column.meaning}): a new row needs it"
                self.refuse(column.heading, "nothing", wanted, self.example(column))
        texts = dict(old.texts) if old is not None else {}
        for column, index in columns.texts:
            words = " ".join(cells[index].split()) if index >= 0 else ""
            if words and column.choices and words not in column.choices:
                self.refuse(column.name, f'"{words}"', "one of " + ", ".join(column.choices))
            elif words:
                texts[column.name] = words
            elif column.required and complete and column.name not in texts:
                self.refuse(column.name, "nothing", "one of " + ", ".join(column.choices))
        name = " ".join(cells[columns.name].split()) if columns.name >= 0 else ""
        if not name and self.base is None:
            self.refuse("name", "nothing", "a name")
        name = name or (old.name if old is not None else row_id)
        if len(self.problems) > before:
            return None
        return Row(self.schema.name, row_id, name, figures, texts, self.origin())

    def figure(self, column: Column, indexes: tuple[int, ...], cells: list[str]) -> Figure | None:
        """Return a figure from its five cells; None if blank, or wrong with its problems noted."""
        parts = (column.name, *(cells[index] if index >= 0 else "" for index in indexes))
        figure = self.seen.get(parts)  # most figures are alike from row to row
        if figure is not None:
            return figure
        _, written, low_written, high_written, basis, source = parts
        if not written:
            if any(parts[2:]):
                wanted = f"{_amount(column)} where its low, high, basis or source is given"
                self.refuse(column.heading, "nothing", wanted, self.example(column))
            return None
        value = self.number(column, column.heading, written)
        low = self.number(column, f"{column.name}_low", low_written) if low_written else value
        high = self.number(column, f"{column.name}_high", high_written) if high_written else value
        if value is None or low is None or high is None:
            return None
        if not low <= value <= high:
            part, limit, which = (
                ("low", low, "at most") if low > value else ("high", high, "at least")
            )
            wanted = f"{which} the value, {value:g}"
            self.refuse(f"{column.name}_{part}", f"{limit:g}", wanted, f"{value:g}")
            return None
        if self.base is None:
            for part, cell in (("basis", basis), ("source", source)):
                if not cell:
                    self.refuse(f"{column.name}_{part}", "nothing", f"a {part} for each figure")
                    return None
        if basis and basis not in BASES:
            self.refuse(
                f"{column.name}_basis", f'"{basis}"', "one of " + ", ".join(BASES), BASES[-1]
            )
            return None
        figure = Figure(value, low, high, column.unit, basis or "measured", source or self.origin())
        if source:
            self.seen[parts] = figure
        return figure

    def number(self, column: Column, heading: str, written: str) -> float | None:
        """Return a cell's number, or None with its problem noted."""
        value = float(written) if _NUMBER.fullmatch(written) else math.nan
        if math.isfinite(value) and column.low <= value <= column.high:
            if column.unit != "count" or value.is_integer():
                return value
            self.refuse(heading, written, "a whole number", self.example(column))
            return None
        if math.isfinite(value):
            wanted = f"{_amount(column)} of {column.low:g} to {column.high:g} ({column.meaning})"
        else:
            wanted = f"{_amount(column)}, with a decimal point and without a unit"
        read = written if _NUMBER.fullmatch(written) else f'"{written}"'
        self.refuse(heading, read, wanted, self.example(column))
        return None


@dataclass(slots=True)
class _Columns:
    """Where everything stands in a line; -1 for a column that the file leaves out."""

    count: int
    id: int
    name: int
    figures: list[tuple[Column, tuple[int, ...]]]
    texts: list[tuple[Column, int]]

    @classmethod
    def of(cls, schema: Schema, at: Mapping[str, int], count: int) -> "_Columns":
        figures: list[tuple[Column, tuple[int, ...]]] = []
        texts: list[tuple[Column, int]] = []
        for column in schema.columns:
            if column.unit == TEXT:
                texts.append((column, at.get(column.name, -1)))
                continue
            headings = [column.heading]
            headings += [f"{column.name}_{part}" for part in ("low", "high", "basis", "source")]
            figures.append((column, tuple(at.get(heading, -1) for heading in headings)))
        return cls(count, at["id"], at.get("name", -1), figures, texts)


def _shown(text: str) -> str:
    """Return a cell as a message shows it: cut short, with nothing in it that hides."""
    return visible(text if len(text) <= 60 else text[:57] + "...")


def _amount(column: Column) -> str:
    """Name what a figure's cell must hold, with its unit."""
    if column.unit in ("count", "ratio"):
        return "a plain number"
    unit = {"per_percent": "parts per percent", "1/in": "threads an inch"}.get(column.unit)
    return f"a number in {unit or column.unit}"


def read_rows(
    schema: Schema, file: str, text: str, base: Mapping[str, Row] | None = None
) -> tuple[dict[str, Row], list[Problem]]:
    """Return the rows of one catalogue file and every problem in it.

    Args:
        schema: The catalogue that the file adds to.
        file: How the file is called in messages; rows carry its last part as their origin.
        text: What the file holds.
        base: The built-in rows, for a person's file; None for a built-in file.
    """
    reader = _Reader(schema, file, base)
    rows = reader.rows(text)
    return rows, reader.problems
