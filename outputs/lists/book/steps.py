"""The book's chapters about the work: every step to tick off, the plan of days, the sources."""

from collections.abc import Iterator

from ....geometry.plan.work import FIRST, Step
from ...work import Work, before_text, begun_text, hands_text, missing_text
from ..collected import Collected
from ..table import Table
from .blocks import Block, Caution, Facts, Heading, Listing, Tables, Text, Tick, listed
from .pictures import Pictures

DRAWN = "drawings/"


def order_of_work(got: Collected, pictures: Pictures) -> Iterator[Block]:
    """Yield the steps in their order, each with its drawings where they are first needed."""
    work = got.work
    yield Heading("Order of work", 1)
    yield Caution("CAUTION", (FIRST,))
    if begun := begun_text(work):
        yield Text(begun)
    phase = ""
    for number, step in enumerate(work.steps, 1):
        if step.phase != phase:
            phase = step.phase
            yield Heading(_capital(phase), 2)
        yield Heading(f"{number}. {step.title}", 3)
        yield Text(f"{'; '.join(_when(work, step))}.", small=True, stay=True)
        yield from _step(step, pictures)


def assembly(tables: Tables) -> Iterator[Block]:
    """Yield in which order what is turned can be turned, fastener by fastener."""
    yield Heading("Order of assembly", 1)
    yield from listed(tables, "assembly")


def taking_off(got: Collected, tables: Tables, pictures: Pictures) -> Iterator[Block]:
    """Yield how the collar comes off again."""
    yield Heading("Taking the collar off again", 1)
    yield from _step(got.work.off, pictures)
    yield from listed(tables, "taking-off")


def time_plan(tables: Tables) -> Iterator[Block]:
    """Yield the plan of days."""
    yield Heading("Time plan", 1)
    yield from listed(tables, "time-plan")


def sources(got: Collected) -> Iterator[Block]:
    """Yield what the numbers of the steps rest on."""
    found: dict[str, list[str]] = {}
    for number, step in enumerate(got.work.steps, 1):
        for each in step.sources:
            found.setdefault(each, []).append(str(number))
    if found:
        yield Heading("Where the numbers come from", 1)
        yield Listing(
            Table(
                name="sources",
                title="Sources of the steps' numbers",
                header=("Steps", "Source"),
                rows=tuple((", ".join(steps), said) for said, steps in found.items()),
            )
        )


def _when(work: Work, step: Step) -> Iterator[str]:
    turn = work.turn(step.id)
    yield _capital(work.day_text(turn.first_day))
    yield f"{hands_text(step)} at the bench"
    if step.people > 1:
        yield f"{step.people} people"
    yield from before_text(work, step)


def _step(step: Step, pictures: Pictures) -> Iterator[Block]:
    if step.cautions:
        yield Caution("CAUTION", step.cautions)
    for said in step.do:
        yield Tick(said)
    if step.figures:
        yield Facts(step.figures)
    for said in missing_text(step):
        yield Text(said, small=True)
    figures = [
        figure
        for paper in step.papers
        if paper.startswith(DRAWN)
        for figure in pictures.take(*pictures.of(paper.removeprefix(DRAWN).removesuffix(".pdf")))
    ]
    papers = [said for paper in step.papers if (said := _paper(paper, pictures))]
    if papers:
        yield Text(f"At hand: {', '.join(papers)}.", small=True)
    yield from figures


def _paper(paper: str, pictures: Pictures) -> str:
    """Return a paper's name, a drawing's with its figure; empty for one that is not drawn."""
    if not paper.startswith(DRAWN):
        return paper
    number = pictures.numbers.get(paper.removeprefix(DRAWN).removesuffix(".pdf"))
    return f"figure {number} ({paper})" if number else ""


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
