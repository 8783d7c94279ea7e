"""What the collar stands on and what the lid closes on: the seal below, the cap strip above.

The collar stands on Z = 0, the top of the squeezed seal: the lip's plane lies that much below.
Without ``seat.seal`` nothing is known of a seal and the collar stands on the lip itself.
"""

from dataclasses import dataclass

from ...params.project import Project


@dataclass(frozen=True, slots=True)
class CapStrip:
    """A strip on the boards' top edges; ``inset`` from the outer face to its outer edge, mm."""

    steel: bool
    thickness: float
    width: float
    inset: float


def squeezed(project: Project) -> float:
    """Return the height of the seal under the collar's weight, mm; 0 where none is named.

    Free height less its working compression, both of the ``seals`` catalogue.
    """
    row = project.part("seals", project.seat.seal if project.seat else None)
    if row is None:
        return 0.0
    return row.value("free_height") * (1 - row.value("working_compression") / 100)


def cap_strip(project: Project) -> CapStrip | None:
    """Return the strip on the top edge, None without ``[cap]``."""
    cap = project.cap
    if cap is None:
        return None
    return CapStrip(cap.material == "steel", cap.thickness, cap.width, cap.inset)
