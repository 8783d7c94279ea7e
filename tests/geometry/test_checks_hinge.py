"""hinge-fit, hinge-hold, screw-length: figures by hand, both sides of each edge."""

import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]

W, D = 37 * 25.4, 21 * 25.4
T, HEIGHT = 19.05, 139.7
SCREW = 4.17  # no. 8
LEAF = {
    "positions": ("-300 mm", "300 mm"),
    "leaf_height": "90 mm",
    "leaf_width": "60 mm",
    "leaf_thickness": "2 mm",
    "fix": "screw",
    "screw": "wood-screw-no-8",
    "screw_length": "19 mm",
    "screws": 3,
}


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def figures(found: Finding) -> tuple[float | None, float | None, float | None]:
    return found.measured, found.required, found.margin


# --- hinge-fit: room for the leaf -----------------------------------------------------------------


def rooms(findings: Find, hinge: dict[str, Any], **more: Any) -> list[Finding]:
    return findings("hinge-fit", hinge=LEAF | hinge, **more)[::2]


def test_each_leaf_has_a_finding_for_its_room_and_one_for_its_screws(findings: Find) -> None:
    found = findings("hinge-fit", hinge=LEAF)
    assert [each.where.text for each in found] == [
        "leaf 1", "leaf 1, screws", "leaf 2", "leaf 2, screws",
    ]  # fmt: skip
    for each in found:
        assert (each.where.side, each.verdict, each.weight) == ("back", "pass", "must")
        assert (each.unit, each.sense) == ("mm", "at least")
    assert figures(found[0]) == pytest.approx((HEIGHT - 90, 0, HEIGHT - 90))


@pytest.mark.parametrize(
    ("hinge", "room", "to"),
    [
        ({}, HEIGHT - 90, "the board's bottom edge"),
        ({"leaf_height": "139.7 mm"}, 0, "the board's bottom edge"),
        ({"leaf_height": "139.8 mm"}, -0.1, "the board's bottom edge"),
        # a leaf beyond the short points is refused with the input
        ({"positions": ("-420 mm", "300 mm")}, W / 2 - 420 - 30, "the board's left end"),
        ({"positions": ("415 mm", "-300 mm")}, W / 2 - 415 - 30, "the board's right end"),
        ({"positions": ("40 mm", "-30 mm")}, 10, "leaf 2"),
        ({"positions": ("29.9 mm", "-30 mm")}, -0.1, "leaf 2"),
        ({"positions": ("0 mm",)}, HEIGHT - 90, "the board's bottom edge"),
    ],
)
def test_the_leaf_on_the_back_face(
    findings: Find, hinge: dict[str, Any], room: float, to: str
) -> None:
    found = rooms(findings, hinge)[0]
    assert found.measured == pytest.approx(room, abs=1e-6)
    assert found.verdict == ("fail" if room < -1e-6 else "pass")
    assert found.why == f"room from the leaf to {to}"


@pytest.mark.parametrize(
    ("offset", "height", "room"),
    [
        # the leaf runs from 270 to 330 right of the middle and down to 49.7; the hole is 20 wide
        (300, 25, 49.7 - 25 - 10),
        (300, 39.7, 0),
        (300, 41, -1.3),
        (300, 100, 30 - 60 - 10),  # in the middle of the leaf: 30 mm to a side
        (245, 100, 25 - 10),
        (240, 9.7 + 10, math.hypot(30, 30) - 10),
    ],
)
def test_a_passage_beside_the_leaf(
    findings: Find, offset: float, height: float, room: float
) -> None:
    hole = {"side": "back", "height": mm(height), "offset": mm(offset), "diameter": "20 mm"}
    one, two = rooms(findings, {}, hole=hole)
    assert two.measured == pytest.approx(room, abs=1e-6)
    assert two.why == "room from the leaf to passage-1"
    assert one.why != two.why


def test_the_flange_of_a_tap_on_the_back(findings: Find) -> None:
    """Of 48 mm over a bore of 25.4, at half of the board's width and 70 mm beside the leaf."""
    taps = {"side": "back", "count": 1, "offset": "200 mm"}
    assert rooms(findings, {}, taps=taps)[1].measured == pytest.approx(70 - 24)
    bare = rooms(findings, {}, taps={**taps, "shank": None})[1]
    assert bare.why == "room from the leaf to the board's bottom edge"
    assert rooms(findings, {}, taps={**taps, "offset": "255 mm", "shank": None})[
        1
    ].measured == pytest.approx(15 - 12.7)
    # on the front it is not in the way
    assert rooms(findings, {}, taps={**taps, "side": "front"})[1].measured == HEIGHT - 90


def test_a_cover_on_the_back_must_end_below_the_leaf(findings: Find) -> None:
    """150 mm wide and hanging 110 below the lip it ends 40 above the lip's plane."""
    cover = {"thickness": "19 mm", "width": "150 mm", "below_lip": "110 mm"}
    assert rooms(findings, {}, cover=cover)[0].measured == pytest.approx(49.7 - 40)
    seat = {"seal": "foam-tape-closed-cell"}  # 4.48 mm high when squeezed
    assert rooms(findings, {}, cover=cover, seat=seat)[0].measured == pytest.approx(9.7 + 4.48)
    higher = rooms(findings, {}, cover={**cover, "below_lip": "100 mm"})[0]
    assert (higher.verdict, higher.measured) == ("fail", pytest.approx(-0.3))
    front = rooms(findings, {}, cover={"thickness": "19 mm", "sides": ("front",)})[0]
    assert front.verdict == "pass"


def test_a_cover_up_to_the_top_edge_carries_the_leaf(findings: Find) -> None:
    """Without a width it ends at the boards' top edge; the leaf ends 49.7 above their bottom."""
    room = rooms(findings, {}, cover={"thickness": "19 mm"})[0]
    assert room.measured == pytest.approx(49.7)
    assert "cover's bottom edge" in room.why
    hangs = rooms(findings, {}, cover={"thickness": "19 mm", "below_lip": "30 mm"})[0]
    assert hangs.measured == pytest.approx(79.7)


# --- hinge-fit: distances of its screws -----------------------------------------------------------


def screws(findings: Find, hinge: dict[str, Any], **more: Any) -> list[Finding]:
    return findings("hinge-fit", hinge=LEAF | hinge, **more)[1::2]


@pytest.mark.parametrize(
    ("hinge", "got", "least", "to"),
    [
        # three screws 30 mm apart, the first 15 below the edge: 2.5 D is 10.425
        ({}, 15, 2.5 * SCREW, "the board's top edge"),
        ({"leaf_height": "62.55 mm"}, 10.425, 2.5 * SCREW, "the board's top edge"),
        ({"leaf_height": "62.5 mm"}, 62.5 / 6, 2.5 * SCREW, "the board's top edge"),
        ({"leaf_height": "139.7 mm"}, 139.7 / 6, 2.5 * SCREW, "the board's top edge"),
        # a leaf that hangs over the bottom edge
        ({"leaf_height": "155 mm"}, HEIGHT - 155 * 5 / 6, 2.5 * SCREW, "the board's bottom edge"),
        ({"leaf_height": "156 mm"}, HEIGHT - 156 * 5 / 6, 2.5 * SCREW, "the board's bottom edge"),
        ({"screws": 1}, 45, 2.5 * SCREW, "the board's top edge"),
        ({"screws": 5}, 9, 2.5 * SCREW, "the board's top edge"),
        # 19.05 mm of the end are miter; 5 D is 20.85
        (
            {"positions": ("-430 mm",), "leaf_width": "40 mm"},
            *(W / 2 - 430 - T, 5 * SCREW, "the board's end at its inner face"),
        ),
        (
            {"positions": ("430.1 mm",), "leaf_width": "40 mm"},
            *(W / 2 - 430.1 - T, 5 * SCREW, "the board's end at its inner face"),
        ),
    ],
)
def test_the_screw_that_has_least_to_spare(
    findings: Find, hinge: dict[str, Any], got: float, least: float, to: str
) -> None:
    found = screws(findings, hinge)[0]
    assert figures(found) == pytest.approx((got, least, got - least), abs=1e-6)
    assert found.verdict == ("fail" if got < least - 1e-6 else "pass")
    assert found.why.startswith(f"from a screw's center to {to}")


def test_a_thick_screw_needs_more_of_end_and_edge(findings: Find) -> None:
    figure = {"screws": {"shank_diameter": 8.13}}
    hinge = {"positions": ("420 mm",), "leaf_height": "130 mm"}
    found = screws(findings, hinge, figures=figure)[0]
    assert figures(found)[:2] == pytest.approx((W / 2 - 420 - T, 5 * 8.13))
    assert found.verdict == "fail"
    spread = screws(findings, {"leaf_height": "130 mm", "screws": 5}, figures=figure)[0]
    assert figures(spread)[:2] == pytest.approx((13, 2.5 * 8.13))


def test_without_screws_or_leaves_nothing_is_checked(findings: Find) -> None:
    for hinge in (None, {"screws": 3}):
        found = only(findings("hinge-fit", hinge=hinge))
        assert found.missing == ("hinge.positions",)
    room, screw = findings("hinge-fit", hinge={"positions": ("0 mm",)})
    assert room.missing == ("hinge.leaf_height", "hinge.leaf_width")
    assert screw.missing == ("hinge.leaf_height", "hinge.screw", "hinge.screws")
    bolted = screws(findings, {"fix": "bolt", "screw": None})[0]
    assert (bolted.verdict, bolted.missing) == ("not-checked", ("hinge.bolt",))
    assert bolted.where.text == "leaf 1, bolts"


BOLTS = {"fix": "bolt", "screw": None, "screw_length": None, "bolt": "6 mm"}


@pytest.mark.parametrize(
    ("hinge", "got", "least", "to"),
    [
        # three bolts 30 mm apart: the first 15 under the edge, 1.5 D is 9
        ({}, 15, 9, "the board's top edge"),
        ({"leaf_height": "54 mm"}, 9, 9, "the board's top edge"),
        ({"leaf_height": "53.9 mm"}, 53.9 / 6, 9, "the board's top edge"),
        # the lowest 115.7 under the edge leaves 24; 4 D is 24
        ({"leaf_height": "138.84 mm"}, 24, 24, "the board's bottom edge"),
        ({"leaf_height": "138.9 mm"}, HEIGHT - 138.9 * 5 / 6, 24, "the board's bottom edge"),
        # 4 D to the end behind 19.05 mm of miter
        (
            {"positions": ("-426.8 mm",), "leaf_width": "40 mm"},
            *(W / 2 - 426.8 - T, 24, "the board's end at its inner face"),
        ),
        (
            {"positions": ("426.9 mm",), "leaf_width": "40 mm"},
            *(W / 2 - 426.9 - T, 24, "the board's end at its inner face"),
        ),
        # half of a washer that is wider than that: its edge stays on the wood
        ({"bolt_washer": "30 mm"}, 15, 15, "the board's top edge, half of a washer"),
        ({"bolt_washer": "30.1 mm"}, 15, 15.05, "the board's top edge, half of a washer"),
        ({"bolt_washer": "17 mm"}, 15, 9, "the board's top edge"),
    ],
)
def test_the_bolt_that_has_least_to_spare(
    findings: Find, hinge: dict[str, Any], got: float, least: float, to: str
) -> None:
    found = screws(findings, BOLTS | hinge)[0]
    assert figures(found) == pytest.approx((got, least, got - least), abs=1e-6)
    assert found.verdict == ("fail" if got < least - 1e-6 else "pass")
    assert found.why.startswith(f"from a bolt's center to {to}")


def test_a_limit_means_the_leaf_and_not_its_screws(findings: Find) -> None:
    limits = Limits(required={"hinge-fit": 55.0})
    room, screw = findings("hinge-fit", hinge=LEAF, limits=limits)[:2]
    assert figures(room) == pytest.approx((HEIGHT - 90, 55, HEIGHT - 145))
    assert screw.required == pytest.approx(2.5 * SCREW)


# --- screw-length ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "leaf", "backing", "left", "verdict"),
    [
        (19, 2, None, T - 17, "pass"),
        (19.05, 2, None, 2, "pass"),
        (19.06, 2, None, 1.99, "fail"),
        (30, 2, None, T - 28, "fail"),
        (30, 2, 19, T + 19 - 28, "pass"),
        (30, 0, 12.95, 2, "pass"),
    ],
)
def test_wood_behind_the_tip(
    findings: Find, length: float, leaf: float, backing: float | None, left: float, verdict: str
) -> None:
    hinge = {"screw_length": mm(length), "leaf_thickness": mm(leaf)}
    if backing is not None:
        hinge["backing"] = mm(backing)
    found = only(findings("screw-length", hinge=hinge))
    assert figures(found) == pytest.approx((left, 2, left - 2), abs=1e-6)
    assert (found.verdict, found.weight, found.unit) == (verdict, "must", "mm")


def test_length_and_leaf_are_asked_for_and_bolts_go_through(findings: Find) -> None:
    for hinge in (None, {"spring": True}):
        found = only(findings("screw-length", hinge=hinge))
        assert found.missing == ("hinge.screw_length", "hinge.leaf_thickness")
    found = only(findings("screw-length", hinge={"fix": "bolt"}))
    assert (found.verdict, found.measured) == ("pass", None)


# --- hinge-hold -----------------------------------------------------------------------------------

LID = {"thickness": "60 mm", "mass": "12 kg"}
AXIS = {"axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg", "spring": False}
PINE = {"species": "eastern-white-pine"}
WEIGHT = 12 * 9.80665
# from the axis: the lid's middle is ahead of it by half of 533.4 and 15, and above it by 10 and
# half of 60; the front edge 5 mm farther than the lip
AHEAD, ABOVE, FRONT = D / 2 + 15, 40.0, D + 15 + 5
LEVERS = 75 / (15**2 + 45**2 + 75**2)  # of the uppermost of three screws, 1/mm
OUT = 108.25 * 0.35**2 * SCREW * (19 - 2 - SCREW - (19 * 0.333 - 2))
ACROSS = 23.17 * SCREW**2 * (17 / SCREW / 7)


def hold(findings: Find, **changes: Any) -> tuple[Finding, Finding]:
    design: dict[str, Any] = {"lid": LID, "hinge": LEAF | AXIS, "board": PINE}
    for table, change in changes.items():
        design[table] = design.get(table, {}) | change if isinstance(change, dict) else change
    pulled, alone = findings("hinge-hold", **design)
    return pulled, alone


def ratio(moment: float, out: float = OUT, across: float = ACROSS, leaves: int = 2) -> float:
    """Capacity over load: pull p = M e / sum(e2), shear v = m g / 6, at the angle of both.

    Of W Z / (W cos2 + Z sin2) over the load r, with cos = v / r and sin = p / r.
    """
    p, v = moment / leaves * LEVERS, WEIGHT / leaves / 3
    return out * across * math.hypot(p, v) / (out * v**2 + across * p**2)


def test_the_stops_moment_with_a_pull_and_without(findings: Find) -> None:
    """Upright, the middle hangs 40 mm behind the axis."""
    pulled, alone = hold(findings)
    assert [each.where.text for each in (pulled, alone)] == ["with a pull", "without a pull"]
    stop = WEIGHT * ABOVE
    assert figures(pulled) == pytest.approx(
        (ratio(stop + 100 * FRONT), 1.5, ratio(stop + 100 * FRONT) - 1.5)
    )
    assert figures(alone) == pytest.approx((ratio(stop), 6, ratio(stop) - 6))
    assert pulled.why.startswith("with a pull of 100 N at the lid's front edge: ")
    assert alone.why.startswith("without a pull: ")
    for each in (pulled, alone):
        assert (each.verdict, each.weight, each.unit) == ("pass", "must", "times")
        assert "108.25 G2 D L" in each.source and "G2" not in each.why
        assert "NDS 12.4.1" in each.source


def test_a_lid_that_stops_short_of_its_balance_leaves_the_weight_alone(findings: Find) -> None:
    pulled, alone = hold(findings, hinge={"open_to": "70 deg"})
    assert alone.measured == pytest.approx(ACROSS / (WEIGHT / 6))
    assert pulled.measured == pytest.approx(ratio(100 * FRONT))
    assert "leans to the front" in alone.why


@pytest.mark.parametrize(("above", "open_to"), [(-10, 90), (-90, 20), (60, 2), (60, 90)])
def test_a_spring_loads_the_leaf_in_the_whole_swing(
    findings: Find, above: float, open_to: float
) -> None:
    """Its greatest reaction is where the lid's middle is level with the axis, or at an end."""
    axis = {"axis_above": mm(above), "open_to": f"{open_to} deg", "spring": True}
    pulled, alone = hold(findings, hinge=axis)
    high = 30 - above
    most = max(
        abs(AHEAD * math.cos(math.radians(a)) - high * math.sin(math.radians(a)))
        for a in (i * open_to / 5000 for i in range(5001))
    )
    assert alone.measured == pytest.approx(ratio(WEIGHT * most), rel=1e-6)
    assert pulled.measured == pytest.approx(ratio(WEIGHT * most + 100 * FRONT), rel=1e-6)


def test_an_axis_above_the_lid_puts_the_springs_peak_inside_the_swing(findings: Find) -> None:
    """The middle hangs 80 mm below the axis: level with it after atan(80 / 281.7), 15.9 deg."""
    _, alone = hold(findings, hinge={"axis_above": "110 mm", "spring": True})
    assert alone.measured == pytest.approx(ratio(WEIGHT * math.hypot(AHEAD, 80)))
    assert "at 16 deg" in alone.why


def test_both_sides_of_each_limit(findings: Find) -> None:
    """Heavier lids until the worst screw has just 6, or 1.5, times what it needs."""
    for which, least, spring in ((1, 6.0, True), (0, 1.5, False)):
        low, high = 0.1, 60.0
        for _ in range(60):
            mass = (low + high) / 2
            moment = mass * 9.80665 * (AHEAD if spring else ABOVE)
            moment += 0 if which else 100 * FRONT
            p, v = moment / 2 * LEVERS, mass * 9.80665 / 6
            holds = OUT * ACROSS * math.hypot(p, v) / (OUT * v**2 + ACROSS * p**2)
            low, high = (mass, high) if holds > least else (low, mass)
        for off, verdict in ((-1e-4, "pass"), (1e-3, "fail")):
            lid = {"mass": f"{low + off:.9f} kg"}
            assert hold(findings, lid=lid, hinge={"spring": spring})[which].verdict == verdict


def test_a_block_behind_the_board_takes_longer_screws(findings: Find) -> None:
    """45 mm through 2 mm of leaf: thread from 13 mm in to the tip's 4.17 before 43."""
    hinge = {"screw_length": "45 mm", "backing": "30 mm"}
    out = 108.25 * 0.35**2 * SCREW * (45 - 2 - SCREW - (45 * 0.333 - 2))
    across = 23.17 * SCREW**2
    expected = ratio(WEIGHT * ABOVE + 100 * FRONT, out, across)
    assert hold(findings, hinge=hinge)[0].measured == pytest.approx(expected)
    # without the block only the board's 19.05 mm hold
    out = 108.25 * 0.35**2 * SCREW * (T - (45 * 0.333 - 2))
    across = 23.17 * SCREW**2 * (T / SCREW / 7)
    expected = ratio(WEIGHT * ABOVE + 100 * FRONT, out, across)
    found = hold(findings, hinge={"screw_length": "45 mm"})[0]
    assert found.measured == pytest.approx(expected)
    assert found.verdict == "fail"


def test_oak_holds_more_and_more_leaves_share(findings: Find) -> None:
    moment = WEIGHT * ABOVE + 100 * FRONT
    oak = hold(findings, board={"species": "red-oak"})[0]
    out, across = OUT * (0.63 / 0.35) ** 2, ACROSS * 44.13 / 23.17
    assert oak.measured == pytest.approx(ratio(moment, out, across))
    three = hold(findings, hinge={"positions": ("-300 mm", "0 mm", "300 mm")})[0]
    assert three.measured == pytest.approx(ratio(moment, leaves=3))


def test_too_short_a_screw_has_no_value_across(findings: Find) -> None:
    """18 mm through 2 mm of leaf: 16 mm are less than 4 D of 16.7."""
    for found in hold(findings, hinge={"screw_length": "18 mm"}):
        assert (found.measured, found.verdict) == (0, "fail")
        assert "it goes 16 mm into the wood, less than its 4 diameters, 16.7 mm" in found.why


def test_what_the_load_needs_is_named(findings: Find) -> None:
    for found in hold(findings, hinge={"spring": None}, board={"species": None}):
        assert found.missing == ("hinge.spring", "board.species")
    for found in hold(findings, hinge={"fix": "bolt", "screw": None, "screw_length": None}):
        assert found.missing == ("hinge.bolt", "hinge.bolt_washer")


@pytest.mark.parametrize(
    ("limit", "pulled", "alone"), [(8, 1.5, 8), (6, 1.5, 6), (2, 1.5, 2), (1.2, 1.2, 1.2)]
)
def test_a_limit_means_the_hinge_without_a_pull(
    findings: Find, limit: float, pulled: float, alone: float
) -> None:
    found = hold(findings, limits=Limits(required={"hinge-hold": limit}))
    assert [each.required for each in found] == [pulled, alone]


# --- hinge-hold: bolts ----------------------------------------------------------------------------

BOLTED = BOLTS | {"bolt_washer": "18 mm"}
PSI = 4.4482216 / 25.4**2
# an 18 mm washer over a hole of 6.79: 218.2 mm2 of pine at 3.0 N/mm2, its proportional limit
RING = math.pi / 4 * (18**2 - (6 + 25.4 / 32) ** 2)
PINE_BEARS = 16_600 * 0.35**1.84 * PSI  # under 1/4 in, in any direction: 16.6 N/mm2
STEEL_BEARS = 61_875 * PSI


def yields(thickness: float, leaf: float, bolt: float = 6, wood: float = PINE_BEARS) -> float:
    """The least of the six yield modes, from the equations as they are printed."""
    re, rt, fy = wood / STEEL_BEARS, thickness / leaf, 45_000 * PSI
    k1 = (math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + math.sqrt(2 * (1 + re) + 2 * fy * (1 + 2 * re) * bolt**2 / (3 * wood * thickness**2))
    k3 = -1 + math.sqrt(2 * (1 + re) / re + 2 * fy * (2 + re) * bolt**2 / (3 * wood * leaf**2))
    return min(
        bolt * thickness * wood,
        bolt * leaf * STEEL_BEARS,
        k1 * bolt * leaf * STEEL_BEARS,
        k2 * bolt * thickness * wood / (1 + 2 * re),
        k3 * bolt * leaf * wood / (2 + re),
        bolt**2 * math.sqrt(2 * wood * fy / (3 * (1 + re))),
    )


def bolts_hold(moment: float, out: float, across: float) -> float:
    return 1 / (moment / 2 * LEVERS / out + WEIGHT / 6 / across)


def test_bolts_under_the_stops_moment(findings: Find) -> None:
    pulled, alone = hold(findings, hinge=BOLTED)
    stop, across = WEIGHT * ABOVE, yields(T, 2)
    for found, moment, least in ((pulled, stop + 100 * FRONT, 1.5), (alone, stop, 6)):
        expected = bolts_hold(moment, 3.0 * RING, across)
        assert figures(found) == pytest.approx((expected, least, expected - least), rel=1e-6)
        assert (found.verdict, found.unit) == ("fail" if expected < least else "pass", "times")
        assert "its washer holds 655 N" in found.why
        assert "shares added" in found.why


def test_a_wider_washer_and_a_block_hold_more(findings: Find) -> None:
    moment = WEIGHT * ABOVE + 100 * FRONT
    wide = hold(findings, hinge=BOLTED | {"bolt_washer": "30 mm"})[0]
    ring = math.pi / 4 * (30**2 - (6 + 25.4 / 32) ** 2)
    assert wide.measured == pytest.approx(bolts_hold(moment, 3.0 * ring, yields(T, 2)))
    block = hold(findings, hinge=BOLTED | {"backing": "19 mm"})[0]
    assert block.measured == pytest.approx(bolts_hold(moment, 3.0 * RING, yields(T + 19, 2)))
    thick = hold(findings, hinge=BOLTED | {"bolt": "8 mm"})[0]
    bears = 6_100 * 0.35**1.45 / math.sqrt(8 / 25.4) * PSI
    ring = math.pi / 4 * (18**2 - (8 + 25.4 / 32) ** 2)
    expected = bolts_hold(moment, 3.0 * ring, yields(T, 2, 8, bears))
    assert thick.measured == pytest.approx(expected)


def test_both_sides_of_the_limit_of_bolts(findings: Find) -> None:
    """The washer at which the worst bolt has just 1.5 times what it needs."""
    moment, across = WEIGHT * ABOVE + 100 * FRONT, yields(T, 2)
    share = 1 / 1.5 - WEIGHT / 6 / across
    washer = math.sqrt(moment / 2 * LEVERS / share / 3.0 * 4 / math.pi + (6 + 25.4 / 32) ** 2)
    for off, verdict in ((-1e-3, "fail"), (1e-3, "pass")):
        found = hold(findings, hinge=BOLTED | {"bolt_washer": mm(washer + off)})[0]
        assert found.verdict == verdict


def test_a_wood_that_no_table_presses_is_not_checked_for_bolts(findings: Find) -> None:
    for found in hold(findings, hinge=BOLTED, board={"species": "teak"}):
        assert (found.verdict, found.missing) == ("not-checked", ())
        assert "catalogue row" in found.why
