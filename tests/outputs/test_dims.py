"""Dimensions, leaders, center lines and hatching: where their lines end, what their texts meet."""

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from collarwright.outputs.paper import dims
from collarwright.outputs.paper.dims import (
    arrow,
    center_line,
    dimension,
    dot,
    font_size,
    hatching,
    leader,
)
from collarwright.outputs.paper.marks import Mark, Path, Pen, Ring, Window, Words, line, rectangle
from collarwright.outputs.paper.overlap import free, meetings, quad

ISO_128 = (
    "ISO 128-2: widths 0.25, 0.35, 0.5, 0.7 mm; dash 12, long dash 24, gap 3, dot 0.5 (memory)"
)
ISO_3098 = "ISO 3098-1: letters 2.5, 3.5, 5 mm high (from memory)"


def straight(marks: Sequence[Mark]) -> list[tuple[float, float, float, float]]:
    """Return the plain lines among marks, the lower left end first, rounded."""
    found: list[tuple[float, float, float, float]] = []
    for mark in marks:
        if isinstance(mark, Path) and mark.pen is not None and not mark.closed:
            for a, b in pairwise([mark.start, *(step[-1] for step in mark.steps)]):
                (x0, y0), (x1, y1) = sorted((a, b))
                found.append((round(x0, 6), round(y0, 6), round(x1, 6), round(y1, 6)))
    return found


def heads(marks: Sequence[Mark]) -> list[tuple[float, float, float]]:
    """Return tip and direction in degrees of every arrow head."""
    found: list[tuple[float, float, float]] = []
    for mark in marks:
        if isinstance(mark, Path) and mark.fill == 0.0 and len(mark.steps) == 2:
            (x, y), ((a,), (b,)) = mark.start, mark.steps
            back = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            turn = math.degrees(math.atan2(y - back[1], x - back[0])) % 360
            found.append((round(x, 6), round(y, 6), round(turn, 6)))
    return found


def texts(marks: Sequence[Mark]) -> list[Words]:
    return [mark for mark in marks if isinstance(mark, Words)]


@pytest.mark.published(ISO_128)
def test_lines_are_of_the_standard_s_widths_and_dashes() -> None:
    widths = [pen.width for pen in (dims.THIN, dims.MIDDLE, dims.VISIBLE, dims.HEAVY)]
    assert widths == [0.25, 0.35, 0.5, 0.7]
    assert dims.HIDDEN.dash == pytest.approx((12 * 0.35, 3 * 0.35))
    assert dims.CENTER.dash == pytest.approx((6.0, 0.75, 0.125, 0.75))
    assert dims.MOVED.dash == pytest.approx((6.0, 0.75, 0.125, 0.75, 0.125, 0.75))


@pytest.mark.published(ISO_3098)
@pytest.mark.parametrize("height", [2.5, 3.5, 5.0])
def test_a_capital_is_as_high_as_asked_for(height: float) -> None:
    from importlib.resources import as_file, files

    from PIL import ImageFont

    assert height in (dims.SMALL, dims.PLAIN, dims.LARGE)
    with as_file(files("collarwright.outputs.paper") / "fonts" / "DejaVuSans.ttf") as path:
        _, top, _, bottom = ImageFont.truetype(str(path), 2048).getbbox("H")
    assert font_size(height) * (bottom - top) / 2048 == pytest.approx(height, rel=2e-3)


@pytest.mark.parametrize(
    ("way", "at", "a", "b", "tips", "extensions"),
    [
        ("level", 4.0, (10, 20), (70, 30), [(10, 4, 180), (70, 4, 0)],
         [(10, 2, 10, 19), (70, 2, 70, 29)]),
        ("upright", 2.0, (20, 10), (30, 70), [(2, 10, 270), (2, 70, 90)],
         [(0, 10, 19, 10), (0, 70, 29, 70)]),
        # 3-4-5: 50 mm along (0.8, 0.6), the line 10 mm to the left, that is by (-6, 8)
        ("aligned", 10.0, (10, 10), (50, 40), [(4, 18, 216.869898), (44, 48, 36.869898)],
         [(2.8, 19.6, 9.4, 10.8), (42.8, 49.6, 49.4, 40.8)]),
    ],
)  # fmt: skip
def test_arrows_end_where_it_is_measured(
    way: dims.Way,
    at: float,
    a: tuple[float, float],
    b: tuple[float, float],
    tips: list[tuple[float, float, float]],
    extensions: list[tuple[float, float, float, float]],
) -> None:
    marks = dimension(a, b, "50", at=at, way=way)
    assert heads(marks) == tips
    lines = straight(marks)
    assert set(extensions) <= set(lines)
    (x0, y0), (x1, y1) = sorted((tips[0][:2], tips[1][:2]))
    assert lines[0] == (x0, y0, x1, y1)
    assert len(lines) == 3
    assert meetings(marks) == []


def test_where_it_is_tight_arrows_stand_outside_and_point_inward() -> None:
    marks = dimension((10, 20), (14, 20), "4 mm", at=10, way="level")
    assert heads(marks) == [(10, 10, 0), (14, 10, 180)]
    (words,) = texts(marks)
    assert quad(words)[0][0] > 14 + dims.ARROW
    assert straight(marks)[0][2] > quad(words)[1][0]  # the line runs on under the text
    assert meetings(marks) == []


def test_a_text_too_long_for_its_line_stands_beside_it() -> None:
    marks = dimension((10, 20), (22, 20), "twenty-two and more", at=10, way="level")
    assert heads(marks) == [(10, 10, 180), (22, 10, 0)]
    (words,) = texts(marks)
    assert quad(words)[0][0] > 22
    assert meetings(marks) == []


@pytest.mark.parametrize(
    ("a", "b", "turn"),
    [((0, 0), (0, 50), 90), ((0, 50), (0, 0), 90), ((50, 0), (0, 0), 0),
     ((0, 0), (30, -30), -45), ((30, -30), (0, 0), -45), ((0, 0), (-30, -30), 45)],
)  # fmt: skip
def test_a_text_is_read_from_below_or_from_the_right(
    a: tuple[float, float], b: tuple[float, float], turn: float
) -> None:
    marks = dimension(a, b, "12", at=0, extend=False)
    (words,) = texts(marks)
    assert words.turn == pytest.approx(turn)
    assert meetings(marks) == []


def test_a_text_keeps_clear_of_what_is_there() -> None:
    wall = line(40, 0, 40, 40)
    plain = dimension((10, 20), (70, 20), "60 mm", at=10, way="level")
    assert len(meetings([wall, *plain])) == 1
    moved = dimension((10, 20), (70, 20), "60 mm", at=10, way="level", clear_of=[wall])
    assert meetings([wall, *moved]) == []


def test_nothing_is_measured_between_points_that_are_not_apart() -> None:
    for way, a, b in (("level", (1, 0), (1, 9)), ("upright", (0, 1), (9, 1)),
                      ("aligned", (3, 3), (3, 3))):  # fmt: skip
        with pytest.raises(ValueError, match="nothing to measure"):
            dimension(a, b, "x", at=5, way=way)  # type: ignore[arg-type]


def test_a_leader_points_at_its_thing_and_its_text_stands_behind_the_shelf() -> None:
    for out in (1, -1):
        marks = leader((50, 50), (50 + 10 * out, 60), "foam")
        ((x, y, turn),) = heads(marks)
        assert (x, y) == (50, 50)
        assert turn == pytest.approx(225 if out > 0 else 315)
        (words,) = texts(marks)
        box = quad(words)
        assert (box[0][0] if out > 0 else -box[1][0]) > out * (50 + 12 * out)
        assert meetings(marks) == []
    assert heads(leader((0, 0), (5, 5), "face", end="dot")) == []


def test_a_dot_is_round_and_no_circle_of_four_curves() -> None:
    mark = dot((3, 4), 2.0)
    assert len(mark.steps) == 8
    assert all(math.dist(step[-1], (3, 4)) == pytest.approx(1.0) for step in mark.steps)


@pytest.mark.parametrize("long", [4.0, 12.0, 33.3, 250.0])
def test_a_center_line_begins_and_ends_with_a_long_dash(long: float) -> None:
    mark = center_line((0, 0), (long, 0), past=3.0)
    assert mark.start == (-3, 0)
    assert mark.steps == (((long + 3, 0),),)
    assert mark.pen is not None
    dash, gap, point, again = mark.pen.dash
    left = math.remainder(long + 6 - dash, dash + gap + point + again)
    assert left == pytest.approx(0, abs=1e-6)
    assert gap / dash == pytest.approx(3 / 24)


def test_hatching_stays_in_the_cut_face_and_leaves_no_gap() -> None:
    from shapely import LineString, Polygon

    outer = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (20.0, 12.0), (0.0, 30.0)]
    hole = [(5.0, 5.0), (15.0, 5.0), (15.0, 10.0), (5.0, 10.0)]
    face = Polygon(outer, [hole])
    lines = [LineString([m.start, m.steps[0][0]]) for m in hatching([outer, hole], pitch=2.0)]
    assert all(face.buffer(1e-5).contains(each) for each in lines)
    # lines 2 mm apart cover the face: all of them together are as long as half of its area
    assert sum(each.length for each in lines) == pytest.approx(face.area / 2.0, rel=0.02)
    assert all(math.degrees(math.atan2(m.steps[0][0][1] - m.start[1],
                                       m.steps[0][0][0] - m.start[0])) == pytest.approx(45)
               for m in hatching([outer, hole]))  # fmt: skip


def test_arrow_heads_are_of_the_standard_s_angle() -> None:
    (a,), (b,) = arrow((0, 0), 0).steps
    assert math.degrees(math.atan2(a[1], -a[0]) - math.atan2(b[1], -b[0])) % 360 == pytest.approx(
        345
    )
    assert (a[0], b[0]) == pytest.approx((-3, -3))


# --- what a text meets ----------------------------------------------------------------------------

WORDS = Words(10, 10, 4.0, "collar")


@pytest.mark.parametrize(
    ("mark", "meets"),
    [
        (line(0, 11, 50, 11), True),
        (line(0, 8, 50, 8), False),
        (line(0, 8.9, 50, 8.9, Pen(0.1)), True),  # 0.14 mm below the tails
        (line(0, 14, 50, 14), False),
        (line(8, 0, 30, 30), True),
        (line(0, 0, 9, 30), False),
        (Ring(16, 11, 4), True),
        (Ring(16, 11, 60), False),  # all round it
        (Ring(16, 11, 60, None, 0.2), True),  # a dark disc
        (Ring(16, 11, 60, None, 1.0), False),
        (rectangle(5, 5, 40, 20, None, 0.3), True),
        (Words(20, 12, 4.0, "lip"), True),
        (Words(40, 10, 4.0, "lip"), False),
        (Words(14, 2, 4.0, "lip lip lip", "start", 60), True),
        (Words(30, 2, 4.0, "lip lip lip", "start", 60), False),
        (Window(0, 0, 90, 90, (line(0, 11, 50, 11),)), True),
        (Path((0, 30), (((0, 0), (30, 0), (30, 30)),)), True),
    ],
)
def test_what_a_text_meets(mark: Mark, meets: bool) -> None:
    assert bool(meetings([mark, WORDS])) is meets
    assert free(quad(WORDS), [mark]) is not meets


def test_a_white_shape_covers_what_was_drawn_before_it() -> None:
    under, cover = line(0, 11, 50, 11), rectangle(8, 5, 25, 12, None, 1.0)
    assert meetings([under, cover, WORDS]) == []
    assert len(meetings([cover, under, WORDS])) == 1
    assert len(meetings([under, WORDS, cover])) == 1
    assert len(meetings([under, rectangle(12, 5, 25, 12, None, 1.0), WORDS])) == 1


def test_a_text_s_box_holds_its_letters() -> None:
    from importlib.resources import as_file, files

    from PIL import ImageFont

    with as_file(files("collarwright.outputs.paper") / "fonts" / "DejaVuSans.ttf") as path:
        font = ImageFont.truetype(str(path), 1000)
    text = "37 5/8 in, ⌀ Qgjpy"
    left, top, right, bottom = font.getbbox(text, anchor="ls")
    (x0, y0), _, (x1, y1), _ = quad(Words(0, 0, 1000.0, text))
    assert x0 <= left + 1 and right - 1 <= x1
    assert y0 <= -bottom + 10 and -top <= y1 + 10
