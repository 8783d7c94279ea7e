"""What a check says: one shape, so that terminal, report and JSON print the same facts.

The verdict is computed here, from numbers, and nowhere else.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from ...params.project import Side

Verdict = Literal["fail", "tight", "not-checked", "pass"]
Weight = Literal["must", "advice"]
Sense = Literal["at least", "at most"]

WORST_FIRST: tuple[Verdict, ...] = ("fail", "tight", "not-checked", "pass")

SLACK = 1e-6
"""In the finding's unit. Far below any reading; floats make 101.6 - 100.0 less than 1.6."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Where:
    """Which thing a finding is about; keys that do not apply are None."""

    side: Side | None = None
    tap: int | None = None
    vessel: str | None = None
    corner: str | None = None
    text: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """A change that was tried: with it the finding passes and nothing that passed fails.

    ``changes`` maps keys of the build file to values as they would be written there; ``says``
    is the change in words, with what it does and what it costs elsewhere.
    """

    changes: Mapping[str, str | int | bool]
    says: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """The answer of one check about one thing.

    ``measured``, ``required``, ``margin`` and ``tolerance`` are in ``unit``; a positive margin
    is good. ``required`` and ``margin`` are None where nothing stands in the way;
    ``missing`` names the keys that the build file lacks, ``levers`` those that move this
    finding. ``tolerance``, ``decided_by``, ``passes_if`` and ``remedies`` come from loops over
    ``evaluate`` (``answer``) and are None or empty until then.
    """

    check: str
    weight: Weight
    where: Where
    verdict: Verdict
    sense: Sense
    measured: float | None
    required: float | None
    margin: float | None
    tolerance: float | None
    decided_by: str | None
    unit: str
    missing: tuple[str, ...]
    passes_if: str | None
    why: str
    levers: tuple[str, ...]
    source: str
    remedies: tuple[Remedy, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One question a builder asks before the glue is on, and how its answers are made.

    ``levers`` are the keys of the build file that change the answer, nearest first; they never
    name a reading. ``continuous`` says that a small change of any length changes the margin by
    little; where it does not, things come into the way or leave it all at once.
    """

    id: str
    weight: Weight
    unit: str
    question: str
    source: str
    levers: tuple[str, ...] = ()
    continuous: bool = True

    def at_least(self, where: Where, measured: float, required: float, why: str) -> Finding:
        """Judge a quantity that must reach ``required``."""
        margin = measured - required
        return self._finding(
            where, judge(margin, None), why, (measured, required, margin), "at least"
        )

    def at_most(self, where: Where, measured: float, required: float, why: str) -> Finding:
        """Judge a quantity that must not exceed ``required``."""
        margin = required - measured
        return self._finding(
            where, judge(margin, None), why, (measured, required, margin), "at most"
        )

    def nothing_near(self, where: Where, why: str) -> Finding:
        """Pass because there is nothing that could be in the way; all figures are None."""
        return self._finding(where, "pass", why)

    def no_limit(self, where: Where, measured: float, why: str) -> Finding:
        """Pass and tell the figure, where nothing bounds it; required and margin are None."""
        return self._finding(where, "pass", why, (measured, None, None))

    def ruled_out(self, where: Where, why: str) -> Finding:
        """Fail because it was proved that it cannot be, where there is no figure to compare."""
        return self._finding(where, "fail", why)

    def not_checked(self, where: Where, missing: Iterable[str], why: str) -> Finding:
        """Say which keys the build file lacks for this answer."""
        return self._finding(where, "not-checked", why, missing=tuple(dict.fromkeys(missing)))

    def _finding(
        self,
        where: Where,
        verdict: Verdict,
        why: str,
        figures: tuple[float | None, float | None, float | None] = (None, None, None),
        sense: Sense = "at least",
        missing: tuple[str, ...] = (),
    ) -> Finding:
        measured, required, margin = figures
        return Finding(
            check=self.id,
            weight=self.weight,
            where=where,
            verdict=verdict,
            sense=sense,
            measured=measured,
            required=required,
            margin=margin,
            tolerance=None,
            decided_by=None,
            unit=self.unit,
            missing=missing,
            passes_if=None,
            why=why,
            levers=self.levers,
            source=self.source,
        )


def judge(margin: float, tolerance: float | None) -> Verdict:
    """Return the verdict on a margin: fail below 0, tight below the tolerance, else pass."""
    if margin < -SLACK:
        return "fail"
    if tolerance is not None and margin < tolerance - SLACK:
        return "tight"
    return "pass"


def worst(findings: Iterable[Finding]) -> Verdict:
    """Return the worst verdict of the *must* findings: fail, tight, not-checked, pass."""
    seen = {finding.verdict for finding in findings if finding.weight == "must"}
    for verdict in WORST_FIRST:
        if verdict in seen:
            return verdict
    return "pass"


def advice_count(findings: Iterable[Finding]) -> dict[Verdict, int]:
    """Count the advice by verdict."""
    counts: dict[Verdict, int] = dict.fromkeys(WORST_FIRST, 0)
    for finding in findings:
        if finding.weight == "advice":
            counts[finding.verdict] += 1
    return counts
