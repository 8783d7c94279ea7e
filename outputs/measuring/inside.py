"""Pictures of the inside: from above, cut through from left to right, and a vessel."""

from collections.abc import Mapping

from ..paper.dims import HEAVY, HIDDEN, MIDDLE, THIN, VISIBLE
from ..paper.marks import line, rectangle
from .callout import BODY, CAPTION, Picture, part, rounded
from .freezer import FREEZER

HEIGHT = 62.0
SCALE = 0.082


def well_picture(numbers: Mapping[str, int]) -> Picture:
    """Draw the inside from above, cut through, and a vessel beside it."""
    picture = Picture(numbers)
    _plan(picture)
    _section(picture)
    _vessel(picture)
    return picture


def _plan(picture: Picture) -> None:
    f, s = FREEZER, SCALE
    x0, y0 = 14.0, 3.0
    long, wide = f.lip_length * s, f.lip_width * s
    mx, my = (long - f.mouth_length * s) / 2, (wide - f.mouth_width * s) / 2
    fx, fy = (long - f.floor_length * s) / 2, (wide - f.floor_width * s) / 2
    step = x0 + long - fx - f.step_length * s
    picture.add(
        rounded(x0, y0, long, wide, f.corner_radius * s, HEAVY, BODY),
        rounded(x0 + mx, y0 + my, long - 2 * mx, wide - 2 * my, f.well_corner * s, MIDDLE, 1.0),
        rounded(x0 + fx, y0 + fy, long - 2 * fx, wide - 2 * fy, f.well_corner * s, HIDDEN),
        line(step, y0 + fy, step, y0 + wide - fy, MIDDLE),
    )
    floor_low, floor_high = y0 + fy, y0 + wide - fy
    picture.hold("well.width", (x0 + 24, floor_low), (x0 + 24, floor_high), at=x0 + 24,
                 way="upright", place=0.5)  # fmt: skip
    picture.hold("well.mouth_width", (x0 + long - mx - 22, y0 + my), (x0 + long - mx - 22,
                 y0 + wide - my), at=x0 + long - mx - 24, way="upright", place=0.6)  # fmt: skip
    picture.hold("well.front", (x0 + long / 2, y0), (x0 + long / 2, y0 + my), at=x0 + long / 2,
                 way="upright", place="after")  # fmt: skip
    picture.hold("well.left", (x0, y0 + wide / 2), (x0 + mx, y0 + wide / 2), at=y0 + wide / 2,
                 place="before")  # fmt: skip
    corner = (x0 + mx + 1.4, y0 + wide - my - 1.4)
    picture.point("well.corner_radius", corner, (corner[0] + 9, corner[1] + 13))
    picture.say(step + 2, floor_low + 3, "step")
    picture.say(0, CAPTION, "From above; dashed: the floor.")


def _section(picture: Picture) -> None:
    f, s = FREEZER, 0.066
    x0, lip = 96.0, 54.0
    long = f.lip_length * s
    mx, fx = (long - f.mouth_length * s) / 2, (long - f.floor_length * s) / 2
    floor = lip - f.well_height * s
    x1 = x0 + long
    step_x, step_y = x1 - fx - f.step_length * s, floor + f.step_height * s
    slope = (fx - mx) / (lip - floor)
    step_wall = x1 - fx + (step_y - floor) * slope
    inner = [
        (x0 + mx, lip), (x0 + fx, floor), (step_x, floor), (step_x, step_y), (step_wall, step_y),
        (x1 - mx, lip),
    ]  # fmt: skip
    outer = [(x1, lip), (x1, floor - 7), (x0, floor - 7), (x0, lip)]
    picture.add(part([*inner, *outer], HEAVY))
    picture.hold("well.mouth_length", (x0 + mx, lip), (x1 - mx, lip), at=lip + 6)
    over = step_y + 5
    lean = (over - floor) * slope
    picture.hold("well.length", (x0 + fx - lean, over), (x1 - fx + lean, over), at=over, place=0.25)
    picture.hold("well.height", (x0 + 22, floor), (x0 + 22, lip), at=x0 + 30, way="upright",
                 place=0.75)  # fmt: skip
    picture.hold("well.step.length", (step_x, step_y), (step_wall, step_y), at=step_y - 6,
                 place=0.5)  # fmt: skip
    picture.hold("well.step.height", (step_x, floor), (step_x, step_y), at=step_x - 5,
                 way="upright", place=0.5)  # fmt: skip
    picture.add(line(x0 - 2, lip, x1 + 2, lip, THIN))
    picture.say(x0, CAPTION, "Cut through, from left to right.")


def _vessel(picture: Picture) -> None:
    f, s = FREEZER, 0.066
    x, y = 172.0, 9.0
    half, high = f.vessel_diameter * s / 2, f.vessel_height * s
    top = y + high
    picture.add(
        rounded(x - half, y, 2 * half, high, 3, VISIBLE, BODY),
        rectangle(x - 1.6, top, 3.2, f.vessel_fitting * s - 1, MIDDLE, 1.0),
        line(x - 4, top + f.vessel_fitting * s, x + 1.6, top + f.vessel_fitting * s, VISIBLE),
        line(x - half - 2, y, x + half + 2, y, MIDDLE),
    )
    picture.hold("vessel.diameter", (x - half, y), (x + half, y), at=y - 6)
    picture.hold("vessel.height", (x, y), (x, top), at=x, way="upright", place=0.5)
    picture.hold("vessel.fitting", (x, top), (x, top + f.vessel_fitting * s), at=x + 7,
                 way="upright", place="after")  # fmt: skip
    picture.say(x - 10, CAPTION, "A vessel.")
