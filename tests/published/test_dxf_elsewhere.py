"""Cut files as another program reads them: GDAL's own DXF driver, lengths worked out by hand.

GDAL turns circles and bulges into short straight pieces whose ends lie on the curve, so a center
is as exact as the file; only areas are short by what the pieces cut off.
"""

import csv
import io
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest

pytestmark = pytest.mark.skipif(
    shutil.which("ogr2ogr") is None, reason="ogr2ogr (Debian: gdal-bin) is not installed"
)

MM = 0.001
"""Places and sizes, mm: the file has six decimals, also in inches."""

STEP_DEG = 0.5
AREA = 0.2
"""Areas, mm2: pieces of half a degree cut 1.3e-5 off a circle's area, 0.15 of three pockets."""

CUT_LAYERS = {"OUTLINE", "BORE", "POCKET", "PILOT"}
FORMS = [("mm", "R2000", ""), ("in", "R2000", "-in"), ("mm", "R12", "-mm-r12")]
SIDES = ("front", "right", "back", "left")
PARTS = [f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES]


@dataclass(frozen=True)
class Entity:
    """One line as GDAL sees it: its layer and its points, mm."""

    layer: str
    points: np.ndarray

    @property
    def closed(self) -> bool:
        """Whether it ends where it began."""
        return len(self.points) > 2 and bool(np.all(self.points[0] == self.points[-1]))

    @property
    def ring(self) -> tuple[float, float, float] | None:
        """Center and diameter if all points lie on one circle all round."""
        center = self.points[:-1].mean(axis=0)
        radii = np.hypot(*(self.points - center).T)
        if not self.closed or len(self.points) < 90 or np.ptp(radii) > MM:
            return None
        return float(center[0]), float(center[1]), float(2 * radii.mean())

    @property
    def area(self) -> float:
        """Area inside, mm2 (shoelace formula)."""
        x, y = (self.points - self.points[0]).T
        return float(abs(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])) / 2)

    @property
    def box(self) -> tuple[float, ...]:
        """Lowest and highest corner."""
        return (*self.points.min(axis=0), *self.points.max(axis=0))


def entities(file: Path, scale: float) -> list[Entity]:
    """Return every line that GDAL finds; ``scale`` is the file's unit, mm."""
    command = ["ogr2ogr", "-f", "CSV", "/vsistdout/", str(file), "-lco", "GEOMETRY=AS_WKT"]
    command += ["--config", "OGR_WKT_PRECISION", "15"]
    command += ["--config", "OGR_ARC_STEPSIZE", str(STEP_DEG)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    assert "DXF" not in done.stderr, done.stderr
    found: list[Entity] = []
    csv.field_size_limit(10_000_000)
    for row in csv.DictReader(io.StringIO(done.stdout)):
        kind, _, rest = row["WKT"].partition("(")
        if kind.split()[0] == "POINT":
            assert row["Text"], "a point is only where a text stands"
            continue
        assert kind.split()[0] == "LINESTRING", kind
        points = [[float(n) for n in p.split()] for p in rest.rstrip(")").split(",")]
        assert all(p[2:] in ([], [0.0]) for p in points), "nothing stands off the plane"
        found.append(Entity(row["Layer"], scale * np.array([p[:2] for p in points])))
    return found


def far(points: np.ndarray, cut: Any) -> float:
    """Return how far any of these points lies from the curves it should be on, mm."""
    x, y = points.T
    x0, y0, x1, y1 = cut.box
    off = [np.abs(np.hypot(x - a, y - b) - r) for a, b, r in cut.circles]
    if cut.layer == "OUTLINE" or not cut.circles:
        off += [abs(x - x0), abs(x - x1), abs(y - y0), abs(y - y1)]
    return float(np.min(off, axis=0).max())


def near(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    """Whether two lists of lengths are the same."""
    return a == pytest.approx(b, abs=MM)


def faults(file: Path, part: Any, scale: float = 1.0) -> list[str]:
    """Say how a cut file differs from a part worked out by hand."""
    said: list[str] = []
    found = entities(file, scale)
    rings, cuts = list(part.rings), list(part.cuts)
    for each in found:
        if each.layer not in CUT_LAYERS:
            continue
        if not each.closed:
            said.append(f"{each.layer}: an open line")
        elif each.ring:
            same = [r for r in rings if r[0] == each.layer and near(r[1:], each.ring)]
            if same:
                rings.remove(same[0])
            else:
                x, y, d = each.ring
                said.append(f"{each.layer}: {d:.3f} mm at {x:.3f}, {y:.3f}")
        else:
            same = [
                c
                for c in cuts
                if c.layer == each.layer
                and near(c.box, each.box)
                and abs(c.area - each.area) < AREA
                and far(each.points, c) < MM
            ]
            if same:
                cuts.remove(same[0])
            else:
                said.append(f"{each.layer}: {each.area:.1f} mm2 in {np.round(each.box, 3)}")
    said += [f"missing: {r[0]}, {r[3]} mm at {r[1]:.3f}, {r[2]:.3f}" for r in rings]
    said += [f"missing: {c.layer} of {c.area:.1f} mm2" for c in cuts]
    marks = [each for each in found if each.layer == "INNER-EDGE"]
    inner = [part.inner[0], part.length - part.inner[1]] if part.name.startswith("board") else []
    wanted = [(x, 0.0, x, part.width) for x in inner]
    if len(marks) != len(wanted) or not all(
        near(m.box, w) for m, w in zip(sorted(marks, key=lambda m: m.box), wanted, strict=True)
    ):
        said.append(f"INNER-EDGE: {[m.box for m in marks]}, not {wanted}")
    lengths = [float(np.hypot(*(e.points[-1] - e.points[0]))) for e in found
               if e.layer == "CHECK-MARK"]  # fmt: skip
    if not all(any(abs(one - true) < MM for one in lengths) for true in (100.0, 101.6)):
        said.append(f"CHECK-MARK: {lengths}")
    strange = {e.layer for e in found} - CUT_LAYERS - {"INNER-EDGE", "CHECK-MARK", "NOTE"}
    return said + [f"layer {name}" for name in sorted(strange)]


@pytest.mark.published("GDAL's DXF driver; plane geometry by hand")
@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize(("unit", "version", "suffix"), FORMS)
def test_gdal_reads_what_was_worked_out(
    skewed: Any, built: Callable[..., Path], unit: str, version: str, suffix: str, name: str
) -> None:
    options = ("--only", "cut", "--dxf-units", unit, "--dxf-version", version)
    part = next(each for each in skewed.flats() if each.name == name)
    folder = built(skewed.text, *options) / "cut"
    assert len(list(folder.iterdir())) == len(PARTS)
    assert faults(folder / f"{name}{suffix}.dxf", part, 25.4 if unit == "in" else 1.0) == []


def test_gdal_finds_the_examples_bores_too(built: Callable[..., Path]) -> None:
    """Bores 4 in apart and 3 in up; a passage 1/2 in wide, 4 in right of the middle, 2 in up."""
    folder = built("cold-coffee", "--only", "cut") / "cut"

    def bores(side: str) -> tuple[float, list[tuple[float, ...]]]:
        found = entities(folder / f"board-{side}.dxf", 1.0)
        (outline,) = (each for each in found if each.layer == "OUTLINE")
        rings = [each.ring for each in found if each.layer == "BORE"]
        return outline.box[2] / 2, sorted(ring for ring in rings if ring)

    middle, three = bores("front")
    for k, ring in zip((-1, 0, 1), three, strict=True):
        assert ring == pytest.approx((middle + k * 101.6, 76.2, 25.4), abs=MM)
    middle, (passage,) = bores("right")
    assert passage == pytest.approx((middle + 101.6, 50.8, 12.7), abs=MM)


# --- the judge can say no -------------------------------------------------------------------------


@pytest.fixture
def good(skewed: Any, built: Callable[..., Path]) -> dict[str, str]:
    """The text of every cut file."""
    folder = built(skewed.text, "--only", "cut", "--dxf-units", "mm", "--dxf-version", "R2000")
    return {file.stem: file.read_text() for file in (folder / "cut").iterdir()}


def shifted(text: str, entity: str, code: str, by: float, nth: int = 0) -> str:
    """Add to one coordinate of the nth entity of a kind."""
    start = [m.end() for m in re.finditer(rf"^  0\n{entity}\n", text, re.MULTILINE)][nth]
    head, rest = text[:start], text[start:]
    return head + re.sub(
        rf"^ {code}\n(.*)\n",
        lambda m: f" {code}\n{float(m[1]) + by}\n",
        rest,
        count=1,
        flags=re.MULTILINE,
    )


@pytest.mark.parametrize(
    ("name", "spoil", "said"),
    [
        ("board-front", lambda text: shifted(text, "CIRCLE", "10", 0.5, 1), r"BORE: 25\.000 mm"),
        ("board-front", lambda text: shifted(text, "CIRCLE", "10", 0.0015), r"BORE: 25\.000 mm"),
        ("board-left", lambda text: shifted(text, "CIRCLE", "40", 0.01), r"BORE: 20\.020 mm"),
        ("board-back", lambda text: shifted(text, "LWPOLYLINE", "10", 0.01), r"OUTLINE: "),
        ("foam-front", lambda text: shifted(text, "LWPOLYLINE", "42", 0.001, 1), r"POCKET: "),
        (
            "foam-right",
            lambda text: text.replace("\n 90\n7\n 70\n1\n", "\n 90\n7\n 70\n0\n"),
            r"open",
        ),
        ("foam-back", lambda text: text.replace("\nPOCKET\n", "\nPILOT\n"), r"PILOT: 12000"),
        ("board-right", lambda text: text.replace("\nBORE\n", "\nNOTE\n"), r"missing: BORE, 25"),
        ("board-back", lambda text: text.replace("\nINNER-EDGE\n", "\nNOTE\n"), r"INNER-EDGE"),
        ("board-back", lambda text: text.replace("\nCHECK-MARK\n", "\nNOTE\n"), r"CHECK-MARK"),
        ("board-back", lambda text: text.replace("\nOUTLINE\n", "\nLAYER-1\n"), r"LAYER-1"),
    ],
)
def test_the_judge_sees_a_spoilt_file(
    skewed: Any,
    good: dict[str, str],
    tmp_path: Path,
    name: str,
    spoil: Callable[[str], str],
    said: str,
) -> None:
    part = next(each for each in skewed.flats() if each.name == name)
    spoilt = spoil(good[name])
    assert spoilt != good[name]
    file = tmp_path / "spoilt.dxf"
    file.write_text(spoilt)
    assert re.search(said, "\n".join(faults(file, part)))


def test_the_judge_sees_the_wrong_unit(skewed: Any, built: Callable[..., Path]) -> None:
    folder = built(skewed.text, "--only", "cut", "--dxf-units", "in", "--dxf-version", "R2000")
    said = faults(folder / "cut/board-front-in.dxf", skewed.board("front"))
    assert any(each.startswith("OUTLINE") for each in said)
    assert any(each.startswith("CHECK-MARK") for each in said)


def test_the_judge_sees_one_bore_built_in_the_wrong_place(
    skewed: Any, built: Callable[..., Path]
) -> None:
    folder = built(skewed.one_bore_off, "--only", "cut") / "cut"
    said = faults(folder / "board-front.dxf", skewed.board("front"))
    assert [each.split(",")[0] for each in said] == ["BORE: 25.000 mm at 511.600", "missing: BORE"]
