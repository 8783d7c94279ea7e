"""What the CAD kernel fails at leaves a build as one sentence: part, step and sizes; DIR stays."""

import re
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs.cli import main

pytestmark = pytest.mark.kernel

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
ROOM = "collarwright.geometry.solids"


def failing(*_: object, **__: object) -> Any:
    raise import_module("OCP.StdFail").StdFail_NotDone("BRep_API: command not done")


def silent(*_: object, **__: object) -> Any:
    raise RuntimeError


class Refusing:
    """A writer of the kernel that says no and nothing more."""

    ASCIIMode = False

    def __getattr__(self, name: str) -> Callable[..., bool]:
        return lambda *_: False


@pytest.mark.parametrize(
    ("call", "put", "said"),
    [
        (
            "cadquery.Solid.extrudeLinear", failing,
            r"board-front \(94\d\.\d\d x 139\.70 x 19\.05 mm, 90\d\.\d\d mm between short points,"
            r" 7 holes\): extruding the mitered board: BRep_API: command not done",
        ),
        (
            "cadquery.Shape.cut", failing,
            r"board-front \(94\d\.\d\d x 139\.70 x 19\.05 mm.*\): cutting the holes: BRep_API",
        ),
        (
            "cadquery.Solid.makeBox", failing,
            r"foam-front \(90\d\.\d\d x 139\.70 x 25\.40 mm, \d+ cut out\): cutting pockets and"
            r" openings: BRep_API: command not done",
        ),
        (
            "cadquery.Solid.revolve", silent,
            r"shank-1 \(shank-4-1-8-in\): making the bought part: RuntimeError",
        ),
        (
            f"{ROOM}.mesh.BRepMesh_IncrementalMesh", failing,
            r"board-front \(94\d\.\d\d x 139\.70 x 19\.05 mm.*\): meshing: BRep_API",
        ),
        (
            f"{ROOM}.step.STEPCAFControl_Writer", Refusing,
            r"collar \(\d\d parts\): writing STEP: the kernel could not transfer the shapes",
        ),
        (
            f"{ROOM}.stl.StlAPI_Writer", Refusing,
            r"board-front \(94\d\.\d\d x 139\.70 x 19\.05 mm.*\): writing STL: the kernel could",
        ),
    ],
    ids=["extrude", "cut", "box", "revolve", "mesh", "step", "stl"],
)  # fmt: skip
def test_a_build_whose_kernel_call_fails_says_part_step_and_sizes(
    call: str,
    put: Any,
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    import_module(f"{ROOM}.parts")
    import_module(f"{ROOM}.stl")
    import_module(f"{ROOM}.step")
    out = tmp_path / "out"
    out.mkdir()
    (out / "summary.json").write_text("of an earlier time")
    monkeypatch.setattr(call, put)
    monkeypatch.setattr("sys.argv", ["collarwright", "build", str(EXAMPLE), "--out", str(out)])
    with pytest.raises(SystemExit) as ended:
        main()
    heard = capsys.readouterr()
    assert ended.value.code == 3
    assert re.search(said, heard.err), heard.err
    assert "Traceback" not in heard.err + heard.out
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
    assert {path.name: path.read_text() for path in out.iterdir()} == {
        "summary.json": "of an earlier time"
    }
