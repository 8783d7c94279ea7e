"""Files that a build really wrote, spoilt on purpose: each reader says what is wrong, and where.

The spoiling is done to bytes and by other libraries, never by the writers.
"""

import json
import re
import shutil
import struct
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.outputs import build as building
from collarwright.outputs.cli import main
from collarwright.outputs.verify import ReadBackError
from collarwright.params.reading import read
from pypdf import PdfReader, PdfWriter, Transformation  # noqa: TID253 - spoils files with it
from pypdf.generic import NameObject, RectangleObject  # noqa: TID253

pytestmark = pytest.mark.kernel

EXAMPLE = Path(__file__).parents[2] / "examples" / "cold-coffee.toml"
Spoil = Callable[[Path], None]


# --- text: DXF and STEP ---------------------------------------------------------------------------


def text(old: str, new: str, count: int = 1) -> Spoil:
    """Put another text in a text's place."""

    def spoil(path: Path) -> None:
        before = path.read_text("cp1252")
        assert old in before
        path.write_text(before.replace(old, new, count), "cp1252")

    return spoil


def matched(pattern: str, change: Callable[[re.Match[str]], str], count: int = 1) -> Spoil:
    """Change what a pattern finds."""

    def spoil(path: Path) -> None:
        after, made = re.subn(pattern, change, path.read_text("cp1252"), count=count)
        assert made
        path.write_text(after, "cp1252")

    return spoil


CIRCLE = r"(AcDbCircle\n 10\n)([\d.]+)(\n 20\n[\d.]+\n 30\n[\d.]+\n 40\n12\.7\n)"
"""A bore of 1 in: where it is across, and its radius."""


def half_off(found: re.Match[str]) -> str:
    return f"{found[1]}{float(found[2]) + 0.5}{found[3]}"


def drawn_twice(path: Path) -> None:
    data = path.read_text("cp1252")
    entity = re.search(r"  0\nCIRCLE\n  5\n(\w+)\n.*?(?=  0\n)", data, re.DOTALL)
    assert entity is not None
    again = entity[0].replace(f"  5\n{entity[1]}\n", "  5\nFFFF\n", 1)
    path.write_text(data.replace(entity[0], entity[0] + again, 1), "cp1252")


def without_circle(path: Path) -> None:
    data = path.read_text("cp1252")
    after = re.sub(r"  0\nCIRCLE\n.*?(?=  0\n)", "", data, count=1, flags=re.DOTALL)
    path.write_text(after, "cp1252")


DXF: dict[str, tuple[Spoil, str]] = {
    "unit tag": (text("$INSUNITS\n 70\n4", "$INSUNITS\n 70\n1"), r"\$INSUNITS is 1, not 4"),
    "bore 0.5 mm off": (
        matched(CIRCLE, half_off),
        r"tap-1 is 0\.500 mm off: drawn about 369\.148, 76\.200.*wanted about 368\.648, 76\.200",
    ),
    "bore 0.002 mm off": (
        matched(CIRCLE, lambda m: f"{m[1]}{float(m[2]) + 0.002:.6f}{m[3]}"),
        r"tap-1 is 0\.002 mm off",
    ),
    "open outline": (text(" 90\n4\n 70\n1\n", " 90\n4\n 70\n0\n"), "on OUTLINE is open"),
    "drawn twice": (drawn_twice, "is drawn twice"),
    "a bore short": (without_circle, "tap-1: no circle for it on BORE"),
    "other layer": (text("  8\nBORE\n", "  8\nOUTLINE\n"), "a circle stands on layer OUTLINE"),
    "a line type that is not there": (
        text("AcDbEntity\n  8\nOUTLINE\n", "AcDbEntity\n  8\nOUTLINE\n  6\nDASHED\n"),
        "the audit would mend",
    ),
}  # fmt: skip

POINT = r"(CARTESIAN_POINT\('',\()(-?[\d.E+-]+),(-?[\d.E+-]+),(-?[\d.E+-]+)\)"


def bore_moved(by: float) -> Spoil:
    """Move all points on the wall and the axis of the bore at 368.648, 76.2 along the board."""

    def change(found: re.Match[str]) -> str:
        x, y, z = (float(found[k]) for k in (2, 3, 4))
        if abs(x - 368.648) < 12.8 and abs(y - 76.2) < 12.8:
            x += by
        return f"{found[1]}{x!r},{y!r},{z!r})".upper()

    return matched(POINT, change, 0)


def longer(found: re.Match[str]) -> str:
    x, y, z = (float(found[k]) for k in (2, 3, 4))
    return f"{found[1]}{x + 0.5 if x > 930 else x!r},{y!r},{z!r})".upper()


def higher(found: re.Match[str]) -> str:
    """Lift what is more than 190 mm up, which is the lid's upper face, by 1 mm."""
    x, y, z = (float(found[k]) for k in (2, 3, 4))
    return f"{found[1]}{x!r},{y!r},{z + 1 if z > 190 else z!r})".upper()


def swapped(one: str, other: str) -> Spoil:
    """Let two parts of an assembly bear each other's name."""

    def spoil(path: Path) -> None:
        data = path.read_text("ascii")
        for old, new in ((one, "?"), (other, one), ("?", other)):
            assert f"'{old}'" in data
            data = data.replace(f"'{old}'", f"'{new}'")
        path.write_text(data, "ascii")

    return spoil


PART_STEP: dict[str, tuple[Spoil, str]] = {
    "unit": (text(".MILLI.", ".CENTI.", 9), "lengths in CENTI METRE, not in millimeters"),
    "renamed": (text("board-front", "board-frunt", 9), "holds board-frunt, not one product board-"),
    "bore 0.5 mm off": (
        bore_moved(0.5),
        r"lacks a hole of 25\.400 mm at 368\.648, 76\.200 mm, from 0\.000 to 19\.050 mm",
    ),
    "half a millimeter longer": (
        matched(POINT, longer, 0), r"its highest corner is at 940\.997.* not 940\.497"
    ),
    "a wider bore": (
        matched(r"(CYLINDRICAL_SURFACE\('',#\d+,)12\.7", lambda m: f"{m[1]}12.8"),
        r"has a hole of 25\.600 mm",
    ),
    "wider circles alone": (
        matched(r"(= CIRCLE\('',#\d+,)12\.7\)", lambda m: f"{m[1]}12.8)", 0), "encloses .* mm3, not"
    ),
    "no color": (text("COLOUR_RGB", "COLOR_RGB", 9), "COLOUR_RGB|has no color"),
    "other color": (
        matched(r"COLOUR_RGB\('',0.71", lambda _: "COLOUR_RGB('',0.31"), "has the color 0.310"
    ),
    "cut short": (lambda path: path.write_bytes(path.read_bytes()[:-60]), "not a whole STEP file"),
}  # fmt: skip

ASSEMBLY: dict[str, tuple[Spoil, str]] = {
    "a renamed nut": (text("'nut-2'", "'nut-9'"), "lacks nut-2"),
    "two of one name": (text("'nut-2'", "'nut-1'"), "two parts of one name: nut-1"),
    "two taps' nuts swapped": (
        swapped("nut-1", "nut-2"), "nut-1: no axis goes through tap 1's bore; it is 101.600 mm off"
    ),
    "ring and nut swapped": (swapped("ring-1", "nut-1"), "nut-1: reaches from .* not from"),
    "two boards swapped": (swapped("board-front", "board-back"), "board-front: its"),
    "a part too many": (text("'bracket-front-left'", "'bracket-top'"), "has bracket-top, which is"),
    "a moved lid": (
        matched(POINT, higher, 0),
        r"lid: its highest corner in the collar is at .* 197\.850 mm, not .* 196\.850 mm",
    ),
    "unit": (text(".MILLI.", "$", 9), "lengths in METRE, MILLI METRE, not in mill"),
}  # fmt: skip


# --- STL ------------------------------------------------------------------------------------------


def triangles(data: bytes) -> list[list[float]]:
    return [
        list(struct.unpack_from("<12f", data, 84 + 50 * k)) for k in range((len(data) - 84) // 50)
    ]


def meshed(change: Callable[[list[list[float]]], list[list[float]]]) -> Spoil:
    """Change the triangles of an STL file: normal and three corners each."""

    def spoil(path: Path) -> None:
        data = path.read_bytes()
        after = change(triangles(data))
        body = b"".join(struct.pack("<12fH", *each, 0) for each in after)
        path.write_bytes(data[:80] + struct.pack("<I", len(after)) + body)

    return spoil


def scaled(by: float) -> Spoil:
    return meshed(lambda all_: [[*each[:3], *(by * v for v in each[3:])] for each in all_])


def stl_bore_moved(all_: list[list[float]]) -> list[list[float]]:
    moved: list[list[float]] = []
    for each in all_:
        corners = [each[k : k + 3] for k in (3, 6, 9)]
        corners = [
            [x + 0.5 if abs(x - 368.648) < 12.8 and abs(y - 76.2) < 12.8 else x, y, z]
            for x, y, z in corners
        ]
        moved.append([*each[:3], *corners[0], *corners[1], *corners[2]])
    return moved


def turned(all_: list[list[float]]) -> list[list[float]]:
    first = all_[0]
    return [[*first[:3], *first[6:9], *first[3:6], *first[9:]], *all_[1:]]


def stretched(all_: list[list[float]]) -> list[list[float]]:
    return [
        [*each[:3], *(v + 0.5 if k % 3 == 1 and v > 139 else v for k, v in enumerate(each[3:]))]
        for each in all_
    ]


STL: dict[str, tuple[Spoil, str]] = {
    "a missing triangle": (meshed(lambda all_: all_[1:]), "is not closed"),
    "cut short": (lambda path: path.write_bytes(path.read_bytes()[:-50]), "not those of"),
    "a triangle turned": (meshed(turned), "not closed|face inward"),
    "inches": (scaled(1 / 25.4), "its highest corner is at"),
    "bore 0.5 mm off": (meshed(stl_bore_moved), "on no hole's wall and no edge"),
    "half a millimeter wider": (meshed(stretched), r"its highest corner is at .*140\.200"),
    "another body": (
        meshed(lambda all_: all_ + [[*e[:3], *(v + 2000 for v in e[3:])] for e in all_]),
        "has 2 bodies, not 1",
    ),
    "another part's": (
        lambda path: path.write_bytes((path.parent / "board-back.stl").read_bytes()),
        "says 'board-back, millimeters' of itself, not board-front",
    ),
    "no triangles": (meshed(lambda _: []), "has no triangles"),
    "no number": (
        meshed(lambda all_: [[*all_[0][:3], float("nan"), *all_[0][4:]], *all_[1:]]), "is no number"
    ),
}  # fmt: skip


# --- PDF ------------------------------------------------------------------------------------------


def pages(change: Callable[[PdfWriter], object]) -> Spoil:
    """Change a PDF with a library of its own."""

    def spoil(path: Path) -> None:
        writer = PdfWriter(clone_from=PdfReader(path))
        change(writer)
        writer.write(path)

    return spoil


def each_page(by: Transformation) -> Spoil:
    return pages(lambda writer: [page.add_transformation(by) for page in writer.pages])


def on_a4(writer: PdfWriter) -> None:
    for page in writer.pages:
        page.mediabox = page.cropbox = RectangleObject((0, 0, 841.89, 595.276))


def unbound_font(writer: PdfWriter) -> None:
    for font in writer.pages[0]["/Resources"]["/Font"].values():  # type: ignore[index]
        descriptor = font.get_object()["/FontDescriptor"].get_object()
        for key in [key for key in descriptor if key.startswith("/FontFile")]:
            del descriptor[key]


def wish_gone(writer: PdfWriter) -> None:
    del writer.root_object["/ViewerPreferences"]


def page_gone(writer: PdfWriter) -> None:
    writer.remove_page(1)


def turned_page(writer: PdfWriter) -> None:
    writer.pages[0][NameObject("/Rotate")] = NameObject("90")


POINTS = 72 / 25.4
PDF: dict[str, tuple[Spoil, str]] = {
    "97 %": (each_page(Transformation().scale(0.97)), "'check 100 mm' is 97.00 mm long"),
    "99.9 %": (each_page(Transformation().scale(0.999)), "'check 100 mm' is 99.90 mm long"),
    "half a millimeter to the right": (
        each_page(Transformation().translate(0.5 * POINTS)), "tap-1: should be 25.40 mm wide at"
    ),
    "A4 for letter": (
        pages(on_a4), r"page 1: is 297\.00 x 210\.00 mm, not 279\.40 x 215\.90 or 215\.90 x 279\.40"
    ),
    "may be scaled": (pages(wish_gone), "not told to print without scaling"),
    "a font that is not inside": (pages(unbound_font), "is not in the file"),
    "a page short": (pages(page_gone), "is on 1 pages|does not say"),
    "another board's": (
        lambda path: path.write_bytes((path.parent / "board-right.pdf").read_bytes()),
        "does not say 'front board'",
    ),
    "cut short": (lambda path: path.write_bytes(path.read_bytes()[:400]), "cannot be read"),
}  # fmt: skip

FOAM_PDF: dict[str, tuple[Spoil, str]] = {
    name: PDF[name] for name in ("97 %", "A4 for letter", "may be scaled", "a page short")
} | {
    "half a millimeter to the right": (
        each_page(Transformation().translate(0.5 * POINTS)), "tap-1: no cross at its center"
    ),
    "another panel's": (
        lambda path: path.write_bytes((path.parent / "foam-back.pdf").read_bytes()),
        "does not say 'front foam panel'",
    ),
    "the board's": (
        lambda path: path.write_bytes((path.parent / "board-front.pdf").read_bytes()),
        "does not say 'face on the board up, seen from outside'",
    ),
}  # fmt: skip


# --- GLB ------------------------------------------------------------------------------------------


def in_tree(change: Callable[[dict[str, Any]], object]) -> Spoil:
    """Change the JSON of a GLB file."""

    def spoil(path: Path) -> None:
        data = path.read_bytes()
        size = struct.unpack_from("<I", data, 12)[0]
        tree, rest = json.loads(data[20 : 20 + size]), data[20 + size :]
        change(tree)
        words = json.dumps(tree).encode()
        words += b" " * (-len(words) % 4)
        head = struct.pack("<3I", 0x46546C67, 2, 20 + len(words) + len(rest))
        path.write_bytes(head + struct.pack("<2I", len(words), 0x4E4F534A) + words + rest)

    return spoil


def node(tree: dict[str, Any], name: str) -> dict[str, Any]:
    return next(each for each in tree["nodes"] if each.get("name") == name)


def moved(name: str, x: float) -> Spoil:
    place = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, x, 0, 0, 1]
    return in_tree(lambda tree: node(tree, name).update(matrix=place))


def fewer_triangles(tree: dict[str, Any]) -> None:
    mesh = next(each for each in tree["meshes"] if each["name"] == "board-left")
    tree["accessors"][mesh["primitives"][0]["indices"]]["count"] -= 3


def painted(tree: dict[str, Any]) -> None:
    surface = next(each for each in tree["materials"] if each["name"] == "foam")
    surface["pbrMetallicRoughness"]["baseColorFactor"] = [0.1, 0.2, 0.3, 1.0]


def in_millimeters(tree: dict[str, Any]) -> None:
    node(tree, "collar")["matrix"] = [1e3, 0, 0, 0, 0, 0, -1e3, 0, 0, 1e3, 0, 0, 0, 0, 0, 1]


GLB: dict[str, tuple[Spoil, str]] = {
    "millimeters": (in_tree(in_millimeters), "board-front: its highest corner is at 94"),
    "z up": (
        in_tree(lambda t: node(t, "collar").update(matrix=[float(k % 5 == 0) for k in range(16)])),
        "board-front: its",
    ),
    "a renamed part": (
        in_tree(lambda t: node(t, "faucet-2").update(name="tap-2")), "lacks faucet-2"
    ),
    "a name twice": (in_tree(lambda t: node(t, "nut-2").update(name="nut-1")), "of one name"),
    "a board 0.5 mm off": (moved("board-left", 0.0005), "board-left: its lowest corner"),
    "a nut 0.5 mm off": (moved("nut-3", 0.0005), "nut-3: its axis is at"),
    "the manifold 0.5 mm off": (moved("manifold", 0.0005), "manifold: its lowest corner"),
    "a missing triangle": (in_tree(fewer_triangles), "board-left is not closed"),
    "other color": (in_tree(painted), "foam-.* has the color"),
    "cut short": (lambda path: path.write_bytes(path.read_bytes()[:-4]), "bytes, not the"),
}  # fmt: skip


# --- JSON -----------------------------------------------------------------------------------------


def told(change: Callable[[dict[str, Any]], object]) -> Spoil:
    """Change what ``summary.json`` says."""

    def spoil(path: Path) -> None:
        data = json.loads(path.read_text("utf-8"))
        change(data)
        path.write_text(json.dumps(data), "utf-8")

    return spoil


def stray(path: Path) -> None:
    (path.parent / "cut/board-front-copy.dxf").write_text("0\nEOF\n")


def changed_file(path: Path) -> None:
    file = path.parent / "cut/board-back.dxf"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\n", 1)[:-1] + b" ")


def one_gone(path: Path) -> None:
    (path.parent / "cut/foam-left.dxf").unlink()


SUMMARY: dict[str, tuple[Spoil, str]] = {
    "a key gone": (
        told(lambda d: d["boards"][0].pop("width_mm")),
        r"does not fit the schema at \$\.boards\[0\]: 'width_mm' is a required",
    ),
    "a text for a number": (
        told(lambda d: d["boards"][0].update(width_mm="140 mm")),
        r"schema at \$\.boards\[0\]\.width_mm: '140 mm' is not of type",
    ),
    "0.5 mm longer": (
        told(lambda d: d["boards"][1].update(long_point_mm=d["boards"][1]["long_point_mm"] + 0.5)),
        r"board 2: long_point_mm is 53\d\.\d+, not 53\d\.\d+ as laid out",
    ),
    "a bore 0.5 mm off": (
        told(lambda d: d["boards"][0]["holes"][0].update(u_mm=369.148)),
        r"board-front's hole 1: u_mm is 369\.148, not 368\.648",
    ),
    "another verdict": (
        told(lambda d: d.update(verdict="fail")), r"\$\.verdict is 'fail', not '"
    ),
    "a wrong hash": (
        told(lambda d: d["files"][0].update(sha256="0" * 64)),
        "another sha256 for cut/board-back.dxf",
    ),
    "a wrong length": (
        told(lambda d: d["files"][0].update(bytes=7)), "says that cut/board-back.dxf has 7 bytes"
    ),
    "a file that is not there": (one_gone, "lists cut/foam-left.dxf, which is not there"),
    "a file that is not listed": (stray, "does not list cut/board-front-copy.dxf"),
    "a file changed after": (changed_file, "another sha256 for cut/board-back.dxf"),
    "no number": (text('"width_mm": 9', '"width_mm": NaN, "x": 9'), "has NaN for a number"),
    "a key twice": (text('"format": 1', '"format": 1, "format": 1'), "the key format twice"),
    "cut short": (lambda path: path.write_bytes(path.read_bytes()[:-3]), "is not JSON"),
}  # fmt: skip

CASES = [
    (name, f"{kind}, {case}", spoil, said)
    for kind, name, cases in (
        ("DXF", "cut/board-front.dxf", DXF),
        ("STEP", "model/board-front.step", PART_STEP),
        ("assembly", "model/collar.step", ASSEMBLY),
        ("STL", "model/board-front.stl", STL),
        ("PDF", "templates/board-front.pdf", PDF),
        ("foam PDF", "templates/foam-front.pdf", FOAM_PDF),
        ("GLB", "model/collar.glb", GLB),
        ("JSON", "summary.json", SUMMARY),
    )
    for case, (spoil, said) in cases.items()
]


@pytest.fixture(scope="module")
def again(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., list[str]]:
    """Build the example once; return what spoils a copy of it and reads that back.

    The reading back is the build's own call, with the arguments it gave.
    """
    calls: list[tuple[Any, ...]] = []
    kept = tmp_path_factory.mktemp("kept") / "out"
    real = building.verify

    def watched(root: Path, *rest: Any, **named: Any) -> None:
        shutil.copytree(root, kept)
        calls.append((rest, named))
        real(root, *rest, **named)

    project, source = read(EXAMPLE)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(building, "verify", watched)
        building.build(project, source, kept.with_name("built"), building.Options())
    ((_, *rest), named), = calls  # fmt: skip

    def check(root: Path, spoil: Spoil, name: str) -> list[str]:
        shutil.copytree(kept, root)
        spoil(root / name)
        try:
            real(root, [name], *rest, **named)
        except ReadBackError as error:
            return list(error.differences)
        return []

    return check


@pytest.mark.parametrize(
    ("name", "spoil", "said"),
    [(name, spoil, said) for name, _, spoil, said in CASES],
    ids=[case for _, case, _, _ in CASES],
)
def test_a_spoilt_file_is_told(
    again: Callable[..., list[str]], tmp_path: Path, name: str, spoil: Spoil, said: str
) -> None:
    found = again(tmp_path / "out", spoil, name)
    assert all(each.startswith(f"{name}: ") for each in found)
    assert any(re.search(said, each) for each in found), found


def test_a_file_that_is_gone_is_told(again: Callable[..., list[str]], tmp_path: Path) -> None:
    name = "cut/foam-left.dxf"
    assert again(tmp_path / "out", Path.unlink, name) == [
        f"{name}: cannot be read: No such file or directory"
    ]


def test_what_is_not_spoilt_passes(again: Callable[..., list[str]], tmp_path: Path) -> None:
    assert again(tmp_path / "out", lambda _: None, "summary.json") == []


@pytest.mark.parametrize(
    ("name", "spoil", "said"),
    [
        ("cut/board-front.dxf", *DXF["bore 0.5 mm off"]),
        ("model/board-front.step", *PART_STEP["bore 0.5 mm off"]),
        ("model/collar.step", *ASSEMBLY["a renamed nut"]),
        ("model/board-front.stl", *STL["a missing triangle"]),
        ("templates/board-front.pdf", *PDF["97 %"]),
        ("model/collar.glb", *GLB["a renamed part"]),
        ("summary.json", *SUMMARY["a key gone"]),
    ],
)
def test_a_build_that_writes_a_spoilt_file_ends_with_3_and_leaves_the_folder(
    name: str,
    spoil: Spoil,
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "mine.txt").write_text("mine")
    real = building.verify

    def spoilt(root: Path, *rest: Any, **named: Any) -> None:
        spoil(root / name)
        real(root, *rest, **named)

    monkeypatch.setattr(building, "verify", spoilt)
    # of what is written only the spoilt file's kind is asked for; the summary is there with any
    kind = name.partition("/")[0] if "/" in name else "cut"
    words = ["collarwright", "build", str(EXAMPLE), "--out", str(out), "--only", kind]
    monkeypatch.setattr("sys.argv", words)
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 3
    heard = capsys.readouterr()
    assert name in heard.err
    assert re.search(said, heard.err)
    assert "Traceback" not in heard.err + heard.out
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
    assert [path.name for path in out.iterdir()] == ["mine.txt"]
