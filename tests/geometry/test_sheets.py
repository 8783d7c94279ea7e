"""Cut plans of foam: by hand, against a search of another make, and spoilt ones seen."""

from dataclasses import replace
from functools import cache
from itertools import pairwise, product
from random import Random

import pytest
from collarwright.geometry.plan.sheets import (
    Cut,
    Job,
    NoPlanError,
    Part,
    Placed,
    Plan,
    Rect,
    Sheet,
    SheetPlan,
    faults,
    sheet_plan,
    table,
)
from collarwright.geometry.plan.sheets.seams import CLEAR, clearance, ways

Sizes = tuple[tuple[int, int], ...]


def job(sheet: tuple[int, int], *sizes: tuple[int, int]) -> Job:
    parts = tuple(Part(f"part {k}", long, wide) for k, (long, wide) in enumerate(sizes))
    return Job(parts, Sheet(*sheet))


def checked(asked: Job) -> Plan:
    plan = sheet_plan(asked)
    assert list(faults(asked, plan)) == []
    assert plan == sheet_plan(asked)
    return plan


# --- by hand --------------------------------------------------------------------------------------


def test_a_part_as_large_as_the_sheet_takes_no_cut() -> None:
    plan = checked(job((12, 7), (7, 12)))
    assert (len(plan.sheets), plan.cuts) == (1, 0)
    assert plan.sheets[0].parts == (Placed(0, Rect(0, 0, 12, 7), turned=True),)


def test_one_part_is_cut_off_along_and_across() -> None:
    """11 x 4 of 20 x 10: along first leaves 20 x 6 in one piece, across first 9 x 10."""
    sheet = checked(job((20, 10), (11, 4))).sheets[0]
    assert sheet.cuts == (
        Cut(Rect(0, 0, 20, 10), "along", 4),
        Cut(Rect(0, 0, 20, 4), "across", 11),
    )
    assert sheet.left == (Rect(0, 4, 20, 6), Rect(11, 0, 9, 4))


def test_a_row_that_fills_the_sheet_saves_a_cut() -> None:
    """6 x 1 and 2 x 1 fill a strip of 8 x 1; 3 x 5 stands on it: along, across 6, across 3."""
    plan = checked(job((8, 6), (6, 1), (3, 5), (2, 1)))
    assert (len(plan.sheets), plan.cuts, plan.proved) == (1, 3, True)


def test_larger_rectangles_dropped_prove_no_cuts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(table, "MOST_MATCHES", 0)
    plan = checked(job((8, 6), (6, 1), (3, 5), (2, 1)))
    assert (len(plan.sheets), plan.sheets_proved, plan.proved) == (1, True, False)


def test_what_does_not_fit_is_named() -> None:
    with pytest.raises(NoPlanError) as error:
        sheet_plan(job((10, 5), (4, 4), (6, 6)))
    assert error.value.part.name == "part 1"
    assert sheet_plan(job((10, 5))) == Plan((), 0, True)


def test_a_windmill_takes_two_sheets_though_its_area_fits_one() -> None:
    """Four of 6 x 4 stand in 10 x 10 only round a hole of 2 x 2: no cut runs from edge to edge.

    Three come out: 6 x 4 on 6 x 4, and one upright beside them.
    """
    assert len(checked(job((10, 10), *[(6, 4)] * 3)).sheets) == 1
    plan = checked(job((10, 10), *[(6, 4)] * 4))
    assert (len(plan.sheets), plan.least, plan.proved) == (2, 2, True)


def test_panels_that_differ_by_a_hair_are_cut_to_length_each_by_itself() -> None:
    """Two panels of a lip out of square, 1000 and 1000.14 mm long, one above the other.

    Along at 150 and at 300, then each across: four cuts. To cut both to 1000.14 together takes
    as many, but its last one would slice off 0.14 mm, which no knife does.
    """
    plan = checked(job((190_000, 99_000), (100_000, 15_000), (100_014, 15_000)))
    assert plan.cuts == 4
    left = sorted((rest.length, rest.width) for rest in plan.sheets[0].left)
    assert left == [(89_986, 15_000), (90_000, 15_000), (190_000, 69_000)]


def test_the_same_side_by_side() -> None:
    """148 and 148.3 mm wide fill a sheet's length: across between, then each along its edge."""
    plan = checked(job((200_000, 15_000), (100_000, 14_800), (100_000, 14_830)))
    assert plan.cuts == 3
    assert sorted(min(rest.length, rest.width) for rest in plan.sheets[0].left) == [170, 200]


# --- against another search -----------------------------------------------------------------------


def fewest_cuts(sheet: tuple[int, int], sizes: Sizes) -> int | None:
    """Return the fewest cuts for all parts from one sheet, by trying every cut; None: no way."""

    @cache
    def best(long: int, wide: int, parts: Sizes) -> int | None:
        if not parts or (len(parts) == 1 and sorted(parts[0]) == sorted((long, wide))):
            return 0
        if sum(a * b for a, b in parts) > long * wide:
            return None
        found: int | None = None
        for taken in product((False, True), repeat=len(parts)):
            one = tuple(p for p, t in zip(parts, taken, strict=True) if t)
            two = tuple(p for p, t in zip(parts, taken, strict=True) if not t)
            trials = [((at, wide), (long - at, wide)) for at in range(1, long)]
            trials += [((long, at), (long, wide - at)) for at in range(1, wide)]
            for first, second in trials:
                a = best(*first, one)
                b = best(*second, two) if a is not None else None
                if a is not None and b is not None and (found is None or a + b + 1 < found):
                    found = a + b + 1
        return found

    return best(*sheet, tuple(sorted(sizes)))


@pytest.mark.parametrize("seed", range(60))
def test_small_plans_against_every_cut_there_is(seed: int) -> None:
    chance = Random(seed)
    size = chance.randint(5, 8), chance.randint(3, 5)
    parts = [(chance.randint(1, 5), chance.randint(1, 3)) for _ in range(chance.choice((2, 3, 3)))]
    plan = checked(job(size, *parts))
    found = fewest_cuts(size, tuple(parts))
    assert (len(plan.sheets) == 1) == (found is not None)
    assert plan.proved
    if found is not None:
        assert plan.cuts == found


def broken(chance: Random, rect: Rect, count: int) -> list[Rect]:
    """Return a sheet cut at random from edge to edge into so many parts."""
    pieces = [rect]
    while len(pieces) < count:
        piece = max(pieces, key=lambda each: each.area * chance.uniform(0.3, 1.0))
        pieces.remove(piece)
        way = (
            "across" if piece.length * chance.random() > piece.width * chance.random() else "along"
        )
        whole = piece.length if way == "across" else piece.width
        pieces += piece.parted(way, chance.randint(whole // 4, 3 * whole // 4))
    return pieces


@pytest.mark.parametrize("seed", range(20))
def test_a_sheet_that_was_cut_up_is_found_again(seed: int) -> None:
    """One sheet, nothing left over, and one cut less than parts: each cut makes one piece more."""
    chance = Random(seed)
    sheet = (244_000, 122_000) if seed % 2 else (121_900, 61_000)
    count = 4 + seed % 4
    pieces = broken(chance, Rect(0, 0, *sheet), count)
    chance.shuffle(pieces)
    sizes = [
        (each.width, each.length) if chance.random() < 0.5 else (each.length, each.width)
        for each in pieces
    ]
    plan = checked(job(sheet, *sizes))
    assert (len(plan.sheets), plan.cuts, plan.sheets[0].left) == (1, count - 1, ())


@pytest.mark.parametrize("seed", range(6))
def test_rows_take_what_is_too_much_for_the_table(seed: int) -> None:
    """Sixteen different parts: more states than the limit. Measured again; never below the area."""
    chance = Random(seed)
    parts = [(chance.randint(30_000, 110_000), chance.randint(9_000, 20_000)) for _ in range(16)]
    plan = checked(job((121_900, 61_000), *parts))
    area = -(-sum(a * b for a, b in parts) // (121_900 * 61_000))
    assert plan.least == area <= len(plan.sheets) <= 2 * area + 1
    assert not plan.proved
    assert plan.sheets_proved == (len(plan.sheets) == area)


# --- spoilt plans ---------------------------------------------------------------------------------


def spoilt(sheet: SheetPlan) -> dict[str, SheetPlan]:
    first, second = sheet.parts[:2]
    moved = replace(second, rect=replace(second.rect, x=first.rect.x, y=first.rect.y))
    beyond = replace(second, rect=replace(second.rect, x=second.rect.x + 90_000))
    larger = replace(first, rect=replace(first.rect, length=first.rect.length + 1))
    short = replace(sheet.cuts[1], before=replace(sheet.cuts[1].before, width=7_000))
    return {
        "overlap": replace(sheet, parts=(first, moved, *sheet.parts[2:])),
        "lies beyond the sheet": replace(sheet, parts=(first, beyond, *sheet.parts[2:])),
        "is not of its size": replace(sheet, parts=(larger, second, *sheet.parts[2:])),
        "not every part": replace(sheet, parts=sheet.parts[1:]),
        "the piece is not there": replace(sheet, cuts=(sheet.cuts[0], short, *sheet.cuts[2:])),
        "misses its piece": replace(sheet, cuts=(replace(sheet.cuts[0], at=0), *sheet.cuts[1:])),
        "do not leave": replace(sheet, cuts=sheet.cuts[:-1]),
    }


def test_what_is_wrong_with_a_plan_is_seen() -> None:
    asked = job((121_900, 61_000), (90_000, 14_000), (90_000, 14_000), (44_000, 14_000))
    plan = checked(asked)
    for says, sheet in spoilt(plan.sheets[0]).items():
        told = list(faults(asked, replace(plan, sheets=(sheet,))))
        assert any(says in each for each in told), (says, told)
    assert any("fewer than" in each for each in faults(asked, replace(plan, least=2)))


def test_a_windmill_is_not_cut_from_edge_to_edge() -> None:
    """Four blades round a hole fit the sheet, and no list of cuts makes them."""
    asked = job((10, 10), *[(6, 4)] * 4)
    blades = (Rect(0, 0, 6, 4), Rect(6, 0, 4, 6), Rect(4, 6, 6, 4), Rect(0, 4, 4, 6))
    parts = tuple(Placed(k, rect, turned=k % 2 == 1) for k, rect in enumerate(blades))
    for at in range(1, 10):
        cuts = (Cut(Rect(0, 0, 10, 10), "across", at),)
        sheet = SheetPlan(cuts, parts, (Rect(4, 4, 2, 2),))
        told = list(faults(asked, Plan((sheet,), 1, True)))
        assert told == ["sheet 1: the cuts do not leave the parts and the rest"]


# --- seams ----------------------------------------------------------------------------------------


def test_a_short_panel_has_no_seam() -> None:
    assert ways(121_900, 121_900, [(10_000, 20_000)]) == ((),)


def test_a_seam_stays_clear_of_a_pocket_in_the_middle() -> None:
    """2000 mm of a sheet of 1219: from 781 to 1219; the pocket takes 970 to 1030.

    As far as can be is 781 or 1219, 189 mm off; all ways leave 50 mm.
    """
    found = ways(200_000, 121_900, [(97_000, 103_000)])
    assert found[0] in ((78_100,), (121_900,))
    for way in found:
        assert 78_100 <= way[0] <= 121_900
        assert not 92_000 < way[0] < 108_000
    assert clearance(found[0][0], [(97_000, 103_000)]) == 18_900


def test_between_pockets_the_seam_is_in_the_middle() -> None:
    """Pockets of 60 mm every 76 mm leave 16 mm: 8 mm to each is the most there is."""
    spans = [(k * 7_600 + 800, k * 7_600 + 6_800) for k in range(30)]
    for way in ways(228_000, 121_900, spans):
        assert clearance(way[0], spans) == 800


@pytest.mark.parametrize("seed", range(25))
def test_no_other_seams_are_farther_from_holes(seed: int) -> None:
    """Every place in steps of 5 mm is tried: none has fewer near seams, nor less lacking."""
    chance = Random(seed)
    longest, step = 60_000, 500
    length = chance.randint(130, 340) * step
    spans = [(at, at + 6_000) for at in (chance.randint(0, length) for _ in range(8))]
    count = -(-length // longest)
    least = min(10_000, length // (3 * count))

    def cost(way: tuple[int, ...]) -> tuple[int, int]:
        lacks = [max(0, CLEAR - max(-CLEAR * 9, clearance(at, spans) or 0)) for at in way]
        return sum(lack > 0 for lack in lacks), sum(lacks)

    places = range(step, length, step)
    rows: dict[int, tuple[int, int]] = {0: (0, 0)}
    for _ in range(count - 1):
        rows = {
            at: min(
                (a + n, b + m) for before, (a, b) in rows.items()
                if least <= at - before <= longest for n, m in [cost((at,))]
            )
            for at in places
            if any(least <= at - before <= longest for before in rows)
        }  # fmt: skip
    best = min(found for at, found in rows.items() if least <= length - at <= longest)
    for way in ways(length, longest, spans):
        ends = (0, *way, length)
        assert len(way) == count - 1
        assert all(0 < b - a <= longest for a, b in pairwise(ends))
        assert cost(way) <= best
