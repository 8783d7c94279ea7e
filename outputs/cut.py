"""``cut/``: a DXF for each board, panel, cover and cap strip, to size, for a router or a laser.

Contours are closed polylines with arcs as bulges, lone round holes are circles, everything else
is lines and text on layers of their own. Sizes are the layout's: nobody has added a kerf. Each
number is rounded once, to six decimals, after it was brought to the file's unit.
"""

import logging
from collections.abc import Generator, Iterable, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Literal

from ..geometry.shape.layout import Layout
from ..geometry.shape.sheet import Layer, Note, Sheet, sheets
from ..params.units import Show
from .stops import stop_if_asked

FOLDER = "cut"

Units = Literal["mm", "in"]
Version = Literal["R2000", "R12"]

CODES: Mapping[Units, int] = {"mm": 4, "in": 1}
"""$INSUNITS of each unit (DXF reference, HEADER section); ezdxf sets $MEASUREMENT from it."""

PER_MM: Mapping[Units, float] = {"mm": 1.0, "in": 1 / 25.4}

COLORS: Mapping[Layer, int] = {
    "OUTLINE": 7,
    "BORE": 1,
    "POCKET": 5,
    "PILOT": 6,
    "INNER-EDGE": 8,
    "NOTE": 3,
    "CHECK-MARK": 4,
}
"""Color number of each layer (DXF color index), so that operations can be told apart."""

DECIMALS = 6
BULGE_DECIMALS = 9
"""A bulge has no unit: its sixth decimal would move the middle of a long arc by more than a
coordinate's does."""

WARNING = 10.0
"""Height of the letters that say what fails, mm; twice that of a note."""

CHARACTER = 1.0
"""Width of a letter over its height, on the wide side: how far text reaches for the extents."""

MISSING = "\u25a1"
"""The empty box that stands for a sign that cannot be written."""


def write(
    layout: Layout,
    root: Path,
    *,
    show: Show,
    units: Units = "mm",
    version: Version = "R2000",
    warnings: tuple[str, ...] = (),
) -> list[str]:
    """Write a DXF for each board, cover and cap strip, and each foam panel with something left.

    Args:
        layout: the design.
        root: the folder that ``cut/`` goes in.
        show: the unit that comes first in the notes.
        units: the unit of the coordinates.
        version: R2000, or R12 for old machines.
        warnings: one line for each *must* that fails, printed large on every sheet.

    Returns:
        The files written, relative to ``root``.
    """
    written: list[str] = []
    (root / FOLDER).mkdir(parents=True, exist_ok=True)
    for sheet in sheets(layout, show):
        stop_if_asked()
        if not any(contour.layer == "OUTLINE" for contour in sheet.contours):
            continue
        path = f"{FOLDER}/{file_name(sheet, units, version)}"
        write_dxf(sheet, root / path, units, version, warnings)
        written.append(path)
    return written


def file_name(sheet: Sheet, units: Units = "mm", version: Version = "R2000") -> str:
    """Return a sheet's file name: whatever is not plain mm in R2000 is said in it.

    R12 cannot state its unit, so there the name does: ``board-front-mm-r12.dxf``.
    """
    if version == "R12":
        return f"{sheet.name}-{units}-r12.dxf"
    return f"{sheet.name}.dxf" if units == "mm" else f"{sheet.name}-{units}.dxf"


def write_dxf(
    sheet: Sheet,
    path: Path,
    units: Units = "mm",
    version: Version = "R2000",
    warnings: tuple[str, ...] = (),
) -> None:
    """Write one flat view; the same sheet gives the same bytes.

    Args:
        sheet: the flat view, mm.
        path: the file to write.
        units: the unit of the coordinates.
        version: R2000, the oldest that states its unit, or R12.
        warnings: printed large, above everything else and first in the file.

    Raises:
        OSError: the file cannot be written.
    """
    notes = _all_notes(sheet, units, version, warnings)
    with _library() as ezdxf:
        document = ezdxf.new(version, units=CODES[units])
        for layer, color in COLORS.items():
            document.layers.add(layer, color=color)
        _draw(document.modelspace(), sheet, notes, PER_MM[units])
        _set_extents(document, _reach(sheet, notes), PER_MM[units])
        document.saveas(path)


@contextmanager
def _library() -> Generator[Any]:
    """Give ezdxf, set to put neither the clock nor random ids into what it makes and writes.

    It also keeps quiet meanwhile: it would say for each R12 file that this holds no unit.
    """
    import ezdxf

    library: Any = ezdxf  # its types are not whole
    logger = logging.getLogger("ezdxf")
    fixed, level = library.options.write_fixed_meta_data_for_testing, logger.level
    library.options.write_fixed_meta_data_for_testing = True
    logger.setLevel(logging.ERROR)
    try:
        yield library
    finally:
        library.options.write_fixed_meta_data_for_testing = fixed
        logger.setLevel(level)


def _all_notes(
    sheet: Sheet, units: Units, version: Version, warnings: tuple[str, ...]
) -> tuple[Note, ...]:
    """Return warnings, the drawing's unit and the sheet's own notes, from the top down."""
    top = max((note.y + 2 * note.height for note in sheet.notes), default=sheet.width)
    height = min((note.height for note in sheet.notes), default=WARNING / 2)
    unit = {"mm": "millimeters", "in": "inches"}[units]
    said = f"{sheet.name}. Coordinates are in {unit}."
    if version == "R12":
        said += f" This file format cannot state its unit: tell the machine {units}."
    first = Note("NOTE", 0.0, top, height, said)
    count = len(warnings)
    above = top + 2 * height
    return (
        *(
            Note("NOTE", 0.0, above + (count - 1 - i) * 2 * WARNING, WARNING, text)
            for i, text in enumerate(warnings)
        ),
        first,
        *sheet.notes,
    )


def _draw(space: Any, sheet: Sheet, notes: Iterable[Note], scale: float) -> None:
    def at(x: float, y: float) -> tuple[float, float]:
        return _rounded(x * scale), _rounded(y * scale)

    for note in notes:
        attributes = {"layer": note.layer, "insert": at(note.x, note.y)}
        height = _rounded(note.height * scale)
        space.add_text(plain(note.text), height=height, dxfattribs=attributes)
    for contour in sheet.contours:
        points = [(*at(v.x, v.y), _rounded(v.bulge, BULGE_DECIMALS)) for v in contour.vertices]
        on = {"layer": contour.layer}
        if space.dxfversion == "AC1009":
            space.add_polyline2d(points, format="xyb", close=True, dxfattribs=on)
        else:
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=on)
    for circle in sheet.circles:
        radius = _rounded(circle.diameter / 2 * scale)
        space.add_circle(at(circle.x, circle.y), radius, dxfattribs={"layer": circle.layer})
    for line in sheet.lines:
        ends = at(line.x1, line.y1), at(line.x2, line.y2)
        space.add_line(*ends, dxfattribs={"layer": line.layer})


def plain(text: str) -> str:
    """Return one line of text without what a DXF reader takes for a code: %%, ^, backslash.

    A code for a character has four hex digits, so those that need five (an emoji) become a box.
    """
    printable = "".join(c if c.isprintable() else " " for c in text)
    printable = "".join(c if ord(c) <= 0xFFFF else MISSING for c in printable)
    return printable.replace("%%", "% %").replace("^", "^ ").replace("\\", "/")


def _rounded(value: float, decimals: int = DECIMALS) -> float:
    return round(value, decimals) + 0.0  # no minus zero


def _reach(sheet: Sheet, notes: Iterable[Note]) -> tuple[float, float]:
    """Return how far right and up anything is drawn, mm; nothing lies left of or below 0, 0."""
    xs, ys = [sheet.length], [sheet.width]
    for line in sheet.lines:
        xs += [line.x1, line.x2]
        ys += [line.y1, line.y2]
    for note in notes:
        xs.append(note.x + len(note.text) * note.height * CHARACTER)
        ys.append(note.y + note.height)
    return max(xs), max(ys)


def _set_extents(document: Any, reach: tuple[float, float], scale: float) -> None:
    """Set the drawing's extents, from the blank's corner at 0, 0.

    Both in the model space and in the header: ezdxf copies the first to the second when it
    writes, but takes a lower corner of 0, 0, 0 for one that was never set.
    """
    low = (0.0, 0.0, 0.0)
    high = (_rounded(reach[0] * scale), _rounded(reach[1] * scale), 0.0)
    document.modelspace().reset_extents(low, high)
    document.header["$EXTMIN"] = low
    document.header["$EXTMAX"] = high
