"""The taps, each from outside and from inside; and the gas side's manifold."""

from collections.abc import Iterator

from ....params.project import Project
from ...shape.envelope import Envelope
from ...shape.layout import Layout
from ...shape.plane import over_corners
from ...shape.taps import Shank, Tap
from . import tools
from .bodies import Body, Prism, Rod, about, box
from .part import Operation, Placed, Turn
from .tools import Way


def tap_operations(project: Project, layout: Layout, tap: Tap) -> Iterator[Operation]:
    """Yield shank, nut, tail, faucet and handle of one tap; without a shank what is not known."""
    number, shank = tap.number, tap.shank
    name = f"tap-{number}"
    row = "taps" if len(project.taps) == 1 else f"taps[{tap.row + 1}]"
    on = ("ring", *((f"cover-{tap.side}",) if tap.cover else ()))
    if shank is None:
        yield Operation(
            id=f"{name}-shank",
            thing=f"tap {number}",
            does=f"put tap {number} together",
            after=on,
            unknown=(f"{row}.shank",),
        )
        return
    keys = (f"{row}.spacing", f"{row}.offset")
    yield Operation(
        id=f"{name}-shank",
        thing=f"the shank of tap {number}",
        does=f"push in the shank of tap {number}",
        face="outside",
        after=on,
        bodies=tuple(_placed(f"{name}-shank", tap, _shank(tap, shank))),
        turns=(Turn(tap.side, tools.straight_in(tap)),),
        passes=frozenset((f"cover-{tap.side}",)),
        keys=keys,
    )
    near = tap.wall - tap.cover + tap.washers
    over_foam = (f"foam-{tap.side}",) if tap.pocket == 0.0 and layout.panels else ()
    yield Operation(
        id=f"{name}-nut",
        thing=f"the shank nut of tap {number}",
        does=f"washer and shank nut of tap {number}",
        face="inside",
        after=(f"{name}-shank", *over_foam),
        bodies=tuple(_placed(f"{name}-nut", tap, _nut(tap, shank, near))),
        turns=(Turn(tap.side, tools.shank_nut(tap, near)),),
        passes=frozenset((f"{name}-shank",)),
        keys=keys,
    )
    flats = shank.tail_nut_across_flats
    yield Operation(
        id=f"{name}-tail",
        thing=f"the tail nut of tap {number}",
        does=f"tailpiece of tap {number} with its washer, line and tail nut",
        face="inside",
        after=(f"{name}-nut",),
        bodies=tuple(_placed(f"{name}-tail", tap, _tail(tap, shank))),
        turns=(Turn(tap.side, tools.tail_nut(tap, flats)),),
        passes=frozenset((f"{name}-shank", f"{name}-nut")),
        keys=keys,
    )
    ways = tools.coupling_ring(tap)
    yield Operation(
        id=f"{name}-faucet",
        thing=f"the faucet of tap {number}",
        does=f"faucet of tap {number}: its coupling ring",
        face="outside",
        after=(f"{name}-nut",),
        bodies=tuple(_placed(f"{name}-faucet", tap, _faucet(layout, tap))),
        turns=(Turn(tap.side, ways),) if ways else (),
        passes=frozenset((f"{name}-shank",)),
        unknown=() if ways else (f"{row}.wrench",),
        keys=keys,
        lid_closed=project.limits.tighten_with_lid == "closed",
    )
    if tap.handle is not None:
        yield Operation(
            id=f"{name}-handle",
            thing=f"the handle of tap {number}",
            does=f"handle of tap {number}",
            face="outside",
            after=(f"{name}-faucet",),
            bodies=tuple(_placed(f"{name}-handle", tap, _handles(layout, tap))),
            turns=(Turn(tap.side, ways),) if (ways := tools.handle_turned(tap)) else (),
            passes=frozenset((f"{name}-faucet",)),
            keys=keys,
        )


def _placed(owner: str, tap: Tap, bodies: Iterator[Body]) -> Iterator[Placed]:
    return (Placed(owner, tap.side, body) for body in bodies)


def _shank(tap: Tap, shank: Shank) -> Iterator[Body]:
    """Yield thread, flange, and the toothed collar that the coupling ring runs on."""
    face, thread = -tap.cover - shank.flange_thickness, shank.thread_diameter / 2
    yield Rod(tap.u, tap.v, thread, -tap.cover, shank.length - tap.cover)
    yield Rod(tap.u, tap.v, shank.flange_diameter / 2, face, -tap.cover)
    yield Rod(tap.u, tap.v, thread, face - shank.collar_projection, face)


def _nut(tap: Tap, shank: Shank, near: float) -> Iterator[Body]:
    """Yield the nut over its corners, and the washer before it."""
    corners = over_corners(shank.nut_across_flats) / 2
    yield Rod(tap.u, tap.v, corners, near, near + shank.nut_thickness)
    if tap.washers and tap.washer_diameter:
        yield Rod(tap.u, tap.v, tap.washer_diameter / 2, near - tap.washers, near)


def _tail(tap: Tap, shank: Shank) -> Iterator[Body]:
    """Yield the tail nut over its corners, and the tailpiece as thick as that: its line hangs."""
    end = shank.length - tap.cover
    corners = over_corners(shank.tail_nut_across_flats) / 2
    yield Rod(tap.u, tap.v, corners, end - shank.tail_nut_length, end + shank.tailpiece_length)


def _faucet(layout: Layout, tap: Tap) -> Iterator[Body]:
    for each in layout.envelopes_of(tap):
        if each.reason in ("ring", "body"):
            near, far = each.out
            yield Rod(tap.u, tap.v, each.width / 2, -far, -near)
        elif each.reason in ("spout", "lever"):
            near, far = each.out
            half = each.width / 2
            yield box((tap.u - half, tap.u + half), each.up, (-far, -near))


def _handles(layout: Layout, tap: Tap) -> Iterator[Body]:
    for each in layout.envelopes_of(tap):
        if each.reason == "handle":
            yield _handle(tap, each)


def _handle(tap: Tap, handle: Envelope) -> Prism:
    """Return a handle at rest: its section leans back, and goes through all its width."""
    half = handle.width / 2
    section = tuple((-out, up) for out, up in handle.section)
    return Prism(section, tap.u - half, tap.u + half, level=True)


def manifold_operations(project: Project, layout: Layout) -> Iterator[Operation]:
    """Yield the manifold and its hoses; its screws where the catalogue knows its holes."""
    manifold, asked = layout.manifold, project.manifold
    if manifold is None or asked is None:
        return
    board = layout.board(manifold.side)
    row = project.part("manifolds", asked.kind)
    pitch = row.get("mount_hole_spacing") if row else None
    half, tall, near = manifold.length / 2, manifold.height / 2, board.thickness
    body = box(
        (manifold.u - half, manifold.u + half),
        (manifold.v - tall, manifold.v + tall),
        (near, near + manifold.depth),
    )
    room = about(body)
    turns = (Turn(manifold.side, (Way("", (room,)),)),)
    if pitch is not None:
        # At half its height: where the holes are up and down no catalogue says.
        at = tuple((manifold.u + way * pitch / 2, manifold.v) for way in (-1, 1))
        turns += (Turn(manifold.side, tools.drivers(at, near, inward=True)),)
    yield Operation(
        id="manifold",
        thing="the manifold",
        does=f"screw the manifold to the {manifold.side} board",
        face="inside",
        after=("ring",),
        bodies=(Placed("manifold", manifold.side, body),),
        turns=turns,
        passes=frozenset((f"foam-{manifold.side}",)),
        unknown=("manifold.kind",) if pitch is None else (),
        keys=("manifold.offset", "manifold.centre", "manifold.side"),
    )
    yield Operation(
        id="hoses",
        thing="the gas hoses",
        does="gas hoses on the manifold; turn each clamp's screw toward you first",
        face="inside",
        after=("manifold",),
        unknown=("the places of the manifold's outlets",),
    )
