"""Reads a STEP file as text: names, units, colors, places, vertices and round holes.

Only what ISO 10303-21 and the application protocol say is used; no CAD library is loaded.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Triple = tuple[float, float, float]

RECORD = re.compile(r"#(\d+)\s*=\s*((?:[^;']+|'(?:[^']|'')*')*);")
COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
TOKEN = re.compile(
    r"\s+|(?P<string>'(?:[^']|'')*')|\#(?P<reference>\d+)"
    r"|(?P<number>[-+]?\d+(?:\.\d*)?(?:E[-+]?\d+)?)|\.(?P<choice>[A-Z0-9_]+)\."
    r"|(?P<keyword>[A-Z][A-Z0-9_]*)|(?P<mark>[(),*$])"
)
ESCAPE = re.compile(r"\\\\|\\X(2|4)\\([0-9A-F]+)\\X0\\")


class StepError(ValueError):
    """The file is not STEP, or not the kind of STEP that this reader knows."""


@dataclass(frozen=True, slots=True)
class Reference:
    """``#17`` in a record."""

    number: int


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A round surface: a point on its axis, the axis as a unit vector, its radius; mm.

    ``start`` and ``end`` say how far it goes along the axis, from the point.
    """

    point: Triple
    axis: Triple
    radius: float
    start: float
    end: float

    def at(self, along: float) -> Triple:
        """Return the point of the axis that is ``along`` from ``point``, mm."""
        x, y, z = (p + along * a for p, a in zip(self.point, self.axis, strict=True))
        return x, y, z


@dataclass(frozen=True, slots=True)
class Product:
    """One product in coordinates of its own, mm. ``color`` is sRGB, None without one."""

    name: str
    color: Triple | None
    solids: int
    low: Triple
    high: Triple
    cylinders: tuple[Cylinder, ...]


@dataclass(frozen=True, slots=True)
class Placed:
    """One use of a product in the assembly: where its origin, x axis and z axis go."""

    name: str
    product: str
    origin: Triple
    x_axis: Triple
    z_axis: Triple

    def at(self, point: Triple) -> Triple:
        """Return where a point of the product stands in the assembly, mm."""
        x, z = self.x_axis, self.z_axis
        y = _cross(z, x)
        a, b, c = (
            o + point[0] * i + point[1] * j + point[2] * k
            for o, i, j, k in zip(self.origin, x, y, z, strict=True)
        )
        return a, b, c


@dataclass(frozen=True, slots=True)
class StepFile:
    """What a STEP file holds. ``length_units`` are the distinct ones, ``MILLI METRE`` for mm."""

    description: str
    stamp: str
    length_units: tuple[str, ...]
    products: tuple[Product, ...]
    placed: tuple[Placed, ...]
    assemblies: tuple[str, ...]

    def product(self, name: str) -> Product:
        """Return the product of a name."""
        return next(each for each in self.products if each.name == name)


def read(path: Path) -> StepFile:
    """Read a STEP file.

    Raises:
        StepError: the file cannot be understood.
    """
    text = COMMENT.sub("", path.read_text("ascii"))
    if not text.startswith("ISO-10303-21;") or not text.rstrip().endswith("END-ISO-10303-21;"):
        raise StepError(f"{path.name} is not a whole STEP file")
    try:
        return _Reader(text).file()
    except StepError:
        raise
    except (AttributeError, IndexError, KeyError, TypeError, ValueError) as error:
        raise StepError(f"{path.name}: a record is not what it should be: {error!r}") from error


class _Reader:
    def __init__(self, text: str) -> None:
        head, _, data = text.partition("DATA;")
        self.head = head
        self.raw = {int(number): body for number, body in RECORD.findall(data)}
        self.kinds: dict[str, list[int]] = {}
        for number, body in self.raw.items():
            kind = re.match(r"\w*", body)
            self.kinds.setdefault(kind[0] if kind else "", []).append(number)
        self.known: dict[int, list[Any]] = {}

    def file(self) -> StepFile:
        description = _values(self.head.partition("FILE_DESCRIPTION")[2].partition(";\n")[0])
        name = _values(self.head.partition("FILE_NAME")[2].partition(";\n")[0])
        products, assemblies = self.products()
        return StepFile(
            description=description[0][0][0],
            stamp=name[0][1],
            length_units=self.length_units(),
            products=tuple(products.values()),
            placed=tuple(self.placed()),
            assemblies=tuple(assemblies),
        )

    def get(self, reference: Reference) -> list[Any]:
        """Return [keyword, [values]] of a record, or of each part of a complex one in turn."""
        number = reference.number
        if number not in self.known:
            self.known[number] = _values(self.raw[number])
        return self.known[number]

    def values(self, reference: Reference, kind: str) -> list[Any]:
        """Return the values of a record's part of one kind."""
        record = self.get(reference)
        if isinstance(record[0], list):  # a complex record: (A(...) B(...))
            record = record[0]
        return record[record.index(kind) + 1]

    def kind(self, reference: Reference) -> str:
        found = self.get(reference)[0]
        return found if isinstance(found, str) else ""

    def all(self, *kinds: str) -> Iterator[Reference]:
        for kind in kinds:
            yield from (Reference(number) for number in self.kinds.get(kind, ()))

    def length_units(self) -> tuple[str, ...]:
        found: set[str] = set()
        for reference in self.all(""):
            parts = self.get(reference)[0]
            if "LENGTH_UNIT" in parts and "SI_UNIT" in parts:
                prefix, name = self.values(reference, "SI_UNIT")
                found.add(f"{prefix} {name}".strip())
            elif "LENGTH_UNIT" in parts:
                found.add(str(self.values(reference, "CONVERSION_BASED_UNIT")[0]))
        return tuple(sorted(found))

    def name_of(self, definition: Reference) -> str:
        """Return the name of the product that a PRODUCT_DEFINITION is of."""
        formation = self.values(definition, "PRODUCT_DEFINITION")[2]
        product = self.get(formation)[1][2]
        return self.values(product, "PRODUCT")[0]

    def products(self) -> tuple[dict[str, Product], list[str]]:
        colors = self.colors()
        products: dict[str, Product] = {}
        assemblies: list[str] = []
        for link in self.all("SHAPE_DEFINITION_REPRESENTATION"):
            shape, representation = self.get(link)[1]
            name = self.name_of(self.values(shape, "PRODUCT_DEFINITION_SHAPE")[2])
            items = self.get(representation)[1][1]
            solids = [item for item in items if "BREP" in self.kind(item)]
            if not solids:
                assemblies.append(name)
                continue
            if name in products:
                raise StepError(f"two products are called {name}")
            found = {colors.get(solid.number) for solid in solids}
            if len(found) > 1:
                raise StepError(f"the solids of {name} differ in color")
            points: list[Triple] = []
            cylinders: list[Cylinder] = []
            for part in self.under(solids):
                if self.kind(part) == "VERTEX_POINT":
                    points.append(self.point(self.get(part)[1][1]))
                elif self.kind(part) == "ADVANCED_FACE":
                    cylinders += self.cylinder(part)
            low, high = (
                (pick(p[0] for p in points), pick(p[1] for p in points), pick(p[2] for p in points))
                for pick in (min, max)
            )
            products[name] = Product(name, found.pop(), len(solids), low, high, tuple(cylinders))
        return products, assemblies

    def cylinder(self, face: Reference) -> Iterator[Cylinder]:
        """Yield the round surface of a face, as far as the face's corners reach; else nothing."""
        _, bounds, surface, _ = self.get(face)[1]
        if self.kind(surface) != "CYLINDRICAL_SURFACE":
            return
        _, placement, radius = self.get(surface)[1]
        origin, _, axis = self.placement(placement)
        corners = [
            self.point(self.get(part)[1][1])
            for part in self.under(list(bounds))
            if self.kind(part) == "VERTEX_POINT"
        ]
        along = [
            sum((c - o) * a for c, o, a in zip(corner, origin, axis, strict=True))
            for corner in corners
        ]
        yield Cylinder(origin, axis, float(radius), min(along), max(along))

    def under(self, roots: list[Reference]) -> Iterator[Reference]:
        """Yield every record that some records lead to, each once."""
        waiting, seen = list(roots), set(roots)
        while waiting:
            reference = waiting.pop()
            yield reference
            found = {Reference(int(n)) for n in re.findall(r"#(\d+)", self.raw[reference.number])}
            waiting += found - seen
            seen |= found

    def colors(self) -> dict[int, Triple]:
        """Return the surface color of each styled item."""
        found: dict[int, Triple] = {}
        for styled in self.all("STYLED_ITEM"):
            _, styles, item = self.get(styled)[1]
            for part in self.under(list(styles)):
                if self.kind(part) == "FILL_AREA_STYLE_COLOUR":
                    _, red, green, blue = self.values(self.get(part)[1][1], "COLOUR_RGB")
                    found[item.number] = float(red), float(green), float(blue)
        # A style that no presentation lists is shown by nobody.
        listed = {
            item.number
            for group in self.all("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION")
            for item in self.get(group)[1][1]
        }
        shown = {s.number: self.get(s)[1][2].number for s in self.all("STYLED_ITEM")}
        return {
            item: found[item] for styled, item in shown.items() if styled in listed if item in found
        }

    def placed(self) -> Iterator[Placed]:
        for link in self.all("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"):
            relation, shape = self.get(link)[1]
            use = self.values(shape, "PRODUCT_DEFINITION_SHAPE")[2]
            _, name, _, _, child, _ = self.values(use, "NEXT_ASSEMBLY_USAGE_OCCURRENCE")
            (transformation,) = self.values(
                relation, "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"
            )
            _, _, own, there = self.values(transformation, "ITEM_DEFINED_TRANSFORMATION")
            if self.placement(own) != ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)):
                raise StepError(f"{name} is not placed by its own origin")
            origin, x, z = self.placement(there)
            yield Placed(name, self.name_of(child), origin, x, z)

    def placement(self, reference: Reference) -> tuple[Triple, Triple, Triple]:
        """Return origin, x axis and z axis of a placement."""
        _, origin, z, x = self.values(reference, "AXIS2_PLACEMENT_3D")
        return self.point(origin), self.direction(x), self.direction(z)

    def point(self, reference: Reference) -> Triple:
        x, y, z = self.values(reference, "CARTESIAN_POINT")[1]
        return float(x), float(y), float(z)

    def direction(self, reference: Reference) -> Triple:
        x, y, z = (float(each) for each in self.values(reference, "DIRECTION")[1])
        size = math.sqrt(x * x + y * y + z * z)
        return x / size, y / size, z / size


def _values(text: str) -> list[Any]:
    """Return a record's text as nested lists of keywords, strings, numbers and references."""
    stack: list[list[Any]] = [[]]
    place = 0
    while place < len(text):
        token = TOKEN.match(text, place)
        if token is None:
            raise StepError(f"cannot read {text[place : place + 40]!r}")
        place = token.end()
        kind, value = token.lastgroup, token[0]
        if kind == "string":
            stack[-1].append(_string(value))
        elif kind == "reference":
            stack[-1].append(Reference(int(token["reference"])))
        elif kind == "number":
            stack[-1].append(float(value))
        elif kind == "choice":
            stack[-1].append(token["choice"])
        elif kind == "keyword":
            stack[-1].append(value)
        elif value == "(":
            stack.append([])
        elif value == ")":
            whole = stack.pop()
            stack[-1].append(whole)
        elif value in ("*", "$"):
            stack[-1].append("")
    if len(stack) != 1:
        raise StepError("brackets do not match")
    return stack[0]


def _string(quoted: str) -> str:
    plain = quoted[1:-1].replace("''", "'").replace("\n", "")
    return ESCAPE.sub(_letters, plain)


def _letters(found: re.Match[str]) -> str:
    if found[2] is None:
        return "\\"
    code = bytes.fromhex(found[2])
    return code.decode("utf-16-be" if found[1] == "2" else "utf-32-be")


def _cross(a: Triple, b: Triple) -> Triple:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
