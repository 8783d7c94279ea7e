"""Boards laid about the flaws of a stick: by hand, against every layout, on a real collar."""

from collections.abc import Callable
from dataclasses import replace
from itertools import permutations, product
from random import Random

import pytest
from collarwright.geometry.plan.cutting import (
    Cut,
    Flaw,
    Job,
    NoPlanError,
    OnSale,
    Owned,
    Piece,
    Placed,
    Plan,
    Sound,
    cut_plan,
    faults,
)
from collarwright.geometry.plan.cutting.boards import asked
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import Project

WIDE = 14_000
"""Width of boards and sticks here: 140 mm."""


def board(name: str, length: int, *bores: int, end: int = 2_000, cut: int = 425) -> Piece:
    """Return a board with mitered ends of 20 mm, and bores of 25 mm, 50 to 75 mm up."""
    ends = (
        Sound("left end", 0, end, 0, WIDE),
        Sound("right end", length - end, length, 0, WIDE),
    )
    holes = tuple(Sound("bore", at - 1_250, at + 1_250, 5_000, 7_500) for at in bores)
    return Piece(name, length, cut, sound=ends + holes)


def job(*boards: Piece, owned: tuple[Owned, ...], sale: tuple[OnSale, ...] = ()) -> Job:
    return Job(boards, sale, owned, trim=1_000, width=WIDE)


def checked(job: Job) -> Plan:
    plan = cut_plan(job)
    assert list(faults(job, plan)) == []
    return plan


# --- by hand --------------------------------------------------------------------------------------


def test_a_knot_may_lie_where_nothing_is_bored_or_mitered() -> None:
    """80 to 100 mm up, above the bore: only the ends are to be clear of it, and it is in none."""
    stick = Owned(42_000, (Flaw(20_000, 22_000, 8_000, 10_000),))
    assert checked(job(board("a", 40_000, 20_000), owned=(stick,))).cuts[0].pieces == (
        Placed(0, 1_000),
    )
    through = replace(stick, flaws=(Flaw(20_000, 22_000),))
    with pytest.raises(NoPlanError):
        cut_plan(job(board("a", 40_000, 20_000), owned=(through,)))


def test_a_board_is_shifted_off_a_knot() -> None:
    """The bore 187.5 to 212.5 mm along; knot at 200 to 220 of the stick, as high as the bore.

    Beginning at 10 mm the bore is at 197.5 to 222.5. It is clear of the knot from 220 - 187.5 =
    32.5 mm on, and before 200 - 212.5, which is no place on the stick. The knot is 55 to 70 mm up,
    so the bore of the turned board, at 65 to 90, meets it too.
    """
    knot = (Flaw(20_000, 22_000, 5_500, 7_000),)
    asked_for = job(board("a", 40_000, 20_000), owned=(Owned(45_000, knot),))
    assert checked(asked_for).cuts[0].pieces == (Placed(0, 3_250),)
    # One step too short for that:
    with pytest.raises(NoPlanError):
        cut_plan(job(board("a", 40_000, 20_000), owned=(Owned(44_249, knot),)))
    assert checked(job(board("a", 40_000, 20_000), owned=(Owned(44_250, knot),))).cuts


def test_a_board_is_turned_end_for_end_off_a_knot() -> None:
    """Its bore 100 mm from the left end: turned, it comes to lie 300 mm along, and 65 to 90 up."""
    knot = (Flaw(10_000, 12_000, 5_500, 6_500),)
    stick = Owned(42_000, knot)
    assert checked(job(board("a", 40_000, 10_000), owned=(stick,))).cuts[0].pieces == (
        Placed(0, 1_000, turned=True),
    )
    # A second knot there, as high as the bore lies then, and not a step below it.
    for high, fits in ((6_600, False), (6_500, True)):
        second = Flaw(30_500, 31_000, 6_000, high)
        asked_for = job(board("a", 40_000, 10_000), owned=(Owned(42_000, (*knot, second)),))
        if fits:
            assert checked(asked_for).cuts[0].pieces[0].turned
        else:
            with pytest.raises(NoPlanError):
                cut_plan(asked_for)


def test_a_miter_stays_off_a_knot() -> None:
    """The right end of 20 mm begins at 390 of the stick: a knot from 389 to 391 is in it."""
    for begins, start in ((38_900, None), (36_900, 1_000)):
        knot = Flaw(begins, begins + 200, 12_000, 13_000)
        asked_for = job(board("a", 40_000), owned=(Owned(42_000, (knot,)),))
        if start is None:
            with pytest.raises(NoPlanError):
                cut_plan(asked_for)
        else:
            assert checked(asked_for).cuts[0].pieces == (Placed(0, start),)


def test_the_cut_behind_a_turned_board_is_that_of_its_other_end() -> None:
    """300 behind it as drawn, 600 when turned: the next begins 6 mm on."""
    first = replace(board("a", 40_000, 10_000, cut=300), kerf_left=600)
    knot = (Flaw(10_000, 12_000, 5_500, 6_500),)
    second = board("b", 20_000)
    asked_for = job(first, second, owned=(Owned(62_600, knot),))
    # b first: 10 to 210 mm with the knot in it, then a as drawn.
    assert [each.turned for each in checked(asked_for).cuts[0].pieces] == [False, False]
    pinned = replace(second, sound=(*second.sound, Sound("screw", 0, 20_000, 0, WIDE)))
    asked_for = job(first, pinned, owned=(Owned(62_600, knot),))
    assert checked(asked_for).cuts[0].pieces == (Placed(0, 1_000, turned=True), Placed(1, 41_600))
    with pytest.raises(NoPlanError):
        cut_plan(job(first, pinned, owned=(Owned(62_599, knot),)))


def test_matched_grain_keeps_flaws_out_of_boards() -> None:
    knotty = Owned(42_000, (Flaw(20_000, 22_000, 8_000, 10_000),))
    plain = job(board("a", 40_000), owned=(knotty,), sale=(OnSale(50_000),))
    assert checked(plain).bought == 0
    assert checked(replace(plain, matched=True)).bought == 50_000


# --- against every layout there is ----------------------------------------------------------------


def clear(piece: Piece, start: int, turned: bool, flaws: tuple[Flaw, ...]) -> bool:
    """Tell by rectangles on the stick whether a board that begins there is sound where it must."""
    for need in piece.sound:
        left, right = start + need.left, start + need.right
        low, high = need.low, need.high
        if turned:
            left, right = start + piece.length - need.right, start + piece.length - need.left
            low, high = WIDE - need.high, WIDE - need.low
        for flaw in flaws:
            assert flaw.low is not None
            assert flaw.high is not None
            if left < flaw.end and flaw.start < right and low < flaw.high and flaw.low < high:
                return False
    return True


def fits(job: Job, numbers: tuple[int, ...], stick: Owned, step: int) -> bool:
    """Try every order, every way to lie, and every place in whole steps, one board at a time."""
    within = stick.length - job.trim
    for order in permutations(numbers):
        for ways in product((False, True), repeat=len(order)):
            at = job.trim
            for number, turned in zip(order, ways, strict=True):
                piece = job.pieces[number]
                while at + piece.length <= within and not clear(piece, at, turned, stick.flaws):
                    at += step
                if at + piece.length > within:
                    break
                at += piece.length + piece.cut_behind(turned)
            else:
                return True
    return False


def drawn(chance: Random) -> Job:
    """Return some boards, a stick or two that are owned and flawed, and two lengths on sale.

    The owned ones are hardly longer than the first few boards together.
    """
    boards = tuple(
        board(
            f"p{k}",
            length,
            *(chance.randrange(5, length // 1000 - 4) * 1000 for _ in range(chance.randint(1, 4))),
            cut=500,
        )
        for k, length in enumerate(
            chance.randint(20, 60) * 1000 for _ in range(chance.randint(2, 4))
        )
    )
    owned = tuple(
        Owned(
            sum(each.length + 500 for each in boards[:count]) + chance.randint(6, 14) * 250,
            tuple(
                Flaw(at, at + chance.randint(1, 3) * 500, low, low + chance.randint(3, 7) * 500)
                for at, low in (
                    (chance.randint(4, 110) * 500, chance.randint(1, 20) * 500)
                    for _ in range(chance.randint(2, 6))
                )
            ),
        )
        for count in chance.sample((1, 2, 3), chance.randint(1, 2))
    )
    sale = (OnSale(70_000, 300), OnSale(130_000, 500 + chance.randint(0, 2) * 50))
    return job(*boards, owned=owned, sale=sale)


def least(asked_for: Job) -> tuple[int, int]:
    """Return the least price and length: every set of boards on every owned stick, then the shop.

    All sizes are whole 2.5 mm, so boards need only begin at those (bores are 25 mm wide).
    """
    everyone = tuple(range(len(asked_for.pieces)))
    where = product(range(len(asked_for.owned) + 1), repeat=len(everyone))
    best: tuple[int, int] | None = None
    known: dict[tuple[int, tuple[int, ...]], bool] = {}
    for choice in where:
        on = [tuple(n for n in everyone if choice[n] == k) for k in range(len(asked_for.owned) + 1)]
        *flawed, rest = on
        bought = shop(asked_for, rest)
        if best is not None and bought >= best:
            continue
        for k, numbers in enumerate(flawed):
            key = (k, numbers)
            if key not in known:
                known[key] = fits(asked_for, numbers, asked_for.owned[k], 250)
            if not known[key]:
                break
        else:
            best = bought
    assert best is not None
    return best


def shop(asked_for: Job, numbers: tuple[int, ...]) -> tuple[int, int]:
    """Return the least price and length of boards out of clear sticks, by trying all ways."""
    if not numbers:
        return 0, 0
    first, *others = numbers
    found: list[tuple[int, int]] = []
    for with_it in product((False, True), repeat=len(others)):
        inside = [first, *(n for n, there in zip(others, with_it, strict=True) if there)]
        rest = tuple(n for n, there in zip(others, with_it, strict=True) if not there)
        need = sum(asked_for.pieces[n].length + 500 for n in inside) - 500 + 2 * asked_for.trim
        sticks = [(each.price, each.length) for each in asked_for.on_sale if each.length >= need]
        if sticks:
            price, length = shop(asked_for, rest)
            found.append((min(sticks)[0] + price, min(sticks)[1] + length))
    return min(found)


@pytest.mark.slow
def test_no_layout_is_cheaper() -> None:
    """200 jobs at random; in some boards are turned, in some shifted, and no layout is cheaper."""
    chance = Random(4)
    turned = within = 0
    for _ in range(200):
        asked_for = drawn(chance)
        plan = checked(asked_for)
        assert (plan.price, plan.bought) == least(asked_for)
        assert plan.proved
        for cut in plan.cuts:
            if isinstance(cut.stick, Owned):
                turned += any(each.turned for each in cut.pieces)
                within += any(_holds(asked_for, each, cut.stick) for each in cut.pieces)
    assert turned >= 10
    assert within >= 100


def _holds(asked_for: Job, placed: Placed, stick: Owned) -> bool:
    end = placed.start + asked_for.pieces[placed.piece].length
    return any(placed.start < flaw.end and flaw.start < end for flaw in stick.flaws)


# --- real boards ----------------------------------------------------------------------------------


def test_where_a_board_must_be_sound(design_a: Callable[..., Project]) -> None:
    """Design A's front: 939.8 mm, 19.05 mm thick; bores at 469.9 and 76.2 to each side, 63.5 up.

    Over each of 25.4 mm lie a flange of 48 mm and inside a washer of 50; at 45 deg the ends reach
    19.05 mm in, and where dowels go 12.7 mm deep into them, deeper.
    """
    project = design_a(stock={}, taps={"height": "2 1/2 in"})
    what = asked(project, [lay_out(project)])
    front = what.job.pieces[0]
    assert what.job.width == 13_970
    assert [(each.what, each.left, each.right) for each in front.sound] == [
        ("left end", 0, 1_905),
        ("right end", 92_075, 93_980),
        ("tap-1", 36_870, 41_870),
        ("tap-2", 44_490, 49_490),
        ("tap-3", 52_110, 57_110),
    ]
    assert {(each.low, each.high) for each in front.sound[2:]} == {(3_850, 8_850)}
    doweled = design_a(stock={}, board={"corner": "dowel"})
    end = asked(doweled, [lay_out(doweled)]).job.pieces[0].sound[0]
    slots = [slot for slot in lay_out(doweled).boards[0].slots if slot.end == "left"]
    assert end.right / 100 == pytest.approx(max(slot.reach for slot in slots), abs=0.011)
    assert end.right > 1_905


def test_screws_in_a_board_must_be_sound(design_a: Callable[..., Project]) -> None:
    bracketed = design_a(stock={}, board={"bracket": "bracket-2x2-in"})
    named = [each.what for each in asked(bracketed, [lay_out(bracketed)]).job.pieces[0].sound]
    assert sum(name.startswith("bracket-") for name in named) == 4


@pytest.mark.parametrize(
    ("defect", "flaw"),
    [
        (("254 mm", "279.4 mm"), Flaw(25_400, 27_940)),
        (("254 mm", "279.4 mm", "10 mm", "30 mm"), Flaw(25_400, 27_940, 1_000, 3_000)),
        (("254 mm", "279.4 mm", "0 mm", "30 mm"), Flaw(25_400, 27_940)),
        (("254 mm", "279.4 mm", "100 mm", "139.7 mm"), Flaw(25_400, 27_940)),
    ],
)
def test_a_flaw_that_comes_to_an_edge_goes_through(
    design_a: Callable[..., Project], defect: tuple[str, ...], flaw: Flaw
) -> None:
    """The boards are 139.7 mm wide; gasket and seal close on the edges. It is drawn as told."""
    project = design_a(stock={"owned": ({"length": "6 ft", "defects": (defect,)},)})
    what = asked(project, [lay_out(project)])
    assert what.job.owned == (Owned(182_880, (flaw,)),)
    across = [round(float(each.removesuffix(" mm")) * 100) for each in defect[2:]]
    assert [what.told[0][0].low, what.told[0][0].high] == (across or [None, None])
    assert not what.assumed


# --- many pieces ----------------------------------------------------------------------------------


def test_many_pieces_and_flawed_sticks() -> None:
    """What columns put where a flaw is goes elsewhere; the bound stays one."""
    chance = Random(9)
    boards = tuple(
        board(f"p{k}", length, length // 2, length // 3)
        for k, length in enumerate(chance.randint(300, 1100) * 100 for _ in range(40))
    )
    knots = tuple(Flaw(at, at + 1_500, 5_500, 7_000) for at in range(10_000, 240_000, 15_000))
    sale = (OnSale(182_880, 899), OnSale(243_840, 1_149))
    asked_for = job(*boards, owned=(Owned(243_840, knots), Owned(182_880, knots[:9])), sale=sale)
    plan = checked(asked_for)
    assert plan.least <= plan.price <= 1.1 * plan.least
    assert {0, 1} <= {cut.owned for cut in plan.cuts}
    sound = checked(replace(asked_for, owned=(Owned(243_840), Owned(182_880))))
    assert plan.least <= sound.price  # what clear sticks save, knotty ones may


def test_many_pieces_and_nothing_but_knots() -> None:
    """Wood enough, and every miter would lie on a knot: that is said, not a crash."""
    knots = tuple(Flaw(at, at + 500, 5_500, 7_000) for at in range(2_000, 60_000, 1_000))
    boards = tuple(board(f"p{k}", 20_000 + k) for k in range(14))
    with pytest.raises(NoPlanError):
        cut_plan(job(*boards, owned=(Owned(60_000, knots),) * 14))


# --- measured again -------------------------------------------------------------------------------


def test_a_flaw_where_it_hurts_is_seen() -> None:
    knot = Flaw(10_000, 12_000, 5_500, 6_500)
    asked_for = job(board("a", 40_000, 10_000), owned=(Owned(50_000, (knot,)),))
    plan = checked(asked_for)

    def said(cut: Cut, job: Job = asked_for) -> str:
        return "; ".join(faults(job, replace(plan, cuts=(cut,))))

    cut = plan.cuts[0]
    assert "a has a flaw in its bore" in said(replace(cut, pieces=(Placed(0, 1_000),)))
    assert said(replace(cut, pieces=(Placed(0, 1_000, turned=True),))) == ""
    assert "a has a flaw in its left end" in said(replace(cut, pieces=(Placed(0, 9_900),)))
    assert "a has a flaw in its right end" in said(replace(cut, pieces=(Placed(0, 9_900, True),)))
    for low, high in ((0, 300), (13_000, WIDE)):
        stick = Owned(50_000, (Flaw(20_000, 21_000, low, high),))
        edged = replace(asked_for, owned=(stick,))
        there = replace(cut, stick=stick, pieces=(Placed(0, 1_000),))
        assert "a has a flaw in its edge" in said(there, edged)
