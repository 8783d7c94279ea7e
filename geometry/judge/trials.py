"""What-if: a design with some keys changed, evaluated once for each set of changes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from ...params import catalogue
from ...params.problem import BuildFileError
from ...params.project import Project
from .change import Rows, Value, changed
from .checks import CHECKS
from .design import Design
from .evaluate import Evaluation, asked, laid_out
from .finding import SLACK, Finding
from .tolerance import Place, places

Changes = Mapping[str, Value]
Key = frozenset[tuple[str, Value]]


@dataclass(slots=True)
class Trials:
    """A design with everything that was tried on it.

    ``base`` is its evaluation with tolerances. ``slow`` answers what is too slow for a loop (the
    packing of the well); it is asked once for each change that is about to be offered. Most of
    what is tried does not even mend the finding that it is tried for, so that one check is asked
    first and the others only where it passes.
    """

    project: Project
    base: Evaluation
    rows: Rows = catalogue.load
    slow: Callable[[Project, Evaluation], tuple[Finding, ...]] | None = None
    _designs: dict[Key, Design | None] = field(default_factory=dict[Key, "Design | None"])
    _parts: dict[tuple[Key, str], Mapping[Place, Finding]] = field(
        default_factory=dict[tuple[Key, str], Mapping[Place, Finding]]
    )
    _seen: dict[Key, Mapping[Place, Finding] | None] = field(
        default_factory=dict[Key, "Mapping[Place, Finding] | None"]
    )
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
            every = {check.id for check, _ in CHECKS}
            self._seen[key] = None if design is None else places(asked(design, every))
        return self._seen[key]

    def _design(self, key: Key, changes: Changes) -> Design | None:
        if key not in self._designs:
            try:
                self._designs[key] = laid_out(self.project_with(changes))
            except BuildFileError:
                self._designs[key] = None
        return self._designs[key]

    def _of_check(self, check: str, changes: Changes) -> Mapping[Place, Finding] | None:
        """Return what one check says after a change; None where it cannot be laid out."""
        key = frozenset(changes.items())
        if self._seen.get(key) is not None:
            return self._seen[key]
        if (key, check) not in self._parts:
            design = self._design(key, changes)
            if design is None:
                return None
            self._parts[key, check] = places(asked(design, {check}))
        return self._parts[key, check]

    def mends(self, place: Place, changes: Changes, *, firmly: bool, strict: bool = True) -> bool:
        """Tell whether a finding passes after a change, and no *must* that passed before fails.

        ``firmly``: by at least its tolerance, so that it would not be tight either; without
        ``strict`` others may fail.
        """
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
        """Return the *must* findings that fail after a change; None: it cannot be laid out."""
        found = self.findings(changes)
        if found is None:
            return None
        return tuple(
            place
            for place, each in found.items()
            if each.weight == "must" and each.verdict == "fail"
        )

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
    if after.verdict == "not-checked":
        return False
    if after.margin is None:
        return True
    need = (was.tolerance or 0.0) if firmly and was is not None else 0.0
    return after.margin >= need - SLACK
