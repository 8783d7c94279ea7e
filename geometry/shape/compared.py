"""The real thing beside the drawing: what was measured, what was drawn, and the difference."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...params.project import SIDES, Project
from ...params.units import both_text
from . import built
from .layout import Layout, lay_out
from .plane import distance
from .six_lengths import KEYS

TOLD = 1.0
"""A board's length or a bore's place that is further off than this is told with what follows of
it, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One length that ``[built]`` measured, mm; ``what`` names it in words."""

    what: str
    drawn: float
    built: float

    @property
    def more(self) -> float:
        """How much longer, wider or further it is than drawn, mm."""
        return self.built - self.drawn


def differences(project: Project) -> tuple[Difference, ...]:
    """Return everything that ``[built]`` measured beside its drawn value; empty without it."""
    real = project.built
    if real is None or not project.as_built:
        return ()
    drawn = lay_out(replace(project, as_built=False))
    corners = [(corner.x, corner.y) for corner in drawn.frame.corners]
    board = drawn.boards[0]
    lengths: list[tuple[str, float, float | None]] = [
        (f"{side} board", each.long_point, getattr(real, side))
        for side, each in zip(SIDES, drawn.boards, strict=True)
    ]
    lengths += [
        (key.replace("_", "-").replace("-to-", " to "), distance(a, b), getattr(real, key))
        for key, a, b in zip(KEYS[4:], corners[:2], corners[2:], strict=True)
    ]
    lengths += [("thickness", board.thickness, real.thickness), ("width", board.width, real.width)]
    lengths.append(("foam", drawn.foam, real.foam))
    names = tuple(tap.name for tap in drawn.taps)
    for tap in drawn.taps:
        bore = built.bores(project, names).get(tap.number)
        if bore is not None:
            _, made = bore
            lengths += [
                (f"tap {tap.number} from the left", tap.u, made.from_left),
                (f"tap {tap.number} from the bottom", tap.v, made.from_bottom),
                (f"tap {tap.number}'s bore", tap.bore, made.diameter),
            ]
    return tuple(Difference(what, was, now) for what, was, now in lengths if now is not None)


def remarks(project: Project, layout: Layout) -> tuple[str, ...]:
    """Say what follows of boards and bores that came out more than ``TOLD`` off; drawn: nothing.

    Args:
        project: with what was made.
        layout: of the project as built.
    """
    if project.built is None or not project.as_built:
        return ()
    drawn = lay_out(replace(project, as_built=False))
    return (*_boards(project, layout, drawn), *_bores(project, layout, drawn))


def _boards(project: Project, layout: Layout, drawn: Layout) -> Iterator[str]:
    dry = layout.frame.dry
    for side, board in zip(SIDES, drawn.boards, strict=True):
        now = getattr(project.built, side)
        if now is None or abs(now - board.long_point) <= TOLD:
            continue
        more = now - board.long_point
        said = (
            f"{side} board is {both_text(abs(more), project.show)}"
            f" {'longer' if more > 0 else 'shorter'} than drawn"
        )
        if dry is not None:
            off = max(abs(a - b) for a, b in zip(dry.angles_deg, dry.cut_deg, strict=True))
            said += f": the collar is out of square by up to {off:.2f} deg"
            if off < 0.005:
                said += ", so its miters meet as they were sawn"
        panel = layout.panel(side)
        if panel is not None:
            said += f"; foam-{side} is to be cut to {both_text(panel.length, project.show)}"
        yield said


def _bores(project: Project, layout: Layout, drawn: Layout) -> Iterator[str]:
    names = tuple(tap.name for tap in drawn.taps)
    measured = built.bores(project, names)
    placed = False
    for was, now in zip(drawn.taps, layout.taps, strict=True):
        if was.number not in measured:
            continue
        made = measured[was.number][1]
        cover, foam = layout.cover(was.side), layout.panel(was.side)
        placed |= cover is not None and (made.from_left, made.from_bottom) != (None, None)
        off = math.hypot(
            0.0 if made.from_left is None else now.u - was.u,
            0.0 if made.from_bottom is None else now.v - was.v,
        )
        with_it = [
            *(["the cover's hole"] if cover is not None else []),
            *(["the foam's pocket"] if foam is not None else []),
        ]
        if off > TOLD and with_it:
            many = len(with_it) > 1
            yield (
                f"tap {was.number}'s bore is {both_text(off, project.show)} off its drawn place:"
                f" {' and '.join(with_it)} {'go' if many else 'goes'} with it: cut"
                f" {'them' if many else 'it'} to the bore as made"
            )
    if placed:
        yield (
            "from_left and from_bottom of [[built.bore]] are measured on the board, from its left"
            " long point and its bottom edge, not on the cover"
        )
