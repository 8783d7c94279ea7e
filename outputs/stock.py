"""``stock``: the cut plan of the boards of one or several collars, as text or as data."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Any

from ..geometry.plan.cutting import STEP, Cut, NoPlanError, Plan, cut_plan, faults
from ..geometry.plan.cutting.boards import Asked, asked, section
from ..geometry.shape.layout import Layout
from ..params.problem import BuildFileError, Problem, visible
from ..params.project import Project
from ..params.reading import Source
from ..params.units import both_text, length_text
from .summary import FORMAT
from .terminal import fitted

LENGTHS = {"in": ("6 ft", "8 ft", "10 ft", "12 ft"), "mm": ("1800 mm", "2400 mm", "3000 mm")}
"""What yards usually have; common practice, no source. Examples of what to enter, never taken."""

Read = tuple[Project, Source, Layout]


@dataclass(frozen=True, slots=True)
class Stock:
    """The plan with what it is for, and how its collars are called."""

    asked: Asked
    plan: Plan
    names: tuple[str, ...]
    project: Project

    def name(self, piece: int) -> str:
        """Return a board's name, with its collar's where there are several."""
        number, board = self.asked.boards[piece]
        return f"{self.names[number]} {board.name}" if len(self.names) > 1 else board.name


def plan_stock(read: Sequence[Read]) -> Stock:
    """Plan the boards of all collars together; the first file's ``[stock]`` counts.

    Raises:
        BuildFileError: The sticks are not given or do not suffice, or the files do not agree.
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
        plan = cut_plan(what.job)
    except NoPlanError as error:
        raise BuildFileError([source.place(_too_little(what, error, project))]) from None
    wrong = list(faults(what.job, plan))
    if wrong:  # never seen; a plan that is wrong must not reach a saw
        raise AssertionError("; ".join(wrong))
    return Stock(what, plan, names, project)


def _problems(read: Sequence[Read]) -> Iterator[Problem]:
    """Yield what keeps the collars from being planned, file by file."""
    project, source, layout = read[0]
    stock = project.stock
    if stock is None or not (stock.length or stock.owned):
        lengths = LENGTHS[project.show]
        example = "\n".join(f'[[stock.length]]\nlength = "{length}"' for length in lengths)
        wanted = "the lengths that your shop sells, and their prices if you want the least cost"
        yield source.place(
            Problem(key="stock.length", read="nothing", wanted=wanted, example=example)
        )
        return
    priced = [each.price is not None for each in stock.length]
    if any(priced) and not all(priced):
        wanted = "a price here too: either each length on sale has one, or none"
        key = f"stock.length[{priced.index(False) + 1}].price"
        yield source.place(Problem(key=key, read="nothing", wanted=wanted, example="price = 12.50"))
    for other, there, placed in read[1:]:
        if other.stock is not None and other.stock != stock:
            wanted = f"no [stock], or the one of {visible(source.file)}: collars share their sticks"
            yield there.place(Problem(key="stock", read="another [stock]", wanted=wanted))
        one, two = layout.boards[0], placed.boards[0]
        if section(one) != section(two):
            wanted = (
                f"boards of {_size(one, project)}, as in {visible(source.file)}:"
                " plan these collars one by one"
            )
            read_there = f"boards of {_size(two, project)}"
            yield there.place(Problem(key="board", read=read_there, wanted=wanted))
        elif project.board.species != other.board.species:
            wanted = f"the species of {visible(source.file)}: plan these collars one by one"
            read_there = repr(other.board.species) if other.board.species else "nothing"
            yield there.place(Problem(key="board.species", read=read_there, wanted=wanted))


def _size(board: Any, project: Project) -> str:
    return f"{both_text(board.thickness, project.show)} x {both_text(board.width, project.show)}"


def _too_little(what: Asked, error: NoPlanError, project: Project) -> Problem:
    longest = both_text(max(error.longest, 0) * STEP, project.show)
    if error.piece is None:
        wanted = "more or longer sticks: not all boards come out of these"
        return Problem(key="stock", read=f"sticks of up to {longest} clear", wanted=wanted)
    long = both_text(error.piece.length * STEP, project.show)
    both = both_text((error.piece.length + 2 * what.job.trim) * STEP, project.show)
    wanted = f"a stick of at least {both}: {error.piece.name} is {long} long"
    read = f"at most {longest} of clear wood between the trims"
    return Problem(key="stock.length", read=read, wanted=wanted)


# --- cuts -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Row:
    """A piece on its stick: where its long points lie, mm, and the numbers of its two cuts.

    ``miters`` are those of its ends as they lie, from the stick's left, deg.
    """

    piece: int
    turned: bool
    miters: tuple[float, float]
    start: float
    end: float
    cuts: tuple[int, int]


def _rows(stock: Stock, cut: Cut, number: int) -> list[_Row]:
    """Number a stick's cuts from ``number`` on; two square ends that meet share one."""
    rows: list[_Row] = []
    pieces = stock.asked.job.pieces
    for placed in cut.pieces:
        board, piece = stock.asked.boards[placed.piece][1], pieces[placed.piece]
        left_deg, right_deg = board.miter_left_deg, board.miter_right_deg
        miters = (right_deg, left_deg) if placed.turned else (left_deg, right_deg)
        start, end = placed.start * STEP, (placed.start + piece.length) * STEP
        shared = False
        if rows and rows[-1].miters[1] == 0 == miters[0]:
            cut_between = pieces[rows[-1].piece].cut_behind(rows[-1].turned) * STEP
            shared = abs(rows[-1].end + cut_between - start) < STEP / 2
        left = number - 1 if shared else number
        cuts = (left, left + 1)
        rows.append(_Row(placed.piece, placed.turned, miters, start, end, cuts))
        number = left + 2
    return rows


def _offcut(stock: Stock, cut: Cut) -> float:
    """Return what is left at the right end of a stick behind its last cut, mm, trim included."""
    placed = cut.pieces[-1]
    last = stock.asked.job.pieces[placed.piece]
    behind = placed.start + last.length + last.cut_behind(placed.turned)
    return max(0, cut.stick.length - behind) * STEP


# --- what is told ---------------------------------------------------------------------------------


def stock_text(stock: Stock) -> str:
    """Return the plan stick by stick, what it comes to, and what is proved of it."""
    show, plan = stock.project.show, stock.plan
    sticks = len(plan.cuts)
    count = len(stock.asked.boards)
    lines = fitted(
        f"Cut plan: {count} boards of {_size(stock.asked.boards[0][1], stock.project)}"
        f" from {sticks} stick{'' if sticks == 1 else 's'}"
    )
    lines += fitted(
        "Every board lies flat with its outer face up, left end first, and none is turned over;"
        " places are long points on the outer face, from the stick's left end. Each end is a cut"
        " of its own: between two mitered ends a wedge falls out. Measure each board from the"
        " fresh end, and set the saw on a scrap first. Guards on, hands clear of the blade: follow"
        " the saw's own manual."
    )
    number = 1
    for place, cut in enumerate(plan.cuts, 1):
        lines += ["", *fitted(_stick(stock, cut, place))]
        table = [("cuts", "board", "from", "to", "long point", "tilt left, right")]
        for row in _rows(stock, cut, number):
            board = stock.asked.boards[row.piece][1]
            table.append(
                (
                    f"{row.cuts[0]}, {row.cuts[1]}",
                    stock.name(row.piece) + (" (turned end for end)" if row.turned else ""),
                    length_text(row.start, show),
                    length_text(row.end, show),
                    length_text(board.long_point, show),
                    f"{row.miters[0]:.1f}, {row.miters[1]:.1f} deg",
                )
            )
            number = row.cuts[1] + 1
        wide = [max(len(row[k]) for row in table) for k in range(len(table[0]))]
        lines += [
            "  " + "  ".join(word.ljust(w) for word, w in zip(row, wide, strict=True)).rstrip()
            for row in table
        ]
        lines.append(f"  left at the right end: {both_text(_offcut(stock, cut), show)}")
    lines += ["", *(line for said in _sums(stock) for line in fitted(said))]
    return "\n".join(lines) + "\n"


def _stick(stock: Stock, cut: Cut, place: int) -> str:
    length = both_text(cut.stick.length * STEP, stock.project.show)
    if cut.owned is not None:
        return f"Stick {place}: owned, [[stock.owned]] {cut.owned + 1}, {length}"
    price = f", {cut.stick.price / 100:.2f}" if _priced(stock) else ""  # type: ignore[union-attr]
    return f"Stick {place}: to buy, {length}{price}"


def _priced(stock: Stock) -> bool:
    return any(each.price for each in stock.asked.job.on_sale)


def _sums(stock: Stock) -> Iterator[str]:
    plan, job, show = stock.plan, stock.asked.job, stock.project.show
    bought = sum(cut.owned is None for cut in plan.cuts)
    total = f", {plan.price / 100:.2f}" if _priced(stock) else ""
    sticks = f"{bought} stick{'' if bought == 1 else 's'}"
    yield (
        f"To buy: {sticks}, {both_text(plan.bought * STEP, show)} in all{total}."
        if bought
        else ("Nothing to buy: the sticks that are there suffice.")
    )
    yield from proof(stock)
    if job.matched:
        yield (
            f"Matched grain: {plan.runs} run{'' if plan.runs == 1 else 's'} of boards in order;"
            " the grain does not run on where one ends."
        )
    kerf = stock.project.stock.kerf if stock.project.stock else 0.0
    yield (
        f"Counted with: kerf {both_text(kerf, show)} (kerf / cos of the tilt along the stick), trim"
        f" {both_text(job.trim * STEP, show)} at each end of a stick, lengths in 0.01 mm."
    )
    if stock.asked.left_out:
        names = ", ".join(
            f"{stock.names[k]} {board.name}" if len(stock.names) > 1 else board.name
            for k, board in stock.asked.left_out
        )
        yield f"Not in this plan, as their section is another: {names}."


def proof(stock: Stock) -> Iterator[str]:
    """Yield what is proved, in words."""
    plan, show = stock.plan, stock.project.show
    given = " with the grain matched round as many corners" if stock.asked.job.matched else ""
    if not plan.runs_proved:
        yield "Not proved: whether the grain could run on round more corners."
    first = plan.price if _priced(stock) else plan.bought
    least = f"{plan.least / 100:.2f}" if _priced(stock) else both_text(plan.least * STEP, show)
    less = "costs less" if _priced(stock) else "buys less length"
    if plan.first_proved:
        yield f"Proved: no plan{given} {less}."
    else:
        share = 100 * (first - plan.least) / max(plan.least, 1)
        yield (
            f"Not proved to be the best: no plan {less} than {least}, which is"
            f" {share:.1f} % below this one at most."
        )
    if plan.proved:
        then = "buys less length at that cost, or " if _priced(stock) else ""
        yield f"Proved: none {then}takes fewer sticks for it."


def stock_data(stock: Stock) -> dict[str, Any]:
    """Return the plan as JSON-ready data; lengths in mm, prices as given."""
    plan, priced = stock.plan, _priced(stock)
    sticks: list[dict[str, Any]] = []
    number = 1
    for cut in plan.cuts:
        rows = _rows(stock, cut, number)
        number = rows[-1].cuts[1] + 1
        price = getattr(cut.stick, "price", 0) / 100
        sticks.append(
            {
                "length_mm": round(cut.stick.length * STEP, 2),
                "owned": None if cut.owned is None else cut.owned + 1,
                "price": price if priced and cut.owned is None else None,
                "boards": [
                    {
                        "collar": stock.names[stock.asked.boards[row.piece][0]],
                        "name": stock.asked.boards[row.piece][1].name,
                        "from_mm": round(row.start, 2),
                        "to_mm": round(row.end, 2),
                        "turned": row.turned,
                        "miter_left_deg": row.miters[0],
                        "miter_right_deg": row.miters[1],
                        "cuts": list(row.cuts),
                    }
                    for row in rows
                ],
                "left_mm": round(_offcut(stock, cut), 2),
            }
        )
    return {
        "format": FORMAT,
        "sticks": sticks,
        "bought_mm": round(plan.bought * STEP, 2),
        "price": plan.price / 100 if priced else None,
        "runs": plan.runs if stock.asked.job.matched else None,
        "least": plan.least / 100 if priced else round(plan.least * STEP, 2),
        "least_unit": "price" if priced else "mm",
        "proved": {
            "first": plan.first_proved,
            "all": plan.proved,
            "runs": plan.runs_proved if stock.asked.job.matched else None,
        },
        "left_out": [
            {"collar": stock.names[k], "name": board.name} for k, board in stock.asked.left_out
        ],
    }
