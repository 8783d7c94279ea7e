"""Pictures of the room and of parts in hand: shank and nut, board, foam, glass."""

from collections.abc import Mapping

from ..paper.dims import HEAVY, MIDDLE, MOVED, THIN, VISIBLE, center_line, hatching
from ..paper.marks import Ring, line, rectangle
from .callout import BODY, CAPTION, WALL, Picture, sweep
from .freezer import FREEZER

ROOM_SIZE = 106.0, 58.0
"""Width and height, mm."""

PARTS_HEIGHT = 43.0


def room_picture(numbers: Mapping[str, int]) -> Picture:
    """Draw the freezer in its room: from the side with the lid open, and from the front."""
    picture = Picture(numbers)
    _side(picture)
    _front(picture)
    return picture


def _side(picture: Picture) -> None:
    f, s = FREEZER, 0.032
    floor, left = 4.0, 16.0
    deep, lip = f.lip_width * s, floor + f.lip_height * s
    back = left + deep
    wall, above = back + f.room_behind * s + 6, lip + f.room_above * s - 8
    start = left - 14
    picture.add(
        rectangle(start, floor - 3, wall + 3 - start, 3, None, WALL),
        rectangle(wall, floor - 3, 3, above + 6 - floor, None, WALL),
        line(start, floor, wall, floor, MIDDLE),
        line(wall, floor, wall, above + 3, MIDDLE),
        rectangle(start, above, wall - start, 2.4, MIDDLE, WALL),
        rectangle(left, floor + 1, deep, lip - floor - 1, HEAVY, BODY),
        rectangle(back - 1.6, lip + 0.6, 2.4, deep * 0.92, VISIBLE, 1.0),
        sweep((back, lip), deep, 92, 176, MOVED),
    )
    picture.hold("room.lip_height", (left, floor), (left, lip), at=left - 9, way="upright")
    picture.hold("room.behind", (back, lip), (wall, lip), at=lip - 9)
    picture.hold("room.above", (left, lip), (left - 9, above), at=left - 9, way="upright")
    picture.say(left + deep / 2, floor + 8, "freezer", "middle")
    picture.say(start, CAPTION, "From its right side.")


def _front(picture: Picture) -> None:
    f, s = FREEZER, 0.032
    wall, floor, lid_high = 58.0, 4.0, 2.6
    left = wall + f.room_left * s + 6
    right = left + 18  # as wide as there is room for
    lip = floor + f.lip_height * s
    other = right + f.room_right * s + 5
    picture.add(
        rectangle(wall - 3, floor - 3, other - wall + 6, 3, None, WALL),
        rectangle(wall - 3, floor, 3, 46, None, WALL),
        rectangle(other, floor, 3, 46, None, WALL),
        line(wall, floor, other, floor, MIDDLE),
        line(wall, floor, wall, floor + 46, MIDDLE),
        line(other, floor, other, floor + 46, MIDDLE),
        rectangle(left, floor + 1, right - left, lip - floor - 1, HEAVY, BODY),
        rectangle(left - 0.6, lip + 0.6, right - left + 1.2, lid_high, VISIBLE, 1.0),
    )
    picture.hold("room.left", (left, lip - 9), (wall, lip - 9), at=lip - 9)
    picture.hold("room.right", (right, lip - 9), (other, lip - 9), at=lip - 9)
    picture.say((left + right) / 2, floor + 8, "front", "middle")
    picture.say(wall - 3, CAPTION, "From the front.")


def parts_picture(numbers: Mapping[str, int]) -> Picture:
    """Draw a shank with flange and nut, its washer, a bored board, foam, a glass."""
    picture = Picture(numbers)
    _shank(picture)
    _board(picture)
    return picture


def _shank(picture: Picture) -> None:
    x, y, r = 26.0, 25.0, 5.2
    flange, nut = 11.0, 8.5
    end = x + 62
    picture.add(
        rectangle(x - 3, y - flange, 3, 2 * flange, VISIBLE, BODY),
        rectangle(x - 11, y - 7, 8, 14, VISIBLE, 1.0),
        rectangle(x, y - r, end - x, 2 * r, VISIBLE, 1.0),
        *(line(x + 5 + i * 2.4, y - r, x + 6 + i * 2.4, y + r, THIN) for i in range(23)),
        rectangle(x + 36, y - 10.5, 2, 21, VISIBLE, 0.6),
        rectangle(x + 38, y - nut, 9, 2 * nut, VISIBLE, BODY),
        center_line((x - 11, y), (end, y)),
    )
    picture.hold("taps.shank", (x, y - r), (end, y - r), at=1.5, place=0.5)
    picture.hold("taps.thread", (end, y - r), (end, y + r), at=end + 6, way="upright")
    picture.hold("flange", (x - 3, y - flange), (x - 3, y + flange), at=x - 18, way="upright")
    picture.hold("nut", (x + 47, y - nut), (x + 47, y + nut), at=end + 16, way="upright")
    picture.hold(
        "taps.washers", (x + 36, y + 10.5), (x + 38, y + 10.5), at=y + 15.5, place="before"
    )
    picture.hold("taps.washer_diameter", (x + 36, y - 10.5), (x + 36, y + 10.5), at=x + 27,
                 way="upright", place="before")  # fmt: skip
    picture.say(x - 22, CAPTION, "A shank: flange, thread, washer, nut.")


def _board(picture: Picture) -> None:
    x, y, t, high = 122.0, 3.0, 9.0, 32.0
    foam = 12.0
    picture.add(
        rectangle(x, y, t, high, HEAVY),
        *hatching([[(x, y), (x + t, y), (x + t, y + high), (x, y + high)]], 2.0),
        rectangle(x + t, y, foam, high, VISIBLE, BODY),
    )
    picture.hold("board.thickness", (x, y + high), (x + t, y + high), at=y + high + 5,
                 place="before")  # fmt: skip
    picture.hold("foam.thickness", (x + t, y + high), (x + t + foam, y + high), at=y + high + 5,
                 place="after")  # fmt: skip
    picture.hold("board.width", (x, y), (x, y + high), at=x - 6, way="upright")
    face = 158.0
    bore = (face + 9, y + 17)
    picture.add(rectangle(face, y, 26, high, VISIBLE), Ring(*bore, 12, VISIBLE, 1.0))
    picture.hold("taps.bore", (bore[0] - 6, bore[1]), (bore[0] + 6, bore[1]), at=bore[1],
                 place="after")  # fmt: skip
    picture.say(x - 8, CAPTION, "Board with foam, cut through; a bored scrap.")
