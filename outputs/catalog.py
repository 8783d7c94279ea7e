"""``catalog``: what can be named in a build file, with the range and source of each figure."""

import csv
import io
import textwrap
from difflib import get_close_matches
from pathlib import Path

from ..params import catalogue
from ..params.problem import BuildFileError, Problem
from ..params.units import Show, fraction_text
from .summary import dumps
from .text import WIDTH


def names_text() -> str:
    """Return the catalogues' names with what they hold and how many rows."""
    lines = ["Catalogues (collarwright catalog NAME shows one):", ""]
    lines += [f"  {name:<10} {len(catalogue.load(name)):>3} rows" for name in catalogue.NAMES]
    return "\n".join(lines) + "\n"


def names_data() -> str:
    """Return the catalogues' names and row counts as JSON."""
    return dumps([{"name": name, "rows": len(catalogue.load(name))} for name in catalogue.NAMES])


def rows_text(name: str, beside: Path | None, show: Show = "mm") -> str:
    """Return every row of a catalogue; each source stands once, as a numbered note.

    Lengths are in the units of ``show``.

    Raises:
        BuildFileError: no such catalogue, or a CSV file beside the build file is faulty.
    """
    sources: dict[str, int] = {}
    lines: list[str] = []
    for row in _rows(name, beside).values():
        lines += textwrap.wrap(f"{row.id}  ({row.name})", WIDTH, subsequent_indent="    ")
        for figure_name, figure in row.figures.items():
            said = figure.source
            if not said.startswith(figure.basis):
                said = f"{figure.basis}: {said}"
            note = sources.setdefault(said, len(sources) + 1)
            unit = "" if figure.unit in ("count", "ratio") else f" {figure.unit}"
            value, low, high = (f"{n:g}" for n in (figure.value, figure.low, figure.high))
            if show == "in" and figure.unit == "mm":
                unit = " in"
                value, low, high = (inches(n) for n in (figure.value, figure.low, figure.high))
            spread = "" if figure.low == figure.high else f"  ({low} to {high})"
            lines.append(f"  {figure_name:<24} {value}{unit}{spread}  [{note}]")
        for text_name, text in row.texts.items():
            if text:
                lines += textwrap.wrap(
                    f"{text_name}: {text}", WIDTH, initial_indent="  ", subsequent_indent="    "
                )
        lines.append("")
    lines.append("Sources")
    for source, note in sources.items():
        lines += textwrap.wrap(f"[{note}] {source}", WIDTH, subsequent_indent="    ")
    return "\n".join(lines) + "\n"


def inches(mm: float) -> str:
    """Write a catalogue's length as a number of inches.

    What is a whole number of 64ths stands as a fraction, as it is sold; everything else to
    0.001 in, because a drill of 2.24 mm is not one of 3/32 in.
    """
    parts = mm / 25.4 * 64
    if abs(parts - round(parts)) < 0.001:  # 0.0004 mm: the figure was made from the fraction
        return fraction_text(mm, 64).removesuffix(" in")
    return f"{round(mm / 25.4, 3):g}"


def own_csv(name: str, beside: Path | None) -> str:
    """Return a CSV file to start one's own from: the columns, and the first row as an example.

    Laid beside a build file as it is, it changes nothing.

    Raises:
        BuildFileError: no such catalogue, or a CSV file beside the build file is faulty.
    """
    row = next(iter(_rows(name, beside).values()))
    cells = {"id": row.id, "name": row.name, **row.texts}
    for column in catalogue.SCHEMAS[name].figures:
        figure = row.figures.get(column.name)
        if figure is not None:
            cells[column.heading] = f"{figure.value:.10g}"
            cells[f"{column.name}_low"] = f"{figure.low:.10g}"
            cells[f"{column.name}_high"] = f"{figure.high:.10g}"
            cells[f"{column.name}_basis"] = figure.basis
            cells[f"{column.name}_source"] = figure.source
    text = io.StringIO()
    headings = catalogue.SCHEMAS[name].headings()
    writer = csv.DictWriter(text, headings, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerow(cells)
    return text.getvalue()


def as_data(name: str, beside: Path | None) -> str:
    """Return a catalogue's rows as JSON.

    Raises:
        BuildFileError: no such catalogue, or a CSV file beside the build file is faulty.
    """
    return dumps([catalogue.as_json(row) for row in _rows(name, beside).values()])


def _rows(name: str, beside: Path | None) -> dict[str, catalogue.Row]:
    if name not in catalogue.NAMES:
        close = get_close_matches(name, catalogue.NAMES, 1)
        near = f"; nearest: {close[0]}" if close else ""
        raise BuildFileError(
            [
                Problem(
                    key="NAME",
                    read=repr(name),
                    wanted=f"a catalogue, one of {', '.join(catalogue.NAMES)}{near}",
                    example="collarwright catalog shanks",
                )
            ]
        )
    return catalogue.load(name, beside)
