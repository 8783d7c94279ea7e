"""Reads a template back from its PDF and compares it with the board it is for.

Nothing comes from whoever wrote the file: bars are found by the text printed at them, each page
says where the board's corner lies on it, and the register marks of neighbouring pages have to
agree with that.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ...geometry.shape.frame import Board
from ...geometry.shape.hole import Hole
from ...params.units import Show, bit_text, both_text, length_text
from .pdf_miters import miter_faults, mitered, said_faults, upright_faults
from .pdf_page import Circle, Page, Point
from .pdf_parts import BARS, TOLERANCE, Assembly, assemble, bars, first_gap, same_circle, zero
from .pdf_walk import read_page
from .printer import Printer

ON_EVERY_PAGE = (
    "outer face",
    "up: lid",
    "print at actual size, 100 %",
    "measure this before drilling: 100 mm and 4 in",
)
FAILING = "THIS DESIGN FAILS"
TAPED = ": measure the taped paper"
"""Ends what is said of a part's whole length."""
NO_ROOM = "no room for the figures of"

Size = tuple[float | None, float | None]
"""Width and height of a page, mm; None where it may be anything."""


@dataclass(frozen=True, slots=True)
class Document:
    """A PDF as read: pages, what the viewer is told about scaling, fonts that are not inside.

    ``printer`` is the one that the pages were made true for.
    """

    pages: tuple[Page, ...]
    print_scaling: str | None
    missing_fonts: tuple[str, ...]
    printer: Printer | None = None


def read(path: Path, printer: Printer | None = None) -> Document:
    """Read a PDF, as a printer that is not true prints it.

    Raises:
        ValueError: the file is not a PDF, or broken.
    """
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        reader = PdfReader(path, strict=True)
        pages = tuple(read_page(page, i, printer) for i, page in enumerate(reader.pages, 1))
        root: Any = reader.trailer["/Root"]
        wish = root.get("/ViewerPreferences", {}).get("/PrintScaling")
        missing = {name for page in reader.pages for name in _not_embedded(page)}
    except (PyPdfError, KeyError, IndexError, TypeError) as error:
        raise ValueError(f"{path.name} cannot be read: {error}") from error
    return Document(pages, None if wish is None else str(wish), tuple(sorted(missing)), printer)


def _not_embedded(page: Any) -> Iterator[str]:
    for entry in page.get("/Resources", {}).get("/Font", {}).values():
        font = entry.get_object()
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        descriptor = inner.get("/FontDescriptor")
        keys = descriptor.get_object() if descriptor is not None else ()
        if not any(key in keys for key in ("/FontFile", "/FontFile2", "/FontFile3")):
            yield str(font.get("/BaseFont", "?"))


def compare(
    path: Path,
    board: Board,
    *,
    show: Show,
    paper: Sequence[Size] | None = None,
    sha256: str = "",
    failures: int = 0,
    printer: Printer | None = None,
) -> list[str]:
    """Read a board's template and say what on it is not as it should be.

    Args:
        path: the PDF.
        board: the board with its holes.
        show: the unit whose figures have to stand at each hole.
        paper: width and height that every page may have, mm, None for one that is as the board
            needs it; empty where the page must be as large as the board; None where any will do.
        sha256: the build file's hash, of which the first 12 digits are printed.
        failures: how many failures every page has to speak of.
        printer: what it has to be true on.

    Returns:
        One sentence for each fault; none when all is well.
    """
    document = read(path, printer)
    wanted = words((*ON_EVERY_PAGE, f"{board.side} {board.kind}"), sha256, failures)
    faults = [*paper_faults(document, wanted, (board.long_point, board.width), paper)]
    holes = different([hole for hole in board.holes if hole.face == "outer"])
    together = assemble(document.pages)
    ends = mitered(board)
    inner = [(f"inner face's end at the {end.name}", end.at + end.way * end.inner) for end in ends]
    faults += together.problems
    faults += mark_faults(together, len(document.pages))
    faults += outline_faults(
        together, (board.long_point, board.width), ("left long point", "right long point")
    )
    faults += hole_faults(together, holes)
    faults += _joint_faults(together, board)
    faults += miter_faults(together, ends, board)
    faults += upright_faults(together, inner, board.width)
    faults += said_faults(document.pages, [(end.said, end.at) for end in ends], board.long_point)
    faults += all_figure_faults(document.pages, holes, show)
    faults += whole_faults(document.pages, board.long_point, show)
    return [f"{path.name}: {fault}" for fault in faults]


def words(always: Sequence[str], sha256: str, failures: int) -> list[str]:
    """Return what every page has to say: its kind's own words, the build file's hash, failures."""
    hashed = [f"build file {sha256[:12]}"] if sha256 else []
    return [*always, *hashed, *([FAILING] if failures else [])]


def paper_faults(
    document: Document,
    wanted: Sequence[str],
    part: tuple[float, float],
    paper: Sequence[Size] | None,
    *,
    numbered: bool = True,
    barred: bool = True,
    tells_printer: bool = True,
) -> Iterator[str]:
    """Say what is wrong with a template as paper: scaling, fonts, sizes, words, bars.

    Args:
        document: the file.
        wanted: what every page has to say, beside its number.
        part: length and width of what is shown, mm.
        paper: see ``compare``.
        numbered: whether each page has to say which of how many it is.
        barred: whether each page has to have bars; those that it has must be true anyway.
        tells_printer: whether a line of each page has to begin with what it is scaled for.
    """
    if document.print_scaling != "/None":
        yield f"viewers are not told to print without scaling: {document.print_scaling}"
    yield from (f"font {name} is not in the file" for name in document.missing_fonts)
    said = [document.printer.says] if document.printer and tells_printer else []
    if paper is not None:
        yield from _size_faults(document.pages, part, paper)
    for page in document.pages:
        number = [f"sheet {page.number} of {len(document.pages)}"] if numbered else []
        yield from _page_faults(page, [*wanted, *said, *number], barred)


def _size_faults(
    pages: Sequence[Page], part: tuple[float, float], paper: Sequence[Size]
) -> Iterator[str]:
    """Check that all pages are of the paper that was asked for, and lie the same way."""
    if not pages:
        yield "has no pages"
    for page in pages:
        sheet = page.sheet or (page.width, page.height)
        said = f"page {page.number}: is {sheet[0]:.2f} x {sheet[1]:.2f} mm"
        if not paper:
            if page.width < part[0] or page.height < part[1]:
                yield f"{said}, smaller than the board"
        elif not any(
            all(
                side is None or abs(found - side) <= TOLERANCE
                for found, side in zip(sheet, size, strict=True)
            )
            for size in paper
        ):
            sizes = " or ".join(
                " x ".join("any" if side is None else f"{side:.2f}" for side in size)
                for size in paper
            )
            yield f"{said}, not {sizes} mm"
        elif abs(page.width - pages[0].width) > TOLERANCE:
            yield f"{said}, and lies another way than page 1"


def _page_faults(page: Page, wanted: Sequence[str], barred: bool) -> Iterator[str]:
    here = f"page {page.number}"
    if page.rotate:
        yield f"{here}: is turned by {page.rotate} degrees"
    if page.unread:
        yield f"{here}: holds what cannot be read back: {', '.join(page.unread)}"
    if any(text.mirrored for text in page.texts):
        yield f"{here}: is mirrored"
    for text in wanted:
        if not any(each.text.lower().startswith(text.lower()) for each in page.texts):
            yield f"{here}: does not say {text!r}"
    found = bars(page)
    for name, length in BARS.items():
        for upright, way in ((False, "level"), (True, "upright")):
            lengths = [bar.length for bar in found if (bar.text, bar.upright) == (name, upright)]
            if barred and not lengths:
                yield f"{here}: no {way} bar {name!r}"
            for measured in lengths:
                if abs(measured - length) > TOLERANCE:
                    yield f"{here}: the {way} bar {name!r} is {measured:.2f} mm long"


def mark_faults(together: Assembly, pages: int, firsts: Sequence[int] = (1,)) -> Iterator[str]:
    """Say which register marks do not agree, and which pages none joins to the others.

    ``firsts`` has a page of each piece that is put together by itself.
    """
    by_name: dict[str, list[tuple[int, Point]]] = {}
    for name, page, place in together.marks:
        by_name.setdefault(name, []).append((page, place))
    joined = {*firsts}
    for name, found in by_name.items():
        if len(found) != 2:
            yield f"register mark {name} is on {len(found)} pages, not on two"
            continue
        (_, a), (_, b) = found
        if math.dist(a, b) > TOLERANCE:
            yield f"register mark {name} is {math.dist(a, b):.2f} mm apart on its two pages"
    for _ in range(pages if pages > 1 else 0):
        for found in by_name.values():
            numbers = {page for page, _ in found}
            if numbers & joined:
                joined |= numbers
    for number in range(1, pages + 1):
        if number not in joined:
            yield f"page {number}: no register mark joins it to the others"


def outline_faults(
    together: Assembly, size: tuple[float, float], ends: tuple[str, str]
) -> Iterator[str]:
    """Say where one of a face's four edges is not drawn; ``ends`` is what its ends are called."""
    long, wide = size
    edges = {
        "bottom edge": ((0.0, 0.0), (long, 0.0)),
        "top edge": ((0.0, wide), (long, wide)),
        ends[0]: ((0.0, 0.0), (0.0, wide)),
        ends[1]: ((long, 0.0), (long, wide)),
    }
    for name, (a, b) in edges.items():
        gap = first_gap(together.lines, a, b)
        if gap is not None:
            yield f"the {name} is not drawn from {gap:.2f} mm on"


def _joint_faults(together: Assembly, board: Board) -> Iterator[str]:
    """Look for the mark of each thing in the miters: a line at its height, or up the board."""
    for slot in board.slots:
        low, high = (
            (0.0, board.inner_left)
            if slot.end == "left"
            else (board.long_point - board.inner_right, board.long_point)
        )
        mark = ((low, slot.v), (high, slot.v))
        if slot.kind == "spline":
            mark = ((slot.mouth[0], 0.0), (slot.mouth[0], board.width))
        gap = first_gap(together.lines, *mark)
        if gap is not None:
            yield f"the mark of {slot.joint} is not drawn from {gap:.2f} mm on"


def different(holes: Sequence[Hole]) -> list[Hole]:
    """Leave out holes that are others once more: on paper they are one circle."""
    found: list[Hole] = []
    for hole in holes:
        if not any(same_circle(_wanted(hole), _wanted(other)) for other in found):
            found.append(hole)
    return found


def _wanted(hole: Hole) -> Circle:
    return Circle(hole.u, hole.v, hole.diameter or 0.0, False, (0, 0, 0, 0))


def hole_faults(together: Assembly, holes: Sequence[Hole]) -> Iterator[str]:
    """Say which circles are not where a hole is, or which points are missing or too many."""
    left = list(together.circles)
    for hole in holes:
        if hole.diameter is None:
            yield f"{hole.name}: is not round"
            continue
        want = _wanted(hole)
        found = [each for each in left if same_circle(each[0], want)]
        if not found:
            yield f"{hole.name}: {_nearest(want, left)}"
            continue
        left.remove(found[0])
        if not _all_seen(found[0]):
            yield f"{hole.name}: is not whole when the pages are put together"
        point = any(math.dist(dot, (hole.u, hole.v)) <= TOLERANCE for dot in together.dots)
        if hole.assumed and point:
            yield f"{hole.name}: a point at its center, though its place is assumed"
        elif not (hole.assumed or point):
            yield f"{hole.name}: no point at its center"
    for each in left:
        yield (
            f"a circle of {each[0].diameter:.2f} mm at {each[0].x:.2f}, {each[0].y:.2f} mm"
            " that is no hole of the board"
        )


def _nearest(want: Circle, found: Sequence[Sequence[Circle]]) -> str:
    if not found:
        return "is not there"
    near = min((each[0] for each in found), key=lambda c: math.dist((c.x, c.y), (want.x, want.y)))
    return (
        f"should be {want.diameter:.2f} mm wide at {want.x:.2f}, {want.y:.2f} mm; the nearest is"
        f" {near.diameter:.2f} mm wide at {near.x:.2f}, {near.y:.2f} mm"
    )


def _all_seen(views: Sequence[Circle]) -> bool:
    """Whether every part of a circle can be seen on some page."""
    if any(view.whole for view in views):
        return True
    for degree in range(0, 360, 2):
        turn = math.radians(degree)
        x = views[0].x + views[0].diameter / 2 * math.cos(turn)
        y = views[0].y + views[0].diameter / 2 * math.sin(turn)
        if not any(v.seen[0] <= x <= v.seen[2] and v.seen[1] <= y <= v.seen[3] for v in views):
            return False
    return True


def whole_faults(pages: Sequence[Page], length: float, show: Show) -> Iterator[str]:
    """Hold what is said of the whole length, for the paper that is taped together, against it.

    Where there is no room for the words nothing is said.
    """
    true = f" {both_text(length, show)}{TAPED}"
    for page in pages:
        for text in page.texts:
            if text.text.endswith(TAPED) and not text.text.endswith(true):
                yield f"page {page.number}: says {text.text!r}, not {true.strip()!r}"


def all_figure_faults(pages: Sequence[Page], holes: Sequence[Hole], show: Show) -> Iterator[str]:
    """Look for the figures of each hole: diameter, depth of a blind one, place from left and up."""
    for hole in holes:
        sizes = [f"⌀ {bit_text(hole.diameter, show)}"] if hole.diameter is not None else []
        deep = [f"{length_text(hole.depth, show)} deep"] if hole.depth is not None else []
        figures = (*sizes, *deep, length_text(hole.u, show), length_text(hole.v, show))
        yield from figure_faults(pages, hole.name, (hole.u, hole.v), figures)


def figure_faults(
    pages: Sequence[Page], name: str, center: Point, figures: Sequence[str]
) -> Iterator[str]:
    """Look for a hole's figures on the page where its center is, within reach of it.

    A page may say in print that it has no room for figures.
    """
    near: list[str] = []
    confessed = False
    for page in pages:
        origin = zero(page) or (0.0, 0.0)
        x, y = center[0] + origin[0], center[1] + origin[1]
        near += [t.text for t in page.texts if math.dist((t.x, t.y), (x, y)) < 200]
        on_it = 0 < x < page.width and 0 < y < page.height
        confessed |= on_it and any(t.text.startswith(NO_ROOM) for t in page.texts)
    for figure in figures:
        if not confessed and not any(
            text == figure or text.startswith(f"{figure} ") for text in near
        ):
            yield f"{name}: {figure!r} is not printed near it"
