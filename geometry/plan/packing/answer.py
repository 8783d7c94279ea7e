"""What is answered: places, the gap that they keep, and what stands against it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Verdict = Literal["fits", "does not fit (proved)", "not found"]
Why = Literal["too tall", "no room", "two apart", "too many", "every way tried"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a vessel stands: its axis in plan and the height of its foot, mm."""

    vessel: str
    x: float
    y: float
    z: float
    on_step: bool


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason why they do not fit; lengths in mm.

    ``needed`` and ``there`` are what the reason compares: for ``too tall`` heights from the
    vessel's foot; for ``no room`` diameters, gaps already taken off; for ``two apart`` the
    distance of two axes; for ``too many`` counts; for ``every way tried`` gaps.
    """

    why: Why
    vessels: tuple[str, ...]
    on_step: bool
    needed: float
    there: float
    across: str = ""

    def say(self, show: Callable[[float], str] = lambda mm: f"{mm:.1f} mm") -> str:
        """Return the reason in words, lengths printed by ``show``."""
        names = " and ".join(self.vessels) if len(self.vessels) < 3 else ", ".join(self.vessels)
        where = "on the step" if self.on_step else "on the floor"
        needed, there = show(self.needed), show(self.there)
        match self.why:
            case "too tall":
                return f"{names} needs {needed} of height {where}, and {there} is there"
            case "no room":
                short = show(self.needed - self.there)
                return f"{names} with its gaps is {short} too wide {self.across} {where}"
            case "two apart":
                return (
                    f"{names} need {needed} between their axes, and the farthest that both "
                    f"can stand apart is {there}"
                )
            case "too many":
                return (
                    f"at most {self.there:.0f} axes so far apart have room {where}, "
                    f"and {names} are {self.needed:.0f}"
                )
            case "every way tried":
                return (
                    f"every way to set {names} beside each other was followed until it could not "
                    f"keep {needed}: none keeps more than {there}"
                )


@dataclass(frozen=True, slots=True)
class Packing:
    """What came of packing.

    ``gap`` is the largest gap that the ``places`` found keep, re-checked without the solver;
    negative if the best try has things that much in each other; None if a cheap proof left
    nothing to try. ``bound`` is proved: no placement keeps more. ``nodes`` is how many parts of
    the search were looked at, ``given_up`` whether it stopped at its limit.
    """

    verdict: Verdict
    required: float
    places: tuple[Place, ...]
    gap: float | None
    bound: float
    reasons: tuple[Reason, ...] = ()
    nodes: int = 0
    given_up: bool = False
    between: tuple[str, str] | None = None

    @property
    def short_by(self) -> float:
        """How far the best try stays below the required gap, mm; 0 if it does not."""
        return 0.0 if self.gap is None else max(self.required - self.gap, 0.0)

    def say(self, show: Callable[[float], str] = lambda mm: f"{mm:.1f} mm") -> str:
        """Return the answer in words, lengths printed by ``show``."""
        match self.verdict:
            case "fits":
                assert self.gap is not None
                return f"a gap of {show(self.gap)} can be kept, at most {show(self.bound)}"
            case "does not fit (proved)":
                return "; ".join(reason.say(show) for reason in self.reasons)
            case "not found":
                tried = "no placement found"
                if self.gap is not None:
                    tried += f"; the best try is short by {show(self.short_by)}"
                return (
                    f"{tried}; a gap of up to {show(self.bound)} is not ruled out; "
                    f"stopped after {self.nodes} nodes"
                )
