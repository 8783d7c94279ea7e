"""The zone about each hole: against distances worked by hand, and against all of ``evaluate``.

The other route moves a bore by ``[[built.bore]]``, lays all out anew and asks every check.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from random import Random

import pytest
from collarwright.geometry.judge import halo as halo_
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.judge.halo import RAYS, REACH, WOOD, Halo, halos
from collarwright.geometry.shape import screws
from collarwright.geometry.shape.hole import Hole
from collarwright.geometry.shape.layout import lay_out
from collarwright.geometry.shape.taps import Tap
from collarwright.geometry.shape.wander import with_bore
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Built, BuiltBore, Project
from collarwright.params.reading import read

from .test_random_designs import Tables, project_of, toml

Make = Callable[..., Project]
EXAMPLES = Path(__file__).parents[2] / "examples"
HINGE = {
    "positions": ("-250 mm", "250 mm"), "leaf_height": "80 mm", "leaf_width": "40 mm",
    "screw": "wood-screw-no-8", "screws": 4,
}  # fmt: skip


def of(project: Project, name: str) -> Halo:
    return next(each for each in halos(project, lay_out(project)) if each.name == name)


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a bore have a zone without flange and nut, so that only wood stops it."""
    monkeypatch.setattr(halo_, "NEEDED", frozenset())


def turn(i: int) -> float:
    return math.tau * i / RAYS


def test_two_bores_keep_wood_between_them(design_a: Make) -> None:
    # Bores of 25.4 with as much wood between: centers 50.8 apart at least; they are 52.3 apart.
    project = design_a(taps={"count": 2, "spacing": "52.3 mm"})
    zone = of(project, "tap-1")
    for i, (radius, bound) in enumerate(zip(zone.radii, zone.bounds, strict=True)):
        cos = math.cos(turn(i))
        # law of cosines: 52.3^2 - 2 52.3 r cos + r^2 = 50.8^2
        under = (52.3 * cos) ** 2 - (52.3**2 - 50.8**2)
        met = 52.3 * cos - math.sqrt(under) if under > 0 and cos > 0 else math.inf
        # beside the last ray that is met, a ray is shortened for the round that bulges between
        assert min(met, REACH) - 0.5 < radius < min(met, REACH) + 0.05
        assert bound == ("bore-web" if met < REACH else "")
    assert zone.least == pytest.approx(1.5, abs=0.05)
    assert zone.bounded_by == ("bore-web",)
    assert not zone.capped


def test_the_flange_keeps_from_the_edge(design_a: Make) -> None:
    # 139.7 - 112 - 24 (half a flange) - 3 = 0.7 up to the top edge
    zone = of(design_a(taps={"count": 1, "height": "112 mm"}), "tap-1")
    for i, radius in enumerate(zone.radii):
        sin = math.sin(turn(i))
        assert radius == pytest.approx(min(0.7 / sin, REACH) if sin > 1e-9 else REACH, abs=0.05)
    assert zone.least == pytest.approx(0.7, abs=0.05)
    assert zone.bounded_by == ("bore-edge",)


def test_a_bore_with_all_its_room_is_told_to_have_at_least_so_much(design_a: Make) -> None:
    zone = of(design_a(taps={"count": 1}), "tap-1")
    assert zone.capped
    assert zone.least == REACH
    assert zone.bounded_by == ()
    assert "lid-front" in zone.unknown  # its faucet is not named
    assert "lid-back" not in zone.unknown  # asks nothing about a tap on the front


@pytest.mark.usefixtures("bare")
def test_without_a_shank_only_wood_stops_a_bore(design_a: Make) -> None:
    # 139.7 - 123 = 16.7 less half the bore: 4.0 of wood above
    zone = of(design_a(taps={"count": 1, "height": "123 mm", "shank": None}), "tap-1")
    assert zone.bounded_by == (WOOD,)
    assert zone.least == pytest.approx(4.0, abs=0.05)


def test_without_flange_and_nut_a_bore_has_no_zone(design_a: Make) -> None:
    zone = of(design_a(taps={"count": 1, "shank": None}), "tap-1")
    assert zone.radii == ()
    assert zone.fails == ()
    assert {"bore-edge", "bore-end"} <= set(zone.unknown)
    assert not zone.capped
    assert zone.least == 0.0


def test_what_asks_how_vessels_stand_is_told_as_not_asked() -> None:
    found = {}
    for name in ("cold-coffee", "soda-dry-fitted"):
        project = read(EXAMPLES / f"{name}.toml")[0]
        layout = lay_out(project)
        found[bool(layout.inside.vessels)] = halos(project, layout)
    for zone in found[True]:
        bored = zone.name.startswith("tap-")
        assert ({"vessels", "tail-room"} <= set(zone.unknown)) == bored
    assert not any("vessels" in zone.unknown for zone in found.get(False, ()))


def test_where_something_fails_already_there_is_no_zone_and_it_is_named(design_a: Make) -> None:
    # 45 apart: bores (50.8) and flanges (50) too near; the third stands far away
    places = {"positions": ("-150 mm", "-105 mm", "200 mm"), "count": None, "spacing": None}
    one, two, three = halos(project := design_a(taps={**places, "handle": None}), lay_out(project))
    for zone in (one, two):
        assert zone.radii == ()
        assert zone.least == 0.0
        assert set(zone.fails) == {"bore-web", "tap-gap"}
        assert not zone.capped
    assert three.capped
    assert three.fails == ()


def test_hinge_screws_keep_from_the_edge_and_from_each_other(design_a: Make) -> None:
    # No. 8: D 4.17. Pitch 80 / 4 = 20, so the first stands 10 below the edge, which may be no
    # nearer than 2.5 D = 10.425: it fails. With 3 screws 13.33: 2.908 to spare.
    assert of(design_a(hinge=HINGE), "hinge-1-1").fails == ("hinge-fit",)
    zone = of(design_a(hinge=HINGE | {"screws": 3}), "hinge-1-1")
    assert zone.radii[RAYS // 4] == pytest.approx(80 / 6 - 2.5 * 4.17, abs=0.05)
    # the next one is 26.67 below, and may be 3 D = 12.51 from it: farther than it is followed
    assert zone.radii[RAYS * 3 // 4] == REACH
    # 4 of them down 88: pitch 22, 9.49 to spare between them, and 0.575 to the edge
    second = of(design_a(hinge=HINGE | {"leaf_height": "88 mm"}), "hinge-2-2")
    assert second.radii[RAYS * 3 // 4] == pytest.approx(22 - 3 * 4.17, abs=0.05)
    assert second.bounded_by == ("hinge-fit",)


@pytest.mark.usefixtures("bare")
def test_a_bore_keeps_out_of_a_passage_and_of_a_tray_screw(design_a: Make) -> None:
    # bore 25.4, passage 14 to the right at the same height: 12.7 + 7 of the 25 between centers.
    passage = {"side": "front", "height": "69.85 mm", "diameter": "14 mm", "offset": "25 mm"}
    zone = of(design_a(taps={"count": 1, "shank": None}, hole=passage), "tap-1")
    assert zone.radii[0] == pytest.approx(25 - 12.7 - 7, abs=0.03)
    assert zone.bounded_by == (WOOD,)
    # under the flange, 48 across, there is no wood of its own either
    zone = of(design_a(taps={"count": 1}, hole=passage | {"offset": "33 mm"}), "tap-1")
    assert zone.radii[0] == pytest.approx(33 - 24 - 7, abs=0.03)
    # a screw's pilot of 3 mm straight below, 20 down, beside a bare bore
    tray = {"side": "front", "height": "49.85 mm", "pilot": "3 mm", "positions": ("0 mm",)}
    zone = of(design_a(taps={"count": 1, "shank": None}, tray=tray), "tap-1")
    assert zone.radii[RAYS * 3 // 4] == pytest.approx(20 - 12.7 - 1.5, abs=0.03)


def test_a_hinge_hole_keeps_out_of_a_passage(design_a: Make) -> None:
    # The first of three down 80: 13.33 below the edge, at 126.37. No. 8 in pine: a 2.33 pilot.
    hole = {"side": "back", "height": "126.37 mm", "diameter": "10 mm", "offset": "-238 mm"}
    # without its width the leaf does not keep it in, and is not asked about the passage
    project = design_a(hinge=HINGE | {"screws": 3, "leaf_width": None}, hole=hole)
    pilot = next(each for each in lay_out(project).board("back").holes if each.assumed)
    zone = of(project, pilot.name)
    assert -0.1 < zone.radii[0] - (12 - 5 - (pilot.diameter or 0) / 2) < 0.03


def test_a_hinge_hole_stays_under_its_leaf(design_a: Make) -> None:
    # The leaf is 16 wide and 80 tall: with a hole of d, 8 - d/2 to either side; the lowest of
    # three stands 80 / 6 above its foot. On a cover as on the board.
    narrow = HINGE | {"screws": 3, "leaf_width": "16 mm", "screw": "wood-screw-no-8"}
    for more in ({}, {"cover": {"thickness": "12 mm", "sides": ("back",)}}):
        project = design_a(hinge=narrow, **more)
        zone = of(project, "hinge-2-3")
        half = next(
            hole.diameter or 0.0
            for hole in lay_out(project).board("back").holes
            if hole.name == "hinge-2-3"
        ) / 2  # fmt: skip
        for i in (0, RAYS // 2):
            assert zone.radii[i] == pytest.approx(8 - half, abs=0.03)
            assert zone.bounds[i] == WOOD
        low = of(design_a(hinge=narrow | {"leaf_height": "66 mm"}, **more), "hinge-2-3")
        assert low.radii[RAYS * 3 // 4] == pytest.approx(66 / 6 - half, abs=0.03)


@pytest.mark.usefixtures("bare")
def test_sides_do_not_reach_into_what_is_round(design_a: Make) -> None:
    # Bore 8 and passage 3: centers 5.5 apart at least. The passage lies between two rays.
    far, way = 14.0, math.tau / RAYS / 2
    hole = {
        "side": "front", "diameter": "3 mm",
        "height": f"{69.85 + far * math.sin(way)} mm", "offset": f"{far * math.cos(way)} mm",
    }  # fmt: skip
    taps = {"count": 1, "shank": None, "bore": "8 mm"}
    corners = of(design_a(taps=taps, hole=hole), "tap-1").outline()
    at = far * math.cos(way), far * math.sin(way)
    nearest = min(
        math.dist(at, (a[0] + k / 20 * (b[0] - a[0]), a[1] + k / 20 * (b[1] - a[1])))
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
        for k in range(21)
    )
    assert 5.45 < nearest < 5.8


# --- the layout with a hole elsewhere -------------------------------------------------------------


def elsewhere(project: Project, number: int, u: float, v: float) -> Project:
    bore = BuiltBore.model_construct(tap=number, from_left=u, from_bottom=v)
    built = Built.model_construct(bore=(bore,))
    return replace(project, as_built=True, built=built)


@pytest.mark.parametrize("name", ["terrace-bar", "cold-coffee", "cider-porch"])
def test_a_moved_bore_is_laid_out_as_a_bore_that_was_drilled_there(name: str) -> None:
    project = replace(read(EXAMPLES / f"{name}.toml")[0], built=None, as_built=False)
    layout = lay_out(project)
    for tap in layout.taps:
        there = with_bore(project, layout, tap.number, 2.5, -1.5)
        real = lay_out(elsewhere(project, tap.number, tap.u + 2.5, tap.v - 1.5))
        assert there is not None
        for part in ("taps", "envelopes", "boards", "covers", "panels", "inside"):
            assert str(rounded(getattr(there, part))) == str(rounded(getattr(real, part)))


def test_no_bore_can_be_where_the_program_refuses_what_is_in_its_way(design_a: Make) -> None:
    """Passages and tray screws stand about a bore."""
    places = (("8", "20"), ("-28", "12"), ("4", "-32"))
    holes = [
        {"side": "front", "diameter": "6 mm", "height": f"{69.85 + float(v)} mm",
         "offset": f"{u} mm"}
        for u, v in places
    ]  # fmt: skip
    tray = {"side": "front", "height": "42 mm", "pilot": "3 mm", "positions": ("-14 mm", "21 mm")}
    project = design_a(taps={"count": 1, "shank": None}, hole=holes, tray=tray)
    layout, chance, seen = lay_out(project), Random(5), set[bool]()
    tap = layout.taps[0]
    for _ in range(150):
        du, dv = chance.uniform(-20, 20), chance.uniform(-20, 20)
        there = with_bore(project, layout, 1, du, dv)
        try:
            lay_out(elsewhere(project, 1, tap.u + du, tap.v + dv))
        except BuildFileError:
            assert there is None, (du, dv)
        else:
            assert there is not None, (du, dv)
        seen.add(there is None)
    assert seen == {True, False}


def rounded(value: object) -> object:
    """Figures to 0.00001, in tables of any depth."""
    if isinstance(value, float):
        return round(value, 5) + 0.0
    if isinstance(value, tuple):
        return [rounded(each) for each in value]
    fields = getattr(value, "__dataclass_fields__", None)
    return [rounded(getattr(value, name)) for name in fields] if fields else value


# --- all of evaluate ------------------------------------------------------------------------------


def failing(project: Project) -> set[object] | None:
    try:
        findings = evaluate(project).findings
    except BuildFileError:
        return None
    return {
        (each.check, each.where)
        for each in findings
        if each.verdict == "fail" and each.weight == "must"
    }


def still_passes(project: Project, tap: Tap, here: set[object], far: float, angle: float) -> bool:
    """Whether nothing new fails with the bore so far from its mark, asked of everything."""
    u, v = tap.u + far * math.cos(angle), tap.v + far * math.sin(angle)
    now = failing(elsewhere(project, tap.number, u, v))
    return now is not None and now <= here


def designs() -> list[Project]:
    found = [
        replace(read(EXAMPLES / f"{name}.toml")[0], built=None, as_built=False)
        for name in ("cold-coffee", "terrace-bar", "soda-dry-fitted", "kombucha-too-tight")
    ]
    seed = 0
    while len(found) < 30:
        seed += 1
        tables = Tables(Random(seed)).every()
        tables.pop("built", None)
        project = project_of("".join(f"{name} = {toml(value)}\n" for name, value in tables.items()))
        if project is not None:
            found.append(project)
    return found


def test_the_zone_is_that_of_every_check() -> None:
    chance, ends, zones = Random(7), 0, 0
    for project in designs():
        layout = lay_out(project)
        found = {zone.name: zone for zone in halos(project, layout)}
        for tap in layout.taps[:3]:
            here = failing(elsewhere(project, tap.number, tap.u, tap.v))
            zone = found[tap.hole.name]
            assert here is not None
            own = {check for check, where in here if where.tap == tap.number}
            assert set(zone.fails) >= own & (halo_.OWN | halo_.ALL | halo_.BACK)
            if not zone.radii:
                assert {check for check, _ in here} >= set(zone.fails)
                continue
            zones += 1

            passes = partial(still_passes, project, tap, here)
            for i in chance.sample(range(RAYS), 4):
                radius = zone.radii[i]
                assert passes(max(0.0, radius - 0.05), turn(i)), (project, tap, i)
                if zone.bounds[i]:
                    ends += 1
                    # a ray that was shortened ends before anything fails
                    beyond = (passes(radius + by, turn(i)) for by in (0.05, 0.5, 1.5))
                    assert not all(beyond), (project, tap, i)
            assert passes(
                chance.uniform(0, max(0.0, zone.least - 0.05)), chance.uniform(0, math.tau)
            )
    assert zones > 15
    assert ends > 15


def test_a_screw_hole_is_asked_as_evaluate_asks_it(
    design_a: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = design_a(hinge=HINGE | {"screws": 3})
    asked = {each.name: each for each in halos(project, lay_out(project))}
    set_out = screws.hinge_pilots
    for name in ("hinge-1-1", "hinge-2-3"):
        zone = asked[name]
        for i in range(0, RAYS, 3):
            for by, good in ((-0.05, True), (0.05, False)):
                far = zone.radii[i] + by
                shift = far * math.cos(turn(i)), far * math.sin(turn(i))

                def moved(
                    *given: object,
                    at=shift,
                    name=name,
                ) -> tuple[Hole, ...]:
                    return tuple(
                        replace(hole, u=hole.u + at[0], v=hole.v + at[1])
                        if hole.name == name
                        else hole
                        for hole in set_out(*given)
                    )

                monkeypatch.setattr(screws, "hinge_pilots", moved)
                bad = failing(project)
                assert bad is not None
                if good:
                    assert not any(check == "hinge-fit" for check, _ in bad)
                elif zone.bounds[i] == "hinge-fit":
                    assert any(check == "hinge-fit" for check, _ in bad)
