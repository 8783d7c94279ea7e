"""What the rescues share: the real collar beside the drawn one, lengths as a tape shows them."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ....params.project import BuiltBore
from ....params.units import both_text, length_text, parse
from ...shape import built
from ...shape.layout import Layout
from ...shape.taps import Tap
from ..change import Value
from ..tolerance import Place
from ..trials import Changes, Trials

WORTH = 0.5
"""What a rescue has to gain, mm: nobody works wood closer (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Rescue:
    """Something that can be done: what ``[built]`` would measure afterwards, and the words."""

    changes: Changes
    says: str


@dataclass(frozen=True, slots=True)
class Shop:
    """The collar on the bench: what was tried on it, how it is, and how it was drawn."""

    trials: Trials
    real: Layout
    drawn: Layout

    @property
    def step(self) -> float:
        """What a tape shows, mm: half a millimeter, or a sixteenth of an inch."""
        return 25.4 / 16 if self.trials.project.show == "in" else 0.5

    def rounded(self, mm: float) -> float:
        """Return a length as a tape shows it."""
        return round(mm / self.step) * self.step

    def rounded_down(self, mm: float) -> float:
        """Return the next shorter length that a tape shows."""
        return math.floor(mm / self.step + 1e-6) * self.step

    def rounded_up(self, mm: float) -> float:
        """Return the next longer length that a tape shows."""
        return math.ceil(mm / self.step - 1e-6) * self.step

    def said(self, mm: float) -> str:
        """Write a length in the units of the build file."""
        return both_text(mm, self.trials.project.show)

    def mends(self, place: Place, changes: Changes, *, firmly: bool = False) -> bool:
        """Tell whether a finding passes after a change, and no *must* that passed fails.

        A length has to gain ``WORTH`` by it: what mends by less is the rounding of a tape.
        """
        if not self.trials.mends(place, changes, firmly=firmly):
            return False
        before = self.trials.before[place]
        after = (self.trials.findings(changes) or {}).get(place)
        if after is None or after.margin is None or before.margin is None:
            return True
        return before.unit != "mm" or after.margin - before.margin >= WORTH

    def wanted(self, tap: Tap) -> tuple[float, float]:
        """Return where a bore of the real board would be as it was drawn, mm.

        It is drawn from the board's middle, so what was taken off the board counts on both ends.
        """
        drawn = self.drawn.taps[tap.number - 1]
        real, was = self.real.board(tap.side), self.drawn.board(tap.side)
        height = self.trials.project.taps[tap.row].height
        return (
            real.long_point / 2 + drawn.u - was.long_point / 2,
            real.width / 2 if height is None else height,
        )

    def off(self, tap: Tap) -> float:
        """Return how far a bore is from where it was drawn, mm."""
        u, v = self.wanted(tap)
        return math.hypot(tap.u - u, tap.v - v)

    def measured(self, tap: Tap) -> bool:
        """Tell whether ``[built]`` says how far a bore is from the left long point."""
        bore = self._rows().get(tap.number)
        return bore is not None and bore[1].from_left is not None

    def _rows(self) -> dict[int, tuple[int, BuiltBore]]:
        names = tuple(tap.name for tap in self.real.taps)
        return built.bores(self.trials.project, names)

    def bored(self, wanted: Mapping[int, Mapping[str, float]]) -> dict[str, Value]:
        """Return the changes of ``[[built.bore]]`` that give bores other figures.

        Args:
            wanted: ``from_left``, ``from_bottom``, ``diameter`` or ``plate`` by the tap's number.
        """
        project = self.trials.project
        known = {number: row + 1 for number, (row, _) in self._rows().items()}
        last = len(project.built.bore) if project.built else 0
        changes: dict[str, Value] = {}
        for number, figures in sorted(wanted.items()):
            row = known.get(number)
            if row is None:
                row = last = last + 1
                changes[f"built.bore[{row}].tap"] = number
            for name, value in figures.items():
                # What is tried is what will be written: no finer than it can be read back.
                text = length_text(value, project.show)
                changes[f"built.bore[{row}].{name}"] = parse(text, "length")
        return changes
