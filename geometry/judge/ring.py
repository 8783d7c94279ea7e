"""What is said of the saw's test ring: how far the scale is off, and how well that is known."""

from collections.abc import Iterator

from ...params.project import Project
from ...params.reading.keys import every
from ...params.units import both_text
from ..shape.layout import Layout
from ..shape.saw_ring import ring_spread_deg
from .inputs import error_of


def remarks(project: Project, layout: Layout) -> Iterator[str]:
    """Yield the remark; nothing without a ring."""
    shop, off = project.shop, layout.scale_off_deg
    if shop is None or shop.ring_gap is None or off is None:
        return
    thickness = shop.ring_thickness or layout.boards[0].thickness
    reading = error_of(every()["shop.ring_gap"], project)
    spread = ring_spread_deg(shop.ring_gap, reading, thickness)
    known = (
        f"a gap read to {both_text(reading, project.show)} makes that good to {spread:.2f} deg;"
        " set so near 45 deg only"
    )
    stands = (
        f"the test ring: with {shop.ring_tilt:.1f} deg on the saw's scale the blade stood at"
        f" {shop.ring_tilt + off:.2f} deg"
    )
    if abs(off) < 0.005:
        yield f"{stands}; {known}"
        return
    lower = "less" if off > 0 else "more"
    yield f"{stands}, so the scale is set to {abs(off):.2f} deg {lower} than a true tilt; {known}"
