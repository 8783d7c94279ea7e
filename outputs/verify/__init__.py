"""Reading back what was written, before it takes DIR's place.

Each file is read from disk by a reader that shares nothing with its writer, and held against
the layout. What differs is said in words; nothing that differs is handed over.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from ...geometry.judge.zones import NO_ZONES, Zones
from ...geometry.shape.frame import Board
from ...geometry.shape.layout import Layout
from ...geometry.shape.lining import Panel
from ...params.units import Show
from ..paper.sizes import PAPERS, ROLLS, SHEET, Paper, ways_round
from ..readback.printer import Printer
from ..stops import stop_if_asked
from . import glb, step, stl, summary
from .lists import Wanted
from .step import made_parts

DRAWN_ON = tuple(PAPERS[name].turned for name in ("letter", "tabloid", "a4", "a3"))
"""Papers that drawings are made on where nobody asked for one."""


class ReadBackError(Exception):
    """A written file is not what the layout says; ``differences`` has a sentence for each."""

    def __init__(self, differences: list[str]) -> None:
        """Keep the sentences; the message is all of them."""
        self.differences = tuple(differences)
        super().__init__(
            "what was written does not read back right; nothing was handed over:\n  "
            + "\n  ".join(differences)
        )


def verify(
    root: Path,
    written: list[str],
    layout: Layout,
    data: dict[str, Any],
    *,
    show: Show,
    paper: str,
    sha256: str,
    warnings: tuple[str, ...],
    drawn_on: Sequence[Paper] = DRAWN_ON,
    zones: Zones = NO_ZONES,
    printed: tuple[float, float] | None = None,
    lists: Wanted | None = None,
) -> None:
    """Read every written file and compare it with the layout.

    Args:
        root: the folder that was written.
        written: paths relative to it; those of ``summary.json`` and the model's assembly too.
        layout: what should be in the files.
        data: the summary, whose boards and panels the cut files are held against.
        show: the unit on the templates.
        paper: what the templates are printed on, by its name in ``--paper``.
        sha256: of the build file; the templates carry its start.
        warnings: failures that have to stand in print.
        drawn_on: the papers that a drawing may be on, as they lie.
        zones: where holes and the hinge's pin may lie, as the templates show it.
        printed: what 100 mm come out as across the sheet and up it, for which templates are scaled.
        lists: what the lists and the workshop book have to say, where they were written.

    Raises:
        ReadBackError: with every difference.
    """
    parts = made_parts(layout)
    entries = {f"board-{each['side']}": each for each in data["boards"]}
    for word, key in (("foam", "foam"), ("cover", "covers"), ("cap", "cap")):
        entries |= {f"{word}-{each['side']}": each for each in data[key]}
    ways: tuple[tuple[float | None, float | None], ...] = ()
    if paper in ROLLS:
        ways = (None, ROLLS[paper].width), (ROLLS[paper].width, None)
    elif paper != SHEET:
        ways = tuple((way.width, way.height) for way in ways_round(paper))
    printer = _printer(printed, paper)

    def cut(path: Path) -> Iterator[str]:
        from ..readback import dxf

        name = next(each for each in entries if path.stem.startswith(each))
        units = "in" if path.stem.removeprefix(name).startswith("-in") else "mm"
        yield from dxf.compare(path, entries[name], units=units, warnings=warnings)
        yield from dxf.audit(path)

    def outer_face(path: Path) -> Iterator[str]:
        from ..readback import pdf
        from ..readback.zones import compare_zones

        board = parts[path.stem]
        assert isinstance(board, Board)
        yield from pdf.compare(
            path,
            board,
            show=show,
            paper=ways,
            sha256=sha256,
            failures=len(warnings),
            printer=printer,
        )
        yield from compare_zones(path, board, zones, printer)

    def inner_face(path: Path) -> Iterator[str]:
        from ..readback import plates

        board = parts[path.stem.removesuffix("-inner")]
        assert isinstance(board, Board)
        yield from plates.compare_inner(
            path,
            board,
            show=show,
            paper=ways,
            sha256=sha256,
            failures=len(warnings),
            printer=printer,
        )

    def board_ends(path: Path) -> Iterator[str]:
        from ..readback import plates

        board = parts[path.stem.removesuffix("-ends")]
        assert isinstance(board, Board)
        yield from plates.compare_ends(
            path, board, paper=ways, sha256=sha256, failures=len(warnings), printer=printer
        )

    def drawing(path: Path) -> Iterator[str]:
        from ..readback import drawing

        yield from drawing.compare(
            path,
            show=show,
            sizes=[(paper.width, paper.height) for paper in drawn_on],
            title=data["title"],
            sha256=sha256,
            count=sum(1 for name in written if name.startswith("drawings/") and ".pdf" in name),
            failures=len(warnings),
            board=entries.get(path.stem) if isinstance(parts.get(path.stem), Board) else None,
            panels=data["foam"] if re.fullmatch(r"foam(-\d+)?", path.stem) else (),
        )

    def foam_panel(path: Path) -> Iterator[str]:
        from ..readback import foam

        panel = parts[path.stem]
        assert isinstance(panel, Panel)
        yield from foam.compare(
            path,
            panel,
            layout.board(panel.side).inner_left + panel.start,
            show=show,
            paper=ways,
            sha256=sha256,
            failures=len(warnings),
            printer=printer,
        )

    def hinge_map(path: Path) -> Iterator[str]:
        from ..readback.zones import compare_map

        if zones.pin is None:
            yield "there is nothing to map"
            return
        yield from compare_map(
            path,
            zones.pin,
            layout,
            paper=ways,
            sha256=sha256,
            failures=len(warnings),
            printer=printer,
        )

    def test_page(path: Path) -> Iterator[str]:
        from ..readback import test_page

        yield from test_page.compare(path, paper=ways, sha256=sha256, printer=printer)

    def saw_ring(path: Path) -> Iterator[str]:
        from ..readback import saw_ring

        yield from saw_ring.compare(path, layout, paper=ways, sha256=sha256, printer=printer)

    templates: tuple[tuple[str, Callable[[Path], Iterator[str]]], ...] = (
        (r"foam-(front|right|back|left)", foam_panel),
        (r"(board|cover)-(front|right|back|left)", outer_face),
        (r"hinge-map", hinge_map),
        (r"test-page", test_page),
        (r"saw-ring", saw_ring),
        (r"(board|cover)-(front|right|back|left)-inner", inner_face),
        (r"(board|cover)-(front|right|back|left)-ends", board_ends),
    )

    def listed(path: Path) -> Iterator[str]:
        from ..readback import lists as reader

        if lists is None:
            yield "no list was asked for"
        elif path.suffix == ".csv":
            yield from reader.compare_csv(path, lists.lists.get(path.stem))
        else:
            yield from reader.compare_book(path, lists.book, tuple(lists.lists.values()))

    def on_paper(path: Path) -> Iterator[str]:
        if path.parent.name == "drawings":
            return drawing(path)
        if path.parent.name == "lists":
            return listed(path)
        for name, reader in templates:
            if re.fullmatch(name, path.stem):
                return reader(path)
        return iter(("there is no reader for this file",))

    def picture(path: Path) -> Iterator[str]:
        from ..readback import svg

        yield from svg.compare(path, path.with_suffix(".pdf"))

    def solid(path: Path) -> Iterator[str]:
        if path.stem in parts:
            yield from step.part(path, parts[path.stem])
        else:
            yield from step.assembly(path, layout)

    readers: dict[str, Callable[[Path], Iterator[str]]] = {
        ".dxf": cut,
        ".pdf": on_paper,
        ".csv": listed,
        ".svg": picture,
        ".glb": lambda path: glb.compare(path, layout),
        ".step": solid,
        ".stl": lambda path: stl.part(path, parts[path.stem]),
        ".json": lambda path: summary.compare(path, root, layout, data),
    }
    differences: list[str] = []
    for name in written:
        stop_if_asked()
        path = root / name
        try:
            found = list(readers[path.suffix](path))
        except ValueError as error:  # each reader's own error for a file that is not whole
            found = [str(error)]
        except OSError as error:
            found = [f"cannot be read: {error.strerror or error}"]
        differences += [f"{name}: {each.removeprefix(f'{path.name}: ')}" for each in found]
    if differences:
        raise ReadBackError(differences)


def _printer(printed: tuple[float, float] | None, paper: str) -> Printer | None:
    """Return the printer that the templates have to be true on; None for a true one."""
    if printed is None:
        return None
    roll = ROLLS[paper].width if paper in ROLLS else None
    return Printer(across=printed[0], up=printed[1], roll=roll, turns=paper != SHEET)
