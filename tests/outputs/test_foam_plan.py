"""The foam plan in print: made again from its data, by hand for design A, drawn where it lies."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.outputs.cli import app
from collarwright.outputs.drawings.draft import Draft
from collarwright.outputs.drawings.foam_plan import foam_plan
from collarwright.outputs.foam_plan import Foam, foam_data, foam_text, plan_foam
from collarwright.outputs.foam_plan.words import seam_text
from collarwright.outputs.lists.foam import foam_lists
from collarwright.outputs.paper.marks import Ring, Words
from collarwright.params.project import Project
from plain_collar import COLLAR
from typer.testing import CliRunner

Make = Callable[..., Project]
SHEET = {"length": "96 in", "width": "24 in"}
LONG = {
    "lip": {"front": "2600 mm", "back": "2600 mm", "right": "700 mm", "left": "700 mm"},
    "taps": {"count": 24, "spacing": "76 mm"},
}


def planned(project: Project) -> Foam:
    foam = plan_foam([(project, lay_out(project))])
    assert foam is not None
    return foam


def said(text: str) -> str:
    return " ".join(text.split())


def test_design_a_on_a_sheet_of_2_by_8_feet(design_a: Make) -> None:
    """By hand: boards of 3/4 in leave 35 1/2 x 19 1/2 in inside; foam of 1 in stands before it.

    Front and back panels are 35 1/2 x 5 1/2 in, the others 17 1/2 in between them. Five cuts:
    11 in along, 53 in across, parted at 35 1/2 in, and each half along its middle. Four cuts would
    leave one rest only, and the panels would have to fill the sheet from side to side: neither
    24 in nor 96 in is a sum of 5 1/2, 17 1/2 and 35 1/2 with as many as there are.
    """
    foam = planned(replace(design_a(foam={"sheet": SHEET}), show="in"))
    data = foam_data(foam)
    sizes = {p["side"]: (p["length_mm"], p["width_mm"]) for p in data["sheets"][0]["panels"]}
    assert sizes == {
        "front": (901.7, 139.7), "back": (901.7, 139.7), "right": (444.5, 139.7),
        "left": (444.5, 139.7),
    }  # fmt: skip
    lot = data["lots"][0]
    assert (lot["sheets"], lot["least_sheets"], lot["cuts"]) == (1, 1, 5)
    assert lot["proved"] == {"sheets": True, "cuts": True}
    ways = [(cut["way"], cut["at_mm"]) for cut in data["sheets"][0]["cuts"]]
    assert ways == [
        ("along", 279.4), ("across", 1346.2), ("across", 901.7), ("along", 139.7), ("along", 139.7)
    ]  # fmt: skip
    text = said(foam_text(foam))
    assert "1 sheet of 96 in x 24 in" in text
    assert "cut 3: left piece of cut 2 (53 in x 11 in), across, 35 1/2 in from its left" in text
    assert "Least sheets: proved" in text
    assert "5 cuts, proved" in text


def cut_again(data: dict[str, Any]) -> list[dict[str, list[tuple[float, float]]]]:
    """Make the cuts of each sheet as a reader would, by their words alone."""
    found: list[dict[str, list[tuple[float, float]]]] = []
    for sheet in data["sheets"]:
        lot = data["lots"][sheet["lot"] - 1]
        there = {f"sheet {sheet['number']}": (lot["sheet_length_mm"], lot["sheet_width_mm"])}
        done: dict[str, list[tuple[float, float]]] = {}
        for cut in sheet["cuts"]:
            assert cut["of"] in there
            long, wide = there.pop(cut["of"])
            at = cut["at_mm"]
            names = ("left", "right") if cut["way"] == "across" else ("lower", "upper")
            sizes = (
                ((at, wide), (long - at, wide))
                if cut["way"] == "across"
                else ((long, at), (long, wide - at))
            )
            for name, size, gives in zip(names, sizes, cut["gives"], strict=True):
                if gives["name"] == "cut on":
                    there[f"{name} piece of cut {cut['number']}"] = size
                else:
                    done.setdefault(gives["name"], []).append(size)
        if not sheet["cuts"]:  # a whole sheet is a piece as it is
            done[sheet["panels"][0]["name"]] = [there.popitem()[1]]
        assert there == {}
        found.append(done)
    return found


@pytest.mark.parametrize("sheet", [(1219, 610), (1000, 700), (700, 610), (2440, 150)])
def test_cuts_made_by_their_words_give_the_panels(design_a: Make, sheet: tuple[int, int]) -> None:
    """Pieces of each panel, put beside each other, are as long and as wide as the panel."""
    size = {"length": f"{sheet[0]} mm", "width": f"{sheet[1]} mm"}
    project = design_a(**LONG, board={"width": "184 mm"}, foam={"sheet": size})
    data = foam_data(planned(project))
    made = cut_again(data)
    area = sum(a * b for done in made for sizes in done.values() for a, b in sizes)
    assert area == pytest.approx(len(made) * sheet[0] * sheet[1])
    for panel in lay_out(project).panels:
        pieces = [
            size for done in made for name, sizes in done.items()
            if name != "left over" and name.split()[0].strip(",") == panel.side for size in sizes
        ]  # fmt: skip
        assert sum(a * b for a, b in pieces) == pytest.approx(panel.length * panel.width, rel=1e-4)
    numbers = [cut["number"] for each in data["sheets"] for cut in each["cuts"]]
    assert numbers == list(range(1, len(numbers) + 1))


def test_seams_of_a_long_collar_are_told(design_a: Make) -> None:
    """Pockets of 60 mm every 76 mm over 1808 mm: one of two seams has to lie between two, 8 mm."""
    sheet = {"length": "1219 mm", "width": "610 mm"}
    foam = planned(design_a(**LONG, foam={"sheet": sheet}))
    seams = [each for each in foam_data(foam)["seams"] if each["side"] == "front"]
    assert sorted(each["near"] for each in seams) == [False, True]
    assert min(each["clear_mm"] for each in seams) == pytest.approx(8.0, abs=0.02)
    text = said(foam_text(foam))
    assert "8 mm) clear of the nearest cut-out, the most" in text or "8 mm clear" in text
    assert "front 2 of 3" in text


def test_seams_of_opposite_panels_do_not_face_each_other(design_a: Make) -> None:
    """Two panels of 1109 mm less the boards, of a sheet of 700: each is parted at either end.

    Left and right change places on the other side of the well, so as far from both left ends.
    """
    lip = {"front": "1109 mm", "back": "1109 mm", "right": "700 mm", "left": "700 mm"}
    foam = planned(
        design_a(lip=lip, taps={"count": 1, "bore": "1 in"}, manifold=None, hole=[],
                 foam={"sheet": {"length": "700 mm", "width": "610 mm"}})
    )  # fmt: skip
    at = {each["side"]: each["at_mm"] for each in foam_data(foam)["seams"]}
    (long,) = {each.panel.length for lot in foam.plan.lots for each in lot.pieces
               if each.panel.side == "front"}  # fmt: skip
    assert abs(at["front"] + at["back"] - long) >= 50


def test_a_seam_through_a_pocket_is_told(design_a: Make) -> None:
    foam = planned(design_a(**LONG, foam={"sheet": {"length": "1219 mm", "width": "610 mm"}}))
    seam = next(each for lot in foam.plan.lots for each in lot.seams)
    assert "runs through a cut-out" in seam_text(foam, replace(seam, clear=-3.0))
    assert "the most that this sheet leaves" in seam_text(foam, replace(seam, clear=49.9))
    assert "most" not in seam_text(foam, replace(seam, clear=50.0))


def test_without_a_sheet_the_key_is_told(design_a: Make) -> None:
    foam = planned(design_a())
    assert foam_text(foam).startswith("No plan for the foam: enter the sheet")
    assert "[foam.sheet]" in foam_text(foam)
    assert foam_data(foam)["sheets"] == []
    assert foam_lists(foam) == []
    assert plan_foam([(design_a(foam=None), lay_out(design_a(foam=None)))]) is None


def test_the_usual_sheet_is_assumed_and_said(design_a: Make) -> None:
    foam = planned(design_a(foam={"thickness": None, "kind": "xps-type-iv-1-in"}))
    assert foam_data(foam)["lots"][0]["sheet_assumed"]
    assert "The usual sheet of this kind, assumed" in said(foam_text(foam))


def test_brackets_at_an_end_take_three_cuts_and_the_manifold_four(design_a: Make) -> None:
    project = design_a(
        board={"bracket": "bracket-2x2-in"},
        manifold={"length": "200 mm", "height": "80 mm", "depth": "40 mm"},
        foam={"sheet": SHEET},
    )
    openings = foam_data(planned(project))["openings"]
    knife = {(each["panel"], each["name"]): each["knife_cuts"] for each in openings}
    assert knife["back", "manifold"] == 4
    assert knife["front", "bracket left, set out only"] == 3
    taps = [each for each in openings if each["diameter_mm"] == 60.0]
    assert [each["panel"] for each in taps] == ["front"] * 3
    assert all(each["knife_cuts"] == 0 for each in taps)
    assert "set out only is not cut yet" in said(foam_text(planned(project)))


def test_what_the_foams_row_says_stands_beside_its_sheet(design_a: Make) -> None:
    """The metric sheets' row: edges with a rebate cover less, and panels lie right at the edge."""
    for foam in ({"kind": "xps-metric-30mm"}, {"kind": "xps-metric-30mm", "sheet": SHEET}):
        plan = planned(design_a(foam=foam))
        lists = " ".join(note for table in foam_lists(plan) for note in table.notes)
        for text in (said(foam_text(plan)), lists):
            assert "edges are often rebated: the sheet covers 10 to 15 mm less" in text


FOAM = '[foam]\nthickness = "25 mm"\nsheet = { length = "1250 mm", width = "600 mm" }\n'


def test_collars_share_sheets(tmp_path: Path) -> None:
    """Four panels of 140 mm stand on a sheet of 600 mm; eight of two small collars fit one."""
    files: list[str] = []
    for name, front in (("one", 640), ("two", 620)):
        path = tmp_path / f"{name}.toml"
        path.write_text(COLLAR.replace("940", str(front)) + FOAM)
        files.append(str(path))
    result = CliRunner().invoke(app, ["stock", *files, "--json"])
    assert result.exit_code == 0, result.output
    foam = json.loads(result.stdout)["foam"]
    assert [len(each["panels"]) for each in foam["sheets"]] == [8]
    assert {each["collar"] for each in foam["sheets"][0]["panels"]} == {"one", "two"}
    text = CliRunner().invoke(app, ["stock", *files]).stdout
    assert "one front" in text
    assert text.index("Cut plan:") < text.index("Foam plan: 8 panels, 25 mm thick, from 1 sheet")


def drawn(layout: Layout, project: Project) -> tuple[Foam, list[Draft]]:
    foam = plan_foam([(project, layout)])
    assert foam is not None
    drafts: list[Draft] = []
    for laid in foam.sheets():
        draft = Draft(1.0, "mm")
        foam_plan(foam, laid, draft, 3000.0)
        drafts.append(draft)
    return foam, drafts


@pytest.mark.parametrize("turned", [False, True], ids=["level", "upright"])
def test_pockets_and_names_lie_in_their_pieces(design_a: Make, turned: bool) -> None:
    """To 1:1: a pocket at u, v lies at x + u, y + v; in a turned piece at x + w - v, y + u.

    Taps at 80 mm are not half way up: what is turned the wrong way lies elsewhere.
    """
    if turned:
        changes = {"lip": {"front": "600 mm", "back": "600 mm"},
                   "taps": {"side": "right", "height": "80 mm"}}  # fmt: skip
        size = {"length": "1000 mm", "width": "700 mm"}
    else:
        changes = {**LONG, "taps": {**LONG["taps"], "height": "80 mm"}}
        size = {"length": "1219 mm", "width": "610 mm"}
    project = design_a(**changes, board={"width": "184 mm"}, foam={"sheet": size})
    foam, drafts = drawn(lay_out(project), project)
    lies = False
    for entry, draft in zip(foam_data(foam)["sheets"], drafts, strict=True):
        rings = [(m.x, m.y) for m in draft.marks if isinstance(m, Ring) and m.diameter == 60.0]
        names = [m for m in draft.marks if isinstance(m, Words)]
        wanted: list[tuple[float, float]] = []
        for panel in entry["panels"]:
            x, y, long, wide = (panel[f"{k}_mm"] for k in ("x", "y", "length", "width"))
            assert any(
                m.text.startswith(panel["name"]) and x < m.x < x + long and y < m.y < y + wide
                and (m.turn == 90) == panel["turned"]
                for m in names
            ), panel  # fmt: skip
            for each in foam_data(foam)["openings"]:
                if each["panel"] == panel["name"] and each["diameter_mm"] == 60.0:
                    u, v = each["u_mm"][0], each["v_mm"][0]
                    lies = lies or bool(panel["turned"])
                    wanted.append((x + long - v, y + u) if panel["turned"] else (x + u, y + v))
        assert len(rings) == len(wanted)
        assert all(any(math.dist(ring, at) < 0.05 for ring in rings) for at in wanted)
    assert lies == turned


@pytest.mark.parametrize("scale", [10, 12.5, 20])
def test_names_on_a_sheet_have_one_height(design_a: Make, scale: float) -> None:
    """A manifold's opening leaves the back panel less room; sizes without any are told below."""
    project = design_a(
        board={"width": "7 1/4 in"},
        manifold={"length": "300 mm", "height": "100 mm", "depth": "40 mm"},
        foam={"sheet": {"length": "96 in", "width": "48 in"}},
        hole={"side": "right", "height": "70 mm", "diameter": "50 mm", "name": "hose"},
    )
    foam = planned(replace(project, show="in"))
    draft = Draft(1 / scale, "in")
    foam_plan(foam, next(iter(foam.sheets())), draft, 250.0)
    said = [m for m in draft.marks if isinstance(m, Words)]
    names = [m for m in said if m.text.split(",")[0] in ("front", "right", "back", "left")]
    assert len(names) == 4
    assert len({m.size for m in names}) == 1
    draft.finish()
    told = [m.text for m in draft.marks if isinstance(m, Words) and m.text.startswith("Not writ")]
    # by hand: 21 in less two boards of 3/4 in and two panels of 1 in; 22 mm of this page
    size = "17 1/2 in x 7 1/4 in"
    short = f"Not written in the piece: right is {size}; left is {size}."
    assert told == ([short] if scale == 20 else [])


def test_lists_have_a_row_for_each_piece_and_each_cut(design_a: Make) -> None:
    foam = planned(replace(design_a(foam={"sheet": SHEET}), show="in"))
    pieces, cuts, openings = foam_lists(foam)
    assert [row[1] for row in pieces.rows] == [
        "front", "back", "right", "left", "left over", "left over"
    ]  # fmt: skip
    assert pieces.rows[0][-2:] == ("901.7", "139.7")
    assert [row[0] for row in cuts.rows] == ["1", "2", "3", "4", "5"]
    assert cuts.rows[3][4:6] == ("front", "back")
    assert [row[2] for row in openings.rows] == ["hole cutter 2 3/8 in"] * 3
    for table in (pieces, cuts, openings):
        assert {len(row) for row in table.rows} == {len(table.header)}
