"""All plans of one collar, made once: drawings, lists, book and summary show the same ones."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from ...geometry.judge.evaluate import Evaluation
from ...geometry.judge.standing import Standing
from ...geometry.plan.cutting import STEP
from ...geometry.shape.layout import Layout
from ...params.project import Project
from ...params.reading import Source
from ..buy import Shopping, shopping
from ..foam_plan import Foam, plan_foam
from ..stock import Stock, plan_or_why
from ..work import READY, Work, plan_work


@dataclass(frozen=True, slots=True, kw_only=True)
class Collected:
    """A collar with what is planned for it.

    ``stock`` is the boards' cut plan; None where there is none, and then ``no_stock`` says what
    it waits for. ``foam`` is the plan of the foam's sheets, None where there is none to cut.
    """

    project: Project
    evaluation: Evaluation
    standing: Standing | None
    stock: Stock | None
    no_stock: str
    foam: Foam | None
    shopping: Shopping
    work: Work

    @property
    def layout(self) -> Layout:
        """Where everything is."""
        return self.evaluation.layout


def collect(
    project: Project,
    source: Source,
    evaluation: Evaluation,
    standing: Standing | None = None,
    start: date | None = None,
) -> Collected:
    """Plan everything that there is enough for; ``start`` is the date of the first day.

    Raises:
        BuildFileError: ``prices.csv`` beside the build file cannot be used.
    """
    fails = evaluation.verdict == "fail"
    stock, no_stock = plan_or_why((project, source, evaluation.layout))
    foam = plan_foam([(project, evaluation.layout)])
    lots = foam.plan.lots if foam else ()
    return Collected(
        project=project,
        evaluation=evaluation,
        standing=standing,
        stock=stock,
        no_stock=no_stock,
        foam=foam,
        shopping=shopping(project, source, evaluation.layout, (stock, no_stock), lots, fails=fails),
        work=plan_work(project, evaluation.layout, start, fails=fails, sawn=stock is not None),
    )


def lists_of(got: Collected, paper: str) -> dict[str, Any]:
    """Return the plans' figures for the summary: what is bought and how long it takes."""
    work, stock = got.work, got.stock
    ready = work.turn(READY).last_day
    on = work.date(ready)
    return {
        "paper": paper,
        "boards": None
        if stock is None
        else {
            "sticks": len(stock.plan.cuts),
            "bought_mm": round(stock.plan.bought * STEP, 2),
            "price": stock.plan.price / 100 if stock.priced else None,
            "proved": stock.plan.proved,
        },
        "materials": {
            "items": len(got.shopping.bill.costs),
            "total": got.shopping.bill.total if got.shopping.priced else None,
            "without_price": sum(cost.total is None for cost in got.shopping.bill.costs),
        },
        "work": {
            "steps": len(work.steps),
            "start": None if work.start is None else work.start.isoformat(),
            "ready_day": ready,
            "ready_date": None if on is None else on.isoformat(),
        },
    }
