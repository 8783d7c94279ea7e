"""The files in model/, read back by a reader that loads no kernel and by one that is the kernel."""

import hashlib
import os
import re
import subprocess
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import model
from collarwright.outputs.readback import step, stl

pytestmark = pytest.mark.kernel

Lay = Callable[..., Layout]

TITLE = "Ana's porch: cider at 5 °C \\ №1 🍏"
RICH: dict[str, Any] = {
    "board": {"bracket": "bracket-2x2-in"},
    "manifold": {"kind": "manifold-3-outlet-compact", "side": "back"},
    "taps": [
        {"count": 3, "faucet": "faucet-forward-sealing"},
        {"count": 1, "side": "right", "offset": "60 mm", "height": "50 mm"},
    ],
}
MADE = [
    f"{kind}-{side}" for kind in ("board", "foam") for side in ("front", "right", "back", "left")
]
W, D, T, HEIGHT = 939.8, 533.4, 19.05, 139.7


@pytest.fixture(scope="module")
def layout(lay: Lay) -> Layout:
    return lay(**RICH)


@pytest.fixture(scope="module")
def written(
    layout: Layout, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, tuple[str, ...]]:
    folder = tmp_path_factory.mktemp("built")
    return folder, model.write(layout, folder, TITLE)


@pytest.fixture(scope="module")
def assembly(written: tuple[Path, tuple[str, ...]]) -> step.StepFile:
    return step.read(written[0] / "model/collar.step")


@pytest.fixture(scope="module")
def folder(written: tuple[Path, tuple[str, ...]]) -> Path:
    return written[0] / "model"


def hashes(folder: Path) -> dict[str, str]:
    return {
        file.name: hashlib.sha256(file.read_bytes()).hexdigest()
        for file in sorted(folder.iterdir())
    }


def near(*values: float, by: float = 1e-6) -> Any:
    return pytest.approx(values, abs=by)


# --- which files, and what they say of themselves -------------------------------------------------


def test_it_writes_an_assembly_and_two_files_for_each_made_part(
    written: tuple[Path, tuple[str, ...]],
) -> None:
    root, paths = written
    expected = {"model/collar.step", "model/collar.glb"}
    expected |= {f"model/{name}.{kind}" for name in MADE for kind in ("step", "stl")}
    assert set(paths) == expected
    assert len(paths) == len(expected)
    assert {
        file.relative_to(root).as_posix() for file in root.rglob("*") if file.is_file()
    } == expected


def test_the_title_stands_in_the_header_whatever_letters_it_has(
    assembly: step.StepFile, folder: Path
) -> None:
    assert assembly.description == TITLE
    assert step.read(folder / "foam-back.step").description == TITLE


def test_no_file_knows_the_clock_the_machine_or_the_folder(folder: Path) -> None:
    host, year = os.uname().nodename, re.compile(rb"20(?!00-01-01)\d\d-\d\d")
    for file in folder.iterdir():
        data = file.read_bytes()
        assert host.encode() not in data
        assert str(folder).encode() not in data
        if file.suffix == ".step":
            assert not year.search(data)
            assert step.read(file).stamp == "2000-01-01T00:00:00"


def test_two_runs_write_the_same_bytes(layout: Layout, folder: Path, tmp_path: Path) -> None:
    # The kernel numbers on from file to file, so the later ones get longer numbers.
    for _ in range(3):
        model.write(layout, tmp_path, TITLE)
        assert hashes(tmp_path / "model") == hashes(folder)


FRESH = """
import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
spec = spec_from_file_location("designs", sys.argv[1])
designs = module_from_spec(spec)
spec.loader.exec_module(designs)
sys.path.insert(0, str(Path(sys.argv[1]).parent))
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs import model
model.write(lay_out(designs._design(taps={"count": 3, "faucet": "faucet-stout-nitrogen"})),
            Path(sys.argv[2]), "fresh")
from OCP.Message import Message
Message.SendFail_s("what the kernel prints when it fails")
"""


def test_two_processes_write_the_same_bytes_and_say_nothing(tmp_path: Path) -> None:
    found: list[dict[str, str]] = []
    conftest = Path(__file__).resolve().parents[1] / "conftest.py"
    for seed in ("1", "2"):
        out = tmp_path / seed
        out.mkdir()
        done = subprocess.run(
            [sys.executable, "-c", FRESH, str(conftest), str(out)],
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "MALLOC_PERTURB_": seed},
            timeout=120,
        )
        # What the kernel itself prints comes out when the process ends.
        assert (done.stdout, done.stderr) == (b"", b"")
        found.append(hashes(out / "model"))
    assert found[0] == found[1]
    assert len(found[0]) == 18


# --- the assembly ---------------------------------------------------------------------------------


def test_lengths_are_millimeters(assembly: step.StepFile, folder: Path) -> None:
    assert assembly.length_units == ("MILLI METRE",)
    assert all(step.read(file).length_units == ("MILLI METRE",) for file in folder.glob("*.step"))


def test_products_and_their_places_have_our_names(assembly: step.StepFile) -> None:
    assert assembly.assemblies == ("collar",)
    bought = {"shank", "ring", "washer", "nut", "tail-nut", "tailpiece", "faucet", "handle",
              "manifold", "bracket", "lip"}  # fmt: skip
    assert {product.name for product in assembly.products} == {*MADE, *bought}
    names = [placed.name for placed in assembly.placed]
    assert len(names) == len(set(names))
    taps = {f"{word}-{n}" for word in ("shank", "ring", "washer", "nut", "tail-nut", "tailpiece")
            for n in (1, 2, 3, 4)}  # fmt: skip
    hung = {f"{word}-{n}" for word in ("faucet", "handle") for n in (1, 2, 3)}
    corners = {f"bracket-{c}" for c in ("front-left", "front-right", "back-right", "back-left")}
    assert set(names) == {*MADE, *taps, *hung, *corners, "manifold", "lip"}
    for placed in assembly.placed:
        assert placed.name.startswith(placed.product)


def test_every_product_has_the_color_of_its_group(assembly: step.StepFile) -> None:
    palette = import_module("collarwright.geometry.solids.part").PALETTE
    for product in assembly.products:
        group = re.sub(r"-(front|right|back|left)$", "", product.name)
        assert product.color == near(*palette[group])
        assert product.solids == 1


def test_the_kernels_own_reader_finds_the_same(
    assembly: step.StepFile, folder: Path, layout: Layout
) -> None:
    read = import_module("cadquery").Assembly.importStep(str(folder / "collar.step"))
    solids = import_module("collarwright.geometry.solids.parts").parts(layout)
    found = {child.name: child for child in read.children}
    assert read.name == "collar"
    assert set(found) == {part.name for part in solids} == {p.name for p in assembly.placed}
    for part in solids:
        child = found[part.name]
        assert child.color.toTuple()[:3] == near(*part.color, by=1e-5)
        shape = child.obj.moved(child.loc)
        # Where a faucet's round bodies meet, kernel and file have a curve of many short pieces.
        loose = part.group == "faucet"
        volume, center = part.shape.Volume(), part.shape.Center().toTuple()
        assert shape.Volume() == pytest.approx(volume, rel=1e-6 if loose else 1e-9)
        assert shape.Center().toTuple() == near(*center, by=1e-4 if loose else 1e-6)


def test_bores_stand_in_the_assembly_where_the_taps_are(assembly: step.StepFile) -> None:
    # Front: three 76.2 mm apart about the middle, half way up. Right: 60 mm right of the middle.
    front = {(round(W / 2 + k * 76.2, 6), HEIGHT / 2) for k in (-1, 0, 1)}
    places = {placed.name: placed for placed in assembly.placed}

    def bores(side: str) -> list[tuple[tuple[float, ...], tuple[float, ...]]]:
        board, placed = assembly.product(f"board-{side}"), places[f"board-{side}"]
        found = [c for c in board.cylinders if c.radius == pytest.approx(12.7)]
        ends = [
            (c.point, tuple(p + a for p, a in zip(c.point, c.axis, strict=True))) for c in found
        ]
        return [(placed.at(a), placed.at(b)) for a, b in ends]  # type: ignore[arg-type]

    assert {(round(a[0], 6), round(a[2], 6)) for a, _ in bores("front")} == front
    assert all(abs(b[1] - a[1]) == pytest.approx(1) for a, b in bores("front"))
    ((a, b),) = bores("right")
    assert (a[1], a[2]) == near(D / 2 + 60, 50)
    assert abs(b[0] - a[0]) == pytest.approx(1)
    assert bores("back") == bores("left") == []


def test_boards_stand_round_the_lip(assembly: step.StepFile) -> None:
    corners = {
        "board-front": ((0, 0, 0), (W, T, HEIGHT)),
        "board-right": ((W - T, 0, 0), (W, D, HEIGHT)),
        "board-back": ((0, D - T, 0), (W, D, HEIGHT)),
        "board-left": ((0, 0, 0), (T, D, HEIGHT)),
    }
    for placed in assembly.placed:
        if placed.name in corners:
            product = assembly.product(placed.product)
            ends = [placed.at(product.low), placed.at(product.high)]
            low, high = (
                tuple(pick(axis) for axis in zip(*ends, strict=True)) for pick in (min, max)
            )
            assert low == near(*corners[placed.name][0])
            assert high == near(*corners[placed.name][1])


# --- one part -------------------------------------------------------------------------------------


def test_a_part_file_has_one_product_of_the_parts_name_lying_flat(
    folder: Path, layout: Layout
) -> None:
    for name in MADE:
        file = step.read(folder / f"{name}.step")
        assert [product.name for product in file.products] == [name]
        assert file.placed == ()
        product = file.products[0]
        kind, _, side = name.partition("-")
        lengths = {"front": W, "back": W, "right": D, "left": D}
        if kind == "board":
            size = (lengths[side], HEIGHT, T)
        else:
            size = (
                lengths[side] - 2 * T - (50.8 if side in ("right", "left") else 0),
                HEIGHT,
                25.4,
            )
        assert product.low == near(0, 0, 0)
        assert product.high == near(*size)
        mesh = stl.read(folder / f"{name}.stl")
        assert mesh.box[0] == near(0, 0, 0)
        assert mesh.box[1] == near(*size, by=1e-4)


@pytest.mark.parametrize("name", MADE)
def test_holes_in_a_part_file_are_those_of_the_layout(
    folder: Path, layout: Layout, name: str
) -> None:
    kind, _, side = name.partition("-")
    part: Any = layout.board(side) if kind == "board" else layout.panel(side)  # type: ignore[arg-type]
    expected = sorted(
        (round(h.u, 5), round(h.v, 5), round(h.diameter, 5)) for h in part.holes if h.diameter
    )
    found = sorted(
        (round(c.point[0], 5), round(c.point[1], 5), round(2 * c.radius, 5))
        for c in step.read(folder / f"{name}.step").products[0].cylinders
    )
    assert found == expected
    assert all(
        abs(c.axis[2]) == pytest.approx(1)
        for c in step.read(folder / f"{name}.step").products[0].cylinders
    )


@pytest.mark.parametrize("name", MADE)
def test_an_stl_file_is_one_closed_body_in_millimeters(
    folder: Path, layout: Layout, name: str
) -> None:
    mesh = stl.read(folder / f"{name}.stl")
    assert mesh.header == f"{name}, millimeters"
    assert mesh.watertight
    assert mesh.bodies == 1
    assert mesh.normals_agree
    solids = import_module("collarwright.geometry.solids.parts").parts(layout)
    volume = next(part.volume for part in solids if part.name == name)
    assert mesh.volume == pytest.approx(volume, rel=3e-4)
    trimesh = import_module("trimesh").load_mesh(folder / f"{name}.stl")
    assert mesh.volume == pytest.approx(trimesh.volume, rel=1e-9)
    assert mesh.center == near(*trimesh.center_mass, by=1e-6)
    assert len(mesh.faces) == len(trimesh.faces)
    assert len(mesh.vertices) == len(trimesh.vertices)


def test_a_round_hole_in_an_stl_file_turns_by_0_2_rad_at_most(folder: Path, layout: Layout) -> None:
    # 2 pi / 0.2 = 31.4 corners at least, also in a pilot that 0.1 mm would allow to be coarser.
    mesh = stl.read(folder / "board-front.stl")
    x, y, z = mesh.vertices.T
    holes = layout.board("front").holes
    assert {hole.purpose for hole in holes} == {"bore", "pilot"}
    for hole in holes:
        off = ((x - hole.u) ** 2 + (y - hole.v) ** 2) ** 0.5 - hole.half_length
        assert ((abs(off) < 1e-4) & (z < 1e-6)).sum() >= 32


def test_a_panel_in_two_pieces_is_one_colored_part_of_two_closed_bodies(
    lay: Lay, tmp_path: Path
) -> None:
    layout = lay(
        manifold={"length": "300 mm", "height": "139.7 mm", "depth": "40 mm", "side": "back"}
    )
    model.write(layout, tmp_path, "two")
    product = step.read(tmp_path / "model/foam-back.step").products[0]
    assert (product.name, product.solids) == ("foam-back", 2)
    assert product.color is not None
    assert step.read(tmp_path / "model/collar.step").product("foam-back").solids == 2
    mesh = stl.read(tmp_path / "model/foam-back.stl")
    assert (mesh.bodies, mesh.watertight) == (2, True)
    assert mesh.volume == pytest.approx((W - 2 * T - 300) * HEIGHT * 25.4, rel=1e-6)


def test_a_folder_that_cannot_be_written_is_an_os_error(layout: Layout, tmp_path: Path) -> None:
    (tmp_path / "model").mkdir()
    (tmp_path / "model/collar.step").mkdir()
    with pytest.raises(OSError, match=r"collar\.step"):
        model.write(layout, tmp_path, "x")
