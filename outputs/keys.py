"""``keys``: what may be written in a build file, with what each key means.

What a key means is written once, below its field in ``params/project.py``; it is read from there
when it is asked for, so that what is printed is what stands beside the code.
"""

import ast
import inspect
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from functools import cache
from typing import Any, cast

from pydantic import BaseModel

from ..params import project
from ..params.problem import BuildFileError, Problem
from ..params.reading.keys import Key, every, find, under
from ..params.reading.limits import CHECKS
from ..params.units import BASE, WORDS, Kind, mm_text
from .summary import dumps
from .text import wrapped

TOP = "top"
"""How the keys above the first table are asked for; in a build file they have no heading."""

_HEADING = re.compile(r"``\[+([a-z_.]+)\]+``: ")


@dataclass(frozen=True, slots=True)
class Entry:
    """One key as it is told.

    ``default`` is what stands for the key where it is left out, as TOML; None where nothing
    does. ``kind`` is what the key wants in words, ``line`` a line that would be accepted.
    """

    key: str
    required: bool
    default: str | None
    kind: str
    line: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Section:
    """One table as it is told; ``heading`` is its line in a build file, empty for the top."""

    table: str
    heading: str
    required: bool
    meaning: str
    keys: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class _Written:
    """A class of ``params/project.py``: what stands below its name and below each field."""

    name: str
    meaning: str
    fields: Mapping[str, str]


def keys_text(name: str | None) -> str:
    """Return a table and the tables in it as text; one key by its path; without a name all.

    Raises:
        BuildFileError: the build file has no such table or key.
    """
    lines: list[str] = []
    for section in _asked(name):
        need = "required" if section.required else "optional"
        lines += [f"{section.heading}  {need}"] if section.heading else []
        lines += [*wrapped(section.meaning, "  ", "  "), ""]
        for entry in section.keys:
            need = "required" if entry.required else "optional"
            if entry.default is not None:
                need = f"default {entry.default}"
            lines += wrapped(f"  {entry.line}", "  ", "    ")
            lines += wrapped(f"{need}; {entry.kind}", "      ", "      ")
            lines += [*wrapped(entry.meaning, "      ", "      "), ""]
    return "\n".join(lines).rstrip("\n") + "\n"


def keys_data(name: str | None) -> str:
    """Return the same as JSON: a list of tables, each with its keys.

    Raises:
        BuildFileError: the build file has no such table or key.
    """
    return dumps([asdict(section) for section in _asked(name)])


def meaning(path: str) -> str:
    """Return what a key means, in one line.

    Raises:
        KeyError: the build file has no such key.
    """
    table, _, name = path.rpartition(".")
    return _written()[table].fields[name]


def _asked(name: str | None) -> list[Section]:
    """Return the sections that a name asks for."""
    written = _written()
    if name is None:
        return [_section(table, written[table]) for table in written]
    wanted = name.strip("[] ").lower()
    path = "" if wanted == TOP else wanted or "?"
    if path in written:
        return [
            _section(table, written[table])
            for table in written
            if table == path or (path and table.startswith(f"{path}."))
        ]
    key = find(path)
    if key is None:
        raise BuildFileError([_unknown(name, wanted, written)])
    table = key.path.rpartition(".")[0]
    whole = _section(table, written[table])
    one = tuple(entry for entry in whole.keys if entry.key == key.path)
    return [Section(whole.table, whole.heading, whole.required, whole.meaning, one)]


def _unknown(name: str, wanted: str, written: Mapping[str, _Written]) -> Problem:
    """Say that there is no such table, and what is nearest to it."""
    from difflib import get_close_matches  # only a mistake pays for it

    tables = [table or TOP for table in written]
    paths = [key.path for key in every().values()]
    last = wanted[:60].rpartition(".")[2]
    close = get_close_matches(wanted[:60], tables, 3, 0.5)
    close += [path for path in paths if path.rpartition(".")[2] == last and path not in close]
    close = close or get_close_matches(wanted[:60], paths, 3)
    near = f"; nearest: {', '.join(close[:4])}" if close else ""
    return Problem(
        key="TABLE",
        read=repr(name[:60]),
        wanted=f"a table of the build file, one of {', '.join(tables)}{near}",
        example="collarwright keys lip",
    )


@cache
def _written() -> Mapping[str, _Written]:
    """Return what is written in ``params/project.py``, by table, in the order of the file.

    A class that is a table names it at the head of its docstring; the top of the file is the
    class ``Top``. Tables inside a table come behind it.
    """
    found: dict[str, _Written] = {}
    for node in ast.parse(inspect.getsource(project)).body:
        if isinstance(node, ast.ClassDef):
            said = ast.get_docstring(node) or ""
            heading = _HEADING.match(said)
            if heading or node.name == "Top":
                first = said.partition("\n\n")[0]
                meaning = _one_line(first[heading.end() :] if heading else first)
                meaning = f"{meaning[:1].upper()}{meaning[1:]}"
                table = heading[1] if heading else ""
                found[table] = _Written(node.name, meaning, dict(_fields(node)))
    return dict(sorted(found.items(), key=lambda each: _place(each[0])))


def _place(table: str) -> tuple[int, int]:
    """Return where a table comes: by its outermost table, that one first."""
    order = ["", *every()]
    return order.index(table.partition(".")[0]), order.index(table)


def _fields(node: ast.ClassDef) -> Iterator[tuple[str, str]]:
    """Yield each field of a class with the text on the line below it."""
    for each, after in zip(node.body, node.body[1:], strict=False):
        match each, after:
            case (
                ast.AnnAssign(target=ast.Name(id=name)),
                ast.Expr(value=ast.Constant(value=str(text))),
            ):
                yield name, _one_line(text)
            case _:
                pass


def _one_line(text: str) -> str:
    """Return a docstring's text as one line."""
    return " ".join(text.replace("``", "").split())


def _section(table: str, written: _Written) -> Section:
    if table == "limits":
        return Section(table, "[limits]", False, written.meaning, _limits(written.fields))
    at = find(table) if table else None
    model = cast("type[BaseModel]", getattr(project, written.name))
    entries = tuple(
        _entry(key, model, written.fields[key.name])
        for key in under(table)
        if key.name in model.model_fields
    )
    heading = at.line if at else ""
    if table == "taps":
        heading = "[[taps]]"  # one row may also stand in single brackets
    return Section(table or TOP, heading, at.required if at else False, written.meaning, entries)


def _entry(key: Key, model: type[BaseModel], meaning: str) -> Entry:
    kind = f"{key.wanted}, or a table of them by side" if key.by_side else key.wanted
    if key.table:
        kind = "a table of its own"
    default = None if key.required else _default(key, model.model_fields[key.name].default)
    return Entry(key.path, key.required, default, kind, key.line, meaning)


def _default(key: Key, value: Any) -> str | None:
    """Write a field's default as it would stand in a build file; None where nothing is said."""
    if value is None or value in ("", ()) or isinstance(value, BaseModel):
        return None
    if key.kind is not None:
        value = _figure(value, key.kind)
    return json.dumps(value, ensure_ascii=False)


def _figure(value: float, kind: Kind) -> str:
    if kind == "length":
        return mm_text(value)
    return f"{value:g} %" if kind == "percent" else f"{value:g} {BASE[kind]}"


def _limits(meanings: Mapping[str, str]) -> tuple[Entry, ...]:
    """Return the keys of ``[limits]``, which are other tables' keys and the ids of checks."""
    ids: dict[str, list[str]] = {}
    for check, kind in CHECKS.items():
        if kind is not None:
            words = "a plain number" if kind == "number" else WORDS[kind]
            ids.setdefault(words, []).append(check)
    kinds = "; ".join(f"{words} for {', '.join(names)}" for words, names in ids.items())
    told = (
        ("required", None, kinds, 'handle-gap = "25 mm"'),
        ("readings", None, "a quantity of the reading's kind", '"lid.gasket_inset" = "1 mm"'),
        (
            "tighten_with_lid",
            json.dumps(project.Limits().tighten_with_lid),
            'one of "open", "closed"',
            'tighten_with_lid = "closed"',
        ),
        ("heat", None, WORDS["power"], 'heat = "15 W"'),
    )
    names = {"required": "limits.CHECK", "readings": "limits.READING"}
    return tuple(
        Entry(names.get(name, f"limits.{name}"), False, default, kind, line, meanings[name])
        for name, default, kind, line in told
    )
