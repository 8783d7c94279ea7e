"""On which line of a TOML text each key stands, and which keys are given twice.

``tomllib`` gives values without their places, so the text is read a second time, by a
tree-sitter grammar; that also works on a text that is not quite TOML.
"""

import json
from dataclasses import dataclass, field
from functools import cache
from typing import Literal

import tree_sitter_toml
from tree_sitter import Language, Node, Parser

from .paths import Path, path_text

DEEPEST = 8
"""Nothing in a build file is nested deeper than this; places below are not kept."""

MOST = 50_000
"""Places kept of one file; more stand in no file that a person wrote."""

Sort = Literal["key", "table", "row", "implied"]


@dataclass(frozen=True, slots=True)
class Twice:
    """Something that a text gives a second time: where, and the bytes that it takes."""

    path: Path
    sort: Sort
    line: int
    before: int
    start: int
    end: int


@dataclass(slots=True)
class Places:
    """The places of one text. ``lines`` goes from a path's text to its line, counted from 1."""

    lines: dict[str, int] = field(default_factory=dict[str, int])
    twice: list[Twice] = field(default_factory=list[Twice])
    _seen: dict[Path, tuple[Sort, int]] = field(default_factory=dict[Path, tuple[Sort, int]])
    _rows: dict[Path, int] = field(default_factory=dict[Path, int])

    def _note(self, path: Path, line: int) -> None:
        if len(path) <= DEEPEST and len(self.lines) < MOST:
            self.lines.setdefault(path_text(path), line)

    def _claim(self, path: Path, sort: Sort, node: Node) -> None:
        """Note a path that may stand there once only."""
        line = node.start_point.row + 1
        old = self._seen.get(path)
        if old is None or (old[0] == "row" == sort) or (old[0] == "implied" and sort == "implied"):
            self._seen.setdefault(path, (sort, line))
        else:
            self.twice.append(Twice(path, sort, line, old[1], node.start_byte, node.end_byte))
        self._note(path, line)

    def _latest(self, keys: tuple[str, ...]) -> Path:
        """Return where a header's path leads: into the latest row of each list of tables."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            if path in self._rows:
                path = (*path, self._rows[path] - 1)
        return path

    def header(self, node: Node) -> Path:
        """Take in ``[table]`` or ``[[table]]`` and return the path that its keys get."""
        keys = next((_keys(child) for child in node.named_children if _is_key(child)), ())
        if not keys or len(keys) > DEEPEST:
            return ("",) * (DEEPEST + 1)
        path = (*self._latest(keys[:-1]), keys[-1])
        if node.type == "table":
            self._claim(path, "table", node)
            return path
        self._claim(path, "row", node)
        count = self._rows.get(path, 0)
        self._rows[path] = count + 1
        self._note((*path, count), node.start_point.row + 1)
        return (*path, count)

    def pair(self, base: Path, node: Node) -> None:
        """Take in ``key = value`` with everything inside the value."""
        waiting: list[tuple[Path, Node]] = [(base, node)]
        while waiting:
            base, node = waiting.pop()
            if node.type != "pair":
                self._note(base, node.start_point.row + 1)
                waiting += reversed(_inside(base, node))
                continue
            children = [child for child in node.named_children if child.type != "comment"]
            keys = _keys(children[0]) if children else ()
            if not keys or len(base) + len(keys) > DEEPEST:
                continue
            for count in range(1, len(keys)):
                self._claim((*base, *keys[:count]), "implied", node)
            path = (*base, *keys)
            self._claim(path, "key", node)
            waiting += reversed(_inside(path, children[-1]))


def _inside(path: Path, node: Node) -> list[tuple[Path, Node]]:
    """Return what stands inside an array or an inline table, in its order."""
    children = [child for child in node.named_children if child.type != "comment"]
    if node.type == "array" and len(path) < DEEPEST:
        return [((*path, index), child) for index, child in enumerate(children)]
    if node.type == "inline_table":
        return [(path, child) for child in children if child.type == "pair"]
    return []


def places(text: bytes) -> Places:
    """Return where everything stands in a TOML text, as far as it can be made out."""
    found = Places()
    for node in _parser().parse(text).root_node.named_children:
        if node.type == "pair":
            found.pair((), node)
        elif node.type in {"table", "table_array_element"}:
            base = found.header(node)
            for child in node.named_children:
                if child.type == "pair":
                    found.pair(base, child)
    _one_row(found.lines)
    return found


def _one_row(lines: dict[str, int]) -> None:
    """Let a single ``[[taps]]`` be found as ``taps``, the way a single ``[taps]`` is."""
    if "taps[1]" in lines and "taps[2]" not in lines:
        for key in [key for key in lines if key.startswith("taps[1]")]:
            lines.setdefault(f"taps{key[7:]}", lines[key])


@cache
def _parser() -> Parser:
    return Parser(Language(tree_sitter_toml.language()))


def _is_key(node: Node) -> bool:
    return node.type in {"bare_key", "quoted_key", "dotted_key"}


def _keys(node: Node) -> tuple[str, ...]:
    """Return the parts of a key; without recursion, as dots can be piled up without end."""
    parts: list[str] = []
    waiting = [node]
    while waiting:
        node = waiting.pop()
        if node.type == "dotted_key":
            waiting += reversed(node.named_children)
        elif node.type in {"bare_key", "quoted_key"}:
            parts.append(_unquoted((node.text or b"").decode(errors="replace")))
    return tuple(parts)


def _unquoted(key: str) -> str:
    if key[:1] == "'":
        return key[1:-1]
    if key[:1] == '"':
        try:
            return str(json.loads(key))
        except ValueError:  # an escape that JSON does not have: \U0001F600, \e
            return key[1:-1]
    return key
