"""What is said of the saw's test ring: how far the scale is off, and how well that is known."""

from collections.abc import Iterator

from ...params.project import Project
from ...params.reading.keys import every
from ...params.units import gap_text
from ..shape.layout import Layout
from ..shape.saw_ring import NEAR, ring_spread_deg
from .inputs import error_of


def remarks(project: Project, layout: Layout) -> Iterator[str]:
    """Yield the remark; nothing without a ring."""
    shop, ring = project.shop, layout.ring
    off = ring.off_deg
    if shop is None or shop.ring_gap is None or off is None:
        return
    reading = error_of(every()["shop.ring_gap"], project)
    spread = ring_spread_deg(shop.ring_gap, reading, ring.thickness)
    known = (
        f"a gap read to {gap_text(reading, project.show)} makes that good to {spread:.2f} deg;"
        f" set so within {NEAR:g} deg of that tilt only"
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
