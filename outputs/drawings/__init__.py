"""Dimensioned drawings: each is a function of the layout, made to a scale from the usual row.

All are pages of marks in mm, written as PDF and as SVG. Nothing is worked out again here: what
is drawn comes from the layout, and a dimension's text is the distance of the points it is between.
"""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from ...geometry.judge.evaluate import Evaluation
from ...geometry.judge.standing import Standing
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...params.project import Project
from ..foam_plan import Foam, plan_foam
from ..paper.marks import Page
from ..paper.pdf import write_pdf
from ..paper.svg import write_svg
from ..stock.planned import Stock
from ..stops import stop_if_asked
from ..templates import hole_names
from . import flat, general, inside, swing, tap, well
from .board_plan import board_plans
from .cuts import any_tap
from .draft import Draft
from .foam_plan import foam_plans
from .frame import Drawing, Job, checked, papers_for, sheet

FOLDER = "drawings"


def drawings(
    project: Project,
    layout: Layout,
    standing: Standing | None = None,
    stock: Stock | None = None,
    foam: Foam | None = None,
) -> Iterator[Drawing]:
    """Yield the drawings that there is enough for, in the order of their sheets.

    ``foam`` is the plan of the foam's sheets where it is there already; else it is made.
    """
    names = hole_names(layout)

    def arrangement(draft: Draft, _: float) -> None:
        general.arrangement(layout, draft)

    yield Drawing("general-arrangement", "General arrangement", arrangement)
    shown = any_tap(layout)
    if shown is not None:
        says = f"Section through tap {shown.number}"
        yield Drawing("tap-section", says, partial(tap.section, layout, shown))
    tightest = tap.tightest(project, layout)
    if tightest is not None:
        says = f"Faucet wrench at tap {tightest[0].number}"
        yield Drawing("wrench", says, partial(tap.wrench, layout, *tightest))
    if swing.can_swing(project, layout):
        yield Drawing("lid-swing", "Lid swing", partial(swing.swing, project, layout))
    for part in (*layout.boards, *layout.covers):
        yield _part(layout, part, names)
    if stock is not None:
        yield from board_plans(stock)
    for number, rows in enumerate(flat.foam_sheets(layout) if layout.panels else (), 1):
        name = "foam" if number == 1 else f"foam-{number}"
        says = ", ".join(panel.side for row in rows for panel in row)
        yield Drawing(name, f"Foam: {says}", partial(flat.foam, layout, rows, names))
    foam = foam or plan_foam([(project, layout)])
    if foam is not None:
        yield from foam_plans(foam)
    if layout.manifold is not None:
        make = partial(inside.manifold, project, layout, standing)
        yield Drawing("manifold", "Manifold and its hoses", make)
    if standing is not None and standing.places and layout.inside.well is not None:
        make = partial(well.well, project, layout, standing)
        yield Drawing("well", "Well with its vessels", make)


def _part(layout: Layout, part: Board, names: dict[str, str]) -> Drawing:
    says = f"{part.side.capitalize()} {part.kind}"
    return Drawing(part.name, says, partial(flat.board, layout, part, names))


def pages(
    project: Project,
    evaluation: Evaluation,
    *,
    paper: str | None,
    sha256: str,
    warnings: tuple[str, ...] = (),
    standing: Standing | None = None,
    stock: Stock | None = None,
    foam: Foam | None = None,
) -> dict[str, tuple[str, Page]]:
    """Return every drawing by its name: what its title says, and its page."""
    job = Job(
        title=project.title,
        sha256=sha256,
        show=project.show,
        checked=checked(evaluation),
        warnings=warnings,
    )
    sheets = tuple(drawings(project, evaluation.layout, standing, stock, foam))
    on = papers_for(paper, project.show)
    return {
        each.name: (each.says, sheet(each, on, job, number, len(sheets)))
        for number, each in enumerate(sheets, 1)
    }


def write(
    project: Project,
    evaluation: Evaluation,
    root: Path,
    *,
    paper: str | None,
    sha256: str,
    warnings: tuple[str, ...] = (),
    standing: Standing | None = None,
    stock: Stock | None = None,
    foam: Foam | None = None,
) -> list[str]:
    """Write every drawing as PDF and SVG.

    Args:
        project: the build file as read.
        evaluation: its layout, and what the checks say.
        root: the folder that ``drawings/`` goes in.
        paper: one of ``paper.PAPER_NAMES``, None for what goes with ``show``; see
            ``papers_for``.
        sha256: the build file's hash.
        warnings: one line for each *must* that fails, printed on every sheet.
        standing: where the vessels stand, if that is known.
        stock: the boards' cut plan, if there is one.
        foam: the plan of the foam's sheets, where it is there already.

    Returns:
        The files written, relative to ``root``.
    """
    folder = root / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    made = pages(
        project,
        evaluation,
        paper=paper,
        sha256=sha256,
        warnings=warnings,
        standing=standing,
        stock=stock,
        foam=foam,
    )
    written: list[str] = []
    for name, (says, page) in made.items():
        stop_if_asked()
        title = f"{says}: {project.title}"
        write_pdf([page], folder / f"{name}.pdf", title, f"build file {sha256}")
        write_svg(page, folder / f"{name}.svg", title)
        written += [f"{FOLDER}/{name}.pdf", f"{FOLDER}/{name}.svg"]
    return written
