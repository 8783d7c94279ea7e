"""The boards of one or several collars, planned together, or why they cannot be."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from ...geometry.plan.cutting import STEP, NoPlanError, OnSale, Plan, cut_plan, faults
from ...geometry.plan.cutting.boards import Asked, asked, section
from ...geometry.plan.cutting.saw_list import SawList, saw_list
from ...geometry.plan.cutting.spaced import spaced
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...params.problem import BuildFileError, Problem, visible
from ...params.project import Project
from ...params.reading import Source
from ...params.units import both_text

Read = tuple[Project, Source, Layout]


@dataclass(frozen=True, slots=True)
class Stock:
    """The plan with what it is for, how it is sawn, and how its collars are called."""

    asked: Asked
    plan: Plan
    saw: SawList
    names: tuple[str, ...]
    project: Project
    passed_over: tuple[str, ...] = ()
    """Collars with a [stock] of their own, which does not count."""

    @property
    def priced(self) -> bool:
        """Whether lengths on sale have prices."""
        return any(each.price for each in self.asked.job.on_sale)

    def name(self, piece: int) -> str:
        """Return a board's name, with its collar's where there are several."""
        number, board = self.asked.boards[piece]
        return f"{self.names[number]} {board.name}" if len(self.names) > 1 else board.name


def plan_stock(read: Sequence[Read]) -> Stock:
    """Plan the boards of all collars together; the first file's ``[stock]`` alone counts.

    Raises:
        BuildFileError: The sticks do not suffice, or the files do not agree.
    """
    problems = list(_problems(read))
    if problems:
        raise BuildFileError(problems)
    project, source, _ = read[0]
    names = tuple(visible(PurePath(each.file).stem) for _, each, _ in read)
    if len(set(names)) < len(names):
        names = tuple(f"{number}: {name}" for number, name in enumerate(names, 1))
    what = asked(project, [layout for _, _, layout in read])
    try:
        plan = spaced(what.job, cut_plan(what.job))
    except NoPlanError as error:
        raise BuildFileError([source.place(_too_little(what, error, project))]) from None
    except ArithmeticError as error:  # of the solver; never seen
        wanted = "a plan: give fewer collars at once, or fewer lengths on sale"
        problem = Problem(key="stock", read=f"no end: {error}", wanted=wanted)
        raise BuildFileError([source.place(problem)]) from None
    wrong = list(faults(what.job, plan))
    if wrong:  # never seen; a plan that is wrong must not reach a saw
        raise AssertionError("; ".join(wrong))
    passed_over = tuple(
        name
        for name, (other, _, _) in zip(names, read, strict=True)
        if other.stock not in (None, project.stock)
    )
    return Stock(what, plan, saw_list(what, plan), names, project, passed_over)


def plan_or_why(read: Read) -> tuple[Stock | None, str]:
    """Return one collar's cut plan; or None, and what it waits for."""
    try:
        return plan_stock([read]), ""
    except BuildFileError as error:
        return None, "; ".join(
            f"{each.key}: read {each.read}, expected {each.wanted}" for each in error.problems
        )


def _problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield what keeps the collars from being planned, file by file."""
    project, source, layout = read[0]
    stock = project.stock
    priced = [each.price is not None for each in stock.length] if stock else []
    if any(priced) and not all(priced):
        wanted = "a price here too: either each length on sale has one, or none"
        key = f"stock.length[{priced.index(False) + 1}].price"
        yield source.place(Problem(key=key, read="nothing", wanted=wanted, example="price = 12.50"))
    for other, there, placed in read[1:]:
        one, two = layout.boards[0], placed.boards[0]
        if section(one) != section(two):
            wanted = (
                f"boards of {size_text(one, project)}, as in {visible(source.file)}:"
                " plan these collars one by one"
            )
            read_there = f"boards of {size_text(two, project)}"
            yield there.place(Problem(key="board", read=read_there, wanted=wanted))
        elif project.board.species != other.board.species:
            wanted = f"the species of {visible(source.file)}: plan these collars one by one"
            read_there = repr(other.board.species) if other.board.species else "nothing"
            yield there.place(Problem(key="board.species", read=read_there, wanted=wanted))


def size_text(board: Board, project: Project) -> str:
    """Return a board's section: thickness x width, in both units."""
    return f"{both_text(board.thickness, project.show)} x {both_text(board.width, project.show)}"


def _too_little(what: Asked, error: NoPlanError, project: Project) -> Problem:
    longest = both_text(max(error.longest, 0) * STEP, project.show)
    if error.piece is None:
        wanted = f"more or longer sticks: {_lacking(what, project)}"
        return Problem(key="stock", read=f"sticks of up to {longest} clear", wanted=wanted)
    long = both_text(error.piece.length * STEP, project.show)
    both = both_text((error.piece.length + 2 * what.job.trim) * STEP, project.show)
    wanted = f"a stick of at least {both}: {error.piece.name} is {long} long"
    read = f"at most {longest} of clear wood between the trims"
    return Problem(key="stock.length", read=read, wanted=wanted)


def _lacking(what: Asked, project: Project) -> str:
    """Say which boards find no place, and what sticks would do for them.

    Those are what the best plan buys where sticks of each board's own length can be had.
    """
    job = what.job
    lengths = sorted({each.length + 2 * job.trim for each in job.pieces})
    plan = cut_plan(replace(job, on_sale=tuple(OnSale(each) for each in lengths), matched=False))
    said: list[str] = []
    for cut in plan.cuts:
        if cut.owned is None:
            names = " and ".join(job.pieces[each.piece].name for each in cut.pieces)
            length = both_text(cut.stick.length * STEP, project.show)
            said.append(f"one of at least {length} without flaws for {names}")
    return f"not all boards come out of these; add {', '.join(said)}"
