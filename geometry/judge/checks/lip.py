"""The lip's readings: do they close, and how far out of square is the freezer?

Six readings of a lip have one surplus. It tells that something is wrong and by how much, never
which reading: so each one's own closing change is named, and the tape goes back to the one
that looks likeliest. A wrong lip makes a collar that hangs in the air on one side.
"""

import math
from collections.abc import Iterator

from ...shape.built import MADE
from ...shape.six_lengths import KEYS
from ..design import Design
from ..finding import Check, Finding, Where

READINGS = Check(
    id="readings",
    weight="must",
    unit="mm",
    question="do the tape readings of the lip close?",
    source="least squares over the corners; limit of three tape errors is common practice",
)
LIP_SQUARE = Check(
    id="lip-square",
    weight="advice",
    unit="mm",
    question="how far out of square is the lip?",
    source="the worst corner over the shorter side; limit from the stand of the boards",
    levers=("board.follow", "board.overhang"),
)


def find_readings(design: Design) -> Iterator[Finding]:
    """Yield the closure of the six readings, and the spread of each repeated one."""
    lip, asked = design.layout.lip, design.project.lip
    required = design.required(READINGS.id, 3 * asked.tape)
    where = Where(text="closure")
    diagonals = [abs(change) for change in lip.closing[4:] if change is not None]
    if diagonals:
        changes = _changes(design, lip.closing)
        why = f"any one of these changes alone would close the figure: {changes}"
        yield READINGS.at_most(where, min(diagonals), required, why)
    else:
        missing = design.lacking(*(f"lip.{key}" for key in KEYS[4:]))
        why = "four sides and both diagonals tell whether one of them is wrong"
        yield READINGS.not_checked(where, missing, why)
    for key, spread in lip.spreads:
        why = "greatest less least of the readings of this length; their mean is used"
        yield READINGS.at_most(Where(text=key), spread, required, why)
    yield from _dry_readings(design)


def _dry_readings(design: Design) -> Iterator[Finding]:
    """Yield the closure of the dry frame's six readings, where the collar is judged as built.

    What is measured on made parts is known to ``MADE``, so three of those are its limit.
    """
    dry, where = design.layout.frame.dry, Where(text="built frame")
    if dry is None:
        return
    diagonals = [abs(change) for change in dry.closing[4:] if change is not None]
    if not diagonals:
        why = "four long points and both diagonals of the dry frame tell whether one is wrong"
        yield READINGS.not_checked(where, dry.missing, why)
        return
    why = f"any one of these alone would close the dry frame: {_changes(design, dry.closing)}"
    yield READINGS.at_most(where, min(diagonals), design.required(READINGS.id, 3 * MADE), why)


def _changes(design: Design, closing: tuple[float | None, ...]) -> str:
    """Say by how much each reading alone would have to change for the figure to close."""
    return ", or ".join(
        f"{key} {'longer' if change > 0 else 'shorter'} by {design.text(abs(change))}"
        for key, change in zip(KEYS, closing, strict=True)
        if change is not None
    )


def find_square(design: Design) -> Iterator[Finding]:
    """Yield how far the worst corner leans over the shorter side."""
    lip, project = design.layout.lip, design.project
    where = Where(text="lip")
    if lip.known_by == "sides":
        missing = design.lacking("lip.front_left_to_back_right")
        yield LIP_SQUARE.not_checked(where, missing, "a diagonal shows how square the lip is")
        return
    off_deg = max(abs(angle - 90) for angle in lip.angles_deg)
    lean = min(lip.sides) * math.sin(math.radians(off_deg))
    why = f"the corners are up to {off_deg:.2f} deg from square"
    if project.board.follow == "lip":
        yield LIP_SQUARE.no_limit(where, lean, why + "; the collar follows the lip")
        return
    missing = design.lacking("lip.land")
    if missing:
        yield LIP_SQUARE.not_checked(where, missing, why)
        return
    bear = max(0.0, _what_stand_bears(design))
    yield LIP_SQUARE.at_most(where, lean, design.required(LIP_SQUARE.id, bear), why)


def _what_stand_bears(design: Design) -> float:
    """Return how far a side of the lip may lean and its board still stands as ``stand`` asks, mm.

    The collar is laid through the middle of the lip, so half of a lean goes to each end of a
    side. ``stand`` measures min(t - o, end) - max(-o, start); on land as wide as ``need`` it
    stays above that as long as o rises by no more than t - o - start - need, or falls by no
    more than end + o - need.
    """
    project, board = design.project, design.layout.boards[0]
    thickness = board.thickness
    need = design.required("stand", max(12.0, thickness / 2))
    start, end = project.lip.land_starts, project.lip.land_starts + (project.lip.land or 0.0)
    if end - start < need:
        return 0.0
    room: list[float] = []
    for each in design.layout.boards:
        over = project.board.overhang.on(each.side) or 0.0
        room += [thickness - over - start - need, end + over - need]
    return 2 * min(room)
