"""``catalog``: what can be named in a build file, with the range and source of each figure."""

import textwrap
from difflib import get_close_matches
from pathlib import Path

from ..params import catalogue
from ..params.problem import BuildFileError, Problem
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


def rows_text(name: str, beside: Path | None) -> str:
    """Return every row of a catalogue; each source stands once, as a numbered note.

    Raises:
        BuildFileError: no such catalogue, or a CSV file beside the build file is faulty.
    """
    sources: dict[str, int] = {}
    lines: list[str] = []
    for row in _rows(name, beside).values():
        lines.append(f"{row.id}  ({row.name})")
        for figure_name, figure in row.figures.items():
            said = figure.source
            if not said.startswith(figure.basis):
                said = f"{figure.basis}: {said}"
            note = sources.setdefault(said, len(sources) + 1)
            spread = "" if figure.low == figure.high else f"  ({figure.low:g} to {figure.high:g})"
            unit = "" if figure.unit in ("count", "ratio") else f" {figure.unit}"
            lines.append(f"  {figure_name:<24} {figure.value:g}{unit}{spread}  [{note}]")
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
