"""The well under the collar, what hangs into it, and the vessels that are to stand in it.

Plan and heights are the collar's: x to the right and y to the back from the lip's outer
front-left corner, Z = 0 what the collar stands on, the lip's plane ``seal`` below it. Whatever
hangs into the well from a board that is not parallel to the lip's front is taken by the
rectangle about it, and a collar out of square by the rectangle within it: both on the safe side.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ...params.catalogue import Row
from ...params.project import SIDES, Project, Side
from ...params.project import Vessel as VesselRow
from .frame import Board, Frame
from .lining import Bracket, Manifold, Panel
from .lip import Lip
from .plane import moved_out
from .seat import CapStrip
from .taps import Tap

LINE = 11.1
"""Outside diameter of a 3/16 in vinyl line, mm (common practice: sold as 7/16 in)."""

LINE_BEND = 50.0
"""Radius that a cold vinyl line bends to, at its center line, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, order=True)
class Rect:
    """A rectangle in plan, its sides along x and y, mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def there(self) -> bool:
        """Whether it has any area."""
        return self.x0 < self.x1 and self.y0 < self.y1


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
    """What is free between the collar's inner faces from one height to another, mm."""

    between: str
    rect: Rect
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inner:
    """Something on the collar's inside that a vessel has to pass, mm: a box with its owner.

    ``reason`` is shank (nut, shank, tail nut and tailpiece as one box), manifold or bracket.
    """

    owner: str
    reason: str
    side: Side
    rect: Rect
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Where a tap's tailpiece and line need to be free: ``reach`` about the shank's inner end.

    It concerns what stands higher than ``bottom``: the axis less bend radius and line.
    """

    tap: int
    x: float
    y: float
    reach: float
    bottom: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """A keg or cylinder, mm and kg; ``row`` is the index of its ``[[vessel]]`` table.

    ``fitting`` is how far coupler, disconnects or regulator stand above its top (None: nobody
    knows), within ``fitting_radius`` of its axis. ``side_reach`` is how far a regulator points
    away from a gas cylinder's wall; None for what is no gas cylinder. ``tap`` is what it feeds.
    """

    name: str
    row: int
    diameter: float
    height: float
    fitting: float | None
    fitting_radius: float
    side_reach: float | None
    full_mass: float | None
    tap: int | None

    @property
    def tall(self) -> float:
        """Its height with its fitting, mm; without, where nobody knows it."""
        return self.height + (self.fitting or 0.0)


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
        rect = _within(frame, board.thickness + panels[0].thickness)
        found.append(Opening("the foam panels", rect, 0.0, top))
    if top < board.width:
        found.append(Opening("the boards", _within(frame, board.thickness), top, board.width))
    if cap is not None:
        rect = _within(frame, cap.inset + cap.width)
        found.append(Opening("the cap's strips", rect, board.width, board.width + cap.thickness))
    return tuple(found)


def _within(frame: Frame, depth: float) -> Rect:
    """Return the rectangle that each side's line, ``depth`` in, leaves at its nearer end."""
    outer = tuple((corner.x, corner.y) for corner in frame.corners)
    front_left, front_right, back_right, back_left = moved_out(outer, (-depth,) * 4)
    return Rect(
        max(front_left[0], back_left[0]),
        max(front_left[1], front_right[1]),
        min(front_right[0], back_right[0]),
        min(back_left[1], back_right[1]),
    )


def inner_envelopes(
    project: Project,
    boards: tuple[Board, ...],
    taps: tuple[Tap, ...],
    manifold: Manifold | None,
    brackets: tuple[Bracket, ...],
) -> tuple[Inner, ...]:
    """Return what hangs into the well: each tap's shank, the manifold, the corner brackets."""
    return (
        *_shanks(boards, taps),
        *_manifold(project, boards, manifold),
        *_brackets(boards, brackets),
    )


def _shanks(boards: tuple[Board, ...], taps: Iterable[Tap]) -> Iterator[Inner]:
    for tap in taps:
        shank = tap.shank
        if shank is None:
            continue
        board = boards[SIDES.index(tap.side)]
        half = shank.nut_across_flats / math.sqrt(3)
        end = shank.length - tap.cover + shank.tailpiece_length
        yield Inner(
            owner=f"tap {tap.number}",
            reason="shank",
            side=tap.side,
            rect=_about(board, tap.u - half, tap.u + half, board.thickness, end),
            bottom=board.bottom + tap.v - half,
            top=board.bottom + tap.v + half,
        )


def _manifold(
    project: Project, boards: tuple[Board, ...], manifold: Manifold | None
) -> Iterator[Inner]:
    """Yield the manifold with its inlet, which may be at either end."""
    if manifold is None:
        return
    board = boards[SIDES.index(manifold.side)]
    half = manifold.length / 2 + inlet(project)
    yield Inner(
        owner="manifold",
        reason="manifold",
        side=manifold.side,
        rect=_about(
            board,
            manifold.u - half,
            manifold.u + half,
            board.thickness,
            board.thickness + manifold.depth,
        ),
        bottom=board.bottom + manifold.v - manifold.height / 2,
        top=board.bottom + manifold.v + manifold.height / 2,
    )


def inlet(project: Project) -> float:
    """Return how far the manifold's inlet stands beyond its end, mm; 0 where nobody knows."""
    asked = project.manifold
    row = project.part("manifolds", asked.kind) if asked else None
    return (row.get("inlet_projection") or 0.0) if row else 0.0


def _brackets(boards: tuple[Board, ...], brackets: Iterable[Bracket]) -> Iterator[Inner]:
    for leg in brackets:
        board = boards[SIDES.index(leg.side)]
        left, right = (
            (board.inner_left, board.inner_left + leg.leg)
            if leg.at == "left"
            else (
                board.long_point - board.inner_right - leg.leg,
                board.long_point - board.inner_right,
            )
        )
        near = board.thickness
        yield Inner(
            owner=f"bracket on the {leg.side} board",
            reason="bracket",
            side=leg.side,
            rect=_about(board, left, right, near, near + leg.thickness),
            bottom=board.bottom + leg.v - leg.width / 2,
            top=board.bottom + leg.v + leg.width / 2,
        )


def _about(board: Board, left: float, right: float, near: float, far: float) -> Rect:
    """Return the rectangle in plan about a box on a board, ``near`` to ``far`` behind its face."""
    points = [board.place(u, 0.0, inward) for u in (left, right) for inward in (near, far)]
    xs, ys = [x for x, _, _ in points], [y for _, y, _ in points]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def runs(boards: tuple[Board, ...], taps: Iterable[Tap]) -> tuple[Run, ...]:
    """Return what each tap's tailpiece and line need: the line turns down behind the tailpiece."""
    found: list[Run] = []
    for tap in taps:
        if tap.shank is None:
            continue
        board = boards[SIDES.index(tap.side)]
        x, y, z = board.place(tap.u, tap.v, tap.shank.length - tap.cover)
        reach = tap.shank.tailpiece_length + LINE_BEND
        found.append(Run(tap=tap.number, x=x, y=y, reach=reach, bottom=z - LINE_BEND - LINE))
    return tuple(found)


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


def vessels(project: Project, taps: tuple[Tap, ...]) -> tuple[Vessel, ...]:
    """Return every single vessel, row by row; like ones are numbered over all rows."""
    bases = [row.kind or f"vessel-{number}" for number, row in enumerate(project.vessel, 1)]
    total: dict[str, int] = {}
    for base, row in zip(bases, project.vessel, strict=True):
        total[base] = total.get(base, 0) + row.count
    seen: dict[str, int] = {}
    found: list[Vessel] = []
    for index, (base, row) in enumerate(zip(bases, project.vessel, strict=True)):
        for _ in range(row.count):
            seen[base] = seen.get(base, 0) + 1
            name = base if total[base] == 1 else f"{base} {seen[base]} of {total[base]}"
            found.append(_vessel(project, row, index, name, taps))
    return tuple(found)


def _vessel(
    project: Project, row: VesselRow, index: int, name: str, taps: tuple[Tap, ...]
) -> Vessel:
    """Make one vessel: what was measured goes before the figures of its kind.

    A keg's coupler stands on its axis; a soda keg's disconnects stand beside its handles and a
    regulator on the valve, and may take as much room as the vessel itself.
    """
    part = project.part("vessels", row.kind)

    def size(own: float | None, figure: str) -> float:
        return own if own is not None else part.value(figure) if part else 0.0

    diameter = size(row.diameter, "diameter")
    kind = part.text("kind") if part else ""
    reach = part.get("side_reach") if part else None
    radius = diameter / 2
    if kind == "keg" and reach is not None:
        radius = min(radius, reach)
    numbers = {tap.name.casefold(): tap.number for tap in taps}
    feeds = numbers.get(row.tap.casefold()) if isinstance(row.tap, str) else row.tap
    return Vessel(
        name=name,
        row=index,
        diameter=diameter,
        height=size(row.height, "height"),
        fitting=part.value("fitting_height") if part and row.fitting is None else row.fitting,
        fitting_radius=radius,
        side_reach=reach if kind.endswith("cylinder") else None,
        full_mass=_mass(part),
        tap=feeds,
    )


def _mass(part: Row | None) -> float | None:
    return part.get("full_mass") if part else None
