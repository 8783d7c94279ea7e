"""STEP files as the kernel's own reader of assemblies understands them, and FreeCAD if it is there.

The kernel made the solids, but what it reads here are products, places, colors and faces out of
the file; what they should be is worked out by hand.
"""

import itertools
import json
import math
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.kernel

MM = 1e-3
SHARE = 1e-6
SIDES = ("front", "right", "back", "left")
PARTS = [f"{kind}-{side}" for kind in ("board", "foam") for side in SIDES]
BOUGHT = ("shank", "ring", "washer", "nut", "tail-nut", "tailpiece")
TAPS = (1, 2, 3, 4)
DARK_TO_LIGHT = 0.005
"""How far two groups' lightness (ITU-R BT.709, of 1) has to differ to be told apart in gray."""

Box = tuple[float, ...]


@dataclass(frozen=True)
class Found:
    """One part as the kernel read it, mm, in its place: axes are of its round holes."""

    name: str
    product: str
    color: tuple[float, float, float] | None
    volume: float
    solids: int
    box: Box
    axes: frozenset[tuple[float, ...]]


def ocp(path: str) -> Any:
    """Return something of the kernel's, by its module and name."""
    module, name = path.split(".")
    return getattr(import_module(f"OCP.{module}"), name)


def called(label: Any) -> str:
    """Return the name that a label has."""
    held = ocp("TDataStd.TDataStd_Name")()
    there = label.FindAttribute(ocp("TDataStd.TDataStd_Name").GetID_s(), held)
    return str(held.Get().ToExtString()) if there else ""


def labels(fill: Callable[[Any], Any]) -> list[Any]:
    """Return what a function puts into a sequence of labels."""
    sequence = ocp("TDF.TDF_LabelSequence")()
    fill(sequence)
    return [sequence.Value(i + 1) for i in range(sequence.Length())]


def color(colors: Any, label: Any) -> tuple[float, float, float] | None:
    """Return a label's color, sRGB."""
    held, kinds = ocp("Quantity.Quantity_Color")(), ocp("XCAFDoc.XCAFDoc_ColorType")
    for kind in (kinds.XCAFDoc_ColorSurf, kinds.XCAFDoc_ColorGen):
        if colors.GetColor_s(label, kind, held):
            red, green, blue = held.Values(ocp("Quantity.Quantity_TypeOfColor").Quantity_TOC_sRGB)
            return red, green, blue
    return None


def measured(name: str, product: str, tint: tuple[float, float, float] | None, shape: Any) -> Found:
    """Measure one shape in its place."""
    mass = ocp("GProp.GProp_GProps")()
    ocp("BRepGProp.BRepGProp").VolumeProperties_s(shape, mass)
    box = ocp("Bnd.Bnd_Box")()
    ocp("BRepBndLib.BRepBndLib").AddOptimal_s(shape, box, False, False)
    axes: set[tuple[float, ...]] = set()
    kinds, topods = ocp("TopAbs.TopAbs_ShapeEnum"), ocp("TopoDS.TopoDS")
    faces = ocp("TopExp.TopExp_Explorer")(shape, kinds.TopAbs_FACE)
    while faces.More():
        face = ocp("BRepAdaptor.BRepAdaptor_Surface")(topods.Face_s(faces.Current()))
        if face.GetType() == ocp("GeomAbs.GeomAbs_SurfaceType").GeomAbs_Cylinder:
            round_ = face.Cylinder()
            at, way = round_.Axis().Location(), round_.Axis().Direction()
            values = (at.X(), at.Y(), at.Z(), way.X(), way.Y(), way.Z(), round_.Radius())
            axes.add(tuple(round(v, 6) for v in values))
        faces.Next()
    solids = ocp("TopExp.TopExp_Explorer")(shape, kinds.TopAbs_SOLID)
    count = 0
    while solids.More():
        count += 1
        solids.Next()
    return Found(name, product, tint, mass.Mass(), count, box.Get(), frozenset(axes))


def read(file: Path) -> tuple[str, list[str], list[Found]]:
    """Return the name of what a file holds, all its products' names, and its parts in place."""
    document = ocp("TDocStd.TDocStd_Document")(
        ocp("TCollection.TCollection_ExtendedString")("BinXCAF")
    )
    reader = ocp("STEPCAFControl.STEPCAFControl_Reader")()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    done = ocp("IFSelect.IFSelect_ReturnStatus").IFSelect_RetDone
    assert reader.ReadFile(str(file)) == done
    assert reader.Transfer(document)
    tools = ocp("XCAFDoc.XCAFDoc_DocumentTool")
    shapes, colors = tools.ShapeTool_s(document.Main()), tools.ColorTool_s(document.Main())
    (top,) = labels(shapes.GetFreeShapes)
    products = [called(each) for each in labels(shapes.GetShapes)]
    parts = labels(lambda sequence: shapes.GetComponents_s(top, sequence))
    if not parts:
        tint = color(colors, top)
        return called(top), products, [measured("", called(top), tint, shapes.GetShape_s(top))]
    found: list[Found] = []
    for each in parts:
        product = ocp("TDF.TDF_Label")()
        assert shapes.GetReferredShape_s(each, product)
        shape = shapes.GetShape_s(each)
        found.append(measured(called(each), called(product), color(colors, product), shape))
    return called(top), products, found


# --- what should be there, by hand ----------------------------------------------------------------


@dataclass(frozen=True)
class Wanted:
    """A part in place: its volume, the box about it, points on its round holes' axes, mm."""

    volume: float
    box: Box
    holes: tuple[tuple[float, float, float, float], ...] = ()


def in_plan(skewed: Any, side: str, u: float, inward: float) -> tuple[float, float]:
    """Return the point in plan at ``u`` along a board, ``inward`` behind its outer face."""
    (x, y), (a, b) = skewed.direction(side)
    return x + a * u - b * inward, y + b * u + a * inward


def around(points: list[tuple[float, float]], low: float, high: float) -> Box:
    """Return the box about points in plan and two heights."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), low, max(xs), max(ys), high


def standing(skewed: Any, side: str, us: tuple[float, float], inward: tuple[float, float],
             heights: tuple[float, float]) -> Box:  # fmt: skip
    """Return the box about an upright block along a board."""
    corners = [in_plan(skewed, side, u, t) for u, t in itertools.product(us, inward)]
    return around(corners, *heights)


def wanted(skewed: Any) -> dict[str, Wanted]:
    """Return every part whose sizes the build file gives."""
    made: dict[str, Wanted] = {}
    for side in SIDES:
        board, panel = skewed.board(side), skewed.panel(side)
        t, f, long, start = board.thickness, panel.thickness, board.length, panel.start
        plan = [
            in_plan(skewed, side, u, inward)
            for u, inward in ((0, 0), (long, 0), (board.inner[0], t), (long - board.inner[1], t))
        ]
        bores = [(*in_plan(skewed, side, u, 0), v, d) for u, v, d in skewed.bores(side)]
        made[board.name] = Wanted(board.volume, around(plan, 0, board.width), tuple(bores))
        ends = (start, start + panel.length)
        size = {"front": 70.0, "right": 70.0}
        cut = tuple((x, y, z, size.get(side, d)) for x, y, z, d in bores)
        box = standing(skewed, side, ends, (t, t + f), (0, panel.width))
        made[panel.name] = Wanted(panel.volume, box, cut)
    length, height, depth = skewed.sizes["manifold"]
    middle = skewed.board("back").length / 2
    made["manifold"] = Wanted(
        length * height * depth,
        standing(skewed, "back", (middle + 120 - length / 2, middle + 120 + length / 2),
                 (20, 20 + depth), (75 - height / 2, 75 + height / 2)),
    )  # fmt: skip
    wide, thin, tall = skewed.sizes["leaf"]
    for n, at in ((1, -300.0), (2, 300.0)):
        us = (middle + at - wide / 2, middle + at + wide / 2)
        box = standing(skewed, "back", us, (-thin, 0), (150 - tall, 150))
        made[f"hinge-{n}"] = Wanted(wide * thin * tall, box)
    low, high = skewed.lid
    sides = [b - a for a, b in zip(low, high, strict=True)]
    made["lid"] = Wanted(math.prod(sides), (*low, *high))
    outer, inner, thick = skewed.sizes["washer"]
    seats = [("front", each) for each in skewed.bores("front")]
    seats += [("right", each) for each in skewed.bores("right")]
    for n, (side, (u, v, _)) in enumerate(seats, 1):
        half = outer / 2
        (x0, y0), (x1, y1) = (in_plan(skewed, side, u, 20 + k) for k in (0, thick))
        _, (a, b) = skewed.direction(side)  # a disc reaches its radius times sin of its tilt
        xs, ys = (x0, x1), (y0, y1)
        box = (min(xs) - half * abs(a), min(ys) - half * abs(b), v - half,
               max(xs) + half * abs(a), max(ys) + half * abs(b), v + half)  # fmt: skip
        volume = math.pi / 4 * (outer**2 - inner**2) * thick
        made[f"washer-{n}"] = Wanted(volume, box, ((x0, y0, v, outer), (x0, y0, v, inner)))
    return made


def on_axis(hole: tuple[float, ...], axis: tuple[float, ...]) -> bool:
    """Whether a point lies on an axis, whose hole has the right size."""
    x, y, z, diameter = hole
    px, py, pz, a, b, c, radius = axis
    d = (x - px, y - py, z - pz)
    off = math.hypot(d[1] * c - d[2] * b, d[2] * a - d[0] * c, d[0] * b - d[1] * a)
    return off < MM and abs(2 * radius - diameter) < MM


def differs(found: Found, true: Wanted) -> list[str]:
    """Say how a part differs from what was worked out."""
    said: list[str] = []
    if found.volume != pytest.approx(true.volume, rel=SHARE):
        said.append(f"{found.volume:.1f} mm3, not {true.volume:.1f}")
    if found.box != pytest.approx(true.box, abs=MM):
        said.append(f"from and to {[round(v, 3) for v in found.box]}")
    said += [
        f"no hole of {h[3]:g} mm at {h[0]:.3f}, {h[1]:.3f}, {h[2]:.3f}"
        for h in true.holes
        if not any(on_axis(h, axis) for axis in found.axes)
    ]
    if len(found.axes) != len(true.holes):
        said.append(f"{len(found.axes)} holes, not {len(true.holes)}")
    if found.solids != 1:
        said.append(f"{found.solids} solids")
    return said


def lightness(rgb: tuple[float, float, float]) -> float:
    """Return how light a color is, from 0 to 1 (ITU-R BT.709 luma)."""
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2]


def faults(file: Path, skewed: Any) -> list[str]:
    """Say how an assembly differs from the collar worked out by hand."""
    top, products, found = read(file)
    said = [] if top == "collar" else [f"it is called {top}"]
    alone = {*PARTS, "manifold", "lid", "lip"}
    names = {*alone, "hinge-1", "hinge-2", *(f"{word}-{n}" for word in BOUGHT for n in TAPS)}
    there = [part.name for part in found]
    said += [f"twice: {name}" for name in sorted(names) if there.count(name) > 1]
    said += [f"missing: {name}" for name in sorted(names - set(there))]
    said += [f"unknown: {name}" for name in sorted(set(there) - names)]
    if sorted(products) != sorted(["collar", *alone, "hinge", *BOUGHT]):
        said.append(f"products: {', '.join(sorted(products))}")
    by_hand = wanted(skewed)
    groups: dict[str, set[tuple[float, float, float]]] = {}
    for part in found:
        if part.name in alone and part.product != part.name:
            said.append(f"{part.name} is a {part.product}")
        if part.name not in alone and part.name.rpartition("-")[0] != part.product:
            said.append(f"{part.name} is a {part.product}")
        if part.name in by_hand:
            said += [f"{part.name}: {each}" for each in differs(part, by_hand[part.name])]
        if part.color is None:
            said.append(f"{part.name} has no color")
        else:
            group = part.product.partition("-")[0] if part.product in PARTS else part.product
            groups.setdefault(group, set()).add(part.color)
    said += [f"{name} has {len(tints)} colors" for name, tints in groups.items() if len(tints) > 1]
    grays = sorted((lightness(next(iter(tints))), name) for name, tints in groups.items())
    said += [
        f"{a} and {b} look alike in gray"
        for (dark, a), (light, b) in itertools.pairwise(grays)
        if light - dark < DARK_TO_LIGHT
    ]
    return said


@pytest.fixture(scope="module")
def model(skewed: Any, built: Callable[..., Path]) -> Path:
    """The folder of the collar's model."""
    return built(skewed.text, "--only", "model") / "model"


@pytest.mark.published("Open CASCADE's STEPCAFControl_Reader; plane geometry by hand")
def test_the_assembly_is_what_was_worked_out(skewed: Any, model: Path) -> None:
    assert faults(model / "collar.step", skewed) == []


def test_the_lip_lies_where_the_tape_was_held(skewed: Any, model: Path) -> None:
    lip = next(part for part in read(model / "collar.step")[2] if part.name == "lip")
    xs, ys = zip(*skewed.lip, strict=True)
    x0, y0, _, x1, y1, top = lip.box
    assert (x0, y0, x1, y1) == pytest.approx((min(xs), min(ys), max(xs), max(ys)), abs=MM)
    assert top == pytest.approx(0, abs=MM)


@pytest.mark.parametrize("name", PARTS)
def test_a_parts_own_file_holds_that_part_lying_flat(skewed: Any, model: Path, name: str) -> None:
    top, products, (found,) = read(model / f"{name}.step")
    part = next(each for each in skewed.flats() if each.name == name)
    assert (top, products) == (name, [name])
    holes = [(x, y, 0.0, d) for _, x, y, d in part.rings]
    holes += [(x, y, 0.0, 2 * r) for cut in part.cuts for x, y, r in cut.circles]
    size = (part.length, part.width, part.thickness)
    assert differs(found, Wanted(part.volume, (0, 0, 0, *size), tuple(holes))) == []
    assert found.color is not None


# --- the judge can say no -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("'board-left'", "'board-port'", "missing: board-left"),
        ("'board-left'", "'board-right'", "twice: board-right"),
        ("SI_UNIT(.MILLI.,.METRE.)", "SI_UNIT(.CENTI.,.METRE.)", "board-front: 27946475"),
        ("COLOUR_RGB('',0.710000,0.510000", "COLOUR_RGB('',0.510000,0.710000", "colors"),
        ("STYLED_ITEM('color'", "CURVE_STYLE('color'", "has no color"),
    ],
)
def test_the_judge_sees_a_spoilt_file(
    skewed: Any, model: Path, tmp_path: Path, old: str, new: str, said: str
) -> None:
    text = (model / "collar.step").read_text("ascii")
    assert old in text
    count = 1 if old.startswith("COLOUR") else -1
    file = tmp_path / "spoilt.step"
    file.write_text(text.replace(old, new, count), "ascii")
    assert said in "\n".join(faults(file, skewed))


def test_the_judge_sees_one_bore_half_a_millimeter_off(
    skewed: Any, built: Callable[..., Path]
) -> None:
    other = built(skewed.one_bore_off, "--only", "model") / "model"
    said = faults(other / "collar.step", skewed)
    assert "no hole of 25 mm" in next(each for each in said if each.startswith("board-front"))
    assert {each.split(":")[0] for each in said} == {"board-front", "foam-front", "washer-2"}


def test_the_judge_sees_two_boards_in_each_others_place(
    skewed: Any, model: Path, tmp_path: Path
) -> None:
    text = (model / "collar.step").read_text("ascii")
    for old, new in (("-front'", "-#'"), ("-back'", "-front'"), ("-#'", "-back'")):
        text = text.replace(f"'board{old}", f"'board{new}")
    (tmp_path / "spoilt.step").write_text(text, "ascii")
    said = faults(tmp_path / "spoilt.step", skewed)
    assert {each.split(":")[0] for each in said} == {"board-front", "board-back"}


# --- FreeCAD --------------------------------------------------------------------------------------

FREECAD = next((c for c in ("freecadcmd", "FreeCADCmd") if shutil.which(c)), None)
ASK = """
import json, pathlib, FreeCAD, Import, Part
def about(name, shape):
    box = shape.BoundBox
    low, high = (box.XMin, box.YMin, box.ZMin), (box.XMax, box.YMax, box.ZMax)
    return [name, shape.Volume, low + high]
found = []
for file in {files!r}:
    document = FreeCAD.newDocument()
    Import.insert(file, document.Name)
    found += [about(each.Label, each.Shape) for each in document.Objects]
solids = [about("", solid) for solid in Part.read({assembly!r}).Solids]
pathlib.Path({answer!r}).write_text(json.dumps([found, solids]))
"""


@pytest.mark.skipif(FREECAD is None, reason="FreeCAD (freecadcmd) is not installed")
def test_freecad_finds_the_same_parts(skewed: Any, model: Path, tmp_path: Path) -> None:
    """Names from the parts' own files; of the assembly only its solids.

    FreeCAD 0.20 without its window dies on every assembly with names, also on two plain boxes.
    """
    assert FREECAD is not None
    script, answer = tmp_path / "ask.py", tmp_path / "answer.json"
    files = [str(model / f"{name}.step") for name in PARTS]
    assembly = str(model / "collar.step")
    script.write_text(ASK.format(files=files, assembly=assembly, answer=str(answer)))
    command = [FREECAD, str(script)]
    subprocess.run(command, capture_output=True, check=False, timeout=300, stdin=subprocess.DEVNULL)
    found, solids = json.loads(answer.read_text())
    for (name, volume, box), part in zip(found, skewed.flats(), strict=True):
        assert name == part.name
        assert volume == pytest.approx(part.volume, rel=SHARE)
        size = (part.length, part.width, part.thickness)
        assert box == pytest.approx((0, 0, 0, *size), abs=MM)
    for name, true in wanted(skewed).items():
        same = [box for _, volume, box in solids if volume == pytest.approx(true.volume, rel=SHARE)]
        assert any(box == pytest.approx(true.box, abs=0.1) for box in same), name
