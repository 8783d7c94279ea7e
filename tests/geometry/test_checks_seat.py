"""lip-flat, gasket-pull, plug, collar-hold: figures by hand, both sides of each edge."""

import cmath
import math
from collections.abc import Callable
from typing import Any

import pytest
from collarwright.geometry.judge.finding import Finding
from collarwright.params.project import Limits

Find = Callable[..., list[Finding]]

W, D = 37 * 25.4, 21 * 25.4
T, HEIGHT, FOAM = 19.05, 139.7, 25.4
SIDES = ("front", "right", "back", "left")


def mm(value: float) -> str:
    return f"{value:.9f} mm"


def only(found: list[Finding]) -> Finding:
    (one,) = found
    return one


def figures(found: Finding) -> tuple[float | None, float | None, float | None]:
    return found.measured, found.required, found.margin


# --- lip-flat -------------------------------------------------------------------------------------

TAPE = {"seal": "foam-tape-closed-cell"}
TAKES = 6.4 * 0.30


@pytest.mark.parametrize(
    ("gap", "verdict"), [(0, "pass"), (TAKES - 0.5, "pass"), (TAKES - 0.49, "fail"), (5, "fail")]
)
def test_what_the_seal_takes_beyond_the_gap(findings: Find, gap: float, verdict: str) -> None:
    gaps = {"front": mm(gap), "right": "0 mm", "back": "0 mm", "left": "0 mm"}
    found = findings("lip-flat", seat=TAPE, lip={"gaps": gaps})
    assert [each.where.side for each in found] == list(SIDES)
    assert figures(found[0]) == pytest.approx((TAKES - gap, 0.5, TAKES - gap - 0.5))
    assert (found[0].verdict, found[0].sense, found[0].unit) == (verdict, "at least", "mm")
    assert found[0].weight == "must"
    for each in found[1:]:
        assert (each.verdict, each.measured) == ("pass", pytest.approx(TAKES))


def test_another_seal_takes_its_own_share(findings: Find) -> None:
    figure = {"seals": {"free_height": 10.0, "working_compression": 40.0}}
    seat = {"seal": "epdm-bulb"}
    found = findings("lip-flat", seat=seat, lip={"gaps": "1 mm"}, figures=figure)
    assert [each.measured for each in found] == pytest.approx([10 * 0.4 - 1] * 4)


def test_without_a_gap_or_a_seal_a_side_is_not_checked(findings: Find) -> None:
    found = findings("lip-flat", seat=TAPE, lip={"gaps": {"front": "1 mm", "left": "1 mm"}})
    assert [each.missing for each in found] == [(), ("lip.gaps.right",), ("lip.gaps.back",), ()]
    found = findings("lip-flat", seat={"hold": "sealant"}, lip={"gaps": "1 mm"})
    assert [each.missing for each in found] == [("seat.seal",)] * 4
    assert {each.verdict for each in found} == {"not-checked"}


# --- gasket-pull ----------------------------------------------------------------------------------

STRIP = {"material": "steel", "thickness": "1.5 mm", "width": "19 mm"}


@pytest.mark.parametrize(
    ("cap", "strips", "verdict"),
    [(STRIP, 1, "pass"), ({**STRIP, "material": "wood"}, 0, "fail"), (None, 0, "fail")],
)
def test_a_magnetic_gasket_wants_a_steel_strip(
    findings: Find, cap: dict[str, str] | None, strips: int, verdict: str
) -> None:
    found = only(findings("gasket-pull", lid={"gasket": "magnetic"}, cap=cap))
    assert figures(found) == (strips, 1, strips - 1)
    assert (found.verdict, found.weight, found.unit) == (verdict, "advice", "strip")
    assert found.levers == ("cap.material",)


def test_a_bulb_closes_on_anything_and_an_unknown_gasket_is_not_checked(findings: Find) -> None:
    bulb = only(findings("gasket-pull", lid={"gasket": "bulb"}))
    assert (bulb.verdict, bulb.measured) == ("pass", None)
    for lid in (None, {"gasket": None}):
        found = only(findings("gasket-pull", lid=lid))
        assert (found.verdict, found.missing) == ("not-checked", ("lid.gasket",))


# --- plug -----------------------------------------------------------------------------------------


def plug(inset: float, deep: float = 20, **more: Any) -> dict[str, Any]:
    return {"lid": {"plug": mm(deep), "plug_inset": mm(inset)}, **more}


@pytest.mark.parametrize(
    ("inset", "verdict"),
    [(T + FOAM + 5 + 3, "pass"), (T + FOAM + 5 + 2.99, "fail"), (T, "fail"), (100, "pass")],
)
def test_from_the_plug_to_the_foam(findings: Find, inset: float, verdict: str) -> None:
    """The lid overhangs by 5, the foam ends 19.05 + 25.4 inside the lip's edge."""
    found = findings("plug", **plug(inset))
    assert [each.where.side for each in found] == list(SIDES)
    gap = inset - 5 - T - FOAM
    for each in found:
        assert figures(each) == pytest.approx((gap, 3, gap - 3))
        assert (each.verdict, each.weight, each.sense, each.unit) == (
            verdict, "must", "at least", "mm",
        )  # fmt: skip
        assert "foam" in each.why


@pytest.mark.parametrize(
    ("deep", "below_top", "cap", "beside", "what"),
    [
        (20, 19.9, None, T + FOAM, "foam"),
        (20, 20.0, None, T, "board"),  # ends level with the foam's top, beside the board
        (20, 40.0, None, T, "board"),
        (1.4, 0.0, STRIP, 19, "strip on the board"),  # 1.5 mm of steel, 19 mm wide
        (1.6, 0.0, STRIP, T + FOAM, "foam"),
        (1.6, 1.0, STRIP, T, "board"),
    ],
)
def test_what_stands_beside_the_plug(
    findings: Find,
    deep: float,
    below_top: float,
    cap: dict[str, str] | None,
    beside: float,
    what: str,
) -> None:
    found = findings("plug", **plug(80, deep, cap=cap, foam={"below_top": mm(below_top)}))
    for each in found:
        assert each.measured == pytest.approx(80 - 5 - beside)
        assert each.why == f"from the plug's edge to the {what}"


def test_without_foam_the_board_is_in_the_way_and_without_a_plug_nothing(findings: Find) -> None:
    found = findings("plug", **plug(30, foam=None))
    assert [each.measured for each in found] == pytest.approx([30 - 5 - T] * 4)
    for design in (plug(30, 0), plug(30, 0, cap=STRIP)):
        found = findings("plug", **design)
        assert {(each.verdict, each.measured) for each in found} == {("pass", None)}


def test_each_side_has_its_own_plug_lid_and_board(findings: Find) -> None:
    lid = {
        "plug": "20 mm",
        "plug_inset": {"front": "60 mm", "right": "70 mm", "back": "80 mm"},
        "overhang": {"front": "5 mm", "right": "10 mm", "left": "5 mm"},
    }
    board = {"overhang": {"front": "4 mm", "right": "-2 mm"}}
    front, right, back, left = findings("plug", lid=lid, board=board)
    # a board that stands out by 4 leaves the foam 4 more, one that stands in by 2 takes 2
    assert front.measured == pytest.approx(60 - 5 - T - FOAM + 4)
    assert right.measured == pytest.approx(70 - 10 - T - FOAM - 2)
    assert back.missing == ("lid.overhang.back",)
    assert left.missing == ("lid.plug_inset.left",)


@pytest.mark.parametrize("lean", [6.0, -6.0])
def test_the_end_that_stands_in_counts(findings: Find, lean: float) -> None:
    """A lip that leans: each side board stands 3 mm in at one end, and the foam with it."""
    lip = {"front_left_to_back_right": mm(math.hypot(W + lean, math.sqrt(D * D - lean * lean)))}
    _, right, _, left = findings("plug", **plug(80, lip=lip))
    gap = 80 - 5 - T - FOAM - 3
    assert (right.measured, left.measured) == pytest.approx((gap, gap), abs=1e-6)


# --- collar-hold ----------------------------------------------------------------------------------

LID = {"thickness": "60 mm", "mass": "12 kg"}
HINGE = {"axis_behind": "15 mm", "axis_above": "-10 mm", "open_to": "90 deg"}
PINE = {"species": "eastern-white-pine"}
G = 9.80665
# the four boards are mirrored pairs, so that their weight acts half way: N mm
OWN = HEIGHT * T * 2 * ((W - T) + (D - T)) * 392e-9 * G * D / 2
# the axis is 15 mm behind the lip's edge and 129.7 above; upright the lid's middle, 40 mm above
# the axis when closed, hangs 55 mm behind that edge; its front edge stands 25 behind, 683.1 above
TIPS = 12 * G * 55 + 100 * math.hypot(25, HEIGHT - 10 + D + 20)


def collar(findings: Find, seat: dict[str, str] | None, **more: Any) -> Finding:
    design: dict[str, Any] = {"lid": LID, "hinge": HINGE, "board": PINE, **more}
    return only(findings("collar-hold", seat=seat, **design))


def test_cleats_leave_the_collar_to_its_own_weight(findings: Find) -> None:
    found = collar(findings, {"hold": "cleats", "hold_strength": "90 kPa"})
    assert figures(found) == pytest.approx((OWN / TIPS, 1.5, OWN / TIPS - 1.5))
    assert 0.1 < OWN / TIPS < 0.11
    assert (found.verdict, found.weight, found.unit, found.sense) == (
        "fail", "must", "times", "at least",
    )  # fmt: skip
    assert "own weight alone" in found.why


@pytest.mark.parametrize("hold", ["adhesive", "sealant", "tape"])
@pytest.mark.parametrize(("width", "counted"), [(None, 6.0), ("12 mm", 12.0), ("50 mm", T)])
def test_what_holds_is_a_bond_round_the_lip(
    findings: Find, hold: str, width: str | None, counted: float
) -> None:
    """90 kPa are 0.09 N/mm2; the pull grows with the distance from the back edge."""
    seat = {"hold": hold, "hold_strength": "90 kPa"} | ({"hold_width": width} if width else {})
    found = collar(findings, seat)
    bond = 0.09 * counted * (W * D + 2 * D**2 / 3)
    assert found.measured == pytest.approx((OWN + bond) / TIPS)
    assert found.verdict == "pass"


@pytest.mark.parametrize(
    ("seal", "lip", "over", "counted"),
    [
        ("foam-tape-narrow", {}, "0 mm", T - 10),
        ("epdm-d-profile", {}, "0 mm", T - 9),
        ("epdm-d-profile", {}, "2 mm", T - 2 - 9),  # so much less stands on the lip
        ("epdm-d-profile", {"land": "30 mm", "land_starts": "5 mm"}, "0 mm", T - 5 - 9),
        ("foam-tape-closed-cell", {}, "0 mm", 0.0),  # 19 mm wide under 19.05: no bead lies there
        ("butyl-tape", {}, "0 mm", 0.0),  # 20 mm wide
    ],
)
def test_a_bond_counts_as_wide_as_the_seal_leaves_room(
    findings: Find, seal: str, lip: dict[str, str], over: str, counted: float
) -> None:
    """50 mm of sealant are told; the widths of seals are the catalogue's."""
    seat = {"hold": "sealant", "hold_strength": "90 kPa", "hold_width": "50 mm", "seal": seal}
    board = {**PINE, "overhang": {"front": over, "right": over, "back": over, "left": over}}
    found, alone = (
        collar(findings, each, lip=lip, board=board)
        for each in (seat, {"hold": "cleats", "seal": seal})
    )
    assert found.measured is not None
    assert alone.measured is not None
    share = (found.measured - alone.measured) / alone.measured  # of the collar's own weight
    bond = 0.09 * counted * (W * D + 2 * D**2 / 3)
    own = OWN if over == "0 mm" else _own_moved_out(2)
    assert share == pytest.approx(bond / own, abs=1e-9)
    assert "of it beside the seal" in found.why


def test_without_a_seal_it_is_the_lip_that_has_no_room(findings: Find) -> None:
    found = collar(findings, {"hold": "tape", "hold_strength": "90 kPa", "hold_width": "50 mm"})
    assert "of it on the lip" in found.why
    assert "beside the seal" not in found.why


def _own_moved_out(by: float) -> float:
    """The boards' moment about the lip's back edge with all four moved out, N mm."""
    wide, deep = W + 2 * by, D + 2 * by
    return HEIGHT * T * 2 * ((wide - T) + (deep - T)) * 392e-9 * G * D / 2


def test_where_nothing_finds_room_the_weight_alone_is_judged(findings: Find) -> None:
    found = collar(findings, {"hold": "adhesive", "seal": "butyl-tape"})
    assert (found.verdict, found.missing) == ("fail", ())


def test_both_sides_of_the_limit(findings: Find) -> None:
    needs = (1.5 * TIPS - OWN) / (6 * (W * D + 2 * D**2 / 3)) * 1000  # kPa
    for off, verdict in ((1e-6, "pass"), (-0.01, "fail")):
        seat = {"hold": "sealant", "hold_strength": f"{needs + off:.9f} kPa"}
        assert collar(findings, seat).verdict == verdict


def test_a_hold_of_unknown_strength_is_asked_for_where_the_weight_is_not_enough(
    findings: Find,
) -> None:
    found = collar(findings, {"hold": "adhesive"})
    assert (found.verdict, found.missing) == ("not-checked", ("seat.hold_strength",))
    assert f"its own weight holds {OWN / TIPS:.2f}" in found.why
    limits = Limits(required={"collar-hold": 0.1})
    enough = collar(findings, {"hold": "adhesive"}, limits=limits)
    assert (enough.verdict, enough.measured) == ("pass", pytest.approx(OWN / TIPS))


@pytest.mark.parametrize("open_to", [30.0, 75.0, 85.0, 110.0, 180.0])
def test_the_lid_at_any_stop_and_over_a_seal(findings: Find, open_to: float) -> None:
    """Turned as complex numbers, back + i up, about the axis; a seal lifts all by 4.48 mm."""
    found = collar(
        findings,
        {"hold": "cleats", "seal": "foam-tape-closed-cell"},
        hinge={**HINGE, "open_to": f"{open_to} deg", "axis_above": "5 mm"},
        lid={**LID, "overhang": {"front": "9 mm", "back": "3 mm"}},
    )
    pivot, axis = complex(D, -6.4 * 0.7), complex(D + 15, HEIGHT + 5)
    turn = cmath.exp(-1j * math.radians(open_to))
    middle = axis + (complex((D - 9 + 3) / 2, HEIGHT + 30) - axis) * turn
    edge = axis + (complex(-9, HEIGHT) - axis) * turn
    tips = 12 * G * max(0.0, (middle - pivot).real) + 100 * abs(edge - pivot)
    assert found.measured == pytest.approx(OWN / tips)


def test_a_board_that_hangs_out_over_the_back_pulls_the_other_way(findings: Find) -> None:
    """Moved out by 30 mm at the back, the back board's weight acts beyond the lip's edge."""
    found = collar(findings, {"hold": "cleats"}, board={**PINE, "overhang": {"back": "30 mm"}})
    deep = D + 30
    front_back, sides = W - T, deep - T
    middle = deep / 2 - 30  # ahead of the lip's back edge
    own = HEIGHT * T * 2 * (front_back + sides) * 392e-9 * G * middle
    tips = 12 * G * 85 + 100 * math.hypot(55, HEIGHT - 10 + deep + 20)
    assert found.measured == pytest.approx(own / tips)


def test_what_the_hold_needs_is_named(findings: Find) -> None:
    seat = {"hold": "tape", "hold_strength": "90 kPa"}
    assert collar(findings, None).missing == ("seat.hold",)
    assert collar(findings, seat, board={}).missing == ("board.species",)
    assert collar(findings, seat, lid={"thickness": "60 mm"}).missing == ("lid.mass",)
    assert collar(findings, seat, hinge={**HINGE, "open_to": None}).missing == ("hinge.open_to",)
