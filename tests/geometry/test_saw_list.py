"""The saw list: by hand, and sawn by a saw of the tests' own that knows nothing of it.

That saw holds each stick as pieces in section, every end of a piece as its place on the upper
(outer) and on the lower face. It takes the cuts one after the other; what a cut severs is on its
own from then on. A cut against the stop is measured from the piece's end as it really is.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random

import pytest
from collarwright.geometry.plan.cutting import (
    Cut,
    Flaw,
    Job,
    OnSale,
    Owned,
    Piece,
    Placed,
    Plan,
    cut_plan,
    faults,
    kerf_along,
)
from collarwright.geometry.plan.cutting.boards import Asked, asked
from collarwright.geometry.plan.cutting.saw_list import SawCut, SawList, saw_list
from collarwright.geometry.plan.cutting.spaced import spaced
from collarwright.geometry.shape.frame import Board
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.project import SIDES
from collarwright.params.reading import read

THICK, KERF = 19.05, 3.0
NEAR = 0.03  # lengths are planned in 0.01 mm


def board(long: float, left: float, right: float, side: int = 0) -> Board:
    back = [THICK * math.tan(math.radians(tilt)) for tilt in (left, right)]
    return Board(
        side=SIDES[side], long_point=long, short_point=long - sum(back), width=140,
        thickness=THICK, miter_left_deg=left, miter_right_deg=right, inner_left=back[0],
        inner_right=back[1], outer=((0, 0), (long, 0)),
        inner=((back[0], THICK), (long - back[1], THICK)), over_left=0, over_right=0,
    )  # fmt: skip


def job_of(boards: list[Board], sale: tuple[OnSale, ...], **more: object) -> Asked:
    pieces = tuple(
        Piece(f"{k} {each.name}", round(each.long_point * 100),
              kerf_along(KERF, each.miter_right_deg), k // 4, SIDES.index(each.side),
              kerf_along(KERF, each.miter_left_deg))
        for k, each in enumerate(boards)
    )  # fmt: skip
    job = Job(pieces, sale, **more)  # type: ignore[arg-type]
    return Asked(job, tuple((0, each) for each in boards), (), KERF)


# --- a saw of our own -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Wood:
    """A piece in section: left and right end, each as (upper face, lower face), mm."""

    left: tuple[float, float]
    right: tuple[float, float]


def sawn(sticks: list[float], cuts: Iterator[SawCut]) -> list[list[Wood]]:
    """Saw sticks and return all the wood that is left of each."""
    wood = [[Wood((0.0, 0.0), (long, long))] for long in sticks]
    for cut in cuts:
        lean = THICK * math.tan(math.radians(cut.tilt_deg))
        wide = KERF / math.cos(math.radians(cut.tilt_deg))
        to_left = cut.leads == "left"
        inside = cut.at + (1 if to_left else -1)  # on the board, beside the blade
        piece = next(each for each in wood[cut.stick] if each.left[0] < inside < each.right[0])
        at = cut.at
        if cut.stop is not None:  # the other end stands at the block
            at = piece.right[0] - cut.stop if to_left else piece.left[0] + cut.stop
            assert at == pytest.approx(cut.at, abs=NEAR)
        if to_left:
            line, far = (at, at + lean), (at - wide, at + lean - wide)
            assert line[0] > piece.left[0] - NEAR, "no wood left for the long point"
            assert line[1] > piece.left[1] - NEAR, "the blade does not meet the lower face"
            parts = [Wood(piece.left, far), Wood(line, piece.right)]
        else:
            line, far = (at, at - lean), (at + wide, at - lean + wide)
            assert line[0] < piece.right[0] + NEAR, "no wood left for the long point"
            assert line[1] < piece.right[1] + NEAR, "the blade does not meet the lower face"
            parts = [Wood(piece.left, line), Wood(far, piece.right)]
        wood[cut.stick].remove(piece)
        wood[cut.stick] += parts
    return wood


def assert_sawn(what: Asked, plan: Plan, listed: SawList) -> None:
    """Every cut once, every setting once, and out come the boards, on their flawless wood."""
    cuts = list(listed.cuts)
    assert [cut.number for cut in cuts] == list(range(1, len(cuts) + 1))
    made = [end for cut in cuts for end in cut.ends]
    assert len(made) == len(set(made)) == 2 * len(what.boards)
    settings = [(round(each.tilt_deg, 1), each.stop) for each in listed.settings]
    assert len(settings) == len(set(settings))
    wood = sawn([cut.stick.length / 100 for cut in plan.cuts], listed.cuts)
    for stick, cut in enumerate(plan.cuts):
        for placed in cut.pieces:
            part = what.boards[placed.piece][1]
            start = placed.start / 100
            back = part.inner_left, part.inner_right
            left, right = back[::-1] if placed.turned else back
            at = start, start + left
            to = start + part.long_point, start + part.long_point - right
            assert any(
                each.left == pytest.approx(at, abs=NEAR)
                and each.right == pytest.approx(to, abs=NEAR)
                for each in wood[stick]
            ), f"{part.name} did not come out whole"
        for low, high in listed.offcuts[stick]:
            assert any(
                each.left == pytest.approx((low, low), abs=NEAR)
                and each.right == pytest.approx((high, high), abs=NEAR)
                for each in wood[stick]
            ), "an offcut is not what it was said to be"


# --- by hand --------------------------------------------------------------------------------------


def test_two_boards_of_six_feet_by_hand() -> None:
    """37 x 21 in of 19.05 mm, miters of 45 deg, out of two sticks of 1828.8 mm, trim 12.7 mm.

    The front begins at 12.7 and ends at 952.5. A cut of 3 sqrt(2) = 4.2426, counted as 4.25, and
    10 mm of room: the right one from 966.75 to 1500.15. Blanks end 5 mm behind: 957.5 and 1505.15;
    from 1508.15 on 320.65 mm are left. Four square cuts, four left ends at 45 deg, then two
    boards against the stop at 939.8 and two at 533.4: twelve cuts, four settings.
    """
    boards = [board(long, 45, 45, k) for k, long in enumerate((939.8, 533.4) * 2)]
    what = job_of(boards, (OnSale(182_880),), trim=1270)
    plan = spaced(what.job, cut_plan(what.job))
    assert list(faults(what.job, plan)) == []
    listed = saw_list(what, plan)
    assert [(each.tilt_deg, each.stop) for each in listed.settings] == [
        (0.0, None), (45.0, None), (45.0, pytest.approx(939.8)), (45.0, pytest.approx(533.4)),
    ]  # fmt: skip
    apart, first, long, short = (each.cuts for each in listed.settings)
    assert [(cut.number, cut.stick, cut.at) for cut in apart] == [
        (1, 0, pytest.approx(957.5)), (2, 0, pytest.approx(1505.15)),
        (3, 1, pytest.approx(957.5)), (4, 1, pytest.approx(1505.15)),
    ]  # fmt: skip
    assert [(cut.number, cut.stick, cut.at, cut.leads) for cut in first] == [
        (5, 0, pytest.approx(12.7), "left"), (6, 0, pytest.approx(966.75), "left"),
        (7, 1, pytest.approx(12.7), "left"), (8, 1, pytest.approx(966.75), "left"),
    ]  # fmt: skip
    assert all(cut.along == pytest.approx(4.24264) for cut in first)
    assert [(cut.number, cut.at, cut.leads) for cut in (*long, *short)] == [
        (9, pytest.approx(952.5), "right"), (10, pytest.approx(952.5), "right"),
        (11, pytest.approx(1500.15), "right"), (12, pytest.approx(1500.15), "right"),
    ]  # fmt: skip
    sides = [boards[cut.ends[0].piece].side for cut in (*long, *short)]
    assert [set(sides[:2]), set(sides[2:])] == [{"front", "back"}, {"right", "left"}]
    assert listed.offcuts == (((pytest.approx(1508.15), 1828.8),),) * 2
    assert listed.tight == ()
    assert_sawn(what, plan, listed)


def test_a_full_stick_is_sawn_at_its_marks() -> None:
    """400, 300 and 200 mm with two cuts of 4.25 between them fill a stick of 908.5 mm."""
    what = job_of([board(long, 45, 45, k) for k, long in enumerate((400, 300, 200))],
                  (OnSale(90_850),))  # fmt: skip
    plan = spaced(what.job, cut_plan(what.job))
    listed = saw_list(what, plan)
    assert listed.tight == (0,)
    assert [cut.kind for cut in listed.cuts] == ["first"] * 3 + ["second"] * 3
    assert_sawn(what, plan, listed)


def test_square_ends_that_meet_share_a_cut() -> None:
    """45 and 0, then 0 and 45 deg, 3 mm apart: one square cut, then both against the stop."""
    what = job_of([board(400, 45, 0), board(400, 0, 45, 1)], (OnSale(90_000),))
    plan = Plan((Cut(what.job.on_sale[0], (Placed(0, 0), Placed(1, 40_300))),), 0, 0, 0, 0, True,
                True)  # fmt: skip
    listed = saw_list(what, plan)
    end_to_end, *rest = [cut for cut in listed.cuts if cut.kind != "apart"]
    assert (end_to_end.at, end_to_end.tilt_deg, len(end_to_end.ends)) == (400.0, 0.0, 2)
    assert [(cut.stop, cut.tilt_deg) for cut in rest] == [(400.0, 45.0)] * 2
    assert listed.tight == ()
    assert_sawn(what, plan, listed)


def test_a_wider_cut_comes_when_the_board_before_it_is_off() -> None:
    """Behind a square end there are 3 mm of room, and a cut of 4.24 mm beside them."""
    what = job_of([board(400, 45, 0), board(400, 45, 0, 1)], (OnSale(80_300),))
    plan = Plan((Cut(what.job.on_sale[0], (Placed(0, 0), Placed(1, 40_300))),), 0, 0, 0, 0, True,
                True)  # fmt: skip
    assert_sawn(what, plan, saw_list(what, plan))


def test_corners_out_of_square_set_no_tilt_twice() -> None:
    """Corners of 44, 46, 44.5 and 45.5 deg: both boards of a corner at one setting of the blade."""
    tilts = (44.0, 46.0, 44.5, 45.5)
    boards = [board(500 + 50 * k, tilts[k], tilts[(k + 1) % 4], k) for k in range(4)]
    what = job_of(boards, (OnSale(180_000),), trim=1000)
    plan = spaced(what.job, cut_plan(what.job))
    listed = saw_list(what, plan)
    order = [each.tilt_deg for each in listed.settings]
    assert order == sorted(order)
    assert len(set(order)) == 5  # square, and four tilts
    ends = [(cut.kind, boards[cut.ends[0].piece].side, cut.ends[0].end)
            for cut in listed.cuts if cut.tilt_deg == 46.0]  # fmt: skip
    assert ends == [("second", "right", "left"), ("second", "front", "right")]
    assert_sawn(what, plan, listed)


def test_a_turned_board_has_its_right_end_at_the_left() -> None:
    what = job_of([board(400, 44, 46)], (OnSale(90_000),))
    plan = Plan((Cut(what.job.on_sale[0], (Placed(0, 1000, turned=True),)),), 0, 0, 0, 0, True,
                True)  # fmt: skip
    listed = saw_list(what, plan)
    found = {cut.ends[0].end: (cut.leads, cut.at, cut.tilt_deg) for cut in listed.cuts if cut.ends}
    assert found == {"right": ("left", 10.0, 46.0), "left": ("right", 410.0, 44.0)}
    assert_sawn(what, plan, listed)


def test_wood_to_spare_moves_boards_apart() -> None:
    """Two boards, 100 mm to spare: 10 mm more between them; 3 where the grain is matched.

    Without any trim they stand as far from the stick's ends. Of 4 mm a third
    each goes to both ends and between; 2 mm are too little to part.
    """
    boards = [board(400, 45, 45), board(300, 45, 45, 1)]
    for long, trim, matched, at in (
        (80_425, 0, False, [1000, 42_425]), (80_425, 0, True, [300, 41_025]),
        (82_425, 1000, False, [1000, 42_425]), (82_425, 1000, True, [1000, 41_725]),
        (70_625, 0, False, [0, 40_425]), (70_825, 0, False, [133, 40_691]),
    ):  # fmt: skip
        what = job_of(boards, (OnSale(long),), matched=matched, trim=trim)
        plan = spaced(what.job, cut_plan(what.job))
        assert [each.start for each in plan.cuts[0].pieces] == at
        assert list(faults(what.job, plan)) == []


def test_boards_on_a_stick_with_flaws_move_apart_between_these() -> None:
    """Clear up to a crack at 750 mm: 404.25 and 300 take 704.25, and thrice 10 mm are there.

    Up to 708 mm 3.75 are left: 1 mm each before, between and behind; up to 706 mm 1.75, which
    go between alone; up to 705 mm they stay. Behind a crack at 100 mm they begin 10 mm off it.
    """
    boards = [board(400, 45, 45), board(300, 45, 45, 1)]

    def begins(*flaws: Flaw) -> list[int]:
        what = job_of(boards, (), owned=(Owned(80_425, flaws),))
        plan = spaced(what.job, cut_plan(what.job))
        assert list(faults(what.job, plan)) == []
        return [each.start for each in plan.cuts[0].pieces]

    assert begins(Flaw(75_000, 76_000)) == [1_000, 42_425]
    assert begins(Flaw(70_800, 76_000)) == [100, 40_625]
    assert begins(Flaw(70_600, 76_000)) == [0, 40_525]
    assert begins(Flaw(70_500, 76_000)) == [0, 40_425]
    assert begins(Flaw(0, 3_000)) == [4_000, 45_425]


def test_square_cuts_keep_off_flaws() -> None:
    """Blanks are parted 5 mm behind a board, 3 mm wide, or 1 mm behind the flaw that is there.

    Board 1 ends at 410 and board 2 is from 440 to 740; flaws from 414 to 430 and from 747 to 760.
    Where a flaw fills all the room between the boards the cut goes through it.
    """
    what = job_of([board(400, 45, 45), board(300, 45, 45, 1)], ())

    def marks(*flaws: Flaw) -> tuple[list[float], tuple[tuple[float, float], ...]]:
        cut = Cut(Owned(100_000, flaws), (Placed(0, 1_000), Placed(1, 44_000)), 0)
        plan = Plan((cut,), 0, 0, 0, 0, True, True)
        listed = saw_list(what, plan)
        assert_sawn(what, plan, listed)
        return [each.at for each in listed.cuts if each.kind == "apart"], listed.offcuts[0]

    assert marks(Flaw(41_400, 43_000), Flaw(74_700, 76_000)) == ([431, 761], ((764, 1000),))
    assert marks(Flaw(41_000, 44_000), Flaw(74_000, 95_000)) == ([415], ())


# --- sawn at random, and the examples -------------------------------------------------------------


@pytest.mark.parametrize("seed", range(40))
def test_whatever_is_planned_can_be_sawn(seed: int) -> None:
    rand = Random(seed)
    tilts = [0.0, 45.0, rand.uniform(30, 52), rand.uniform(44, 46)]
    boards = [
        board(round(rand.uniform(250, 900), 2), rand.choice(tilts), rand.choice(tilts), k % 4)
        for k in range(rand.randint(1, 8))
    ]
    low = rand.randrange(20_000, 90_000)
    owned = (Owned(rand.randrange(95_000, 200_000), (Flaw(low, low + rand.randrange(100, 9000)),)),)
    sale = (OnSale(max(round(each.long_point * 100) for each in boards) + 2000), OnSale(240_000))
    what = job_of(boards, sale, owned=owned if seed % 2 else (), trim=rand.choice((0, 1000)),
                  matched=seed % 3 == 0)  # fmt: skip
    plan = cut_plan(what.job)
    for each in (plan, spaced(what.job, plan)):
        assert list(faults(what.job, each)) == []
        assert_sawn(what, each, saw_list(what, each))
    turned = replace(plan, cuts=tuple(_mirrored(what.job, cut) for cut in plan.cuts))
    assert_sawn(what, turned, saw_list(what, turned))


def _mirrored(job: Job, cut: Cut) -> Cut:
    """Return a stick with its boards laid from its other end, each turned end for end."""
    placed = [
        Placed(each.piece, cut.stick.length - each.start - job.pieces[each.piece].length, True)
        for each in reversed(cut.pieces)
    ]
    return replace(cut, pieces=tuple(placed))


@pytest.mark.parametrize("path", sorted((Path(__file__).parents[2] / "examples").glob("*.toml")),
                         ids=lambda path: path.stem)  # fmt: skip
def test_examples(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project, _ = read(path)
    layout = lay_out(project)
    what = asked(project, [layout])
    monkeypatch.setitem(globals(), "THICK", layout.boards[0].thickness)
    monkeypatch.setitem(globals(), "KERF", what.kerf)
    plan = spaced(what.job, cut_plan(what.job))
    assert_sawn(what, plan, saw_list(what, plan))
