"""A collar that can be worked out on paper, and its files, for judges that share no code with us.

The lip stands on Pythagorean triples, so that its corners are whole numbers: the left side is
8 x (11, 60, 61), the right one 11 x (9, 40, 41). Everything below is plane geometry from the
build file's own numbers; nothing comes from the program.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import ClassVar

import pytest
from collarwright.outputs.cli import app
from typer.testing import CliRunner

EXAMPLES = Path(__file__).parents[2] / "examples"

Point = tuple[float, float]
Ring = tuple[str, float, float, float]
"""Layer, center and diameter of a round hole in a flat view, mm."""

LIP: tuple[Point, ...] = ((0, 0), (960, 0), (861, 440), (-88, 480))
OVER = {"front": 4.0, "right": 0.0, "back": 0.0, "left": 2.0}
SIDES = tuple(OVER)
THICK, HIGH = 20.0, 150.0
FOAM, BELOW = 25.0, 5.0
POCKET, BORE, PROBE = 70.0, 25.0, 20.0
FRONT_TAPS, FRONT_UP = (-30.0, 30.0, 90.0), 80.0
RIGHT_TAP, RIGHT_UP = -40.0, 30.0
PROBE_AT, PROBE_UP = 50.0, 40.0
MANIFOLD, MANIFOLD_AT, MANIFOLD_UP = (200.0, 60.0, 40.0), 120.0, 75.0
THREAD, WASHER, WASHERS = 22.0, 50.0, 3.0

TAP = f"""bore = "{BORE} mm"
shank = "shank-5-1-8-in"
thread = "{THREAD} mm"
washers = "{WASHERS} mm"
washer_diameter = "{WASHER} mm"
"""
FRONT_ROW = 'count = 3\nspacing = "60 mm"\noffset = "30 mm"\n'
BUILD_FILE = f"""title = "Garage: cold tea and ginger soda"
show = "mm"
[lip]
front = "960 mm"
right = "451 mm"
back = "{math.hypot(949, 40):.9f} mm"
left = "488 mm"
front_left_to_back_right = "{math.hypot(861, 440):.9f} mm"
front_right_to_back_left = "{math.hypot(1048, 480):.9f} mm"
land = "45 mm"
[board]
thickness = "{THICK} mm"
width = "{HIGH} mm"
follow = "lip"
overhang = {{ front = "{OVER["front"]} mm", left = "{OVER["left"]} mm" }}
[[taps]]
{FRONT_ROW}height = "{FRONT_UP} mm"
{TAP}
[[taps]]
side = "right"
count = 1
offset = "{RIGHT_TAP} mm"
height = "{RIGHT_UP} mm"
{TAP}
[foam]
thickness = "{FOAM} mm"
pocket = "{POCKET} mm"
below_top = "{BELOW} mm"
[manifold]
length = "{MANIFOLD[0]} mm"
height = "{MANIFOLD[1]} mm"
depth = "{MANIFOLD[2]} mm"
side = "back"
centre = "{MANIFOLD_UP} mm"
offset = "{MANIFOLD_AT} mm"
[[hole]]
name = "probe"
side = "left"
height = "{PROBE_UP} mm"
diameter = "{PROBE} mm"
offset = "{PROBE_AT} mm"
[lid]
overhang = "30 mm"
thickness = "60 mm"
[hinge]
positions = ["-300 mm", "300 mm"]
leaf_height = "60 mm"
leaf_width = "40 mm"
leaf_thickness = "2 mm"
"""
ONE_BORE_OFF = BUILD_FILE.replace(
    FRONT_ROW, 'positions = ["-30 mm", "30.5 mm", "90 mm"]\n'
)  # the middle one, by half a millimeter


@dataclass(frozen=True)
class Cut:
    """Something cut out of a flat part that is no lone round hole, or the part's own outline, mm.

    Its line runs on the given circles (x, y, radius) and on the sides of the box.
    """

    layer: str
    area: float
    box: tuple[float, float, float, float]
    circles: tuple[tuple[float, float, float], ...] = ()


@dataclass(frozen=True)
class Flat:
    """A made part as it lies on the bench, by hand, mm.

    ``gone`` is what its round holes take of its face, mm2; ``inner`` how far the inner corners
    lie from the long points, ``start`` how far a panel's left end lies from the board's.
    """

    name: str
    length: float
    width: float
    thickness: float
    rings: tuple[Ring, ...]
    cuts: tuple[Cut, ...]
    volume: float
    gone: float
    inner: tuple[float, float] = (0.0, 0.0)
    start: float = 0.0


def moved_out(corners: tuple[Point, ...], out: list[float]) -> tuple[Point, ...]:
    """Move each side of a counterclockwise figure outward; Cramer's rule for where they meet."""
    lines: list[tuple[float, float, float]] = []
    for i, (x, y) in enumerate(corners):
        x2, y2 = corners[(i + 1) % 4]
        long = math.hypot(x2 - x, y2 - y)
        a, b = (y2 - y) / long, -(x2 - x) / long  # outward
        lines.append((a, b, a * x + b * y + out[i]))
    found: list[Point] = []
    for i in range(4):
        (a, b, c), (d, e, f) = lines[i - 1], lines[i]
        det = a * e - b * d
        found.append(((c * e - b * f) / det, (a * f - c * d) / det))
    return tuple(found)


def angle(corners: tuple[Point, ...], i: int) -> float:
    """Return the angle inside a corner, radians."""
    (x, y), before, after = corners[i], corners[i - 1], corners[(i + 1) % 4]
    a = math.atan2(before[1] - y, before[0] - x)
    return (a - math.atan2(after[1] - y, after[0] - x)) % (2 * math.pi)


def cap(radius: float, off: float) -> float:
    """Return the area of a circle beyond a line that passes ``off`` beside its center."""
    return radius**2 * math.acos(off / radius) - off * math.sqrt(radius**2 - off**2)


class Skewed:
    """The collar by hand."""

    text = BUILD_FILE
    one_bore_off = ONE_BORE_OFF
    outer = moved_out(LIP, list(OVER.values()))
    sizes: ClassVar = {
        "manifold": MANIFOLD,
        "washer": (WASHER, THREAD, WASHERS),
        "leaf": (40.0, 2.0, 60.0),
    }
    lid = ((-30.0, -30.0, HIGH), ((960 + math.hypot(949, 40)) / 2 + 30, 469.5 + 30, HIGH + 60))
    land, lip = 45.0, LIP

    @classmethod
    def direction(cls, side: str) -> tuple[Point, Point]:
        """Return a board's left long point in plan, and the way along it."""
        i = SIDES.index(side)
        (x, y), (x2, y2) = cls.outer[i], cls.outer[(i + 1) % 4]
        long = math.hypot(x2 - x, y2 - y)
        return (x, y), ((x2 - x) / long, (y2 - y) / long)

    @classmethod
    def bores(cls, side: str) -> list[tuple[float, float, float]]:
        """Return the bores and passages of a board: from the left, from below, diameter."""
        i = SIDES.index(side)
        middle = math.dist(cls.outer[i], cls.outer[(i + 1) % 4]) / 2
        return {
            "front": [(middle + at, FRONT_UP, BORE) for at in FRONT_TAPS],
            "right": [(middle + RIGHT_TAP, RIGHT_UP, BORE)],
            "back": [],
            "left": [(middle + PROBE_AT, PROBE_UP, PROBE)],
        }[side]

    @classmethod
    def board(cls, side: str) -> Flat:
        """Return a board: long point by width; the miter takes t cot(theta/2) of each end."""
        i = SIDES.index(side)
        j = (i + 1) % 4
        long = math.dist(cls.outer[i], cls.outer[j])
        inner = tuple(THICK / math.tan(angle(cls.outer, k) / 2) for k in (i, j))
        bores = cls.bores(side)
        gone = sum(math.pi / 4 * d * d for _, _, d in bores)
        return Flat(
            name=f"board-{side}",
            length=long,
            width=HIGH,
            thickness=THICK,
            rings=tuple(("BORE", *each) for each in bores),
            cuts=(Cut("OUTLINE", long * HIGH, (0, 0, long, HIGH)),),
            volume=THICK * (HIGH * (long - sum(inner) / 2) - gone),
            gone=gone,
            inner=(inner[0], inner[1]),
        )

    @classmethod
    def panel(cls, side: str) -> Flat:
        """Return a foam panel; front and back run through, the others stand between them."""
        i = SIDES.index(side)
        board, width = cls.board(side), HIGH - BELOW
        ends: list[float] = []
        for k in (i, (i + 1) % 4):
            theta = angle(cls.outer, k)
            end = FOAM * max(0.0, 1 / math.tan(theta))
            ends.append(end + (FOAM / math.sin(theta) if side in ("right", "left") else 0.0))
        length = board.length - sum(board.inner) - sum(ends)
        start = board.inner[0] + ends[0]
        face, r = (0.0, 0.0, length, width), POCKET / 2
        at = [(u - start, v, d) for u, v, d in cls.bores(side)]
        a, b = MANIFOLD[0] / 2, MANIFOLD[1] / 2
        outline, rings, pockets, gone = Cut("OUTLINE", length * width, face), [], [], 0.0
        if side == "front":
            # three circles in a row that overlap: two lenses are counted twice
            gone = 3 * math.pi * r**2 - 2 * 2 * cap(r, 30.0)
            circles = tuple((u, v, r) for u, v, _ in at)
            box = (at[0][0] - r, FRONT_UP - r, at[2][0] + r, FRONT_UP + r)
            pockets.append(Cut("POCKET", gone, box, circles))
        elif side == "right":
            # the circle runs over the lower edge and takes a bite out of the outline
            gone = math.pi * r**2 - cap(r, RIGHT_UP)
            outline = Cut("OUTLINE", length * width - gone, face, ((at[0][0], RIGHT_UP, r),))
        elif side == "back":
            u = board.length / 2 + MANIFOLD_AT - start
            box = (u - a, MANIFOLD_UP - b, u + a, MANIFOLD_UP + b)
            pockets.append(Cut("POCKET", 4 * a * b, box))
        else:
            rings = [("BORE", *each) for each in at]
            gone = math.pi / 4 * PROBE**2
        return Flat(
            name=f"foam-{side}",
            length=length,
            width=width,
            thickness=FOAM,
            rings=tuple(rings),
            cuts=(outline, *pockets),
            volume=FOAM * (length * width - gone - (4 * a * b if side == "back" else 0.0)),
            gone=gone,
            start=start,
        )

    @classmethod
    def flats(cls) -> list[Flat]:
        """Return the four boards and the four panels."""
        return [make(side) for make in (cls.board, cls.panel) for side in SIDES]


@pytest.fixture(scope="session")
def skewed() -> type[Skewed]:
    """The collar that was worked out by hand."""
    return Skewed


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Path]:
    """Build a design once: ``built(text or name of an example, *options)`` gives the folder."""

    @cache
    def build(design: str, *options: str) -> Path:
        folder = tmp_path_factory.mktemp("elsewhere")
        file = EXAMPLES / f"{design}.toml"
        if "\n" in design:
            file = folder / "design.toml"
            file.write_text(design, "utf-8")
        done = CliRunner().invoke(app, ["build", str(file), "--out", str(folder / "out"), *options])
        assert done.exit_code == 0, done.output
        return folder / "out"

    return build
