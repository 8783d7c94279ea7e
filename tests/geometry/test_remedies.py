"""Remedies that were tried: each is applied and the whole evaluation is run again."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from collarwright.geometry.judge.answer import answer
from collarwright.geometry.judge.change import changed, value_of
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.finding import Finding, Remedy
from collarwright.geometry.judge.levers import choices, keys_of
from collarwright.params import catalogue
from collarwright.params.project import Project
from collarwright.params.reading.keys import find
from collarwright.params.units import parse

Make = Callable[..., Project]


def first(project: Project, check: str) -> Finding:
    return next(each for each in answer(project).findings if each.check == check)


def applied(project: Project, remedy: Remedy) -> Project:
    """The change as a person would write it into the build file."""
    values: dict[str, Any] = {}
    for key, written in remedy.changes.items():
        kind = (known := find(key)) and known.kind
        is_id = isinstance(written, str) and written[:1].isalpha()
        values[key] = written if kind is None or is_id else parse(str(written), kind)
    return changed(project, values)


def fails(project: Project) -> set[str]:
    found = evaluate(project).findings
    return {each.check for each in found if each.verdict == "fail" and each.weight == "must"}


CASES: list[tuple[str, dict[str, Any]]] = [
    ("bore-entry", {"taps": {"bore": "22 mm"}}),
    ("bore-cover", {"taps": {"bore": "34 mm", "washer_diameter": "60 mm", "spacing": "4 in"}}),
    ("nut-cover", {"taps": {"washer_diameter": None, "washers": None}}),
    ("bore-web", {"taps": {"spacing": "50 mm", "handle": None}}),
    ("bore-edge", {"taps": {"height": "20 mm"}}),
    ("bore-end", {"taps": {"count": 1, "spacing": None, "offset": "428 mm"}}),
    ("shank-grip", {"taps": {"shank": "shank-2-1-8-in", "washers": "16 mm"}}),
    ("shank-past-foam", {"taps": {"shank": "shank-2-1-8-in"}}),
    ("nut-room", {"foam": {"pocket": "45 mm"}}),
    ("tap-gap", {"taps": {"spacing": "49 mm", "handle": None, "bore": "24 mm"}}),
    ("handle-gap", {"taps": {"handle": "handle-tall-display"}}),
    ("stand", {"board": {"overhang": "10 mm"}}),
    ("gasket-seat", {"board": {"overhang": "8 mm"}}),
    ("skirt", {"lid": {"skirt": "12 mm", "skirt_thickness": "4 mm"},
               "hinge": {"axis_behind": "20 mm", "axis_above": "-5 mm"}}),
]  # fmt: skip


@pytest.mark.parametrize(("check", "changes"), CASES, ids=[check for check, _ in CASES])
def test_each_remedy_works(design_a: Make, check: str, changes: dict[str, Any]) -> None:
    project = design_a(**changes)
    before = fails(project)
    assert check in before
    found = first(project, check)
    assert found.verdict == "fail"
    assert found.remedies, "no remedy was found"
    for remedy in found.remedies:
        again = evaluate(applied(project, remedy)).findings
        same = [each for each in again if each.check == check and each.where == found.where]
        assert [each.verdict for each in same] == ["pass"], remedy.says
        after = {each.check for each in again if each.verdict == "fail" and each.weight == "must"}
        assert after <= before, remedy.says


def test_the_nearest_length_that_a_tape_shows(design_a: Make) -> None:
    """A thread of 22.225 mm needs a bore of 22.625; tolerance hypot(0.775, 0.5) = 0.92 on top."""
    project = design_a(taps={"bore": "22 mm"})
    remedy = next(r for r in first(project, "bore-entry").remedies if "taps.bore" in r.changes)
    assert remedy.changes == {"taps.bore": "24 mm"}
    assert remedy.says.startswith("taps.bore = 24 mm (now 22 mm): then 1.8 mm")


def test_the_same_in_inches(design_a: Make) -> None:
    project = replace(design_a(taps={"bore": "22 mm"}), show="in")
    remedy = next(r for r in first(project, "bore-entry").remedies if "taps.bore" in r.changes)
    # 22.625 + 0.92 = 23.55 mm; sixteenths: 15/16 in is 23.81
    assert remedy.changes == {"taps.bore": "15/16 in"}


def test_the_nearest_part_that_is_sold(design_a: Make) -> None:
    project = design_a(taps={"shank": "shank-2-1-8-in"})
    remedy = next(
        r for r in first(project, "shank-past-foam").remedies if "taps.shank" in r.changes
    )
    shank = catalogue.load("shanks")[str(remedy.changes["taps.shank"])]
    # board 19.05 + foam 25.4 + tail nut 14 = 58.45 and the tolerances of all of it
    assert shank.value("length") > 58.45


def test_a_remedy_never_changes_a_reading(design_a: Make) -> None:
    readings = ("lip.", "lid.", "room.", "well.", "vessel.")
    for _, changes in CASES:
        for finding in answer(design_a(**changes)).findings:
            for remedy in finding.remedies:
                assert not [key for key in remedy.changes if key.startswith(readings)]


def test_what_it_costs_elsewhere_is_told(design_a: Make) -> None:
    """A bore wide enough for a thick thread leaves less flange over it."""
    project = design_a(
        taps={"thread": "38 mm", "bore": "38 mm", "washer_diameter": "60 mm", "spacing": "4 in"}
    )
    said = [r.says for r in first(project, "bore-entry").remedies]
    assert said and any("costs: bore-cover gets tight" in each for each in said)


def test_two_levers_where_none_works_alone(design_a: Make) -> None:
    """Tall handles on 9 taps: no spacing that fits the board is enough, nor the shorter knob."""
    taps = {
        "count": 9, "spacing": "2 in", "handle": "handle-tall-display", "bore": "24 mm",
        "washer_diameter": "40 mm",
    }  # fmt: skip
    project = design_a(taps=taps)
    found = next(
        each
        for each in answer(project).findings
        if each.check == "handle-gap" and each.verdict == "fail"
    )
    for remedy in found.remedies:
        assert "handle-gap" not in fails(applied(project, remedy))


def test_passing_findings_have_none(design_a: Make) -> None:
    for finding in answer(design_a()).findings:
        if finding.verdict in ("pass", "not-checked"):
            assert finding.remedies == ()


def test_levers_become_keys_of_this_file(design_a: Make) -> None:
    rows = [{"side": "front"}, {"side": "left", "count": 1, "spacing": None}]
    project = design_a(taps=rows)
    layout = evaluate(project).layout
    front, left = layout.taps[0], layout.taps[-1]
    from collarwright.geometry.judge.design import at

    assert keys_of(project, ("taps.bore", "taps.spacing"), at(front), layout) == [
        "taps[1].bore",
        "taps[1].spacing",
    ]
    assert keys_of(project, ("taps.bore", "taps.spacing"), at(left), layout) == ["taps[2].bore"]
    from collarwright.geometry.judge.finding import Where

    assert keys_of(project, ("board.overhang",), Where(side="left"), layout) == [
        "board.overhang.left"
    ]


def test_a_value_is_found_where_it_stands(design_a: Make) -> None:
    project = design_a(taps=[{}, {"side": "left", "bore": "25 mm"}])
    assert value_of(project, "taps[2].bore") == 25
    assert value_of(project, "lip.front[1]") == pytest.approx(939.8)
    assert value_of(project, "lid.overhang.left") == 5
    assert value_of(project, "hinge.axis_behind") is None
    assert changed(project, {"hinge.axis_behind": 12.0}).hinge.axis_behind == 12  # type: ignore[union-attr]
    both = changed(project, {"board.overhang.left": 2.0, "taps[2].bore": 26.0})
    assert both.board.overhang.on("left") == 2 and both.board.overhang.on("front") is None
    assert [row.bore for row in both.taps] == [25.4, 26.0]


def test_a_keg_is_exchanged_for_one_of_its_kind(design_a: Make) -> None:
    """What stands 10 mm too tall is mended by another soda keg, never by a cylinder of gas."""
    project = design_a(
        lid={"plug": "0 mm"},
        well={"length": "820 mm", "width": "420 mm", "height": "275 mm"},
        vessel=[{"kind": "soda-keg-ball-lock-2-5gal-tall"}],
    )
    found = first(project, "head-room")
    kinds = {r.changes["vessel[1].kind"] for r in found.remedies if "vessel[1].kind" in r.changes}
    rows = catalogue.load("vessels")
    assert kinds and {rows[str(kind)].text("kind") for kind in kinds} == {"soda keg"}
    # 275 + 139.7 - (330 + 45) is the next shorter one
    told = next(r.says for r in found.remedies if "vessel[1].kind" in r.changes)
    assert "then 39.7 mm" in told
    narrow = {"length": "820 mm", "width": "219 mm", "height": "700 mm"}
    project = design_a(well=narrow, vessel=[{"kind": "soda-keg-ball-lock-2-5gal-tall"}])
    assert first(project, "opening").verdict == "fail"
    assert first(project, "opening").remedies == ()  # no soda keg is narrower than 216 mm


def test_the_nearer_of_two_ways(design_a: Make) -> None:
    """A bar of 2 x (101 + 25) mm over a passage right of its middle moves to the left."""
    project = design_a(
        manifold={"kind": "manifold-3-outlet"},
        hole=[{"side": "back", "height": "70 mm", "diameter": "20 mm", "offset": "10 mm"}],
    )
    found = first(project, "manifold")
    (moved,) = [r.changes for r in found.remedies if "manifold.offset" in r.changes]
    # at least 126 + 10 + 5 from the passage at 10: from -131 on, or from 151
    assert str(moved["manifold.offset"]).startswith("-131")


def test_a_new_table_is_written_whole(design_a: Make) -> None:
    """A cap strip where there is none: what it is made of and how wide it is goes with it."""
    project = design_a(
        lid={"plug": "0 mm"},
        well={"length": "820 mm", "width": "420 mm", "height": "275 mm"},
        vessel=[{"kind": "soda-keg-ball-lock-2-5gal-tall"}],
    )
    found = first(project, "head-room")
    # 275 + 139.7 - (368 + 45) leaves 1.7; 5 and the keg's own 15 mm, the tape's 1, the strip's 0.5
    (cap,) = [r.changes for r in found.remedies if "cap.thickness" in r.changes]
    assert cap == {"cap.material": "wood", "cap.width": "19 mm", "cap.thickness": "18.5 mm"}
    assert "head-room" not in fails(changed(project, {
        "cap.material": "wood", "cap.width": 19.0, "cap.thickness": 18.5}))  # fmt: skip


def test_one_leaf_is_moved_and_the_others_stay(design_a: Make) -> None:
    hinge = {
        "axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg",
        "positions": ("-30 mm", "29 mm", "300 mm"), "leaf_height": "90 mm", "leaf_width": "60 mm",
    }  # fmt: skip
    found = first(design_a(hinge=hinge), "hinge-fit")
    assert found.verdict == "fail"
    assert list(found.remedies[0].changes) == ["hinge.positions[1]"]


def test_an_overhang_that_was_left_out_starts_at_zero(design_a: Make) -> None:
    """On a rounded lip all four sides move in together."""
    project = design_a(lip={"corner_radius": "36 mm"}, board={"stock": "board-1x6"}, lid=None)
    found = first(project, "corner")
    assert found.verdict == "tight"
    # 19.05 sqrt 2 - 36 (sqrt 2 - 1) - 12 = 0.03, and sqrt 2 more for each mm; stock 0.8 sqrt 2 and
    # 1 mm of radius, 0.41, may take 1.2
    moved = [r.changes for r in found.remedies if "board.overhang" in r.changes]
    assert moved == [{"board.overhang": "-1 mm"}]


def test_boards_of_the_builders_own_are_made_to_size(design_a: Make) -> None:
    own = {"stock": None, "thickness": "19 mm", "width": "140 mm"}
    layout = evaluate(design_a(board=own)).layout
    from collarwright.geometry.judge.finding import Where

    keys = keys_of(design_a(board=own), ("board.stock",), Where(), layout)
    assert keys == ["board.thickness", "board.width"]
    assert keys_of(design_a(), ("board.stock",), Where(), layout) == ["board.stock"]


@pytest.mark.parametrize(("stock", "system"), [("board-1x8", "inch"), ("pse-22x195", "metric")])
def test_boards_are_exchanged_for_such_as_are_sold_there(
    design_a: Make, stock: str, system: str
) -> None:
    """Where 1x8 is sold 22 x 195 mm is not, also if it is nearer: 22 mm to 19 is, 25.4 is not."""
    project = design_a(board={"stock": stock, "width": "180 mm"})
    rows = catalogue.load("lumber")
    found = [*choices(project, evaluate(project).layout, "board.stock", catalogue.load)]
    assert len(found) > 10
    assert {rows[str(each)].text("system") for each in found} == {system}


def test_two_levers_that_mend_together(design_a: Make) -> None:
    """Longer screws alone come through the board, a block alone does not reach them."""
    hinge = {
        "axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg",
        "positions": ("-300 mm", "300 mm"), "leaf_height": "60 mm", "leaf_width": "60 mm",
        "leaf_thickness": "2 mm",
        "screw": "wood-screw-no-8", "screw_length": "19 mm", "screws": 2, "spring": False,
    }  # fmt: skip
    project = design_a(
        board={"species": "eastern-white-pine", "stock": "board-1x4"},
        lid={"thickness": "60 mm", "mass": "12 kg"},
        hinge=hinge,
    )
    assert fails(project) == {"hinge-hold"}
    found = first(project, "hinge-hold")
    together = [r for r in found.remedies if len(r.changes) > 1]
    for remedy in together:
        assert fails(applied(project, remedy)) == set()
    assert together


def test_a_search_that_stops_at_its_limit_says_so(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    from collarwright.geometry.judge import trials

    project = design_a(taps={"bore": "22 mm"})
    assert answer(project).notes == ()
    monkeypatch.setattr(trials, "MOST_WORK", 100)
    stopped = answer(project)
    assert stopped.notes == ("the search for changes stopped at its limit: there may be others",)
    assert stopped.verdict == "fail"


def test_what_helps_one_tap_is_tried_for_the_other(design_a: Make) -> None:
    """Three tall handles 60 mm apart and a lamp beside the third: taps that fail by the same
    figure do not share a change that only helps one of them."""
    taps = {"spacing": "60 mm", "handle": "handle-tall-display", "faucet": "faucet-forward-sealing"}
    lamp = {
        "side": "front",
        "height": "250 mm",
        "offset": "150 mm",
        "width": "30 mm",
        "tall": "80 mm",
    }
    project = design_a(taps=taps, keep_out=[lamp])
    for finding in answer(project).findings:
        if finding.check != "handle-gap" or finding.verdict != "fail":
            continue
        for remedy in finding.remedies:
            again = evaluate(applied(project, remedy)).findings
            (same,) = [f for f in again if f.check == finding.check and f.where == finding.where]
            assert same.verdict == "pass", (finding.where.tap, remedy.says)


def test_a_pair_holds_both_of_its_changes(design_a: Make) -> None:
    """Longer screws with a block: neither mends the hinge of a 3/4 in board by itself."""
    from collarwright.geometry.judge import remedy
    from collarwright.geometry.judge.trials import Trials

    hinge = {
        "axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg",
        "positions": ("-300 mm", "300 mm"), "leaf_height": "60 mm", "leaf_width": "60 mm",
        "leaf_thickness": "2 mm",
        "screw": "wood-screw-no-8", "screw_length": "19 mm", "screws": 2, "spring": False,
    }  # fmt: skip
    project = design_a(
        board={"species": "eastern-white-pine", "stock": "board-1x4"},
        lid={"thickness": "60 mm", "mass": "12 kg"},
        hinge=hinge,
    )
    trials = Trials(project, answer(project))
    keys = ("hinge.backing", "hinge.screw_length")
    place = next(each for each in trials.failing({}) or () if each[0] == "hinge-hold")
    found = next(remedy.pairs(trials, place, keys))
    assert set(found) == set(keys)
    assert trials.mends(place, found, firmly=False)
