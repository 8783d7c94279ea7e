"""The real thing beside the drawing: what was measured, what was drawn, and the difference."""

from dataclasses import dataclass, replace

from ...params.project import SIDES, Project
from . import built
from .layout import lay_out
from .lip import KEYS
from .plane import distance


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
