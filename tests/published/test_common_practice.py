"""What people who build collars say works. Common practice, no source."""

from collections.abc import Callable

import pytest
from collarwright.geometry.judge.evaluate import Evaluation
from collarwright.geometry.shape.layout import Layout

Lay = Callable[..., Layout]
Judged = Callable[..., Evaluation]

PRACTICE = "common practice, no source"
FOOT, INCH = 304.8, 25.4


@pytest.mark.published(PRACTICE)
@pytest.mark.parametrize("over", ["0 mm", "10 mm"])
def test_two_boards_of_6_ft_make_the_collar_of_a_7_cubic_foot_freezer(lay: Lay, over: str) -> None:
    """A lip of 37 x 21 in: a long and a short board from each stick, three cuts of 3 mm."""
    layout = lay(board={"overhang": over})
    long, short = (layout.board(side).long_point for side in ("front", "right"))
    assert long + short + 3 * 3 <= 6 * FOOT
    # but not both long boards from one stick
    assert 2 * long + 3 > 6 * FOOT


@pytest.mark.published(PRACTICE)
def test_three_taps_3_in_apart_in_1_in_bores_fit_a_1x6(judged: Judged) -> None:
    evaluation = judged(taps={"wrench": "wrench-hook-pin", "faucet": "faucet-forward-sealing"})
    checks = (
        "bore-entry", "bore-cover", "nut-cover", "bore-web", "bore-edge", "bore-end", "tap-gap",
        "handle-gap", "wrench-swing",
    )  # fmt: skip
    for check in checks:
        found = [each for each in evaluation.findings if each.check == check]
        assert [each.verdict for each in found] == ["pass"] * 3, check


@pytest.mark.published(PRACTICE)
@pytest.mark.parametrize("pocket", [None, "60 mm", "none"])
def test_a_4_in_shank_leaves_the_lines_nut_clear_of_board_and_foam(
    judged: Judged, pocket: str | None
) -> None:
    """Through a 3/4 in board and 1 in foam."""
    evaluation = judged(
        board={"stock": None, "thickness": "3/4 in", "width": "5 1/2 in"},
        foam={"thickness": "1 in", "pocket": pocket},
        taps={"shank": "4 in"},
    )
    by_check = {
        check: [found for found in evaluation.findings if found.check == check]
        for check in ("shank-past-foam", "shank-grip", "shank-run", "nut-room")
    }
    assert [len(each) for each in by_check.values()] == [3, 3, 3, 3]
    for found in by_check["shank-past-foam"]:
        # 4 in less 3/4 and 1 in of wall, less the nut's 14 mm
        assert found.measured == pytest.approx((4 - 0.75 - 1) * INCH - 14)
    assert {found.verdict for each in by_check.values() for found in each} == {"pass"}


@pytest.mark.published(PRACTICE)
def test_a_3_in_shank_does_for_the_board_alone_and_not_for_2_in_of_foam(judged: Judged) -> None:
    for foam, verdict in ((None, "pass"), ({"thickness": "2 in", "pocket": "60 mm"}, "fail")):
        found = judged(foam=foam, taps={"shank": "3 in"}).findings
        past = {each.verdict for each in found if each.check == "shank-past-foam"}
        assert past == {verdict}
