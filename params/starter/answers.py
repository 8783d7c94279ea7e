"""Which answers stand in a build file already, and which questions are left."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from ..reading.document import EXAMPLE
from .asked import BY_KEY, QUESTIONS
from .question import Question
from .value import is_zero, typed_of


@dataclass(frozen=True, slots=True)
class Said:
    """What a file says: ``answers`` by key, as they would be typed.

    ``own`` are keys that are not asked for because somebody answered them by hand, in a way that
    the questions do not know (several rows of taps, positions in place of a spacing).
    """

    answers: Mapping[str, str]
    own: frozenset[str] = frozenset()


def answers_in(text: str) -> Said | None:
    """Return what a build file says; None where it is no TOML. An example is no answer."""
    lines = text.splitlines()
    kept = [line for line in lines if line.startswith("#") or not line.rstrip().endswith(EXAMPLE)]
    try:
        tomllib.loads(text)
        data: dict[str, Any] = tomllib.loads("\n".join(kept))
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return None
    answers: dict[str, str] = {}
    own: set[str] = set()
    for question in QUESTIONS:
        found = _value(data, question.key)
        typed = None if found is None else typed_of(question, found)
        if typed is not None:
            answers[question.key] = typed
        elif found is not None or any(_value(data, key) is not None for key in question.instead):
            own.add(question.key)
    taps = data.get("taps")
    if isinstance(taps, list) and len(cast("list[object]", taps)) > 1:
        for key in BY_KEY:
            if key.startswith("taps."):
                answers.pop(key, None)
                own.add(key)
    return Said(answers, frozenset(own))


def _value(data: Mapping[str, Any], key: str) -> object:
    """Return the value of a key such as ``vessel[2].kind``; None where there is none."""
    here: object = data
    for part in key.split("."):
        name, _, row = part.partition("[")
        number = row.rstrip("]")
        here = cast("dict[str, object]", here).get(name) if isinstance(here, dict) else None
        if isinstance(here, list) and (number or name == "taps"):
            rows = cast("list[object]", here)
            place = int(number or 1) - 1
            here = rows[place] if place < len(rows) else None
    return cast("object", here)


def answered(question: Question, answers: Mapping[str, str]) -> bool:
    """Tell whether a question is answered, by its key or by sizes in place of it."""
    sizes = question.measured
    return question.key in answers or bool(sizes and all(key in answers for key in sizes))


def makes_sense(question: Question, answers: Mapping[str, str]) -> bool:
    """Tell whether a question is worth asking after these answers."""
    if question.key == "taps.spacing":
        return answers.get("taps.count") != "1"
    if not question.follows:
        return True
    before = BY_KEY[question.follows]
    return answered(before, answers) and not is_zero(answers.get(before.key, "x"))
