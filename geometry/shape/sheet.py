"""Flat views: each board and panel as it lies on the bench, worked out once.

DXF files and templates only draw these. A board is seen from outside: x from its left long
point, y from its bottom edge; a foam panel from the same side, x from its left end. The lower
left corner of the blank is at 0, 0 and all sizes are nominal: nobody has added a kerf.
"""

from dataclasses import dataclass
from typing import Literal

from ...params.project import Side
from .hole import Purpose

Layer = Literal["OUTLINE", "BORE", "POCKET", "PILOT", "INNER-EDGE", "NOTE", "CHECK-MARK"]


@dataclass(frozen=True, slots=True)
class Vertex:
    """A corner of a contour; ``bulge`` bends the way to the next one.

    The bulge is the tangent of a quarter of the arc's angle, positive where the arc turns
    anticlockwise (DXF reference, LWPOLYLINE group 42); 0 is a straight line.
    """

    x: float
    y: float
    bulge: float = 0.0


@dataclass(frozen=True, slots=True)
class Contour:
    """A closed line; the first vertex is not repeated."""

    layer: Layer
    vertices: tuple[Vertex, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A round hole in the flat view."""

    layer: Layer
    name: str
    purpose: Purpose
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight mark."""

    layer: Layer
    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Note:
    """A line of text, its lower left corner at (x, y); ``height`` of a capital letter, mm."""

    layer: Layer
    x: float
    y: float
    height: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One part's flat view, mm. ``name`` is the file's stem: ``board-front``, ``foam-left``."""

    name: str
    kind: Literal["board", "foam"]
    side: Side
    length: float
    width: float
    thickness: float
    contours: tuple[Contour, ...]
    circles: tuple[Circle, ...]
    lines: tuple[Line, ...]
    notes: tuple[Note, ...]
