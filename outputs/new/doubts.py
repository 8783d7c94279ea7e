"""Readings that can be typed so and hardly were read so: what may have been meant.

Nothing is refused here. A doubt is told once; the same answer again keeps it.
"""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import cast

from ...geometry.shape.lip_slips import NARROWEST_DEG, far_apart
from ...geometry.shape.plane import interior_deg
from ...geometry.shape.six_lengths import KEYS, Readings, closing_change, place
from ...params.starter import Question
from ...params.starter.value import by_side, places_of, readings_of
from ...params.units import INCH, PRINTED, Show, UnitError, both_text, length_text, parse
from .checking import DIAGONALS

FAR_FROM_SQUARE_DEG = 2.0
"""A corner further off than this is asked about once more (common practice, no source): a
freezer's lip is seldom more than one degree out of square."""

SLIPS: Mapping[Show, tuple[tuple[float, str], ...]] = {
    "in": ((INCH, "1 in"), (304.8, "1 ft")),
    "mm": ((10.0, "10 mm"), (100.0, "100 mm")),
}
"""How far a tape is misread at a time, mm, by what is printed on it (common practice)."""

OPPOSITE = {"front": "back", "back": "front", "left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class Doubt:
    """What is odd about an answer, and what may have been meant; empty where nobody can tell."""

    text: str
    offer: str = ""


def doubt(
    answers: Mapping[str, str], question: Question, typed: str, tape: float = 1.0
) -> Doubt | None:
    """Return what is odd about an answer beside the others; None if nothing is.

    Args:
        answers: those before this one.
        question: the one that is answered.
        typed: the answer.
        tape: limit of error of one reading of the lip, mm.
    """
    tried = {**answers, question.key: typed}
    found = _spread(question, typed, tape)
    if found is None and question.key in DIAGONALS:
        found = _diagonal(tried, question.key, typed, tape)
    if found is None and question.key.removeprefix("lip.") in OPPOSITE:
        found = _side(answers, question.key, typed, tape)
    if question.form == "list" and len(places_of(typed)) == 1:
        found = Doubt("one place alone? A lid mostly hangs by two hinges or more: give them all.")
    return found or _unusual(question, typed)


def mean(typed: str) -> float | None:
    """Return the mean of the readings in an answer, mm; None where one is no length."""
    try:
        some = [parse(each, "length") for each in readings_of(typed)]
    except UnitError:
        return None
    return sum(some) / len(some) if some else None


def unit_of(typed: str) -> Show:
    """Return the unit that somebody measures in."""
    return "mm" if re.search(r"\d\s*(mm|cm|m)\b", typed) else "in"


def slip(typed: str, wanted: float, close: float) -> tuple[str, str]:
    """Return what was meant and which slip it was, where one slip brings a reading near.

    Args:
        typed: the reading.
        wanted: what it should have been, mm.
        close: how near it has to come, mm.
    """
    read = mean(typed)
    if read is None or len(readings_of(typed)) > 1 or abs(read - wanted) <= close:
        return "", ""
    tries = [(text, "two digits swapped") for text in swapped(typed)]
    tries += [
        (length_text(other, unit_of(typed)), f"a slip of {name}")
        for size, name in SLIPS[unit_of(typed)]
        for other in (read - size, read + size)
    ]
    best = ("", "")
    for text, name in tries:
        found = mean(text)
        if found is not None and abs(found - wanted) <= close:
            best, close = (text, name), abs(found - wanted)
    return best


def swapped(typed: str) -> list[str]:
    """Return an answer with two neighboring digits of its first number changed about."""
    number = re.search(r"\d{2,}", typed)
    if number is None:
        return []
    digits = number.group()
    return [
        typed[: number.start()]
        + digits[:n]
        + digits[n + 1]
        + digits[n]
        + digits[n + 2 :]
        + typed[number.end() :]
        for n in range(len(digits) - 1)
        if digits[n] != digits[n + 1]
    ]


def _spread(question: Question, typed: str, tape: float) -> Doubt | None:
    """Doubt readings of one edge that lie further apart than a tape's error explains."""
    if question.form != "readings":
        return None
    some = [found for each in readings_of(typed) if (found := mean(each)) is not None]
    if len(some) < 2 or max(some) - min(some) <= 3 * tape + 1e-9:
        return None
    said = both_text(max(some) - min(some), unit_of(typed))
    return Doubt(f"these readings of one edge are {said} apart: read it once more.")


def _side(answers: Mapping[str, str], key: str, typed: str, tape: float) -> Doubt | None:
    """Doubt a side that differs from the opposite one by a slip of the tape."""
    side = key.removeprefix("lip.")
    other = OPPOSITE[side]
    before = answers.get(f"lip.{other}")
    here, there = mean(typed), mean(before or "")
    if before is None or here is None or there is None or abs(here - there) <= 2 * tape + 1e-9:
        return None
    meant, name = slip(typed, there, 2 * tape)
    apart = f"{side} and {other} ({before}) are {both_text(abs(here - there), unit_of(typed))}"
    if not meant and not far_apart(here, there):
        return None
    if not meant:
        return Doubt(f"{apart} apart, and a freezer's are nearly alike: measure both again.")
    return Doubt(f"{apart} apart, which looks like {name}; did you mean {meant}?", meant)


def _diagonal(answers: Mapping[str, str], key: str, typed: str, tape: float) -> Doubt | None:
    """Doubt a diagonal that does not belong to the sides, or to the other five readings."""
    if not all(f"lip.{side}" in answers for side in OPPOSITE):
        return None
    some = [mean(answers[f"lip.{name}"]) if f"lip.{name}" in answers else None for name in KEYS]
    front, right, back, left, *diagonals = some
    if None in (front, right, back, left) or mean(typed) is None:
        return None  # no length: the door says what is wrong with it
    for name in ("front", "right"):
        other = OPPOSITE[name]
        here, there = (mean(answers[f"lip.{each}"]) or 0.0 for each in (name, other))
        if far_apart(here, there):
            apart = both_text(abs(here - there), unit_of(typed))
            return Doubt(
                f"no diagonal belongs to these sides: {name} and {other} are {apart} apart, and a"
                f" freezer's are nearly alike. Type lip.{name} or lip.{other} to change one."
            )
    read = cast("Readings", tuple(some))
    k = KEYS.index(key.removeprefix("lip."))
    change = None if None in diagonals else closing_change(read, k)
    return _unclosed(typed, read, k, change, tape) if change is not None else _lean(typed, read, k)


def _unclosed(typed: str, read: Readings, k: int, change: float, tape: float) -> Doubt | None:
    """Doubt a diagonal that the other five readings do not meet; ``change`` is what it lacks.

    What the check ``readings`` lets pass is not doubted. Further off it hardly fits, and cannot
    once it is more than the tape's error at all six readings explains.
    """
    far = 3 * tape
    if abs(change) <= far + 1e-9:
        return None
    moved = [
        closing_change(cast("Readings", (*read[:i], (read[i] or 0.0) + tape, *read[i + 1 :])), k)
        for i in range(6)
        if i != k
    ]
    most = tape + sum(abs(each - change) for each in moved if each is not None)
    wanted = (read[k] or 0.0) + change
    fits = "hardly fits" if abs(change) <= most else "cannot belong to"
    about = f"with them, and {length_text(far, unit_of(typed))} of the tape's error, it lies"
    return _off(
        typed, wanted, far, f"{fits} the other five readings", about, (wanted - far, wanted + far)
    )


def _lean(typed: str, read: Readings, k: int) -> Doubt | None:
    """Doubt a diagonal that makes a corner of the lip lean far from square."""
    front, right, back, left = read[:4]

    def off(diagonal: float) -> float:
        first, second = (diagonal, None) if k == 4 else (None, diagonal)
        figure = place((front, right, back, left, first, second))
        return max(abs(interior_deg(figure, i) - 90) for i in range(4)) if figure else math.inf

    here, square = off(read[k] or 0.0), math.hypot((front + back) / 2, (right + left) / 2)
    if here <= FAR_FROM_SQUARE_DEG:
        return None
    fits = "hardly fits" if here <= 90 - NARROWEST_DEG else "cannot belong to"
    about = f"with corners within {FAR_FROM_SQUARE_DEG:g} deg of square it lies"
    between = None
    if off(square) <= FAR_FROM_SQUARE_DEG:
        between = _edge(off, square, square / 2), _edge(off, square, 2 * square)
    return _off(typed, square, 10.0, f"{fits} these sides", about, between)


def _edge(off: Callable[[float], float], inside: float, outside: float) -> float:
    """Return the last diagonal from ``inside`` on that is no farther off than is usual, mm."""
    while abs(outside - inside) > 1e-6:
        middle = (inside + outside) / 2
        if off(middle) <= FAR_FROM_SQUARE_DEG:
            inside = middle
        else:
            outside = middle
    return inside


def _off(
    typed: str,
    wanted: float,
    close: float,
    how: str,
    about: str,
    between: tuple[float, float] | None,
) -> Doubt:
    """Offer what a slip of the tape explains; without one say where the reading must lie."""
    meant, name = slip(typed, wanted, close)
    said = f"this diagonal {how}"
    if meant:
        return Doubt(f"{said}; did you mean {meant} ({name})?", meant)
    if between is None:
        return Doubt(f"{said}: measure it and all four sides again.")
    low, high = _inward(*between, unit_of(typed))
    return Doubt(f"{said}: {about} between {low} and {high}. Measure it again.")


def _inward(low: float, high: float, show: Show) -> tuple[str, str]:
    """Write bounds so that what is printed, and all between, is within them."""
    step = PRINTED[show]
    inner = math.ceil(low / step - 1e-9) * step, math.floor(high / step + 1e-9) * step
    return length_text(inner[0], show), length_text(inner[1], show)


def _unusual(question: Question, typed: str) -> Doubt | None:
    """Doubt a length that is far from anything usual: below half of it, or beyond twice."""
    if question.usual is None:
        return None
    low, high = question.usual
    low, high = (low / 2 if low > 0 else 2 * low), 2 * high
    parts = by_side(typed).values() or readings_of(typed)
    for part in parts:
        found = mean(part)
        if found is not None and found and not low <= found <= high:
            return Doubt(f"{part} is far from what is usual ({usual_text(question)}).")
    return None


def usual_text(question: Question) -> str:
    """Say what is usual, empty where nothing is known; it is common practice, without a source."""
    if question.mostly:
        return question.mostly
    if question.usual is None:
        return ""
    low, high = question.usual
    steps = 1 if high > 300 else 8  # nobody needs an eighth of an inch in "about 24 to 71 in"
    coarse = [length_text(round(each / INCH * steps) / steps * INCH, "in") for each in (low, high)]
    return f"{low:g} to {high:g} mm, about {coarse[0].removesuffix(' in')} to {coarse[1]}"
