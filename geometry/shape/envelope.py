"""Envelopes: how much room bought parts take, as discs and boxes with an owner and a reason.

A tap's envelopes are stacked along its shank's axis and on its faucet. They are placed on their
board: u from the left long point as seen from outside, v up from the bottom edge, ``out`` from
the board's outer face; inside is negative. A handle at rest leans back toward the lid.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ...params.project import Side
from .plane import Point, over_corners
from .taps import Faucet, Handle, Shank, Tap

STEM = 0.4
"""Thickness of a faucet's spout and lever over its body's width (from memory)."""

OUTSIDE = ("flange", "ring", "body", "spout", "lever", "handle")
"""The reasons of the envelopes that stand out of the board, from the face outward."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """A disc or a box: a straight piece along an axis square to the board's length.

    Attributes:
        tap: the number of its tap.
        reason: what takes the room: one of ``OUTSIDE``, or nut, shank.
        side: the board that it is on.
        round: a disc, else a box.
        u: its axis along the board, mm.
        width: its size along the board, mm.
        section: its four corners (out, up), ``out`` from the board's outer face, mm; as they
            follow each other counterclockwise with ``out`` to the right.
    """

    tap: int
    reason: str
    side: Side
    round: bool
    u: float
    width: float
    section: tuple[Point, Point, Point, Point]

    @property
    def out(self) -> tuple[float, float]:
        """From where to where it stands out of the board's outer face, mm."""
        found = [out for out, _ in self.section]
        return min(found), max(found)

    @property
    def up(self) -> tuple[float, float]:
        """Its lowest and highest point above the board's bottom edge, mm."""
        found = [up for _, up in self.section]
        return min(found), max(found)

    @property
    def faces_out(self) -> bool:
        """Whether it is a disc about the shank's axis: round as seen from outside."""
        return self.round and self.reason in ("flange", "ring", "body", "nut", "shank")


def of_taps(taps: tuple[Tap, ...]) -> tuple[Envelope, ...]:
    """Return the envelopes of all taps in their order, those that their parts give."""
    return tuple(envelope for tap in taps for envelope in of_tap(tap))


def of_tap(tap: Tap) -> Iterator[Envelope]:
    """Yield the envelopes of one tap; none without a shank, no faucet's without a faucet."""
    shank, faucet = tap.shank, tap.faucet
    if shank is None:
        return
    for reason, diameter, low, high in _discs(tap, shank, faucet):
        half = diameter / 2
        corners = (
            (low, tap.v - half),
            (high, tap.v - half),
            (high, tap.v + half),
            (low, tap.v + half),
        )
        yield _envelope(tap, reason, diameter, corners)
    if faucet is None:
        return
    face = tap.cover + shank.flange_thickness
    thick = STEM * faucet.body_width
    for reason, forward, low, high in (
        ("spout", faucet.spout_forward, tap.v - faucet.spout_below, tap.v),
        ("lever", faucet.lever_axis_forward, tap.v, tap.v + faucet.lever_top),
    ):
        near, far = face + forward - thick / 2, face + forward + thick / 2
        yield _envelope(tap, reason, thick, ((near, low), (far, low), (far, high), (near, high)))
    if tap.handle is not None:
        foot = face + faucet.lever_axis_forward, tap.v + faucet.lever_top
        yield _envelope(tap, "handle", tap.handle.width, leaning(foot, tap.handle))


def _discs(
    tap: Tap, shank: Shank, faucet: Faucet | None
) -> Iterator[tuple[str, float, float, float]]:
    """Yield what is round about the shank's axis: reason, diameter, from and to, mm."""
    face = tap.cover + shank.flange_thickness
    yield "flange", shank.flange_diameter, tap.cover, face
    yield "ring", shank.ring_diameter, face, face + max(shank.ring_length, shank.collar_projection)
    if faucet is not None:
        yield "body", faucet.body_width, face, face + faucet.body_forward
    inside = tap.cover - tap.wall - tap.washers
    corners = over_corners(shank.nut_across_flats)
    yield "nut", corners, inside - shank.nut_thickness, inside
    end = tap.cover - shank.length
    if end < inside:
        yield "shank", shank.thread_diameter, end, inside


def leaning(foot: Point, handle: Handle) -> tuple[Point, Point, Point, Point]:
    """Return a handle's corners (out, up): it stands on ``foot`` and leans back at rest."""
    lean, half = math.radians(handle.closed_angle), handle.depth / 2
    sin, cos = math.sin(lean), math.cos(lean)
    (y, z), long = foot, handle.length
    return (
        (y - half * cos, z - half * sin),
        (y + half * cos, z + half * sin),
        (y + half * cos - long * sin, z + half * sin + long * cos),
        (y - half * cos - long * sin, z - half * sin + long * cos),
    )


def _envelope(
    tap: Tap, reason: str, width: float, section: tuple[Point, Point, Point, Point]
) -> Envelope:
    return Envelope(
        tap=tap.number,
        reason=reason,
        side=tap.side,
        round=reason != "handle",
        u=tap.u,
        width=width,
        section=section,
    )
