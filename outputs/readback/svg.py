"""Reads a drawing's SVG back: true size in mm, the same words and circles as its PDF."""

import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from .pdf import read

SVG = "{http://www.w3.org/2000/svg}"
KNOWN = {"svg", "title", "g", "path", "circle", "text"}
NEAR = 0.02
"""How far a circle may be from the PDF's, mm."""


def compare(path: Path, pdf: Path) -> list[str]:
    """Say what of an SVG is not as it is in the PDF of the same drawing.

    Raises:
        ValueError: one of the files cannot be read.
    """
    return [f"{path.name}: {fault}" for fault in _faults(path, pdf)]


def _faults(path: Path, pdf: Path) -> Iterator[str]:
    try:
        root = ET.fromstring(path.read_bytes())  # noqa: S314 - our own file, just written
    except ET.ParseError as error:
        raise ValueError(f"{path.name} cannot be read: {error}") from error
    page = read(pdf).pages[0]
    strange = {each.tag for each in root.iter()} - {SVG + name for name in KNOWN}
    if strange:
        yield f"holds what is no part of a drawing: {', '.join(sorted(strange))}"
    sizes = [re.fullmatch(r"([\d.]+)mm", root.get(name, "")) for name in ("width", "height")]
    box = [float(each) for each in root.get("viewBox", "0 0 0 0").split()]
    for match, shown, real in zip(sizes, box[2:], (page.width, page.height), strict=True):
        if match is None:
            yield "does not give its size in mm"
        elif abs(float(match[1]) - real) > 0.05 or abs(shown - float(match[1])) > 1e-3:
            yield f"is {match[1]} mm and shows {shown:g}, where the PDF has {real:.2f} mm"
    words = Counter(" ".join((each.text or "").split()) for each in root.iter(f"{SVG}text"))
    printed = Counter(" ".join(each.text.split()) for each in page.texts)
    for text in sorted((words - printed) | (printed - words)):
        yield f"{text!r} is not in both, the SVG and the PDF"
    circles = [
        (float(each.get("cx", 0)), page.height - float(each.get("cy", 0)), float(each.get("r", 0)))
        for each in root.iter(f"{SVG}circle")
    ]
    if len(circles) != len(page.circles):
        yield f"has {len(circles)} circles, the PDF has {len(page.circles)}"
    for circle in page.circles:
        if not any(
            math.dist((x, y), (circle.x, circle.y)) < NEAR and abs(2 * r - circle.diameter) < NEAR
            for x, y, r in circles
        ):
            yield f"no circle at {circle.x:.1f}, {circle.y:.1f} mm as in the PDF"
