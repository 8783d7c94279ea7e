"""model/collar.glb: read back by the project's own reader, by trimesh, and spoilt on purpose."""

import json
import shutil
import struct
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import model
from collarwright.outputs.readback import glb
from collarwright.outputs.summary import summary
from collarwright.outputs.verify import ReadBackError, verify
from collarwright.params.reading import read

pytestmark = pytest.mark.kernel

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
W, D, T, HEIGHT = 939.8, 533.4, 19.05, 139.7
Lay = Callable[..., Layout]
RICH: dict[str, Any] = {
    "lid": {"overhang": "10 mm", "thickness": "60 mm", "skirt": None},
    "hinge": {"axis_behind": "20 mm", "axis_above": "-15 mm"},
}


@pytest.fixture(scope="module")
def rich(lay: Lay, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("rich")
    model.write(lay(**RICH), folder, "rich")
    return folder / "model/collar.glb"


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("good")
    model.write(evaluate(read(EXAMPLE)[0]).layout, folder, "x")
    return folder


def near(*values: float, by: float = 1e-6) -> Any:
    return pytest.approx(values, abs=by)


def nodes(path: Path) -> dict[str, glb.Node]:
    found = glb.read(path)
    named = {node.name: node for node in found}
    assert len(named) == len(found)
    return named


# --- what is in it --------------------------------------------------------------------------------


def test_lengths_are_meters_and_up_is_y(rich: Path) -> None:
    found = nodes(rich)
    assert found["board-front"].box[0] == near(0, 0, -T / 1000)
    assert found["board-front"].box[1] == near(W / 1000, HEIGHT / 1000, 0)
    # To the back is -z.
    assert found["board-back"].box[0] == near(0, 0, -D / 1000)
    assert found["board-back"].box[1] == near(W / 1000, HEIGHT / 1000, (T - D) / 1000)


def test_the_lid_alone_hangs_on_the_hinge_axis(rich: Path) -> None:
    found = nodes(rich)
    # 20 mm behind the collar's back face, 15 mm below its top.
    assert found["lid-hinge"].place == near(0, (HEIGHT - 15) / 1000, -(D + 20) / 1000)
    assert [name for name, node in found.items() if "lid-hinge" in node.above] == ["lid"]
    assert found["lid"].box[0] == near(-0.01, HEIGHT / 1000, -(D + 10) / 1000)
    assert found["lid"].box[1] == near((W + 10) / 1000, (HEIGHT + 60) / 1000, 0.01)


def test_without_the_axis_the_lid_is_a_part_like_others(lay: Lay, tmp_path: Path) -> None:
    model.write(lay(lid=RICH["lid"]), tmp_path, "no axis")
    found = nodes(tmp_path / "model/collar.glb")
    assert "lid-hinge" not in found
    assert found["lid"].above == found["board-front"].above


def test_every_part_is_one_closed_mesh_of_its_own_color(rich: Path, lay: Lay) -> None:
    parts = import_module("collarwright.geometry.solids.parts").parts(lay(**RICH))
    found = nodes(rich)
    meshes = {name: node for name, node in found.items() if node.vertices is not None}
    assert set(meshes) == {part.name for part in parts}
    trimesh: Any = import_module("trimesh")
    loaded = trimesh.load(rich)
    assert set(loaded.geometry) == set(meshes)
    for part in parts:
        node = meshes[part.name]
        # Facets of 0.2 rad keep up to a^2/6 of what is round (1 - sin a / a).
        share = 0.04 / 6 if part.group not in ("board", "foam") else 1e-3
        assert node.volume * 1e9 == pytest.approx(part.flat.Volume(), rel=share)
        assert loaded.geometry[part.name].is_watertight
        # sRGB to linear light by IEC 61966-2-1.
        light = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in part.color]
        assert node.color == near(*light, 1.0, by=2e-6)
    # Another reader's way through the nodes ends where ours does.
    low, high = loaded.bounds.tolist()
    boxes = [node.box for node in meshes.values()]
    assert low == near(*(min(box[0][k] for box in boxes) for k in range(3)))
    assert high == near(*(max(box[1][k] for box in boxes) for k in range(3)))


def test_there_are_no_normals_and_no_clock(rich: Path) -> None:
    tree, _ = opened(rich.read_bytes())
    assert all(set(m["primitives"][0]["attributes"]) == {"POSITION"} for m in tree["meshes"])
    assert all(mesh["name"] in {n["name"] for n in tree["nodes"]} for mesh in tree["meshes"])
    assert set(tree["asset"]) <= {"version", "generator"}


# --- spoilt files ---------------------------------------------------------------------------------

Spoil = Callable[[bytes], bytes]


def opened(data: bytes) -> tuple[dict[str, Any], bytearray]:
    size = struct.unpack_from("<I", data, 12)[0]
    return json.loads(data[20 : 20 + size]), bytearray(data[28 + size :])


def closed(tree: dict[str, Any], blob: bytes) -> bytes:
    text = json.dumps(tree).encode()
    text += b" " * (-len(text) % 4)
    head = struct.pack("<3I", 0x46546C67, 2, 28 + len(text) + len(blob))
    chunks = struct.pack("<2I", len(text), 0x4E4F534A), struct.pack("<2I", len(blob), 0x004E4942)
    return head + chunks[0] + text + chunks[1] + blob


def in_tree(change: Callable[[dict[str, Any]], object]) -> Spoil:
    def spoil(data: bytes) -> bytes:
        tree, blob = opened(data)
        change(tree)
        return closed(tree, blob)

    return spoil


def node_of(tree: dict[str, Any], name: str) -> dict[str, Any]:
    return next(node for node in tree["nodes"] if node.get("name") == name)


def millimeters(tree: dict[str, Any]) -> None:
    node_of(tree, "collar")["matrix"] = [
        1000, 0, 0, 0, 0, 0, -1000, 0, 0, 1000, 0, 0, 0, 0, 0, 1,
    ]  # fmt: skip


def moved(name: str, by: float) -> Spoil:
    return in_tree(
        lambda tree: node_of(tree, name).update(
            matrix=[1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, by, 0, 0, 1]
        )
    )


def axis_moved(tree: dict[str, Any]) -> None:
    node_of(tree, "lid-hinge")["matrix"][13] += 0.0005


def without(name: str) -> Callable[[dict[str, Any]], None]:
    def change(tree: dict[str, Any]) -> None:
        index = tree["nodes"].index(node_of(tree, name))
        for node in tree["nodes"]:
            if index in node.get("children", ()):
                node["children"].remove(index)

    return change


def another_under_the_hinge(tree: dict[str, Any]) -> None:
    index = tree["nodes"].index(node_of(tree, "lip"))
    without("lip")(tree)
    node_of(tree, "lid-hinge")["children"].append(index)


def lid_beside_the_hinge(tree: dict[str, Any]) -> None:
    index = tree["nodes"].index(node_of(tree, "lid"))
    without("lid")(tree)
    node_of(tree, "collar")["children"].append(index)


def corner_moved(data: bytes) -> bytes:
    """Move the corners of the front board that reach highest up by half a millimeter."""
    tree, blob = opened(data)
    mesh = next(m for m in tree["meshes"] if m["name"] == "board-front")
    accessor = tree["accessors"][mesh["primitives"][0]["attributes"]["POSITION"]]
    start = tree["bufferViews"][accessor["bufferView"]].get("byteOffset", 0)
    for k in range(accessor["count"]):
        z = struct.unpack_from("<f", blob, start + 12 * k + 8)[0]
        if z > 0.1396:
            struct.pack_into("<f", blob, start + 12 * k + 8, z + 0.0005)
    return closed(tree, bytes(blob))


def no_number(data: bytes) -> bytes:
    tree, blob = opened(data)
    accessor = tree["accessors"][tree["meshes"][0]["primitives"][0]["attributes"]["POSITION"]]
    start = tree["bufferViews"][accessor["bufferView"]].get("byteOffset", 0)
    struct.pack_into("<f", blob, start, float("nan"))
    return closed(tree, bytes(blob))


def inside_out(tree: dict[str, Any]) -> None:
    node_of(tree, "board-back")["matrix"] = [
        -1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0.9406, 0, 0, 1,
    ]  # fmt: skip


def no_color(tree: dict[str, Any]) -> None:
    del tree["meshes"][0]["primitives"][0]["material"]


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (in_tree(millimeters), "board-front: its highest corner"),
        (moved("board-left", 0.0005), "board-left: its lowest corner"),
        (moved("lip", 0.0005), "lip: its lowest corner"),
        (corner_moved, "board-front: its highest corner"),
        (in_tree(lambda t: node_of(t, "nut-2").update(name="nut-9")), "lacks nut-2"),
        (in_tree(lambda t: node_of(t, "nut-2").update(name="nut-1")), "two nodes of one name"),
        (in_tree(without("faucet-3")), "lacks faucet-3"),
        (in_tree(axis_moved), "lid-hinge is at"),
        (in_tree(another_under_the_hinge), "under lid-hinge, not the lid alone"),
        (in_tree(lid_beside_the_hinge), "nothing under lid-hinge"),
        (in_tree(inside_out), "board-back has its inside out"),
        (in_tree(no_color), "has no color"),
        (no_number, "no number"),
        (lambda data: data[:-4], "not the"),
        (lambda data: b"glTX" + data[4:], "not a binary glTF 2 file"),
        (in_tree(lambda t: t["meshes"].pop()), "refers to something"),
        (in_tree(lambda t: t["accessors"][0].update(count=10**6)), "shorter than"),
    ],
)
def test_a_spoilt_file_is_told(good: Path, tmp_path: Path, spoil: Spoil, said: str) -> None:
    root = tmp_path / "out"
    (root / "model").mkdir(parents=True)
    for kind in ("step", "glb"):
        shutil.copy(good / f"model/collar.{kind}", root / f"model/collar.{kind}")
    project, source = read(EXAMPLE)
    evaluation = evaluate(project)

    def check() -> None:
        data = summary(project, evaluation, source.file, source.sha256)
        verify(
            root,
            ["model/collar.glb"],
            evaluation.layout,
            data,
            show=project.show,
            paper="letter",
            sha256=source.sha256,
            warnings=(),
        )

    check()
    path = root / "model/collar.glb"
    path.write_bytes(spoil(path.read_bytes()))
    with pytest.raises(ReadBackError, match=said):
        check()


@pytest.mark.parametrize("size", [0, 11, 19, 40, 4000])
def test_a_file_cut_short_anywhere_is_refused(rich: Path, tmp_path: Path, size: int) -> None:
    path = tmp_path / "short.glb"
    data = bytearray(rich.read_bytes()[:size])
    if size > 12:
        struct.pack_into("<I", data, 8, size)  # also when it owns up to it
    path.write_bytes(data)
    with pytest.raises(glb.GlbError, match=r"short\.glb"):
        glb.read(path)
