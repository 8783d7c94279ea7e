"""Templates put together as a person does: cut at trim lines, laid cross on cross, then drilled.

Every page is poppler's picture. Which crosses belong together is read from the names beside them;
where they are, where the trim lines run, where the board ends and where its bores are is all found
in the pixels, and no page is asked where its board begins. The board is worked out by hand below.

A pixel of 200 dpi is 0.127 mm wide. A cross and a line are found to a fraction of it; poppler
moves straight lines to whole pixels, so that a joined sheet may be half a pixel off, and one that
is joined to that one a whole pixel.
"""

import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cache
from html import unescape
from importlib import import_module
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        any(shutil.which(tool) is None for tool in ("pdftoppm", "pdftotext")),
        reason="poppler's tools (Debian: poppler-utils) are not installed",
    ),
]

DPI = 200
MM = DPI / 25.4
"""Pixels in a millimeter."""
DARK = 110
"""From how dark on, of 255, a pixel belongs to a line."""

MEETS = 1.6 / MM
"""How far crosses of the same name may lie apart once two sheets are joined, mm: the pixels of two
crosses, each half a pixel off, and a bit; on 0.97 of a page crosses 40 mm apart are off by 1.2."""
PLACE = 1.0 / MM
"""How far a center may be off, mm: a pixel, for sheets joined on sheets; it was 0.06 mm."""
ROUND = 1.0 / MM
"""How far a diameter may be off, mm: a ring is not cut by a seam here."""
LENGTH = 1.5 / MM
"""How far an edge of the joined board may be off, mm."""

# --- the board by hand ----------------------------------------------------------------------------

LONG, HIGH, THICK = 620.0, 300.0, 20.0
MIDDLE = LONG / 2
LOW_ROW, LOW_UP = (-90.0, 10.0, 110.0), 90.0
HIGH_ROW, HIGH_UP = (-70.0, 80.0), 215.0
BORE, HOSE, PILOT = 25.0, 14.0, 4.0
TRAY_UP = 30.0
DESIGN = f"""title = "Joined: cold tea and ginger soda"
show = "mm"
[lip]
front = "{LONG} mm"
right = "430 mm"
back = "{LONG} mm"
left = "430 mm"
[board]
thickness = "{THICK} mm"
width = "{HIGH} mm"
[[taps]]
positions = {[f"{at} mm" for at in LOW_ROW]}
height = "{LOW_UP} mm"
bore = "{BORE} mm"
[[taps]]
positions = {[f"{at} mm" for at in HIGH_ROW]}
height = "{HIGH_UP} mm"
bore = "{BORE} mm"
[[hole]]
name = "hose"
side = "front"
height = "150 mm"
diameter = "{HOSE} mm"
offset = "-250 mm"
[tray]
count = 2
spacing = "300 mm"
height = "{TRAY_UP} mm"
pilot = "{PILOT} mm"
"""
Bore = tuple[float, float, float]
"""From the left, from below, diameter, mm."""
THROUGH: list[Bore] = [
    *((MIDDLE + at, LOW_UP, BORE) for at in LOW_ROW),
    *((MIDDLE + at, HIGH_UP, BORE) for at in HIGH_ROW),
    (MIDDLE - 250.0, 150.0, HOSE),
]
TRAY: list[Bore] = [(MIDDLE + 10.0 + at, TRAY_UP, PILOT) for at in (-150.0, 150.0)]
"""The taps lie from -90 to 110, so the tray's middle is at 10; its pilots do not go through."""
INSIDE = LONG - 2 * THICK
"""The inner face between its short points; miters of 45 deg take as much as the board is thick."""


def from_inside(bores: list[Bore]) -> list[Bore]:
    """Return bores as they are seen from inside, from the inner face's left end."""
    return [(LONG - THICK - u, v, d) for u, v, d in bores]


# --- one page -------------------------------------------------------------------------------------


@dataclass
class Print:
    """One page as it comes from the printer: darkness, top row first, and what is to be read.

    ``row`` and ``column`` are printed on it, counted from the top left; ``crosses`` are the
    register marks by name, as x and y in pixels from the top left.
    """

    dark: np.ndarray
    row: int
    column: int
    crosses: dict[str, tuple[float, float]] = field(default_factory=dict)


def read_words(file: Path) -> list[tuple[str, list[tuple[str, float, float]]]]:
    """Return for each page all that is written, and each word with its middle, in pixels."""
    command = ["pdftotext", "-bbox", str(file), "-"]
    said = subprocess.run(command, capture_output=True, check=True, timeout=60).stdout.decode()
    found: list[tuple[str, list[tuple[str, float, float]]]] = []
    for page in re.findall(r"<page .*?</page>", said, re.DOTALL):
        pattern = r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
        words = [
            (unescape(text), (float(x0) + float(x1)) / 2 * DPI / 72,
             (float(y0) + float(y1)) / 2 * DPI / 72)
            for x0, y0, x1, y1, text in re.findall(pattern, page)
        ]  # fmt: skip
        found.append((" ".join(text for text, *_ in words), words))
    return found


def pictures(file: Path) -> Iterator[np.ndarray]:
    """Yield each page's darkness, 0 to 255."""
    command = ["pdftoppm", "-r", str(DPI), "-gray", str(file)]
    data = subprocess.run(command, capture_output=True, check=True, timeout=120).stdout
    while data:
        magic, size, top, rest = data.split(b"\n", 3)
        assert (magic, top) == (b"P5", b"255")
        width, height = map(int, size.split())
        pixels = np.frombuffer(rest[: width * height], np.uint8).reshape(height, width)
        yield 255 - pixels
        data = rest[width * height :]


def peak(profile: np.ndarray) -> float:
    """Return where the darkest line across a strip has its middle, in pixels."""
    top = int(profile.argmax())
    near = slice(max(0, top - 3), top + 4)
    weights = np.clip(profile[near] - 0.3 * profile[top], 0, None)
    return float(
        np.average(np.arange(near.start, near.start + len(weights)) + 0.5, weights=weights)
    )


def cross_near(dark: np.ndarray, x: float, y: float) -> tuple[float, float]:
    """Return where the cross is whose two names lie about a place, in pixels."""
    half, reach = round(2.0 * MM), round(4.0 * MM)
    r, c = round(y), round(x)
    upright = dark[max(0, r - reach) : r + reach, c - half : c + half].mean(axis=0)
    level = dark[r - half : r + half, max(0, c - reach) : c + reach].mean(axis=1)
    return c - half + peak(upright), r - half + peak(level)


@cache
def prints(file: Path) -> list[Print]:
    """Print a template and read what is on its pages."""
    found: list[Print] = []
    for dark, (text, words) in zip(pictures(file), read_words(file), strict=True):
        place = re.search(r"row (\d+) of \d+, column (\d+) of \d+", text)
        assert place is not None, text
        page = Print(dark, int(place[1]), int(place[2]))
        names: dict[str, list[tuple[float, float]]] = {}
        for word, x, y in words:
            if re.fullmatch(r"[A-Z]{1,2}\d{1,2}", word):
                names.setdefault(word, []).append((x, y))
        for name, both in names.items():
            if len(both) == 2:  # one on each side of the trim line
                x, y = (sum(axis) / 2 for axis in zip(*both, strict=True))
                page.crosses[name] = cross_near(dark, x, y)
        found.append(page)
    return found


def bars(dark: np.ndarray) -> list[float]:
    """Return the lengths of level check bars, mm: lines of about 100 mm without a gap."""
    found: list[float] = []
    last = -99
    for row in np.flatnonzero(np.count_nonzero(dark > DARK, axis=1) > 92 * MM):
        ends = np.flatnonzero(np.diff(np.concatenate([[0], dark[row] > DARK, [0]])))
        for start, end in zip(ends[::2], ends[1::2], strict=True):
            if 92 < (end - start) / MM < 108 and row - last > 5:
                found.append(float((end - start) / MM) - 0.25)  # half a tick's line at each end
                last = row
    return sorted(found)


# --- all pages together ---------------------------------------------------------------------------


@dataclass
class Joined:
    """All sheets as one picture, and what was wrong on the way."""

    dark: np.ndarray
    faults: list[str]


def join(pages: list[Print]) -> Joined:
    """Cut all sheets at their trim lines and lay them cross on cross, from the first one on."""
    faults: list[str] = []
    at: dict[int, tuple[float, float]] = {0: (0.0, 0.0)}
    waiting = [0]
    cuts: list[dict[str, float]] = [{} for _ in pages]
    while waiting:
        one = waiting.pop(0)
        for other, page in enumerate(pages):
            beside = page.column - pages[one].column, page.row - pages[one].row
            if abs(beside[0]) + abs(beside[1]) != 1:
                continue
            shared = sorted(pages[one].crosses.keys() & page.crosses.keys())
            where = f"sheets {one + 1} and {other + 1}"
            if not shared:
                faults.append(f"{where}: no cross in common")
                continue
            mine = np.array([pages[one].crosses[name] for name in shared])
            theirs = np.array([page.crosses[name] for name in shared])
            apart = mine - theirs
            off = np.abs(apart - apart.mean(axis=0)).max() / MM
            if off > MEETS / 2:
                faults.append(f"{where}: crosses {', '.join(shared)} are off by {off:.2f} mm")
            side = {(1, 0): "right", (-1, 0): "left", (0, 1): "below", (0, -1): "above"}[beside]
            cuts[one][side] = float(mine[:, 0 if beside[0] else 1].mean())
            place = at[one][0] + apart[:, 0].mean(), at[one][1] + apart[:, 1].mean()
            if other not in at:
                at[other] = place
                waiting.append(other)
            elif np.hypot(place[0] - at[other][0], place[1] - at[other][1]) > 1.5 * MEETS * MM:
                faults.append(f"{where}: do not close with the sheets about them")
    if len(at) < len(pages):
        faults.append("not all sheets can be joined")
    shift = {i: (round(x), round(y)) for i, (x, y) in at.items()}
    x0, y0 = (min(each[axis] for each in shift.values()) for axis in (0, 1))
    wide = max(shift[i][0] - x0 + pages[i].dark.shape[1] for i in shift)
    high = max(shift[i][1] - y0 + pages[i].dark.shape[0] for i in shift)
    whole = np.zeros((high, wide), np.uint8)
    for i, (x, y) in shift.items():
        dark, cut = pages[i].dark, cuts[i]
        left, right = round(cut.get("left", 0)), round(cut.get("right", dark.shape[1]))
        top, bottom = round(cut.get("above", 0)), round(cut.get("below", dark.shape[0]))
        piece = dark[top:bottom, left:right]
        rows = slice(y - y0 + top, y - y0 + bottom)
        whole[rows, x - x0 + left : x - x0 + right] = piece
    return Joined(whole, faults)


GAP = 4.0
"""Gaps of a fold line that is drawn with dashes are shorter, mm; those between bars are longer."""


def long_lines(dark: np.ndarray, least: float) -> list[float]:
    """Return where level lines run that are longer than ``least``, mm: their middles, in pixels."""
    rows: list[int] = []
    for row in np.flatnonzero(np.count_nonzero(dark > DARK, axis=1) > 0.5 * least * MM):
        there = np.flatnonzero(dark[row] > DARK)
        breaks = np.flatnonzero(np.diff(there) > GAP * MM)
        starts = [0, *(breaks + 1)]
        ends = [*breaks, len(there) - 1]
        if max(there[b] - there[a] for a, b in zip(starts, ends, strict=True)) > least * MM:
            rows.append(int(row))
    groups: list[list[int]] = []
    for before, row in pairwise([-9, *rows]):
        if row - before > 1:
            groups.append([])
        groups[-1].append(row)
    return [float(np.mean(group)) + 0.5 for group in groups]


def thick(dark: np.ndarray) -> np.ndarray:
    """Return where a disc of five pixels is dark all over: no line of the board is that wide."""
    there = dark > DARK
    left = there
    for right in range(-2, 3):
        for down in range(-2, 3):
            if right**2 + down**2 <= 4:
                left = left & np.roll(there, (down, right), (0, 1))
    return left


def rings(dark: np.ndarray) -> list[Bore]:
    """Return all rings about a point to be punched: center and diameter, in pixels.

    A point is a dot that is thicker than any line. About it, clear of its cross, the nearest
    circle that is dark all round is sought, and one fitted to that circle's pixels by least
    squares: x2 + y2 = 2ax + 2by + c.
    """
    rows, columns = np.nonzero(thick(dark))
    dots: list[list[tuple[int, int]]] = []
    near: list[list[tuple[int, int]]] = []
    for r, c in zip(rows.tolist(), columns.tolist(), strict=True):
        near = [dot for dot in near if dot[-1][0] >= r - 3]  # they come row by row
        for dot in near:
            if abs(dot[-1][1] - c) <= 3:
                dot.append((r, c))
                break
        else:
            near.append([(r, c)])
            dots.append(near[-1])
    turns = np.radians([t for t in range(0, 360, 2) if min(t % 90, 90 - t % 90) > 22])
    radii = np.arange(1.2 * MM, 40 * MM, 0.25)
    found: list[Bore] = []
    for dot in dots:
        if len(dot) > 60:
            continue  # a thick line or an arrow
        y, x = np.mean(dot, axis=0) + 0.5
        rs = (y + np.outer(np.sin(turns), radii)).astype(int)
        cs = (x + np.outer(np.cos(turns), radii)).astype(int)
        on = (rs >= 0) & (cs >= 0) & (rs < dark.shape[0]) & (cs < dark.shape[1])
        line = on & (dark[np.where(on, rs, 0), np.where(on, cs, 0)] > DARK)
        # the dot's own middle may be a pixel and a half off
        there = np.any([np.roll(line, shift, axis=1) for shift in range(-6, 7)], axis=0)
        whole = np.flatnonzero(there.all(axis=0))
        if len(whole):
            found.append(fitted(dark, x, y, float(radii[whole[0]]), turns))
    return found


def fitted(dark: np.ndarray, x: float, y: float, radius: float, turns: np.ndarray) -> Bore:
    """Return the circle through the dark pixels about ``radius``: center and diameter, pixels."""
    points: list[tuple[float, float]] = []
    for turn in turns:
        steps = np.arange(radius - 3, radius + 6, 0.25)
        xs, ys = x + steps * np.cos(turn), y + steps * np.sin(turn)
        grays = dark[ys.astype(int), xs.astype(int)].astype(float)
        points.append((float(np.average(xs, weights=grays)), float(np.average(ys, weights=grays))))
    array = np.array(points)
    table = np.column_stack([2 * array, np.ones(len(array))])
    (a, b, c), *_ = np.linalg.lstsq(table, (array**2).sum(axis=1), rcond=None)
    return float(a), float(b), 2 * float(np.sqrt(c + a * a + b * b))


@dataclass
class Seen:
    """What is seen of the joined board, mm: its size, and its bores from left and from below."""

    length: float
    width: float
    bores: list[Bore]
    faults: list[str]


@cache
def seen(file: Path, *, inside: bool = False) -> Seen:
    """Print, cut, join and measure the template of a board about as large as the one above.

    Args:
        file: the template.
        inside: it is of the inner face, whose ends lie within those of the blank; both are drawn.
    """
    pages = prints(file)
    joined = join(pages)
    faults = list(joined.faults)
    for number, page in enumerate(pages, 1):
        for way, dark in (("level", page.dark), ("upright", page.dark.T)):
            lengths = bars(dark)
            if lengths != pytest.approx([100.0, 101.6], abs=0.2):
                faults.append(f"sheet {number}: {way} bars {[round(one, 2) for one in lengths]} mm")
    level = long_lines(joined.dark, 0.9 * LONG)
    upright = long_lines(joined.dark.T, 0.9 * HIGH)
    if len(level) < 2 or len(upright) < 4:
        return Seen(0.0, 0.0, [], [*faults, "the board's edges are not to be seen"])
    if inside:
        blank = (upright[-1] - upright[0]) / MM
        if abs(blank - LONG) > LENGTH:
            faults.append(f"the blank is {blank:.2f} mm long, not {LONG:.2f}")
        upright = upright[1:-1]
    top, bottom, left, right = level[0], level[-1], upright[0], upright[-1]
    bores = [((x - left) / MM, (bottom - y) / MM, d / MM) for x, y, d in rings(joined.dark)]
    return Seen((right - left) / MM, (bottom - top) / MM, sorted(bores), faults)


def faults_of(found: Seen, length: float, width: float, bores: list[Bore]) -> list[str]:
    """Say how a joined template differs from the board that was worked out."""
    said = list(found.faults)
    for what, one, true in (("long", found.length, length), ("wide", found.width, width)):
        if abs(one - true) > LENGTH:
            said.append(f"the board is {one:.2f} mm {what}, not {true:.2f}")
    if len(found.bores) != len(bores):
        said.append(f"{len(found.bores)} holes, not {len(bores)}")
    for u, v, d in bores:
        near = min(found.bores, key=lambda each: np.hypot(each[0] - u, each[1] - v), default=None)
        if near is None or np.hypot(near[0] - u, near[1] - v) > PLACE:
            said.append(
                f"the hole at {u:.1f}, {v:.1f} is {near and f'{near[0]:.2f}, {near[1]:.2f}'}"
            )
        elif abs(near[2] - d) > ROUND:
            said.append(f"the hole at {u:.1f}, {v:.1f} is {near[2]:.2f} mm wide, not {d:.2f}")
    return said


def template(built: Callable[..., Path], text: str, paper: str, name: str) -> Path:
    return built(text, "--only", "templates", "--paper", paper) / "templates" / f"{name}.pdf"


@pytest.mark.published("poppler's pictures; plane geometry by hand")
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_joined_sheets_have_every_bore_in_its_place(
    built: Callable[..., Path], paper: str
) -> None:
    file = template(built, DESIGN, paper, "board-front")
    places = {(page.row, page.column) for page in prints(file)}
    assert max(row for row, _ in places) >= 2
    assert max(column for _, column in places) >= 2
    found = seen(file)
    assert faults_of(found, LONG, HIGH, THROUGH + TRAY) == []


@pytest.mark.published("poppler's pictures; plane geometry by hand")
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_inner_face_laid_on_the_outer_one_has_the_same_bores(
    built: Callable[..., Path], paper: str
) -> None:
    inner = seen(template(built, DESIGN, paper, "board-front-inner"), inside=True)
    assert faults_of(inner, INSIDE, HIGH, from_inside(THROUGH)) == []
    # turned over and laid on the outer face, end on end: short points are 20 mm inside long ones
    turned = [(THICK + inner.length - u, v, d) for u, v, d in inner.bores]
    outer = seen(template(built, DESIGN, paper, "board-front"))
    for u, v, d in turned:
        near = min(outer.bores, key=lambda each: np.hypot(each[0] - u, each[1] - v))
        assert near == pytest.approx((u, v, d), abs=PLACE)


# --- the judge can say no -------------------------------------------------------------------------


def test_one_bore_half_a_millimeter_off_is_seen(built: Callable[..., Path]) -> None:
    other = DESIGN.replace("'10.0 mm'", "'10.5 mm'")
    assert other != DESIGN
    found = seen(template(built, other, "a4", "board-front"))
    (said,) = faults_of(found, LONG, HIGH, THROUGH + TRAY)
    assert re.fullmatch(r"the hole at 320\.0, 90\.0 is 320\.[3-7]\d, (89\.9|90\.0)\d", said)


@pytest.mark.parametrize(
    ("which", "said"),
    [
        (
            "one",
            [r"crosses .* are off by 0\.\d\d mm|do not close", r"sheet 2: level bars \[9[67]\."],
        ),
        ("all", [r"sheet 1: level bars \[9[67]\.", "edges are not to be seen|mm long, not 620"]),
    ],
)
def test_pages_at_97_percent_are_seen(
    built: Callable[..., Path], tmp_path: Path, which: str, said: list[str]
) -> None:
    pypdf: Any = import_module("pypdf")
    writer = pypdf.PdfWriter(clone_from=template(built, DESIGN, "a4", "board-front"))
    for number, page in enumerate(writer.pages, 1):
        if which == "all" or number == 2:
            page.add_transformation(pypdf.Transformation().scale(0.97, 0.97))
    writer.write(tmp_path / "scaled.pdf")
    # names are looked for where the scaled page has them, as a person sees them there
    found = seen(tmp_path / "scaled.pdf")
    faults = "\n".join(faults_of(found, LONG, HIGH, THROUGH + TRAY))
    for each in said:
        assert re.search(each, faults), faults


def test_a_cross_that_is_elsewhere_on_one_sheet_is_seen(built: Callable[..., Path]) -> None:
    pages = [replace(page) for page in prints(template(built, DESIGN, "a4", "board-front"))]
    assert join(pages).faults == []
    name, (x, y) = min(pages[1].crosses.items())
    pages[1].crosses = pages[1].crosses | {name: (x, y + 0.5 * MM)}
    (said,) = join(pages).faults[:1]
    assert re.match(rf"sheets 1 and 2: crosses {name}, .* are off by 0\.[34]", said)
    pages[1].crosses = {}
    assert "sheets 1 and 2: no cross in common" in join(pages).faults
