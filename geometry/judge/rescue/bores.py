"""Rescues of a board's bores: turning the board, boring anew in a plug, widening, a plate."""

import math
from collections.abc import Iterator

from ...shape.built import PLATE_THICKNESS
from ...shape.hole import HINGE_SET_OUT, TRAY
from ...shape.taps import Tap
from ..finding import Where
from ..tolerance import Place
from .shop import Rescue, Shop

SAME = 0.5
"""Bores nearer than this are in the same place, mm: nobody measures one closer."""

ALIKE_DEG = 0.1
"""Miters that differ by less may change ends: no saw is set closer (common practice)."""

RINGS = (2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0)
"""How far from where it is a new place for a bore is sought, mm; the nearest comes first."""

COVERED = ("bore-cover", "nut-cover")
"""Checks of what reaches over a bore, wherever it is."""

HIDDEN = 2.0
"""How far flange or plate reach over an old bore, mm (common practice, no source)."""


def turn(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield a board turned end for end with the same face out, where its miters let it.

    That is the one turn of a mitered board: half a turn about the line square to its face. It
    changes the ends, and top and bottom. With the inner face out the miters would face the
    wrong way. The taps keep their order, so tap k of n comes into the bore of tap n + 1 - k.
    """
    where = _where(place)
    if where.side is None:
        return
    side, project = where.side, shop.trials.project
    board, taps = shop.real.board(side), shop.real.taps_on(side)
    fixed = any(
        hole.purpose == "passage" or hole.name.startswith((HINGE_SET_OUT, TRAY))
        for hole in board.holes
    )
    covered = project.cover is not None and side in project.cover.sides
    tilts_alike = abs(board.miter_left_deg - board.miter_right_deg) < ALIKE_DEG
    if not taps or fixed or covered or not tilts_alike or any(tap.plate for tap in taps):
        return
    wanted = {
        tap.number: {
            "from_left": shop.rounded(board.long_point - other.u),
            "from_bottom": shop.rounded(board.width - other.v),
            "diameter": other.bore,
        }
        for tap, other in zip(taps, reversed(taps), strict=True)
    }
    changes = shop.bored(wanted)
    if shop.mends(place, changes):
        says = (
            f"turn the {side} board end for end, the same face out: left becomes right and top"
            " becomes bottom; its miters are alike, so they meet again"
        )
        yield Rescue(changes, says)


def widen(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield a bore that is too tight made wider where it is."""
    tap = _tap(shop, place)
    if tap is None or place[0] != "bore-entry":
        return
    drawn = shop.drawn.taps[tap.number - 1].bore
    sizes = [drawn, *(shop.rounded_up(tap.bore + 0.1) + k * shop.step for k in range(16))]
    for size in sizes:
        changes = shop.bored({tap.number: {"diameter": size}})
        if size > tap.bore and shop.mends(place, changes):
            says = (
                f"bore tap {tap.number} wider, to {shop.said(size)}: clamp a block with a bore of"
                " that size over it, since the hole saw finds no center"
            )
            yield Rescue(changes, says)
            return


def bore_anew(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield bores plugged and made anew: where they were drawn, else at the nearest good place.

    A bore that is only too tight is made wider, and one that is too wide is no better elsewhere.
    """
    if place[0] == "bore-entry":
        return
    taps = _misplaced(shop, place)
    tries = [[tap] for tap in taps] + ([taps] if len(taps) > 1 else [])
    for some in tries:
        rescue = _anew(shop, place, [(tap, *shop.wanted(tap)) for tap in some])
        if rescue is not None:
            yield rescue
            return
    tap = _tap(shop, place)
    if tap is None or place[0] in COVERED:
        return
    for ring in RINGS:
        for eighth in (0, 4, 2, 6, 1, 3, 5, 7):
            angle = math.radians(45 * eighth)
            u, v = tap.u + ring * math.cos(angle), tap.v + ring * math.sin(angle)
            rescue = _anew(shop, place, [(tap, u, v)])
            if rescue is not None:
                yield rescue
                return


def _misplaced(shop: Shop, place: Place) -> list[Tap]:
    """Return the taps whose bores are not as drawn: the finding's own first, then the farthest."""
    where = _where(place)
    if where.side is None:
        return []
    return sorted(
        (
            tap
            for tap in shop.real.taps_on(where.side)
            if shop.off(tap) >= SAME or tap.bore > shop.drawn.taps[tap.number - 1].bore + 1e-6
        ),
        key=lambda tap: (tap.number != where.tap, -shop.off(tap)),
    )


def _anew(shop: Shop, place: Place, some: list[tuple[Tap, float, float]]) -> Rescue | None:
    """Return the rescue that makes some bores anew, None where it does not mend the finding."""
    wanted: dict[int, dict[str, float]] = {}
    said: list[str] = []
    for tap, u, v in some:
        size = shop.drawn.taps[tap.number - 1].bore
        place_u, place_v = shop.rounded(u), shop.rounded(v)
        apart = math.hypot(place_u - tap.u, place_v - tap.v)
        if apart < SAME and size >= tap.bore - 1e-6:
            return None
        figures = {"from_left": place_u, "from_bottom": place_v, "diameter": size}
        web = apart - (tap.bore + size) / 2
        covers = shop.rounded_up(2 * (apart + tap.bore / 2 + HIDDEN))
        needs_plate = 0 <= web < max(tap.bore, size)
        if needs_plate:
            figures["plate"] = covers
        wanted[tap.number] = figures
        said.append(_plug(shop, tap, figures, apart, web, covers, needs_plate=needs_plate))
    changes = shop.bored(wanted)
    return Rescue(changes, "; ".join(said)) if shop.mends(place, changes) else None


def _plug(
    shop: Shop,
    tap: Tap,
    figures: dict[str, float],
    apart: float,
    web: float,
    covers: float,
    *,
    needs_plate: bool,
) -> str:
    """Say how one bore is plugged and made anew, and what then covers the plug."""
    says = (
        f"plug and re-bore tap {tap.number}: glue a plug of {shop.said(tap.bore)} through the whole"
        f" board, its grain along the board's, let it set, then bore"
        f" {shop.said(figures['diameter'])} at {shop.said(figures['from_left'])} from the left"
        f" long point and {shop.said(figures['from_bottom'])} from the bottom edge"
    )
    if needs_plate:
        return (
            f"{says}; only {shop.said(web)} of wood is left between the two, so a plate of"
            f" {shop.said(covers)} on each face holds them together"
        )
    flange = tap.shank.flange_diameter if tap.shank else 0.0
    if web < 0 < apart and apart >= SAME:
        says += f" ({shop.said(-web)} of it runs into the plug)"
    if flange < 2 * (apart + tap.bore / 2):
        says += "; the plug shows beside the flange"
        v, width = figures["from_bottom"], shop.real.board(tap.side).width
        if covers / 2 <= min(v, width - v):
            says += f" unless a plate of {shop.said(covers)} hides it"
    return says


def cover(shop: Shop, place: Place) -> Iterator[Rescue]:
    """Yield the least plate on each face that covers a bore which came out too wide."""
    tap = _tap(shop, place)
    if tap is None or tap.shank is None or place[0] not in COVERED:
        return
    thread = tap.shank.thread_diameter
    least = shop.rounded_up(tap.bore + (tap.bore - thread))
    for firmly in (True, False):
        for more in range(40):
            plate = least + more * shop.step
            changes = shop.bored({tap.number: {"plate": plate}})
            if shop.mends(place, changes, firmly=firmly):
                says = (
                    f"cover the bore of tap {tap.number} with a plate of at least"
                    f" {shop.said(plate)} on each face, {shop.said(PLATE_THICKNESS)} thick, its"
                    f" hole {shop.said(thread + 0.5)} wide; fix it so that it cannot slide. The"
                    f" wall gets {shop.said(2 * PLATE_THICKNESS)} thicker"
                )
                yield Rescue(changes, says)
                return


def _where(place: Place) -> Where:
    where = place[1]
    assert isinstance(where, Where)
    return where


def _tap(shop: Shop, place: Place) -> Tap | None:
    number = _where(place).tap
    return None if number is None else shop.real.taps[number - 1]
