"""Findings for a person: worst first, passes folded, every number with its unit."""

import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence

from ..geometry.judge.checks import CHECKS, COMING, SLOW
from ..geometry.judge.evaluate import Evaluation, remarks
from ..geometry.judge.finding import WORST_FIRST, Finding, Verdict
from ..geometry.judge.levers import USEFUL
from ..geometry.shape.compared import differences
from ..geometry.shape.frame import Board
from ..geometry.shape.joints import Joint
from ..params.problem import visible
from ..params.project import Project
from ..params.units import (
    PRINTED,
    Show,
    both_text,
    length_text,
    mass_text,
    mm_text,
    thousandths_text,
)

WIDTH = 80
HEADINGS: dict[Verdict, str] = {
    "fail": "FAILS",
    "tight": "TIGHT",
    "not-checked": "NOT CHECKED",
    "pass": "PASSES",
}

ALIKE = 0.05
"""Lengths nearer than this are told as alike, mm: less than is ever printed."""

SAME = 1e-4
"""A margin smaller than this is none, mm: the figures stand for the same length."""

QUESTIONS = {check.id: check.question for check in (*(check for check, _ in CHECKS), *SLOW)}
"""What each check asks, for findings that are told together."""


def report(
    project: Project,
    evaluation: Evaluation,
    name: str,
    everything: bool = False,
    examples: int = 0,
    paint: Callable[[str, str], str] = lambda _, heading: heading,
) -> str:
    """Return the report of one design.

    Args:
        project: for the title and the units.
        evaluation: layout and findings.
        name: the build file as given.
        everything: also list each pass (``-v``).
        examples: how many values of the file are marked as examples.
        paint: takes a verdict and its heading, and returns the heading as it is to be seen.
    """
    findings, show = evaluation.findings, project.show
    lines = [f"{visible(name)}, as built" if project.as_built else visible(name)]
    if project.title:
        lines += wrapped(visible(project.title), "")
    lines.append("")
    if project.as_built:
        lines += wrapped("Sizes as built; what was not measured is as drawn.", "")
    elif project.built is not None:
        lines += wrapped("Sizes as drawn; check --built judges what was made.", "")
    lines += [*_size(evaluation, show), ""]
    if project.as_built:
        lines += [*_measured(project, evaluation), ""]
    for verdict in WORST_FIRST:
        group = [finding for finding in findings if finding.verdict == verdict]
        if not group:
            continue
        lines.append(paint(verdict, f"{HEADINGS[verdict]} ({len(group)})"))
        if verdict == "not-checked" and not everything:
            lines += _missing(group)
        elif verdict == "pass" and not everything:
            lines += wrapped(", ".join(dict.fromkeys(each.check for each in group)), "  ")
            lines += _where_they_stand(group)
        else:
            for same in alike(group):
                lines += _entry(same, show, project.as_built)
        lines.append("")
    if evaluation.measure_again:
        lines += wrapped(f"Worth most: {evaluation.measure_again}.", "", "  ")
    if examples:
        said = (
            f"Note: {examples} values are examples that nobody measured; look for them in the file."
        )
        lines += wrapped(said, "", "  ")
    for note in (*remarks(project, evaluation.layout), *evaluation.notes):
        lines += wrapped(f"Note: {note}.", "", "  ")
    lines += wrapped(_scope(everything), "", "  ")
    lines += ["", *wrapped(_last_line(evaluation), "")]
    return "\n".join(lines) + "\n"


def _scope(everything: bool) -> str:
    """Say how much of what a builder asks this version judges."""
    judged = len(CHECKS) + len(SLOW)
    said = f"This version judges {judged} of {judged + len(COMING)} questions"
    return (
        f"{said}; not yet: {', '.join(COMING)}." if everything else f"{said} (-v lists the rest)."
    )


def _size(evaluation: Evaluation, show: Show) -> list[str]:
    """Return the collar's size and each board's cut in a line or two."""
    layout = evaluation.layout
    lines: list[str] = []
    if layout.frame.width is not None and layout.frame.depth is not None:
        lines.append(
            f"collar  {length_text(layout.frame.width, show)} x"
            f" {length_text(layout.frame.depth, show)} outside,"
            f" {length_text(layout.frame.height, show)} high"
        )
    lines += [
        f"{board.side:<6}  long point {length_text(board.long_point, show)},"
        f" tilt {board.miter_left_deg:.1f} deg left, {board.miter_right_deg:.1f} deg right"
        f"{_scale(board)}"
        for board in layout.boards
    ]
    lines += [
        f"foam {panel.side:<6} {length_text(panel.length, show)} x {length_text(panel.width, show)}"
        for panel in layout.panels
    ]
    lines += [
        f"cover {cover.side:<6} {length_text(cover.long_point, show)} x"
        f" {length_text(cover.width, show)}, {_end(cover.miter_left_deg)} left,"
        f" {_end(cover.miter_right_deg)} right{_scale(cover)}"
        for cover in layout.covers
    ]
    lines += [
        f"cap {strip.side:<6} long point {length_text(strip.long_point, show)} x"
        f" {length_text(strip.width, show)}, {'steel' if strip.steel else 'wood'}"
        for strip in layout.strips
    ]
    return lines + _corners(layout.joints, show)


def _scale(board: Board) -> str:
    """Say what the saw's scale has to say, where a test ring told how far it is off."""
    ends = ((board.scale_left_deg, "left"), (board.scale_right_deg, "right"))
    told = [f"{scale:.1f} deg {end}" for scale, end in ends if scale is not None]
    said = f"\n{'':8}set the saw's scale to {', '.join(told)}" if told else ""
    proved = ((board.prove_left, "left"), (board.prove_right, "right"))
    ends = " and ".join(end for far, end in proved if far)
    return (
        f"{said}\n{'':8}{ends}: too far from the test ring, prove this tilt on scraps"
        if ends
        else said
    )


def _end(miter_deg: float) -> str:
    return f"tilt {miter_deg:.1f} deg" if miter_deg else "square"


def _corners(joints: Sequence[Joint], show: Show) -> list[str]:
    """Say what goes into each corner, and how high; alike in all of them but for their angles."""
    if not joints:
        return []
    here = [joint for joint in joints if joint.corner == joints[0].corner]
    first = here[0]
    if first.kind == "spline":
        sizes = (first.long, first.wide, first.thick)
        return [f"corners  a spline each, {' x '.join(length_text(s, show) for s in sizes)}"]
    plural = "" if len(here) == 1 else "s"
    what = f"{len(here)} no. 20 biscuit{plural}"
    if first.kind == "dowel":
        size = f"{length_text(first.thick, show)} x {length_text(first.wide, show)}"
        what = f"{len(here)} dowel{plural} of {size}"
    heights = ", ".join(length_text(joint.v, show) for joint in here)
    return wrapped(f"corners  {what} in each, {heights} from the bottom edge", "", "  ")


def _measured(project: Project, evaluation: Evaluation) -> list[str]:
    """Return what was measured on the real thing, beside what was drawn."""
    show, dry = project.show, evaluation.layout.frame.dry
    lines = ["MEASURED ON WHAT WAS MADE"]
    for each in differences(project):
        more = each.more
        apart = f"{'+' if more > 0 else '-'}{both_text(abs(more), show)}"
        if abs(more) < ALIKE or mm_text(more) in ("0 mm", "-0 mm"):
            apart = "as drawn"
        drawn, built = length_text(each.drawn, show), length_text(each.built, show)
        lines += wrapped(f"{each.what}: {built}, drawn {drawn}: {apart}", "  ")
    if dry is not None:
        degrees = ", ".join(f"{angle:.2f}" for angle in dry.angles_deg)
        said = f"corners of the dry frame, from front-left counterclockwise: {degrees} deg"
        if dry.known_by == "sides":
            said += " (as if it were pushed square: no diagonal was measured)"
        lines += wrapped(said, "  ")
    return lines


def alike(findings: Iterable[Finding]) -> Iterator[list[Finding]]:
    """Yield findings that differ only in where, together; *must* first, then by margin."""
    groups: dict[tuple[object, ...], list[Finding]] = {}
    order = {"must": 0, "advice": 1}
    for each in sorted(findings, key=lambda f: (order[f.weight], f.margin or 0.0)):
        figures = (each.measured, each.required)
        key = (
            each.check,
            each.verdict,
            each.unit,
            *(None if n is None else round(n, 3) for n in figures),
            each.missing,
            each.why if each.measured is None else "",
            each.where.text if each.check == "hinge-hold" else "",  # with a pull, and without
            *(tuple(sorted(remedy.changes.items())) for remedy in each.remedies),
        )
        groups.setdefault(key, []).append(each)
    yield from groups.values()


def _entry(same: list[Finding], show: Show, built: bool) -> list[str]:
    first = same[0]
    advice = " (advice)" if first.weight == "advice" else ""
    where = places(same)
    lines = wrapped(f"{first.check}{advice}: {where}" if where else f"{first.check}{advice}", "  ")
    if first.measured is not None and first.required is not None:
        said = figures(first, show)
        if first.tolerance and first.verdict != "pass":
            near = _close(first, show)
            said += f"; known to within {amount(first.tolerance, first.unit, show, fine=near)}"
        lines += wrapped(said, "    ")
    whys = dict.fromkeys(each.why for each in same)
    if first.check == "vessels":
        lines += _where_they_stand(same)
    else:
        lines += wrapped(first.why if len(whys) == 1 else QUESTIONS[first.check], "    ")
    if first.missing:
        lines += wrapped("add " + ", ".join(first.missing), "    ")
    for said in ways_out(first, built):
        lines += wrapped(said, "    ")
    return lines


def ways_out(finding: Finding, built: bool) -> Iterator[str]:
    """Yield when it would pass, what to measure again and what to change: each change was tried.

    Args:
        finding: what the checks said; one that does not fail and is not tight has no way out.
        built: whether the collar is judged as it was made: then only the wood can be changed.
    """
    if finding.passes_if:
        yield finding.passes_if
    if finding.verdict not in ("fail", "tight"):
        return
    margin, tolerance = finding.margin or 0.0, finding.tolerance or 0.0
    if finding.decided_by and abs(margin) < tolerance:
        yield f"first {finding.decided_by}"
    if finding.remedies:
        for number, remedy in enumerate(finding.remedies):
            # What is done to the wood says itself what to do.
            done = all(key.startswith("built.") for key in remedy.changes)
            yield ("or " if number else "") + ("" if done else "change ") + remedy.says
    elif finding.check == "stock":
        yield "a longer or clearer stick mends it: enter it in [stock]"
    elif not finding.levers and (finding.check == "readings" or finding.verdict == "tight"):
        yield "measure again: this is a reading, not a choice"
    elif finding.weight == "advice":
        yield f"what moves it: {', '.join(finding.levers)}"
    elif finding.verdict == "fail" and built:
        yield "nothing was found that mends it in the wood as it is"
    elif finding.verdict == "fail":
        said = "no change was found that mends it and breaks nothing else; it hangs by"
        yield f"{said} {', '.join(map(_lever, finding.levers))}"


def _lever(key: str) -> str:
    """Name a key, and how far it was tried where the build file takes more."""
    if key != "hinge.open_to":
        return key
    low, high = USEFUL[key]
    return f"{key} (tried from {low:g} to {high:g} deg)"


def _where_they_stand(findings: list[Finding]) -> list[str]:
    """Return where the vessels stand and how they get in: it is wanted most where they fit."""
    lines: list[str] = []
    for each in findings:
        if each.check == "vessels" and not each.missing:
            for part in each.why.split("; "):
                lines += wrapped(part, "    ")
    return lines


def _missing(findings: list[Finding]) -> list[str]:
    """Return one line a check: which keys would open it, and over which values it would pass."""
    by_check: dict[str, dict[str, None]] = {}
    windows: dict[str, dict[str, None]] = {}
    for each in findings:
        by_check.setdefault(each.check, {}).update(dict.fromkeys(each.missing))
        if each.passes_if:
            windows.setdefault(each.check, {})[each.passes_if] = None
    lines: list[str] = []
    for check, keys in by_check.items():
        if keys:
            lines += wrapped(f"{check}: add {', '.join(keys)}", "  ", "    ")
        else:  # nothing is missing: the answer itself was not found
            for why in dict.fromkeys(each.why for each in findings if each.check == check):
                lines += wrapped(f"{check}: {why}", "  ", "    ")
        for window in windows.get(check, ()):
            lines += wrapped(window, "    ", "    ")
    return lines


def places(findings: Iterable[Finding]) -> str:
    """Name where findings are, folded: ``taps 1-3``, ``front, left``, ``front-left corner``."""
    taps = sorted({each.where.tap for each in findings if each.where.tap is not None})
    if taps:
        runs: list[list[int]] = []
        for number in taps:
            if runs and number == runs[-1][-1] + 1:
                runs[-1].append(number)
            else:
                runs.append([number])
        said = ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
        return f"tap {said}" if len(taps) == 1 else f"taps {said}"
    named: dict[str, None] = {}
    for each in findings:
        where = each.where
        said = where.corner and f"{where.corner} corner"
        if each.check == "hinge-hold" and where.side and where.text:
            said = f"{where.side}, {where.text}"
        named[said or where.vessel or where.side or where.text or ""] = None
    return ", ".join(name for name in named if name)


def amount(value: float, unit: str, show: Show, *, fine: bool = False) -> str:
    """Write a finding's figure with its unit, lengths and masses in the units of ``show``.

    Args:
        value: the figure, in ``unit``.
        unit: as in the finding: mm, kg, deg, times, strip.
        show: the units to write it in; inches and pounds carry the metric figure beside them.
        fine: thousandths of an inch, and hundredths of a millimeter where a tenth says nothing:
            for figures so near each other that a fraction would not tell them apart.
    """
    if unit == "mm":
        if not fine:
            return both_text(value, show)
        metric = mm_text(value, 1 if mm_text(value) == mm_text(value, 2) else 2)
        return f"{thousandths_text(value)} ({metric})" if show == "in" else metric
    if unit == "kg":
        return mass_text(value, show)
    if unit == "strip":  # one is wanted, and there or not
        return "a steel strip" if value > 0.5 else "no steel strip"
    places = 2 if unit == "times" else 1  # 1.46 times must not read as 1.5
    return f"{round(value, places) + 0.0:.{places}f} {unit}"


def figures(finding: Finding, show: Show) -> str:
    """Write what was measured and what is wanted of it; empty where there are no figures."""
    measured, required = finding.measured, finding.required
    if measured is None or required is None:
        return ""
    if finding.unit == "strip":
        there = amount(measured, finding.unit, show)
        return there if measured >= required else f"{there}; a magnetic gasket wants one"
    fine = finding.unit == "mm" and _close(finding, show)
    return (
        f"{amount(measured, finding.unit, show, fine=fine)}, must be {finding.sense}"
        f" {amount(required, finding.unit, show, fine=fine)}"
    )


def _close(finding: Finding, show: Show) -> bool:
    """Return whether a length and its limit are not alike, but nearly: 1/32 in, or 0.1 mm."""
    if finding.unit != "mm" or finding.margin is None:
        return False
    return SAME < abs(finding.margin) < PRINTED[show]


def _last_line(evaluation: Evaluation) -> str:
    """Count the findings by verdict, advice apart, and say what follows from the musts."""
    counts: list[str] = []
    for verdict in WORST_FIRST:
        group = [each for each in evaluation.findings if each.verdict == verdict]
        advice = sum(1 for each in group if each.weight == "advice")
        said = f"{len(group)} {verdict.replace('-', ' ')}"
        if advice:
            said += " (all advice)" if advice == len(group) else f" ({advice} advice)"
        counts.append(said)
    musts = [each for each in evaluation.findings if each.weight == "must"]
    return f"{', '.join(counts)}. {conclusion(musts)}"


def conclusion(musts: Sequence[Finding]) -> str:
    """Say what follows from the *must* findings: what to put right, or that none fails."""
    failed = [each for each in musts if each.verdict == "fail"]
    if failed:
        checks = len({each.check for each in failed})
        one, s = len(failed) == 1, "" if checks == 1 else "s"
        said = f"{len(failed)} finding{'' if one else 's'} of {checks} check{s}"
        return f"{said} must be put right before the glue is on."
    if any(each.verdict == "not-checked" for each in musts):
        return "No must fails; what was not checked can."
    return "No must fails."


def wrapped(text: str, indent: str, later: str | None = None) -> list[str]:
    """Break a text into lines of at most ``WIDTH`` characters, indented."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "  " if later is None else later,
        break_on_hyphens=False,
    ) or [indent]
