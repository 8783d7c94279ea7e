"""Every file of a build, read back from disk and held against the summary beside it."""

import hashlib
import json
import math
import shutil
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs.cli import app
from collarwright.outputs.readback import dxf, pdf, step, stl
from collarwright.params.reading import read
from typer.testing import CliRunner

EXAMPLES = Path(__file__).parents[2] / "examples"
pytestmark = pytest.mark.kernel


@pytest.fixture(scope="module", params=["cold-coffee", "cider-porch"])
def built(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Path, Path]:
    """Build an example once; return the build file and the folder."""
    file = EXAMPLES / f"{request.param}.toml"
    out = tmp_path_factory.mktemp("build") / "out"
    done = CliRunner().invoke(app, ["build", str(file), "--out", str(out)])
    assert done.exit_code == 0, done.output
    return file, out


def summary(out: Path) -> dict[str, Any]:
    """Return the summary of a built folder."""
    data: dict[str, Any] = json.loads((out / "summary.json").read_text())
    return data


def test_files_are_listed_with_size_and_hash_and_no_others_are_there(
    built: tuple[Path, Path],
) -> None:
    file, out = built
    data = summary(out)
    there = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert there - {"summary.json"} == {entry["path"] for entry in data["files"]}
    for entry in data["files"]:
        content = (out / entry["path"]).read_bytes()
        assert entry["bytes"] == len(content)
        assert entry["sha256"] == hashlib.sha256(content).hexdigest()
    assert data["sha256"] == hashlib.sha256(file.read_bytes()).hexdigest()
    assert data["build_file"] == str(file)


def test_cut_files_agree_with_the_summary(built: tuple[Path, Path]) -> None:
    _, out = built
    data = summary(out)
    for kind, key in (("board", "boards"), ("foam", "foam")):
        assert len(data[key]) == 4
        for part in data[key]:
            assert dxf.compare(out / "cut" / f"{kind}-{part['side']}.dxf", part) == []


def test_templates_agree_with_the_layout(built: tuple[Path, Path]) -> None:
    file, out = built
    project, source = read(file)
    layout = lay_out(project)
    bored = [board for board in layout.boards if any(h.face == "outer" for h in board.holes)]
    names = {path.stem for path in (out / "templates").iterdir()}
    assert {name for name in names if not name.endswith(("-inner", "-ends"))} == {
        *(f"board-{board.side}" for board in bored),
        *(f"foam-{panel.side}" for panel in layout.panels if panel.holes),
        "test-page",
        "saw-ring",
        "hinge-map",
    }
    for board in bored:
        path = out / "templates" / f"board-{board.side}.pdf"
        assert pdf.compare(path, board, show=project.show, sha256=source.sha256) == []


def test_parts_have_the_volumes_of_the_summary_in_step_and_stl(built: tuple[Path, Path]) -> None:
    _, out = built
    data = summary(out)
    names = {each.name for each in step.read(out / "model" / "collar.step").placed}
    for kind, key in (("board", "boards"), ("foam", "foam")):
        for part in data[key]:
            name = f"{kind}-{part['side']}"
            assert name in names
            assert [p.name for p in step.read(out / "model" / f"{name}.step").products] == [name]
            mesh = stl.read(out / "model" / f"{name}.stl")
            # A round hole in facets of a rad keeps a^2/6 of what the circle would take out
            # (1 - sin a / a); the mesh turns by at most 0.2 rad.
            round_holes = sum(math.pi * (h.get("diameter_mm") or 0) ** 2 / 4 for h in part["holes"])
            faceted = 0.2**2 / 6 * round_holes * part["thickness_mm"]
            assert mesh.volume == pytest.approx(part["volume_mm3"], abs=faceted + 0.5)
    assert len(names) == len(set(names))


def test_a_second_build_gives_the_same_bytes_and_keeps_foreign_files(
    built: tuple[Path, Path], tmp_path: Path
) -> None:
    file, out = built
    again = tmp_path / "again"
    shutil.copytree(out, again)
    (again / "note.txt").write_text("mine")
    done = CliRunner().invoke(app, ["build", str(file), "--out", str(again), "--json"])
    assert done.exit_code == 0
    assert (again / "note.txt").read_text() == "mine"
    assert (again / "summary.json").read_bytes() == (out / "summary.json").read_bytes()
    assert json.loads(done.stdout)["files"] == summary(out)["files"]


def test_only_one_kind_is_written_when_asked(tmp_path: Path) -> None:
    file = EXAMPLES / "cold-coffee.toml"
    words = ["--dxf-units", "in", "--dxf-version", "R12", "--only", "cut"]
    done = CliRunner().invoke(app, ["build", str(file), "--out", str(tmp_path / "o"), *words])
    assert done.exit_code == 0
    assert {path.name for path in (tmp_path / "o").iterdir()} == {"cut", "summary.json"}
    data = summary(tmp_path / "o")
    fronts = [entry["path"] for entry in data["files"] if "board-front" in entry["path"]]
    assert len(fronts) == 1
    assert "-in" in fronts[0]
    assert "r12" in fronts[0]


@pytest.mark.parametrize(("kind", "status"), [("cut", 0), ("lists", 2)])
def test_prices_that_cannot_be_read_stop_the_lists_alone(
    tmp_path: Path, kind: str, status: int
) -> None:
    file = tmp_path / "coffee.toml"
    file.write_text((EXAMPLES / "cold-coffee.toml").read_text())
    (tmp_path / "prices.csv").write_text("id,price\npva,cheap\n")
    out = tmp_path / "out"
    done = CliRunner().invoke(app, ["build", str(file), "--out", str(out), "--only", kind])
    assert done.exit_code == status, done.output
    assert out.exists() == (status == 0)
    assert ("cheap" in done.output) == (status == 2)
