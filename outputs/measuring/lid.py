"""Pictures of lid and hinge: the lid closed and cut through, the hinge from the side and behind."""

from collections.abc import Mapping
from math import cos, pi, sin

from ..paper.dims import HEAVY, MIDDLE, MOVED, THIN, VISIBLE, dot
from ..paper.marks import Ring, line, rectangle
from .callout import BODY, CAPTION, Picture, part, sweep
from .freezer import FREEZER

HEIGHT = 111.0
SCALE = 0.42
STRIP = 47.0
"""What the hinge takes of the height, below the lid."""


def lid_picture(numbers: Mapping[str, int]) -> Picture:
    """Draw the lid's front edge cut through; the hinge from the side; both hinges from behind."""
    picture = Picture(numbers)
    _edge(picture, STRIP + 5)
    _hinge(picture)
    _behind(picture)
    _swing(picture)
    return picture


def _edge(picture: Picture, y0: float) -> None:
    """Draw the lid's front edge, closed on the rim, cut through."""
    f, s = FREEZER, SCALE
    x0, plane, far = 40.0, y0 + 20.0, 140.0
    body = x0 + f.lid_overhang * s
    rim = body + (f.land_starts + f.land + 12) * s
    under = plane + f.gasket_height * s
    top = plane + f.lid_thickness * s
    plug_x, plug_y = x0 + f.plug_inset * s, plane - f.plug * s
    skirt_x, skirt_y = x0 + f.skirt_thickness * s, plane - f.skirt * s
    left, right = (x0 + (f.gasket_inset + k * f.gasket_width / 2) * s for k in (-1, 1))
    wall = [
        (body, y0 - 2), (body, plane), (rim, plane), (rim + 4, plane - 3), (rim + 2, y0 - 2),
    ]  # fmt: skip
    lid = [
        (far, top), (x0, top), (x0, skirt_y), (skirt_x, skirt_y), (skirt_x, under),
        (plug_x, under), (plug_x, plug_y), (far, plug_y),
    ]  # fmt: skip
    picture.add(
        part(wall, HEAVY),
        part(lid, HEAVY),
        part([(left, plane), (right, plane), (right - 1, under), (left + 1, under)], VISIBLE, 0.55),
        line(x0 - 26, plane, x0 - 2, plane, MOVED),
        line(rim + 5, plane, plug_x - 1, plane, MOVED),
        line(far + 1, plane, far + 24, plane, MOVED),
    )
    picture.say(body + 14, y0 + 3, "freezer", "middle")
    picture.say(far - 22, top - 11, "lid", "middle")
    picture.say(far + 2, plane - 3.6, "gasket's plane")
    middle = x0 + f.gasket_inset * s
    picture.hold("lid.thickness", (far, plane), (far, top), at=far + 12, way="upright")
    picture.hold("lid.gasket_inset", (x0, top), (middle, top), at=top + 6)
    picture.hold("lid.plug_inset", (x0, top), (plug_x, top), at=top + 12.5, place=0.6)
    picture.add(line(middle, top, middle, plane - 3, MOVED), line(plug_x, top, plug_x, under, THIN))
    picture.hold("lid.gasket_width", (left, under), (right, under), at=under + 6, place="after")
    picture.hold("lid.skirt", (x0, plane), (x0, skirt_y), at=x0 - 8, way="upright")
    picture.hold(
        "lid.skirt_thickness", (x0, skirt_y), (skirt_x, skirt_y), at=skirt_y - 5, place="before"
    )
    picture.hold(
        "lid.overhang", (x0, skirt_y - 8), (body, skirt_y - 8), at=y0 + 0.4, place="before"
    )
    picture.add(line(x0, skirt_y - 1, x0, skirt_y - 10, THIN))
    at = plug_x + 24
    picture.hold("lid.plug", (at, plane), (at, plug_y), at=at, way="upright", place="after")
    picture.add(line(plug_x, plane, at + 6, plane, THIN))
    picture.say(rim + 8, y0 - 1, "The lid's front edge, closed, cut through.")


def _hinge(picture: Picture) -> None:
    """Draw the hinge from the side: the freezer's back is to the right."""
    f, s = FREEZER, 0.42
    back, plane, left = 40.0, 35.0, 6.0
    under, top = plane + f.gasket_height * s, plane + 13.0
    pin = (back + f.axis_behind * s, plane - f.axis_below * s)
    leaf = back + f.leaf_thickness * s
    low = plane - 4 - f.leaf_height * s
    picture.add(
        part([(left, 4), (back, 4), (back, plane), (left, plane)], HEAVY),
        part([(left, under), (back + 4, under), (back + 4, top), (left, top)], HEAVY),
        part([(back, low), (leaf, low), (leaf, plane - 4), (back, plane - 4)], VISIBLE, 0.5),
        part(
            [(back + 4, under + 1), (pin[0] + 1.4, under + 1), (pin[0] + 1.4, pin[1]),
             (pin[0] - 0.8, pin[1]), (pin[0] - 0.8, under - 1), (back + 4, under - 1)],
            VISIBLE, 0.5,
        ),
        part(
            [(leaf, plane - 6), (pin[0], pin[1] - 1), (pin[0], pin[1] - 3), (leaf, plane - 12)],
            VISIBLE,
            0.5,
        ),
        Ring(*pin, 4.4, VISIBLE, 1.0),
        dot(pin, 0.8),
        line(back + 1, plane, back + 7, plane, MOVED),
    )  # fmt: skip
    picture.hold(
        "hinge.axis_above", (back + 6, plane), pin, at=pin[0] + 8, way="upright", place="before"
    )
    picture.hold("hinge.axis_behind", (back, low), pin, at=1.0, place="after")
    picture.hold("hinge.leaf_height", (back, low), (back, plane - 4), at=back - 8, way="upright")
    picture.hold("hinge.leaf_thickness", (back, low), (leaf, low), at=low - 3.5, place="before")
    picture.say(left + 9, 20, "freezer", "middle")
    picture.say(left + 9, under + 3.2, "lid", "middle")
    picture.say(0, CAPTION, "A hinge from the side.")


def _behind(picture: Picture) -> None:
    """Draw both hinges from behind the freezer."""
    left, right, plane = 76.0, 134.0, 33.0
    middle = (left + right) / 2
    picture.add(
        rectangle(left, 4, right - left, plane - 4, HEAVY, BODY),
        rectangle(left - 1.5, plane + 2, right - left + 3, 9, HEAVY, BODY),
        line(middle, 8, middle, plane + 14, MOVED),
    )
    for x in (middle - 16, middle + 16):
        picture.add(rectangle(x - 4.5, 15, 9, 14, VISIBLE, 1.0), rectangle(x - 3, 29, 6, 5, MIDDLE))
        picture.add(*(Ring(x + k, y, 1.2, MIDDLE) for k in (-2, 2) for y in (18, 24)))
    picture.hold("hinge.positions", (middle, 12), (middle + 16, 15), at=9, place=0.5)
    picture.hold("hinge.leaf_width", (middle - 20.5, 15), (middle - 11.5, 15), at=9, place="before")
    picture.point("hinge.screws", (middle - 14.4, 24.4), (middle - 5, 28))
    picture.say(left, CAPTION, "From behind: both hinges, and the middle.")


def _swing(picture: Picture) -> None:
    """Draw the lid open, from the side."""
    f = FREEZER
    left, right, plane = 148.0, 176.0, 20.0
    pin = (right + 2, plane - 1)
    picture.add(
        rectangle(left, 4, right - left, plane - 4, HEAVY, BODY),
        rectangle(left - 1, plane + 1, right - left + 2, 3.4, MOVED),
        Ring(*pin, 2.0, VISIBLE, 1.0),
    )
    turn = pi - f.open_to_deg * pi / 180
    c, n = cos(turn), sin(turn)
    corners = [(1.0, -1.2), (30.0, -1.2), (30.0, -4.6), (1.0, -4.6)]
    picture.add(part([(pin[0] + u * c - v * n, pin[1] + u * n + v * c) for u, v in corners], HEAVY))
    picture.add(sweep(pin, 24, 180 - f.open_to_deg + 4, 174, THIN))
    mid = pi - f.open_to_deg * pi / 360
    picture.number("hinge.open_to", (pin[0] + 24 * cos(mid), pin[1] + 24 * sin(mid)))
    picture.say(left, CAPTION, "How far it opens.")
