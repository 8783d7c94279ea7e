"""What-if: a design with some keys changed, evaluated once for each set of changes."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from ...params import catalogue
from ...params.problem import BuildFileError
from ...params.project import Project
from .change import Rows, Value, changed
from .design import Design
from .evaluate import EVERY, Evaluation, asked, laid_out, load
from .finding import SLACK, Finding, worst
from .tolerance import Place, places

Changes = Mapping[str, Value]
Key = frozenset[tuple[str, Value]]

Slow = Callable[[Project, Evaluation], tuple[Finding, ...]]
"""Answers a question that is too slow for a loop over ``evaluate``."""

MOST_SLOW, MOST_IN_FULL = 60, 6
"""Times that the slow question is asked about changes that are only tried, with a quick look and
in full; counts, not seconds, so that the same build file has the same remedies everywhere."""

MOST_WORK, LAYING_OUT = 120_000, 60
"""Findings that are judged anew in a search for changes, some two seconds, and what laying a
design out counts for. A count, so that the same build file has the same remedies everywhere."""


@dataclass(slots=True)
class Trials:
    """A design with everything that was tried on it.

    ``base`` is its evaluation with tolerances. ``slow`` answers what is too slow for a loop (the
    packing of the well); it is asked once for each change that is about to be offered. Most of
    what is tried does not even mend the finding that it is tried for, so that one check is asked
    first and the others only where it passes. A vessel that is exchanged for another keeps its
    name here, so that its findings can be compared.
    """

    project: Project
    base: Evaluation
    rows: Rows = catalogue.load
    slow: Slow | None = None
    _designs: dict[Key, Design | None] = field(default_factory=dict[Key, "Design | None"])
    _parts: dict[tuple[Key, str], Mapping[Place, Finding]] = field(
        default_factory=dict[tuple[Key, str], Mapping[Place, Finding]]
    )
    _seen: dict[Key, Mapping[Place, Finding] | None] = field(
        default_factory=dict[Key, "Mapping[Place, Finding] | None"]
    )
    _slowly: dict[Key, Mapping[Place, Finding] | None] = field(
        default_factory=dict[Key, "Mapping[Place, Finding] | None"]
    )
    _in_full: int = 0
    _work: int = 0
    _base: Mapping[Place, Finding] = field(default_factory=dict[Place, Finding])

    def __post_init__(self) -> None:
        self._base = places(self.base.findings)

    @property
    def before(self) -> Mapping[Place, Finding]:
        """The findings of the design as it is, with their tolerances."""
        return self._base

    def project_with(self, changes: Changes) -> Project:
        """Return the design with some keys changed."""
        return changed(self.project, changes, self.rows)

    def findings(self, changes: Changes) -> Mapping[Place, Finding] | None:
        """Return the findings after a change; None where it cannot be laid out."""
        key = frozenset(changes.items())
        if key not in self._seen:
            design = self._design(key, changes)
            if design is not None:
                self._work += load(self.base)
                self._seen[key] = self._places(design, asked(design, EVERY))
            elif self.given_up:
                return None
            else:
                self._seen[key] = None
        return self._seen[key]

    @property
    def given_up(self) -> bool:
        """Whether the search stopped at its limit; what was not tried by then is not offered."""
        return self._work > MOST_WORK

    def is_slow(self, place: Place) -> bool:
        """Tell whether a finding is the slow question's."""
        return place[0] not in EVERY

    def after(self, place: Place, changes: Changes) -> Finding | None:
        """Return one finding after a change; None where it is gone or cannot be laid out."""
        return (self._of_check(place[0], changes) or {}).get(place)

    def slowly(self, changes: Changes) -> Mapping[Place, Finding] | None:
        """Return what is too slow for a loop, after a change; None: no answer, or not asked.

        A slow question may have a quicker way to look at what is only tried.
        """
        key = frozenset(changes.items())
        if key not in self._slowly:
            design = self._design(key, changes)
            if self.slow is None or design is None or len(self._slowly) >= MOST_SLOW:
                return None
            quick: Slow = getattr(self.slow, "quick", self.slow)
            found = quick(design.project, self._evaluation(design, changes))
            self._slowly[key] = self._places(design, found)
        return self._slowly[key]

    def _places(self, design: Design, findings: Iterable[Finding]) -> Mapping[Place, Finding]:
        return places(self._as_named_before(design, findings))

    def _as_named_before(self, design: Design, findings: Iterable[Finding]) -> Iterator[Finding]:
        """Yield findings about the vessels under the names that these had before the change."""
        before = [vessel.name for vessel in self.base.layout.inside.vessels]
        now = [vessel.name for vessel in design.layout.inside.vessels]
        if before == now or len(before) != len(now):
            yield from findings
            return
        names = dict(zip(now, before, strict=True))
        for each in findings:
            name = names.get(each.where.vessel or "")
            yield replace(each, where=replace(each.where, vessel=name)) if name else each

    def _design(self, key: Key, changes: Changes) -> Design | None:
        if key not in self._designs:
            if self.given_up:
                return None
            self._work += LAYING_OUT + load(self.base) // 10
            try:
                self._designs[key] = laid_out(self.project_with(changes))
            except BuildFileError:
                self._designs[key] = None
        return self._designs[key]

    def _of_check(self, check: str, changes: Changes) -> Mapping[Place, Finding] | None:
        """Return what one check says after a change; None where it cannot be laid out."""
        if check not in EVERY:
            return self.slowly(changes)
        key = frozenset(changes.items())
        if self._seen.get(key) is not None:
            return self._seen[key]
        if (key, check) not in self._parts:
            design = self._design(key, changes)
            if design is None:
                return None
            self._parts[key, check] = self._places(design, asked(design, {check}))
        return self._parts[key, check]

    def mends(self, place: Place, changes: Changes, *, firmly: bool, strict: bool = True) -> bool:
        """Tell whether a finding passes after a change, and no *must* that passed before fails.

        ``firmly``: by at least its tolerance, so that it would not be tight either; without
        ``strict`` others may fail.
        """
        if place[0] not in EVERY and strict and self.broken(changes):
            return False
        found = self._of_check(place[0], changes)
        if found is None:
            return False
        after = found.get(place)
        if after is not None and not _holds(after, self._base.get(place), firmly=firmly):
            return False
        return not (strict and self.broken(changes))

    def broken(self, changes: Changes) -> tuple[Finding, ...]:
        """Return the *must* findings that fail after a change and did not before."""
        found = self.findings(changes) or {}
        return tuple(
            after
            for place, after in found.items()
            if after.weight == "must" and after.verdict == "fail" and not self._failed(place)
        )

    def failing(self, changes: Changes) -> tuple[Place, ...] | None:
        """Return the *must* findings that fail after a change; None: it cannot be laid out.

        The slow question is asked where nothing else fails, or where it is what failed before.
        """
        found = self.findings(changes)
        if found is None:
            return None
        left = tuple(
            place
            for place, each in found.items()
            if each.weight == "must" and each.verdict == "fail"
        )
        return left if left and not self._slow_failed else (*left, *self.slow_left(changes))

    def slow_left(self, changes: Changes) -> tuple[Place, ...]:
        """Return what the slow question still says no to, or does not know to hold any more.

        Where the quick look does not find that what fitted still fits, it is asked in full.
        """
        if self.slow is None:
            return ()
        if not changes:
            return self._slow_failed
        found = self.slowly(changes)
        if found is None:
            return self._slow_failed
        left = self._left(found)
        if any(place not in self._slow_failed for place in left) and self._in_full < MOST_IN_FULL:
            self._in_full += 1
            design = self._design(frozenset(changes.items()), changes)
            assert design is not None
            full = self.slow(design.project, self._evaluation(design, changes))
            left = self._left(self._places(design, full))
        return left

    def _left(self, found: Mapping[Place, Finding]) -> tuple[Place, ...]:
        """Return the places of what fails, or was judged and is not known any more."""
        judged = {place for place, was in self._base.items() if was.verdict != "not-checked"}
        return tuple(
            place
            for place, after in found.items()
            if after.verdict == "fail" or (after.verdict == "not-checked" and place in judged)
        )

    @property
    def _slow_failed(self) -> tuple[Place, ...]:
        return tuple(
            place
            for place, was in self._base.items()
            if place[0] not in EVERY and was.verdict == "fail"
        )

    def _evaluation(self, design: Design, changes: Changes) -> Evaluation:
        findings = tuple((self.findings(changes) or {}).values())
        return Evaluation(design.layout, findings, worst(findings))

    def worse(self, changes: Changes) -> tuple[tuple[Finding, Finding], ...]:
        """Return what a change costs elsewhere: (before, after) of verdicts that get worse.

        After it a *must* that had room is tight, or advice that was kept fails.
        """
        found = self.findings(changes) or {}
        costs: list[tuple[Finding, Finding]] = []
        for place, after in found.items():
            was = self._base.get(place)
            if was is None or was.verdict != "pass" or after.margin is None:
                continue
            fails = after.verdict == "fail"
            tight = after.margin < (was.tolerance or 0.0) - SLACK
            if fails or (tight and after.weight == "must"):
                costs.append((was, after))
        return tuple(costs)

    def _failed(self, place: Place) -> bool:
        was = self._base.get(place)
        return was is not None and was.verdict == "fail"


def _holds(after: Finding, was: Finding | None, *, firmly: bool) -> bool:
    if after.verdict in ("not-checked", "fail"):
        return False
    if after.margin is None:
        return True
    need = (was.tolerance or 0.0) if firmly and was is not None else 0.0
    return after.margin >= need - SLACK
