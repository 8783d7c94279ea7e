"""STEP files: parts as named, colored products, the same bytes for the same parts.

The kernel writes geometry, products and places. Header and colors are set here, in its text:
its header has a clock in it, and it orders color records by memory address.
"""

# pyright: reportAttributeAccessIssue=false, reportUnknownParameterType=false
# The kernel's own modules come without types.

import re
from collections.abc import Iterable, Sequence
from io import BytesIO
from itertools import count
from pathlib import Path

import cadquery as cq
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool

from . import kernel
from .part import Color, Part

STAMP = "2000-01-01T00:00:00"
"""The header must have a time; this one says that nobody looked at a clock."""

RECORD = re.compile(r"^#(\d+) = ([A-Z0-9_]+)\((.*?)\) ?;$", re.MULTILINE | re.DOTALL)
OCCURRENCE = re.compile(r"(?<=NEXT_ASSEMBLY_USAGE_OCCURRENCE\()\s*'\d+'(.*?);", re.DOTALL)
BREAK = re.compile(r"\n *")


def write_assembly(path: Path, name: str, title: str, parts: Sequence[Part]) -> None:
    """Write all parts in their places as one assembly called ``name``, lengths in mm.

    Parts of one product are one solid in the file, placed several times under their names.

    Raises:
        SolidError: the kernel failed.
        OSError: the file cannot be written.
    """
    with kernel.guarded(name, "writing STEP", f"{len(parts)} parts"):
        document, shapes = _document()
        root = shapes.NewShape()
        _name(root, name)
        products: dict[str, TDF_Label] = {}
        for part in parts:
            if part.product not in products:
                products[part.product] = _add(shapes, part.product, part.flat)
            placed = shapes.AddComponent(root, products[part.product], part.location.wrapped)
            _name(placed, part.name)
        shapes.UpdateAssemblies()
        text = _transferred(document)
    colors = {part.product: part.color for part in parts}
    path.write_text(finished(text, path.name, title, colors), "ascii", newline="\n")


def write_part(path: Path, part: Part, title: str) -> None:
    """Write one part lying flat, as a product of its own name, lengths in mm.

    Raises:
        SolidError: the kernel failed.
        OSError: the file cannot be written.
    """
    with kernel.guarded(part.name, "writing STEP", part.sizes):
        document, shapes = _document()
        _add(shapes, part.name, part.flat)
        text = _transferred(document)
    path.write_text(
        finished(text, path.name, title, {part.name: part.color}), "ascii", newline="\n"
    )


def _document() -> tuple[TDocStd_Document, XCAFDoc_ShapeTool]:
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    return document, XCAFDoc_DocumentTool.ShapeTool_s(document.Main())


def _add(shapes: XCAFDoc_ShapeTool, name: str, shape: cq.Shape) -> TDF_Label:
    label = shapes.AddShape(shape.wrapped, False)
    _name(label, name)
    return label


def _name(label: TDF_Label, name: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))


def _transferred(document: TDocStd_Document) -> str:
    """Return the kernel's STEP text of a document."""
    writer = STEPCAFControl_Writer()
    # Settings are for the whole process, and are ignored before the first writer exists.
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    # Curves on surfaces double the size of the file and nobody needs them.
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    writer.SetNameMode(True)
    writer.SetColorMode(False)
    stream = BytesIO()
    if not writer.Transfer(document) or writer.WriteStream(stream) != IFSelect_RetDone:
        raise RuntimeError("the kernel could not transfer the shapes")
    return stream.getvalue().decode("ascii")


def finished(text: str, file: str, title: str, colors: dict[str, Color]) -> str:
    """Return the kernel's text with a header of ours, colors, and occurrences counted from 1.

    Args:
        text: as the kernel wrote it, without colors.
        file: the file's name, for the header.
        title: the design's title, for the header.
        colors: sRGB by product.
    """
    schema = text[text.index("FILE_SCHEMA") : text.index("ENDSEC;")]
    body = text[text.index("DATA;") : text.rindex("ENDSEC;")]
    # The kernel counts on from the file before, and breaks lines by how long its count is.
    numbers = count(1)
    body = OCCURRENCE.sub(lambda found: f"'{next(numbers)}'{BREAK.sub('', found[1])};", body)
    header = (
        "ISO-10303-21;\nHEADER;\n"
        f"FILE_DESCRIPTION(({_text(title)}),'2;1');\n"
        f"FILE_NAME({_text(file)},'{STAMP}',(''),(''),'Open CASCADE','collarwright','');\n"
        f"{schema}ENDSEC;\n"
    )
    return header + body + "".join(_styles(body, colors)) + "ENDSEC;\nEND-ISO-10303-21;\n"


def _text(words: str) -> str:
    """Return a string as ISO 10303-21 writes it: quotes doubled, other letters as hex codes."""
    plain = words.replace("\\", "\\\\").replace("'", "''")
    return "'" + re.sub(r"[^ -~]", _escaped, plain) + "'"


def _escaped(found: re.Match[str]) -> str:
    code = ord(found[0])
    return f"\\X2\\{code:04X}\\X0\\" if code < 0x10000 else f"\\X4\\{code:08X}\\X0\\"


def _styles(body: str, colors: dict[str, Color]) -> Iterable[str]:
    """Yield the records that color the solids of each product (ISO 10303-46)."""
    records = {number: (kind, rest) for number, kind, rest in RECORD.findall(body)}
    following = 1 + max(int(number) for number in re.findall(r"^#(\d+) = ", body, re.MULTILINE))
    for number, (kind, rest) in records.items():
        if kind != "SHAPE_DEFINITION_REPRESENTATION":
            continue
        shape_of, representation = _references(rest)
        color = colors.get(_product(records, shape_of))
        if color is None:
            continue
        _, items = records[representation]
        *members, context = _references(items)
        solids = [each for each in members if "BREP" in records[each][0]]
        if not solids:
            raise RuntimeError(f"record #{number} has no solid to color")
        a = following
        red, green, blue = (f"{part:.6f}" for part in color)
        yield f"#{a} = COLOUR_RGB('',{red},{green},{blue});\n"
        yield f"#{a + 1} = FILL_AREA_STYLE_COLOUR('',#{a});\n"
        yield f"#{a + 2} = FILL_AREA_STYLE('',(#{a + 1}));\n"
        yield f"#{a + 3} = SURFACE_STYLE_FILL_AREA(#{a + 2});\n"
        yield f"#{a + 4} = SURFACE_SIDE_STYLE('',(#{a + 3}));\n"
        yield f"#{a + 5} = SURFACE_STYLE_USAGE(.BOTH.,#{a + 4});\n"
        yield f"#{a + 6} = PRESENTATION_STYLE_ASSIGNMENT((#{a + 5}));\n"
        styled = [a + 7 + k for k in range(len(solids))]
        for own, solid in zip(styled, solids, strict=True):
            yield f"#{own} = STYLED_ITEM('color',(#{a + 6}),#{solid});\n"
        following = a + 8 + len(solids)
        items = ",".join(f"#{own}" for own in styled)
        yield (
            f"#{following - 1} = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',"
            f"({items}),#{context});\n"
        )


def _references(rest: str) -> list[str]:
    return re.findall(r"#(\d+)", rest)


def _product(records: dict[str, tuple[str, str]], shape_of: str) -> str:
    """Return the product's name that a PRODUCT_DEFINITION_SHAPE belongs to."""
    number = shape_of
    while records[number][0] != "PRODUCT":
        number = _references(records[number][1])[0]
    return records[number][1].split("'")[1]
