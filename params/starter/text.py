"""The commented build file: every key with its explanation above it, also what is still open."""

import textwrap
from collections.abc import Iterable, Iterator, Mapping

from ..reading.document import EXAMPLE
from .asked import QUESTIONS
from .question import Question
from .unasked import LATER, ROWS, UNASKED
from .value import toml_of

WIDTH = 80
OPEN = "# Not measured yet"
"""How the line begins that stands above a key nobody gave a value."""

_OPEN = OPEN.removeprefix("# ")

HEAD = """\
# A build file for collarwright: what the tape said, and what is to be made
# of it.
#
# Every length carries its unit, as a person writes it: "37 5/8 in",
# "3 ft 1 5/8 in", "955 mm". An edge that was read twice is a list:
# ["37 in", "37 1/16 in"].
#
# A line that begins with # is not read: a key that was not measured stands
# there with an example. Take away the # in front of it, and in front of its
# table's name in brackets, and write your reading; or run
#
#   collarwright new FILE --complete     asks for what is still open
#   collarwright check FILE              says what will not fit
#   collarwright build FILE              model, cut files, drilling templates
#
# Unplug the freezer before you measure inside it, and never drill its walls:
# refrigerant lines run in them.
"""


def build_text(
    answers: Mapping[str, str],
    examples: Iterable[str] = (),
    opens: Mapping[str, tuple[str, ...]] | None = None,
) -> str:
    """Return a commented build file.

    Args:
        answers: what was said, by key.
        examples: keys whose example stands in for an answer, and says so.
        opens: the checks that need a key, for those that stay open.
    """
    shown = frozenset(examples)
    lines = [HEAD.rstrip("\n")]
    for table in dict.fromkeys(each.table for each in QUESTIONS):
        inside = [each for each in QUESTIONS if each.table == table]
        used = any(each.key in answers or each.key in shown for each in inside)
        if table:
            lines += ["", "", header(table) if used else f"# {header(table)}"]
        for question in inside:
            lines += ["", *explained(question)]
            if question.key in answers:
                lines.append(entry(question, answers[question.key]))
            elif question.key in shown:
                lines.append(f"{entry(question, question.example)}  {EXAMPLE}")
            else:
                lines += open_entry(question, (opens or {}).get(question.key, ()))
    return "\n".join([*lines, *_foot()]) + "\n"


def _foot() -> Iterator[str]:
    """Yield what is not asked for, as lines to take the # off."""
    yield from ("", "", "# What `collarwright new` does not ask for", "#")
    for each in ROWS:
        yield from wrapped(each, "# ")
    for each in UNASKED:
        yield from ("#", *wrapped(each.what, "# "), f"# {each.header}")
        yield from (f"# {line}" for line in each.lines)
    yield from ("#", *wrapped(LATER, "# "))


def header(table: str) -> str:
    """Return the line that begins a table; a table that may come more than once is a row."""
    name = table.partition("[")[0]
    return f"[[{name}]]" if table.endswith("]") else f"[{table}]"


def explained(question: Question) -> list[str]:
    """Return what stands above a key: what is asked, where to hold the tape, what it is for."""
    ask = question.ask if question.ask.endswith("?") else f"{question.ask}."
    said = f"{ask} {question.how} {question.why}"
    if question.catalogue:
        said += f" `collarwright catalog {question.catalogue}` lists the ids."
    if question.form == "sides":
        said += ' Where sides differ: { front = "…", right = "…", back = "…", left = "…" }.'
    return wrapped(said, "# ")


def entry(question: Question, typed: str) -> str:
    """Return a key's line."""
    return f"{question.name} = {toml_of(question, typed)}"


def open_entry(question: Question, checks: tuple[str, ...]) -> list[str]:
    """Return what stands for a key that nobody gave a value."""
    if question.needed:
        said = f"{_OPEN}; the collar cannot be cut without it."
    elif checks:
        said = f"{_OPEN}; not checked without it: {', '.join(checks)}."
    else:
        said = f"{_OPEN}."
    return [*wrapped(said, "# "), f"# {entry(question, question.example)}"]


def wrapped(text: str, indent: str) -> list[str]:
    """Break a text into lines of at most ``WIDTH`` characters."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False
    )
