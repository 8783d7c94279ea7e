"""The manifold on the collar's inside: does it clear what is about it, and do its valves turn?

A nut under the manifold cannot be turned, and a valve whose handle meets the foam stays half
shut. How far vessels stand away from it is ``vessels``' matter.
"""

import math
from collections.abc import Iterator

from ...shape.frame import Board
from ...shape.hole import TRAY
from ...shape.lining import Manifold, between
from ...shape.plane import over_corners
from ..design import Design
from ..finding import Check, Finding, Where

MANIFOLD = Check(
    id="manifold",
    weight="must",
    unit="mm",
    question="does the manifold clear nuts, brackets and corners, and do its valves turn?",
    source="least gap on the board's inner face, inlet and handles included; 5 mm is common"
    " practice",
    levers=("manifold.offset", "manifold.centre", "manifold.side", "manifold.kind"),
)


def find(design: Design) -> Iterator[Finding]:
    """Yield the least gap between the manifold and what is beside it on its board."""
    layout = design.layout
    manifold = layout.manifold
    if manifold is None:
        yield MANIFOLD.nothing_near(Where(), "there is no manifold")
        return
    where = Where(side=manifold.side)
    missing = [
        design.tap_key(tap, "shank") for tap in layout.taps_on(manifold.side) if tap.shank is None
    ]
    if missing:
        yield MANIFOLD.not_checked(where, missing, "the nuts on its board")
        return
    board = layout.board(manifold.side)
    gaps = [*_beside(design, manifold, board), *_corners(design, manifold, board)]
    measured, what = min(gaps)
    why = f"from the manifold to {what}"
    reaching = [
        vessel.name
        for vessel in layout.inside.vessels
        if layout.inside.well is not None
        and layout.inside.well.bottom + vessel.tall > manifold.v - manifold.height / 2
    ]
    if reaching:
        why += f"; {', '.join(reaching)} reach up to it: vessels keeps them away"
    yield MANIFOLD.at_least(where, measured, design.required(MANIFOLD.id, 5.0), why)


def _half(design: Design, manifold: Manifold) -> tuple[float, float]:
    """Return half the room that it takes along the board and up: bar, inlet, handles turning.

    Handles are taken to turn about the middle of the bar's height, at the outlets.
    """
    asked = design.project.manifold
    row = design.project.part("manifolds", asked.kind if asked else None)
    along, up = manifold.length / 2, manifold.height / 2
    if row is None:
        return along, up
    along += row.get("inlet_projection") or 0.0
    sweep, first = row.get("handle_sweep_radius"), row.get("first_outlet_from_end")
    if sweep is not None and first is not None:
        along = max(along, manifold.length / 2 - first + sweep)
        up = max(up, sweep)
    return along, up


def _beside(design: Design, manifold: Manifold, board: Board) -> Iterator[tuple[float, str]]:
    """Yield gaps to nuts, passages and brackets on the same board."""
    layout = design.layout
    along, up = _half(design, manifold)

    def to(u: float, v: float, half_long: float, half_tall: float, round_by: float) -> float:
        dx = abs(u - manifold.u) - along - half_long
        dy = abs(v - manifold.v) - up - half_tall
        outside = math.hypot(max(dx, 0.0), max(dy, 0.0))
        return (outside if outside > 0 else max(dx, dy)) - round_by

    for tap in layout.taps_on(board.side):
        assert tap.shank is not None
        nut = max(over_corners(tap.shank.nut_across_flats), tap.washer_diameter or 0.0)
        yield to(tap.u, tap.v, 0.0, 0.0, nut / 2), f"the nut of tap {tap.number}"
    for hole in board.holes:
        through = hole.name.startswith(TRAY) and hole.depth is None
        if hole.purpose == "passage" or through:
            radius = (hole.diameter or 0.0) / 2
            what = f"the screw {hole.name}" if through else f"the passage {hole.name}"
            yield to(hole.u, hole.v, 0.0, 0.0, radius), what
    for leg in layout.brackets:
        if leg.side != board.side:
            continue
        left = board.inner_left
        if leg.at == "right":
            left = board.long_point - board.inner_right - leg.leg
        gap = to(left + leg.leg / 2, leg.v, leg.leg / 2, leg.width / 2, 0.0)
        yield gap, f"the bracket at the {leg.at} end"


def _corners(design: Design, manifold: Manifold, board: Board) -> Iterator[tuple[float, str]]:
    """Yield gaps to the next boards and their foam at both ends, within the manifold's depth."""
    layout = design.layout
    along, _ = _half(design, manifold)
    foam = layout.foam
    for end, corner, room in (
        ("left", layout.frame.left_of(board.side), manifold.u - board.inner_left),
        (
            "right",
            layout.frame.right_of(board.side),
            board.long_point - board.inner_right - manifold.u,
        ),
    ):
        theta = math.radians(corner.interior_deg)
        lean = manifold.depth * max(0.0, math.cos(theta) / math.sin(theta))
        reach, what = lean, "the next board"
        if foam and (between(design.project, board.side) or manifold.depth > foam):
            reach, what = lean + foam / math.sin(theta), "the next board's foam"
        yield room - along - reach, f"{what} at the {end} end"
