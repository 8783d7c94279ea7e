"""Mass properties of boards and foam against closed forms, and against a second measurer.

The closed forms are those of any mechanics handbook: area, centroid and second moments of a
polygon from its corners (Green's theorem), a cylinder's own second moments m r^2/4 and m h^2/12,
and the parallel axis theorem. Two measurers are held against them: the CAD kernel on the exact
solid, and trimesh, which knows nothing of the kernel, on the triangles of the STL file. A third
reads the STEP file back and measures what it finds there.

What triangles may miss: neighbours on a round hole turn by at most 0.2 rad, so the hole is a
prism over a polygon of at least n = 32 corners inside the circle and takes less away by the share
1 - sin(a)/a, a = 2 pi/n, which is 0.64 %. STL keeps coordinates as 32-bit floats, 6e-8 of them.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import model
from numpy.typing import NDArray

pytestmark = [
    pytest.mark.kernel,
    pytest.mark.published(
        "polygon moments by Green's theorem, cylinder moments and the parallel axis theorem, as in"
        " any mechanics handbook; measured by trimesh and by a second reading of the STEP file"
    ),
]

Lay = Callable[..., Layout]
Array = NDArray[np.float64]

TURN = 0.2
SHORT = 1 - math.sin(2 * math.pi / 32) / (2 * math.pi / 32)
"""Share of a round hole that its triangles leave standing, at most."""
FLOAT32 = 6e-8

CASES: dict[str, dict[str, Any]] = {
    "A": {},
    "B": {"board": {"stock": "dimension-2x8"}},
    "skewed": {
        "lip": {
            "front": "940 mm",
            "right": "610 mm",
            "back": "900 mm",
            "left": "560 mm",
            "front_left_to_back_right": "1040 mm",
        },
        "board": {"follow": "lip"},
        "taps": {"count": 2, "spacing": "200 mm", "offset": "40 mm", "height": "60 mm"},
    },
}
SIDES = ("front", "right", "back", "left")


@dataclass(frozen=True)
class Mass:
    """Volume, first moments and second moments (the integrals of x_i and of x_i x_j), mm."""

    volume: float
    first: Array
    second: Array

    def less(self, other: "Mass") -> "Mass":
        return Mass(
            self.volume - other.volume, self.first - other.first, self.second - other.second
        )

    @property
    def center(self) -> Array:
        return self.first / self.volume

    @property
    def inertia(self) -> Array:
        """Inertia about the center at unit density, mm5."""
        about = self.second - self.volume * np.outer(self.center, self.center)
        return np.trace(about) * np.eye(3) - about


def prism(corners: list[tuple[float, float]], width: float) -> Mass:
    """A polygon in (x, z), counterclockwise, pushed along y from 0 to ``width``."""
    area = sx = sz = xx = zz = xz = 0.0
    for (a, b), (c, d) in zip(corners, corners[1:] + corners[:1], strict=True):
        cross = a * d - c * b
        area += cross / 2
        sx += (a + c) * cross / 6
        sz += (b + d) * cross / 6
        xx += (a * a + a * c + c * c) * cross / 12
        zz += (b * b + b * d + d * d) * cross / 12
        xz += (a * d + 2 * a * b + 2 * c * d + c * b) * cross / 24
    assert area > 0
    w = width
    first = np.array([sx * w, area * w * w / 2, sz * w])
    second = np.array(
        [
            [xx * w, sx * w * w / 2, xz * w],
            [sx * w * w / 2, area * w**3 / 3, sz * w * w / 2],
            [xz * w, sz * w * w / 2, zz * w],
        ]
    )
    return Mass(area * w, first, second)


def cylinder(x: float, y: float, diameter: float, height: float) -> Mass:
    """A cylinder from z = 0 to ``height``."""
    r, center = diameter / 2, np.array([x, y, height / 2])
    volume = math.pi * r * r * height
    own = np.diag([r * r / 4, r * r / 4, height**2 / 12]) * volume
    return Mass(volume, center * volume, own + volume * np.outer(center, center))


def board(layout: Layout, side: str) -> tuple[Mass, float]:
    """A board lying flat, and the share of its holes in it, from lip corners and bores alone."""
    corners = [np.array([c.x, c.y]) for c in layout.frame.corners]
    i = SIDES.index(side)
    a, b = corners[i], corners[(i + 1) % 4]
    before, after = corners[i - 1], corners[(i + 2) % 4]

    def half_cot(at: Array, one: Array, two: Array) -> float:
        u, v = (one - at) / np.linalg.norm(one - at), (two - at) / np.linalg.norm(two - at)
        return 1 / math.tan(math.acos(float(u @ v)) / 2)

    t, w = layout.boards[i].thickness, layout.boards[i].width
    length = float(np.linalg.norm(b - a))
    left, right = t * half_cot(a, before, b), t * half_cot(b, a, after)
    # Seen along y from below: x to the right, z up; counterclockwise is with x cross z negative.
    solid = prism([(left, 0), (length - right, 0), (length, t), (0, t)], w)
    plain = solid.volume
    for tap in (tap for tap in layout.taps if tap.side == side):
        solid = solid.less(cylinder(tap.u, tap.v, tap.bore, t))
    return solid, (plain - solid.volume) / solid.volume


def panel(layout: Layout, side: str) -> tuple[Mass, float]:
    """A foam panel lying flat, and the share of its pockets in it."""
    i = SIDES.index(side)
    size = layout.panels[i]
    length, width, t = size.length, size.width, size.thickness
    solid = prism([(0, 0), (length, 0), (length, t), (0, t)], width)
    plain = solid.volume
    start = layout.boards[i].inner_left + size.start
    for tap in (tap for tap in layout.taps if tap.side == side):
        assert tap.pocket is not None
        solid = solid.less(cylinder(tap.u - start, tap.v, tap.pocket, t))
    return solid, (plain - solid.volume) / solid.volume


@pytest.fixture(scope="module", params=CASES)
def case(
    request: pytest.FixtureRequest, lay: Lay, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Layout, Path]:
    folder = tmp_path_factory.mktemp(request.param)
    layout = lay(**CASES[request.param])
    model.write(layout, folder, request.param)
    return layout, folder / "model"


def expected(layout: Layout) -> dict[str, tuple[Mass, float]]:
    found = {f"board-{side}": board(layout, side) for side in SIDES}
    found |= {f"foam-{side}": panel(layout, side) for side in SIDES}
    assert any(share > 0.01 for _, share in found.values())
    return found


def measured(shape: Any) -> tuple[float, Array, Array]:
    """Volume, center and inertia of a solid as the kernel measures them."""
    found = import_module("OCP.GProp").GProp_GProps()
    import_module("OCP.BRepGProp").BRepGProp.VolumeProperties_s(shape.wrapped, found)
    center, matrix = found.CentreOfMass(), found.MatrixOfInertia()
    inertia = [[matrix.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)]
    return found.Mass(), np.array([center.X(), center.Y(), center.Z()]), np.array(inertia)


def test_the_solids_have_the_closed_forms_of_the_handbook(case: tuple[Layout, Path]) -> None:
    layout, _ = case
    solids = import_module("collarwright.geometry.solids.parts").parts(layout)
    flat = {part.name: part.flat for part in solids if part.made}
    assert set(flat) == set(expected(layout))
    for name, (mass, _) in expected(layout).items():
        volume, center, inertia = measured(flat[name])
        assert volume == pytest.approx(mass.volume, rel=1e-12)
        assert center == pytest.approx(mass.center, abs=1e-8)
        assert inertia == pytest.approx(mass.inertia, rel=1e-9, abs=1e-9 * mass.inertia.max())


def test_a_second_reading_of_the_step_file_measures_the_same(case: tuple[Layout, Path]) -> None:
    layout, folder = case
    importers = import_module("cadquery").importers
    for name, (mass, _) in expected(layout).items():
        volume, center, inertia = measured(importers.importStep(str(folder / f"{name}.step")).val())
        # A STEP file carries 13 digits.
        assert volume == pytest.approx(mass.volume, rel=1e-10)
        assert center == pytest.approx(mass.center, abs=1e-7)
        assert inertia == pytest.approx(mass.inertia, rel=1e-9, abs=1e-9 * mass.inertia.max())


def test_trimesh_measures_the_same_but_for_what_triangles_miss(case: tuple[Layout, Path]) -> None:
    layout, folder = case
    trimesh = import_module("trimesh")
    for name, (mass, share) in expected(layout).items():
        mesh = trimesh.load_mesh(folder / f"{name}.stl")
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.body_count == 1
        # The triangles leave a sliver of each hole standing and take nothing away.
        over = mesh.volume / mass.volume - 1
        assert -4 * FLOAT32 < over < share * SHORT + 4 * FLOAT32
        if share:
            assert over > share * SHORT / 20
        # No sliver is further from the center than the part is long.
        long = float(np.ptp(mesh.bounds, axis=0).max())
        slack = share * SHORT + 4 * FLOAT32
        assert np.abs(mesh.center_mass - mass.center).max() < slack * long + 1e-4
        assert np.abs(mesh.moment_inertia - mass.inertia).max() < 2 * slack * mass.volume * long**2


def test_the_closed_forms_here_agree_with_a_box_cut_up_by_hand() -> None:
    # A 6 x 4 x 2 box about its center: m (b^2 + c^2)/12; with a hole of 1, the hole's own less.
    box = prism([(0, 0), (6, 0), (6, 2), (0, 2)], 4)
    assert box.center == pytest.approx([3, 2, 1])
    assert np.diag(box.inertia) == pytest.approx([48 * 20 / 12, 48 * 40 / 12, 48 * 52 / 12])
    bored = box.less(cylinder(3, 2, 1, 2))
    own = math.pi / 2 * (1 / 16 + 4 / 12)
    assert bored.inertia[0][0] == pytest.approx(80 - own)
