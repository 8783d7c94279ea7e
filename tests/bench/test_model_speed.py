"""How long ``model/`` takes after the imports, beside bare kernel calls for the same parts.

Prints numbers and judges none of them: run with ``-m bench -s``. The floor below makes, writes
and meshes the same solids with nothing around it: no layout, no checks, no names for people, no
settled order of records. It is judged only for doing the same work: its volumes are the model's.
"""

import math
import resource
import statistics
import time
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout
from collarwright.outputs import model

pytestmark = [pytest.mark.bench, pytest.mark.kernel]

REPEATS = 9
LENGTHS = {3: "37 in", 24: "80 in"}
SHANK_BORE, TAIL = 6.5, (26.67, 22.225)


def occ(module: str, name: str) -> Any:
    return getattr(import_module(f"OCP.{module}"), name)


class Floor:
    """Bare kernel calls. Every part is made in its place, each by itself."""

    def __init__(self) -> None:
        self.point, self.vector = occ("gp", "gp_Pnt"), occ("gp", "gp_Vec")
        self.axis, self.way = occ("gp", "gp_Ax2"), occ("gp", "gp_Dir")
        self.polygon = occ("BRepBuilderAPI", "BRepBuilderAPI_MakePolygon")
        self.face = occ("BRepBuilderAPI", "BRepBuilderAPI_MakeFace")
        self.push = occ("BRepPrimAPI", "BRepPrimAPI_MakePrism")
        self.box_ = occ("BRepPrimAPI", "BRepPrimAPI_MakeBox")
        self.cylinder = occ("BRepPrimAPI", "BRepPrimAPI_MakeCylinder")
        self.cut_ = occ("BRepAlgoAPI", "BRepAlgoAPI_Cut")
        self.list = occ("TopTools", "TopTools_ListOfShape")
        occ("Message", "Message").DefaultMessenger_s().RemovePrinters(
            occ("Message", "Message_PrinterOStream").get_type_descriptor_s()
        )

    def rod(self, x: float, z: float, y: float, diameter: float, length: float) -> Any:
        axis = self.axis(self.point(x, y, z), self.way(0, 1, 0))
        return self.cylinder(axis, diameter / 2, length).Shape()

    def cut(self, shape: Any, tools: list[Any]) -> Any:
        arguments, others = self.list(), self.list()
        arguments.Append(shape)
        for tool in tools:
            others.Append(tool)
        operation = self.cut_()
        operation.SetArguments(arguments)
        operation.SetTools(others)
        operation.Build()
        return operation.Shape()

    def parts(self, layout: Layout) -> Iterator[tuple[str, Any, bool]]:
        taps = layout.taps
        t, w = layout.boards[0].thickness, layout.boards[0].width
        for board in layout.boards:
            outline = self.polygon()
            for x, y in board.plan:
                outline.Add(self.point(x, y, 0))
            outline.Close()
            face = self.face(outline.Wire(), True).Face()
            shape = self.push(face, self.vector(0, 0, w)).Shape()
            if board.side == "front":
                shape = self.cut(shape, [self.rod(p.u, p.v, -1, p.bore, t + 2) for p in taps])
            yield f"board-{board.side}", shape, True
        width, depth = layout.boards[0].long_point, layout.boards[1].long_point
        f = layout.panels[0].thickness
        places = {
            "front": (t, t),
            "right": (width - t - f, t + f),
            "back": (t, depth - t - f),
            "left": (t, t + f),
        }
        for panel in layout.panels:
            across = panel.side in ("front", "back")
            sizes = (panel.length, f) if across else (f, panel.length)
            shape = self.box_(self.point(*places[panel.side], 0), *sizes, w).Shape()
            if panel.side == "front":
                pockets = [self.rod(p.u, p.v, t - 1, p.pocket or 0, f + 2) for p in taps]
                shape = self.cut(shape, pockets)
            yield f"foam-{panel.side}", shape, True
        for tap in taps:
            shank, n = tap.shank, tap.number
            assert shank is not None
            assert tap.washer_diameter is not None
            thread, front = shank.thread_diameter, shank.flange_thickness
            inside, collar = tap.wall + tap.washers, shank.collar_projection
            long = shank.length + front + collar
            rod = self.rod(tap.u, tap.v, -front - collar, thread, long)
            flange = self.rod(tap.u, tap.v, -front, shank.flange_diameter, front)
            body = occ("BRepAlgoAPI", "BRepAlgoAPI_Fuse")(rod, flange).Shape()
            bore = self.rod(tap.u, tap.v, -front - collar - 1, SHANK_BORE, long + 2)
            yield f"shank-{n}", self.cut(body, [bore]), False
            rings = {
                "ring": (
                    -front - shank.ring_length,
                    shank.ring_length,
                    shank.ring_diameter,
                    thread,
                ),
                "washer": (tap.wall, tap.washers, tap.washer_diameter, thread),
                "nut": (inside, shank.nut_thickness, shank.nut_across_flats, thread),
                "tail-nut": (shank.length - shank.tail_nut_length, shank.tail_nut_length, *TAIL),
                "tailpiece": (shank.length, shank.tailpiece_length, 10.0, SHANK_BORE),
            }
            for word, (y, length, outer, inner) in rings.items():
                hole = self.rod(tap.u, tap.v, y - 1, inner, length + 2)
                whole = self.rod(tap.u, tap.v, y, outer, length)
                yield f"{word}-{n}", self.cut(whole, [hole]), False

    def write(self, layout: Layout, folder: Path) -> None:
        parts = list(self.parts(layout))
        text = occ("TCollection", "TCollection_ExtendedString")
        document = occ("TDocStd", "TDocStd_Document")(text("XmlOcaf"))
        shapes = occ("XCAFDoc", "XCAFDoc_DocumentTool").ShapeTool_s(document.Main())
        root = shapes.NewShape()
        for name, shape, _ in parts:
            label = shapes.AddShape(shape, False)
            occ("TDataStd", "TDataStd_Name").Set_s(label, text(name))
            shapes.AddComponent(root, label, occ("TopLoc", "TopLoc_Location")())
        shapes.UpdateAssemblies()
        self.step(folder / "all.step", document, "Transfer")
        stl = occ("StlAPI", "StlAPI_Writer")()
        stl.ASCIIMode = False
        for name, shape, made in parts:
            if made:
                self.step(folder / f"{name}.step", shape, "")
                occ("BRepMesh", "BRepMesh_IncrementalMesh")(shape, 0.1, False, 0.2, False)
                stl.Write(shape, str(folder / f"{name}.stl"))

    @staticmethod
    def step(path: Path, thing: Any, document: str) -> None:
        if document:
            writer = occ("STEPCAFControl", "STEPCAFControl_Writer")()
            writer.Transfer(thing)
        else:
            writer = occ("STEPControl", "STEPControl_Writer")()
            as_is = occ("STEPControl", "STEPControl_StepModelType").STEPControl_AsIs
            writer.Transfer(thing, as_is)
        occ("Interface", "Interface_Static").SetIVal_s("write.surfacecurve.mode", 0)
        writer.Write(str(path))


def volume(shape: Any) -> float:
    found = occ("GProp", "GProp_GProps")()
    occ("BRepGProp", "BRepGProp").VolumeProperties_s(shape, found)
    return found.Mass()


def median_ms(do: Callable[[], object]) -> float:
    do()
    times: list[float] = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        do()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def laid_out(lay: Callable[..., Layout], taps: int) -> Layout:
    long = LENGTHS[taps]
    return lay(lip={"front": long, "back": long}, taps={"count": taps, "handle": None})


def test_model_beside_bare_kernel_calls(
    lay: Callable[..., Layout], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import_module("collarwright.geometry.solids").load()
    rows: list[tuple[int, int, float, float]] = []
    for taps in LENGTHS:
        layout = laid_out(lay, taps)
        solids = import_module("collarwright.geometry.solids.parts").parts(layout)
        ours = [part for part in solids if not part.reference]
        theirs = {name: volume(shape) for name, shape, _ in Floor().parts(layout)}
        assert {part.name for part in ours} == set(theirs)
        for part in ours:
            # The floor's nuts are round; everything else is the same solid.
            share = 1 if part.group != "nut" else _hexagon_over_circle(layout)
            assert part.flat.Volume() == pytest.approx(theirs[part.name] * share, rel=1e-9)
        floor = median_ms(lambda layout=layout: Floor().write(layout, tmp_path))
        model_ms = median_ms(lambda layout=layout: model.write(layout, tmp_path, "bench"))
        rows.append((taps, len(ours), floor, model_ms))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    with capsys.disabled():
        print(f"\n{'taps':>5}{'parts':>7}{'floor ms':>10}{'model ms':>10}{'ratio':>7}")
        for taps, count, floor, model_ms in rows:
            print(f"{taps:5}{count:7}{floor:10.1f}{model_ms:10.1f}{model_ms / floor:7.2f}")
        growths = [rows[1][k] / rows[0][k] for k in (2, 3)]
        print(f"24 over 3 taps: floor {growths[0]:.1f}, model {growths[1]:.1f}")
        print(f"largest memory of the process: {peak:.0f} MiB")


def _hexagon_over_circle(layout: Layout) -> float:
    shank = layout.taps[0].shank
    assert shank is not None
    hole = math.pi * shank.thread_diameter**2 / 4
    flats = shank.nut_across_flats
    return (math.sqrt(3) / 2 * flats**2 - hole) / (math.pi * flats**2 / 4 - hole)
