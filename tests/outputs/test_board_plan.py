"""The drawing of the boards' cut plan: hand-worked places read back, texts clear, kept whole."""

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.plan.cutting.saw_list import saw_list
from collarwright.outputs.cli import app
from collarwright.outputs.drawings.board_plan import board_plans
from collarwright.outputs.drawings.frame import Job, checked, papers_for, sheet
from collarwright.outputs.paper.marks import Page
from collarwright.outputs.paper.marks import Path as Outline
from collarwright.outputs.paper.overlap import meetings
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.readback import drawing as reader
from collarwright.outputs.stock import Stock, plan_stock
from collarwright.params.project import Project
from collarwright.params.reading import Source, read
from plain_collar import COLLAR as PLAIN
from typer.testing import CliRunner, Result

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
COLLAR = f'title = "Porch"\n{PLAIN}[stock]\ntrim = "10 mm"\n'
SALE = '[[stock.length]]\nlength = "1800 mm"\n[[stock.length]]\nlength = "2400 mm"\n'
OWNED = (
    '[[stock.owned]]\nlength = "1700 mm"\n'
    'defects = [["545 mm", "600 mm"], ["100 mm", "140 mm", "60 mm", "90 mm"]]\n'
)
MATCHED = COLLAR.replace('trim = "10 mm"', 'trim = "10 mm"\nmatch_grain = true')
LONG = '[[stock.length]]\nlength = "3000 mm"\n'
# out of square: 1090 and 1068 mm where a rectangle has 1079.1
SKEW = COLLAR.replace(
    "[board]",
    'front_left_to_back_right = "1090 mm"\nfront_right_to_back_left = "1068 mm"\n[board]\n'
    'follow = "lip"',
)


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["stock", *(str(word) for word in words)])


def file(folder: Path, text: str, name: str = "one.toml") -> Path:
    path = folder / name
    path.write_text(text)
    return path


def test_everything_stands_where_it_is_by_hand(tmp_path: Path) -> None:
    """Each of two sticks of 1800: 940 from 10, 530 from 964.25, what is left from 1502.25 on.

    See the saw list's tests for these. At 45 deg a miter leans by 20 mm in 20 mm of thickness:
    two ends a board are eight slopes. Cuts 5 and 9 are the first board's ends.
    """
    out = tmp_path / "plan.pdf"
    assert run(file(tmp_path, COLLAR + SALE), "--draw", out).exit_code == 0
    (page,) = reader.read(out).pages
    found, faults = reader.dimensions(page)
    assert faults == []
    scale = reader.scale_of(page)
    assert scale == pytest.approx(1 / 10)  # 180 mm long; at 1:5 it is longer than an A4 is wide
    spans = sorted((each.text, min(each.a[0], each.b[0]), each.length) for each in found)
    left = next(start for text, start, _ in spans if text == "940 mm") - 10 * scale
    assert [(text, start - left, long) for text, start, long in spans] == [
        (text, pytest.approx(start * scale, abs=0.01), pytest.approx(long * scale, abs=0.01))
        for text, start, long in (
            *[("297.8 mm", 1502.25, 297.75)] * 2, *[("530 mm", 964.25, 530)] * 2,
            *[("940 mm", 10, 940)] * 2,
        )
    ]  # fmt: skip
    slopes = [
        line for line in page.lines
        if abs(abs(line.x2 - line.x1) - 20 * scale) < 0.01
        and abs(abs(line.y2 - line.y1) - 20 * scale) < 0.01
    ]  # fmt: skip
    assert len(slopes) == 8
    for line in slopes:  # the upper end is the long point's: the outer face is up
        (high, _), (low, _) = sorted(
            ((line.x1, line.y1), (line.x2, line.y2)), key=lambda point: -point[1]
        )
        starts = [left + mm * scale for mm in (10, 964.25)]
        assert (high < low) is any(abs(high - start) < 0.01 for start in starts)
    rings = {number_in(page, circle): circle for circle in page.circles if circle.diameter > 5}
    assert sorted(rings, key=int) == [str(number) for number in range(1, 13)]
    assert left + 10 * scale < rings["5"].x < left + 80 * scale < rings["9"].x
    assert rings["9"].x < left + 950 * scale < rings["1"].x < left + 964.25 * scale


def test_a_turned_board_is_drawn_turned(tmp_path: Path) -> None:
    """Turned, its arrow points down, and the end at its left leans by the right miter's tangent."""
    project, source = read(file(tmp_path, SKEW + SALE))
    stock = plan_stock([(project, source, evaluate(project).layout)])
    first = stock.plan.cuts[0]
    placed = replace(first.pieces[0], turned=True)
    cuts = (replace(first, pieces=(placed, *first.pieces[1:])), *stock.plan.cuts[1:])
    plan = replace(stock.plan, cuts=cuts)
    turned = replace(stock, plan=plan, saw=saw_list(stock.asked, plan))
    board = stock.asked.boards[placed.piece][1]
    tilts = board.miter_left_deg, board.miter_right_deg
    assert abs(tilts[0] - tilts[1]) > 0.3
    for each, down, ends in ((stock, 0, tilts), (turned, 1, tilts[::-1])):
        paths = [mark for mark in page_of(each, project, source).marks if isinstance(mark, Outline)]
        points = [(path.start, *(step[-1] for step in path.steps)) for path in paths]
        heads = [(tip, a) for path, (tip, *rest) in zip(paths, points, strict=True)
                 if path.fill == 0.0 and len(rest) == 2
                 for a, b in (rest,) if abs(a[1] - b[1]) < 0.01]  # fmt: skip
        assert len(heads) == 4
        assert sum(tip[1] < base[1] for tip, base in heads) == down
        edges = [corners for corners in points
                 if len(corners) == 4 and abs(corners[0][0] - corners[3][0]) > 0.1]  # fmt: skip
        (a, b, c, d) = edges[0]
        scale = (b[0] - a[0]) / board.long_point
        assert [(d[0] - a[0]) / scale, (b[0] - c[0]) / scale] == pytest.approx(
            [20 * math.tan(math.radians(tilt)) for tilt in ends], abs=0.05
        )


def page_of(stock: Stock, project: Project, source: Source) -> Page:
    job = Job(title=project.title, sha256=source.sha256, show=project.show,
              checked=checked(evaluate(project)))  # fmt: skip
    (plan,) = board_plans(stock)
    return sheet(plan, papers_for(None, project.show), job, 1, 1)


def number_in(page: Any, circle: Any) -> str:
    return next(
        each.text for each in page.texts
        if math.dist((each.x + each.width / 2, each.y + 1), (circle.x, circle.y)) < 0.2
    )  # fmt: skip


def sheets(paths: Sequence[Path]) -> list[Any]:
    """Return the sheets of a plan with the job of their title block."""
    collars = [(project, source, evaluate(project).layout) for project, source in map(read, paths)]
    project, source, _ = collars[0]
    job = Job(title=project.title, sha256=source.sha256, show=project.show,
              checked=checked(evaluate(project)))  # fmt: skip
    plans = board_plans(plan_stock(collars))
    papers = papers_for(None, project.show)
    return [
        (sheet(each, papers, job, number, len(plans)), papers, job)
        for number, each in enumerate(plans, 1)
    ]


CASES = {
    "owned": [COLLAR + SALE + OWNED],
    "matched": [MATCHED + LONG],
    "skew": [SKEW + SALE],
    "two collars": [COLLAR + SALE + OWNED] * 2,
    "full": [COLLAR.replace("10 mm", "0 mm") + '[[stock.length]]\nlength = "1474.25 mm"\n'],
}


@pytest.mark.parametrize("case", [*CASES, *EXAMPLES], ids=lambda case: getattr(case, "stem", case))
def test_no_text_stands_over_a_line_and_all_reads_back(tmp_path: Path, case: str | Path) -> None:
    paths = [case] if isinstance(case, Path) else [
        file(tmp_path, text, f"a long name {number} <&.toml")
        for number, text in enumerate(CASES[case])
    ]  # fmt: skip
    made = sheets(paths)
    for page, papers, job in made:
        assert meetings(page.marks) == []
        write_pdf([page], tmp_path / "one.pdf", "x")
        sizes = [(paper.width, paper.height) for paper in papers]
        assert reader.compare(
            tmp_path / "one.pdf", show=job.show, sizes=sizes, title=job.title, sha256=job.sha256,
            count=len(made),
        ) == []  # fmt: skip
        texts = " ".join(mark.text for mark in page.marks if hasattr(mark, "text"))
        assert "saw's manual" in texts


def test_every_cut_has_its_ring_on_one_sheet(tmp_path: Path) -> None:
    paths = [file(tmp_path, COLLAR + SALE + OWNED, f"{number}.toml") for number in range(3)]
    out = tmp_path / "plan.pdf"
    done = run(*paths, "--draw", out, "--json")
    numbers = [cut["number"] for cut in json.loads(done.stdout)["saw_list"]]
    pages = reader.read(out).pages
    assert len(pages) > 1
    rings = [
        int(number_in(page, circle))
        for page in pages for circle in page.circles if circle.diameter > 5
    ]  # fmt: skip
    assert sorted(rings) == numbers


def test_what_cannot_be_drawn_is_refused(tmp_path: Path) -> None:
    one = file(tmp_path, COLLAR + SALE + OWNED)
    many = [file(tmp_path, COLLAR + SALE, f"{number}.toml") for number in range(4)]
    for words, said in (
        ((one, "--draw", tmp_path / "plan.png"), "neither .pdf nor .svg"),
        ((one, "--draw", tmp_path / "no" / "plan.pdf"), "a folder that is not there"),
        ((*many, "--draw", tmp_path / "plan.svg"), "an SVG holds one sheet"),
    ):
        done = run(*words)
        assert done.exit_code == 2
        assert said in " ".join(done.output.split())
    out = tmp_path / "plan.svg"
    out.write_text("mine")
    done = run(one, "--draw", out)
    assert (done.exit_code, out.read_text()) == (2, "mine")
    assert "--overwrite" in done.output
    assert run(one, "--draw", out, "--overwrite").exit_code == 0
    first = out.read_bytes()
    assert first.startswith(b"<?xml")
    run(one, "--draw", out, "--overwrite")
    assert out.read_bytes() == first


def test_what_fails_stands_on_the_sheet(tmp_path: Path) -> None:
    out = tmp_path / "plan.pdf"
    kombucha = next(path for path in EXAMPLES if path.stem == "kombucha-too-tight")
    assert run(kombucha, "--draw", out).exit_code == 0
    texts = [text.text for text in reader.read(out).pages[0].texts]
    assert any(text.startswith("THIS DESIGN FAILS") for text in texts)


def test_a_drawing_that_does_not_read_back_is_not_handed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    wrong = "collarwright.outputs.drawings.draft.length_text"
    monkeypatch.setattr(wrong, lambda mm, show: "1 mm")  # pyright: ignore[reportUnknownLambdaType]
    out = tmp_path / "plan.pdf"
    assert run(file(tmp_path, COLLAR + SALE), "--draw", out).exit_code != 0
    assert [path.name for path in tmp_path.iterdir()] == ["one.toml"]
