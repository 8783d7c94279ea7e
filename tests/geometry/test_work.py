"""The order of work: what must come before what, figures by hand, cautions where they bite."""

import re
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from random import Random
from types import ModuleType

import pytest
from collarwright.geometry.plan import work
from collarwright.geometry.plan.assembly import order_of
from collarwright.geometry.plan.assembly.search import Step as Turned
from collarwright.geometry.plan.work import cautions, planned, pruned, take_off
from collarwright.geometry.plan.work.job import Job, time_text
from collarwright.geometry.plan.work.schedule import schedule
from collarwright.geometry.plan.work.step import Step
from collarwright.geometry.plan.work.turned import step_of, upside_down
from collarwright.geometry.shape.layout import Layout, lay_out
from collarwright.params.problem import BuildFileError
from collarwright.params.project import Project
from collarwright.params.reading import draft, read
from plain_collar import COLLAR as BARE
from plain_collar import project, steps_of

TESTS = Path(__file__).parents[1]
EXAMPLES = sorted((TESTS.parent / "examples").glob("*.toml"))
RANDOM = 40
WHOLE = """
[cap]
material = "wood"
thickness = "10 mm"
width = "20 mm"
[hinge]
fix = "screw"
positions = ["-250 mm", "250 mm"]
leaf_height = "90 mm"
leaf_thickness = "2 mm"
screws = 3
screw = "wood-screw-no-8"
screw_length = "30 mm"
backing = "18 mm"
spring = true
open_to = "95 deg"
[lid]
mass = "25 kg"
[seat]
hold = "sealant"
seal = "foam-tape-narrow"
[foam]
thickness = "25 mm"
[manifold]
length = "200 mm"
height = "80 mm"
depth = "40 mm"
side = "back"
[tray]
count = 2
spacing = "200 mm"
height = "16 mm"
pilot = "3 mm"
[[hole]]
name = "probe"
side = "right"
height = "60 mm"
diameter = "14 mm"
[room]
floor_area = "12 m2"
ceiling = "2.4 m"
temperature = "20 degC"
altitude = "0 m"
[[vessel]]
kind = "co2-5lb-aluminium"
[[pour]]
tap = 1
drink = "carbonated"
temperature = "4 degC"
line = "3/16 in"
"""

CLEATS = WHOLE.replace("sealant", "cleats") + '[finish]\nkind = "paint-exterior"\n'


def whole(board: str = 'species = "white-oak"\nbracket = "bracket-2x2-in"\n') -> dict[str, Step]:
    return steps_of(BARE.replace("[taps]", f"{board}[taps]") + WHOLE)


def _generator() -> ModuleType:
    """Load the module that makes build files: tests are not a package."""
    path = TESTS / "geometry" / "test_random_designs.py"
    spec = spec_from_file_location("random_designs_for_work", path)
    assert spec is not None and spec.loader is not None
    module = module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@dataclass(frozen=True)
class Design:
    """A project with its layout and its steps."""

    project: Project
    layout: Layout
    steps: tuple[Step, ...]

    @property
    def job(self) -> Job:
        order = order_of(self.project, self.layout)
        return Job(self.project, self.layout, upside_down=upside_down(order))


@pytest.fixture(scope="module")
def designs() -> list[Design]:
    """The examples, the two designs above, and some random ones."""
    found = [read(file)[0] for file in EXAMPLES]
    found += [project(BARE), project(BARE + WHOLE), project(BARE + CLEATS)]
    generator = _generator()
    for seed in range(RANDOM):
        tables = generator.Tables(Random(seed)).every()
        text = "".join(f"{name} = {generator.toml(value)}\n" for name, value in tables.items())
        made = draft(Path("random.toml"), text.encode())
        found += [made.project] if made.project is not None and not made.problems else []
    designs: list[Design] = []
    for each in found:
        with suppress(BuildFileError):  # a random one that cannot be laid out
            layout = lay_out(each)
            designs.append(Design(each, layout, planned(each, layout)))
    assert len(designs) > len(EXAMPLES) + 2 + RANDOM / 4
    return designs


def _waits(steps: tuple[Step, ...]) -> dict[str, dict[str, float]]:
    """For each step, what has to be done before it, with the longest wait on the way, hours."""
    found: dict[str, dict[str, float]] = {}
    for step in steps:
        mine: dict[str, float] = {}
        for each in step.after:
            for earlier, wait in {**found[each.step], each.step: 0.0}.items():
                mine[earlier] = max(mine.get(earlier, 0.0), wait + each.wait[1])
        found[step.id] = mine
    return found


BEFORE = [
    ("unplug", "measure"), ("unplug", "lid-off"), ("unplug", "dry-fit"), ("unplug", "set"),
    ("measure", "buy"), ("buy", "cut"), ("rest", "cut"), ("ring", "cut"), ("cut", "bore"),
    ("templates", "bore"), ("templates", "corners"), ("corners", "dry-fit"), ("bore", "dry-fit"),
    ("bore", "glue-up"), ("lid-off", "dry-fit"), ("dry-fit", "glue-up"), ("glue-up", "sand"),
    ("glue-up", "cover"), ("cover", "sand"), ("sand", "coat-1"), ("coat-1", "foam"),
    ("coat-1", "set"), ("foam-cut", "foam"), ("brackets", "foam"), ("foam", "set"),
    ("backing", "sand"), ("backing", "foam-cut"), ("backing", "hinges"),
    ("cap", "set"), ("set", "hinges"), ("hinges", "lid-on"), ("set", "shanks"),
    ("lid-on", "shanks"), ("shanks", "faucets"), ("faucets", "lines"),
    ("faucets", "gas"), ("manifold", "gas"),
    ("gas", "gas-test"), ("gas-test", "lines"), ("gas-test", "water-test"),
    ("lines", "water-test"), ("water-test", "clean"), ("clean", "cold"), ("gas-test", "cold"),
    ("controller", "cold"), ("passages", "cold"), ("lid-on", "cold"), ("cold", "pour"),
    ("dry-fit", "lid-back"), ("lid-back", "glue-up"), ("lid-back", "lid-away"),
    ("coat-1", "lid-away"), ("cap", "lid-away"), ("foam", "lid-away"), ("lid-away", "set"),
    ("tray", "pour"), ("pour", "day"), ("pour", "week"), ("pour", "season"),
    ("lid-back", "glue-two"), ("glue-two", "glue-up"), ("sand", "primer"), ("primer", "coat-1"),
    ("coat-1", "cleats"), ("cleats", "foam"), ("cleats", "lid-away"),
]  # fmt: skip


def test_nothing_comes_before_what_it_needs(designs: list[Design]) -> None:
    for design in designs:
        ids = [step.id for step in design.steps]
        assert len(set(ids)) == len(ids)
        waits = _waits(design.steps)  # a step that came too late would not be in it yet
        for first, then in BEFORE:
            if first in ids and then in ids:
                assert first in waits[then], f"{first} before {then}"


def test_waits_that_must_not_be_cut_short(designs: list[Design]) -> None:
    """Glue and finish at the longest of their rows, wood and freezer, a day of cooling."""
    for design in designs:
        job, waits = design.job, _waits(design.steps)
        glue = job.glue.figures["full_cure"].high
        finish = job.finish.figures["cure"].high * 24
        last = f"coat-{job.coats}"
        for then in ("hinges", "lid-on", "sand", "set", "cold"):
            assert waits[then]["glue-up"] >= glue
        for then in ("foam", "brackets", "set", "shanks", "cold"):
            if then in waits:
                assert waits[then][last] >= finish
        recoat = job.finish.figures["recoat"].high
        assert waits[last].get("coat-1", 0.0) >= recoat * (job.coats - 1)
        assert waits["set"]["unplug"] >= 24
        assert waits["cut"]["rest"] >= 168
        assert waits["pour"]["cold"] >= 24


def test_foam_and_the_bead_at_the_lip_are_cured_in_time() -> None:
    """The foam's adhesive takes up to 7 days, a sealant at the lip as well."""
    waits = _waits(tuple(whole().values()))
    assert waits["cold"]["foam"] >= 168
    assert waits["hinges"]["set"] >= 168


def test_what_is_left_out_changes_no_day(designs: list[Design]) -> None:
    for design in designs[:12]:
        told = {step.id: step for phase in work.PHASES for step in phase.steps(design.job)}
        full = tuple(_kept(told[step.id], set(told)) for step in design.steps)
        assert sum(len(s.after) for s in design.steps) < sum(len(s.after) for s in full)
        for shortest in (False, True):
            one = [(t.step.id, t.begin) for t in schedule(design.steps, 6, shortest=shortest)]
            assert one == [(t.step.id, t.begin) for t in schedule(full, 6, shortest=shortest)]
        assert pruned(design.steps) == design.steps


def test_steps_are_numbered_in_the_order_of_their_days(designs: list[Design]) -> None:
    """The book counts as the plan of days does, with as many hours on a day as are planned."""
    for design in (designs[0], designs[-1]):
        for hours in (2.0, 6.0):
            steps = planned(design.project, design.layout, hours)
            turns = schedule(steps, hours)
            assert [turn.step.id for turn in turns] == [step.id for step in steps]
            ids = [step.id for step in steps]
            assert set(ids[ids.index("pour") + 1 :]) == {"day", "week", "season"}


def _kept(step: Step, there: set[str]) -> Step:
    return replace(step, after=tuple(each for each in step.after if each.step in there))


def test_every_step_that_is_named_can_be_there(designs: list[Design]) -> None:
    ids: set[str] = set()
    named: set[str] = set()
    for design in designs:
        for step in (step for phase in work.PHASES for step in phase.steps(design.job)):
            ids.add(step.id)
            named |= {each.step for each in step.after}
    assert named <= ids
    assert {first for first, _ in BEFORE} | {then for _, then in BEFORE} <= ids


def test_what_does_not_apply_is_not_told() -> None:
    bare = steps_of(BARE)
    for absent in (
        "corners",
        "cover",
        "cap",
        "backing",
        "brackets",
        "foam",
        "foam-cut",
        "manifold",
    ):
        assert absent not in bare
    for absent in ("passages", "tray"):
        assert absent not in bare
    told = whole()
    for there in ("cap", "backing", "brackets", "foam", "foam-cut", "manifold", "passages", "tray"):
        assert there in told
    assert "foam" not in " ".join(bare["set"].do)


def test_what_was_not_measured_is_named() -> None:
    bare = steps_of(BARE)
    assert bare["measure"].missing == (
        "lip.front_left_to_back_right", "lip.front_right_to_back_left", "hole", "lip.land",
    )  # fmt: skip
    assert bare["set"].missing == ("seat.seal", "seat.hold", "board.species")
    assert "hinge.screw" in bare["hinges"].missing
    assert bare["lid-off"].missing == ("hinge.spring", "lid.mass")
    assert bare["gas"].missing == ("vessel", "room.floor_area", "room.ceiling")
    assert bare["gas-test"].assumed == ("room.temperature", "room.altitude")
    told = whole()
    for name in ("set", "gas", "controller", "lid-off", "lid-on", "lines"):
        assert told[name].missing == (), name
    for name in ("gas-test", "water-test", "pour"):
        assert told[name].missing == ("pour.carbonation",), name
    assert told["gas-test"].assumed == told["controller"].assumed == ()


def test_figures_by_hand() -> None:
    """940 by 530: diagonals sqrt(940^2 + 530^2) = 1079.12. 25 mm at 76 m/min: 968, told as 950."""
    bare = {name: dict(step.figures) for name, step in steps_of(BARE).items()}
    off = "1079.1 mm, 1.6 mm more or less at most"
    assert bare["dry-fit"]["diagonal front left to back right"] == off
    assert bare["glue-up"]["diagonal front right to back left"] == off
    assert bare["bore"]["speed at 25 mm, softwood"] == "at most 950 rpm"
    assert bare["bore"]["board front: tap 1"] == "25 mm across, 470 mm from the left end, 70 mm up"
    assert bare["cut"]["board right"] == (
        "long point 530 mm, left end 45.0 deg, right end 45.0 deg"
    )
    # 20 mm boards: a miter of 20 sqrt(2) x 140 = 3960 mm2, at 0.7 N/mm2 2772 N
    assert bare["glue-up"]["the glue wants on each miter"].startswith(
        "2772 N to 6732 N, the harder the wood the more; a band clamp"
    )


def test_figures_of_the_whole_one_by_hand() -> None:
    told = {name: dict(step.figures) for name, step in whole().items()}
    # hardwood: 90 % of a no. 8 screw's root of 3.33 mm; 30 mm of screw less 2 mm of leaf
    assert (
        told["hinges"]["pilots"]
        == "3 mm across, 28 mm deep from the leaf, in white oak (commercial)"
    )
    middles = "middles of the leaves, from the back board's left end seen from behind"
    assert told["hinges"][middles] == "220 mm, 720 mm"
    assert told["hinges"]["screws"] == "no. 8 wood screw, 30 mm long, 3 in each leaf"
    # 4 brackets of two legs with two holes each
    assert told["brackets"]["screws"] == "16, no. 8 wood screw"
    assert told["brackets"]["pilot"] == "3 mm across, 13.3 mm deep"
    assert told["bore"]["speed at 25 mm, hardwood"] == "at most 450 rpm"  # 38 m/min: 484
    # clear length 940 - 2 x 20; the sides stand between: 530 - 40 - 2 x 25
    assert told["foam-cut"]["foam front"].startswith("900 mm x 140 mm x 25 mm")
    assert told["foam-cut"]["foam right"].startswith("440 mm x 140 mm x 25 mm")
    assert told["gas"]["air in the room"] == "28.8 m3"
    # 2.3 kg / 1.839 kg/m3 / 28.8 m3 = 43 426 ppm
    leak = "if all 2.3 kg of CO2 leak into it, closed"
    assert told["gas"][leak] == (
        "43400 ppm of CO2, above the 40000 ppm that NIOSH calls immediately dangerous"
    )
    assert told["controller"]["set-point"] == "4 degC"
    # carbonated as soda may be: (275.79 + 101.325) x 288.15/293.15 - 101.325 = 269.36 kPa; 262.46
    assert told["gas-test"]["after 30 min, 5 K colder"] == (
        "269 kPa (39.1 psi), no less than 262 kPa (38.1 psi)"
    )
    assert told["lid-on"]["mass of the lid"].startswith("25.0 kg, more than the 23.0 kg")
    assert told["tray"]["screws"] == "2, pilots of 3 mm"
    *kinds, look_up = told["pour"]
    assert [each.split(",")[0] for each in kinds] == ["carbonated"] * 3
    assert look_up == "look up for tap 1"
    assert told["pour"][look_up].startswith("the pressure for its carbonation at 4 degC, in a")


def test_what_the_glue_wants_is_said_only_where_it_lacks() -> None:
    """Epoxy wants next to nothing; PVA more than a band clamp gives."""
    said = "A band clamp presses a miter less"
    board = 'width = "140 mm"\n'
    epoxy = steps_of(BARE.replace(board, board + 'glue = "epoxy"\n'))["glue-up"]
    assert not any(each.startswith(said) for each in epoxy.do)
    assert any(each.startswith(said) for each in steps_of(BARE)["glue-up"].do)


@pytest.mark.parametrize(
    ("glue", "species", "said"),
    [
        # a miter of 3960 mm2 as above; 0.7 to 1.0 N/mm2 in softwood, 1.2 to 1.7 in hardwood
        ("pva-waterproof", "douglas-fir", "2772 N to 3960 N, as softwood takes it;"),
        ("pva-waterproof", "hard-maple", "4752 N to 6732 N, as hardwood takes it;"),
        # its own 0.03 to 0.1 N/mm2 in any wood
        ("epoxy", "hard-maple", "119 N to 396 N, the harder the wood the more;"),
    ],
)
def test_a_glue_is_pressed_as_its_wood_takes_it(glue: str, species: str, said: str) -> None:
    board = 'width = "140 mm"\n'
    told = steps_of(BARE.replace(board, f'{board}glue = "{glue}"\nspecies = "{species}"\n'))
    assert dict(told["glue-up"].figures)["the glue wants on each miter"].startswith(said)


def test_a_coat_takes_its_time_by_the_area_that_gets_it() -> None:
    """Boards of 20 x 140, 5720 mm of long and short points: 915200 mm2 of faces and edges; a bore
    of 25: walls 1570.8, gone from two faces 981.7. 0.2 and 0.4 h for each of 0.91579 m2."""
    assert steps_of(BARE)["coat-2"].hands == pytest.approx(
        (0.3 + 0.18316, 0.75 + 0.36632), abs=1e-4
    )


def test_the_first_screw_of_a_leaf_is_one_that_there_is() -> None:
    """Four screws have no middle one."""
    hinge = WHOLE.replace("screws = 3", "screws = 4")
    assert any("the middle one of each leaf first" in each for each in whole()["hinges"].do)
    four = steps_of(BARE + hinge)["hinges"].do
    assert any("one near the middle of each leaf first" in each for each in four)


def test_the_rings_scraps_come_off_the_sticks_first() -> None:
    """Where there is a cut plan: without one no sticks are known."""
    found = project(BARE)
    for sawn in (True, False):
        steps = planned(found, lay_out(found), sawn=sawn)
        ring = next(each for each in steps if each.id == "ring")
        assert ("sticks' right ends" in " ".join(ring.do)) == sawn


def test_bolts_are_freed_once_they_are_in() -> None:
    """1/4 in bolts: a hole 1/32 in wider; 25 mm of washer and 10 mm round it in the foam."""
    screws = WHOLE.replace('screw = "wood-screw-no-8"\nscrew_length = "30 mm"\n', "")
    bolts = screws.replace('fix = "screw"', 'fix = "bolt"\nbolt = "1/4 in"\nbolt_washer = "25 mm"')
    told = steps_of(BARE + bolts)
    figures = dict(told["hinges"].figures)
    assert figures["holes for the bolts, right through"] == "7.1 mm"  # 9/32 in
    assert figures["pockets in the foam about them"] == "35 mm"
    assert "Cut the foam away about each hole, for washer and socket." in told["hinges"].do
    assert any("uncut until the bolts are in" in each for each in told["foam"].do)
    assert not any("bolts" in each for each in steps_of(BARE + WHOLE)["foam"].do)


def test_what_is_turned_before_the_foam() -> None:
    """A tail nut takes 80 mm to turn; in foam of 51 mm with pockets of 57 mm there is no room.

    A shank of 5 1/8 in = 130 mm ends well behind wood and foam of 38 + 51 mm: nothing is asked for.
    """
    file = next(each for each in EXAMPLES if each.stem == "kombucha-too-tight")
    text = file.read_text()
    said = [each for each in steps_of(text)["foam"].do if each.startswith("Before this")]
    assert len(said) == 1
    assert "washer and shank nut of taps 1, 2, 3, 4 and 5; tailpiece of taps 1, 2" in said[0]
    long = steps_of(text.replace("shank-2-5-8-in", "shank-5-1-8-in"))
    assert not any(each.startswith("Before this") for each in long["foam"].do)


def test_the_order_of_assembly_is_kept_or_told(designs: list[Design]) -> None:
    """What must be there before another is of an earlier step, or that other's step says so."""
    told = 0
    for design in designs:
        places = {step.id: n for n, step in enumerate(design.steps)}
        for each in order_of(design.project, design.layout).steps:
            for other in each.before:
                late, soon = step_of(each.operation.id), step_of(other.id)
                if late in places and soon in places and places[late] > places[soon]:
                    before = [s for s in design.steps[: places[soon] + 1] if _says(s, each)]
                    assert before, (each.operation.id, other.id)
                    told += 1
    assert told


def _says(step: Step, each: Turned) -> bool:
    what = each.operation.does.split(" tap ")[0]
    return any(said.startswith("Before this") and what in said for said in step.do)


BITES = {
    "unplug": (cautions.UNPLUG, cautions.WALLS, cautions.LEAK, cautions.CHILDREN),
    "ring": (cautions.TABLE_SAW,), "cut": (cautions.TABLE_SAW, cautions.DUST),
    "bore": (cautions.HOLE_SAW, cautions.DUST), "sand": (cautions.DUST,),
    "lid-off": (cautions.LID, cautions.SPRING, cautions.CHILDREN),
    "lid-back": (cautions.LID, cautions.SPRING, cautions.CHILDREN),
    "lid-away": (cautions.LID, cautions.SPRING, cautions.CHILDREN, cautions.WALLS),
    "coat-1": (cautions.FUMES, cautions.RAGS), "foam": (cautions.FUMES, cautions.FOAM),
    "set": (cautions.WALLS, cautions.CHILDREN), "hinges": (cautions.WALLS, cautions.SPRING),
    "lid-on": (cautions.LID, cautions.FROM_INSIDE, cautions.TIP),
    "gas": (cautions.CYLINDER, cautions.REGULATOR, cautions.RELIEF, cautions.ROOM),
    "gas-test": (cautions.RELIEF,), "controller": (cautions.WALLS,),
    "clean": (cautions.CAUSTIC, cautions.RATED, cautions.SPEAR), "tray": (cautions.WALLS,),
    "water-test": (cautions.RELIEF, cautions.SPEAR),
    "buy": (cautions.ACID,), "faucets": (cautions.ACID,),
    "cold": (cautions.OUTLET, cautions.ROOM, cautions.FROM_INSIDE),
    "pour": (cautions.ROOM, cautions.ALIVE),
}  # fmt: skip


def test_cautions_stand_where_they_bite() -> None:
    told = whole()
    for name, wanted in BITES.items():
        for caution in wanted:
            assert caution in told[name].cautions, name


def test_cautions_stand_only_where_they_bite() -> None:
    """Not sprung, opened to less than upright, water-based, one gas: less is said."""
    plain = BARE + WHOLE.replace("spring = true", "spring = false").replace("95 deg", "70 deg")
    told = steps_of(plain + '[finish]\nkind = "polyurethane-water-based"\n')
    for name in ("lid-off", "lid-back", "lid-away", "hinges"):
        assert cautions.SPRING not in told[name].cautions, name
    assert not any("spring" in each for each in _done(told, "lid-off", "lid-back", "lid-away"))
    assert cautions.TIP not in told["lid-on"].cautions
    assert cautions.RAGS not in told["coat-1"].cautions
    assert cautions.NITROGEN not in told["gas"].cautions
    nitrogen = steps_of(BARE + WHOLE.replace("co2-5lb-aluminium", "nitrogen-20cuft-steel"))
    for name in IN_THE_AIR:
        assert (cautions.ROOM in told[name].cautions, cautions.NITROGEN in told[name].cautions) == (
            True,
            False,
        ), name
        assert cautions.ROOM not in nitrogen[name].cautions, name
        assert cautions.NITROGEN in nitrogen[name].cautions, name
    below = steps_of(BARE + WHOLE.replace("4 degC", "-1 degC"))["controller"]
    assert any("freezes" in each for each in below.cautions)
    assert not any("freezes" in each for each in told["controller"].cautions)
    bare = steps_of(BARE)
    assert cautions.NITROGEN in bare["gas"].cautions  # nobody knows which gas
    assert cautions.SPRING in bare["lid-off"].cautions  # nor whether it is sprung
    assert cautions.TIP in bare["lid-on"].cautions


def _done(told: dict[str, Step], *names: str) -> list[str]:
    return [said for name in names for said in told[name].do]


IN_THE_AIR = ("gas", "cold", "pour", "season")


def test_taking_off_says_what_is_in_the_air_and_whether_a_hinge_is_sprung() -> None:
    for spring, gas, caution in (
        ("true", "co2-5lb-aluminium", cautions.ROOM),
        ("false", "nitrogen-20cuft-steel", cautions.NITROGEN),
    ):
        text = WHOLE.replace("spring = true", f"spring = {spring}")
        found = project(BARE + text.replace("co2-5lb-aluminium", gas))
        off = take_off(found, lay_out(found))
        assert {cautions.ROOM, cautions.NITROGEN} & set(off.cautions) == {caution}
        assert (cautions.SPRING in off.cautions) == (spring == "true")
        assert any("lock its springs" in each for each in off.do) == (spring == "true")


def test_a_blend_is_counted_as_both_gases() -> None:
    """0.8 kg at 1.165 kg/m3 in 28.8 m3: 2.384 %; 20.95 % less that part is 20.45, and 30 % CO2."""
    blend = WHOLE.replace("co2-5lb-aluminium", "beer-gas-22cuft-aluminium")
    told = dict(steps_of(BARE + blend)["gas"].figures)
    assert told["if all 0.8 kg of blended gas leak into it, closed"] == (
        "20.4 % oxygen left, above the 19.5 % that work asks for; up to 7150 ppm of CO2, above the"
        " limit of 5000 ppm over a shift (OSHA, NIOSH)"
    )


def test_a_co2_gauge_is_not_trusted() -> None:
    """Over liquid the gauge stands still whatever leaks: the cylinder is weighed."""
    said = "A CO2 cylinder's gauge stands still until its liquid is gone"
    assert any(each.startswith(said) for each in whole()["day"].do)
    nitrogen = WHOLE.replace("co2-5lb-aluminium", "nitrogen-20cuft-steel")
    assert not any(each.startswith(said) for each in steps_of(BARE + nitrogen)["day"].do)


@pytest.mark.parametrize(("glue", "bare_hands"), [("pva", True), ("polyurethane", False)])
def test_each_glue_has_its_own_sentences(glue: str, bare_hands: bool) -> None:
    """Polyurethane gets no thin coat first, and is not for bare hands."""
    told = steps_of(BARE.replace("[taps]", f'glue = "{glue}"\n[taps]'))["glue-up"]
    assert any(each.startswith("Brush a thin coat") for each in told.do) == bare_hands
    assert (cautions.SKIN in told.cautions) != bare_hands


def test_epoxy_on_the_wood_is_not_for_bare_hands() -> None:
    told = steps_of(BARE + '[finish]\nkind = "epoxy-sealer"\n')
    assert cautions.SKIN in told["coat-1"].cautions
    assert cautions.SKIN not in steps_of(BARE)["coat-1"].cautions


def test_steel_strips_hold_before_magnets_pull() -> None:
    """An adhesive for wood and metal takes up to 7 days to cure; tape at the lip takes no time."""
    steel = WHOLE.replace('material = "wood"', 'material = "steel"')
    steel = steel.replace('hold = "sealant"', 'hold = "tape"')
    told = steps_of(BARE + steel)
    assert _waits(tuple(told.values()))["lid-on"]["cap"] >= 168
    assert cautions.STEEL in told["cut"].cautions and cautions.STEEL in told["cap"].cautions
    assert cautions.STEEL not in whole()["cut"].cautions


def test_a_screw_as_long_as_the_wood_is_refused() -> None:
    """20 mm of board and 18 of block: 42 mm of screw less 2 of leaf come out inside."""
    long = steps_of(BARE + WHOLE.replace('screw_length = "30 mm"', 'screw_length = "42 mm"'))
    assert any("take shorter ones" in each for each in long["hinges"].do)
    assert not any("none may come out" in each for each in long["hinges"].do)
    assert dict(long["hinges"].figures)["pilots"].split(", ")[1] == "right through"
    assert any("none may come out" in each for each in whole()["hinges"].do)


def test_a_leak_takes_more_of_thin_and_warm_air() -> None:
    """1600 m up the air has 83.52 kPa (ISO 2533, table), and it is 30 degC warm there.

    2.3 kg / (1.839 x 83.52 / 101.325 x 293.15 / 303.15 kg/m3) / 28.8 m3 = 54 480 ppm.
    """
    high = WHOLE.replace('temperature = "20 degC"', 'temperature = "30 degC"', 1)
    high = high.replace('altitude = "0 m"', 'altitude = "1600 m"')
    figures = dict(steps_of(BARE + high)["gas"].figures)
    assert figures["if all 2.3 kg of CO2 leak into it, closed"].startswith("54500 ppm")


def test_drinks_that_one_regulator_cannot_serve() -> None:
    """2.6, 3.5 and 3.8 volumes on one cylinder are three pressures, 2.6 and 2.7 are one."""
    taps = BARE.replace("count = 1", 'count = 3\nspacing = "150 mm"')

    def poured(*volumes: float) -> dict[str, Step]:
        rows = (
            f'[[pour]]\ntap = {n}\ndrink = "carbonated"\ncarbonation = "{each} vol"\n'
            for n, each in enumerate(volumes, 1)
        )
        return steps_of(taps + '[[vessel]]\nkind = "co2-5lb-aluminium"\n' + "".join(rows))

    told = poured(3.5, 2.6, 3.8)
    assert any("secondary regulator" in each and "CO2" in each for each in told["gas"].do)
    assert any("straight to its kegs" in each for each in told["gas"].do)
    assert any("the first one of a gas before the secondary" in each for each in told["pour"].do)
    for name in ("gas", "pour"):
        figures = [each for each in told[name].figures if each[0].startswith("CO2, pressure")]
        assert figures == [
            ("CO2, pressure 1", "carbonated, 2.6 volumes: tap 2"),
            ("CO2, pressure 2", "carbonated, 3.5 volumes: tap 1"),
            ("CO2, pressure 3", "carbonated, 3.8 volumes: tap 3"),
        ], name
    assert "from a tee behind the first regulator to each secondary one" in " ".join(
        [*told["gas"].do, *(value for _, value in told["gas"].figures)]
    )
    alike = poured(2.6, 2.7)
    assert not any("secondary" in said for step in alike.values() for said in step.do)
    assert dict(alike["gas"].figures)["CO2"] == "carbonated, 2.6 to 2.7 volumes: tap 1 and tap 2"
    named = BARE.replace("count = 1", 'count = 1\nnames = ["Dry cider"]')
    named += '[[pour]]\ntap = "dry CIDER"\ncarbonation = "2.6 vol"\n'
    assert dict(steps_of(named)["gas"].figures)["CO2"].endswith("tap 1, Dry cider")


TWO = BARE.replace("count = 1", 'count = 2\nspacing = "150 mm"')


def loaded(*drinks: str) -> tuple[dict[str, str], dict[str, str]]:
    """Gauges at the start of the gas test, and the pressures of the lines."""
    pours = "".join(f"[[pour]]\ntap = {n}\n{each}\n" for n, each in enumerate(drinks, 1) if each)
    gas = '[[vessel]]\nkind = "{}"\n'.format
    told = steps_of(TWO + pours + gas("co2-5lb-aluminium") + gas("nitrogen-22cuft-aluminium"))
    figures = dict(told["gas-test"].figures)
    gauges = {key: each for key, each in figures.items() if key.endswith("gauge at the start")}
    return gauges, dict(told["water-test"].figures)


def test_gas_and_lines_are_tested_as_high_as_their_drinks_are_served() -> None:
    """1 psi is 6.894757 kPa: 12 are 83, 25 are 172, 30 are 207, 40 are 276."""
    nitro = 'drink = "nitrogenated"\ngas = "nitrogen"'
    gauges, lines = loaded('carbonation = "2.8 vol"', nitro)
    assert gauges == {
        "CO2: gauge at the start": "207 kPa (30.0 psi)",
        "nitrogen: gauge at the start": "276 kPa (40.0 psi)",
    }
    assert lines == {"tap 1": "172 kPa (25 psi)", "tap 2": "276 kPa (40 psi)"}
    gauges, lines = loaded('carbonation = "2.7 vol"', 'drink = "still"\ngas = "nitrogen"')
    assert gauges == {"gauge at the start": "207 kPa (30.0 psi)"}
    assert lines == {"tap 1": "97 kPa (14 psi)", "tap 2": "83 kPa (12 psi)"}
    gauges, lines = loaded('carbonation = "2.4 vol"', "")  # the other may be nitrogenated
    assert gauges == {"gauge at the start": "276 kPa (40.0 psi)"}
    assert lines == {"tap 1": "97 kPa (14 psi)", "tap 2": "276 kPa (40 psi)"}


def test_no_drink_is_served_at_more_than_was_tested(designs: list[Design]) -> None:
    for each in designs:
        told = {step.id: step for step in each.steps}
        most = {
            name: max(float(psi) for _, said in told[name].figures for psi in PSI.findall(said))
            for name in ("gas-test", "water-test", "pour")
        }
        assert (
            most["pour"] <= most["water-test"] <= most["gas-test"] + 1
        )  # a warmer gauge shows more
        assert any("No rating of any part" in said for said in told["gas-test"].do)


PSI = re.compile(r"([0-9.]+) psi")


def test_a_frame_is_turned_over_where_its_cap_stands_out_over_the_foam() -> None:
    """Boards of 20 mm, strips of 20 and of 21; glued steel first has to hold, 7 days at most."""
    foam = '[foam]\nthickness = "25 mm"\nbelow_top = "6 mm"\n'
    cap = '[cap]\nmaterial = "{}"\nthickness = "{} mm"\nwidth = "{} mm"\n'.format
    flush = steps_of(BARE + foam + cap("steel", 1.5, 20))["foam"]
    assert flush.do[0].startswith("Lay the frame on a flat surface, bottom edge down")
    assert "cap" not in {each.step for each in flush.after}
    out = steps_of(BARE + foam + cap("steel", 1.5, 21))
    assert "turn the frame upside down, its strips on a flat surface" in out["foam"].do[0]
    assert out["foam"].do[1].startswith("Put packing of 6 mm between strips and panels")
    assert [each.wait[1] for each in out["foam"].after if each.step == "cap"] == [7 * 24]
    wood = list(steps_of(BARE + foam + cap("wood", 10, 21)).values())
    places = {step.id: place for place, step in enumerate(wood)}
    assert "turn the frame upside down" in wood[places["foam"]].do[0]
    assert places["cap"] < places["foam"]


def test_only_kegs_of_its_gas_are_led_to_the_manifold() -> None:
    """Coffee on nitrogen beside kombucha on CO2, and beside nothing else."""
    keg = '[[vessel]]\nkind = "keg-sixth-barrel"\ntap = {}\n'.format
    pour = '[[pour]]\ntap = {}\ndrink = "{}"\n'.format
    bar = '[manifold]\nlength = "200 mm"\nheight = "80 mm"\ndepth = "40 mm"\nside = "back"\n'
    gas = '[[vessel]]\nkind = "{}"\n'.format
    text = TWO + bar + gas("co2-5lb-aluminium") + gas("nitrogen-22cuft-aluminium")
    text += keg(1) + keg(2) + pour(1, "carbonated") + pour(2, "nitrogenated")
    said = " ".join(steps_of(text)["gas"].do)
    assert (
        "CO2 regulator to manifold, manifold to each CO2 keg, and from the regulator of each other"
        " gas straight to its kegs, past the manifold, with a tee where one regulator feeds more"
        " than it has outlets;"
    ) in said
    assert "manifold to each keg;" in " ".join(steps_of(BARE + WHOLE)["gas"].do)


def test_a_spear_is_told_of_where_a_keg_has_one() -> None:
    """A soda keg has none; while nobody says which kegs there are it is told."""
    for kind, there in (("keg-sixth-barrel", True), ("soda-keg-ball-lock-5gal", False)):
        told = steps_of(BARE + f'[[vessel]]\nkind = "{kind}"\n')
        assert [cautions.SPEAR in told[n].cautions for n in ("water-test", "clean")] == [there] * 2
    assert cautions.SPEAR in steps_of(BARE)["clean"].cautions


def test_the_missing_pressure_is_named_with_what_it_hangs_on() -> None:
    pour = '[[pour]]\ntap = 1\ncarbonation = "2.8 vol"\ntemperature = "4 degC"\n'
    told = steps_of(BARE + pour)["pour"]
    (kind, setting), (name, look_up) = told.figures
    assert (kind, setting) == (
        "carbonated, 2.8 to 3.5 volumes, as wheat beer",
        "CO2, 103 to 172 kPa (15 to 25 psi)",
    )
    assert name == "look up for tap 1"
    assert look_up.startswith("the pressure for 2.8 volumes at 4 degC, in a carbonation table")
    assert told.missing == ()
    assert steps_of(BARE + '[[pour]]\ntap = 1\ndrink = "carbonated"\n')["pour"].missing == (
        "pour.carbonation",
        "pour.temperature",
    )


def test_one_well_has_one_temperature() -> None:
    """Drinks that want 1 and 10 degC stand in one well: the set-point is the colder one's."""
    taps = BARE.replace("count = 1", 'count = 2\nspacing = "150 mm"')
    pour = '[[pour]]\ntap = {}\ncarbonation = "2.5 vol"\ntemperature = "{} degC"\n'
    apart = steps_of(taps + pour.format(1, 10) + pour.format(2, 1))["gas"].do
    assert any("want 1 degC to 10 degC, but one well" in each for each in apart)
    near = steps_of(taps + pour.format(1, 2) + pour.format(2, 1))["gas"].do
    assert not any("one well" in each for each in near)


def test_a_cylinder_is_tested_outside_and_never_hung_on_the_wood() -> None:
    told = whole()
    assert any("beside the freezer and chain it" in each for each in told["gas"].do)
    assert any("strap it upright to at least two full vessels" in each for each in told["cold"].do)
    assert cautions.CYLINDER in told["cold"].cautions
    kegs = steps_of(BARE + '[[vessel]]\nkind = "keg-sixth-barrel"\n')["cold"]
    assert not any("cylinder" in each for each in kegs.do)


def test_no_foam_is_told_of_where_there_is_none() -> None:
    for step in steps_of(BARE).values():
        for said in (*step.do, *(f"{name}: {value}" for name, value in step.figures)):
            assert re.search(r"\b[Ff]oam\b", said) is None, said


def test_without_a_cut_plan_no_saw_list_is_named() -> None:
    found = project(BARE)
    told = [planned(found, lay_out(found), sawn=sawn) for sawn in (True, False)]
    named = [["lists/saw-list.csv" in step.papers for step in each] for each in told]
    assert [any(each) for each in named] == [True, False]
    cut = next(step for step in told[1] if step.id == "cut")
    assert any("There is no saw list" in each for each in cut.do)
    assert not any("order of the saw list" in each for each in cut.do)


def test_a_dowels_middle_is_told_from_the_inner_edge() -> None:
    """As on the drawings. 20 mm: a miter of 28.28; in the middle of what 8 mm deep ones leave."""
    told = steps_of(BARE.replace("[taps]", 'corner = "dowel"\n[taps]'))["corners"]
    figures = dict(told.figures)
    deep = float(figures["depth in each board, square to the miter"].removesuffix(" mm"))
    middle = figures["from the inner edge to its middle, along the miter"]
    assert float(middle.removesuffix(" mm")) == pytest.approx((28.284 - deep) / 2, abs=0.06)


@pytest.mark.parametrize(("glue", "short"), [("pva", True), ("epoxy", False)])
def test_a_glue_that_is_open_for_minutes_closes_two_corners_at_a_time(
    glue: str, short: bool
) -> None:
    told = steps_of(BARE.replace("[taps]", f'glue = "{glue}"\n[taps]'))["glue-up"]
    assert any("two L's" in each for each in told.do) == short


def test_what_two_people_do_not_lift_is_hoisted() -> None:
    """A full half barrel weighs 72.2 kg: more than twice 23. A sixth barrel, 27.1 kg, is not."""
    kegs = '[[vessel]]\nkind = "keg-half-barrel"\n[[vessel]]\nkind = "keg-sixth-barrel"\n'
    said = [each for each in steps_of(BARE + kegs)["cold"].cautions if "lift" in each]
    assert said == [
        "More than two people lift at best, a hoist: half-barrel keg, 72.2 kg.",
        "More than one person lifts at best, two people or a hoist: sixth-barrel keg, 27.1 kg.",
    ]


def test_push_fit_line_takes_no_clamp() -> None:
    push = steps_of(BARE + WHOLE.replace('line = "3/16 in"', 'line = "eva-4mm"'))["lines"]
    assert any("no clamp" in each for each in push.do)
    assert not any("clamp it" in each for each in push.do)
    assert dict(push.figures)["tap 1"] == "4 mm double-wall beverage line"
    plain = whole()["lines"]
    assert any("clamp it" in each for each in plain.do)
    assert not any("no clamp" in each for each in plain.do)


def test_two_people_for_the_lid(designs: list[Design]) -> None:
    for design in designs:
        told = {step.id: step for step in design.steps}
        for name in ("lid-off", "dry-fit", "lid-back", "lid-away", "set", "lid-on", "cold"):
            assert told[name].people == 2
        assert take_off(design.project, design.layout).people == 2


def _sentences(design: Design) -> Iterator[str]:
    for step in (*design.steps, take_off(design.project, design.layout)):
        yield from (step.title, *step.do, *step.cautions, *step.sources)
        yield from (f"{name}: {value}" for name, value in step.figures)
        yield from (each.why for each in step.after if each.wait[1])


def test_sentences_are_whole_and_promise_nothing(designs: list[Design]) -> None:
    for design in designs:
        for said in _sentences(design):
            assert said.strip() == said != ""
            assert "  " not in said and "None" not in said and "nan" not in said
            assert re.search(r"\bsafe(ly|r)?\b", said.replace("foam-safe", "")) is None, said


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        ((1 / 3, 1.0), "20 to 60 min"), ((24.0, 24.0), "24 h"), ((168.0, 720.0), "7 to 30 days"),
        ((6.0, 24.0), "6 to 24 h"), ((0.5, 12.0), "0.5 to 12 h"), ((24.0, 24.0 * 7), "1 to 7 days"),
        ((2.5, 2.5), "2.5 h"), ((0.25, 0.25), "15 min"),
    ],
)  # fmt: skip
def test_spans_of_time(hours: tuple[float, float], said: str) -> None:
    assert time_text(hours) == said
