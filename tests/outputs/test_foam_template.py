"""Foam templates: what is on the paper, read back, and every fault of it seen."""

import math
import sys
from collections.abc import Callable
from dataclasses import replace
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from random import Random
from re import fullmatch
from typing import Any

import pytest
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.geometry.shape.lining import Panel
from collarwright.geometry.shape.sheet import panel_sheet
from collarwright.outputs import templates
from collarwright.outputs.paper.marks import Mark, Page, Pen, Ring, Window, Words, line
from collarwright.outputs.paper.marks import Path as Stroke
from collarwright.outputs.paper.overlap import meetings
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.sizes import PAPER_NAMES
from collarwright.outputs.readback import foam, pdf
from collarwright.outputs.templates.furniture import Job
from collarwright.params.project import Side
from collarwright.params.reading import read
from pypdf import PdfReader, PdfWriter, Transformation  # noqa: TID253 - spoils files with it

TESTS = Path(__file__).parents[1]
EXAMPLES = sorted((TESTS.parent / "examples").glob("*.toml"))
SHA = "13579bdf02468ace" * 4
IN = 25.4
Lay = Callable[..., Layout]

CUTTING = 0.35
"""Width of a line that is cut along, mm."""


def pages(layout: Layout, side: Side, paper: str = "letter", **job: Any) -> list[Page]:
    said = Job(**{"title": "Cider in the shed", "sha256": SHA, "show": "in"} | job)
    found = {each.name: each for each in templates.foam_panels(layout, paper, said)}
    return found[f"foam-{side}"].pages()


def printed(made: list[Page], folder: Path) -> Path:
    path = folder / "foam.pdf"
    write_pdf(made, path, "foam")
    return path


def faults(path: Path, layout: Layout, side: Side, **more: Any) -> list[str]:
    panel = layout.panel(side)
    assert panel is not None
    start = layout.board(side).inner_left + panel.start
    return foam.compare(path, panel, start, **{"show": "in", "sha256": SHA} | more)


def other(layout: Layout, *holes: Hole, **sizes: float) -> Layout:
    """Return a layout whose front panel has other holes or another size."""
    panel = layout.panels[0]
    return replace(layout, panels=(replace(panel, holes=holes, **sizes), *layout.panels[1:]))


@pytest.fixture
def crowded(lay: Lay) -> Layout:
    """Three pockets of 60 mm, 50 mm apart, in one with a manifold; brackets over the ends.

    The pockets are higher than the panel's middle, so that nothing is alike up and down.
    """
    return lay(
        taps={"spacing": "50 mm", "height": "85 mm"},
        manifold={
            "side": "front", "length": "150 mm", "height": "50 mm", "depth": "30 mm",
            "offset": "120 mm", "centre": "60 mm",
        },
        board={"bracket": "bracket-2x2-in"},
        hole=[{"name": "probe", "side": "front", "height": "40 mm", "offset": "-300 mm",
               "diameter": "12 mm"}],
    )  # fmt: skip


BOLTED: dict[str, Any] = {
    "positions": ("-200 mm", "200 mm"), "leaf_height": "60 mm", "leaf_width": "40 mm",
    "leaf_thickness": "2 mm", "screws": 1, "fix": "bolt", "bolt": "6 mm", "bolt_washer": "20 mm",
}  # fmt: skip


@pytest.fixture
def bolted(lay: Lay) -> Layout:
    """A back panel with nothing but the pockets about two bolts."""
    return lay(hinge=BOLTED)


# --- what is on the paper -------------------------------------------------------------------------


def test_pockets_are_where_the_arithmetic_puts_them(lay: Lay, tmp_path: Path) -> None:
    """Three taps 3 in apart in a board 37 in long, 3/4 in thick, half of 5 1/2 in up.

    At corners of 90 deg the inner face begins 3/4 in from the long point, and the front panel
    there: the middle pocket's center is 18 1/2 - 3/4 = 17 3/4 in from the panel's left end.
    """
    path = printed(pages(lay(), "front"), tmp_path)
    seen = pdf.read(path).pages
    texts = [{text.text for text in page.texts} for page in seen]
    said = set[str]().union(*texts)
    assert {"14 3/4 in from left end", "17 3/4 in from left end", "20 3/4 in from left end"} <= said
    assert "2 3/4 in up from lower edge" in said
    assert "⌀ 2 3/8 in" in said  # 60 mm to the nearest 1/32 in: 76/32
    for page in seen:
        words = " ".join(text.text for text in page.texts)
        assert "Front foam panel face on the board up, seen from outside" in words
        assert "left end 3/4 in (19.1 mm) from the board's left long point" in words
        assert "pin to the foam, cut with" in words
        assert "punch" not in words
    found: set[tuple[float, float, float]] = set()
    for page in seen:
        zero = pdf.zero(page)
        assert zero is not None
        whole = [circle for circle in page.circles if circle.whole]
        found |= {(c.x - zero[0], c.y - zero[1], c.diameter) for c in whole}
    # 60 mm about each center, and no dot in the middles
    by_hand = [(u * IN, 2.75 * IN, 60.0) for u in (14.75, 17.75, 20.75)]
    assert sorted(found) == [pytest.approx(each, abs=0.01) for each in by_hand]


def test_merged_pockets_have_a_cross_and_figures_each(crowded: Layout, tmp_path: Path) -> None:
    sheet = panel_sheet(crowded, "front", "in")
    joined = [contour for contour in sheet.contours if contour.layer != "OUTLINE"]
    assert len(joined) == 1  # three pockets and the manifold are one line
    names = [hole.name for hole in sheet.holes]
    assert names == ["tap-1", "tap-2", "tap-3", "probe", "manifold", "bracket-left",
                     "bracket-right"]  # fmt: skip
    path = printed(pages(crowded, "front", "sheet"), tmp_path)
    assert faults(path, crowded, "front", paper=()) == []
    (page,) = pdf.read(path).pages
    said = [text.text for text in page.texts]
    for name in ("tap 1", "tap 2", "tap 3", "opening, manifold", "passage, probe"):
        assert name in said
    # 150 x 50 mm to the nearest 1/32 in: 189/32 and 63/32
    assert "5 29/32 in x 1 31/32 in" in said


def test_what_is_assumed_is_dashed_and_says_when_it_is_cut(
    crowded: Layout, bolted: Layout, tmp_path: Path
) -> None:
    for layout, side, when, sure in (
        (bolted, "back", "cut when the bolts are in", 4),
        (crowded, "front", "cut when the brackets are on", None),
    ):
        path = printed(pages(layout, side, "sheet"), tmp_path)  # type: ignore[arg-type]
        assert faults(path, layout, side) == []  # type: ignore[arg-type]
        (page,) = pdf.read(path).pages
        assert f"Dashed: {when}." in " ".join(text.text for text in page.texts)
        assert [text.text for text in page.texts].count(when) == 2
        thick = [each for each in page.lines if abs(each.pen - CUTTING) < 0.01]
        if sure is not None:  # the panel's four sides, and both pockets are circles
            assert len([each for each in thick if not each.dashed]) == sure
            assert [circle.dashed for circle in page.circles] == [True, True]
        else:  # three sides of each bracket's pocket; the fourth is the end that it opens
            assert len([each for each in thick if each.dashed]) == 6


@pytest.mark.parametrize("paper", PAPER_NAMES)
def test_crowded_panels_read_back_on_every_paper(
    crowded: Layout, bolted: Layout, tmp_path: Path, paper: str
) -> None:
    warnings = ("FAILS nut-cover, tap 1: 1/16 in (1.7 mm), must be at least 3/32 in (2 mm)",) * 2
    for layout, side in ((crowded, "front"), (bolted, "back")):
        made = pages(layout, side, paper, warnings=warnings)  # type: ignore[arg-type]
        assert faults(printed(made, tmp_path), layout, side, failures=2) == []  # type: ignore[arg-type]
        assert not stands_over(made)


def stands_over(made: list[Page]) -> list[str]:
    """Name texts that stand over a line or a text; names of register marks touch their cross."""
    found: list[str] = []
    for number, page in enumerate(made, 1):
        windows = [mark for mark in page.marks if isinstance(mark, Window)]
        around = [mark for mark in page.marks if not isinstance(mark, Window)]
        for marks in (around, *(list(window.marks) for window in windows)):
            found += [
                f"page {number}: {each.words.text!r} over {each.other}"
                for each in meetings(marks)
                if not fullmatch(r"[A-Z]*\d+", each.words.text)
            ]
    return found


@pytest.mark.parametrize("paper", PAPER_NAMES)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda each: each.stem)
def test_examples_read_back_on_every_paper(path: Path, tmp_path: Path, paper: str) -> None:
    project, source = read(path)
    layout = lay_out(project)
    told = {"show": project.show, "sha256": source.sha256}
    job = Job(title=project.title, warnings=(), **told)
    seen = 0
    for each in templates.foam_panels(layout, paper, job):
        side: Any = each.name.removeprefix("foam-")
        made = each.pages()
        assert faults(printed(made, tmp_path), layout, side, **told) == []
        assert not stands_over(made)
        seen += 1
    assert seen == sum(1 for panel in layout.panels if panel.holes)


def test_a_panel_of_which_nothing_is_left_has_no_page_and_pieces_are_told(lay: Lay) -> None:
    layout = lay()
    panel = layout.panels[0]
    middle = panel.length / 2
    all_of_it = Hole(
        name="manifold", purpose="opening", u=middle, v=60.0, length=2000.0, height=400.0
    )
    across = replace(all_of_it, length=100.0)
    beside = replace(all_of_it, u=-500.0, length=100.0)
    job = Job(title="", sha256=SHA, show="mm")
    for holes, count in (((all_of_it,), 0), ((beside,), 0), ((), 0), ((across,), 1)):
        found = [each.name for each in templates.foam_panels(other(layout, *holes), "a4", job)]
        assert found == ["foam-front"] * count
    words = [
        mark.text for mark in pages(other(layout, across), "front", "a1")[0].marks
        if isinstance(mark, Words)
    ]  # fmt: skip
    assert "Falls into 2 pieces." in words


def test_a_center_off_the_panel_has_no_cross_and_the_page_says_so(lay: Lay, tmp_path: Path) -> None:
    pocket = Hole(name="tap-1", purpose="pocket", u=300.0, v=-5.0, diameter=60.0)
    layout = other(lay(), pocket)
    made = pages(layout, "front", "sheet")
    assert faults(printed(made, tmp_path), layout, "front") == []
    words = " ".join(mark.text for mark in made[0].marks if isinstance(mark, Words))
    assert "no cross, the center is off the panel: tap 1." in words


def test_the_same_panel_gives_the_same_bytes(crowded: Layout, tmp_path: Path) -> None:
    first = printed(pages(crowded, "front"), tmp_path).read_bytes()
    assert printed(pages(crowded, "front"), tmp_path).read_bytes() == first


# --- what the reader sees -------------------------------------------------------------------------


def moved(panel: Panel, name: str, du: float, dv: float) -> list[Hole]:
    return [
        replace(hole, u=hole.u + du, v=hole.v + dv) if hole.name == name else hole
        for hole in panel.holes
    ]


@pytest.mark.parametrize(("name", "du", "dv"), [
    ("tap-2", 0.5, 0.0), ("tap-2", 0.0, -0.5), ("manifold", 0.0, 0.5), ("probe", 0.5, 0.0),
    ("bracket-left", 0.0, 0.5), ("probe", 0.06, 0.0),
])  # fmt: skip
def test_a_pocket_in_the_wrong_place_is_seen(
    crowded: Layout, tmp_path: Path, name: str, du: float, dv: float
) -> None:
    panel = crowded.panels[0]
    path = printed(pages(other(crowded, *moved(panel, name, du, dv)), "front"), tmp_path)
    found = faults(path, crowded, "front")
    assert any("nothing is to be cut at" in each for each in found), found
    assert any("nothing is drawn at" in each for each in found), found
    assert any(f"{name}: no cross at its center" in each for each in found), found


def test_a_pocket_within_the_tolerance_passes(crowded: Layout, tmp_path: Path) -> None:
    panel = crowded.panels[0]
    path = printed(pages(other(crowded, *moved(panel, "tap-2", 0.02, 0.02)), "front"), tmp_path)
    assert faults(path, crowded, "front") == []


@pytest.mark.parametrize("name", ["tap-1", "tap-2", "manifold", "probe", "bracket-right"])
def test_a_missing_pocket_is_seen(crowded: Layout, tmp_path: Path, name: str) -> None:
    panel = crowded.panels[0]
    holes = [hole for hole in panel.holes if hole.name != name]
    found = faults(printed(pages(other(crowded, *holes), "front"), tmp_path), crowded, "front")
    assert any("nothing is drawn at" in each for each in found), found
    assert any(f"{name}: no cross at its center" in each for each in found), found


def test_a_panel_drawn_from_the_other_side_is_seen(crowded: Layout, tmp_path: Path) -> None:
    panel = crowded.panels[0]
    holes = [replace(hole, u=panel.length - hole.u) for hole in panel.holes]
    found = faults(printed(pages(other(crowded, *holes), "front"), tmp_path), crowded, "front")
    assert any("nothing is to be cut at" in each for each in found), found
    assert any("probe: no cross" in each for each in found), found


@pytest.mark.parametrize(("sizes", "fault"), [
    ({"length": 0.5}, "nothing is drawn at"), ({"width": -0.5}, "nothing is drawn at"),
])  # fmt: skip
def test_a_panel_of_another_size_is_seen(
    crowded: Layout, tmp_path: Path, sizes: dict[str, float], fault: str
) -> None:
    panel = crowded.panels[0]
    grown = {name: getattr(panel, name) + by for name, by in sizes.items()}
    path = printed(pages(other(crowded, *panel.holes, **grown), "front"), tmp_path)
    assert any(fault in each for each in faults(path, crowded, "front"))


Change = Callable[[Mark], Mark | None]


def inside(made: list[Page], change: Change, *more: Mark) -> list[Page]:
    """Change or leave out each mark in the windows of pages, and add some."""

    def of(mark: Mark) -> Mark:
        if not isinstance(mark, Window):
            return mark
        kept = tuple(each for one in mark.marks if (each := change(one)) is not None)
        return replace(mark, marks=(*kept, *more))

    return [replace(page, marks=tuple(map(of, page.marks))) for page in made]


def thick(mark: Mark) -> bool:
    return isinstance(mark, Stroke | Ring) and mark.pen is not None and mark.pen.width == CUTTING


def without(which: Callable[[Mark], bool]) -> Change:
    return lambda mark: None if which(mark) else mark


def penned(**pen: Any) -> Change:
    def change(mark: Mark) -> Mark:
        if not thick(mark):
            return mark
        assert isinstance(mark, Stroke | Ring) and mark.pen is not None
        return replace(mark, pen=replace(mark.pen, **pen))

    return change


def upright_arm(mark: Mark) -> bool:
    """Whether a mark is the upright line of a cross: 12 mm long, as no register mark is."""
    if not isinstance(mark, Stroke) or len(mark.steps) != 1:
        return False
    (x, y), ((x1, y1),) = mark.start, mark.steps[0][:1]
    return x == x1 and abs(abs(y1 - y) - 12.0) < 1e-6


CHANGED: dict[str, tuple[Change, tuple[Mark, ...], str]] = {
    "crosses without their upright lines": (without(upright_arm), (), "tap-1: no cross at its"),
    "lone circles gone": (without(lambda m: isinstance(m, Ring)), (), "nothing is drawn at"),
    "contours gone": (
        without(lambda m: thick(m) and isinstance(m, Stroke)), (), "nothing is drawn at"
    ),
    "too thin to be cut along": (penned(width=0.2), (), "nothing is drawn at"),
    "all dashed": (penned(dash=(2.0, 1.0)), (), "is dashed, though its place is certain"),
    "all solid": (penned(dash=()), (), "should be dashed, as its place is assumed"),
    "one line more": (
        lambda mark: mark,
        (line(100.0, 130.0, 180.0, 130.0, Pen(CUTTING)),),
        "nothing is to be cut at",
    ),
    "one circle more": (
        lambda mark: mark,
        (Ring(120.0, 120.0, 20.0, Pen(CUTTING)),),
        "nothing is to be cut at",
    ),
    "no sizes": (
        without(lambda m: isinstance(m, Words) and m.text.startswith("⌀")),
        (),
        "is not printed near it",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("change", "more", "fault"), CHANGED.values(), ids=CHANGED)
def test_changed_marks_are_seen(
    crowded: Layout, tmp_path: Path, change: Change, more: tuple[Mark, ...], fault: str
) -> None:
    made = pages(crowded, "front", "a3")
    assert faults(printed(inside(made, lambda mark: mark), tmp_path), crowded, "front") == []
    found = faults(printed(inside(made, change, *more), tmp_path), crowded, "front")
    assert any(fault in each for each in found), found


def test_arcs_too_thin_to_be_cut_along_are_seen(lay: Lay, tmp_path: Path) -> None:
    """Three pockets that are one line of arcs alone, beside a panel whose outline is as it was."""

    def change(mark: Mark) -> Mark | None:
        round_ = isinstance(mark, Stroke) and all(len(step) == 3 for step in mark.steps)
        return penned(width=0.2)(mark) if round_ else mark

    layout = lay(taps={"spacing": "50 mm"})
    found = faults(printed(inside(pages(layout, "front"), change), tmp_path), layout, "front")
    assert len(found) == 1
    assert "nothing is drawn at" in found[0]


Spoil = Callable[[PdfWriter], None]
LETTER = 792  # 11 in lying on its side, points


def each_page(by: Transformation, *numbers: int) -> Spoil:
    def spoil(writer: PdfWriter) -> None:
        for i in numbers or range(len(writer.pages)):
            writer.pages[i].add_transformation(by)

    return spoil


def page_gone(writer: PdfWriter) -> None:
    del writer.pages[1]


SPOILT: dict[str, tuple[Spoil, str]] = {
    "97 %": (each_page(Transformation().scale(0.97)), "bar 'check 100 mm' is 97.00 mm long"),
    "99.8 % across": (each_page(Transformation().scale(0.998, 1)), "page 1: the level bar"),
    "mirrored": (each_page(Transformation((-1, 0, 0, 1, LETTER, 0))), "page 1: is mirrored"),
    "one page moved": (
        each_page(Transformation().translate(0.5 * 72 / IN, 0), 1), "mm apart on its two pages"
    ),
    "a page short": (page_gone, "register mark A1 is on 1 pages"),
}  # fmt: skip


@pytest.mark.parametrize(("spoil", "fault"), SPOILT.values(), ids=SPOILT)
def test_a_spoilt_file_is_seen(crowded: Layout, tmp_path: Path, spoil: Spoil, fault: str) -> None:
    writer = PdfWriter(clone_from=PdfReader(printed(pages(crowded, "front"), tmp_path)))
    spoil(writer)
    path = tmp_path / "spoilt.pdf"
    writer.write(path)
    found = faults(path, crowded, "front")
    assert any(fault in each for each in found), found


@pytest.mark.parametrize(("more", "fault"), [
    ({"sha256": "0" * 64}, "does not say 'build file 000000000000'"),
    ({"failures": 1}, "does not say 'THIS DESIGN FAILS'"),
    ({"show": "mm"}, "'⌀ 60 mm' is not printed near it"),
    ({"paper": [(210.0, 297.0)]}, "not 210.00 x 297.00 mm"),
])  # fmt: skip
def test_another_build_file_unit_or_paper_is_seen(
    crowded: Layout, tmp_path: Path, more: dict[str, Any], fault: str
) -> None:
    path = printed(pages(crowded, "front"), tmp_path)
    assert any(fault in each for each in faults(path, crowded, "front", **more))


def test_another_board_is_seen(crowded: Layout, tmp_path: Path) -> None:
    path = printed(pages(crowded, "front"), tmp_path)
    front, right = crowded.panels[0], crowded.panels[1]
    found = foam.compare(path, replace(front, side=right.side), 30.0, show="in")
    assert any("does not say 'right foam panel'" in each for each in found)
    # 30 mm to the nearest 1/32 in: 38/32
    assert any('does not say "left end 1 3/16 in (30 mm) from' in each for each in found)


# --- designs that nobody drew by hand -------------------------------------------------------------


def _generator() -> Any:
    """Load the module that makes build files: tests are not a package."""
    path = TESTS / "geometry" / "test_random_designs.py"
    spec = spec_from_file_location("random_designs", path)
    assert spec is not None and spec.loader is not None
    module = module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.slow
@pytest.mark.parametrize("share", range(2))
def test_panels_of_random_designs_read_back(share: int, tmp_path: Path) -> None:
    """Each panel on a paper by chance, its holes once as they are and once thrown about on it."""
    random, dice = _generator(), Random(share)
    found: list[str] = []
    panels = seed = 0
    while panels < 40:
        tables = random.Tables(Random(7000 + 1000 * share + seed)).every()
        text = "".join(f"{name} = {random.toml(value)}\n" for name, value in tables.items())
        seed += 1
        project = random.project_of(text)
        if project is None:
            assert seed < 1000, "the door refuses nearly all"
            continue
        layout = lay_out(project)
        for panel in layout.panels:
            thrown = tuple(
                replace(h, u=dice.uniform(-20, panel.length + 20), v=dice.uniform(-20, panel.width))
                for h in panel.holes
            )
            for holes in (panel.holes, thrown):
                made = replace(
                    layout,
                    panels=tuple(
                        replace(p, holes=holes) if p is panel else replace(p, holes=())
                        for p in layout.panels
                    ),
                )
                paper, show = dice.choice(PAPER_NAMES), dice.choice(("mm", "in"))
                job = Job(title=project.title, sha256=SHA, show=show)
                for each in templates.foam_panels(made, paper, job):
                    drawn = each.pages()
                    path = printed(drawn, tmp_path)
                    where = f"seed {seed - 1}, {each.name}, {paper}, {show}: "
                    found += [where + one for one in faults(path, made, panel.side, show=show)]
                    found += [where + one for one in stands_over(drawn)]
                    panels += 1
    assert not found, "\n".join(found)


def test_the_reader_halves_a_curve_till_arcs_fit_it() -> None:
    """A quarter circle of 100 mm as one curve: its arcs lie within 0.03 mm of it (2.7e-4 r)."""
    from collarwright.outputs.readback.pdf_page import Curve

    k = 4 / 3 * (math.sqrt(2) - 1) * 100
    curve = Curve(((100, 0), (100, k), (k, 100), (0, 100)), (-1, -1, 200, 200))
    for edge in foam.arcs(curve):
        for x, y in edge.points(9):
            assert math.hypot(x, y) == pytest.approx(100, abs=0.03)
