"""``stock --draw``: the plans as drawings in one file, read back before it is handed over."""

import os
import tempfile
from collections.abc import Sequence
from pathlib import Path

from ...geometry.judge.evaluate import Evaluation
from ...params.problem import Problem
from ..drawings.frame import Drawing, Job, checked, papers_for, sheet
from ..in_print import in_print
from ..new.keeping import Keeper, unfit
from ..paper.marks import Page
from ..paper.pdf import write_pdf
from ..paper.svg import write_svg
from ..verify import ReadBackError
from .planned import Read, Stock

ENDS = (".pdf", ".svg")
TITLE = "Cut plan"


def refused(file: Path, *, overwrite: bool) -> Problem | None:
    """Return why drawings cannot be written to a path, or None."""
    said, plain = unfit(file), ""
    if said is None and file.suffix.lower() not in ENDS:
        said = "a name that ends in neither .pdf nor .svg", "the file to draw, such as boards.pdf"
    if said is None and os.path.lexists(file) and not overwrite:
        said = "a file that is there already", "a new name, or --overwrite"
        plain = "there is such a file already; give a new name, or --overwrite"
    if said is None:
        return None
    return Problem(key="--draw", read=f"{said[0]}: {file}", wanted=said[1], plain=plain)


def too_many(file: Path, drawings: Sequence[Drawing]) -> Problem | None:
    """Return that an SVG holds one sheet only, where there are more."""
    if file.suffix.lower() != ".svg" or len(drawings) == 1:
        return None
    wanted = "a name that ends in .pdf: an SVG holds one sheet"
    return Problem(key="--draw", read=f"an SVG for {len(drawings)} sheets", wanted=wanted)


def draw(
    file: Path,
    drawings: Sequence[Drawing],
    stock: Stock,
    read: Sequence[Read],
    judged: Sequence[Evaluation],
) -> int:
    """Write the drawings, whole or not at all, and return the number of sheets.

    Args:
        file: a PDF, or an SVG for a single drawing.
        drawings: the sheets.
        stock: the plan that they show.
        read: its collars.
        judged: what the checks say of each.

    Raises:
        ReadBackError: a sheet does not read back right; nothing was handed over.
        OSError: it cannot be written.
    """
    job = _job(stock, read, judged)
    papers = papers_for(None, job.show)
    made = [
        sheet(drawing, papers, job, number, len(drawings))
        for number, drawing in enumerate(drawings, 1)
    ]
    keeper = Keeper(file, fresh=not os.path.lexists(file))
    keeper.sweep()

    def fill(part: Path) -> None:
        if file.suffix.lower() == ".svg":
            write_svg(made[0], part, f"{TITLE}: {job.title}")
        else:
            write_pdf(made, part, f"{TITLE}: {job.title}", f"from {job.sha256}")
        found = _faults(part, file, made, job)
        if found:
            raise ReadBackError(found)

    keeper.make(fill)
    return len(made)


def _job(stock: Stock, read: Sequence[Read], judged: Sequence[Evaluation]) -> Job:
    """Return what stands in the title block; of several collars their names and their number."""
    several = len(read) > 1
    warnings: list[str] = []
    for name, (project, _, _), evaluation in zip(stock.names, read, judged, strict=True):
        failing = (f for f in evaluation.findings if f.verdict == "fail" and f.weight == "must")
        said = in_print(project, failing)
        warnings += [f"{name} {each}" if several else each for each in said]
    return Job(
        title=", ".join(stock.names) if several else stock.project.title,
        sha256=f"{len(read)} files" if several else read[0][1].sha256,
        show=stock.project.show,
        checked=checked(*judged),
        warnings=tuple(warnings),
    )


def _faults(part: Path, file: Path, made: Sequence[Page], job: Job) -> list[str]:
    """Read what was written: each sheet by its dimensions, an SVG against its sheet as PDF."""
    from ..readback import drawing, svg

    sizes = [(paper.width, paper.height) for paper in papers_for(None, job.show)]
    with tempfile.TemporaryDirectory() as folder:
        pdf = part
        if file.suffix.lower() == ".svg":
            pdf = Path(folder) / "sheet.pdf"
            write_pdf(made, pdf, TITLE)
        found = svg.compare(part, pdf) if pdf is not part else []
        for number in range(len(made)):
            found += drawing.compare(
                pdf,
                show=job.show,
                sizes=sizes,
                title=job.title,
                sha256=job.sha256,
                count=len(made),
                failures=len(job.warnings),
                sheet=number,
                sheets=len(made),
            )
    return [each.replace(part.name, file.name) for each in found]
