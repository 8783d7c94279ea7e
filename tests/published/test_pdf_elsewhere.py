"""Templates as poppler prints them: every page of a design at 300 dpi, distances in pixels.

A pixel is 0.085 mm wide, and poppler moves straight lines to whole pixels: a place is good to half
a pixel, a distance between two lines to a whole one.
"""

import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import pytest

TOOLS = ("pdftoppm", "pdftotext", "pdffonts", "pdfinfo")
pytestmark = pytest.mark.skipif(
    any(shutil.which(tool) is None for tool in TOOLS),
    reason="poppler's tools (Debian: poppler-utils) are not installed",
)

DPI = 300
PER_MM = DPI / 25.4
MM, BETWEEN = 0.05, 0.09
"""How far an edge and a bar may be off, mm: half a pixel and a whole one, and a bit."""

ROUND = 0.02
"""How far a hole's center and diameter may be off, mm: many points of a ring are averaged."""

LOOK = 1.5
"""How far round its place a line is looked for, mm: more than 0.97 of a page moves it."""

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""ASME Y14.1 and ISO 216, mm."""

WINDOW = 12 + 16, 12
"""Clear to the left of what is drawn of a board and to the right, mm: margin, column of bars."""


@dataclass(frozen=True)
class Board:
    """A board by hand, mm: its holes are (from the left, from below, diameter)."""

    length: float
    width: float
    holes: list[tuple[float, float, float]]


@dataclass(frozen=True)
class Print:
    """One page: darkness from 0 to 255, top row first, and where the board's 0, 0 is said to be."""

    dark: np.ndarray
    zero: tuple[float, float]
    height: float

    def column(self, x: float) -> float:
        """Return the column of a place, in pixels (a pixel's middle is at a half)."""
        return x * PER_MM

    def row(self, y: float) -> float:
        """Return the row of a height above the page's lower edge."""
        return (self.height - y) * PER_MM


def said_by(*command: object) -> str:
    """Return what a program prints."""
    done = subprocess.run([str(c) for c in command], capture_output=True, check=True, timeout=60)
    return done.stdout.decode("utf-8")


def prints(file: Path) -> list[Print]:
    """Print all pages of a file."""
    command = ["pdftoppm", "-r", str(DPI), "-gray", str(file)]
    data = subprocess.run(command, capture_output=True, check=True, timeout=120).stdout
    texts = said_by("pdftotext", file, "-").split("\f")
    sizes = re.findall(r"Page +\d+ size: +[\d.]+ x ([\d.]+) pts",
                       said_by("pdfinfo", "-f", 1, "-l", 999, file))  # fmt: skip
    found: list[Print] = []
    while data:
        magic, size, top, rest = data.split(b"\n", 3)
        assert (magic, top) == (b"P5", b"255")
        width, height = map(int, size.split())
        pixels = np.frombuffer(rest[: width * height], np.uint8).reshape(height, width)
        data = rest[width * height :]
        page = len(found)
        (zero,) = re.findall(r"board zero at (-?[\d.]+) (-?[\d.]+) mm", texts[page])
        x, y = map(float, zero)
        found.append(Print(255 - pixels, (x, y), float(sizes[page]) * 25.4 / 72))
    return found


def middle(profile: np.ndarray) -> float | None:
    """Return where the darkest line across a strip has its middle, in pixels."""
    peak = int(profile.argmax())
    near = slice(max(0, peak - 4), peak + 5)
    weights = np.clip(profile[near] - np.median(profile), 0, None)
    if profile[peak] < 64 or not weights.sum():
        return None
    return float(
        np.average(np.arange(near.start, near.start + len(weights)) + 0.5, weights=weights)
    )


def upright(page: Print, x: float, y0: float, y1: float) -> float | None:
    """Return where the upright line near ``x`` is on the page, mm, looked for from y0 to y1."""
    left = round(page.column(x - LOOK))
    strip = page.dark[
        round(page.row(y1)) : round(page.row(y0)), left : round(page.column(x + LOOK))
    ]
    at = middle(strip.mean(axis=0))
    return None if at is None else (left + at) / PER_MM


def level(page: Print, y: float, x0: float, x1: float) -> float | None:
    """Return where the level line near ``y`` is on the page, mm, looked for from x0 to x1."""
    top = round(page.row(y + LOOK))
    strip = page.dark[
        top : round(page.row(y - LOOK)), round(page.column(x0)) : round(page.column(x1))
    ]
    at = middle(strip.mean(axis=1))
    return None if at is None else page.height - (top + at) / PER_MM


def ring(page: Print, x: float, y: float, diameter: float) -> tuple[float, float, float] | None:
    """Return center and diameter of the circle near a place, on the page, mm; it must be whole."""
    cx, cy, radius = page.column(x), page.row(y), diameter / 2 * PER_MM
    steps = np.arange(radius - LOOK * PER_MM, radius + LOOK * PER_MM, 0.25)
    points: list[tuple[float, float]] = []
    for turn in np.radians(np.arange(3, 360, 6)):
        if min(abs(np.sin(turn)), abs(np.cos(turn))) < 0.15:
            continue  # the cross is dark there
        xs, ys = cx + steps * np.cos(turn), cy + steps * np.sin(turn)
        rows, columns = ys.astype(int), xs.astype(int)
        if rows.min() < 0 or columns.min() < 0:
            return None
        if rows.max() >= page.dark.shape[0] or columns.max() >= page.dark.shape[1]:
            return None
        grays = page.dark[rows, columns]
        if grays.max() < 128:
            return None
        points.append((float(np.average(xs, weights=grays)), float(np.average(ys, weights=grays))))
    # least squares: x2 + y2 = 2ax + 2by + c
    array = np.array(points)
    table = np.column_stack([2 * array, np.ones(len(array))])
    (a, b, c), *_ = np.linalg.lstsq(table, (array**2).sum(axis=1), rcond=None)
    return a / PER_MM, page.height - b / PER_MM, 2 * float(np.sqrt(c + a * a + b * b)) / PER_MM


def bars(dark: np.ndarray) -> list[float]:
    """Return the lengths of all level check bars, mm: a line of some 100 mm, ticks at both ends."""
    found: list[float] = []
    last = -99
    off, high = round(1.0 * PER_MM), round(1.6 * PER_MM)
    for row in np.flatnonzero(np.count_nonzero(dark > 100, axis=1) > 95 * PER_MM):
        ends = np.flatnonzero(np.diff(np.concatenate([[0], dark[row] > 100, [0]])))
        for start, end in zip(ends[::2], ends[1::2], strict=True):
            if not 95 * PER_MM < end - start < 107 * PER_MM or row - last < 6 or row < high:
                continue
            places = [
                middle(dark[rows, at - 6 : at + 6].mean(axis=0))
                for at in (start + 1, end - 1)
                for rows in (slice(row - high, row - off), slice(row + off, row + high))
            ]
            if None not in places:
                left, _, right, _ = places
                assert left is not None
                assert right is not None
                found.append(float((end - 1 - 6 + right - (start + 1 - 6 + left)) / PER_MM))
                last = row
    return found


def faults(file: Path, board: Board, paper: tuple[float, float]) -> list[str]:
    """Say how a printed template differs from a board worked out by hand."""
    said: list[str] = []
    fonts = said_by("pdffonts", file).splitlines()
    at = fonts[0].index("emb")
    said += [f"font {line.split()[0]} is not inside" for line in fonts[2:] if line[at] != "y"]
    pages = prints(file)
    info = said_by("pdfinfo", "-f", 1, "-l", len(pages), file)
    for x, y in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+) pts", info):
        size = sorted((float(x) * 25.4 / 72, float(y) * 25.4 / 72))
        if size != pytest.approx(sorted(paper), abs=0.1):
            said.append(f"a page of {size[0]:.1f} x {size[1]:.1f} mm")
    seen: dict[str, int] = {}

    def held(what: str, found: float, true: float, where: str, off: float = MM) -> None:
        seen[what] = seen.get(what, 0) + 1
        if abs(found - true) > off:
            said.append(f"{where}: {what} at {found:.3f}, not {true:.3f}")

    for number, page in enumerate(pages, 1):
        where = f"page {number}"
        for way, dark in (("level", page.dark), ("upright", page.dark.T)):
            lengths = sorted(bars(dark))
            if lengths != pytest.approx([100.0, 101.6], abs=BETWEEN):
                said.append(f"{where}: {way} bars of {[round(one, 3) for one in lengths]} mm")
        x0, y0 = page.zero
        wide = page.dark.shape[1] / PER_MM
        left, right = max(WINDOW[0], x0), min(wide - WINDOW[1], x0 + board.length)
        low, high = max(40.0, y0), min(page.height - WINDOW[1], y0 + board.width)
        for what, y in (("bottom edge", 0.0), ("top edge", board.width)):
            if low - 1 <= y0 + y <= high + 1 and right > left:
                found = level(page, y0 + y, left, right)
                if found is not None:
                    held(what, found - y0, y, where)
        for what, x in (("left long point", 0.0), ("right long point", board.length)):
            if left - 1e-6 <= x0 + x <= right + 1e-6:
                found = upright(page, x0 + x, low, high)
                if found is not None:
                    held(what, found - x0, x, where)
        for n, (u, v, diameter) in enumerate(board.holes, 1):
            circle = ring(page, x0 + u, y0 + v, diameter)
            if circle is not None:
                for axis, one, true in zip(
                    ("from the left", "from below", "wide"),
                    (circle[0] - x0, circle[1] - y0, circle[2]),
                    (u, v, diameter),
                    strict=True,
                ):
                    held(f"hole {n} {axis}", one, true, where, ROUND)
    wanted = ["bottom edge", "top edge", "left long point", "right long point"]
    wanted += [f"hole {n} {axis}" for n in range(1, len(board.holes) + 1)
               for axis in ("from the left", "from below", "wide")]  # fmt: skip
    return said + [f"nowhere: {what}" for what in wanted if what not in seen]


def by_hand(skewed: Any, side: str) -> Board:
    """Return a board of the collar that was worked out by hand."""
    flat = skewed.board(side)
    return Board(flat.length, flat.width, skewed.bores(side))


def coffee(side: str) -> Board:
    """Return a board of the example cold-coffee.

    Its lip was read with front a = 37 in, back b = 37 1/16 in, both sides c = 21 in and both
    diagonals d = 42 9/16 in: mirrored, so the fit is too, and four corners that are mirrored lie
    on a circle: d2 = c2 + ab (Ptolemy). The least change of the six readings that makes this
    true follows from Lagrange's rule in a few steps. The collar is as long as the mean of a and b.
    """
    inch = 25.4
    read = np.array([37, 37 + 1 / 16, 21, 42 + 9 / 16]) * inch
    often = np.array([1, 1, 2, 2])
    fit = read.copy()
    for _ in range(20):
        a, b, c, d = fit
        slope = np.array([-b, -a, -2 * c, 2 * d])
        gap = d * d - c * c - a * b + slope @ (read - fit)
        fit = read - gap * slope / often / (slope**2 / often).sum()
    front = float(fit[0] + fit[1]) / 2
    side_length = float(fit[2])
    assert abs(fit[3] ** 2 - fit[2] ** 2 - fit[0] * fit[1]) < 1e-6
    width = 5.5 * inch
    if side == "front":
        bores = [(front / 2 + k * 4 * inch, 3 * inch, inch) for k in (-1, 0, 1)]
        return Board(front, width, bores)
    return Board(side_length, width, [(side_length / 2 + 4 * inch, 2 * inch, inch / 2)])


@pytest.mark.published("poppler; plane geometry by hand; ISO 216 and ASME Y14.1")
@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("side", ["front", "right", "left"])
def test_poppler_prints_the_collar_that_was_worked_out(
    skewed: Any, built: Callable[..., Path], paper: str, side: str
) -> None:
    folder = built(skewed.text, "--only", "templates", "--paper", paper) / "templates"
    assert {path.stem for path in folder.glob("board-*.pdf")} >= {
        f"board-{each}" for each in ("front", "right", "left")
    }
    assert faults(folder / f"board-{side}.pdf", by_hand(skewed, side), PAPERS[paper]) == []


@pytest.mark.published("poppler; Ptolemy's theorem; ISO 216 and ASME Y14.1")
@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("side", ["front", "right"])
def test_poppler_prints_the_example_as_it_should_be(
    built: Callable[..., Path], paper: str, side: str
) -> None:
    folder = built("cold-coffee", "--only", "templates", "--paper", paper) / "templates"
    assert faults(folder / f"board-{side}.pdf", coffee(side), PAPERS[paper]) == []


# --- foam panels ----------------------------------------------------------------------------------

ALONG, TURN = 5.0, 6.0
"""So far apart are the places at which a cut line is looked for, mm and degrees."""

CLEAR = 0.5
"""A place nearer to another line is left out, mm."""

STRAY = 0.12
"""How far one place of a line may be off, mm; the mean of them all ``MM``."""

SHARE = 0.9
"""So many of an edge's places have to be found there; text or seams may darken the others."""

Place = tuple[float, float, float, float]
"""A point of a line and the direction across it."""


def edges(flat: Any) -> dict[str, list[Place]]:
    """Return places along every line that is cut of a panel worked out by hand."""
    circles = [circle for cut in flat.cuts for circle in cut.circles]
    circles += [(x, y, diameter / 2) for _, x, y, diameter in flat.rings]
    found: dict[str, list[Place]] = {}
    for n, (x, y, r) in enumerate(circles, 1):
        turns = np.radians(np.arange(TURN / 2, 360, TURN))
        found[f"pocket {n}"] = [
            (px, py, dx, dy)
            for dx, dy in zip(np.cos(turns), np.sin(turns), strict=True)
            for px, py in ((x + r * dx, y + r * dy),)
            if CLEAR < px < flat.length - CLEAR and CLEAR < py < flat.width - CLEAR
            and all(np.hypot(px - a, py - b) > c + CLEAR for a, b, c in circles if (a, b) != (x, y))
        ]  # fmt: skip
    for cut in flat.cuts:
        if cut.layer != "OUTLINE" and cut.circles:
            continue  # made of circles alone
        x0, y0, x1, y1 = cut.box
        sides = {
            "left": [(x0, v, 1.0, 0.0) for v in np.arange(y0 + ALONG, y1, ALONG)],
            "right": [(x1, v, 1.0, 0.0) for v in np.arange(y0 + ALONG, y1, ALONG)],
            "lower": [(u, y0, 0.0, 1.0) for u in np.arange(x0 + ALONG, x1, ALONG)],
            "upper": [(u, y1, 0.0, 1.0) for u in np.arange(x0 + ALONG, x1, ALONG)],
        }
        for side, places in sides.items():
            found[f"{side} side of the {cut.layer.lower()}"] = [
                each for each in places
                if all(np.hypot(each[0] - a, each[1] - b) > c + CLEAR for a, b, c in circles)
            ]  # fmt: skip
    return found


def off(page: Print, place: Place) -> float | None:
    """Return how far off a line is from its place on a page, mm; None where it cannot be seen."""
    x, y, dx, dy = place
    x, y = x + page.zero[0], y + page.zero[1]
    if not (WINDOW[0] <= x <= page.dark.shape[1] / PER_MM - WINDOW[1]):
        return None
    if not (40.0 <= y <= page.height - WINDOW[1]):
        return None
    steps = np.arange(-LOOK, LOOK, 0.25 / PER_MM)
    rows = np.array([page.row(y + step * dy) for step in steps]).astype(int)
    columns = np.array([page.column(x + step * dx) for step in steps]).astype(int)
    grays = page.dark[rows, columns].astype(float)
    if grays.max() < 128:
        return None
    near = np.abs(steps - steps[int(grays.argmax())]) < 0.4
    return float(np.average(steps[near], weights=grays[near]))


def foam_faults(file: Path, flat: Any, centers: list[tuple[float, float]]) -> list[str]:
    """Say how a printed foam template differs from a panel worked out by hand."""
    said: list[str] = []
    pages = prints(file)
    for number, page in enumerate(pages, 1):
        for way, dark in (("level", page.dark), ("upright", page.dark.T)):
            lengths = sorted(bars(dark))
            if lengths != pytest.approx([100.0, 101.6], abs=BETWEEN):
                said.append(f"page {number}: {way} bars of {[round(one, 3) for one in lengths]} mm")
    for name, places in edges(flat).items():
        assert len(places) > 5
        best = [
            min((each for page in pages if (each := off(page, place)) is not None),
                key=abs, default=None)
            for place in places
        ]  # fmt: skip
        good = [each for each in best if each is not None and abs(each) < STRAY]
        if len(good) < SHARE * len(places):
            said.append(f"{name}: found at {len(good)} of {len(places)} places")
        elif abs(float(np.mean(good))) > MM:
            said.append(f"{name}: {float(np.mean(good)):.3f} mm off")
    for n, (u, v) in enumerate(centers, 1):
        if not any(crossed(page, u + page.zero[0], v + page.zero[1]) for page in pages):
            said.append(f"no cross at center {n}")
    return said


def crossed(page: Print, x: float, y: float) -> bool:
    """Whether a cross is at a place of a page, with arms of 4 mm at least."""
    if not (WINDOW[0] < x < page.dark.shape[1] / PER_MM - 20 and 45 < y < page.height - 20):
        return False
    ways = (
        (upright(page, x, y + 2, y + 4), x), (upright(page, x, y - 4, y - 2), x),
        (level(page, y, x + 2, x + 4), y), (level(page, y, x - 4, x - 2), y),
    )  # fmt: skip
    return all(at is not None and abs(at - true) < MM for at, true in ways)


def centers(skewed: Any, side: str) -> list[tuple[float, float]]:
    """Return where the pockets of a panel worked out by hand have their middles."""
    flat = skewed.panel(side)
    if side == "back":
        x0, y0, x1, y1 = flat.cuts[1].box
        return [((x0 + x1) / 2, (y0 + y1) / 2)]
    return [(u - flat.start, v) for u, v, _ in skewed.bores(side)]


@pytest.mark.published("poppler; plane geometry by hand")
@pytest.mark.parametrize("paper", sorted(PAPERS))
@pytest.mark.parametrize("side", ["front", "right", "back", "left"])
def test_poppler_prints_the_pockets_that_were_worked_out(
    skewed: Any, built: Callable[..., Path], paper: str, side: str
) -> None:
    """Three pockets that are one, one over the edge, the manifold's opening, one alone."""
    folder = built(skewed.text, "--only", "templates", "--paper", paper) / "templates"
    file = folder / f"foam-{side}.pdf"
    assert foam_faults(file, skewed.panel(side), centers(skewed, side)) == []


def test_the_judge_sees_one_pocket_half_a_millimeter_off(
    skewed: Any, built: Callable[..., Path]
) -> None:
    folder = built(skewed.one_bore_off, "--only", "templates", "--paper", "a4") / "templates"
    found = foam_faults(folder / "foam-front.pdf", skewed.panel("front"), centers(skewed, "front"))
    assert [each.split(":")[0] for each in found] == ["pocket 2", "no cross at center 2"]


# --- the judge can say no -------------------------------------------------------------------------


@pytest.fixture
def template(skewed: Any, built: Callable[..., Path]) -> Path:
    """A template with one hole, on few pages."""
    return built(skewed.text, "--only", "templates", "--paper", "a4") / "templates/board-left.pdf"


def scaled(page: Any, x: float, y: float) -> None:
    page.add_transformation(import_module("pypdf").Transformation().scale(x, y))


def lower(page: Any) -> None:
    page.mediabox.top = float(page.mediabox.top) - 10


def without_font(page: Any) -> None:
    for font in page["/Resources"]["/Font"].values():
        del font.get_object()["/FontDescriptor"]["/FontFile2"]


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (
            lambda page: scaled(page, 0.97, 0.97),
            [r"level bars of \[9[67]\.", r"upright bars of \[9"],
        ),
        (lambda page: scaled(page, 0.97, 0.97), ["nowhere: right long point"]),
        (lambda page: scaled(page, 1.0, 0.997), [r"upright bars of \[99\.[67]", "top edge at 149"]),
        (lambda page: scaled(page, 1.003, 1.0), [r"level bars of \[100\.[23]", "from the left at"]),
        (lower, ["a page of 210.0 x 293.5 mm"]),
        (without_font, ["is not inside"]),
    ],
)
def test_the_judge_sees_a_spoilt_file(
    skewed: Any, template: Path, tmp_path: Path, spoil: Callable[[Any], None], said: list[str]
) -> None:
    pypdf = import_module("pypdf")
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(template))
    for page in writer.pages if spoil is not without_font else writer.pages[:1]:
        spoil(page)
    file = tmp_path / "spoilt.pdf"
    writer.write(file)
    found = "\n".join(faults(file, by_hand(skewed, "left"), PAPERS["a4"]))
    for each in said:
        assert re.search(each, found), found


def test_the_judge_sees_one_bore_half_a_millimeter_off(
    skewed: Any, built: Callable[..., Path]
) -> None:
    folder = built(skewed.one_bore_off, "--only", "templates", "--paper", "a4") / "templates"
    said = faults(folder / "board-front.pdf", by_hand(skewed, "front"), PAPERS["a4"])
    assert said
    assert all(
        re.search(r"hole 2 from the left at 511\.(59|60)\d, not 511\.100", each) for each in said
    )


@pytest.mark.parametrize(
    ("long", "wide", "said"),
    [(0.1, 0.0, "right long point at "), (0.0, 0.1, "top edge at ")],
)
def test_the_judge_sees_an_edge_a_tenth_of_a_millimeter_off(
    skewed: Any, template: Path, long: float, wide: float, said: str
) -> None:
    true = by_hand(skewed, "left")
    other = Board(true.length + long, true.width + wide, true.holes)
    found = faults(template, other, PAPERS["a4"])
    assert found
    assert all(said in each for each in found)


# --- a printer that is not true -------------------------------------------------------------------

FINE = 600 / 25.4
"""Pixels per mm at 600 dpi."""

BAR_PEN = 0.25
"""How wide a bar's ticks are drawn, mm: a run of dark pixels ends at their outer edges."""


def runs(file: Path) -> list[tuple[bool, list[float], list[float]]]:
    """Return, page by page at 600 dpi, whether it lies, and its level and upright runs, mm.

    Runs are stretches of dark pixels of the length of a check bar, as the file has them.
    """
    command = ["pdftoppm", "-r", "600", "-gray", "-f", "1", "-l", "2", str(file)]
    data = subprocess.run(command, capture_output=True, check=True, timeout=120).stdout
    found: list[tuple[bool, list[float], list[float]]] = []
    while data:
        _, size, _, rest = data.split(b"\n", 3)
        width, height = map(int, size.split())
        pixels = np.frombuffer(rest[: width * height], np.uint8).reshape(height, width)
        data = rest[width * height :]
        both: list[list[float]] = []
        for dark in (pixels < 128, (pixels < 128).T):
            lengths: set[int] = set()
            for row in np.flatnonzero(np.count_nonzero(dark, axis=1) > 98 * FINE):
                edges = np.flatnonzero(np.diff(np.concatenate([[0], dark[row], [0]])))
                lengths |= {
                    int(end - start)
                    for start, end in zip(edges[::2], edges[1::2], strict=True)
                    if 98 * FINE < end - start < 104 * FINE
                }
            both.append(sorted(each / FINE for each in lengths))
        found.append((width > height, both[0], both[1]))
    return found


@pytest.mark.published("poppler at 600 dpi; a printer that makes 99.2 mm across and 99.6 mm up")
@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_poppler_and_a_printer_that_is_not_true_print_true_bars(
    skewed: Any, built: Callable[..., Path], paper: str
) -> None:
    across, up = 0.992, 0.996
    options = ("--only", "templates", "--paper", paper, "--printed", "99.2x99.6")
    folder = built(skewed.text, *options) / "templates"
    files = [folder / f"{name}.pdf" for name in ("board-left", "test-page")]
    files.append(built("cold-coffee", *options) / "templates/board-front.pdf")
    lay: list[bool] = []
    for file in files:
        name = file.stem
        for lies, level, upright in runs(file):
            lay.append(lies)
            pen = 0.2 if name == "test-page" else BAR_PEN  # the test page's ticks are finer
            for lengths, makes in (
                (level, up if lies else across),
                (upright, across if lies else up),
            ):
                for true in (100.0, 101.6):
                    off = min(abs(each * makes - pen - true) for each in lengths)
                    assert off <= 0.06, f"{name}: {true} mm is {off:.3f} mm off"
    assert set(lay) == {True, False}
