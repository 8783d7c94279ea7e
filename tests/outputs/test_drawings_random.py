"""Drawings of designs that nobody drew by hand: written, read back, and without a fault."""

import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from random import Random
from types import ModuleType

import pytest
from collarwright.geometry.judge.change import Value, changed
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.packed import Question
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs import drawings
from collarwright.outputs.drawings.draft import Draft
from collarwright.outputs.drawings.frame import Job, papers_for, sheet
from collarwright.outputs.paper.marks import Words
from collarwright.outputs.paper.pdf import write_pdf
from collarwright.outputs.paper.svg import write_svg
from collarwright.outputs.readback import drawing as reader
from collarwright.outputs.readback import svg as svg_reader
from collarwright.outputs.summary import summary
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Project
from collarwright.params.reading import read

TESTS = Path(__file__).parents[1]
EXAMPLES = sorted((TESTS.parent / "examples").glob("*.toml"))
SHA = "0123456789abcdef" * 4
WARNINGS = ("a must that fails",)
SHARES, EACH = 4, 10


def _generator() -> ModuleType:
    """Load the module that makes build files: tests are not a package."""
    path = TESTS / "geometry" / "test_random_designs.py"
    spec = spec_from_file_location("random_designs", path)
    assert spec is not None and spec.loader is not None
    module = module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def faults(project: Project, folder: Path, only: tuple[str, ...] = ()) -> Iterator[str]:
    """Draw, write and read back all drawings or some: a sentence for each fault."""
    evaluation = evaluate(project)
    layout = evaluation.layout
    standing = Question().standing(project, layout) if project.vessel else None
    data = summary(project, evaluation, "", SHA)
    boards = {f"board-{each['side']}": each for each in data["boards"]}
    boards |= {f"cover-{each['side']}": each for each in data["covers"]}
    job = Job(
        title=project.title,
        sha256=SHA,
        show=project.show,
        checked="all",
        warnings=WARNINGS,
    )
    papers = papers_for(None, project.show)
    made = tuple(drawings.drawings(project, layout, standing))
    for number, each in enumerate(made, 1):
        if only and each.name not in only:
            continue
        path = folder / f"{each.name}.pdf"
        page = sheet(each, papers, job, number, len(made))
        write_pdf([page], path, each.says)
        write_svg(page, path.with_suffix(".svg"), each.says)
        yield from reader.compare(
            path,
            show=project.show,
            sizes=[(paper.width, paper.height) for paper in papers],
            title=project.title,
            sha256=SHA,
            count=len(made),
            failures=len(WARNINGS),
            board=boards.get(each.name),
            panels=data["foam"] if re.fullmatch(r"foam(-\d+)?", each.name) else (),
        )
        yield from svg_reader.compare(path.with_suffix(".svg"), path)


@pytest.mark.slow
@pytest.mark.parametrize("share", range(SHARES))
def test_drawings_of_random_designs_read_back(share: int, tmp_path: Path) -> None:
    random = _generator()
    found: list[str] = []
    seen: Counter[str] = Counter()
    seed = share * 1000
    while seen["designs"] < EACH:
        tables = random.Tables(Random(seed)).every()
        text = "".join(f"{name} = {random.toml(value)}\n" for name, value in tables.items())
        seed += 1
        project = random.project_of(text)
        if project is None:
            assert seed < share * 1000 + 20 * EACH, "the door refuses nearly all"
            continue
        seen["designs"] += 1
        project = replace(project, show=("mm", "in")[seed % 2])
        folder = tmp_path / str(seed)
        folder.mkdir()
        found += [f"seed {seed - 1}: {each}" for each in faults(project, folder)]
        seen.update(path.stem for path in folder.glob("*.pdf"))
    sys.stdout.write(f"\n{dict(seen)}\n")
    assert not found, "\n".join(found)


WHOLE: dict[str, Value] = {
    "lid.overhang": 10.0, "lid.thickness": 60.0, "lid.skirt": 15.0, "lid.skirt_thickness": 2.0,
    "lid.plug": 25.0, "lid.plug_inset": 60.0, "hinge.axis_behind": 15.0, "hinge.axis_above": 0.0,
    "hinge.open_to": 95.0,
}  # fmt: skip
"""A lid that is measured in full: some examples have none."""

VARIED: tuple[dict[str, Value], ...] = (
    {},
    {"hinge.open_to": 60.0},
    {"hinge.open_to": 90.0},
    {"hinge.open_to": 120.0},
    {"hinge.open_to": 90.0, "room.behind": 158.9, "room.above": 620.0},
    {"hinge.axis_behind": 0.0, "hinge.axis_above": 0.0},
    {"hinge.axis_behind": -5.0, "hinge.axis_above": 10.0, "room.behind": 20.0},
    {"hinge.axis_above": -30.0, "lid.thickness": 40.0, "hinge.open_to": 120.0},
    {"room.above": 300.0, "room.behind": 60.0},
    {"room.above": 900.0, "room.behind": 400.0, "hinge.open_to": 75.0},
    {"lid.skirt": 0.0},
    {"lid.skirt": 0.0, "lid.overhang": 0.0, "hinge.open_to": 90.0},
    {"lid.skirt": 0.0, "lid.overhang": 40.0, "lid.plug": 0.0, "hinge.open_to": 120.0},
    {"lid.skirt": 30.0, "lid.overhang": 0.0, "room.behind": 100.0},
    # no line but the dimension's own ends where the lid comes nearest
    {
        "hinge.open_to": 105.0, "lid.skirt": 20.0, "lid.overhang": 10.0, "room.behind": 60.0,
        "room.above": 620.0, "hinge.axis_behind": 40.0, "hinge.axis_above": 10.0, "lid.plug": 25.0,
    },
    {
        "hinge.open_to": 90.0, "lid.skirt": 0.0, "lid.overhang": 40.0, "room.behind": 158.9,
        "room.above": 700.0, "hinge.axis_behind": 40.0, "hinge.axis_above": 0.0, "lid.plug": 25.0,
    },
)  # fmt: skip
"""What is changed, mm and degrees."""


@pytest.mark.slow
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda each: each.stem)
def test_examples_with_other_lids_and_rooms_read_back(path: Path, tmp_path: Path) -> None:
    project, _ = read(path)
    found: list[str] = []
    drawn = 0
    for number, values in enumerate(VARIED):
        try:
            moved = changed(project, WHOLE | values)
            lay_out(moved)
        except BuildFileError:
            continue
        folder = tmp_path / str(number)
        folder.mkdir()
        found += [f"{values}: {each}" for each in faults(moved, folder, ("lid-swing",))]
        drawn += len(list(folder.iterdir())) == 2
    assert drawn > len(VARIED) / 2, "most were refused"
    assert not found, "\n".join(found)


def test_no_empty_text_is_drawn() -> None:
    draft = Draft(0.1, "mm")
    draft.table(("no.", ""), [("1", ""), ("2", " ")], 100.0)
    draft.finish()
    said = [mark.text for mark in draft.marks if isinstance(mark, Words)]
    assert said == ["no.", "1", "2"]
