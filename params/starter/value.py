"""Answers as they are typed, and as TOML writes them."""

import json
import re
from collections.abc import Mapping
from typing import cast

from ..project import SIDES
from .question import Question

_SIDE = re.compile(r"\s*(front|right|back|left|others?|sides)\s*[:=]?\s+(.+?)\s*", re.IGNORECASE)
_BETWEEN = re.compile(r"(?<=[a-z\"”″])\s*,\s*|,\s+", re.IGNORECASE)
"""A comma between places: after a unit, or before a space; no comma in a number."""
_AND = re.compile(r"\s*(?:;|\band\b)\s*")


def toml_of(question: Question, typed: str) -> str:
    """Return an answer as TOML writes it; what it does not understand stays a text."""
    text = typed.strip()
    if question.form == "count" and text.isdecimal():
        return str(int(text))
    if question.form == "yes" and text.lower() in ("yes", "no"):
        return "true" if text.lower() == "yes" else "false"
    if question.form in ("readings", "list"):
        readings = readings_of(text) if question.form == "readings" else places_of(text)
        if len(readings) > 1 or question.form == "list":
            return f"[{', '.join(map(_quoted, readings))}]"
    if question.form == "sides":
        sides = by_side(text)
        if sides:
            return f"{{ {', '.join(f'{side} = {_quoted(said)}' for side, said in sides.items())} }}"
    return _quoted(text)


def by_side(text: str) -> dict[str, str]:
    """Take ``front 1/2 in, others 1/4 in`` apart; empty where sides are not named throughout."""
    found: dict[str, str] = {}
    rest = ""
    for part in re.split(r"[;,]", text):
        match = _SIDE.fullmatch(part)
        if match is None:
            return {}
        word = match[1].lower()
        if word in SIDES:
            if word in found:
                return {}
            found[word] = match[2]
        else:
            rest = match[2]
    return {side: found.get(side, rest) for side in SIDES if found.get(side, rest)}


def typed_of(question: Question, value: object) -> str | None:
    """Return a value of a file as it would be typed; None for what cannot be an answer."""
    if isinstance(value, bool):
        return ("yes" if value else "no") if question.form == "yes" else None
    if isinstance(value, int):
        return str(value) if question.form == "count" else None
    if isinstance(value, str):
        return value if value.strip() else None
    if isinstance(value, list) and question.form in ("readings", "list"):
        some = cast("list[object]", value)
        texts = [each for each in some if isinstance(each, str)]
        return "; ".join(texts) if texts and len(texts) == len(some) else None
    if isinstance(value, dict) and question.form == "sides":
        sides = cast("Mapping[str, object]", value)
        if sides and set(sides) <= set(SIDES) and all(isinstance(v, str) for v in sides.values()):
            return ", ".join(f"{side} {said}" for side, said in sides.items())
    return None


def is_zero(typed: str) -> bool:
    """Tell whether an answer is a zero, on every side that it names."""
    return bool(re.search(r"\d", typed)) and not re.search("[1-9]", typed)


def readings_of(typed: str) -> list[str]:
    """Return the readings in an answer that may repeat one."""
    return [each for each in _AND.split(typed.strip()) if each]


def places_of(typed: str) -> list[str]:
    """Return the places in an answer that lists some: ``-13 in; 13 in`` or with a comma."""
    return [each for part in readings_of(typed) for each in _BETWEEN.split(part) if each.strip()]


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
