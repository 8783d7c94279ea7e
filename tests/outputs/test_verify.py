"""What does not read back right is not handed over: exit status 3, DIR untouched, in words."""

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.zones import zones
from collarwright.outputs import build as building
from collarwright.outputs import cut
from collarwright.outputs.cli import main
from collarwright.outputs.summary import summary
from collarwright.outputs.verify import ReadBackError, verify
from collarwright.params.reading import read

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
pytestmark = pytest.mark.kernel


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the example once; its lists are spoilt in ``test_lists``."""
    out = tmp_path_factory.mktemp("good") / "out"
    project, source = read(EXAMPLE)
    kinds = tuple(kind for kind in building.KINDS if kind != "lists")
    building.build(project, source, out, building.Options(only=kinds))
    return out


def check(root: Path) -> None:
    """Read a built folder back."""
    project, source = read(EXAMPLE)
    evaluation = evaluate(project)
    files = [path.relative_to(root).as_posix() for path in root.rglob("*") if path.is_file()]
    verify(
        root,
        [name for name in files if name != "summary.json"],
        evaluation.layout,
        summary(project, evaluation, source.file, source.sha256),
        show=project.show,
        paper="letter",
        sha256=source.sha256,
        warnings=(),
        zones=zones(project, evaluation.layout),
    )


def text(old: str, new: str, count: int = 1) -> Callable[[Path], None]:
    """Return a change of a text file."""

    def change(path: Path) -> None:
        before = path.read_text()
        assert old in before
        path.write_text(before.replace(old, new, count))

    return change


def swap(other: str) -> Callable[[Path], None]:
    """Return a change that puts another file in a file's place."""
    return lambda path: path.write_bytes((path.parent / other).read_bytes())


def cut_short(path: Path) -> None:
    """Take one triangle, or the last lines, off a file."""
    path.write_bytes(path.read_bytes()[:-50])


@pytest.mark.parametrize(
    ("name", "spoil", "said"),
    [
        (
            "cut/board-front.dxf",
            text("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1"),
            "INSUNITS is 1, not 4",
        ),
        ("cut/board-front.dxf", swap("board-back.dxf"), "board-front.dxf"),
        ("cut/foam-back.dxf", cut_short, "foam-back.dxf"),
        ("templates/board-front.pdf", swap("board-right.pdf"), "front"),
        ("templates/board-front-inner.pdf", swap("board-front.pdf"), "mirrored"),
        ("templates/board-front.pdf", swap("board-front-inner.pdf"), "outer face"),
        ("model/board-front.step", text("board-front", "board-frunt", 9), "not one product"),
        ("model/board-front.step", swap("board-back.step"), "not one product"),
        ("model/collar.step", text(".MILLI.", ".CENTI.", 9), "not in millimeters"),
        ("model/collar.step", text("'board-left'", "'board-port'", 9), "lacks board-left"),
        ("model/collar.step", text("'lid'", "'top'", 9), "lacks lid"),
        ("model/collar.step", cut_short, "not a whole STEP file"),
        ("model/board-front.stl", cut_short, "triangles"),
        ("model/board-front.stl", swap("board-back.stl"), "encloses"),
        ("model/foam-left.stl", swap("foam-front.stl"), "lowest corner|encloses|highest"),
    ],
)
def test_a_spoilt_file_is_told_by_its_name(
    good: Path, tmp_path: Path, name: str, spoil: Callable[[Path], None], said: str
) -> None:
    root = tmp_path / "out"
    shutil.copytree(good, root)
    check(root)
    spoil(root / name)
    with pytest.raises(ReadBackError, match=said) as caught:
        check(root)
    assert all(each.startswith(f"{name}: ") for each in caught.value.differences)


def test_a_template_that_nobody_knows_is_told(good: Path, tmp_path: Path) -> None:
    root = tmp_path / "out"
    shutil.copytree(good, root)
    shutil.copy(root / "templates/test-page.pdf", root / "templates/other.pdf")
    with pytest.raises(ReadBackError) as caught:
        check(root)
    assert caught.value.differences == ("templates/other.pdf: there is no reader for this file",)


def test_a_build_that_does_not_read_back_ends_with_3_and_leaves_the_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    words = ["collarwright", "build", str(EXAMPLE), "--out", str(out), "--only", "cut"]
    monkeypatch.setattr("sys.argv", words)
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 0
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    real: Any = cut.write_dxf

    def half_a_millimeter_off(sheet: Any, *rest: Any) -> None:
        circles = tuple(type(c)(**{**_fields(c), "x": c.x + 0.5}) for c in sheet.circles)
        real(type(sheet)(**{**_fields(sheet), "circles": circles}), *rest)

    monkeypatch.setattr(cut, "write_dxf", half_a_millimeter_off)
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 3
    said = capsys.readouterr().err
    assert "cut/board-front.dxf" in said
    assert "does not read back right" in said
    assert before == {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def _fields(thing: Any) -> dict[str, Any]:
    return {name: getattr(thing, name) for name in thing.__dataclass_fields__}


def moved(layout: Any, **changes: Any) -> Any:
    """Return a layout in which something stands elsewhere than in the files."""
    return replace(layout, **changes)


def assembly_faults(root: Path, change: Callable[[Any], Any]) -> str:
    """Hold the good assembly and parts against a changed layout; return what is said."""
    project, source = read(EXAMPLE)
    evaluation = evaluate(project)
    files = ["model/collar.step", "model/board-front.step"]
    with pytest.raises(ReadBackError) as caught:
        verify(
            root,
            files,
            change(evaluation.layout),
            summary(project, evaluation, source.file, source.sha256),
            show=project.show,
            paper="letter",
            sha256=source.sha256,
            warnings=(),
        )
    return str(caught.value)


def test_places_in_the_assembly_are_compared(good: Path) -> None:
    def panels(layout: Any) -> Any:
        return moved(layout, panels=tuple(replace(p, start=p.start + 1) for p in layout.panels))

    def taps(layout: Any) -> Any:
        return moved(layout, taps=tuple(replace(t, u=t.u + 0.5) for t in layout.taps))

    def manifold(layout: Any) -> Any:
        return moved(layout, manifold=replace(layout.manifold, v=layout.manifold.v + 2))

    def none(layout: Any) -> Any:
        return moved(layout, manifold=None)

    def no_lid(layout: Any) -> Any:
        return moved(layout, reference=replace(layout.reference, lid=None))

    assert "has lid, which is not in the layout" in assembly_faults(good, no_lid)
    assert "foam-left: its lowest corner in the collar" in assembly_faults(good, panels)
    assert "shank-2: no axis goes through" in assembly_faults(good, taps)
    assert "manifold: its lowest corner in the collar" in assembly_faults(good, manifold)
    assert "has manifold, which is not in the layout" in assembly_faults(good, none)


def test_a_pilot_from_the_other_face_or_of_another_depth_is_told(good: Path) -> None:
    def changed(**how: Any) -> Callable[[Any], Any]:
        def change(layout: Any) -> Any:
            front, *rest = layout.boards
            holes = tuple(replace(h, **how) if h.purpose == "pilot" else h for h in front.holes)
            return moved(layout, boards=(replace(front, holes=holes), *rest))

        return change

    assert "lacks a hole of" in assembly_faults(good, changed(face="outer"))
    assert "lacks a hole of" in assembly_faults(good, changed(depth=5.0))
