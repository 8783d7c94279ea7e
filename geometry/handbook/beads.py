"""Beads of adhesive or sealant: how many it takes for a width once they are pressed."""

import math

PRESSED = 0.5
"""A round bead is pressed to this share of its diameter (common practice, no source)."""


def bead_count(width: float, bead: float) -> int:
    """Return how many round beads side by side fill a width once they are pressed, one at least.

    A bead keeps its area: pressed to half its diameter ``d`` it is ``pi d^2 / 4 / (d / 2)`` =
    ``pi d / 2`` wide. Plane geometry.

    Args:
        width: of adhesive or sealant, pressed, mm.
        bead: diameter of a bead as it leaves the cartridge, mm, above zero.
    """
    wide = math.pi / 4 * bead / PRESSED
    return max(1, math.ceil(width / wide - 1e-9))
