"""What an answer does to the build file: is it refused, and which checks fail with it?

Each answer goes through the same door as a build file: the file with it and the file without it
are read, laid out and judged, and what is new is said at the question that brought it about.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from ...geometry.judge.evaluate import evaluate
from ...geometry.judge.finding import Finding
from ...geometry.shape.layout import lay_out
from ...params.problem import BuildFileError, Problem
from ...params.project import Project
from ...params.reading import draft
from ...params.starter import BY_KEY, EditError, answered, answers_in, edit

DIAGONALS = ("lip.front_left_to_back_right", "lip.front_right_to_back_left")


@dataclass(frozen=True, slots=True)
class State:
    """A text as it stands: what is wrong with it, and what fails.

    What is only missing is no problem here. ``fails`` holds the worst finding of each *must* that
    fails; it is empty as long as not everything needed is there. ``apart`` says that opposite
    sides differ so far that the lip's shape is not determined without a diagonal; ``judged``
    that the checks were asked.
    """

    project: Project | None
    problems: tuple[Problem, ...]
    fails: Mapping[str, Finding]
    apart: bool = False
    judged: bool = False


@lru_cache(maxsize=8)
def state(path: Path, text: str) -> State:
    """Read, lay out and judge a text as if it stood in the file.

    Where the board or the bore was not said yet, one stands in, so that what is known already is
    laid out; nothing that comes of a stand-in is told.
    """
    stand_ins = _stand_ins(text)
    found = draft(path, edit(text, stand_ins).encode() if stand_ins else text.encode())
    given = [each for each in found.problems if each.key and each.read != "nothing"]
    project = found.project
    # without lip or board nothing has a place, and what is said of it would be nonsense
    if project is None or any(key.startswith(("lip", "board")) for key in found.dropped):
        return State(project, tuple(given), {})
    try:
        lay_out(project)
    except BuildFileError as error:
        apart = [each for each in error.problems if _sides_apart(project, each)]
        told = [each for each in error.problems if each not in apart]
        if "board.stock" in stand_ins:
            told = [each for each in told if each.key.startswith("lip")]
        return State(project, (*given, *told), {}, apart=bool(apart))
    except (ArithmeticError, AssertionError, TypeError, IndexError, KeyError):
        return State(project, tuple(given), {})  # keys left out can ask too much of it
    if found.problems or found.dropped or stand_ins:
        return State(project, tuple(given), {})
    fails: dict[str, Finding] = {}
    for each in evaluate(project).findings:
        if each.verdict == "fail" and each.weight == "must":
            old = fails.get(each.check)
            if old is None or (each.margin or 0.0) < (old.margin or 0.0):
                fails[each.check] = each
    return State(project, tuple(given), fails, judged=True)


def _stand_ins(text: str) -> dict[str, str | None]:
    """Return what stands in for answers that places hang on: a usual board, the least bore."""
    said = answers_in(text)
    if said is None:
        return {}
    found: dict[str, str | None] = {}
    if not answered(BY_KEY["board.stock"], said.answers):
        found["board.stock"] = BY_KEY["board.stock"].example
    if "taps.count" in said.answers and "taps.bore" not in said.answers:
        found["taps.bore"] = "3 mm"
    return found


def _sides_apart(project: Project, problem: Problem) -> bool:
    lip = project.lip
    bare = lip.front_left_to_back_right is None and lip.front_right_to_back_left is None
    return bare and problem.key in ("lip.front", "lip.right") and len(problem.keys) == 1


def new_problems(before: State, after: State, keys: Iterable[str]) -> list[Problem]:
    """Return what is wrong now and was not, or is about one of the keys that were just answered."""
    old = {(each.key, each.wanted) for each in before.problems}
    answered = tuple(keys)
    return [
        each
        for each in after.problems
        if (each.key, each.wanted) not in old or any(is_of(each.key, key) for key in answered)
    ]


def is_of(path: str, key: str) -> bool:
    """Tell whether a path is a key, or a side or a reading of it: lid.plug_inset is no lid.plug."""
    return path == key or path.startswith((f"{key}.", f"{key}["))


def refusal(problem: Problem, keys: Iterable[str], answers: Mapping[str, str]) -> str:
    """Say why an answer will not do, and the way out."""
    answered = tuple(keys)
    example = problem.example.rpartition(" = ")[2].strip('[]"')
    such = f"; for example {example}" if example else ""
    read = f"{problem.read} will not do: " if problem.read else ""
    said = f"{read}expected {problem.wanted}{such}."
    involved = [key for key in (problem.key, *problem.keys) if key in BY_KEY and key in answers]
    others = [key for key in dict.fromkeys(involved) if key not in answered]
    if not any(is_of(problem.key, key) for key in answered):
        said = f"Beside what was said before, {problem.key}: {said}"
    if others:
        told = " or ".join(f"{key} ({answers[key]})" for key in others[:3])
        said += f" Answer otherwise, or type the name of {told} to change that one."
    return said


def faults_of(answers: Mapping[str, str], path: Path, text: str) -> list[Problem]:
    """Return what is wrong with answers given as flags, unknown keys first.

    Args:
        answers: by key.
        path: the build file; catalogue files beside it count.
        text: the file without these answers.
    """
    from difflib import get_close_matches  # only a mistake pays for it

    unknown: list[Problem] = []
    for key in answers:
        if key not in BY_KEY:
            near = get_close_matches(key, BY_KEY, 3) or list(BY_KEY)
            wanted = f"one of the readings; nearest: {', '.join(near[:8])}"
            read = "a key that is not asked for"
            example = '--set lip.front="37 in"'
            unknown.append(Problem(key=key, read=read, wanted=wanted, example=example))
    if unknown:
        return unknown
    try:
        after = state(path, edit(text, answers))
    except EditError as error:
        return [Problem(key="--set", read="", wanted=f"other keys: {error}")]
    return new_problems(state(path, text), after, answers)
