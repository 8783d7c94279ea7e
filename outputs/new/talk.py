"""``new``: asks for the readings one after another, and writes the build file.

Each answer goes through the same door as a build file: the answers so far, with the new one,
are read as a file, and what is wrong with the new one is said at once. Nothing that was said is
lost: when the talk is broken off, what is known is written.
"""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Literal

from ...geometry.shape.lip import KEYS, fit
from ...params.problem import BuildFileError, Problem
from ...params.project import Lip, Project
from ...params.reading import draft
from ...params.starter import BY_KEY, QUESTIONS, Question, build_text
from ...params.units import Show, length_text
from ..text import wrapped

Say = Callable[[str], None]
Hear = Callable[[str], str]

DIAGONALS = ("lip.front_left_to_back_right", "lip.front_right_to_back_left")

FAR_FROM_SQUARE_DEG = 2.0
"""A corner further off than this is asked about once more (common practice, no source): a
freezer's lip is seldom more than one degree out of square."""

HELP = (
    "Answer with a length and its unit: 37 5/8 in, 3 ft 1 5/8 in, 955 mm.\n"
    "Enter alone skips what can wait; back goes to the question before; stop ends here\n"
    "and keeps what was said; ? says more."
)


def fault(answers: Mapping[str, str], key: str, path: Path) -> str:
    """Return what is wrong with one answer, alone or beside the others; empty if nothing is."""
    known = {each.key for each in QUESTIONS if each.key in answers}
    found = draft(path, build_text(answers).encode())
    problems = [each for each in found.problems if each.file == str(path) and _about(each, key)]
    if problems:
        return _sentence(problems[0])
    if found.project is not None and not key.startswith(("taps.", "foam.")):
        return ""
    if found.project is not None and "taps" not in found.dropped:
        return _beyond(found.project, key, known)
    return ""


def _about(problem: Problem, key: str) -> bool:
    return problem.key == key and problem.read != "nothing"


def _sentence(problem: Problem) -> str:
    read = f"{problem.read} will not do: " if problem.read else ""
    return f"{read}expected {problem.wanted}"


def _beyond(project: Project, key: str, known: set[str]) -> str:
    """Say so where taps or foam do not fit on the collar that is known so far."""
    from ...geometry.shape.layout import lay_out

    try:
        lay_out(project)
    except BuildFileError as error:
        for each in error.problems:
            involved = {each.key, *each.keys} & set(BY_KEY)
            if key in involved and involved <= known:
                return _sentence(each)
    return ""


def doubt(answers: Mapping[str, str], key: str, path: Path) -> str:
    """Return a question about a diagonal that hardly belongs to the sides; empty if it does.

    With one diagonal the corners tell, with both what they leave over; what is offered is the
    diagonal of square corners, or the one that closes with the other five readings.
    """
    if key not in DIAGONALS or not all(f"lip.{side}" in answers for side in _SIDES):
        return ""
    lip = Lip.model_validate(
        {name: answers[f"lip.{name}"] for name in KEYS if f"lip.{name}" in answers}
    )
    show: Show = "mm" if answers.get("show") == "mm" else "in"
    place = DIAGONALS.index(key)
    squared = _squared(lip)
    try:
        fitted = fit(lip)
    except BuildFileError:
        return _offer(squared, show)
    if len(fitted.closing) == 6:
        change = fitted.closing[4 + place]
        if change is not None and abs(change) > 3 * lip.tape:
            read = lip.front_left_to_back_right if place == 0 else lip.front_right_to_back_left
            return _offer((read or (0.0,))[0] + change, show)
        return ""
    if max(abs(angle - 90) for angle in fitted.angles_deg) > FAR_FROM_SQUARE_DEG:
        return _offer(squared, show)
    return ""


_SIDES = ("front", "right", "back", "left")


def _squared(lip: Lip) -> float:
    width, depth = (lip.front[0] + lip.back[0]) / 2, (lip.left[0] + lip.right[0]) / 2
    return (width**2 + depth**2) ** 0.5


def _offer(length: float, show: Show) -> str:
    return (
        f"this diagonal hardly belongs to these readings; did you mean {length_text(length, show)}?"
    )


Ending = Literal["done", "stopped"]


def talk(path: Path, answers: dict[str, str], hear: Hear, say: Say) -> Ending:
    """Ask what is not answered yet; ``answers`` fills as the talk goes on.

    Args:
        path: where the build file will stand; catalogue files beside it count.
        answers: by key; may hold some already.
        hear: prints a prompt and returns a line; raises ``EOFError`` at the end of input.
        say: prints a line.
    """

    def tell(text: str, indent: str = "   ") -> None:
        for line in wrapped(text, indent, "   "):
            say(line)

    say(HELP)
    shown: Question | None = None
    asked = [each for each in QUESTIONS if each.key not in answers]
    at = 0
    doubted: tuple[str, str] | None = None
    while at < len(asked):
        question = asked[at]
        if question is not shown:
            say("")
            tell(f"{at + 1} of {len(asked)}. {question.ask}.", "")
            tell(question.how)
            shown = question
        said = hear(f"   {question.key} [for example {question.example}]: ").strip()
        if said.lower() in ("stop", "quit"):
            return "stopped"
        if said.lower() == "back":
            at = max(0, at - 1)
            answers.pop(asked[at].key, None)
            continue
        if said == "?":
            say(HELP)
            continue
        if not said:
            if question.required:
                tell("This one cannot wait: the collar is cut to it. stop keeps what was said.")
                continue
            tell(_skipped(question))
            answers.pop(question.key, None)
            at += 1
            continue
        tried = {**answers, question.key: said}
        wrong = fault(tried, question.key, path)
        if not wrong and doubted != (question.key, said):
            wrong = doubt(tried, question.key, path)
            if wrong:
                doubted = (question.key, said)
                wrong += " Type the same again to keep it."
        if wrong:
            tell(wrong)
            continue
        answers[question.key] = said
        at += 1
    return "done"


def _skipped(question: Question) -> str:
    if not question.opens:
        return "Skipped."
    return f"Skipped; not checked without it: {', '.join(question.opens)}."


def faults_of(answers: Mapping[str, str], path: Path) -> list[Problem]:
    """Return what is wrong with answers given as flags, unknown keys first."""
    from difflib import get_close_matches

    unknown = [
        Problem(
            key=key,
            read="a key that is not asked for",
            wanted="one of the readings; nearest: " + ", ".join(get_close_matches(key, BY_KEY, 3))
            if get_close_matches(key, BY_KEY, 3)
            else "one of " + ", ".join(BY_KEY),
            example='--set lip.front="37 in"',
        )
        for key in answers
        if key not in BY_KEY
    ]
    if unknown:
        return unknown
    return [
        Problem(key=key, read=repr(answers[key]), wanted=wrong.rpartition("expected ")[2])
        for key in answers
        if (wrong := fault(answers, key, path))
    ]
