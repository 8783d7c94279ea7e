"""Changes answers in the text of a build file and leaves every other line as it is.

A person's own comments, keys and order stay. What is changed is looked for as text, line by line,
and then read back: a change that did not arrive, or touched something else, is refused.
"""

import re
import tomllib
from collections.abc import Mapping

from ..reading.document import EXAMPLE
from .answers import answers_in
from .asked import BY_KEY
from .question import Question
from .text import OPEN, entry, explained, header, open_entry
from .value import toml_of

_HEADER = re.compile(r"\s*(#\s?)?\[{1,2}\s*([A-Za-z_.]+)\s*\]{1,2}\s*(#.*)?")
_VALUE = r"""(?:"(?:[^"\\]|\\.)*"|'[^']*'|\{[^{}]*\}|\[[^\[\]]*\]|[^\s#"'\[{][^#]*?)"""


class EditError(ValueError):
    """A key stands in the file in a way that is changed by hand only; the text says which."""


def edit(
    text: str,
    changes: Mapping[str, str | None],
    opens: Mapping[str, tuple[str, ...]] | None = None,
) -> str:
    """Return the text with these answers in it.

    Args:
        text: a build file.
        changes: by key, as typed; None takes an answer away.
        opens: the checks that need a key, for those that are taken away.

    Raises:
        EditError: the text cannot be changed so.
    """
    lines = text.removesuffix("\n").split("\n")
    for key, typed in changes.items():
        question = BY_KEY[key]
        if typed is None:
            _take_out(lines, question, (opens or {}).get(key, ()))
        else:
            _put_in(lines, question, typed)
    changed = "\n".join(lines) + "\n"
    _read_back(text, changed, changes)
    return changed


def _read_back(before: str, after: str, changes: Mapping[str, str | None]) -> None:
    """Raise where the changed text does not say what it should, and nothing else."""
    old, new = answers_in(before), answers_in(after)
    for key, typed in changes.items():
        wanted = None if typed is None else _value(BY_KEY[key], typed)
        found = None
        if new is not None and key in new.answers:
            found = _value(BY_KEY[key], new.answers[key])
        if new is None or found != wanted:
            raise EditError(f"{key} stands in the file in a way of its own: change it by hand")
    if old is not None and new is not None:
        for key in old.answers.keys() | new.answers.keys():
            if key not in changes and old.answers.get(key) != new.answers.get(key):
                raise EditError(f"{key} would change too: change the file by hand")


def _value(question: Question, typed: str) -> object:
    return tomllib.loads(f"x = {toml_of(question, typed)}")["x"]


def _section(lines: list[str], table: str) -> tuple[int, int] | None:
    """Return the lines of a table: that of its header, and the one after its last."""
    heads: list[tuple[int, str, bool]] = []
    for number, line in enumerate(lines):
        match = _HEADER.fullmatch(line)
        if match:
            heads.append((number, match[2], match[1] is not None))
    ends = [number for number, _, _ in heads[1:]] + [len(lines)]
    if not table:
        return -1, heads[0][0] if heads else len(lines)
    if not heads:
        return None
    name, _, row = table.partition("[")
    found = [
        (number, end, commented)
        for (number, each, commented), end in zip(heads, ends, strict=True)
        if each == name
    ]
    place = int(row[:-1]) - 1 if row else 0
    if not row:
        found = [each for each in found if not each[2]] or found
    if place >= len(found):
        return None
    return found[place][0], found[place][1]


def _find(lines: list[str], question: Question, active: bool) -> int | None:
    """Return the line of a key in its table, in force or behind a #."""
    place = _section(lines, question.table)
    if place is None:
        return None
    mark = r"\s*" if active else r"#\s*"
    wanted = re.compile(rf"{mark}{question.name}\s*=")
    return next((n for n in range(place[0] + 1, place[1]) if wanted.match(lines[n])), None)


def _put_in(lines: list[str], question: Question, typed: str) -> None:
    at = _find(lines, question, active=True)
    if at is not None:
        lines[at] = _replaced(lines[at], question, typed)
        return
    at = _find(lines, question, active=False)
    line = entry(question, typed)
    if at is not None:
        lines[at] = line
        note = _note_above(lines, at)
        del lines[note:at]
        _head_in_force(lines, question.table)
        return
    place = _section(lines, question.table)
    if place is None:
        lines += ["", "", header(question.table), "", *explained(question), line]
        return
    end = place[1]
    while end > place[0] + 1 and not lines[end - 1].strip():
        end -= 1
    lines[end:end] = ["", *explained(question), line]
    _head_in_force(lines, question.table)


def _replaced(line: str, question: Question, typed: str) -> str:
    """Return a key's line with another value; a comment behind it stays, unless it is ours."""
    match = re.fullmatch(rf"(\s*{question.name}\s*=\s*){_VALUE}(\s*#.*)?\s*", line)
    if match is None:
        raise EditError(f"{question.key} runs over several lines: change it by hand")
    behind = match[2] or ""
    if behind.strip() == EXAMPLE:
        behind = ""
    return f"{match[1]}{toml_of(question, typed)}{behind}"


def _note_above(lines: list[str], at: int) -> int:
    """Return where the lines begin that say why a key is open; ``at`` where there are none."""
    for number in range(at - 1, max(at - 8, -1), -1):
        if lines[number].startswith(OPEN):
            return number
        if not lines[number].startswith("#"):
            break
    return at


def _head_in_force(lines: list[str], table: str) -> None:
    place = _section(lines, table)
    if table and place is not None:
        match = _HEADER.fullmatch(lines[place[0]])
        if match and match[1]:
            lines[place[0]] = lines[place[0]].lstrip()[1:].lstrip()


def _take_out(lines: list[str], question: Question, checks: tuple[str, ...]) -> None:
    at = _find(lines, question, active=True)
    if at is None:
        return
    lines[at : at + 1] = open_entry(question, checks)
    place = _section(lines, question.table)
    if question.table and place is not None:
        inside = lines[place[0] + 1 : place[1]]
        if not any(line.strip() and not line.lstrip().startswith("#") for line in inside):
            lines[place[0]] = f"# {lines[place[0]].lstrip()}"
