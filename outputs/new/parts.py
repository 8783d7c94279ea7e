"""Answers that name a bought thing, in a person's own words, and sizes measured in place of one."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ...params.catalogue import Row, load
from ...params.problem import BuildFileError
from ...params.starter import Question
from ...params.units import Show, UnitError, length_text, parse

MOST = 9
"""Rows that are offered at a time: one digit each."""

_AS, _AS_REST = {"board.stock": "3/4 in x 5 1/2 in"}, "9 in x 25 in"

SIZES = {
    "lumber": "{thickness} x {width}",
    "shanks": "thread {thread_length}",
    "faucets": "body {body_width} wide",
    "handles": "{width} wide",
    "wrenches": "reaches {reach}",
    "foam": "{thickness} thick",
    "vessels": "{diameter} across, {height} high",
}
"""How the figures are told that tell the rows of a catalogue apart."""


@dataclass(frozen=True, slots=True)
class Found:
    """What an answer about a part comes to.

    ``changes`` are the answers to take, by key; where they are empty, ``offers`` are the things
    that may have been meant, each with its words, to choose from by number.
    """

    changes: Mapping[str, str | None] = field(default_factory=dict[str, "str | None"])
    said: str = ""
    offers: tuple[tuple[str, Mapping[str, str | None]], ...] = ()


def look(question: Question, typed: str, path: Path, show: Show) -> Found:
    """Find what somebody means by an answer to a question about a part.

    Args:
        question: one with a catalogue.
        typed: an id, words of a name, or sizes.
        path: the build file; catalogue files beside it count.
        show: how sizes are told.
    """
    rows = rows_of(question, path)
    if typed in rows:
        return Found(_by_id(question, typed))
    sizes = _sizes(question, typed)
    if len(question.measured) > 1 and _is_length(typed):
        names = " and ".join(key.rpartition(".")[2] for key in question.measured)
        return Found({}, f"That is one length: give {names}, as {_AS.get(question.key, _AS_REST)}.")
    near = [] if sizes and question.catalogue == "foam" else nearest(rows, typed, exact=bool(sizes))
    if sizes and not near:
        return Found(sizes)
    offers = [(told(row, show), _by_id(question, row.id)) for row in near[:MOST]]
    if sizes:
        offers.append((f"measured on the part: {typed}", sizes))
    elif len(near) == 1:
        return Found(_by_id(question, near[0].id), f"Taken: {told(near[0], show)}.")
    more = len(near) - MOST
    said = f"{more} more fit these words: add a word of the name." if more > 0 else ""
    return Found({}, said, tuple(offers))


def rows_of(question: Question, path: Path) -> dict[str, Row]:
    """Return the rows that a question may be answered with."""
    try:
        rows = load(question.catalogue, path.parent)
    except BuildFileError:
        rows = load(question.catalogue)  # what is wrong with the file beside is told elsewhere
    return {each: row for each, row in rows.items() if each != "shank-measured"}


def told(row: Row, show: Show) -> str:
    """Tell a row in one line: id, name, what sizes it has."""
    known = {
        name: length_text(figure.value, show)
        for name, figure in row.figures.items()
        if figure.unit == "mm"
    }
    try:
        sizes = SIZES.get(row.catalogue, "").format_map(known)
    except KeyError:  # a row without that figure, as foam that is sold in several thicknesses
        sizes = ""
    return f"{row.id}: {row.name}" + (f", {sizes}" if sizes else "")


def nearest(rows: Mapping[str, Row], typed: str, *, exact: bool = False) -> list[Row]:
    """Return the rows whose id or name has the words, those that have them in a row before all.

    Words that a name's own words begin with go before those that stand inside of one.

    ``exact`` wants them in a row: where the words may also be sizes, a chance likeness is none.
    """
    words = _words(typed)
    if exact and any("x" in word for word in words):
        words = [word for word in words if word not in ("in", "mm", "cm")]  # 1 x 6 in is a 1x6
    if not words:
        return []
    line = " ".join(words)
    texts = {each: _line(row) for each, row in rows.items()}
    together = [rows[each] for each, text in texts.items() if f" {line} " in text]
    if together or exact:
        return together
    count = len(words)
    for wanted, inside in ((count, False), (count, True), (count - 1, False)):
        some = [
            rows[each]
            for each, text in texts.items()
            if wanted and sum(_has(text, word, inside) for word in words) >= wanted
        ]
        if some and (wanted == count or len(some) <= MOST):
            return some
    return []


INSIDE = 4
"""A word of so many letters is also looked for inside of others: cedar is in redcedar."""


def _has(text: str, word: str, inside: bool) -> bool:
    return f" {word}" in text or (inside and len(word) >= INSIDE and word in text)


def _words(text: str) -> list[str]:
    plain = re.sub(r"(?<=\d)\s*[x×]\s*(?=\d)", "x", text.lower())
    plain = re.sub(r"\binch(es)?\b|[\"”″]", " in ", plain)
    words = re.findall(r"[a-z0-9]+", plain)
    return [word for word in words if word not in ("the", "a", "of", "shank", "board", "boards")]


def _line(row: Row) -> str:
    return f" {' '.join(_words(row.id))} | {' '.join(_words(row.name))} "


def _by_id(question: Question, part_id: str) -> dict[str, str | None]:
    changes: dict[str, str | None] = dict.fromkeys(question.measured)
    changes[question.key] = part_id
    return changes


def _is_length(typed: str) -> bool:
    try:
        parse(typed, "length")
    except UnitError:
        return False
    return True


def _sizes(question: Question, typed: str) -> dict[str, str | None]:
    """Take sizes measured on the part apart; empty where the answer is something else."""
    if not question.measured:
        return {}
    parts = [each.strip() for each in re.split(r"\s*[x×]\s*|\s+by\s+", typed.strip())]
    if len(parts) != len(question.measured):
        return {}
    unit = re.search(r"[a-z\"'″′]+$", parts[-1].lower())
    if unit and len(parts) > 1:
        parts = [each if re.search(r"[a-z\"'″′]$", each) else f"{each} {unit[0]}" for each in parts]
    try:
        for each in parts:
            parse(each, "length")
    except UnitError:
        return {}
    changes: dict[str, str | None] = {question.key: None}
    return changes | dict(zip(question.measured, parts, strict=True))
