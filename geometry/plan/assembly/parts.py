"""What a collar is put together from, in the natural order of work, out of its layout.

The ring with brackets, covers, cap and foam; on the lip; the hinge's leaves and the lid; shanks
with their nuts, faucets, handles; the gas side; the lines with their tails; the drip tray; and
the freezer back at its wall. The freezer's own body and vessels in the well stand in nobody's way
here: one works from above with the lid open and the well empty.
"""

from ....params.project import Project
from ...shape.layout import Layout
from .frame import frame_operations
from .hung import hinge_operations, kept_free, tray_operations, wall_operations
from .part import Parts
from .taps import manifold_operations, tap_operations


def parts(project: Project, layout: Layout) -> Parts:
    """Return what is put together in the natural order of work, and what stands there before."""
    of_taps = [each for tap in layout.taps for each in tap_operations(project, layout, tap)]
    outside = ("faucet", "handle")
    operations = (
        *frame_operations(project, layout),
        *hinge_operations(project, layout),
        *(each for each in of_taps if not each.id.endswith((*outside, "tail"))),
        *(each for end in outside for each in of_taps if each.id.endswith(end)),
        *manifold_operations(project, layout),
        *(each for each in of_taps if each.id.endswith("tail")),
        *tray_operations(project, layout),
        *wall_operations(project, layout),
    )
    return Parts(operations, kept_free(project, layout))
