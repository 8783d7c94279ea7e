"""The well under the collar, what hangs into it, and the vessels that are to stand in it.

Plan and heights are the collar's: x to the right and y to the back from the lip's outer
front-left corner, Z = 0 what the collar stands on, the lip's plane ``seal`` below it. A collar
out of square is taken by the rectangle within it: on the safe side.
"""

from dataclasses import dataclass

from ...params.project import SIDES, Project, Side
from .frame import Board, Frame
from .inner import Inner, Rect, Run, inner_envelopes, runs
from .lining import Bracket, Manifold, Panel
from .lip import Lip
from .plane import moved_out
from .seat import CapStrip
from .taps import Tap
from .vessel import Vessel, vessels


@dataclass(frozen=True, slots=True)
class Step:
    """The raised floor: ``length`` out from the well's wall on ``side``, ``height`` high, mm."""

    side: Side
    length: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Well:
    """The well: walls between ``floor`` and ``mouth``, from ``bottom`` up to the lip's plane."""

    floor: Rect
    mouth: Rect
    bottom: float
    top: float
    corner_radius: float
    gap: float
    step: Step | None


@dataclass(frozen=True, slots=True)
class Opening:
    """What is free between the collar's inner faces from one height to another, mm.

    ``rect`` lies within it and ``around`` about it: they are one where the collar is square.
    """

    between: str
    rect: Rect
    around: Rect
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """Everything on the inside that vessels have to do with.

    ``openings``, ``inner`` and ``runs`` are worked out only where there is a well and a vessel.
    ``plug`` is the lid's inner panel in plan.
    """

    well: Well | None = None
    vessels: tuple[Vessel, ...] = ()
    openings: tuple[Opening, ...] = ()
    inner: tuple[Inner, ...] = ()
    runs: tuple[Run, ...] = ()
    plug: Rect | None = None


def inside(
    project: Project,
    lip: Lip,
    frame: Frame,
    boards: tuple[Board, ...],
    panels: tuple[Panel, ...],
    taps: tuple[Tap, ...],
    manifold: Manifold | None,
    brackets: tuple[Bracket, ...],
    cap: CapStrip | None,
    lip_z: float,
) -> Inside:
    """Put together what is inside the collar and under it; ``lip_z`` is the lip's plane, mm."""
    well, there = place(project, lip, lip_z), vessels(project, taps)
    if well is None or not there:
        return Inside(well=well, vessels=there)
    return Inside(
        well=well,
        vessels=there,
        openings=openings(frame, boards, panels, cap),
        inner=inner_envelopes(project, boards, taps, manifold, brackets),
        runs=runs(boards, taps),
        plug=plug_area(project, lip),
    )


def place(project: Project, lip: Lip, lip_z: float) -> Well | None:
    """Return the well, its floor centered under its mouth; None until its sizes were read.

    The mouth is centered in the lip where nobody said where it lies.
    """
    well = project.well
    if well is None or not (well.length and well.width and well.height):
        return None
    mouth_length = well.mouth_length or well.length
    mouth_width = well.mouth_width or well.width
    left = (lip.width - mouth_length) / 2 if well.left is None else well.left
    front = (lip.depth - mouth_width) / 2 if well.front is None else well.front
    x, y = left + (mouth_length - well.length) / 2, front + (mouth_width - well.width) / 2
    step = well.step
    return Well(
        floor=Rect(x, y, x + well.length, y + well.width),
        mouth=Rect(left, front, left + mouth_length, front + mouth_width),
        bottom=lip_z - well.height,
        top=lip_z,
        corner_radius=well.corner_radius,
        gap=well.gap,
        step=None if step is None else Step(step.side, step.length, step.height),
    )


def openings(
    frame: Frame, boards: tuple[Board, ...], panels: tuple[Panel, ...], cap: CapStrip | None
) -> tuple[Opening, ...]:
    """Return the way through the collar, from below: between foam, boards and cap strips."""
    board = boards[0]
    found: list[Opening] = []
    top = 0.0
    if panels:
        top = panels[0].width
        rects = _within(frame, board.thickness + panels[0].thickness)
        found.append(Opening("the foam panels", *rects, 0.0, top))
    if top < board.width:
        found.append(Opening("the boards", *_within(frame, board.thickness), top, board.width))
    if cap is not None:
        rects = _within(frame, cap.inset + cap.width)
        found.append(Opening("the cap's strips", *rects, board.width, board.width + cap.thickness))
    return tuple(found)


def _within(frame: Frame, depth: float) -> tuple[Rect, Rect]:
    """Return the rectangles within and about what each side's line, ``depth`` in, leaves."""
    outer = tuple((corner.x, corner.y) for corner in frame.corners)
    front_left, front_right, back_right, back_left = moved_out(outer, (-depth,) * 4)
    left, right = (front_left[0], back_left[0]), (front_right[0], back_right[0])
    front, back = (front_left[1], front_right[1]), (back_left[1], back_right[1])
    return (
        Rect(max(left), max(front), min(right), min(back)),
        Rect(min(left), min(front), max(right), max(back)),
    )


def plug_area(project: Project, lip: Lip) -> Rect | None:
    """Return the lid's plug in plan; None where there is none or nobody knows where it is."""
    lid = project.lid
    if lid is None or not lid.plug or lid.overhang is None or lid.plug_inset is None:
        return None
    edges: list[float] = []
    for side in SIDES:
        over, inset = lid.overhang.on(side), lid.plug_inset.on(side)
        if over is None or inset is None:
            return None
        edges.append(inset - over)
    front, right, back, left = edges
    found = Rect(left, front, lip.width - right, lip.depth - back)
    return found if found.there else None
