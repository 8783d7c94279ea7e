"""What to buy for one collar, from its build file and layout.

``materials`` lists it; ``bill`` says what it comes to with a person's prices.
"""

from collections.abc import Iterator

from ....params.project import Project
from ...shape.layout import Layout
from ..cutting import Plan as BoardPlan
from ..sheets.panels import Lot
from .bill import Bill, Cost, bill
from .cold import cleaning, cold, protection
from .drinks import drinks
from .fixings import fixings
from .item import GROUPS, TOOLS, Item, Job, joined
from .lining import foam
from .lip import at_the_lip
from .surface import on_the_wood
from .taps import taps
from .tools import tools
from .untold import untold
from .wood import wood

__all__ = ["GROUPS", "TOOLS", "Bill", "Cost", "Item", "Job", "bill", "materials", "untold"]


def materials(
    project: Project,
    layout: Layout,
    boards: BoardPlan | None = None,
    sheets: Lot | None = None,
    *,
    stick_prices: bool = False,
) -> tuple[Item, ...]:
    """Return everything to buy, group by group; what does not apply is not there.

    Args:
        project: the build file.
        layout: the collar.
        boards: the boards' cut plan; without it their running length is told.
        sheets: the foam's cut plan with its seams; without it sheets are told by area.
        stick_prices: whether the cut plan's prices are the build file's.
    """
    return joined(_every(Job(project, layout, boards, sheets, stick_prices)))


def _every(job: Job) -> Iterator[Item]:
    yield from wood(job)
    yield from on_the_wood(job)
    yield from foam(job)
    yield from at_the_lip(job)
    yield from fixings(job)
    yield from taps(job)
    yield from drinks(job)
    yield from cold(job)
    yield from cleaning(job)
    yield from tools(job)
    yield from protection(job)
