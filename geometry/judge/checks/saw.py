"""Can this saw cut it? The tilt, the width and the depth that the boards ask of it.

Many saws stop at 45 degrees, and every lip out of square that is followed has a corner past
that: then the blade does not reach, or the fence has to help. The stop is read on the saw's
scale, so where a test ring told how far that is off at about this tilt, the setting has to stay
below the stop.
"""

from collections.abc import Iterator
from dataclasses import replace

from ..design import Design
from ..finding import Check, Finding, Where

SAW = Check(
    id="saw",
    weight="must",
    unit="mm",
    question="can this saw cut the boards?",
    source="the saw's own limits against the layout",
    levers=("board.follow", "board.stock"),
)
TILT = replace(SAW, unit="deg")


def find(design: Design) -> Iterator[Finding]:
    """Yield what is left of the blade's tilt, of the cross-cut and of the tilted depth."""
    shop, layout = design.project.shop, design.layout
    if design.project.as_built:
        yield SAW.nothing_near(Where(), "the boards are cut already")
        return
    board = layout.boards[0]
    steepest = max(layout.frame.corners, key=lambda corner: corner.miter_deg)
    setting = layout.ring.setting_deg(steepest.miter_deg)
    furthest = f"the blade tilts furthest at {steepest.name}"
    if layout.ring.too_far(steepest.miter_deg):
        furthest += (
            f", {steepest.miter_deg:.1f} deg: too far from the test ring, prove this tilt on scraps"
        )
    elif setting is not None:
        furthest += f", {steepest.miter_deg:.1f} deg: {setting:.1f} on the scale, by the test ring"
    else:
        furthest += "; what the scale is worth there a test ring tells (shop.ring_gap)"
    asked = (
        (TILT, "tilt_max", steepest.miter_deg if setting is None else setting, furthest),
        (SAW, "cross_cut", board.width, "the boards' width lies across the cut"),
        (SAW, "cut_depth_tilted", board.thickness, "the tilted blade goes through the board"),
    )
    for check, key, needed, why in asked:
        where = Where(text=key)
        missing = design.lacking(f"shop.{key}")
        if missing or shop is None:
            yield check.not_checked(where, missing, why)
        else:
            yield check.at_least(where, getattr(shop, key) - needed, 0.0, why)
