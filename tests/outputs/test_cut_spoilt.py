"""Spoilt cut files: each fault is put into a good file and has to be named by the reader."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.judge.evaluate import Evaluation
from collarwright.outputs import cut
from collarwright.outputs.readback import dxf
from collarwright.outputs.summary import summary

ENCODING = "cp1252"

Spoil = Callable[[str], str]


@pytest.fixture(scope="module")
def good(
    judged: Callable[..., Evaluation],
    design_a: Callable[..., Any],
    tmp_path_factory: pytest.TempPathFactory,
) -> tuple[Path, dict[str, dict[str, Any]]]:
    """Cut files of design A, one bore 30 mm off the middle and an overlap in the foam."""
    changes: dict[str, Any] = {
        "taps": {"offset": "30 mm", "count": 2},
        "board": {"bracket": "bracket-2x2-in"},
        "hole": [
            {"side": "front", "height": "70 mm", "diameter": "10 mm", "offset": "98 mm"},
            {"side": "front", "height": "70 mm", "diameter": "10 mm", "offset": "200 mm"},
        ],
    }
    root = tmp_path_factory.mktemp("good")
    evaluation = judged(**changes)
    cut.write(evaluation.layout, root, show="mm")
    data = summary(design_a(**changes), evaluation, "x.toml", "0" * 64)
    return root / cut.FOLDER, {
        "board-front": data["boards"][0],
        "foam-front": data["foam"][0],
    }


@pytest.fixture
def faults(
    good: tuple[Path, dict[str, dict[str, Any]]], tmp_path: Path
) -> Callable[..., list[str]]:
    """Say what is wrong with a good file after it was spoilt."""
    folder, expected = good

    def find(part: str, spoil: Spoil, **options: Any) -> list[str]:
        before = (folder / f"{part}.dxf").read_text(ENCODING)
        after = spoil(before)
        assert after != before or options
        path = tmp_path / "spoilt.dxf"
        path.write_text(after, ENCODING)
        return dxf.compare(path, expected[part], **options)

    return find


# -- ways to spoil a file


def put(old: str, new: str) -> Spoil:
    """Replace a text that is there."""

    def spoil(text: str) -> str:
        assert old in text
        return text.replace(old, new)

    return spoil


def header(name: str, *pairs: str) -> Spoil:
    """Replace the value of a header variable; without pairs take the variable out."""

    def spoil(text: str) -> str:
        entry = re.compile(rf"  9\n\{name}\n(?: *\d+\n.*\n)+?(?=  9\n|  0\n)")
        assert entry.search(text)
        lines = "".join(f"{each}\n" for each in pairs)
        return entry.sub(lambda _: f"  9\n{name}\n{lines}" if pairs else "", text)

    return spoil


def entity(change: Spoil, kind: str, *holds: str) -> Spoil:
    """Change the text of the first entity of a kind that holds the given texts."""

    def spoil(text: str) -> str:
        head, body = text.split("ENTITIES\n  0\n", 1)
        parts = body.split("  0\n")
        i = next(
            i
            for i, p in enumerate(parts)
            if p.startswith(f"{kind}\n") and all(h in p for h in holds)
        )
        parts[i] = change(parts[i])
        return f"{head}ENTITIES\n  0\n" + "  0\n".join(part for part in parts if part)

    return spoil


def twice(part: str) -> str:
    return f"{part}  0\n{part}"


def gone(_part: str) -> str:
    return ""


def point(x: float, y: float, code: int = 10) -> str:
    return f" {code}\n{x}\n {code + 10}\n{y}\n"


def line(layer: str, x1: float, y1: float, x2: float, y2: float) -> str:
    ends = f"{point(x1, y1)} 30\n0.0\n{point(x2, y2, 11)} 31\n0.0\n"
    return f"LINE\n  5\nFFF1\n100\nAcDbEntity\n  8\n{layer}\n100\nAcDbLine\n{ends}"


def on(layer: str) -> str:
    return f"  8\n{layer}\n"


def scaled(factor: float) -> Spoil:
    """Scale every coordinate and size of the entities, and the extents."""

    def spoil(text: str) -> str:
        head, body = text.split("ENTITIES\n", 1)
        number = re.compile(r"^( (?:10|20|11|21|40)\n)(-?[\d.]+)$", re.MULTILINE)
        body = number.sub(lambda m: f"{m[1]}{float(m[2]) * factor:.6f}", body)
        return f"{head}ENTITIES\n{body}"

    return spoil


# Design A, two bores 3 in apart about a place 30 mm right of the middle of 939.8 mm.
FIRST, SECOND = (461.8, 69.85), (538.0, 69.85)
BORE = point(*FIRST)

BOARD: dict[str, tuple[Spoil, str]] = {
    "tag says inches": (header("$INSUNITS", " 70", "1"), "$INSUNITS is 1, not 4 (mm)"),
    "tag says meters": (header("$INSUNITS", " 70", "6"), "$INSUNITS is 6, not 4 (mm)"),
    "no tag": (header("$INSUNITS"), "$INSUNITS is None, not 4 (mm)"),
    "measurement": (header("$MEASUREMENT", " 70", "0"), "$MEASUREMENT is 0, not 1 (mm)"),
    "inches called mm": (scaled(1 / 25.4), "the outline is 37.000 x 5.500 mm from 0, 0"),
    "97 percent": (scaled(0.97), "the outline is 911.606 x 135.509 mm from 0, 0"),
    "0.5 mm off": (put(BORE, point(462.3, 69.85)), "tap-1 is 0.500 mm off"),
    "0.5 mm up": (put(BORE, point(461.8, 70.35)), "tap-1 is 0.500 mm off"),
    "0.002 mm off": (put(BORE, point(461.802, 69.85)), "tap-1 is 0.002 mm off"),
    "too wide": (
        entity(put(" 40\n12.7\n", " 40\n12.95\n"), "CIRCLE", BORE), "25.900 mm across; wanted",
    ),
    "a bore is missing": (entity(gone, "CIRCLE", BORE), "tap-1: no circle for it on BORE"),
    "a bore too many": (
        entity(lambda p: twice(p).replace(BORE, point(100, 50), 1), "CIRCLE", BORE),
        "a circle on BORE about 100.000, 50.000 that is no hole",
    ),
    "a bore twice": (entity(twice, "CIRCLE", BORE), "a circle on BORE is drawn twice"),
    "a bore twice, on two layers": (
        entity(lambda p: twice(p).replace(on("BORE"), on("PILOT"), 1), "CIRCLE", BORE),
        "a circle on BORE is drawn twice",
    ),
    "mirrored": (
        lambda text: re.sub(
            r"(AcDbCircle\n 10\n)([\d.]+)", lambda m: f"{m[1]}{939.8 - float(m[2]):.6f}", text
        ),
        "mirrored left to right: tap-1, tap-2, passage-1, passage-2",
    ),
    "on another layer": (
        entity(put(on("BORE"), on("PILOT")), "CIRCLE", BORE), "tap-1 is on PILOT, not on BORE",
    ),
    "a bore on the outline's layer": (
        entity(put(on("BORE"), on("OUTLINE")), "CIRCLE", BORE), "a circle stands on layer OUTLINE",
    ),
    "an open outline": (
        entity(put(" 70\n1\n", " 70\n0\n"), "LWPOLYLINE"), "a polyline on OUTLINE is open",
    ),
    "the first corner again": (
        entity(lambda p: p.replace(" 90\n4", " 90\n5") + point(0.0, 0.0), "LWPOLYLINE"),
        "a polyline on OUTLINE has a corner twice",
    ),
    "the outline twice": (entity(twice, "LWPOLYLINE"), "a line on OUTLINE is drawn twice"),
    "a side twice, the other way": (
        entity(lambda p: f"{line('CHECK-MARK', 939.8, 0, 0, 0)}  0\n{p}", "LINE"),
        "is drawn twice",
    ),
    "no outline": (entity(gone, "LWPOLYLINE"), "0 outlines, not one"),
    "a longer outline": (put("939.8\n 20\n0.0", "940.3\n 20\n0.0"), "the outline is"),
    "a bent outline": (
        entity(lambda p: p.replace("139.7\n", "139.7\n 42\n0.1\n", 1), "LWPOLYLINE"),
        "the outline is no plain rectangle",
    ),
    "shifted": (
        entity(
            lambda p: re.sub(r"( 10\n)([\d.]+)", lambda m: f"{m[1]}{float(m[2]) - 5}", p),
            "LWPOLYLINE",
        ),
        "left of or below the blank's corner",
    ),
    "a layer is not declared": (
        put("AcDbLayerTableRecord\n  2\nPILOT\n", "AcDbLayerTableRecord\n  2\nOTHER\n"),
        "layer PILOT is not declared",
    ),
    "a spline": (put("LWPOLYLINE\n", "SPLINE\n"), "SPLINE on layer OUTLINE: not for a cut file"),
    "in a block": (
        put("  0\nENDBLK\n", f"  0\n{line('NOTE', 0, 0, 1, 1)}  0\nENDBLK\n"),
        "LINE in a block on layer NOTE: not for a cut file",
    ),
    "above the table": (
        entity(put(" 30\n0.0\n", " 30\n1.0\n"), "CIRCLE", BORE), "above or below z = 0",
    ),
    "outline above the table": (
        entity(put(" 70\n1\n", " 70\n1\n 38\n3.0\n"), "LWPOLYLINE"), "above or below z = 0",
    ),
    "seen from below": (
        entity(lambda p: f"{p}210\n0.0\n220\n0.0\n230\n-1.0\n", "CIRCLE", BORE),
        "extruded another way than up",
    ),
    "no inner edge": (
        entity(gone, "LINE", on("INNER-EDGE")), "no INNER-EDGE line at 19.050 mm",
    ),
    "inner edge moved": (
        entity(put("920.75", "920.0"), "LINE", "920.75"), "no INNER-EDGE line at 920.750 mm",
    ),
    "an inner edge too many": (
        entity(lambda p: f"{line('INNER-EDGE', 5, 0, 5, 9)}  0\n{p}", "LINE"),
        "3 INNER-EDGE lines, not two",
    ),
    "a line on the outline's layer": (
        entity(put(on("INNER-EDGE"), on("OUTLINE")), "LINE", on("INNER-EDGE")),
        "a line stands on layer OUTLINE",
    ),
    "a short reference": (
        entity(put(" 11\n100.0\n", " 11\n99.0\n"), "LINE", " 11\n100.0\n", " 10\n0.0\n"),
        "no reference line of 100 mm",
    ),
    "no 4 in reference": (
        entity(gone, "LINE", " 11\n101.6\n", " 10\n0.0\n"), "no reference line of 101.6 mm",
    ),
    "text is cut": (
        entity(put(on("NOTE"), on("OUTLINE")), "TEXT"), "a text stands on layer OUTLINE",
    ),
    "nominal": (put("nominal", "exact"), "no note says that the sizes are nominal"),
    "unit in print": (
        put("Coordinates are in millimeters", "Coordinates"), "the coordinates are in millimeters",
    ),
    "no extents": (header("$EXTMAX"), "the extents are not stated"),
    "endless extents": (
        header("$EXTMIN", " 10", "1e+20", " 20", "1e+20", " 30", "1e+20"), "the extents begin at",
    ),
    "extents too small": (
        header("$EXTMAX", " 10", "900.0", " 20", "900.0", " 30", "0.0"), "the extents end at",
    ),
    "another version": (put("AC1015", "AC1014"), "the file's version is AC1014"),
}  # fmt: skip

# The panel is 901.7 long and begins 19.05 mm from the board's long point. The second pocket and
# the first passage, 60 and 10 mm wide, are 29.9 mm apart: one line.
POCKET = point(442.75, 69.85)

FOAM: dict[str, tuple[Spoil, str]] = {
    "a pocket 0.5 mm off": (put(POCKET, point(443.25, 69.85)), "tap-1 is 0.500 mm off"),
    "a pocket is missing": (entity(gone, "CIRCLE", POCKET), "tap-1: no circle for it on POCKET"),
    "a pocket on BORE": (
        entity(put(on("POCKET"), on("BORE")), "CIRCLE", POCKET), "tap-1 is on BORE, not on POCKET",
    ),
    "the joined line is missing": (
        entity(gone, "LWPOLYLINE", on("POCKET")), "nothing is drawn at",
    ),
    "the joined line is moved": (
        entity(
            lambda p: re.sub(r"( 10\n)([\d.]+)", lambda m: f"{m[1]}{float(m[2]) + 0.1}", p),
            "LWPOLYLINE", on("POCKET"),
        ),
        "nothing is to be cut at",
    ),
    "the joined line is on BORE": (
        entity(put(on("POCKET"), on("BORE")), "LWPOLYLINE", on("POCKET")),
        "a closed line is on BORE, not on POCKET",
    ),
    "the joined line is on OUTLINE": (
        entity(put(on("POCKET"), on("OUTLINE")), "LWPOLYLINE", on("POCKET")),
        "a hole is on OUTLINE",
    ),
    "an arc made straight": (
        entity(lambda p: re.sub(r" 42\n.*\n", "", p, count=1), "LWPOLYLINE", on("POCKET")),
        "nothing is to be cut at",
    ),
    "an arc bent the other way": (
        entity(put(" 42\n-", " 42\n"), "LWPOLYLINE", on("POCKET")), "nothing is to be cut at",
    ),
    "a notch is missing": (
        entity(put(point(50.8, 95.25), point(0.0, 95.25)), "LWPOLYLINE", on("OUTLINE")),
        "nothing is to be cut at",
    ),
    "an outline that is open": (
        entity(put(" 70\n1\n", " 70\n0\n"), "LWPOLYLINE", on("OUTLINE")),
        "a polyline on OUTLINE is open",
    ),
    "a longer outline": (put("901.7\n", "902.2\n"), "the outline is larger than 901.700"),
}  # fmt: skip


@pytest.mark.parametrize("case", BOARD)
def test_a_spoilt_board_is_seen(case: str, faults: Callable[..., list[str]]) -> None:
    spoil, wanted = BOARD[case]
    found = faults("board-front", spoil)
    assert any(wanted in fault for fault in found), found


@pytest.mark.parametrize("case", FOAM)
def test_a_spoilt_panel_is_seen(case: str, faults: Callable[..., list[str]]) -> None:
    spoil, wanted = FOAM[case]
    found = faults("foam-front", spoil)
    assert any(wanted in fault for fault in found), found


@pytest.mark.parametrize("part", ["board-front", "foam-front"])
def test_the_good_files_are_good(part: str, faults: Callable[..., list[str]]) -> None:
    assert faults(part, lambda text: text, warnings=()) == []
    # taken apart and put together again as the spoilt ones are
    assert faults(part, entity(lambda p: p.replace("CIRCLE", "CIRCLE"), "CIRCLE"), units="mm") == []


def test_a_warning_that_is_not_in_print_is_missed(faults: Callable[..., list[str]]) -> None:
    (fault,) = faults("board-front", lambda text: text, warnings=("FAILS stand",))
    assert fault == "not in large print before all else: FAILS stand"


def test_a_warning_in_small_print_is_seen(faults: Callable[..., list[str]]) -> None:
    spoil = put("board-front. Coordinates", "FAILS stand; coordinates are in millimeters")
    said = "FAILS stand; coordinates are in millimeters are in millimeters."
    assert faults("board-front", spoil, warnings=(said,)) == [
        f"not in large print before all else: {said}"
    ]


def test_millimeters_where_inches_were_asked_for(faults: Callable[..., list[str]]) -> None:
    found = faults("board-front", lambda text: text, units="in")
    assert "$INSUNITS is 4, not 1 (in)" in found
    assert any(fault.startswith("the outline is 23870.920 x 3548.380 mm") for fault in found)


@pytest.mark.parametrize(
    ("spoil", "wanted"),
    [
        (lambda text: text[: len(text) // 2], "cut off"),
        (lambda text: text.rsplit("  0\nEOF", 1)[0], "cut off"),
        (lambda _: "", "cut off"),
        (put(BORE, " 10\nnan\n 20\n69.85\n"), "'nan' where a number belongs"),
        (put(BORE, " 10\nfour\n 20\n69.85\n"), "'four' where a number belongs"),
        (put(BORE, " x\n461.8\n 20\n69.85\n"), "' x' where a group code belongs"),
        (put("  2\nENTITIES\n", "  2\nTHINGS\n"), "no header or no entities"),
    ],
)
def test_what_is_no_whole_file_is_refused(
    spoil: Spoil, wanted: str, faults: Callable[..., list[str]]
) -> None:
    with pytest.raises(dxf.DxfError, match=wanted):
        faults("board-front", spoil)
