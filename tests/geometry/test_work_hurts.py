"""Cautions about the open lid, figures that hurt where they are wrong, and notes of bought things.

Expected values are by hand or from where the program's sources have them.
"""

from pathlib import Path

import pytest
from collarwright.geometry.plan.materials import materials
from collarwright.geometry.plan.work import cautions, planned
from collarwright.geometry.plan.work.step import Step
from collarwright.geometry.shape.layout import lay_out
from collarwright.params.reading import read
from plain_collar import COLLAR as BARE
from plain_collar import project, steps_of

EXAMPLES = Path(__file__).parents[2] / "examples"
FOAM = '[foam]\nthickness = "25 mm"\n'
MANIFOLD = '[manifold]\nlength = "200 mm"\nheight = "80 mm"\ndepth = "40 mm"\nside = "back"\n'
CLEATS = '[seat]\nhold = "cleats"\n'


def wait(step: Step, earlier: str) -> tuple[float, float]:
    return next(each.wait for each in step.after if each.step == earlier)


LEANT_IN = (
    "unplug", "measure", "lid-back", "manifold", "shanks", "lines", "gas", "gas-test",
    "water-test", "clean", "cold", "day", "week", "season",
)  # fmt: skip
TIPS = ("lid-on", "manifold", "shanks", "cold")


def test_the_open_lid_is_minded_wherever_one_leans_in_under_it() -> None:
    """An empty freezer tips back where the lid goes past upright, or nobody knows how far."""
    hinge = '[hinge]\nopen_to = "{} deg"\n'
    for opened, tips in ((hinge.format(95), True), ("", True), (hinge.format(70), False)):
        told = steps_of(BARE + MANIFOLD + opened)
        assert [name for name in LEANT_IN if cautions.PROP not in told[name].cautions] == []
        assert [cautions.TIP in told[name].cautions for name in TIPS] == [tips] * len(TIPS)


def test_a_shut_freezer_is_aired_in_the_weeks_that_finish_takes() -> None:
    assert any("once a week wipe and air" in each for each in steps_of(BARE)["lid-back"].do)


def test_the_knife_is_minded_where_it_cuts() -> None:
    assert cautions.KNIFE in steps_of(BARE + FOAM)["foam-cut"].cautions
    assert cautions.OFFCUT in steps_of(BARE)["cut"].cautions


@pytest.mark.parametrize(
    ("step", "figure", "said"),
    [
        # draught manuals: 2 %, for lines that were let go 3 %; 80 to 125 degF; 15 or 20 minutes
        ("clean", "strength", "2 %, old lines 3 %"),
        ("clean", "temperature", "27 degC to 52 degC"),  # (80 - 32) / 1.8 = 26.7, 93 / 1.8 = 51.7
        ("clean", "time", "15 min pumped round, or 20 min standing"),
        ("clean", "again", "every 14 days; acid cleaner every 3 months, never on the same day"),
        ("controller", "set-point", "3 degC"),  # the colder of two drinks
        ("controller", "delay between starts", "5 to 10 min"),
    ],
)
def test_figures_that_hurt_if_wrong(step: str, figure: str, said: str) -> None:
    two = BARE.replace("count = 1", 'count = 2\nspacing = "150 mm"')
    warm = '[[pour]]\ntap = {}\ndrink = "carbonated"\ntemperature = "{} degC"\n'
    told = steps_of(two + warm.format(1, 8) + warm.format(2, 3))
    assert dict(told[step].figures)[figure] == said


@pytest.mark.parametrize(
    ("caution", "said"),
    [
        (cautions.REGULATOR, "2200 to 3000 psi (150 to 200 bar)"),  # 14.504 psi are 1 bar
        (cautions.REGULATOR, "CO2 is CGA 320, nitrogen and argon are CGA 580"),  # CGA V-1
        (cautions.HEAT, "125 degF (52 degC)"),  # CGA P-1
        (cautions.FROM_INSIDE, "15 lbf (67 N)"),  # 16 CFR 1750.5: 66.7 N
        (cautions.TABLE_SAW, "150 mm (6 in)"),
    ],
)
def test_figures_in_cautions(caution: str, said: str) -> None:
    assert said in caution


def test_what_two_people_lift_by_hand() -> None:
    """20 x 140 mm boards of 940 and 530: 2 (920 + 510) x 20 x 140 = 8.008 dm3, less a bore.

    White oak, 0.68 at 12 % moisture by the Wood Handbook: 0.68 x 1.12 = 0.76 kg/dm3.
    """
    told = steps_of(BARE.replace("[taps]", 'species = "white-oak"\n[taps]'))["set"]
    mass = next(said for name, said in told.figures if "weigh" in name)
    assert float(mass.split()[0]) == pytest.approx(8.0 * 0.76, rel=0.04)


# --- glue, primer, notes --------------------------------------------------------------------------


@pytest.mark.parametrize(("glue", "hours"), [("polyurethane", (1, 4)), ("epoxy", None)])
def test_a_glue_of_minutes_waits_in_clamps_between_its_corners(
    glue: str, hours: tuple[float, float] | None
) -> None:
    """Polyurethane: 1 to 4 h in clamps. Epoxy is open long enough for all four."""
    told = steps_of(BARE.replace("[taps]", f'glue = "{glue}"\n[taps]'))
    assert ("glue-two" in told) == (hours is not None)
    if hours is not None:
        assert wait(told["glue-up"], "glue-two") == pytest.approx(hours)
        assert not any("two L's" in each for each in told["glue-two"].do)


def test_paint_waits_for_its_primer() -> None:
    """Wood Handbook, chapter 16: up to 48 h from the primer to the first top coat."""
    told = steps_of(BARE + '[finish]\nkind = "paint-exterior"\n')
    assert wait(told["coat-1"], "primer")[1] == 48
    assert any("all six faces" in each for each in told["primer"].do)
    assert not any("all six faces" in each for each in told["coat-1"].do)
    bare = steps_of(BARE)
    assert "primer" not in bare
    assert any("all six faces" in each for each in bare["coat-1"].do)


@pytest.mark.parametrize(
    ("text", "step", "said"),
    [
        ('[finish]\nkind = "epoxy-sealer"\n', "coat-2", "sunlight wants varnish over it"),
        ('[finish]\nkind = "paint-exterior"\n', "coat-1", "bare wood wants the primer first"),
        ('[seat]\nhold = "adhesive"\n', "set", "the collar does not come off again"),
        (FOAM, "foam", "at least twice the wait below 50 degF (10 degC)"),
    ],
)
def test_what_a_row_says_to_a_buyer_stands_at_its_step(text: str, step: str, said: str) -> None:
    assert any(said in value for _, value in steps_of(BARE + text)[step].figures)


def test_the_list_says_that_the_collar_stays() -> None:
    design = project(BARE + '[seat]\nhold = "adhesive"\n')
    found = {each.id: each for each in materials(design, lay_out(design))}
    assert "the collar does not come off again" in found["adhesive-lip"].why


# --- cleats, covers and pockets -------------------------------------------------------------------


def test_cleats_are_screwed_on_and_their_screws_end_in_the_wood() -> None:
    """20 mm of cleat, two thirds of 20 mm of pilot and 3 of point: 36.3; 35 mm are on sale.

    So 5 mm of wood are left. Two cleats a side, two screws a cleat: 16, and one in ten to spare.
    """
    told = steps_of(BARE + CLEATS + FOAM)
    figures = dict(told["cleats"].figures)
    assert figures["cleats"] == "8, 20 mm thick"
    assert figures["screws"] == "16, no. 8 wood screw"
    assert figures["a screw is from under its head at most"] == "36.3 mm"
    assert figures["pilots in the boards"].split(", ")[1] == "13.3 mm deep"
    assert cautions.WALLS in told["cleats"].cautions
    assert any("free round the cleats" in each for each in told["foam"].do)
    assert any("between the cleats" in each for each in told["foam"].do)
    assert "cleats" not in steps_of(BARE + FOAM)
    design = project(BARE + CLEATS)
    found = {each.id: each for each in materials(design, lay_out(design))}
    assert (found["wood-screw-no-8-35-mm"].net, found["wood-screw-no-8-35-mm"].buy) == (16, 18)
    assert [each.why for key, each in found.items() if key.startswith("drill-")] == [
        "16 pilot holes"
    ]


def test_a_frame_with_covers_and_cleats_lies_on_battens_past_both() -> None:
    cover = '[cover]\nthickness = "12 mm"\nbelow_lip = "20 mm"\n'
    both, covers, cleats, plain = (
        steps_of(BARE + FOAM + text)["foam"].do[0] for text in (cover + CLEATS, cover, CLEATS, "")
    )
    assert "covers hang 20 mm below the boards and the cleats reach below the boards" in both
    assert "battens higher than both, inside the covers and between the cleats" in both
    assert "covers hang 20 mm" in covers and "than that, inside the covers;" in covers
    assert "than that, between the cleats;" in cleats
    assert "battens" not in plain


def test_cleats_reach_past_the_lip() -> None:
    """A lip 50 mm wide under 20 mm of board, and 20 mm of cleat beyond it: 50 mm thick."""
    text = BARE.replace("[board]", 'land = "50 mm"\n[board]', 1) + CLEATS
    told = steps_of(text)["cleats"]
    assert dict(told.figures)["cleats"] == "8, 50 mm thick"
    assert dict(told.figures)["a screw is from under its head at most"].startswith("66.3 mm")
    assert "lip.land" not in told.missing
    assert "lip.land" in steps_of(BARE + CLEATS)["cleats"].missing


def test_where_a_bead_finds_no_room_nothing_waits_for_it() -> None:
    """20 mm of butyl tape under boards of 20 mm."""
    told = steps_of(BARE + '[seat]\nhold = "adhesive"\nseal = "butyl-tape"\n')
    assert "finds no room" in " ".join(told["set"].do)
    assert "seat.seal" in told["set"].missing
    assert not [each for each in told["set"].do if "bead" in each or "cured" in each]
    assert not [each for each in told["hinges"].after if "cure" in (each.why or "")]


def test_dashed_pockets_are_cut_later() -> None:
    """Three taps in front, and a leg of a bracket at each end; of these only the places show."""
    project, _ = read(EXAMPLES / "cold-coffee.toml")
    told = {step.id: step for step in planned(project, lay_out(project))}["foam-cut"]
    said = dict(told.figures)["foam front"]
    assert said.endswith("; 3 pockets; 2 dashed pockets to cut later")
    assert any("leave the dashed ones" in each for each in told.do)
    plain = steps_of(BARE + FOAM)["foam-cut"]
    assert not any("dashed" in each for each in plain.do)


def test_without_a_seal_no_seal_is_blamed() -> None:
    """Boards of 20 mm that stand out by 18: 2 mm on the lip, and no bead lies on that."""
    out = BARE.replace("[board]", '[board]\noverhang = "18 mm"', 1)
    told = steps_of(out + '[seat]\nhold = "adhesive"\n')["set"]
    said = " ".join(told.do)
    assert "finds no room on the lip" in said
    assert "narrower seal" not in said
    assert told.missing.count("seat.seal") == 1
    assert "board.overhang" in told.missing
