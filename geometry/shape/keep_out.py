"""Keep-outs: places before a board that no bought part may enter, as rectangles on its face."""

import math
from dataclasses import dataclass

from ...params.project import Project
from .envelope import Envelope
from .frame import Board


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A keep-out on its board's face, mm; ``depth`` is None where it stands out all the way."""

    name: str
    left: float
    right: float
    low: float
    high: float
    depth: float | None

    def stands_before(self, out: float) -> bool:
        """Tell whether it reaches farther out from the board's face than ``out``."""
        return self.depth is None or self.depth > out

    def beside(self, u: float) -> float:
        """Return how far it is along the board from a line at ``u``, negative inside it, mm."""
        return max(self.left - u, u - self.right)

    def gap(self, envelope: Envelope) -> float | None:
        """Return the gap to an envelope in the face's plane, mm; negative where they overlap.

        None where the envelope begins farther out than this reaches.
        """
        near, _ = envelope.out
        if not self.stands_before(near):
            return None
        low, high = envelope.up
        if envelope.faces_out:
            v = (low + high) / 2
            low = high = v
        along = self.beside(envelope.u)
        up = max(self.low - high, low - self.high)
        half = envelope.width / 2
        if not envelope.faces_out:
            along -= half
        outside = math.hypot(max(along, 0.0), max(up, 0.0))
        away = outside if outside > 0.0 else max(along, up)
        return away - half if envelope.faces_out else away


def places(project: Project, board: Board) -> tuple[Place, ...]:
    """Return the keep-outs before a board, in the order of the build file."""
    middle = board.long_point / 2
    return tuple(
        Place(
            name=place.name or f"keep-out {number}",
            left=middle + place.offset - place.width / 2,
            right=middle + place.offset + place.width / 2,
            low=place.height - place.tall / 2,
            high=place.height + place.tall / 2,
            depth=place.depth,
        )
        for number, place in enumerate(project.keep_out, 1)
        if place.side == board.side
    )
