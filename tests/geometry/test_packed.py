"""All vessels together and the room behind the taps, against sums on paper.

Design A: collar 939.8 x 533.4 mm, three taps at 393.7, 469.9 and 546.1 mm, axes 69.85 mm up, shanks
of 104.8 mm from the outer face at y = 0. The well is centered under it.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from collarwright.geometry.judge import packed
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.finding import Finding
from collarwright.geometry.judge.packed import Question
from collarwright.geometry.plan import packing
from collarwright.params.project import Limits, Project

Make = Callable[..., Project]

WELL = {"length": "820 mm", "width": "420 mm", "height": "700 mm"}


def can(diameter: float, height: float, fitting: float = 0, **more: Any) -> dict[str, Any]:
    sizes = {"diameter": diameter, "height": height, "fitting": fitting}
    return {**{name: f"{value} mm" for name, value in sizes.items()}, **more}


def asked(project: Project, question: Question | None = None) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {"tail-room": [], "vessels": []}
    for each in (question or Question())(project, evaluate(project)):
        found[each.check].append(each)
    return found


def vessels(project: Project) -> Finding:
    (found,) = asked(project)["vessels"]
    return found


# --- vessels --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gap", "verdict"), [(100, "pass"), (101.9, "tight"), (102, "tight"), (102.1, "fail")]
)
def test_two_in_a_well_keep_what_its_walls_leave(design_a: Make, gap: float, verdict: str) -> None:
    """420 - 216 = 204 mm for two gaps; side by side there is more than that."""
    well = {**WELL, "gap": f"{gap} mm"}
    found = vessels(design_a(well=well, vessel=can(216, 500, count=2)))
    assert found.verdict == verdict
    assert found.measured == pytest.approx(102, abs=1e-3)
    assert found.required == gap
    # one reading for both diameters, two walls that move by half each, foam of 1 in (0.5 mm)
    assert found.tolerance == pytest.approx(math.sqrt(1 + 0.25 + 0.25 + 0.25))
    assert found.decided_by == "measure this: vessel[1].diameter"
    assert found.weight == "must"


def test_places_and_order_are_told_and_handed_on(design_a: Make) -> None:
    step = {"side": "right", "length": "250 mm", "height": "200 mm"}
    rows = [can(216, 500, 40, tap=2), can(120, 400)]
    project = design_a(well={**WELL, "step": step}, vessel=rows)
    question = Question()
    found = asked(project, question)["vessels"][0]
    standing = question.standing(project, evaluate(project).layout)
    assert found.verdict == "pass"
    assert standing is not None
    assert standing.order is not None
    assert {entry.vessel for entry in standing.order.entries} == {"vessel-1", "vessel-2"}
    tightest = packing.measure(standing.problem, standing.places)
    assert tightest.gap == pytest.approx(found.measured)
    for place in standing.places:
        where = "step" if place.on_step else "floor"
        # the well's left front corner at its floor is at x = 59.9, y = 56.7
        said = (
            f"{place.vessel} at {place.x - 59.9:.1f} mm and {place.y - 56.7:.1f} mm on the {where}"
        )
        assert said.replace(".0 mm", " mm") in found.why
        assert place.z == (-500 if place.on_step else -700)
    (wide,) = (place for place in standing.places if place.vessel == "vessel-1")
    line = math.dist((wide.x, wide.y, wide.z + 540), (469.9, 104.8, 69.85))
    assert f"{round(line, 1):g} mm straight to tap 2" in found.why
    assert "an order was found: " in found.why


def test_a_vessel_that_is_too_wide_is_proved_not_to_fit(design_a: Make) -> None:
    taps = {"count": 1, "spacing": None, "offset": "-400 mm"}
    found = vessels(design_a(well=WELL, vessel=can(411, 500), taps=taps))
    assert (found.verdict, found.measured) == ("fail", pytest.approx(4.5, abs=1e-3))
    assert found.why.startswith("proved: vessel-1 with its gaps is 1 mm too wide front to back")
    assert vessels(design_a(well=WELL, vessel=can(409.9, 500), taps=taps)).verdict == "tight"
    never = vessels(design_a(well=WELL, vessel=can(421, 500), taps=taps))
    assert (never.verdict, never.measured, never.margin) == ("fail", None, None)


THREE = {"length": "494 mm", "width": "380 mm", "height": "700 mm", "gap": "0 mm"}
"""Three of 216 mm stand zigzag in 380 mm from 497.141 mm on: d + 2 sqrt(d^2 - (D - d)^2)."""


def test_what_is_neither_found_nor_ruled_out_is_not_checked(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = design_a(well=THREE, vessel=can(216, 500, count=3))
    proved = vessels(project)
    assert proved.verdict == "fail"
    assert "every way to set" in proved.why
    assert proved.measured is not None
    assert proved.measured < 0
    monkeypatch.setattr(packed, "NODES", 1)
    found = vessels(project)
    assert (found.verdict, found.missing, found.margin) == ("not-checked", (), None)
    assert "no placement found; the best try is short by" in found.why
    assert "is not ruled out" in found.why
    assert "would do" not in found.why
    wide = {**THREE, "length": "497.7 mm"}
    assert vessels(design_a(well=wide, vessel=can(216, 500, count=3))).verdict == "tight"


SKEWED = {
    "lip": {
        "front": "940 mm",
        "right": "560 mm",
        "back": "940 mm",
        "left": "560 mm",
        "front_left_to_back_right": "1074 mm",
        "front_right_to_back_left": "1113 mm",
    },
    "board": {"thickness": "38 mm", "follow": "lip"},
    "foam": {"thickness": "25 mm"},
    "taps": {"count": 1, "spacing": None, "offset": "-400 mm"},
    "well": {"length": "850 mm", "width": "470 mm", "height": "700 mm"},
}
"""Between the foam 814 mm along a back that is 2.3 deg from square: 434 mm deep, 17.6 mm askew."""


def test_the_rectangle_within_a_skewed_opening_proves_nothing(design_a: Make) -> None:
    """Two of 395 mm want 805 mm: there along the opening, not in the upright rectangle in it."""
    found = vessels(design_a(**SKEWED, vessel=can(395, 750, count=2)))
    assert (found.verdict, found.missing, found.margin) == ("not-checked", (), None)
    assert "out of square" in found.why
    assert "proved" not in found.why
    # below the collar the well alone counts, and what is wider than the whole opening is ruled out
    assert vessels(design_a(**SKEWED, vessel=can(395, 690, count=2))).verdict != "not-checked"
    wide = vessels(design_a(**SKEWED, vessel=can(412, 750, count=2)))
    assert wide.verdict == "fail"
    assert wide.why.startswith("proved: ")


def test_what_is_too_tall_stays_proved_out_of_square(design_a: Make) -> None:
    found = vessels(design_a(**SKEWED, lid={"plug": "0 mm"}, vessel=can(300, 836)))
    assert found.verdict == "fail"
    assert "of height on the floor" in found.why


def test_the_box_about_nut_and_tailpiece_proves_nothing(design_a: Make) -> None:
    """A vessel as high as the nut touches the box, in a well that has room without it."""
    well = {"length": "320 mm", "width": "340 mm", "height": "700 mm"}
    one = {"count": 1, "spacing": None}
    boxed = vessels(design_a(well=well, vessel=can(300, 780), taps=one))
    assert boxed.verdict == "not-checked"
    assert "each nut with its tailpiece by the box about it" in boxed.why
    assert vessels(design_a(well=well, vessel=can(311, 780), taps=one)).verdict == "fail"


def test_the_nodes_are_those_of_the_core() -> None:
    assert (packed.NODES, packed.NODES_TO_PROVE) == (packing.NODES, packing.NODES_TO_PROVE)


def test_prove_goes_on_where_the_default_stops(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(packed, "NODES", 1)
    monkeypatch.setattr(packed, "NODES_TO_PROVE", 2000)
    project = design_a(well=THREE, vessel=can(216, 500, count=3))
    (found,) = asked(project, Question(prove=True))["vessels"]
    assert found.verdict == "fail"


def test_vessels_that_do_not_get_in_do_not_pass(design_a: Make) -> None:
    """They stand on a wide floor, under a mouth that is narrower than they are."""
    narrow = {**WELL, "mouth_width": "200 mm"}
    found = vessels(design_a(well=narrow, vessel=can(216, 100)))
    assert found.verdict == "not-checked"
    assert "no way in found for vessel-1 even into the empty well" in found.why


def test_nuts_and_manifold_keep_tall_vessels_away(design_a: Make) -> None:
    # a manifold 40 deep and 80 high about 69.85 on the back board: up to y = 533.4 - 19.05 - 40
    bar = {"length": "880 mm", "height": "80 mm", "depth": "100 mm", "side": "back"}
    at_left = {"count": 1, "spacing": None, "offset": "-400 mm"}
    tall = design_a(well=WELL, manifold=bar, vessel=can(300, 740), taps=at_left)
    # from the well's front wall at 56.7 to 533.4 - 19.05 - 100
    assert vessels(tall).measured == pytest.approx((414.35 - 56.7 - 300) / 2, abs=1e-3)
    short = design_a(well=WELL, manifold=bar, vessel=can(300, 720), taps=at_left)
    assert vessels(short).measured == pytest.approx(60, abs=1e-3)


def test_the_lid_counts_where_its_plug_is_known(design_a: Make) -> None:
    tall = can(216, 836)  # 839.7 mm under the lid, 5 mm above are wanted
    known = vessels(design_a(well=WELL, lid={"plug": "0 mm"}, vessel=tall))
    assert known.verdict == "fail"
    assert "needs 841 mm of height on the floor, and 839.7 mm is there" in known.why
    unknown = vessels(design_a(well=WELL, vessel=tall))
    assert unknown.verdict == "pass"
    assert "without the lid: add lid.plug" in unknown.why


def test_a_limit_goes_before_the_gap_of_the_well(design_a: Make) -> None:
    limits = Limits(required={"vessels": 103.0})
    found = vessels(design_a(well=WELL, vessel=can(216, 500, count=2), limits=limits))
    assert (found.required, found.verdict) == (103.0, "fail")


def test_a_kinds_diameter_counts_with_its_range_unless_it_was_read(design_a: Make) -> None:
    keg = {"kind": "keg-sixth-barrel"}  # 235 mm, up to 239 (common practice)
    by_kind = vessels(design_a(well=WELL, vessel=keg))
    assert by_kind.tolerance == pytest.approx(math.sqrt(16 + 0.25 * 3))
    assert by_kind.decided_by == "measure the part you bought: keg-sixth-barrel, diameter"
    read = vessels(design_a(well=WELL, vessel={**keg, "diameter": "235 mm"}))
    assert read.tolerance == pytest.approx(math.sqrt(1 + 0.25 * 3))


def test_what_is_missing_is_named(design_a: Make) -> None:
    found = asked(design_a(well=WELL))
    assert [each.missing for each in found["vessels"]] == [("vessel",)]
    assert [(each.where.tap, each.missing) for each in found["tail-room"]] == [
        (1, ("vessel",)),
        (2, ("vessel",)),
        (3, ("vessel",)),
    ]
    bare = {"diameter": "216 mm", "height": "500 mm"}
    lacking = vessels(design_a(well={"length": "1 m"}, vessel=bare, taps={"shank": None}))
    assert lacking.verdict == "not-checked"
    assert lacking.missing == ("well.width", "well.height", "vessel[1].fitting", "taps.shank")


def test_the_same_problem_is_packed_once(design_a: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    asked_for: list[packing.Problem] = []

    def counted(problem: packing.Problem, nodes: int, **more: Any) -> packing.Packing:
        asked_for.append(problem)
        return real(problem, nodes, **more)

    real = packing.pack
    monkeypatch.setattr(packing, "pack", counted)
    question = Question()
    project = design_a(well=WELL, vessel=can(216, 500, count=2))
    before = asked(project, question)
    assert len(asked_for) == 1
    # a wider washer, a longer handle and a deeper lip change nothing about the well
    other = design_a(
        well=WELL,
        vessel=can(216, 500, count=2),
        taps={"washer_diameter": "60 mm"},
        lip={"land": "3 in"},
    )
    assert asked(other, question) == before
    assert len(asked_for) == 1
    asked(replace(project, vessel=(project.vessel[0].model_copy(update={"count": 1}),)), question)
    assert len(asked_for) == 2


# --- tail-room ------------------------------------------------------------------------------------

NARROW = {"length": "320 mm", "height": "700 mm"}
"""x 309.9 to 629.9: a vessel of 300 mm stands before tap 2, whichever way."""


def tailed(design_a: Make, width: float, vessel: dict[str, Any]) -> dict[str, list[Finding]]:
    """One tap in the middle; its tailpiece 32 mm and the line's bend 50 mm behind the shank."""
    figures = {"shanks": {"tailpiece_length": 32.0}}
    well = {**NARROW, "width": f"{width} mm"}
    taps = {"count": 1, "spacing": None}
    return asked(design_a(well=well, vessel=vessel, taps=taps, figures=figures, foam=None))


@pytest.mark.parametrize(
    ("width", "verdict"), [(454.4, "tight"), (450.2, "tight"), (449.8, "fail")]
)
def test_the_line_bends_clear_of_a_tall_vessel(design_a: Make, width: float, verdict: str) -> None:
    """At the back wall less 5 mm: 266.7 + w/2 - 5 - 300 - 104.8 behind the shank's end, want 82.

    What is to spare is shared out between line and wall. It may stand 5 mm aside as well, which
    is another 0.05 mm.
    """
    found = tailed(design_a, width, can(300, 780))
    (tail,) = found["tail-room"]
    assert (tail.verdict, tail.required) == (verdict, pytest.approx(82.0))
    assert tail.where.tap == 1
    assert tail.measured is not None
    # shanks are up to 3 mm longer, tailpieces 8; half of the vessel's 1 mm and of the well's two
    assert tail.tolerance == pytest.approx(math.sqrt(9 + 64 + 3 * 0.25))
    assert tail.decided_by == "measure the part you bought: shank-4-1-8-in, tailpiece length"
    if verdict != "fail":
        assert tail.measured == pytest.approx(82.0 + (width - 450) / 4, abs=0.1)
    else:
        assert tail.measured < 81.9
    (together,) = found["vessels"]
    if verdict == "fail":  # without the line: 10 mm to both ends of the well
        assert together.measured == pytest.approx(10, abs=1e-3)
        assert together.verdict == "pass"
    else:  # with it hardly anything is to spare over the 5 mm
        assert together.measured == pytest.approx(5 + (width - 450) / 4, abs=0.1)
        assert together.verdict == "tight"


def test_what_moves_shank_and_tailpiece_moves_the_lines_room(design_a: Make) -> None:
    """A thread that was measured (0.5 mm) goes before the part's; the cover is 0.5 mm too."""
    well = {**NARROW, "width": "464 mm"}
    taps = {"count": 1, "spacing": None}
    more = {"figures": {"shanks": {"tailpiece_length": 32.0}}, "foam": None}
    read = {**taps, "shank": "104.8 mm"}
    cover = {"thickness": "5 mm", "sides": ("front",)}
    make = {"well": well, "vessel": can(300, 780), **more}
    (found,) = asked(design_a(taps=read, cover=cover, **make))["tail-room"]
    assert found.tolerance == pytest.approx(math.sqrt(64 + 5 * 0.25))
    # what the builder asks for does not grow with the tailpiece: 3.5 mm to spare of 3.1
    limits = Limits(required={"tail-room": 82.0})
    (enough,) = asked(design_a(taps=taps, limits=limits, **make))["tail-room"]
    assert enough.tolerance == pytest.approx(math.sqrt(9 + 3 * 0.25))
    assert (enough.verdict, enough.margin) == ("pass", pytest.approx(3.5, abs=0.1))


def test_vessels_below_the_line_do_not_matter(design_a: Make) -> None:
    # the line hangs to 69.85 - 50 - 11.1 = 8.75 over the collar's foot
    (below,) = tailed(design_a, 420, can(300, 700, 8.7))["tail-room"]
    assert (below.verdict, below.measured) == ("pass", None)
    (above,) = tailed(design_a, 420, can(300, 700, 8.8))["tail-room"]
    assert above.verdict == "fail"


def test_without_places_or_a_proof_tail_room_is_not_checked(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    wide = tailed(design_a, 420, can(315, 780))
    assert [each.verdict for each in wide["vessels"]] == ["fail"]
    (tail,) = wide["tail-room"]
    assert (tail.verdict, tail.missing) == ("not-checked", ())
    assert "no places were found" in tail.why
    monkeypatch.setattr(packed, "NODES", 1)
    (open_,) = tailed(design_a, 440, can(300, 780))["tail-room"]
    assert open_.verdict == "not-checked"
    assert "is not proved" in open_.why


def test_what_is_tried_starts_from_the_places_that_were_found(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A keg of another kind has another name and stands where the first one stood."""
    handed: list[tuple[packing.Place, ...]] = []

    def watched(problem: packing.Problem, nodes: int, **more: Any) -> packing.Packing:
        handed.append(more["near"])
        return real(problem, nodes, **more)

    real = packing.pack
    question = Question()
    rows = [{"kind": "keg-sixth-barrel"}, can(216, 500, count=2)]
    project = design_a(well=WELL, vessel=rows)
    asked(project, question)
    layout = evaluate(project).layout
    standing = question.standing(project, layout)
    assert standing is not None
    monkeypatch.setattr(packing, "pack", watched)
    other = design_a(well=WELL, vessel=[{"kind": "keg-20l-slim"}, rows[1]])
    found = {each.check: each for each in question.quick(other, evaluate(other))}
    assert found["vessels"].verdict == "pass"
    assert [place.vessel for place in handed[0]] == [
        "keg-20l-slim", "vessel-2 1 of 2", "vessel-2 2 of 2"
    ]  # fmt: skip
    was = {place.vessel: (place.x, place.y) for place in standing.places}
    assert (handed[0][0].x, handed[0][0].y) == was["keg-sixth-barrel"]
