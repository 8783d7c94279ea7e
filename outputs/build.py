"""``build``: from a build file to a folder of model, cut files, templates, drawings, summary."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Literal

from ..geometry.judge.answer import answer
from ..geometry.judge.evaluate import Evaluation
from ..geometry.judge.packed import Question
from ..geometry.judge.zones import zones
from ..params.project import Project
from ..params.reading import Source
from . import cut, drawings, model, templates
from .drawings.frame import papers_for
from .in_print import in_print
from .lists import files as lists
from .lists.book import book_paper
from .lists.book.blocks import Tables
from .lists.collected import Collected, collect, lists_of
from .lists.every import every_table
from .paper.printed import Printed
from .place import MANIFEST, fresh_tree
from .stops import stop_if_asked, undisturbed
from .summary import dumps, file_entry, halos_of, printed_entry, summary
from .verify import verify
from .verify.lists import wanted

KINDS = ("model", "cut", "templates", "drawings", "lists")
Kind = Literal["model", "cut", "templates", "drawings", "lists"]
HELD_BACK: frozenset[str] = frozenset({"cut", "templates"})
"""What is not written while a *must* fails, unless asked for."""

PLANNED: frozenset[str] = frozenset({"drawings", "lists"})
"""What shows how boards and foam are cut, and so needs the plans."""

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """How a build is to be written. ``paper`` is None for what goes with ``show``."""

    only: tuple[Kind, ...] = KINDS
    paper: str | None = None
    dxf_units: Literal["mm", "in"] = "mm"
    dxf_version: Literal["R2000", "R12"] = "R2000"
    despite_failures: bool = False
    printed: tuple[float, float] | None = None
    """What 100 mm come out of the printer as, across the sheet and up it, mm."""
    start: date | None = None
    """The first day of the work; without one the time plan counts days."""


@dataclass(frozen=True, slots=True)
class Built:
    """What a build did: the evaluation, the summary as data, the kinds held back.

    ``left_out`` tells which bought parts the model lacks, and why.
    """

    evaluation: Evaluation
    summary: dict[str, Any]
    held_back: tuple[str, ...]
    left_out: tuple[str, ...]


def build(
    project: Project,
    source: Source,
    out: Path,
    options: Options,
    progress: Progress = lambda _: None,
) -> Built:
    """Write a design to ``out``; the folder is replaced whole or left as it was.

    Raises:
        PlaceError: the folder cannot take the files.
        SolidError: the CAD kernel could not make a part, or made it wrong.
        KernelMissing: the CAD kernel cannot be loaded.
        ReadBackError: a written file is not what the layout says; nothing was handed over.
    """
    question = Question()
    evaluation = answer(project, source.catalogue, question)
    standing = question.standing(project, evaluation.layout)
    failures = [f for f in evaluation.findings if f.verdict == "fail" and f.weight == "must"]
    held = tuple(
        kind
        for kind in options.only
        if failures and not options.despite_failures and kind in HELD_BACK
    )
    warnings = in_print(project, failures)
    found = zones(project, evaluation.layout)
    paper = options.paper or ("letter" if project.show == "in" else "a4")

    @cache
    def plans() -> Collected:
        return collect(project, source, evaluation, standing, options.start)

    @cache
    def tables() -> Tables:
        return every_table(plans())

    if PLANNED.intersection(options.only):
        plans()  # what is wrong with prices.csv is said before anything is written
    book = book_paper(paper, project.show)
    said: list[str] = []
    writers: dict[str, Callable[[Path], Iterable[str]]] = {
        "model": lambda root: model.write(evaluation.layout, root, project.title, said.append),
        "cut": lambda root: cut.write(
            evaluation.layout,
            root,
            show=project.show,
            units=options.dxf_units,
            version=options.dxf_version,
            warnings=warnings,
        ),
        "templates": lambda root: templates.write(
            evaluation.layout,
            root,
            show=project.show,
            paper=paper,
            title=project.title,
            sha256=source.sha256,
            warnings=warnings,
            zones=found,
            printed=Printed(*options.printed, paper) if options.printed else None,
        ),
        "drawings": lambda root: drawings.write(
            project,
            evaluation,
            root,
            paper=options.paper,
            sha256=source.sha256,
            warnings=warnings,
            standing=standing,
            stock=plans().stock,
            foam=plans().foam,
        ),
        "lists": lambda root: lists.write(
            plans(), tables(), root, paper=book, sha256=source.sha256, warnings=warnings
        ),
    }
    # Neither a library that is being loaded nor the kernel's own code bears an exception from
    # outside: a stop waits for the next step.
    with undisturbed(), fresh_tree(out) as root:
        written: list[str] = []
        for kind in KINDS:
            if kind in options.only and kind not in held:
                progress(f"writing {kind}")
                stop_if_asked()
                written += writers[kind](root)
        entries = [file_entry(root, path) for path in sorted(written)]
        data = summary(project, evaluation, source.file, source.sha256, entries, standing)
        data["halos"] = halos_of(found)
        if "lists" in options.only:
            data["lists"] = lists_of(plans(), book)
        if options.printed:
            data["printed"] = printed_entry(*options.printed)
        data["remarks"] += [*said, *found.notes]
        (root / MANIFEST).write_text(dumps(data), "utf-8", newline="\n")
        progress("reading it back")
        stop_if_asked()
        verify(
            root,
            [*written, MANIFEST],
            evaluation.layout,
            data,
            show=project.show,
            paper=paper,
            drawn_on=papers_for(options.paper, project.show),
            sha256=source.sha256,
            warnings=warnings,
            zones=found,
            printed=options.printed,
            lists=wanted(
                plans(), tables(), paper=book, sha256=source.sha256, failures=len(warnings)
            )
            if "lists" in options.only
            else None,
        )
    return Built(evaluation, data, held, tuple(said))
