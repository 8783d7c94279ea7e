"""Each check passing, tight, failing and not checked; each failing one mended as it says."""

import math
import sys
from collections.abc import Callable, Mapping
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.change import changed
from collarwright.geometry.judge.checks import CHECKS, SLOW
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.judge.finding import Finding, Remedy, worst
from collarwright.geometry.judge.packed import Question
from collarwright.geometry.judge.passes_if import with_passes_if
from collarwright.geometry.judge.tolerance import with_tolerance
from collarwright.geometry.shape.layout import as_built
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Project
from collarwright.params.reading.keys import IDS, find
from collarwright.params.units import parse

Make = Callable[..., Project]

_spec = spec_from_file_location("four_verdicts", Path(__file__).with_name("four_verdicts.py"))
assert _spec is not None and _spec.loader is not None
book = module_from_spec(_spec)
sys.modules["four_verdicts"] = book
_spec.loader.exec_module(book)

ASKED = {check.id: check for check in (*(check for check, _ in CHECKS), *SLOW)}
SLOWLY = {check.id for check in SLOW}
FAILING = [case for case in book.CASES if case.verdict == "fail"]
MUSTS = [case for case in FAILING if ASKED[case.check].weight == "must"]


def name(case: Any) -> str:
    return case.id


@pytest.fixture(scope="module")
def told(design_a: Make) -> Callable[[Any], tuple[Project, Evaluation]]:
    """A case's design and all that is said of it, each worked out once."""
    known: dict[str, tuple[Project, Evaluation]] = {}

    def tell(case: Any) -> tuple[Project, Evaluation]:
        design = case.design
        whole = case.verdict == "fail" or case.check in SLOWLY
        key = f"{sorted(design.items())} {whole} {case.check in SLOWLY}"
        if key not in known:
            project = design_a(**design)
            if project.built is not None:
                project = as_built(project)
            if whole:
                slow = Question() if case.check in SLOWLY else None
                known[key] = project, answer(project, slow=slow)
            else:  # all but the changes, which are looked for long and only a fail has to have
                judged = with_tolerance(project, evaluate(project))
                known[key] = project, with_passes_if(project, judged)
        return known[key]

    return tell


def one(case: Any, findings: tuple[Finding, ...]) -> Finding:
    found = [
        each
        for each in findings
        if each.check == case.check
        and all(getattr(each.where, key) == value for key, value in case.where.items())
    ]
    assert len(found) == 1, (case.check, [each.where for each in found])
    return found[0]


def applied(project: Project, remedy: Remedy) -> Project:
    """The change as a person would write it into the build file."""
    values: dict[str, Any] = {}
    for key, written in remedy.changes.items():
        kind = (known := find(key)) and known.kind
        is_id = isinstance(written, str) and written[:1].isalpha()
        values[key] = written if kind is None or is_id else parse(str(written), kind)
    return changed(project, values)


def failing(findings: tuple[Finding, ...]) -> set[str]:
    return {each.check for each in findings if each.verdict == "fail" and each.weight == "must"}


def test_every_check_has_all_four() -> None:
    shown = {(case.check, case.verdict) for case in book.CASES}
    wanted = {(check, v) for check in ASKED for v in ("pass", "tight", "fail", "not-checked")}
    assert shown | set(book.NEVER) == wanted
    assert not shown & set(book.NEVER)


@pytest.mark.parametrize("case", book.CASES, ids=name)
def test_the_verdict(told: Callable[[Any], tuple[Project, Evaluation]], case: Any) -> None:
    found = one(case, told(case)[1].findings)
    assert found.verdict == case.verdict, (found.margin, found.tolerance, found.why)
    if case.verdict == "not-checked":
        assert found.missing == case.missing
    if not case.any_margin:
        assert (found.margin is None) == (case.margin is None)
    if case.margin is not None:
        assert found.margin == pytest.approx(case.margin, abs=case.close)
    if case.tolerance is not None:
        assert found.tolerance == pytest.approx(case.tolerance, rel=0.02)


@pytest.mark.parametrize("case", MUSTS, ids=name)
def test_it_alone_fails(told: Callable[[Any], tuple[Project, Evaluation]], case: Any) -> None:
    assert failing(told(case)[1].findings) == {case.check}


@pytest.mark.parametrize("case", MUSTS, ids=name)
def test_each_remedy_mends_the_whole_design(
    told: Callable[[Any], tuple[Project, Evaluation]], case: Any
) -> None:
    project, evaluation = told(case)
    found = one(case, evaluation.findings)
    assert bool(found.remedies) != (case.check in book.NO_CHOICE)
    for remedy in found.remedies:
        mended = applied(project, remedy)
        after = evaluate(mended)
        findings = after.findings
        if case.check in SLOWLY:
            findings = (*findings, *Question()(mended, after))
        assert failing(findings) == set(), remedy.says


@pytest.mark.parametrize("case", [c for c in FAILING if c not in MUSTS], ids=name)
def test_advice_has_no_remedies(
    told: Callable[[Any], tuple[Project, Evaluation]], case: Any
) -> None:
    assert one(case, told(case)[1].findings).remedies == ()


LACKING = [case for case in book.CASES if case.verdict == "not-checked"]


def passes(project: Project, case: Any, value: float) -> bool:
    """Whether the case's finding passes with its missing length at a value, and no *must* fails."""
    try:
        found = evaluate(changed(project, {case.missing[0]: value})).findings
    except BuildFileError:
        return False
    musts = [each for each in found if each.weight == "must"]
    return one(case, found).verdict == "pass" and worst(musts) != "fail"


@pytest.mark.parametrize("case", LACKING, ids=name)
def test_what_would_pass_is_true(
    told: Callable[[Any], tuple[Project, Evaluation]], case: Any
) -> None:
    project, evaluation = told(case)
    said = one(case, evaluation.findings).passes_if
    if case.check in book.NO_PLUG:
        assert said == "plug: fine if there is none; measure only if it looks outside that"
        assert passes(project, case, 0.0) and not passes(project, case, 0.1)
        return
    if case.check not in book.WINDOWS:
        key = find(case.missing[0])
        measured = key is not None and key.kind == "length" and key.path not in IDS
        assert said is None and (len(case.missing) > 1 or not measured or key.many)
        return
    low, high = book.WINDOWS[case.check]
    words = "fine"
    if low is not None:
        assert passes(project, case, low + 0.1) and not passes(project, case, low - 0.1)
        words += f" from {math.ceil(low * 2 - 1e-6) / 2:g} mm"
    if high is not None:
        assert passes(project, case, high - 0.1) and not passes(project, case, high + 0.1)
        words += f" {'up to' if low is None else 'to'} {math.floor(high * 2 + 1e-6) / 2:g} mm"
    elif low is not None:
        words += " up"
    name_ = case.missing[0].rpartition(".")[2]
    assert said == f"{name_}: {words}; measure only if it looks outside that"


def test_no_choice_tilts_a_saw_further(design_a: Make) -> None:
    """A true rectangle is mitered at 45 deg, whatever it is made of."""
    design: Mapping[str, Any] = book.WHOLE
    project = design_a(**{**design, "shop": {**design["shop"], "tilt_max": "44 deg"}})
    (found,) = [each for each in answer(project).findings if each.verdict == "fail"]
    assert (found.check, found.margin, found.remedies) == ("saw", pytest.approx(-1), ())


def test_a_lip_out_of_square_may_be_framed_square(design_a: Make) -> None:
    """A lip that leans by 5 mm wants 45.27 deg where it is followed."""
    design: Mapping[str, Any] = book.WHOLE
    project = design_a(
        **{
            **design,
            "lip": {**design["lip"], **book.lip_leaning(5)},
            "board": {**design["board"], "follow": "lip"},
            "shop": {**design["shop"], "tilt_max": "45.2 deg"},
        }
    )
    (found,) = [each for each in answer(project).findings if each.verdict == "fail"]
    assert [dict(remedy.changes) for remedy in found.remedies] == [{"board.follow": "square"}]
    assert failing(evaluate(applied(project, found.remedies[0])).findings) == set()
