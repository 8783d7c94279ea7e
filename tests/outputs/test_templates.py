"""Drilling templates: what is on the paper, measured on the paper."""

import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout
from collarwright.geometry.shape.sheet import Circle, Contour, End, Line, Sheet, Vertex, plate_sheet
from collarwright.outputs import templates
from collarwright.outputs.paper.sizes import PAPER_NAMES, PAPERS
from collarwright.outputs.readback import pdf
from collarwright.outputs.readback.pdf_parts import assemble, bars, register_marks
from collarwright.outputs.templates.furniture import Job
from collarwright.outputs.templates.tiles import BAND, cut
from hypothesis import given, settings
from hypothesis import strategies as st

SHA = "0123456789abcdef" * 4
JOB = Job(title="Cider in the shed", sha256=SHA, show="in")

# Paper sizes in mm: ISO 216 for the A series, ASME Y14.1 for letter (A) and tabloid (B), legal by
# common practice; the inch sizes are exact, 1 in = 25.4 mm.
STANDARD = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
    "a1": (594.0, 841.0),
    "a0": (841.0, 1189.0),
}


def flat(board: Board) -> Sheet:
    """Draw a board's flat view by hand: outline, inner edges, holes."""
    long, wide = board.long_point, board.width
    corners = tuple(Vertex(*each) for each in ((0, 0), (long, 0), (long, wide), (0, wide)))
    inner = (board.inner_left, long - board.inner_right)
    return Sheet(
        name=f"board-{board.side}",
        kind="board",
        side=board.side,
        length=long,
        width=wide,
        thickness=board.thickness,
        contours=(Contour("OUTLINE", corners),),
        circles=tuple(
            Circle(
                layer="PILOT" if hole.purpose == "pilot" else "BORE",
                name=hole.name,
                purpose=hole.purpose,
                x=hole.u,
                y=hole.v,
                diameter=hole.diameter or 0.0,
                depth=hole.depth,
            )
            for hole in board.holes
        ),
        lines=tuple(Line("INNER-EDGE", x, 0, x, wide) for x in inner),
        notes=(),
        ends=(End("front-left", 45.0, 1.0), End("front-right", 45.0, 1.0)),
    )


def board(lay: Callable[..., Layout], case: str) -> Board:
    """Return a front board to be drilled."""
    if case == "three taps":
        return lay().boards[0]
    if case == "24 taps, 2.4 m":
        lip = {"front": "2400 mm", "back": "2400 mm"}
        taps = {"count": 24, "spacing": "90 mm"}
        return lay(lip=lip, taps=taps, board={"stock": "dimension-2x8"}).boards[0]
    if case == "two rows, 11 in":
        taps = [{"count": 4, "spacing": "6 in", "height": height} for height in ("3 in", "8 in")]
        stock = {"stock": None, "thickness": "1.5 in", "width": "11.25 in"}
        return lay(taps=taps, board=stock).boards[0]
    assert case == "passage"
    made = lay().boards[0]
    hole = Hole(name="probe", purpose="passage", u=120.0, v=40.0, diameter=12.7)
    return replace(made, holes=(*made.holes, hole))


CASES = ("three taps", "24 taps, 2.4 m", "two rows, 11 in", "passage")


@pytest.fixture(params=CASES)
def bored(request: pytest.FixtureRequest, lay: Callable[..., Layout]) -> Board:
    return board(lay, request.param)


@pytest.fixture
def three(lay: Callable[..., Layout]) -> Board:
    """Design A's front board: 939.8 x 139.7 mm, three 1 in bores 3 in apart in its middle."""
    return board(lay, "three taps")


def written(made: Board, folder: Path, paper: str, job: Job = JOB) -> Path:
    path = folder / f"{made.side}.pdf"
    templates.write_sheet(flat(made), path, paper, job)
    return path


@pytest.mark.published("ISO 216; ASME Y14.1")
def test_papers_are_of_standard_size() -> None:
    assert {name: (each.width, each.height) for name, each in PAPERS.items()} == {
        name: pytest.approx(size) for name, size in STANDARD.items()
    }
    # The rule behind the A series: cut in half it keeps its shape, and A4 is 1/16 m2.
    assert PAPERS["a3"].width == PAPERS["a4"].height
    assert PAPERS["a4"].width * PAPERS["a4"].height == pytest.approx(1e6 / 16, rel=0.003)


@pytest.mark.parametrize("paper", sorted(STANDARD))
def test_every_page_is_that_paper(three: Board, tmp_path: Path, paper: str) -> None:
    for page in pdf.read(written(three, tmp_path, paper)).pages:
        assert sorted((page.width, page.height)) == pytest.approx(STANDARD[paper], abs=0.01)


@pytest.mark.parametrize(("paper", "width"), [("roll-24-in", 609.6), ("roll-36-in", 914.4)])
def test_a_roll_is_as_wide_as_it_is_called_and_as_long_as_needed(
    lay: Callable[..., Layout], tmp_path: Path, paper: str, width: float
) -> None:
    """Design A's front board, 939.8 mm, lies along the roll; a short one across it."""
    pages = pdf.read(written(lay().boards[0], tmp_path, paper)).pages
    assert len(pages) == 1
    assert pages[0].height == pytest.approx(width, abs=0.01)
    assert 939.8 + 24 < pages[0].width < 939.8 + 100
    made = lay(lip={"front": "500 mm", "back": "500 mm"}, taps={"spacing": "4 in"}).boards[0]
    assert made.long_point == pytest.approx(500)
    pages = pdf.read(written(made, tmp_path, paper)).pages
    assert len(pages) == 1
    assert pages[0].width == pytest.approx(width, abs=0.01)
    assert 139.7 + 24 < pages[0].height < 300


@pytest.mark.parametrize("paper", ["roll-24-in", "roll-36-in", "a1", "a0"])
def test_large_paper_reads_back_right(bored: Board, tmp_path: Path, paper: str) -> None:
    one, other = (24 * 25.4, None) if paper == "roll-24-in" else (36 * 25.4, None)
    if paper in STANDARD:
        one, other = STANDARD[paper]
    path = written(bored, tmp_path, paper)
    assert pdf.compare(path, bored, show="in", sha256=SHA, paper=[(one, other), (other, one)]) == []
    if other is None or bored.long_point + 60 < other:
        assert len(pdf.read(path).pages) == 1
    wrong = [(None, 600.0), (600.0, None)]
    assert any(
        "not any x 600.00 or 600.00 x any mm" in each
        for each in pdf.compare(path, bored, show="in", sha256=SHA, paper=wrong)
    )


@pytest.mark.parametrize(
    ("width", "lies"),
    [
        # 12 mm clear at each side; a strip of some 25 mm for bars leaves about 165 mm of Letter on
        # its side for the board and its flaps, and more than 200 mm of it upright
        (139.7, True),
        (184.15, False),
    ],
)
def test_paper_lies_the_way_that_needs_fewest_sheets(
    three: Board, tmp_path: Path, width: float, lies: bool
) -> None:
    wider = replace(three, width=width)
    pages = pdf.read(written(wider, tmp_path, "letter")).pages
    assert {page.width > page.height for page in pages} == {lies}
    # upright: 944/(176 - 12) = 5.8 sheets, and one more to miss the bores; on its side 2 rows of 5
    assert len(pages) == (5 if lies else 7)


@pytest.mark.parametrize("paper", PAPER_NAMES)
def test_the_template_reads_back(bored: Board, tmp_path: Path, paper: str) -> None:
    path = written(bored, tmp_path, paper)
    assert pdf.compare(path, bored, show="in", sha256=SHA) == []


@pytest.mark.parametrize("paper", PAPER_NAMES)
def test_no_bore_is_cut_by_a_seam(bored: Board, tmp_path: Path, paper: str) -> None:
    together = assemble(pdf.read(written(bored, tmp_path, paper)).pages)
    assert len(together.circles) == len(bored.holes)
    for views in together.circles:
        assert [view.whole for view in views] == [True]


def test_bores_are_where_the_arithmetic_puts_them(three: Board, tmp_path: Path) -> None:
    together = assemble(pdf.read(written(three, tmp_path, "a4")).pages)
    found = sorted((views[0].x, views[0].y, views[0].diameter) for views in together.circles)
    # 37 in long, middle at 18.5 in; 3 in apart; half of 5.5 in up; 1 in wide
    by_hand = [(i * 25.4, 2.75 * 25.4, 25.4) for i in (15.5, 18.5, 21.5)]
    assert found == [pytest.approx(each, abs=0.05) for each in by_hand]
    assert sorted(together.dots) == [pytest.approx(each[:2], abs=0.05) for each in by_hand]


def test_every_page_has_bars_both_ways_and_says_what_it_is(bored: Board, tmp_path: Path) -> None:
    document = pdf.read(written(bored, tmp_path, "letter"))
    assert len(document.pages) > 1
    for page in document.pages:
        found = {(bar.text, bar.upright): bar.length for bar in bars(page)}
        assert found == {
            ("check 100 mm", False): pytest.approx(100, abs=0.01),
            ("check 100 mm", True): pytest.approx(100, abs=0.01),
            ("check 4 in", False): pytest.approx(101.6, abs=0.01),
            ("check 4 in", True): pytest.approx(101.6, abs=0.01),
        }
        texts = {text.text for text in page.texts}
        assert {
            "Front board",
            "outer face",
            "up: lid",
            "print at actual size, 100 %",
            "build file 0123456789ab",
            "design: Cider in the shed",
            f"sheet {page.number} of {len(document.pages)}",
        } <= texts
        assert any(
            text.startswith("measure this before drilling: 100 mm and 4 in") for text in texts
        )


def test_marks_are_different_at_each_seam_and_the_same_on_both_sides(
    bored: Board, tmp_path: Path
) -> None:
    document = pdf.read(written(bored, tmp_path, "letter"))
    together = assemble(document.pages)
    assert {number for _, number, _ in together.marks} == {p.number for p in document.pages}
    places: dict[str, list[tuple[float, float]]] = {}
    for name, _, place in together.marks:
        places.setdefault(name, []).append(place)
    for pair in places.values():
        first, second = pair
        assert first == pytest.approx(second, abs=0.01)
    assert len({tuple(np.round(pair[0], 2)) for pair in places.values()}) == len(places)


def test_one_sheet_holds_all_and_needs_no_marks(bored: Board, tmp_path: Path) -> None:
    (page,) = pdf.read(written(bored, tmp_path, "sheet")).pages
    assert page.width >= bored.long_point + 2 * 12
    assert page.height >= bored.width + 2 * 12
    assert register_marks(page) == {}


def test_nothing_is_nearer_to_the_edge_than_printers_reach(bored: Board, tmp_path: Path) -> None:
    for page in pdf.read(written(bored, tmp_path, "a4")).pages:
        xs = [x for line in page.lines for x in (line.x1, line.x2)]
        ys = [y for line in page.lines for y in (line.y1, line.y2)]
        assert min(xs) >= 12 - 1e-3
        assert max(xs) <= page.width - 12 + 1e-3
        assert min(ys) >= 12 - 1e-3
        assert max(ys) <= page.height - 12 + 1e-3


Box = tuple[float, float, float, float]


def text_boxes(page: pdf.Page) -> Iterator[tuple[str, Box]]:
    """Yield what each text covers: its width as embedded, capitals and figures 0.73 em high."""
    for text in page.texts:
        low, high = 0.02 * text.size, 0.71 * text.size
        if abs(text.turn_deg) < 1:
            yield text.text, (text.x, text.y + low, text.x + text.width, text.y + high)
        else:
            yield text.text, (text.x - high, text.y, text.x - low, text.y + text.width)


def overlap(a: Box, b: Box) -> bool:
    """Whether two boxes overlap; 0.01 mm is rounding where one text goes on in another size."""
    wide = min(a[2], b[2]) - max(a[0], b[0])
    return wide > 0.01 and min(a[3], b[3]) - max(a[1], b[1]) > 0.01


@pytest.mark.parametrize("paper", ["letter", "a4", "sheet"])
def test_no_text_lies_over_a_bore_or_another_text(bored: Board, tmp_path: Path, paper: str) -> None:
    warnings = ("FAILS nut-cover, tap 1: 1/16 in (1.7 mm), must be at least 3/32 in (2 mm)",) * 2
    job = replace(JOB, warnings=warnings, title="A long title " * 30)
    for page in pdf.read(written(bored, tmp_path, paper, job)).pages:
        boxes = list(text_boxes(page))
        for i, (text, box) in enumerate(boxes):
            for other, box_2 in boxes[:i]:
                assert not overlap(box, box_2), f"{text!r} over {other!r}"
            for circle in page.circles:
                r = circle.diameter / 2
                around = (circle.x - r, circle.y - r, circle.x + r, circle.y + r)
                x0, y0, x1, y1 = circle.seen
                if overlap(around, (x0, y0, x1, y1)):
                    assert not overlap(box, around), f"{text!r} over a hole"
            assert min(box) >= 11.9
            assert box[2] <= page.width - 11.9, text
            assert box[3] <= page.height - 11.9


@pytest.mark.parametrize(
    ("show", "said"),
    [
        # 15.5 in = 393.7 mm, 2.75 in = 69.85 mm
        ("in", {"⌀ 1 in", "15 1/2 in from left long point", "2 3/4 in up from bottom edge"}),
        ("mm", {"⌀ 25.4 mm", "393.7 mm from left long point", "  (2 3/4 in)", "  (1 in)"}),
    ],
)
def test_distances_are_in_the_units_asked_for(
    three: Board, tmp_path: Path, show: str, said: set[str]
) -> None:
    path = written(three, tmp_path, "a4", replace(JOB, show=show))  # type: ignore[arg-type]
    texts = {text.text for page in pdf.read(path).pages for text in page.texts}
    assert said <= texts


def test_the_fold_lines_say_so_and_which_edge_they_are(three: Board, tmp_path: Path) -> None:
    pages = pdf.read(written(three, tmp_path, "letter")).pages
    fold = "fold here, wrap over the edge"
    for page in pages:
        texts = {text.text for text in page.texts}
        assert f"top edge: lid. {fold}" in texts
        assert any(text.startswith("bottom edge: lip. ") for text in texts)
    left = [p.number for p in pages if f"left long point. {fold}" in {t.text for t in p.texts}]
    right = [p.number for p in pages if f"right long point. {fold}" in {t.text for t in p.texts}]
    assert (left, right) == ([1], [len(pages)])


def test_the_viewer_is_told_not_to_scale_and_all_fonts_are_inside(
    three: Board, tmp_path: Path
) -> None:
    document = pdf.read(written(three, tmp_path, "letter"))
    assert document.print_scaling == "/None"
    assert document.missing_fonts == ()


def test_the_same_board_gives_the_same_bytes(bored: Board, tmp_path: Path) -> None:
    first = written(bored, tmp_path, "a4").read_bytes()
    assert written(bored, tmp_path, "a4").read_bytes() == first
    assert b"2000" in first  # the fixed date, not the day's


def test_failures_stand_large_on_every_page(three: Board, tmp_path: Path) -> None:
    warnings = tuple(f"FAILS check-{i}: 1 mm, must be at least 2 mm" for i in range(9))
    path = written(three, tmp_path, "letter", replace(JOB, warnings=warnings))
    assert pdf.compare(path, three, show="in", failures=9) == []
    for page in pdf.read(path).pages:
        sizes = {text.text: text.size for text in page.texts}
        assert sizes["THIS DESIGN FAILS 9 CHECKS"] > 5
        assert all(sizes[each] > 3 for each in warnings[:7])
        assert warnings[7] not in sizes
        assert "and 2 more: run the command check on the build file to see them" in sizes
    path = written(three, tmp_path, "letter", replace(JOB, warnings=warnings[:8]))
    for page in pdf.read(path).pages:
        assert set(warnings[:8]) <= {text.text for text in page.texts}


HOSTILE = "\u202eevil\u2066 \x00\x1b[31m\n\t\ud800 \U0001f37a\u0301\u200b\ufeff " + "long " * 500


def test_a_hostile_title_or_name_stays_on_its_line(three: Board, tmp_path: Path) -> None:
    path = tmp_path / "front.pdf"
    job = replace(JOB, title=HOSTILE, warnings=(HOSTILE,))
    templates.write_sheet(flat(three), path, "letter", job, {"tap-1": f"tap 1, {HOSTILE}"})
    assert pdf.compare(path, three, show="in", failures=1) == []
    shown = [text for page in pdf.read(path).pages for text in page.texts if "evil" in text.text]
    assert shown
    for text in shown:
        assert text.text.endswith("…")
        assert text.x + text.width < 279.4 - 12
        assert text.text.isprintable()


def test_holes_that_leave_no_room_for_a_seam_are_cut_and_the_page_says_so(
    three: Board, tmp_path: Path
) -> None:
    # two rows, each bore of one over the gap of the other: no upright line misses them all
    rows = [(100 + 60 * i, 45.0) for i in range(12)] + [(130 + 60 * i, 95.0) for i in range(11)]
    holes = tuple(
        Hole(name=f"tap-{i}", purpose="bore", u=u, v=v, diameter=35.0)
        for i, (u, v) in enumerate(rows, 1)
    )
    crowded = replace(three, holes=holes)
    path = written(crowded, tmp_path, "letter")
    assert pdf.compare(path, crowded, show="in") == []
    pages = pdf.read(path).pages
    cut_holes = [c for c in assemble(pages).circles if len(c) > 1]
    assert cut_holes
    said = [t.text for page in pages for t in page.texts if t.text.startswith("cut by a seam: ")]
    assert len(said) >= 2


def test_the_whole_length_is_told_to_be_measured_when_the_sheets_are_taped(
    three: Board, tmp_path: Path
) -> None:
    path = written(three, tmp_path, "letter")
    said = [t.text for page in pdf.read(path).pages for t in page.texts if "taped" in t.text]
    # 939.8 mm is 37 in
    assert said
    assert all("long point to long point 37 in (939.8 mm): measure" in text for text in said)
    longer = replace(three, long_point=949.8)
    found = pdf.compare(path, longer, show="in")
    assert any("measure the taped paper', not '37 13/32 in (949.8 mm)" in each for each in found)
    single = written(three, tmp_path, "sheet")
    assert not any("taped" in t.text for page in pdf.read(single).pages for t in page.texts)


def test_holes_from_the_inner_face_are_left_out(
    lay: Callable[..., Layout], three: Board, tmp_path: Path
) -> None:
    inner = Hole(name="bracket-left-1", purpose="pilot", u=60, v=70, diameter=2.2, face="inner")
    outer = replace(inner, name="hinge-1-1", u=200, face="outer", depth=12.0)
    both = replace(three, holes=(*three.holes, inner, outer))
    seen = plate_sheet(lay(), both, "in")
    path = tmp_path / "front.pdf"
    templates.write_sheet(seen, path, "letter", JOB)
    assert pdf.compare(path, both, show="in") == []
    assert any("bracket-left-1" in fault for fault in _faults_of_all(path, both))


def _faults_of_all(path: Path, made: Board) -> list[str]:
    holes = tuple(replace(hole, face="outer") for hole in made.holes)
    return pdf.compare(path, replace(made, holes=holes), show="in")


def test_every_bored_board_gets_a_template_from_the_layout(
    lay: Callable[..., Layout], tmp_path: Path
) -> None:
    taps = [
        {"count": 3, "spacing": "3 in", "names": ("cider", "cold coffee")},
        {"side": "left", "count": 2, "spacing": "4 in"},
    ]
    passages = [{"side": "back", "height": "2 in", "diameter": "1/2 in", "name": "probe"}]
    layout = lay(taps=taps, hole=passages)
    files = templates.write(
        layout, tmp_path, show="mm", paper="a4", title="Shed", sha256=SHA, warnings=("FAILS x",)
    )
    bored = [f"templates/board-{side}.pdf" for side in ("front", "back", "left")]
    inner = [f"templates/board-{side}-inner.pdf" for side in ("front", "back", "left")]
    foam = [f"templates/foam-{side}.pdf" for side in ("front", "back", "left")]
    always = ["templates/test-page.pdf", "templates/saw-ring.pdf"]
    assert files == [*bored, *inner, "templates/board-right-ends.pdf", *foam, *always]
    for name in bored:
        side = name.removesuffix(".pdf").rpartition("-")[2]
        made = layout.board(side)  # type: ignore[arg-type]
        assert pdf.compare(tmp_path / name, made, show="mm", sha256=SHA, failures=1) == []
    front = {t.text for p in pdf.read(tmp_path / files[0]).pages for t in p.texts}
    assert {"tap 1, cider", "tap 2, cold coffee", "tap 3"} <= front
    back = {t.text for p in pdf.read(tmp_path / files[1]).pages for t in p.texts}
    assert "passage, probe" in back


def test_unknown_paper_is_refused_by_name(three: Board, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"no paper 'a9'; one of letter, a4, .*sheet"):
        written(three, tmp_path, "a9")
    assert list(tmp_path.iterdir()) == []


def test_no_cad_kernel_is_loaded(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from pathlib import Path\n"
        "from collarwright.outputs import templates\n"
        "from collarwright.outputs.paper import pdf\n"
        f"pdf.write_pdf([], Path({str(tmp_path / 'x.pdf')!r}), 'x')\n"
        "print(sorted({'OCP', 'cadquery', 'vtk', 'ezdxf', 'trimesh'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


spans = st.lists(
    st.tuples(st.floats(0, 2400), st.floats(5, 80)).map(lambda at: (at[0], at[0] + at[1])),
    max_size=25,
)


@settings(max_examples=150, deadline=None)
@given(high=st.floats(50, 2500), room=st.floats(100, 400), keep=spans)
def test_cuts_cover_all_fit_the_paper_and_miss_what_they_can(
    high: float, room: float, keep: list[tuple[float, float]]
) -> None:
    cuts = cut(-8.0, high, room, keep)
    shown = [cuts.shown(i) for i in range(cuts.count)]
    assert shown[0][0] == -8.0
    assert shown[-1][1] == high
    assert all(b - a <= room + 1e-6 for a, b in shown)
    for (_, end), (start, _) in pairwise(shown):
        assert end - start == pytest.approx(BAND)
    met = sum(
        span[0] < seam + BAND / 2 - 1e-5 and span[1] > seam - BAND / 2 + 1e-5
        for seam in cuts.seams
        for span in keep
    )
    assert met <= cuts.split


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler) is not installed")
@pytest.mark.parametrize("paper", ["letter", "sheet"])
def test_another_program_prints_the_rings_where_they_should_be(
    three: Board, tmp_path: Path, paper: str
) -> None:
    """Rendered at 200 dpi by poppler: black rings about the bores' centers, to one pixel."""
    path = written(three, tmp_path, paper)
    dpi, seen = 200, 0
    for page in pdf.read(path).pages:
        zero = pdf.zero(page)
        assert zero is not None
        picture = render(path, page.number, dpi)
        for hole in three.holes:
            x, y = hole.u + zero[0], hole.v + zero[1]
            assert hole.diameter is not None
            if not any(c.whole and abs(c.x - x) < 1 for c in page.circles):
                continue  # it is on another page
            seen += 1
            cx, cy = x / 25.4 * dpi, picture.shape[0] - y / 25.4 * dpi
            found = ring(picture, cx, cy, hole.diameter / 2 / 25.4 * dpi)
            assert found == pytest.approx((cx, cy, hole.diameter / 2 / 25.4 * dpi), abs=1.0)
    assert seen == len(three.holes)


def render(path: Path, page: int, dpi: int) -> np.ndarray:
    """Return one page as an array of grays, 0 black."""
    command = ["pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-gray", str(path)]
    data = subprocess.run(command, capture_output=True, check=True).stdout
    magic, size, _, pixels = data.split(b"\n", 3)
    assert magic == b"P5"
    width, height = map(int, size.split())
    return np.frombuffer(pixels, np.uint8).reshape(height, width)


def ring(picture: np.ndarray, cx: float, cy: float, radius: float) -> tuple[float, float, float]:
    """Find the dark ring about a place: center and radius in pixels, from its darkest pixels."""
    points: list[tuple[float, float]] = []
    steps = np.arange(0.85 * radius, 1.15 * radius, 0.25)
    for turn in np.radians(np.arange(5, 360, 5)):
        if min(abs(np.sin(turn)), abs(np.cos(turn))) < 0.08:  # the cross is dark there
            continue
        xs, ys = cx + steps * np.cos(turn), cy + steps * np.sin(turn)
        grays = picture[ys.astype(int), xs.astype(int)]
        dark = np.flatnonzero(grays < 128)
        assert dark.size, "a gap in the ring"
        middle = int(dark.mean())
        points.append((float(xs[middle]), float(ys[middle])))
    # least squares circle (x2 + y2 = 2ax + 2by + c)
    array = np.array(points)
    rows = np.column_stack([2 * array, np.ones(len(array))])
    (a, b, c), *_ = np.linalg.lstsq(rows, (array**2).sum(axis=1), rcond=None)
    return float(a), float(b), float(np.sqrt(c + a * a + b * b))
