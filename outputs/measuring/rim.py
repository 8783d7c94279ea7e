"""Pictures of the lip: from above with its six lengths, and what is read on it from near."""

from collections.abc import Mapping

from ..paper.dims import HEAVY, MIDDLE, THIN, VISIBLE
from ..paper.marks import Path, arc, line, rectangle
from .callout import BODY, CAPTION, Picture, part, rounded
from .freezer import FREEZER

HEIGHT = 74.0
SCALE = 0.092


def lip_picture(numbers: Mapping[str, int]) -> Picture:
    """Draw the lip from above, and beside it a corner, the rim cut through, a straightedge."""
    picture = Picture(numbers)
    _plan(picture)
    _corner(picture)
    _section(picture)
    _straightedge(picture)
    return picture


def _plan(picture: Picture) -> None:
    f, s = FREEZER, SCALE
    x0, y0 = 20.0, 13.0
    long, wide = f.lip_length * s, f.lip_width * s
    x1, y1 = x0 + long, y0 + wide
    mouth_x, mouth_y = (long - f.mouth_length * s) / 2, (wide - f.mouth_width * s) / 2
    picture.add(
        rounded(x0, y0, long, wide, f.corner_radius * s, HEAVY, BODY),
        rounded(x0 + mouth_x, y0 + mouth_y, long - 2 * mouth_x, wide - 2 * mouth_y, 4, MIDDLE, 1.0),
    )
    reach = f.corner_radius * s + 1
    for x, out in ((x0, 1), (x1, -1)):
        for y, up in ((y0, 1), (y1, -1)):  # where the edges would meet
            picture.add(line(x, y, x + reach * out, y, THIN), line(x, y, x, y + reach * up, THIN))
    picture.hold("lip.front", (x0, y0), (x1, y0), at=y0 - 7)
    picture.hold("lip.back", (x0, y1), (x1, y1), at=y1 + 6)
    picture.hold("lip.left", (x0, y0), (x0, y1), at=x0 - 8, way="upright")
    picture.hold("lip.right", (x1, y0), (x1, y1), at=x1 + 8, way="upright")
    one, other = "lip.front_left_to_back_right", "lip.front_right_to_back_left"
    picture.hold(one, (x0, y0), (x1, y1), at=0, way="aligned", place=0.3)
    picture.hold(other, (x1, y0), (x0, y1), at=0, way="aligned", place=0.3)
    middle = (x0 + x1) / 2
    picture.say(middle, y0 + 9, "front: you stand here", "middle")
    picture.say(middle, y1 - 10.5, "back: hinges", "middle")
    picture.say(x0, CAPTION, "The lip from above, lid open.")


def _corner(picture: Picture) -> None:
    """Draw a corner from above with a square laid to it."""
    x0, y0, r, long, arm, thick = 120.0, 46.0, 13.0, 26.0, 27.0, 4.0
    bend = arc(x0, y0 + r, x0 + r, y0, 2**0.5 - 1)
    rim = ((x0 + long, y0),), ((x0 + long, y0 + 6),), ((x0 + 8, y0 + 6),)
    rest = ((x0 + 6, y0 + 8),), ((x0 + 6, y0 + 23),), ((x0, y0 + 23),)
    picture.add(Path((x0, y0 + r), (*bend, *rim, *rest), VISIBLE, closed=True, fill=BODY))
    square = [
        (x0 - thick, y0 - thick), (x0 + arm, y0 - thick), (x0 + arm, y0), (x0, y0),
        (x0, y0 + 24), (x0 - thick, y0 + 24),
    ]  # fmt: skip
    picture.add(part(square, MIDDLE, 1.0))
    picture.hold("lip.corner_radius", (x0, y0), (x0 + r, y0), at=y0 - 8.5)
    picture.say(x0 - 4, y0 - 16, "A corner, a square at it.")


def _section(picture: Picture) -> None:
    """Draw the rim cut through, square to its edge."""
    x0, y0, s = 158.0, 40.0, 0.40
    f = FREEZER
    start, end = x0 + f.land_starts * s, x0 + (f.land_starts + f.land) * s
    wall = x0 + 28.0
    shoulder = f.land_starts * s
    steps = (
        *arc(x0, y0 + 14 - shoulder, start, y0 + 14, 1 - 2**0.5),
        ((end, y0 + 14),),
        ((wall - 4, y0 + 11.5),), ((wall - 2, y0 + 9),), ((wall - 4, y0),), ((x0, y0),),
    )  # fmt: skip
    picture.add(Path((x0, y0 + 14 - shoulder), steps, HEAVY, closed=True, fill=BODY))
    picture.add(line(x0, y0 + 14 - shoulder, x0, y0 + 23, THIN))
    top = y0 + 14
    picture.hold("lip.land", (start, top), (end, top), at=top + 6)
    picture.hold("lip.land_starts", (x0, top), (start, top), at=top + 6, place="before")
    picture.say(x0 - 5, 30, "The rim cut through.")
    picture.say(x0 + 12, y0 + 4.5, "rim", "middle")


def _straightedge(picture: Picture) -> None:
    """Draw a rim that is not flat under a straightedge."""
    x0, x1, y = 116.0, 182.0, 14.0
    middle = (x0 + x1) / 2
    steps = (
        ((x0 + 14, y), (middle - 14, y - 3.4), (middle, y - 3.4)),
        ((middle + 14, y - 3.4), (x1 - 14, y), (x1, y)),
        ((x1, y - 12),),
        ((x0, y - 12),),
    )
    picture.add(
        Path((x0, y), steps, VISIBLE, closed=True, fill=BODY),
        rectangle(x0 + 2, y, x1 - x0 - 4, 3.6, MIDDLE, 1.0),
    )
    picture.hold(
        "lip.gaps", (middle, y), (middle, y - 3.4), at=middle, way="upright", place="before"
    )
    picture.say(x0, CAPTION, "A side of the rim, a straightedge on it.")
