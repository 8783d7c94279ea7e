"""Taps: where each bore is, and the bought parts that go through it and hang on it.

Taps are numbered front, right, back, left; on a board row by row, the lowest first, each row
from left to right seen from outside.
"""

from dataclasses import dataclass, replace
from typing import TypeVar

from ...params.catalogue import Row
from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, BuiltBore, Project, Side, Taps, Tray
from ...params.units import length_text
from . import built
from . import cover as cover_
from .frame import Board
from .hole import Hole

POCKET_SIZES = (51.0, 57.0, 60.0, 64.0, 70.0, 76.0)
"""Hole saws and cutters that foam is commonly cut with, mm (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shank:
    """A shank with what is screwed on it, mm; figures of the bought part (``shanks`` catalogue).

    ``length`` and ``thread_length`` are measured from the flange's seat, as are the walls.
    Where the builder measured the thread, it also counts as the length.
    """

    id: str
    length: float
    thread_length: float
    thread_diameter: float
    unthreaded: float
    flange_diameter: float
    flange_thickness: float
    collar_projection: float
    nut_across_flats: float
    nut_thickness: float
    nut_wrench_circle: float
    tail_nut_length: float
    tail_nut_across_flats: float
    tail_wrench_circle: float
    tail_engagement: float
    tailpiece_length: float
    ring_diameter: float
    ring_length: float
    ring_holes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Faucet:
    """A faucet's envelope about the shank's axis, mm (``faucets`` catalogue)."""

    id: str
    body_width: float
    body_forward: float
    spout_forward: float
    spout_below: float
    lever_top: float
    lever_axis_forward: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """A handle's envelope at rest, mm; it stands on the faucet's lever (``handles`` catalogue).

    It leans back toward the lid by ``closed_angle``, degrees.
    """

    id: str
    length: float
    width: float
    depth: float
    closed_angle: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrench:
    """A faucet wrench as a capsule: rounded arm from the ring's axis, mm (``wrenches``)."""

    id: str
    reach: float
    half_width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """One tap: bore, parts and what they have to pass, mm.

    ``wall`` is what the shank nut clamps: board, cover, and foam where there is no pocket.
    ``insulation`` is what stands behind the flange in all: board, cover and foam; ``cover`` is
    the cover's share. ``pocket`` is None where there is no foam, 0 where the nut clamps over
    the foam. ``row`` is the index of the tap's ``[[taps]]`` table, for messages. ``plate`` is
    the diameter of the plates that cover a bore which came out too wide, one on each face; the
    figures of shank and washer then say what bears on the wood.
    """

    number: int
    name: str
    side: Side
    row: int
    u: float
    v: float
    bore: float
    thread: float | None
    wall: float
    insulation: float
    cover: float
    pocket: float | None
    washers: float
    washer_diameter: float | None
    shank: Shank | None
    faucet: Faucet | None
    handle: Handle | None
    wrench: Wrench | None
    plate: float | None = None

    @property
    def handle_span(self) -> tuple[float, float] | None:
        """Lowest and highest point of the handle at rest above the collar's bottom edge, mm."""
        if self.faucet is None or self.handle is None:
            return None
        foot = self.v + self.faucet.lever_top
        return foot, foot + self.handle.length

    @property
    def outside(self) -> float | None:
        """The wider of flange and faucet body, mm; None without a shank."""
        if self.shank is None:
            return None
        return max(self.shank.flange_diameter, self.faucet.body_width if self.faucet else 0.0)

    @property
    def hole(self) -> Hole:
        """The bore as a hole in its board."""
        return Hole(
            name=f"tap-{self.number}", purpose="bore", u=self.u, v=self.v, diameter=self.bore
        )


def lay_out(
    project: Project, boards: tuple[Board, ...], foam: float, covers: tuple[Board, ...] = ()
) -> tuple[Tap, ...]:
    """Place every tap.

    Args:
        project: for ``[[taps]]`` and ``[foam]``.
        boards: the boards in the order of ``SIDES``.
        foam: thickness of the foam panels, 0 without foam, mm.
        covers: the cover's boards; a shank goes through one that reaches all over its bore.

    Raises:
        BuildFileError: a bore leaves the rectangle between its board's short points; all of
            them are reported at once.
    """
    found: list[tuple[int, float, int, float, int, str]] = []
    problems: list[Problem] = []
    for index, row in enumerate(project.taps):
        board = boards[SIDES.index(row.side)]
        height = board.width / 2 if row.height is None else row.height
        for place, position in enumerate(positions(row)):
            u = board.long_point / 2 + position
            # As built it is asked of the places where the bores really are.
            problem = None if project.as_built else _beyond(project, index, row, board, u, height)
            if problem is not None:
                problems.append(problem)
                break
            name = row.names[place] if place < len(row.names) else ""
            found.append((SIDES.index(row.side), height, index, u, place, name))
    if problems:
        raise BuildFileError(problems)
    found.sort()
    parts = [_parts(project, row) for row in project.taps]
    taps = tuple(
        _tap(project, number, index, u, height, name, parts[index], boards, foam, covers)
        for number, (_, height, index, u, _, name) in enumerate(found, 1)
    )
    if not project.as_built:
        return taps
    measured = built.bores(project, tuple(name for *_, name in found))
    return _as_built(project, boards, taps, measured)


def _as_built(
    project: Project,
    boards: tuple[Board, ...],
    taps: tuple[Tap, ...],
    measured: dict[int, tuple[int, BuiltBore]],
) -> tuple[Tap, ...]:
    """Return the taps where their bores were really drilled; the numbers stay the drawn ones.

    Raises:
        BuildFileError: a bore is not between its board's short points and edges.
    """
    found: list[Tap] = []
    problems: list[Problem] = []
    for tap in taps:
        index, bore = measured.get(tap.number, (None, None))
        real = tap if bore is None else _drilled(tap, bore)
        found.append(real)
        board = boards[SIDES.index(tap.side)]
        row = project.taps[tap.row].model_copy(update={"bore": real.bore})
        problem = _beyond(project, tap.row, row, board, real.u, real.v)
        if problem is not None and index is not None:
            key = "from_bottom" if problem.key.endswith("height") else "from_left"
            problem = Problem(
                key=f"built.bore[{index + 1}].{key}",
                read=length_text(real.v if key == "from_bottom" else real.u, project.show),
                wanted=f"a bore between the {tap.side} board's short points and edges; one that"
                " runs into the miter or out of the board takes no shank: plug it and leave this"
                " table out, to see what a new bore where it was drawn would do",
            )
        if problem is not None:
            problems.append(problem)
    if problems:
        raise BuildFileError(problems)
    return tuple(found)


def _drilled(tap: Tap, bore: BuiltBore) -> Tap:
    """Return a tap in the bore that was drilled for it, with the plates that cover it."""
    real = replace(
        tap,
        u=tap.u if bore.from_left is None else bore.from_left,
        v=tap.v if bore.from_bottom is None else bore.from_bottom,
        bore=tap.bore if bore.diameter is None else bore.diameter,
    )
    if bore.plate is None:
        return real
    shank = real.shank and replace(
        real.shank, flange_diameter=max(bore.plate, real.shank.flange_diameter)
    )
    return replace(
        real,
        plate=bore.plate,
        shank=shank,
        washer_diameter=max(bore.plate, real.washer_diameter or 0.0),
        wall=real.wall + 2 * built.PLATE_THICKNESS,
        insulation=real.insulation + 2 * built.PLATE_THICKNESS,
    )


def positions(row: Taps | Tray) -> tuple[float, ...]:
    """Return the places in a row from the board's middle, + right, seen from outside, mm."""
    offset = row.offset or 0.0
    if row.positions is not None:
        return tuple(offset + each for each in row.positions)
    count, spacing = row.count or 1, row.spacing or 0.0
    return tuple(offset + (i - (count - 1) / 2) * spacing for i in range(count))


def _beyond(
    project: Project, index: int, row: Taps, board: Board, u: float, v: float
) -> Problem | None:
    """Say so where a bore's circle leaves the rectangle between the board's short points."""
    radius = row.bore / 2
    left, right = board.inner_left, board.long_point - board.inner_right
    key = "taps" if len(project.taps) == 1 else f"taps[{index + 1}]"

    def shown(mm: float) -> str:
        return length_text(mm, project.show)

    slack = 1e-9
    if not radius - slack <= v <= board.width - radius + slack:
        return Problem(
            key=f"{key}.height",
            read=shown(v),
            wanted=f"a bore inside the {row.side} board: from {shown(radius)} to"
            f" {shown(board.width - radius)} above its bottom edge",
            example=f'height = "{shown(board.width / 2)}"',
        )
    if left + radius - slack <= u <= right - radius + slack:
        return None
    over = max(left + radius - u, u + radius - right)
    if row.positions is not None:
        room = (right - left) / 2 - radius
        return Problem(
            key=f"{key}.positions",
            keys=(f"{key}.offset",),
            read=f"a bore {shown(over)} beyond the {row.side} board's inner face",
            wanted=f"every tap between the board's short points, within {shown(room)} of its"
            " middle",
        )
    count = row.count or 1
    half = (right - left) / 2 - radius - abs(row.offset)
    fits = count > 1 and half > 0
    return Problem(
        key=f"{key}.{'spacing' if count > 1 else 'offset'}",
        keys=(f"{key}.count", f"{key}.offset", f"{key}.bore"),
        read=f"{count} taps {shown(row.spacing or 0.0)} apart" if count > 1 else shown(row.offset),
        wanted=f"bores between the {row.side} board's short points ({shown(right - left)} apart);"
        f" the outermost is {shown(over)} beyond"
        + (f": at most {shown(2 * half / (count - 1))} apart, or fewer taps" if fits else ""),
    )


Parts = tuple[Shank | None, Faucet | None, Handle | None, Wrench | None]
P = TypeVar("P", Shank, Faucet, Handle, Wrench)

MEASURED_SHANK = "shank-measured"
"""The row whose other figures stand in where the builder measured the thread's length."""


def _parts(project: Project, row: Taps) -> Parts:
    """Turn the ids of one row of taps into parts with their figures."""
    faucet = project.part("faucets", row.faucet)
    handle = project.part("handles", row.handle)
    wrench = project.part("wrenches", row.wrench)
    return (
        _shank(project, row),
        faucet and _filled(Faucet, faucet),
        handle and _filled(Handle, handle),
        wrench and _filled(Wrench, wrench),
    )


def _shank(project: Project, row: Taps) -> Shank | None:
    if row.shank is None:
        return None
    known: dict[str, float] = {}
    if row.thread is not None:
        known["thread_diameter"] = row.thread
    part_id = row.shank if isinstance(row.shank, str) else MEASURED_SHANK
    if not isinstance(row.shank, str):
        known |= {"length": row.shank, "thread_length": row.shank}
    part = project.part("shanks", part_id)
    assert part is not None
    return _filled(Shank, part, known)


def _filled(kind: type[P], row: Row, known: dict[str, float] | None = None) -> P:
    """Make a part from the figures of the same names, those in ``known`` going before the row."""
    known = known or {}
    figures = {
        name: known[name] if name in known else row.value(name)
        for name in kind.__dataclass_fields__
        if name != "id"
    }
    return kind(id=row.id, **figures)


def _tap(
    project: Project,
    number: int,
    index: int,
    u: float,
    v: float,
    name: str,
    parts: Parts,
    boards: tuple[Board, ...],
    foam: float,
    covers: tuple[Board, ...],
) -> Tap:
    row = project.taps[index]
    shank, faucet, handle, wrench = parts
    board = boards[SIDES.index(row.side)]
    cover = cover_.of_side(covers, row.side)
    through = cover is not None and cover_.goes_through(cover, v, row.bore)
    covered = cover.thickness if cover is not None and through else 0.0
    outer = board.thickness + covered
    over_foam = foam > 0 and project.foam is not None and project.foam.pocket == "none"
    return Tap(
        number=number,
        name=name or f"tap {number}",
        side=row.side,
        row=index,
        u=u,
        v=v,
        bore=row.bore,
        thread=row.thread if shank is None else shank.thread_diameter,
        wall=outer + (foam if over_foam else 0.0),
        insulation=outer + foam,
        cover=covered,
        pocket=_pocket(project, shank) if foam else None,
        washers=row.washers,
        washer_diameter=row.washer_diameter,
        shank=shank,
        faucet=faucet,
        handle=handle,
        wrench=wrench,
    )


def _pocket(project: Project, shank: Shank | None) -> float | None:
    """Return the pocket's diameter: as asked, else the next cutter above the wrench circle."""
    asked = project.foam.pocket if project.foam else None
    if asked == "none":
        return 0.0
    if asked is not None:
        return asked
    if shank is None:
        return None
    circle = shank.nut_wrench_circle
    for size in POCKET_SIZES:
        if size > circle:
            return size
    return circle // 5 * 5 + 5
