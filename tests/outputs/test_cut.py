"""Cut files: read back by a library that had no part in checking, by our own reader, and spoilt."""

import math
import os
import pickle
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import ezdxf  # noqa: TID253 - an independent reader of what is written
import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.sheet import sheets
from collarwright.outputs import cut
from collarwright.outputs.readback import dxf
from collarwright.outputs.summary import summary
from collarwright.params.project import SIDES, Project

Make = Callable[..., Project]
Units = Literal["mm", "in"]
INCH = 25.4

FULL: dict[str, Any] = {
    "taps": {"offset": "30 mm", "spacing": "3 in"},
    "board": {"bracket": "bracket-2x2-in"},
    "hole": [
        {
            "side": "right",
            "height": "2 in",
            "diameter": "1/2 in",
            "offset": "4 in",
            "name": "probe",
        },
        {"side": "front", "height": "2 in", "diameter": "1 in", "offset": "200 mm", "name": "hose"},
    ],
    "manifold": {"length": "156 mm", "height": "85 mm", "depth": "60 mm", "side": "back"},
}
"""Design A with one of everything that is drilled or cut away, and nothing symmetrical."""


@dataclass
class Written:
    """The files of one design, and what each should hold."""

    files: dict[str, Path]
    expected: dict[str, dict[str, Any]]

    def faults(self, part: str, units: Units = "mm", warnings: tuple[str, ...] = ()) -> list[str]:
        return dxf.compare(self.files[part], self.expected[part], units=units, warnings=warnings)


@pytest.fixture(scope="module")
def write(design_a: Make, tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Written]:
    """Write a design's cut files: ``write(units="in", **changes)``; what was written is kept."""
    kept: dict[str, Written] = {}

    def run(
        units: Units = "mm",
        version: Literal["R2000", "R12"] = "R2000",
        warnings: tuple[str, ...] = (),
        again: bool = False,
        **changes: Any,
    ) -> Written:
        key = repr((units, version, warnings, changes))
        if key in kept and not again:
            return kept[key]
        project = design_a(**(changes or FULL))
        evaluation = evaluate(project)
        root = tmp_path_factory.mktemp("cut")
        paths = cut.write(
            evaluation.layout, root, show="in", units=units, version=version, warnings=warnings
        )
        data = summary(project, evaluation, "x.toml", "0" * 64)
        expected = {f"board-{entry['side']}": entry for entry in data["boards"]}
        expected |= {f"foam-{entry['side']}": entry for entry in data["foam"]}
        names = {re.sub(r"(-(mm|in))?(-r12)?\.dxf$", "", Path(p).name): root / p for p in paths}
        kept[key] = Written(names, expected)
        return kept[key]

    return run


def entities(path: Path) -> list[Any]:
    return list(ezdxf.readfile(path).modelspace())


# -- what is written, by an independent reader


def test_a_file_for_each_part(write: Callable[..., Written]) -> None:
    done = write()
    assert [path.name for path in done.files.values()] == [
        f"{kind}-{side}.dxf" for kind in ("board", "foam") for side in SIDES
    ]
    assert {path.parent.name for path in done.files.values()} == {"cut"}


@pytest.mark.parametrize(
    ("units", "version", "name"),
    [
        ("mm", "R2000", "board-front.dxf"),
        ("in", "R2000", "board-front-in.dxf"),
        ("mm", "R12", "board-front-mm-r12.dxf"),
        ("in", "R12", "board-front-in-r12.dxf"),
    ],
)
def test_the_name_says_what_is_not_plain(
    write: Callable[..., Written], units: Units, version: str, name: str
) -> None:
    assert write(units=units, version=version).files["board-front"].name == name


@pytest.mark.parametrize(
    ("units", "tag", "metric", "per_mm"), [("mm", 4, 1, 1.0), ("in", 1, 0, 1 / INCH)]
)
def test_units_are_stated_and_kept(
    write: Callable[..., Written], units: Units, tag: int, metric: int, per_mm: float
) -> None:
    document = ezdxf.readfile(write(units=units).files["board-front"])
    assert document.dxfversion == "AC1015"
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (tag, metric)
    assert not document.audit().errors
    (outline,) = document.modelspace().query("LWPOLYLINE")
    assert outline.closed
    assert [tuple(point) for point in outline.get_points("xyb")] == [
        pytest.approx((x * per_mm, y * per_mm, 0.0), abs=1e-6)
        for x, y in ((0, 0), (939.8, 0), (939.8, 139.7), (0, 139.7))
    ]
    # design A: 1 in bores, 3 in apart, here 30 mm to the right of the middle
    found = sorted(
        (*tuple(c.dxf.center)[:2], c.dxf.radius)
        for c in document.modelspace().query('CIRCLE[layer=="BORE"]')
    )
    wanted = [(939.8 / 2 + 30 + i * 76.2, 69.85, 12.7) for i in (-1, 0, 1)]
    wanted.append((939.8 / 2 + 200, 50.8, 12.7))
    assert found == [pytest.approx([v * per_mm for v in w], abs=1e-6) for w in sorted(wanted)]


def test_only_plain_things_on_declared_layers(write: Callable[..., Written]) -> None:
    for path in write().files.values():
        document = ezdxf.readfile(path)
        space = document.modelspace()
        assert {e.dxftype() for e in space} <= {"LWPOLYLINE", "CIRCLE", "LINE", "TEXT"}
        assert {e.dxf.layer for e in space} <= {layer.dxf.name for layer in document.layers}
        assert set(cut.COLORS) <= {layer.dxf.name for layer in document.layers}
        assert len({document.layers.get(name).color for name in cut.COLORS}) == len(cut.COLORS)
        assert all(e.dxf.color == 256 for e in space)  # by layer
        assert not list(document.layouts.get("Layout1"))


def test_foam_is_cut_with_arcs(write: Callable[..., Written]) -> None:
    """Pockets of 60 mm that are 50 mm apart are one line of six arcs."""
    done = write(taps={"spacing": "50 mm"})
    lines = [e for e in entities(done.files["foam-front"]) if e.dxftype() == "LWPOLYLINE"]
    assert [line.dxf.layer for line in lines] == ["OUTLINE", "POCKET"]
    bulges = [point[0] for point in lines[1].get_points("b")]
    # chords of 2 sqrt(30^2 - 25^2) between neighbors: half angle acos(25/30) on either side
    half = math.acos(25 / 30)
    inner, outer = math.pi - 2 * half, 2 * math.pi - 2 * half
    assert sorted(abs(bulge) for bulge in bulges) == pytest.approx(
        [math.tan(inner / 4)] * 2 + [math.tan(outer / 8)] * 4, abs=1e-8
    )


def test_r12_is_a_plain_old_file(
    write: Callable[..., Written], caplog: pytest.LogCaptureFixture
) -> None:
    done = write(version="R12", units="in", again=True)
    assert caplog.messages == []
    for path in done.files.values():
        document = ezdxf.readfile(path)
        assert document.dxfversion == "AC1009"
        assert "INSUNITS" not in path.read_text("cp1252")
        kinds = {e.dxftype() for e in document.modelspace()}
        assert kinds <= {"POLYLINE", "CIRCLE", "LINE", "TEXT"}
        assert any("tell the machine in." in e.dxf.text for e in document.query("TEXT"))


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_two_runs_write_the_same_bytes(write: Callable[..., Written], version: str) -> None:
    first, second = (write(version=version, again=True).files for _ in range(2))
    assert first != second
    assert [path.read_bytes() for path in first.values()] == [
        path.read_bytes() for path in second.values()
    ]


def test_another_process_writes_the_same_bytes(design_a: Make, tmp_path: Path) -> None:
    sheet = sheets(evaluate(design_a(**FULL)).layout, "in")[4]
    here, there = tmp_path / "here.dxf", tmp_path / "there.dxf"
    cut.write_dxf(sheet, here)
    code = (
        "import pickle, sys; from pathlib import Path; from collarwright.outputs import cut\n"
        "cut.write_dxf(pickle.load(sys.stdin.buffer), Path(sys.argv[1]))"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(there)],
        input=pickle.dumps(sheet),
        env={**os.environ, "PYTHONHASHSEED": "1"},
        check=True,
        timeout=60,
    )
    assert here.read_bytes() == there.read_bytes()


def test_the_library_is_left_as_it_was(write: Callable[..., Written]) -> None:
    assert not ezdxf.options.write_fixed_meta_data_for_testing
    write(again=True)
    assert not ezdxf.options.write_fixed_meta_data_for_testing


def test_coordinates_have_six_decimals_at_most(write: Callable[..., Written]) -> None:
    text = write(units="in").files["foam-front"].read_text("cp1252")
    body = text[text.index("ENTITIES") :]
    numbers = re.findall(r"^ (?:10|20|30|11|21|31|40)\n(.*)$", body, re.MULTILINE)
    assert len(numbers) > 50
    assert all(re.fullmatch(r"-?\d+\.\d{1,6}", number) for number in numbers)
    assert "-0.0\n" not in body


def test_failures_stand_first_and_large(write: Callable[..., Written]) -> None:
    failing = ("FAILS bore-web, tap 1 to tap 2: 1 mm", "FAILS stand, front: 3 mm")
    done = write(warnings=failing)
    for path in done.files.values():
        first, second, *rest = (e for e in entities(path) if e.dxftype() == "TEXT")
        assert (first.dxf.text, second.dxf.text) == failing
        assert min(first.dxf.height, second.dxf.height) > max(e.dxf.height for e in rest)
        assert first.dxf.insert.y > second.dxf.insert.y > max(e.dxf.insert.y for e in rest)
    assert done.faults("board-front", warnings=failing) == []
    assert done.faults("board-front", warnings=("FAILS plug", failing[1])) == [
        "not in large print before all else: FAILS plug"
    ]


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_names_cannot_smuggle_codes_in(write: Callable[..., Written], version: str) -> None:
    name = "50%%c ^J \\U+0041 ünïcode 冷泡茶"
    failing = (f"FAILS bore-web, {name}: 1 mm",)
    done = write(version=version, warnings=failing, taps={"names": (name,)})
    (text,) = (t.text for t in dxf.read(done.files["board-front"]).texts if "tap-1" in t.text)
    assert text.startswith("tap-1 (50% %c ^ J /U+0041 ünïcode 冷泡茶): bore 1 in")
    assert done.faults("board-front", warnings=failing) == []
    assert done.faults("board-front", warnings=("FAILS bore-web, 50: 1 mm",))


def test_a_text_is_one_line() -> None:
    assert cut.plain("two\nlines\tand a \x07") == "two lines and a  "


def test_a_panel_of_which_nothing_is_left_has_no_file(write: Callable[..., Written]) -> None:
    big = {"length": "450 mm", "height": "139.7 mm", "depth": "60 mm", "side": "left"}
    assert "foam-left" not in write(manifold=big).files


def test_inches_can_be_shown_on_a_metric_file(design_a: Make, tmp_path: Path) -> None:
    sheet = sheets(evaluate(design_a()).layout, "in")[0]
    cut.write_dxf(sheet, tmp_path / "a.dxf")
    said = [text.text for text in dxf.read(tmp_path / "a.dxf").texts]
    assert "board-front. Coordinates are in millimeters." in said
    assert any("37 in (939.8 mm)" in text for text in said)


# -- read back by our own reader

VARIETY: dict[str, dict[str, Any]] = {
    "design A": {"taps": {"count": 3}},
    "everything": FULL,
    "pockets that touch": {"taps": {"spacing": "60 mm"}, **{k: FULL[k] for k in ("board", "hole")}},
    "pockets that overlap": {"taps": {"spacing": "40 mm"}, "manifold": FULL["manifold"]},
    "no pockets": {"foam": {"pocket": "none"}},
    "no foam": {"foam": None},
    "pockets over the edge": {"taps": {"height": "25 mm"}},
    "pockets that touch the edge": {"taps": {"height": "30 mm"}},
    "a pocket over the next": {"taps": {"spacing": "1 mm", "count": 2}},
    "the same bore twice": {"taps": [{"count": 1, "spacing": None}] * 2},
    "a passage in a pocket": {
        "hole": [{"side": "front", "height": "70 mm", "diameter": "10 mm", "offset": "30 mm"}],
        "foam": {"pocket": "90 mm"},  # the flange beside it is 48 mm wide
    },
    "a passage over a pocket's edge": {
        "hole": [{"side": "front", "height": "70 mm", "diameter": "10 mm", "offset": "43 mm"}],
        "foam": {"pocket": "90 mm"},
    },
    "an opening as high as the panel": {"manifold": FULL["manifold"] | {"height": "139.7 mm"}},
    "followed lip": {
        "lip": {"front_left_to_back_right": "43 in"}, "board": {"follow": "lip"},
    },
}  # fmt: skip


RUNS = [(variety, "mm", "R2000") for variety in VARIETY] + [
    ("everything", "in", "R2000"),
    ("everything", "mm", "R12"),
    ("pockets that overlap", "in", "R12"),
]


@pytest.mark.parametrize(("variety", "units", "version"), RUNS)
def test_files_read_back_right(
    write: Callable[..., Written], variety: str, units: Units, version: str
) -> None:
    done = write(units=units, version=version, **VARIETY[variety])
    assert done.files
    for part in done.files:
        assert done.faults(part, units) == []


def test_the_two_readers_agree(write: Callable[..., Written]) -> None:
    for path in write().files.values():
        ours = dxf.read(path)
        theirs = list(ezdxf.readfile(path).modelspace())
        assert [(c.layer, c.center, c.diameter) for c in ours.circles] == [
            (c.dxf.layer, tuple(c.dxf.center), 2 * c.dxf.radius)
            for c in theirs
            if c.dxftype() == "CIRCLE"
        ]
        assert [(p.layer, p.closed, p.bulges) for p in ours.polylines] == [
            (p.dxf.layer, p.closed, tuple(b for (b,) in p.get_points("b")))
            for p in theirs
            if p.dxftype() == "LWPOLYLINE"
        ]
        assert [t.text for t in ours.texts] == [t.dxf.text for t in theirs if t.dxftype() == "TEXT"]
        assert not ours.others
