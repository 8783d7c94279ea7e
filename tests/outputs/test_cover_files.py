"""Covers, cap strips and joints in the files of a build: read back, and seen when they are wrong.

A lip with four different corners, followed; the kernel's own reader judges the solids' volumes
against closed forms worked out from the layout's plane figures by shapely.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import Evaluation, evaluate
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import cut, model, templates
from collarwright.outputs.summary import dumps, file_entry, summary
from collarwright.outputs.verify import ReadBackError, verify
from collarwright.params.project import Project

pytestmark = pytest.mark.kernel

Make = Callable[..., Project]
LIP = {
    "front": "955 mm", "right": "561.008 mm", "back": "954.002 mm", "left": "559.014 mm",
    "front_left_to_back_right": "1110.173 mm",
}  # fmt: skip
HINGE = {
    "positions": ("0 mm",), "leaf_width": "40 mm", "leaf_height": "60 mm", "leaf_thickness": "2 mm",
    "screw": "wood-screw-no-8", "screws": 2, "screw_length": "30 mm",
}  # fmt: skip
KINDS = ("spline", "biscuit", "dowel")


def design(make: Make, kind: str) -> Project:
    return make(
        lip=LIP,
        board={"follow": "lip", "corner": kind},
        taps=[{}, {"count": 1, "spacing": None, "side": "left"}],
        hole=[{"side": "back", "height": "30 mm", "diameter": "14 mm", "name": "hose",
               "offset": "200 mm"}],
        cover={"thickness": "16 mm", "below_lip": "40 mm", "sides": ("front", "back", "left")},
        cap={"material": "steel", "thickness": "1.5 mm", "width": "30 mm", "inset": "3 mm"},
        hinge=HINGE,
    )  # fmt: skip


@pytest.fixture(scope="module", params=KINDS)
def built(
    request: pytest.FixtureRequest, design_a: Make, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, Project, Evaluation]:
    root = tmp_path_factory.mktemp(request.param)
    project = design(design_a, request.param)
    evaluation = evaluate(project)
    written = [*model.write(evaluation.layout, root, "x")]
    written += cut.write(evaluation.layout, root, show="mm")
    written += templates.write(
        evaluation.layout, root, show="mm", paper="a3", title="x", sha256="0" * 64
    )
    entries = [file_entry(root, path) for path in sorted(written)]
    data = summary(project, evaluation, "x.toml", "0" * 64, entries)
    (root / "summary.json").write_text(dumps(data), "utf-8", newline="\n")
    return root, project, evaluation


def check(
    built: tuple[Path, Project, Evaluation],
    layout: Layout | None = None,
    only: str = "*",
) -> None:
    root, project, evaluation = built
    files = [path.relative_to(root).as_posix() for path in root.rglob(only) if path.is_file()]
    listed = [path.relative_to(root).as_posix() for path in root.rglob("*") if path.is_file()]
    entries = [file_entry(root, name) for name in sorted(listed) if name != "summary.json"]
    changed = evaluation if layout is None else replace(evaluation, layout=layout)
    data = summary(project, changed, "x.toml", "0" * 64, entries)
    verify(
        root,
        files,
        changed.layout,
        data,
        show="mm",
        paper="a3",
        sha256="0" * 64,
        warnings=(),
    )


def test_all_of_it_reads_back(built: tuple[Path, Project, Evaluation]) -> None:
    root = built[0]
    check(built)
    for folder, ending in (("cut", "dxf"), ("model", "step"), ("model", "stl")):
        names = {path.stem for path in (root / folder).glob(f"*.{ending}")}
        assert {"cover-front", "cover-back", "cover-left"} <= names
        assert {f"cap-{side}" for side in ("front", "right", "back", "left")} <= names
        assert "cover-right" not in names
    # every board has joints to mark, the covers with holes have bores, a hose or a hinge
    names = {path.stem for path in (root / "templates").iterdir()}
    assert {name for name in names if not name.endswith(("-inner", "-ends"))} == {
        *(f"board-{side}" for side in ("front", "right", "back", "left")),
        "cover-front", "cover-back", "cover-left",
        *(f"foam-{panel.side}" for panel in built[2].layout.panels if panel.holes),
        "test-page", "saw-ring",
    }  # fmt: skip


def test_the_kernel_reads_solids_of_the_volumes_that_plane_geometry_gives(
    built: tuple[Path, Project, Evaluation],
) -> None:
    from shapely import Polygon

    root, _, evaluation = built
    cq = import_module("cadquery")
    layout = evaluation.layout
    t = 19.05

    def volume(name: str) -> float:
        return cq.importers.importStep(str(root / f"model/{name}.step")).val().Volume()

    joint = layout.joints[0]
    slot = {
        # a box right through, a segment 12.5 mm deep of a disc of 50, two cylinders of 6 mm
        "spline": 139.7 * t / 2 * 3.175,
        "biscuit": 4 * (2500 * math.acos(0.75) - 37.5 * math.sqrt(2500 - 37.5**2)),
        "dowel": 2 * math.pi * 9 * t / 2,
    }[joint.kind]
    bore = math.pi / 4 * 25.4**2
    assert volume("board-right") == pytest.approx(
        Polygon(layout.board("right").plan).area * 139.7 - 2 * slot, rel=1e-9
    )
    assert volume("board-left") == pytest.approx(
        Polygon(layout.board("left").plan).area * 139.7 - 2 * slot - bore * t, rel=1e-9
    )
    cover = layout.cover("front")
    assert cover is not None
    # 16 mm over both faces at the mitered left corner: tan of half the corner's angle; square right
    half = math.radians(layout.frame.corners[0].interior_deg) / 2
    long = layout.board("front").long_point
    area = 16 * (long + 16 / math.tan(half) / 2)
    assert volume("cover-front") == pytest.approx(area * 179.7 - 3 * bore * 16, rel=1e-9)
    strip = layout.strips[1]
    trapezoid = Polygon((*strip.outer, *strip.inner[::-1])).area
    assert volume("cap-right") == pytest.approx(trapezoid * 1.5, rel=1e-9)


def moved(layout: Layout, **change: float) -> Layout:
    """Return the layout with the first joint of the front board's left end changed."""

    def slots(board: Board) -> Board:
        first, *rest = board.slots
        wrong = replace(
            first, **{name: getattr(first, name) + by for name, by in change.items()}
        )  # fmt: skip
        return replace(board, slots=(wrong, *rest))

    return replace(layout, boards=(slots(layout.boards[0]), *layout.boards[1:]))


@pytest.mark.parametrize("only", ["board-front.step", "board-front.stl", "collar.step"])
@pytest.mark.parametrize("change", [{"v": 2.0}, {"thick": 0.5}, {"depth": -0.5}])
def test_a_slot_in_another_place_or_of_another_size_is_seen(
    built: tuple[Path, Project, Evaluation], only: str, change: dict[str, float]
) -> None:
    layout = built[2].layout
    if layout.joints[0].kind == "spline" and ("v" in change or only != "board-front.stl"):
        # a spline runs all the way up, and a flat STEP file tells it by its volume alone
        change = {"thick": 0.5}
    with pytest.raises(ReadBackError):
        check(built, moved(layout, **change), only)


@pytest.mark.parametrize("only", ["board-front.dxf", "board-front.pdf"])
def test_a_mark_in_another_place_is_seen(
    built: tuple[Path, Project, Evaluation], only: str
) -> None:
    layout = built[2].layout
    wrong: Any = moved(layout, v=2.0)
    if layout.joints[0].kind == "spline":
        board = layout.boards[0]
        first, *rest = board.slots
        u, inward = first.mouth
        slots = (replace(first, mouth=(u + 1.0, inward)), *rest)
        wrong = replace(layout, boards=(replace(board, slots=slots), *layout.boards[1:]))
    with pytest.raises(ReadBackError, match=layout.joints[0].name):
        check(built, wrong, only)


@pytest.mark.parametrize("only", ["collar.step", "collar.glb"])
def test_a_joint_a_strip_or_a_cover_in_another_place_is_seen(
    built: tuple[Path, Project, Evaluation], only: str
) -> None:
    layout = built[2].layout
    joint, strip, cover = layout.joints[0], layout.strips[0], layout.covers[0]
    x, y = joint.middle
    for wrong, name in (
        (replace(layout, joints=(replace(joint, middle=(x + 0.1, y)), *layout.joints[1:])),
         joint.name),
        (replace(layout, strips=(replace(strip, bottom=140.0), *layout.strips[1:])), strip.name),
        (replace(layout, covers=(replace(cover, bottom=-41.0), *layout.covers[1:])), cover.name),
        (replace(layout, joints=layout.joints[1:]), joint.name),
    ):  # fmt: skip
        with pytest.raises(ReadBackError, match=name):
            check(built, wrong, only)


def test_a_strip_of_another_miter_is_seen_in_its_cut_file(
    built: tuple[Path, Project, Evaluation],
) -> None:
    layout = built[2].layout
    strip = layout.strips[0]
    wrong = replace(strip, miter_left_deg=strip.miter_left_deg + 0.1)
    with pytest.raises(ReadBackError, match="trapezoid"):
        check(built, replace(layout, strips=(wrong, *layout.strips[1:])), "cap-front.dxf")
