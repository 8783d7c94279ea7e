"""Cut plans of boards: by hand, against a program of another make, and spoilt ones seen."""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import count, pairwise
from random import Random
from typing import Any

import numpy as np
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
    columns,
    cut_plan,
    faults,
    kerf_along,
    table,
)
from collarwright.geometry.plan.cutting.item import singles
from collarwright.geometry.plan.cutting.job import owned_rooms, shop_rooms
from collarwright.geometry.plan.cutting.program import Relaxed
from numpy.typing import NDArray


def pieces(*lengths: int, kerf: int = 424) -> tuple[Piece, ...]:
    return tuple(Piece(f"board {k}", length, kerf) for k, length in enumerate(lengths))


def ring(*lengths: int, number: int = 0, kerf: int = 424) -> tuple[Piece, ...]:
    return tuple(
        Piece(f"board {number}-{k}", length, kerf, number, k) for k, length in enumerate(lengths)
    )


def checked(job: Job) -> Plan:
    plan = cut_plan(job)
    assert list(faults(job, plan)) == []
    assert plan == cut_plan(job)
    return plan


# --- kerf and miter, by hand ----------------------------------------------------------------------


def test_a_tilted_cut_takes_more_of_the_stick() -> None:
    # 3 mm at 45 deg: 3 * sqrt(2) = 4.2426 mm, rounded up to 0.01 mm; square: 3 mm; 60 deg: 6 mm
    assert kerf_along(3.0, 45.0) == 425
    assert kerf_along(3.0, 0.0) == 300
    assert kerf_along(3.0, 60.0) == 600


def test_three_boards_meet_in_their_outer_face() -> None:
    """400, 300 and 200 mm with two cuts of 4.25 between them need 908.5 mm, and not a step less."""
    boards = pieces(40_000, 30_000, 20_000, kerf=425)
    plan = checked(Job(boards, (OnSale(90_850), OnSale(95_000))))
    assert plan.bought == 90_850
    assert [each.start for each in plan.cuts[0].pieces] == [0, 40_425, 70_850]
    assert checked(Job(boards, (OnSale(90_849), OnSale(95_000)))).bought == 95_000


def test_the_trim_is_lost_at_both_ends() -> None:
    boards = pieces(40_000, 30_000, kerf=425)
    assert checked(Job(boards, (OnSale(72_425),), trim=1_000)).bought == 72_425
    with pytest.raises(NoPlanError) as told:
        cut_plan(Job(pieces(70_426), (OnSale(72_425),), trim=1_000))
    assert told.value.longest == 70_425
    assert told.value.piece is not None


def test_the_widest_cut_lies_behind_the_last_piece() -> None:
    """A cover that ends square: 300 behind it, 425 behind the other; the other one comes last."""
    boards = (Piece("tilted", 30_000, 425), Piece("square", 30_000, 300))
    plan = checked(Job(boards, (OnSale(60_300),)))
    assert [each.piece for each in plan.cuts[0].pieces] == [1, 0]


def test_two_cuts_between_boards_leave_both_whole() -> None:
    """The boards and both cuts drawn in plan: no cut takes wood of a board; a step less would.

    Board thickness 19.05 mm, 45 deg, kerf 3 mm: the outer face lies on y = 0, the stick below.
    """
    shapely = pytest.importorskip("shapely")
    t, kerf = 19.05, 3.0
    gap = kerf_along(kerf, 45.0) / 100
    first = shapely.Polygon([(-100, 0), (0, 0), (-t, -t), (-100 + t, -t)])
    for apart, whole in ((gap, True), (gap - 0.02, False)):
        second = shapely.Polygon(
            [(apart, 0), (apart + 100, 0), (apart + 100 - t, -t), (apart + t, -t)]
        )
        along = kerf * math.sqrt(2)
        leaving = shapely.Polygon([(0, 0), (along, 0), (along - t, -t), (-t, -t)])
        entering = shapely.Polygon(
            [(apart - along, 0), (apart, 0), (apart + t, -t), (apart + t - along, -t)]
        )
        taken = leaving.intersection(second).area
        assert leaving.intersection(first).area == pytest.approx(0, abs=1e-9)
        assert entering.intersection(second).area == pytest.approx(0, abs=1e-9)
        assert (taken < 1e-9) is whole


def test_two_boards_of_six_feet_suffice_for_a_small_collar() -> None:
    """Common practice: 37 x 21 in of 1x6, two 6 ft boards; 37 + 21 in and a cut are under 72."""
    long, short = 93_980, 53_340
    plan = checked(Job(ring(long, short, long, short), (OnSale(182_880, 899),)))
    assert (plan.price, len(plan.cuts)) == (1798, 2)
    assert plan.proved


# --- aims, in their order -------------------------------------------------------------------------


def test_price_goes_before_waste() -> None:
    job = Job(pieces(50_000), (OnSale(60_000, 900), OnSale(90_000, 800)))
    assert checked(job).bought == 90_000
    assert checked(replace(job, on_sale=(OnSale(60_000), OnSale(90_000)))).bought == 60_000


def test_waste_goes_before_the_number_of_sticks() -> None:
    """At one price: 2 x 60 or 1 x 130; at one price and length: 1 x 120 rather than 2 x 60."""
    two = pieces(50_000, 50_000)
    dear = Job(two, (OnSale(60_000, 500), OnSale(130_000, 1000)))
    assert len(checked(dear).cuts) == 2
    assert (
        len(checked(replace(dear, on_sale=(OnSale(60_000, 500), OnSale(120_000, 1000)))).cuts) == 1
    )


def test_owned_sticks_come_first() -> None:
    job = Job(pieces(50_000, 40_000), (OnSale(100_000, 900),), (Owned(95_000), Owned(50_000)))
    plan = checked(job)
    assert (plan.price, [cut.owned for cut in plan.cuts]) == (0, [0])


def test_flaws_are_left_out() -> None:
    """A knot from 300 to 340 mm of 1000: 300 before it, 660 behind it."""
    knotty = Owned(100_000, (Flaw(30_000, 34_000),))
    plan = checked(Job(pieces(66_000, 30_000), (), (knotty,)))
    assert plan.cuts[0].pieces == (Placed(1, 0), Placed(0, 34_000))
    with pytest.raises(NoPlanError):
        cut_plan(Job(pieces(66_001), (), (knotty,)))


def test_a_crack_narrower_than_a_cut_costs_the_cut() -> None:
    """The board before a crack of 1 mm is cut off there: the next begins 4.24 mm on, not 1."""
    cracked = Owned(100_000, (Flaw(50_000, 50_100),))
    assert checked(Job(pieces(50_000, 49_576), (), (cracked,))).cuts
    with pytest.raises(NoPlanError):
        cut_plan(Job(pieces(50_000, 49_577), (), (cracked,)))


def test_a_crack_costs_no_cut_where_no_board_ends_before_it() -> None:
    """Of 1000 mm, 499 are behind the crack; with a board up to it the saw takes 3.24 of them."""
    cracked = Owned(100_000, (Flaw(50_000, 50_100),))
    plan = checked(Job(pieces(49_900), (OnSale(49_900),), (cracked,)))
    assert plan.bought == 0
    both = checked(Job(pieces(50_000, 49_900), (OnSale(50_000, 100),), (cracked,)))
    assert (both.price, both.least, both.first_proved, both.proved) == (100, 0, False, False)


# --- matched grain --------------------------------------------------------------------------------


def test_a_ring_from_one_stick_lies_in_its_order() -> None:
    job = Job(ring(90_000, 50_000, 90_000, 50_000), (OnSale(182_880, 100), OnSale(300_000, 900)))
    assert checked(job).price == 200
    plan = checked(replace(job, matched=True))
    assert (plan.price, plan.runs) == (900, 1)
    order = [each.piece for each in plan.cuts[0].pieces]
    assert [(b - a) % 4 for a, b in pairwise(order)] == [1, 1, 1]


def test_a_ring_from_two_sticks_is_broken_at_two_corners() -> None:
    """90 + 50 + 90 + 50 out of sticks of 182: no run of three fits, and two and two do."""
    job = Job(ring(90_000, 50_000, 90_000, 50_000), (OnSale(182_880),), matched=True)
    plan = checked(job)
    assert (plan.runs, len(plan.cuts)) == (2, 2)


def test_many_rings() -> None:
    """Five collars of 284.24 each out of sticks of 300, or two out of one of 600."""
    boards = tuple(
        piece for k in range(5) for piece in ring(90_000, 50_000, 90_000, 50_000, number=k)
    )
    sale = (OnSale(300_000, 1000), OnSale(600_000, 1900))
    plan = checked(Job(boards, sale, matched=True))
    assert (plan.runs, plan.price) == (5, 2 * 1900 + 1000)
    assert plan.runs_proved
    assert plan.proved
    short = checked(Job(boards, (OnSale(182_880, 899),), matched=True))
    assert (short.runs, short.price) == (10, 8990)


# --- held against a program of another make -------------------------------------------------------


def assigned(job: Job) -> tuple[int, int]:
    """Return least price and length: which piece comes from which stick, straight into HiGHS."""
    import highspy

    core: Any = highspy
    highs = core.Highs.__base__()
    highs.setOptionValue("output_flag", False)
    highs.setOptionValue("mip_rel_gap", 0.0)
    highs.setOptionValue("threads", 1)  # the library keeps to the number that it hears first
    n, sale = len(job.pieces), job.on_sale
    columns_: list[tuple[float, list[tuple[int, float]]]] = []
    # Rows: each piece once (n), each stick one kind (n), its wood (n), its last piece (n), and
    # that the last piece lies on it (n * n).
    wood, last, there = 2 * n, 3 * n, 4 * n
    for stick in range(n):
        for i, piece in enumerate(job.pieces):
            own = there + stick * n + i
            long = piece.length + piece.kerf
            columns_.append((0.0, [(i, 1.0), (wood + stick, float(long)), (own, -1.0)]))
            ends = [(wood + stick, -float(piece.kerf)), (last + stick, 1.0), (own, 1.0)]
            columns_.append((0.0, ends))
        for kind in sale:
            usable = kind.length - 2 * job.trim
            cost = kind.price * 2000.0 + kind.length / 1000
            columns_.append((cost, [(n + stick, 1.0), (wood + stick, -float(usable))]))
    count, rows = len(columns_), 4 * n + n * n
    lp = core.HighsLp()
    lp.num_col_, lp.num_row_ = count, rows
    import numpy as np

    lp.col_cost_ = np.array([cost for cost, _ in columns_])
    lp.col_lower_, lp.col_upper_ = np.zeros(count), np.ones(count)
    lp.row_lower_ = np.array([1.0] * n + [-np.inf] * (rows - n))
    lp.row_upper_ = np.array([1.0] * (2 * n) + [0.0] * n + [1.0] * n + [0.0] * (n * n))
    lp.a_matrix_.format_ = core.MatrixFormat.kColwise
    starts = np.cumsum([0, *(len(each) for _, each in columns_)])
    lp.a_matrix_.start_ = starts.astype(np.int32)
    lp.a_matrix_.index_ = np.array([row for _, each in columns_ for row, _ in each], np.int32)
    lp.a_matrix_.value_ = np.array([value for _, each in columns_ for _, value in each])
    lp.integrality_ = [core.HighsVarType.kInteger] * count
    highs.passModel(lp)
    highs.run()
    assert highs.getModelStatus() == core.HighsModelStatus.kOptimal
    value = round(highs.getInfo().objective_function_value)
    return divmod(value, 2000)


def drawn(chance: Random, count: int) -> Job:
    """Return a job at random; lengths on sale are whole decimeters below 2000 units of 10 mm."""
    boards = tuple(
        Piece(f"p{k}", chance.randint(300, 1400) * 100, chance.choice((300, 400, 600)))
        for k in range(count)
    )
    sale = tuple(
        OnSale(length * 1000, chance.randint(2, 9) * length // 10)
        for length in chance.sample((150, 180, 210, 240, 300), 2)
    )
    return Job(boards, sale, trim=chance.choice((0, 1000)))


@pytest.mark.slow
def test_two_hundred_jobs_against_another_program() -> None:
    chance = Random(6)
    for _ in range(200):
        job = drawn(chance, chance.randint(2, 5))
        plan = checked(job)
        price, length = assigned(job)
        assert (plan.price, plan.bought // 1000) == (price, length)
        assert plan.proved


def test_an_owned_stick_without_use_does_not_keep_the_dive(monkeypatch: pytest.MonkeyPatch) -> None:
    """What costs nothing may be taken for nothing; each step has to cut something all the same.

    Two of the long ones come out of 31, the short one out of 11, and the third long one of nothing.
    """
    boards = (*pieces(14, kerf=3), *pieces(14, kerf=0), *pieces(3, 13, kerf=3))
    job = Job(boards, (), (Owned(11), Owned(31), Owned(11)))
    monkeypatch.setattr(columns, "REST", 2)
    solved = Relaxed.solve
    steps = count()

    def counted(self: Relaxed) -> tuple[float, NDArray[np.float64]]:
        assert next(steps) < 200, "it goes round and round"
        return solved(self)

    monkeypatch.setattr(Relaxed, "solve", counted)
    with pytest.raises(NoPlanError):
        columns.solve(job, singles(job), (), owned_rooms(job, 3), priced=False)


@pytest.mark.slow
def test_both_methods_agree() -> None:
    """The table leaves nothing out: no bound above it, no plan below it, and proofs that hold."""
    chance = Random(8)
    for _ in range(40):
        job = drawn(chance, chance.randint(6, 10))
        by_table = cut_plan(job)
        rooms = shop_rooms(job), owned_rooms(job, job.widest_cut)
        found = columns.solve(job, singles(job), *rooms, priced=True)
        assert found.least <= by_table.price
        price = sum(room.price for room, _ in found.filled)
        assert price >= by_table.price
        if found.first_proved:
            assert price == by_table.price
        if found.proved:
            assert sum(room.bought for room, _ in found.filled) == by_table.bought


def test_a_stick_sawn_up_at_random_is_one_stick_again() -> None:
    """Cut without waste: 20 pieces of 3 sticks come out of 3 sticks again, proved by the wood."""
    chance = Random(3)
    for _ in range(10):
        lengths: list[int] = []
        for _stick in range(3):
            ends = sorted(chance.sample(range(20, 280), 6))
            parts = [b - a for a, b in zip([0, *ends], [*ends, 300], strict=True)]
            lengths += [part * 1000 - 424 for part in parts if part > 1]
        job = Job(pieces(*lengths), (OnSale(300_000 - 424),))
        plan = checked(job)
        assert plan.least >= 3 * (300_000 - 424)
        assert len(plan.cuts) == 3 or (len(plan.cuts) == 4 and not plan.first_proved)


def test_the_order_of_the_pieces_changes_nothing() -> None:
    chance = Random(5)
    job = drawn(chance, 9)
    turned = replace(job, pieces=job.pieces[::-1])
    assert checked(job).price == checked(turned).price


# --- the plan measured again ----------------------------------------------------------------------


def spoilt() -> Iterator[tuple[str, Job, Plan]]:
    job = Job(
        ring(40_000, 30_000, 40_000, 30_000),
        (OnSale(90_000, 500),),
        (Owned(90_000, (Flaw(75_000, 76_000),)),),
        trim=500,
        matched=True,
    )
    plan = cut_plan(job)
    used, *rest = plan.cuts
    one, two = used.pieces
    (a, at), (b, then) = (one.piece, one.start), (two.piece, two.start)

    def having(cut: Cut) -> Plan:
        return replace(plan, cuts=(cut, *rest))

    yield "not every piece", job, replace(plan, cuts=plan.cuts[1:])
    yield (
        "begins in the cut",
        job,
        having(replace(used, pieces=(Placed(a, at), Placed(b, then - 1)))),
    )
    yield (
        "begins in the cut",
        job,
        having(replace(used, pieces=(Placed(a, at - 1), Placed(b, then)))),
    )
    yield "ends beyond", job, having(replace(used, pieces=(Placed(a, at), Placed(b, 60_000))))
    yield "lies on a flaw", job, having(replace(used, pieces=(Placed(a, at), Placed(b, 46_000))))
    yield "not there", job, having(replace(used, stick=Owned(90_000)))
    yield "not there", job, having(replace(used, owned=None))
    yield (
        "not on sale",
        job,
        replace(plan, cuts=(used, replace(rest[0], stick=OnSale(89_999, 500)))),
    )
    yield "used twice", job, replace(plan, cuts=(used, replace(rest[0], stick=used.stick, owned=0)))
    yield "price is 500", job, replace(plan, price=499)
    yield "length bought is", job, replace(plan, bought=1)
    yield "number of runs is 2", job, replace(plan, runs=1)
    yield (
        "number of runs is 3",
        job,
        having(replace(used, pieces=(Placed(b, at), Placed(a, at + 30_424)))),
    )


def test_what_is_wrong_with_a_plan_is_seen() -> None:
    for said, job, plan in spoilt():
        assert any(said in fault for fault in faults(job, plan)), said


# --- what cannot be cut, and large numbers --------------------------------------------------------


def test_a_board_that_fits_no_stick_is_named() -> None:
    with pytest.raises(NoPlanError) as told:
        cut_plan(Job(pieces(50_000, 90_000), (OnSale(80_000),)))
    assert told.value.piece == pieces(50_000, 90_000)[1]


def test_too_few_owned_sticks() -> None:
    with pytest.raises(NoPlanError) as told:
        cut_plan(Job(pieces(50_000, 50_000), (), (Owned(60_000),)))
    assert told.value.piece is None


def test_prices_too_large_for_the_machines_numbers() -> None:
    """A price of a million and lengths with no common measure: Python's numbers count them."""
    boards = pieces(*[3_000_000] * 10)
    sale = (OnSale(6_000_001, 99_999_999), OnSale(6_999_997, 99_999_998))
    job = Job(boards, sale)
    assert table._Aims(job, singles(job), shop_rooms(job), ()).kind is object
    plan = checked(job)
    assert plan.price == 5 * 99_999_998


@pytest.mark.parametrize("priced", [True, False])
def test_a_hundred_pieces_with_owned_sticks(priced: bool) -> None:
    chance = Random(11)
    lengths = [chance.randint(300, 1100) * 100 for _ in range(25)] * 4
    sale = tuple(
        OnSale(length, price if priced else 0)
        for length, price in ((182_880, 899), (243_840, 1149), (365_760, 1799))
    )
    owned = (Owned(150_000), Owned(243_840, (Flaw(100_000, 104_000),)))
    job = Job(pieces(*lengths), sale, owned, trim=1_000)
    plan = checked(job)
    first = plan.price if priced else plan.bought
    assert plan.least <= first <= 1.02 * plan.least
    assert {cut.owned for cut in plan.cuts} >= {0, 1}
