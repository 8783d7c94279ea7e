"""How templates are cut into sheets: no slivers, nothing printed over, the map always whole."""

import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from math import hypot
from pathlib import Path
from random import Random

import numpy as np
import pytest
from collarwright.geometry.shape.sheet import Circle, Contour, End, Line, Sheet, Vertex
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Page, Words
from collarwright.outputs.paper.marks import Path as Stroke
from collarwright.outputs.paper.pdf import text_width
from collarwright.outputs.paper.sizes import PAPERS
from collarwright.outputs.readback import pdf
from collarwright.outputs.templates import drilling
from collarwright.outputs.templates.furniture import Job
from collarwright.outputs.templates.labels import Box, Form, Lines, hole_box, hole_lines, placed
from collarwright.outputs.templates.tiles import Cuts, cut

JOB = Job(title="Soda in the shed", sha256="0123456789abcdef" * 4, show="in")
LEAST = 25.0  # mm of board that a sheet has to carry alone
FLAP = 8.0  # mm of paper drawn beyond the board
BAND = 12.0  # mm that neighbors share
SIZED = ("letter", "a4", "legal", "a3", "tabloid")


def hole(name: str, x: float, y: float, diameter: float, purpose: str = "bore") -> Circle:
    return Circle(layer="BORE", name=name, purpose=purpose, x=x, y=y, diameter=diameter)


def flat(long: float, wide: float, circles: list[Circle]) -> Sheet:
    """Draw a flat view by hand: a board 1 1/2 in thick, mitered at 45 degrees."""
    corners = tuple(Vertex(*each) for each in ((0, 0), (long, 0), (long, wide), (0, wide)))
    return Sheet(
        name="board-front",
        kind="board",
        side="front",
        length=long,
        width=wide,
        thickness=38.1,
        contours=(Contour("OUTLINE", corners),),
        circles=tuple(circles),
        lines=tuple(Line("INNER-EDGE", x, 0, x, wide) for x in (38.1, long - 38.1)),
        notes=(),
        ends=(End("front-left", 45.0, 1.0), End("front-right", 45.0, 1.0)),
    )


def four_taps(shift: float) -> Sheet:
    """A 2x8 for a freezer 42 3/8 in wide: four 1 in bores 4 1/2 in apart, off its middle."""
    taps = [
        hole(f"tap-{i + 1}", 1075.5 / 2 + shift + (i - 1.5) * 114.3, 184.15 / 2, 25.4)
        for i in range(4)
    ]
    return flat(1075.5, 184.15, taps)


def invented(random: Random, long: float = 0.0, gap: tuple[float, float] = (60, 150)) -> Sheet:
    """A board of 500 to 2400 mm with taps in a row and passages, no two holes touching."""
    long = long or random.uniform(500, 2400)
    wide = random.choice((88.9, 139.7, 184.15, 235.0, 285.75))  # 1x4, 1x6, 2x8, and wider
    apart = random.uniform(*gap)
    count = min(random.randint(1, 12), int((long - 150) // apart) + 1)
    start = random.uniform(75, long - 75 - (count - 1) * apart)
    up, size = random.uniform(35, wide - 35), random.choice((22.2, 25.4, 28.6))
    circles = [hole(f"tap-{i + 1}", start + i * apart, up, size) for i in range(count)]
    for i in range(random.randint(0, 4)):
        x, y = random.uniform(25, long - 25), random.uniform(20, wide - 20)
        size = random.choice((6.0, 12.7, 19.0))
        if all(hypot(x - c.x, y - c.y) > (size + c.diameter) / 2 + 3 for c in circles):
            circles.append(hole(f"probe {i}", x, y, size, "passage"))
    return flat(long, wide, circles)


def shares(cuts: Cuts, length: float) -> list[float]:
    """What each sheet carries of the board, from one middle of a band to the next, mm."""
    ends = [0.0, *cuts.seams, length]
    return [b - a for a, b in pairwise(ends)]


def spans(sheet: Sheet, upright: bool) -> list[tuple[float, float]]:
    boxes = [hole_box(circle) for circle in sheet.circles]
    return [(box.y0, box.y1) if upright else (box.x0, box.x1) for box in boxes]


def fewest_cut(length: float, room: float, keep: list[tuple[float, float]]) -> float:
    """Try all seams on a grid of 1 mm: how few holes are cut if each sheet carries LEAST.

    Plain search, forward from the left end; as many sheets as one likes.
    """
    last = int(length)
    costs = [
        sum(a < x + BAND / 2 - 1e-6 and b > x - BAND / 2 + 1e-6 for a, b in keep)
        for x in range(last + 1)
    ]
    best = [float("inf")] * (last + 1)
    for x in range(1, last + 1):
        if LEAST <= x <= room - FLAP - BAND / 2:
            best[x] = costs[x]
        for before in range(max(1, int(x - room + BAND)), int(x - LEAST) + 1):
            if x - before + BAND <= room:
                best[x] = min(best[x], best[before] + costs[x])
    return min(
        (best[x] for x in range(1, last + 1) if LEAST <= length - x <= room - FLAP - BAND / 2),
        default=float("inf"),
    )


def check_shares(cuts: Cuts, length: float, room: float, keep: list[tuple[float, float]]) -> bool:
    """Whether all carry enough; where one does not, that it is so is proved."""
    if min(shares(cuts, length)) >= LEAST - 1e-6:
        assert cuts.thin == pytest.approx(0)
        return True
    assert fewest_cut(length, room, keep) > cuts.split, (length, room, keep, cuts)
    return False


@pytest.mark.parametrize("shift", [-88, -85, -82, 62, 65, 71, 74, 215])
def test_a_board_that_once_ended_in_a_sliver(shift: float) -> None:
    sheet = four_taps(shift)
    tiling = templates.plan_pages(sheet, "a4").tiling
    # (1075.5 + 16 - 12) / (170 - 12) = 6.8: 7 sheets if no bore were in the way, 8 with them
    assert tiling.count in (7, 8)
    assert min(shares(tiling.columns, 1075.5)) > 100
    assert tiling.split == 0


@pytest.mark.parametrize("paper", SIZED)
def test_no_sheet_carries_a_sliver(paper: str) -> None:
    random = Random(f"slivers {paper}")
    # what the paper shows upright, less its margins and the column of bars, less a band
    step = min(PAPERS[paper].width, PAPERS[paper].height) - 40 - BAND
    for i in range(60):
        # every other board fills its sheets to more than 7/8: there seams have little freedom
        filled = (random.randint(4, int(2300 / step)) - random.uniform(0, 0.12)) * step
        sheet = invented(random, 0.0 if i % 2 else max(500.0, filled - 2 * FLAP + BAND))
        plan = templates.plan_pages(sheet, paper, random.choice((0, 0, 1, 5, 12)))
        _, _, wide, high = plan.frame.window
        for cuts, length, room, upright in (
            (plan.tiling.columns, sheet.length, wide, False),
            (plan.tiling.rows, sheet.width, high, True),
        ):
            if cuts.count > 1:
                assert check_shares(cuts, length, room, spans(sheet, upright))


def test_crowded_spans_leave_slivers_only_where_they_must() -> None:
    random = Random("crowded")
    enough = 0
    for _ in range(60):
        length, room = random.uniform(300, 900), random.uniform(120, 260)
        keep: list[tuple[float, float]] = []
        for _ in range(random.randint(1, 9)):
            start, size = random.uniform(15, length - 15), random.uniform(20, 110)
            keep.append((start, min(start + size, length - 15)))
        cuts = cut(-FLAP, length + FLAP, room, keep, FLAP)
        if cuts.count > 1:
            enough += check_shares(cuts, length, room, keep)
    assert enough > 20


def test_a_sliver_that_cannot_be_avoided_is_as_broad_as_it_can_be() -> None:
    # all but the last 32 mm is one span: the seam is clear of it from 374 mm on, and 26 mm are left
    cuts = cut(-FLAP, 400 + FLAP, 390, [(20.0, 368.0)], FLAP)
    assert (cuts.seams, cuts.split) == ((374.0,), 0)
    # 6 mm more of it: 20 mm are left, on either side of the span less
    cuts = cut(-FLAP, 400 + FLAP, 398, [(20.0, 374.0)], FLAP)
    assert (cuts.seams, cuts.split) == ((380.0,), 0)
    assert cuts.thin == pytest.approx(5)
    check_shares(cuts, 400, 398, [(20.0, 374.0)])


def test_seams_are_even_where_nothing_is_in_the_way() -> None:
    for long in range(500, 2401, 73):
        parts = shares(cut(-FLAP, long + FLAP, 170, [], FLAP), long)
        assert max(parts) - min(parts) < 8.1, parts
        # fewest: each sheet adds 158 mm to the first one's 158 mm of board, the last one's too
        assert len(parts) == -(-(long + 2 * FLAP - BAND) // (170 - BAND))


def boxes(page: Page) -> tuple[list[tuple[str, Stroke]], list[Words]]:
    """Return the boxes of the map with what stands in them, and the texts of the page."""
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    found: list[tuple[str, Stroke]] = []
    for mark in page.marks:
        if not (isinstance(mark, Stroke) and mark.closed and len(mark.steps) == 3):
            continue
        x0, y0, x1, y1 = extent(mark)
        inside = [w.text for w in words if x0 < w.x < x1 and y0 < w.y < y1 and w.text.isdigit()]
        if len(inside) == 1:
            found.append((inside[0], mark))
    return found, words


def extent(stroke: Stroke) -> tuple[float, float, float, float]:
    points = [stroke.start, *(step[0] for step in stroke.steps)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def sliver() -> Sheet:
    """A board whose last 21 mm must go on a sheet of their own on A4."""
    taps = [hole(f"tap-{i}", x, 70, 28.0) for i, x in enumerate((20.0, 60.0, 100.0, 136.0))]
    return flat(175.0, 285.75, taps)


@pytest.mark.parametrize("paper", SIZED)
def test_the_map_shows_every_sheet_and_this_one_gray(paper: str) -> None:
    random = Random(f"maps {paper}")
    sheets = [invented(random) for _ in range(8)] + [four_taps(-82), flat(2400, 600, [])]
    for sheet in sheets:
        pages = templates.template(sheet, paper, JOB, {})
        if len(pages) == 1:
            continue
        for number, page in enumerate(pages, 1):
            found, _ = boxes(page)
            assert sorted(int(text) for text, _ in found) == list(range(1, len(pages) + 1))
            assert [text for text, box in found if box.fill is not None] == [str(number)]
            for _, box in found:
                x0, y0, x1, y1 = extent(box)
                assert min(x1 - x0, y1 - y0) > 1.0  # a box can be seen, and its number read
                assert x0 >= 12
                assert x1 <= page.width - 12 + 1e-6


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler) is not installed")
def test_another_program_prints_the_gray_box(tmp_path: Path) -> None:
    path = tmp_path / "front.pdf"
    templates.write_sheet(four_taps(-82), path, "a4", JOB)
    for page in pdf.read(path).pages:
        command = ["pdftoppm", "-r", "100", "-f", str(page.number), "-l", str(page.number)]
        done = subprocess.run([*command, "-gray", str(path)], capture_output=True, check=True)
        magic, size, _, pixels = done.stdout.split(b"\n", 3)
        assert magic == b"P5"
        wide, high = map(int, size.split())
        grays = np.frombuffer(pixels, np.uint8).reshape(high, wide)
        seen = np.argwhere(abs(grays.astype(int) - 204) <= 1)  # 0.8 of white
        assert len(seen) > 400  # 5 x 6 mm and more at 4 dots a mm
        along = float(np.median(seen[:, 1])) / 100 * 25.4
        number = next(t for t in page.texts if t.text == str(page.number) and t.y < 40)
        assert along == pytest.approx(
            number.x + number.width / 2, abs=1.5
        )  # the box is 5 mm wide and more


def overprints(page: pdf.Page) -> Iterator[str]:
    """Yield pairs of texts whose boxes overlap; capitals of the font are 0.73 em high."""
    found: list[tuple[str, tuple[float, float, float, float]]] = []
    for text in page.texts:
        low, high = 0.02 * text.size, 0.71 * text.size
        if abs(text.turn_deg) < 1:
            box = (text.x, text.y + low, text.x + text.width, text.y + high)
        else:
            box = (text.x - high, text.y, text.x - low, text.y + text.width)
        for other, (x0, y0, x1, y1) in found:
            wide, tall = min(box[2], x1) - max(box[0], x0), min(box[3], y1) - max(box[1], y0)
            if wide > 0.01 and tall > 0.01:
                yield f"{text.text!r} over {other!r}"
        found.append((text.text, box))


@pytest.mark.parametrize("paper", [*SIZED, "sheet"])
def test_no_text_is_printed_over_another(tmp_path: Path, paper: str) -> None:
    random = Random(f"texts {paper}")
    sheets = [invented(random) for _ in range(6)] + [four_taps(-82), sliver()]
    for sheet in sheets:
        path = tmp_path / "front.pdf"
        failures = tuple(f"FAILS check-{i}" for i in range(random.choice((0, 3, 9))))
        templates.write_sheet(sheet, path, paper, replace(JOB, warnings=failures))
        for page in pdf.read(path).pages:
            assert list(overprints(page)) == [], (sheet, page.number)


def test_even_a_sliver_is_not_printed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def slivered(low: float, high: float, *_: object) -> Cuts:
        return Cuts(low, high, (high - FLAP - 1.0,) if high > 300 else (), 0, 24.0)

    monkeypatch.setattr(templates, "cut", slivered)
    path = tmp_path / "front.pdf"
    templates.write_sheet(flat(310.0, 120.0, []), path, "tabloid", JOB)
    pages = pdf.read(path).pages
    assert len(pages) == 2
    for page in pages:
        assert list(overprints(page)) == []
        assert {"1", "2"} <= {text.text for text in page.texts}


@pytest.mark.parametrize("paper", [*SIZED, "sheet"])
def test_holes_apart_from_each_other_have_their_figures_beside_them(paper: str) -> None:
    random = Random(f"figures {paper}")
    for i in range(20):
        sheet = invented(random, gap=(60, 150) if i % 2 else (42, 60))
        show = random.choice(("in", "mm"))
        tiling = templates.plan_pages(sheet, paper, random.choice((0, 3, 9))).tiling
        for tile in tiling.tiles():
            _, notes = drilling.draw(sheet, tiling, tile, show, {})
            assert not [note for note in notes if note.startswith("no room")]


def test_no_thin_line_to_a_hole_runs_over_a_text() -> None:
    # found by trying: five bores and a passage in a low row of sheets
    holes = [hole(f"tap-{i + 1}", 373.5 + 46.95 * i, 102.9, 28.6) for i in range(7)]
    holes.append(hole("probe 1", 490.8, 79.3, 12.7, "passage"))
    sheet = flat(1020.3, 184.15, holes)
    tiling = templates.plan_pages(sheet, "a4", 3).tiling
    lines = 0
    for tile in tiling.tiles():
        marks, _ = drilling.draw(sheet, tiling, tile, "in", {})
        texts = [each for each in marks if isinstance(each, Words) and not each.turn]
        for mark in marks:
            if not (isinstance(mark, Stroke) and mark.pen is not None and mark.pen.gray == 0.35):
                continue
            lines += 1
            (x0, y0), ((x1, y1),) = mark.start, mark.steps[0]
            for i in range(201):
                x, y = x0 + (x1 - x0) * i / 200, y0 + (y1 - y0) * i / 200
                for text in texts:
                    past = x - text.x  # texts at holes start at their place
                    within = text.anchor == "start" and 0 < past < text_width(text.text, text.size)
                    assert not (within and 0 < y - text.y < 0.7 * text.size), text.text
    assert lines


def test_a_thin_line_never_goes_through_a_text() -> None:
    # a low strip, the hole at its left end, and a wall across it: figures fit beyond the wall only
    spot, region, wall = hole("probe", 20, 30, 6.0), Box(12, 15, 200, 45), Box(30, 0, 34, 60)

    def said(circle: Circle, form: Form) -> Lines:
        return hole_lines(circle, "probe", "in", form)

    found = placed(spot, said, region, [wall], [hole_box(spot)])
    assert found is not None
    _, (box, *line) = found
    assert box.x0 >= 34
    assert line  # it takes room too, so that no later text stands on it
    assert placed(spot, said, region, [wall], [hole_box(spot)], [wall]) is None


def test_a_passage_close_beside_a_tap_has_its_figures() -> None:
    # found by trying: the only free way to the passage is over the arm of the tap's cross
    taps = [hole(f"tap-{i + 1}", 265.9 + 75 * i, 100.6, 28.6) for i in range(4)]
    others = [(293.2, 123.1), (497.6, 41.9), (357.4, 114.0), (228.6, 183.1)]
    probes = [hole(f"probe {i}", x, y, 6.0, "passage") for i, (x, y) in enumerate(others)]
    sheet = flat(717.9, 235.0, [*taps, *probes])
    tiling = templates.plan_pages(sheet, "tabloid", 3).tiling
    for tile in tiling.tiles():
        assert drilling.draw(sheet, tiling, tile, "mm", {})[1] == ()


def test_holes_that_stand_in_each_other_are_said_to_have_no_room() -> None:
    heap = [hole(f"tap-{i}", 30 + 9 * (i % 12), 22 + 9 * (i // 12), 25.4) for i in range(24)]
    sheet = flat(160.0, 88.9, heap)
    tiling = templates.plan_pages(sheet, "sheet").tiling
    notes = [n for t in tiling.tiles() for n in drilling.draw(sheet, tiling, t, "in", {})[1]]
    assert [n for n in notes if n.startswith("no room for the figures of ")]


@pytest.mark.parametrize(
    ("count", "wide", "paper", "lines"),
    [
        (3, 88.9, "letter", 3),
        (8, 88.9, "letter", 8),
        (9, 88.9, "letter", 8),  # 7 of them, and "and 2 more"
        (8, 88.9, "a4", 8),
        (30, 235.0, "sheet", 8),
    ],
)
def test_failures_are_printed_as_far_as_they_cost_no_sheet(
    count: int, wide: float, paper: str, lines: int
) -> None:
    sheet = flat(900.0, wide, [hole("tap-1", 450, wide / 2, 25.4)])
    assert templates.plan_pages(sheet, paper, count).frame.lines == lines


def test_failures_give_way_to_the_board() -> None:
    """Letter on its side: 164.4 mm for the board and two flaps of 8 mm; each line takes 4.4 mm."""
    # five lines and their frame take 12.5 + 22 = 34.5 mm: 164.4 - 34.5 = 129.9 mm, eight 116.7
    five, six = flat(600.0, 113.5, []), flat(600.0, 100.0, [])
    assert templates.plan_pages(five, "letter", 8).frame.lines == 5
    assert templates.plan_pages(six, "letter", 8).frame.lines == 8
