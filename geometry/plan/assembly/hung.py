"""What hangs on the finished collar: the hinge's leaves, the lid, the drip tray; and the wall.

A keep-out that stands over a screw of the drip tray is the tray itself: it comes with the tray.
All other keep-outs are there before anything is put together.
"""

from collections.abc import Iterator
from dataclasses import replace

from ....params.project import Hinge, Project
from ...shape import screws, tray
from ...shape.hole import HINGE_SET_OUT, Hole
from ...shape.keep_out import Place, places
from ...shape.layout import Layout
from . import tools
from .bodies import FAR, box
from .part import KEPT, Operation, Placed, Turn
from .tools import Way

HINGE_KEYS = ("positions", "leaf_height", "fix", "screws")
"""What tells where a leaf's screws or bolts are, beside the screw or the bolt itself."""


def hinge_operations(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield the hinge's leaves, with screws from behind or bolts and nuts inside, and the lid."""
    hinge, back = project.hinge, layout.board("back")
    on = ("ring", *(f"cover-{cover.side}" for cover in layout.covers if cover.side == "back"))
    pilots = screws.hinge_pilots(project, replace(back, thickness=back.thickness + layout.leaf_out))
    found = tuple(hole for hole in pilots if screws.inside(back, hole))
    if hinge is None or not found:
        yield Operation(
            id="leaves",
            thing="the hinge's leaves",
            does="fix the hinge's leaves to the back board",
            face="outside",
            after=on,
            unknown=_lacking(hinge),
        )
        leaves: tuple[str, ...] = ("leaves",)
    else:
        each = tuple(
            _leaf(hinge, layout, n, found, on) for n in range(1, len(hinge.positions or ()) + 1)
        )
        yield from each
        leaves = tuple(leaf.id for leaf in each)
    yield Operation(
        id="lid",
        thing="the lid",
        does="hang the lid on its hinge, two people",
        face="above",
        after=("lip", *leaves, *(("cap",) if layout.strips else ())),
        bodies=tuple(_lid(project, layout)),
        keys=("lid.overhang", "lid.skirt"),
    )


def _lacking(hinge: Hinge | None) -> tuple[str, ...]:
    if hinge is None:
        return ("hinge",)
    named = "hinge.bolt" if hinge.fix == "bolt" else "hinge.screw"
    return (*(f"hinge.{key}" for key in HINGE_KEYS if getattr(hinge, key) is None), named)


def _leaf(
    hinge: Hinge, layout: Layout, number: int, found: tuple[Hole, ...], on: tuple[str, ...]
) -> Operation:
    name = f"leaf-{number}"
    at = tuple((h.u, h.v) for h in found if h.name.startswith(f"{HINGE_SET_OUT}{number}-"))
    out = -layout.leaf_out
    face = out - (hinge.leaf_thickness or 0.0)
    ways: tuple[Way, ...] = tools.drivers(at, face, inward=False)
    bolted = hinge.fix == "bolt"
    if bolted and hinge.bolt is not None:
        inside = layout.board("back").thickness + (hinge.backing or 0.0)
        ways = (tools.bolt_nut(at, hinge.bolt, inside, face),)
    bodies = tuple(
        Placed(
            name,
            "back",
            box(
                (leaf.u - leaf.width / 2, leaf.u + leaf.width / 2),
                (leaf.top - leaf.height, leaf.top),
                (face, out),
            ),
        )
        for leaf in layout.reference.leaves
        if leaf.number == number
    )
    what = "bolts" if bolted else "screws"
    return Operation(
        id=name,
        thing=f"hinge leaf {number}",
        does=f"fix hinge leaf {number} to the back board with its {what}",
        face="outside and inside" if bolted else "outside",
        after=on,
        bodies=bodies,
        turns=(Turn("back", ways),) if at else (),
        unknown=() if at else ("hinge.positions",),
        keys=("hinge.positions",),
        lid_closed=True,
    )


def _lid(project: Project, layout: Layout) -> Iterator[Placed]:
    """Yield the closed lid's edge on each side where it stands out past the board's face."""
    lid = project.lid
    if lid is None or lid.overhang is None or lid.skirt is None:
        return
    for board in layout.boards:
        overhang, skirt = lid.overhang.on(board.side), lid.skirt.on(board.side)
        if overhang is None or skirt is None:
            continue
        out = overhang - max(board.over_left, board.over_right)
        if out > 0.0:
            low = layout.sealing_z - skirt
            body = box((-FAR, board.long_point + FAR), (low, low + FAR), (-out, 0.0))
            yield Placed("lid", board.side, body)


def tray_operations(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield the drip tray, whose screws are driven from outside."""
    side = tray.side_of(project)
    if side is None:
        return
    board = layout.board(side)
    over = tray.under(board, layout.covers, project)
    at = tuple((hole.u, hole.v) for hole in tray.screws(project, board, over))
    face = -over.thickness if over else 0.0
    on = ("ring", *((f"cover-{side}",) if over else ()))
    yield Operation(
        id="tray",
        thing="the drip tray",
        does="screw the drip tray on",
        face="outside",
        after=on,
        bodies=tuple(
            replace(each, owner="tray")
            for each, place in _keep_outs(project, layout)
            if _is_tray(project, layout, each, place)
        ),
        turns=(Turn(side, tools.drivers(at, face, inward=False)),),
        keys=("tray.offset", "tray.height"),
    )


def wall_operations(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield pushing the freezer back, where it is known how far behind it the wall is."""
    behind = project.room.behind if project.room else None
    if behind is None:
        return
    back = layout.board("back")
    out = behind - max(back.over_left, back.over_right)
    body = box((-FAR, back.long_point + FAR), (-FAR, FAR), (-out - FAR, -out))
    yield Operation(
        id="wall",
        thing="the wall behind the freezer",
        does="push the freezer back to its place",
        after=("lid",),
        bodies=(Placed("wall", "back", body),),
    )


def kept_free(project: Project, layout: Layout) -> tuple[Placed, ...]:
    """Return the keep-outs that are there before anything else, the drip tray's left out."""
    return tuple(
        each
        for each, place in _keep_outs(project, layout)
        if not _is_tray(project, layout, each, place)
    )


def _keep_outs(project: Project, layout: Layout) -> Iterator[tuple[Placed, Place]]:
    for board in layout.boards:
        for place in places(project, board):
            depth = FAR if place.depth is None else place.depth
            body = box((place.left, place.right), (place.low, place.high), (-depth, 0.0))
            yield Placed(KEPT + place.name, board.side, body), place


def _is_tray(project: Project, layout: Layout, each: Placed, place: Place) -> bool:
    if each.side != tray.side_of(project):
        return False
    return any(
        place.left <= hole.u <= place.right and place.low <= hole.v <= place.high
        for hole in tray.screws(project, layout.board(each.side), None)
    )
