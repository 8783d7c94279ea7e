"""The checks, one file per question or tight family; they do not know each other."""

from collections.abc import Callable, Iterator

from ..design import Design
from ..finding import Check, Finding
from . import (
    bores,
    frame,
    fronts,
    gas_bar,
    hinge,
    hold,
    lid,
    lid_edges,
    lip,
    pour_room,
    saw,
    seal,
    shanks,
    stand,
    stock,
    vessels,
    well,
    wrench,
)

CHECKS: tuple[tuple[Check, Callable[[Design], Iterator[Finding]]], ...] = (
    (lip.READINGS, lip.find_readings),
    (lip.LIP_SQUARE, lip.find_square),
    (frame.FRAME_SQUARE, frame.find),
    (stand.STAND, stand.find_stand),
    (stand.CORNER, stand.find_corner),
    (stand.LIP_FLAT, stand.find_flat),
    (seal.GASKET_SEAT, seal.find_gasket),
    (seal.GASKET_PULL, seal.find_pull),
    (seal.SKIRT, seal.find_skirt),
    (seal.PLUG, seal.find_plug),
    (hold.COLLAR_HOLD, hold.find_collar),
    (saw.SAW, saw.find),
    (bores.BORE_ENTRY, bores.find_entry),
    (bores.BORE_COVER, bores.find_cover),
    (bores.NUT_COVER, bores.find_nut_cover),
    (bores.BORE_WEB, bores.find_web),
    (bores.BORE_EDGE, bores.find_edge),
    (bores.BORE_END, bores.find_end),
    (shanks.SHANK_GRIP, shanks.find_grip),
    (shanks.SHANK_RUN, shanks.find_run),
    (shanks.SHANK_PAST_FOAM, shanks.find_past_foam),
    (shanks.NUT_ROOM, shanks.find_nut_room),
    (shanks.FOAM_CRUSH, shanks.find_crush),
    (fronts.TAP_GAP, fronts.find_gap),
    (fronts.HANDLE_GAP, fronts.find_handles),
    (wrench.WRENCH_SWING, wrench.find),
    (pour_room.POUR_ROOM, pour_room.find),
    (lid.LID_WALL, lid.find_wall),
    (lid.LID_CEILING, lid.find_ceiling),
    (lid_edges.LID_BACK, lid_edges.find_back),
    (lid_edges.LID_FRONT, lid_edges.find_front),
    (hinge.HINGE_FIT, hinge.find_fit),
    (hold.HINGE_HOLD, hold.find_hinge),
    (hinge.SCREW_LENGTH, hinge.find_length),
    (well.HEAD_ROOM, well.find_head_room),
    (well.OPENING, well.find_opening),
    (gas_bar.MANIFOLD, gas_bar.find),
    (well.FOAM_LAND, well.find_land),
    (well.LIFT, well.find_lift),
    (stock.STOCK, stock.find),
)
"""Every check that is judged today, in the order of the report."""

SLOW: tuple[Check, ...] = (vessels.TAIL_ROOM, vessels.VESSELS)
"""What is asked once, outside the loops over ``evaluate``; ``packed`` answers."""

COMING: tuple[str, ...] = (
    "collar-heat", "board-dew", "tap-dew",
    "movement", "height-step", "carbonation", "line-balance", "gas", "gas-release",
)  # fmt: skip
"""Ids that are known and not judged yet."""
