"""Reads a STEP file as text: names, units, colors, places, vertices and round holes.

Only what ISO 10303-21 and the application protocol say is used; no CAD library is loaded.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from .step_curves import arc
from .step_records import Records, Reference, StepError, Triple, cross, values_of
from .step_volume import volume

__all__ = ["Cylinder", "Placed", "Product", "StepError", "StepFile", "read"]

COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


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
    """One product in coordinates of its own, mm. ``color`` is sRGB, None without one.

    ``low`` and ``high`` hold all its edges, and so all of it where it is made of planes and
    cylinders that end in circles. ``volume`` is what its solids enclose, mm3; None where their
    faces are not all planes and cylinders with edges that are lines, circles or ellipses.
    """

    name: str
    color: Triple | None
    solids: int
    low: Triple
    high: Triple
    cylinders: tuple[Cylinder, ...]
    volume: float | None


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
        y = cross(z, x)
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


class _Reader(Records):
    def __init__(self, text: str) -> None:
        head, _, data = text.partition("DATA;")
        self.head = head
        super().__init__(data)

    def file(self) -> StepFile:
        description = values_of(self.head.partition("FILE_DESCRIPTION")[2].partition(";\n")[0])
        name = values_of(self.head.partition("FILE_NAME")[2].partition(";\n")[0])
        products, assemblies = self.products()
        return StepFile(
            description=description[0][0][0],
            stamp=name[0][1],
            length_units=self.length_units(),
            products=tuple(products.values()),
            placed=tuple(self.placed()),
            assemblies=tuple(assemblies),
        )

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
                elif self.kind(part) == "EDGE_CURVE":
                    bent = arc(self, part)
                    points += bent.farthest() if bent is not None else ()
                elif self.kind(part) == "ADVANCED_FACE":
                    cylinders += self.cylinder(part)
            low, high = (
                (pick(p[0] for p in points), pick(p[1] for p in points), pick(p[2] for p in points))
                for pick in (min, max)
            )
            volumes = [volume(self, solid) for solid in solids]
            products[name] = Product(
                name=name,
                color=found.pop(),
                solids=len(solids),
                low=low,
                high=high,
                cylinders=tuple(cylinders),
                volume=None if None in volumes else sum(each or 0.0 for each in volumes),
            )
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
