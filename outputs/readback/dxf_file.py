"""Reads a DXF file as pairs of group code and value, with no library: what is drawn, on what layer.

Only what a cut file may hold is taken apart; everything else is reported by its kind. Numbers
stay in the file's own unit. Group codes: DXF reference, ENTITIES and HEADER sections.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

Pair = tuple[int, str]
Point = tuple[float, float, float]

R2007 = "AC1021"
"""From this version on files are UTF-8; before, they name a code page and escape the rest."""

ESCAPE = re.compile(r"\\U\+([0-9A-Fa-f]{4})")


class DxfError(ValueError):
    """The file is not a whole DXF file."""


@dataclass(frozen=True, slots=True)
class Polyline:
    """Corners (x, y, z) with their bulges; ``up`` is the z of the extrusion direction."""

    layer: str
    closed: bool
    points: tuple[Point, ...]
    bulges: tuple[float, ...]
    up: float


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle; ``up`` as for a polyline."""

    layer: str
    center: Point
    diameter: float
    up: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    layer: str
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Text:
    """A line of text at its insertion point; ``height`` of a capital letter."""

    layer: str
    at: Point
    height: float
    text: str


@dataclass(slots=True)
class Drawing:
    """A file's content, in the file's unit.

    ``units`` and ``measurement`` are $INSUNITS and $MEASUREMENT, None where not stated;
    ``low`` and ``high`` the stated extents; ``layers`` the declared ones with their color.
    ``others`` are (kind, layer) of everything that is none of the four kinds kept.
    """

    version: str = ""
    units: int | None = None
    measurement: int | None = None
    low: Point | None = None
    high: Point | None = None
    layers: dict[str, int] = field(default_factory=dict[str, int])
    polylines: list[Polyline] = field(default_factory=list[Polyline])
    circles: list[Circle] = field(default_factory=list[Circle])
    lines: list[Line] = field(default_factory=list[Line])
    texts: list[Text] = field(default_factory=list[Text])
    others: list[tuple[str, str]] = field(default_factory=list[tuple[str, str]])


class _Group:
    """One entity, table entry or header variable: its kind and its pairs."""

    def __init__(self, kind: str, pairs: Sequence[Pair]) -> None:
        self.kind = kind
        self.pairs = pairs

    def text(self, code: int, default: str = "") -> str:
        return next((value for found, value in self.pairs if found == code), default)

    def number(self, code: int, default: float = 0.0) -> float:
        found = self.text(code)
        return _number(found) if found else default

    def point(self, code: int = 10) -> Point:
        return self.number(code), self.number(code + 10), self.number(code + 20)

    @property
    def layer(self) -> str:
        return self.text(8, "0")


def read(path: Path) -> Drawing:
    """Read a DXF file.

    Raises:
        DxfError: it is cut off, or something in it is no number.
        OSError: it cannot be read.
    """
    pairs = _pairs(path.read_bytes())
    sections = dict(_sections(pairs))
    if "HEADER" not in sections or "ENTITIES" not in sections:
        raise DxfError(f"{path.name} has no header or no entities")
    drawing = Drawing()
    _header(sections["HEADER"], drawing)
    for group in _groups(sections.get("TABLES", [])):
        if group.kind == "LAYER":
            drawing.layers[group.text(2)] = round(group.number(62))
    _entities(_groups(sections["ENTITIES"]), drawing)
    _blocks(_groups(sections.get("BLOCKS", [])), drawing)
    return drawing


def _number(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise DxfError(f"{text[:30]!r} where a number belongs") from None
    if value != value or abs(value) == float("inf"):
        raise DxfError(f"{text[:30]!r} where a number belongs")
    return value


def _pairs(data: bytes) -> list[Pair]:
    utf8 = re.search(rb"\$ACADVER\s+1\s+(AC\d{4})", data)
    encoding = "utf-8" if utf8 and utf8[1].decode() >= R2007 else "cp1252"
    lines = data.decode(encoding, "replace").splitlines()
    if len(lines) % 2 or not lines or lines[-1].strip() != "EOF":
        raise DxfError("the file is cut off: it does not end in EOF")
    found: list[Pair] = []
    for code, value in zip(lines[::2], lines[1::2], strict=True):
        try:
            found.append((int(code), value.strip() if int(code) != 1 else value))
        except ValueError:
            raise DxfError(f"{code[:30]!r} where a group code belongs") from None
    return found


def _sections(pairs: Iterable[Pair]) -> Iterator[tuple[str, list[Pair]]]:
    name, inside, opened = "", list[Pair](), False
    for code, value in pairs:
        if (code, value) == (0, "SECTION"):
            name, inside, opened = "", [], True
        elif (code, value) == (0, "ENDSEC"):
            yield name, inside
            name, inside = "", []
        elif opened and code == 2:
            name, opened = value, False
        else:
            inside.append((code, value))


def _groups(pairs: Iterable[Pair], mark: int = 0) -> Iterator[_Group]:
    kind, inside = "", list[Pair]()
    for code, value in pairs:
        if code == mark:
            if kind:
                yield _Group(kind, inside)
            kind, inside = value, []
        else:
            inside.append((code, value))
    if kind:
        yield _Group(kind, inside)


def _header(pairs: Iterable[Pair], drawing: Drawing) -> None:
    for group in _groups(pairs, mark=9):
        match group.kind:
            case "$ACADVER":
                drawing.version = group.text(1).strip()
            case "$INSUNITS":
                drawing.units = round(group.number(70))
            case "$MEASUREMENT":
                drawing.measurement = round(group.number(70))
            case "$EXTMIN":
                drawing.low = group.point()
            case "$EXTMAX":
                drawing.high = group.point()
            case _:
                pass


def _entities(groups: Iterator[_Group], drawing: Drawing) -> None:
    for group in groups:
        match group.kind:
            case "LWPOLYLINE":
                drawing.polylines.append(_light(group))
            case "POLYLINE":
                drawing.polylines.append(_heavy(group, groups))
            case "CIRCLE":
                diameter = 2 * group.number(40)
                up = group.number(230, 1.0)
                drawing.circles.append(Circle(group.layer, group.point(), diameter, up))
            case "LINE":
                drawing.lines.append(Line(group.layer, group.point(10), group.point(11)))
            case "TEXT":
                text = ESCAPE.sub(lambda found: chr(int(found[1], 16)), group.text(1))
                height = group.number(40)
                drawing.texts.append(Text(group.layer, group.point(), height, text))
            case _:
                drawing.others.append((group.kind, group.layer))


def _light(group: _Group) -> Polyline:
    """Return an LWPOLYLINE: its corners follow one another in one list of pairs."""
    z = group.number(38)
    points: list[Point] = []
    bulges: list[float] = []
    for code, value in group.pairs:
        if code == 10:
            points.append((_number(value), 0.0, z))
            bulges.append(0.0)
        elif code == 20 and points:
            points[-1] = (points[-1][0], _number(value), z)
        elif code == 42 and points:
            bulges[-1] = _number(value)
    closed = bool(round(group.number(70)) & 1)
    return Polyline(group.layer, closed, tuple(points), tuple(bulges), group.number(230, 1.0))


def _heavy(group: _Group, groups: Iterator[_Group]) -> Polyline:
    """Return a POLYLINE: its corners are entities of their own, up to a SEQEND."""
    points: list[Point] = []
    bulges: list[float] = []
    for vertex in groups:
        if vertex.kind == "SEQEND":
            break
        if vertex.kind != "VERTEX":
            raise DxfError(f"{vertex.kind} inside a polyline")
        x, y, z = vertex.point()
        points.append((x, y, z + group.number(30)))
        bulges.append(vertex.number(42))
    closed = bool(round(group.number(70)) & 1)
    return Polyline(group.layer, closed, tuple(points), tuple(bulges), group.number(230, 1.0))


def _blocks(groups: Iterable[_Group], drawing: Drawing) -> None:
    """Report every entity that stands in a block: cut files have none."""
    for group in groups:
        if group.kind not in ("BLOCK", "ENDBLK"):
            drawing.others.append((f"{group.kind} in a block", group.layer))
