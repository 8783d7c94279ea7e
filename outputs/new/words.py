"""What the talk says: one place for its sentences, each in plain trade English."""

from collections.abc import Callable, Iterable, Mapping

from ...geometry.judge.finding import Finding
from ...params.starter import BY_KEY, UNASKED, Group, Question
from ...params.units import Kind, Show, UnitError, convert, mm_text, parse
from ..text import QUESTIONS as CHECK_QUESTIONS
from ..text import amount, wrapped
from .doubts import usual_text

LONG, FAR = 1_000.0, 10_000.0
"""From the first on, mm, an example is a round 10 mm; from the second on nobody tells a length in
millimeters, as how high above the sea a house is, and it is in round 10 m."""

HELP = (
    "Answer with a length and its unit: 37 5/8 in, 3 ft 1 5/8 in, 955 mm.",
    "Enter alone skips what can wait. Other answers:",
    "  ?           where to hold the tape, what it is for, what is usual",
    "  back        the question before; lip.front, or another name, goes to that one",
    "  skip all    passes over the rest of these questions",
    "  list        what the catalogue has, where a part is asked for",
    "  answers     what was said so far",
    "  stop        ends here; each answer is in the file as soon as it is given",
)


def beginning(file: str, *, new: bool) -> list[str]:
    """Say what is going to happen, before the first question."""
    if not new:
        return [*wrapped(f"Going on with {file}: only what is open is asked for.", "", ""), ""]
    return [
        *wrapped(
            "This asks for what a tape measure says about your freezer, what is needed first, and"
            f" writes each answer to {file} at once.",
            "",
            "",
        ),
        *wrapped(
            "Unplug the freezer before you measure inside it, and never drill its walls.", "", ""
        ),
        "",
    ]


def opening(group: Group, count: int) -> str:
    """Say what comes next."""
    asked = "1 question" if count == 1 else f"{count} questions"
    ready = f" Have ready: {group.need}." if group.need else ""
    return f"{capital(group.name)}: {asked}.{ready}"


def offer(group: Group, count: int, opens: Iterable[str]) -> list[str]:
    """Offer a group: what it takes and what comes of it."""
    asked = "1 question" if count == 1 else f"{count} questions"
    said = [f"Also measure {group.name}? {capital(asked)}. Have ready: {group.need}."]
    checks = list(dict.fromkeys(opens))
    if checks:
        said.append(f"It tells {group.why} ({', '.join(checks)}).")
    else:
        said.append(
            f"It is to tell {group.why}. No check of this version waits for it; the order of work"
            " takes what it can use."
        )
    return said


def asked(question: Question, number: int, count: int) -> str:
    """Return the question as it is put."""
    stop = "" if question.ask.endswith("?") else "."
    return f"{number} of {count}. {question.ask}{stop}"


def capital(text: str) -> str:
    """Return a text that begins with a capital."""
    return text[:1].upper() + text[1:]


def prompt(question: Question, answers: Mapping[str, str], show: Show) -> str:
    """Return what stands before an answer."""
    if question.key in answers:
        return f"   {question.key} [{answers[question.key]}; Enter keeps it]: "
    return f"   {question.key} (for example {example(question, show)}): "


def example(question: Question, show: Show) -> str:
    """Return a question's example, in the units that somebody measures in."""
    if show == "mm":
        for kind, text in _METRIC.items():
            try:
                return text(parse(question.example, kind))
            except UnitError:
                continue
    return question.example


def _metric_length(mm: float) -> str:
    if mm >= FAR:
        return f"{round(convert(mm, 'mm', 'm'), -1):.0f} m"
    return mm_text(round(mm, -1) if mm >= LONG else mm, 0)


_METRIC: Mapping[Kind, Callable[[float], str]] = {
    "length": _metric_length,
    "temperature": lambda celsius: f"{celsius:.0f} degC",
    "area": lambda square_meters: f"{square_meters:.0f} m2",
}
"""How an example of a kind is told in metric units; others are in one unit everywhere."""


def hint(question: Question) -> str:
    """Say how an answer may be typed, where it is more than a length."""
    said = [question.spoken] if question.spoken else []
    if question.catalogue:
        said.append("Type list to see them all.")
    if question.form == "sides":
        said.append("Where sides differ: front 1/2 in, others 1/4 in.")
    return " ".join(said)


def more(question: Question, opens: Mapping[str, tuple[str, ...]], show: Show) -> list[str]:
    """Say all that is known about a question."""
    lines = [f"Where: {question.how}", f"What for: {question.why}"]
    usual = usual_text(question)
    if usual:
        lines.append(f"Usual: {usual} (common practice, no source).")
    if question.choices:
        lines.append(f"One of: {', '.join(question.choices)}.")
    lines.append(f"For example: {example(question, show)}")
    if question.form == "readings":
        lines.append("Read twice: give both, as 37 in; 37 1/16 in. Their mean counts.")
    elif hint(question):
        lines.append(f"How to answer: {hint(question)}")
    if question.needed:
        lines.append("The collar cannot be cut without it.")
    else:
        lines += ["Without it:", *_left(question, opens)]
    return lines


def skipped(question: Question, opens: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Say what comes of a question that is passed over."""
    return ["Skipped.", *_left(question, opens)]


def _left(question: Question, opens: Mapping[str, tuple[str, ...]]) -> list[str]:
    said = [question.without] if question.without else []
    checks = opens.get(question.key, ())
    if checks:
        said.append("Stays open, not checked:")
        said += [f"- {CHECK_QUESTIONS.get(each, each)} ({each})" for each in checks]
    if not said:
        said.append("No check of this version waits for it.")
    return said


def cannot_wait(question: Question, apart: bool) -> str:
    """Say why a question is not to be passed over."""
    if apart:
        return (
            "This one cannot wait: opposite sides differ by more than the tape's error, and then"
            " four sides alone do not say what shape the lip has. stop keeps what was said."
        )
    return "This one cannot wait: the collar is cut to it. stop keeps what was said."


APART = (
    "Take note: opposite sides differ by more than the tape's error. If that is so, the lip is no"
    " rectangle and a diagonal is needed; if it surprises you, go back and read both again."
)


def failing(finding: Finding, show: Show) -> str:
    """Say that a check fails as things stand, and what mends it."""
    question = CHECK_QUESTIONS.get(finding.check, finding.check)
    said = f"Take note, this fails as it stands: {question} ({finding.check})"
    if finding.measured is not None and finding.required is not None:
        measured = amount(finding.measured, finding.unit, show).strip()
        required = amount(finding.required, finding.unit, show).strip()
        said += f" It is {measured} and must be {finding.sense} {required}."
    levers = [key for key in finding.levers if key in BY_KEY]
    if levers:
        said += f" To change it, type {' or '.join(levers)}."
    return said


def after(file: str, show: Show, open_keys: Iterable[str], *, fails: bool, stem: str) -> list[str]:
    """Return what to do next, as commands to run."""
    paper = "letter" if show == "in" else "a4"
    lines = ["What to do next:"]
    if fails:
        lines.append("  First put right what fails above: edit the file, or answer again with")
        lines.append(f"    collarwright new {file} --complete")
    lines += ["  After each change of the file:", f"    collarwright check {file}"]
    lines += [
        f"  Model, cut files and full-size drilling templates, into {stem}/:",
        f"    collarwright build {file} --paper {paper}",
    ]
    left = list(open_keys)
    if left and not fails:
        lines += ["  What was skipped, whenever you have the tape at hand:"]
        lines += [f"    collarwright new {file} --complete"]
    tables = ", ".join(each.header for each in UNASKED)
    lines += wrapped(
        "Not asked for: more rows of [[taps]], more than two kinds of [[vessel]], and"
        f" {tables}. They stand behind # at the end of a file that new wrote; collarwright keys"
        " explains them.",
        "  ",
    )
    return lines
