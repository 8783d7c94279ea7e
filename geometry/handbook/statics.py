"""A lid on its hinge and a collar on its lip, as rigid bodies: moments in N mm, lengths in mm.

Angles are the lid's opening from closed, degrees. The center of mass is given for the closed
lid: how far ahead of the hinge axis and how far above it. Plain statics, so no source is needed.
"""

import math

GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2 (CGPM 1901)."""


def lid_moment(mass: float, ahead: float, above: float, angle_deg: float) -> float:
    """Return the moment of the lid's weight about its hinge axis, N mm; positive closes it.

    ``M = m g (x cos th - z sin th)``, for any angle. Moments of parts add up, so a skirt is its
    own mass at its own place, below the axis with a negative ``above``.

    Args:
        mass: of the lid, kg.
        ahead: center of mass ahead of the axis, lid closed, mm.
        above: center of mass above the axis, lid closed, mm.
        angle_deg: how far the lid is open.
    """
    th = math.radians(angle_deg)
    return mass * GRAVITY * (ahead * math.cos(th) - above * math.sin(th))


def balance_deg(ahead: float, above: float) -> float:
    """Return the angle at which the lid stands by itself and tips over, degrees."""
    return 90.0 - math.degrees(math.atan2(above, ahead))


def stop_moment(mass: float, ahead: float, above: float, stop_deg: float) -> float:
    """Return the moment that the open stop takes from the lid's weight, N mm.

    The negative of ``lid_moment`` at the stop; 0 where the lid still leans to the front there,
    so that its own weight wants to close it.
    """
    return max(0.0, -lid_moment(mass, ahead, above, stop_deg))


def spring_reaction(
    mass: float, ahead: float, above: float, open_to_deg: float
) -> tuple[float, float]:
    """Return the greatest moment of a spring that balances the lid, N mm, and its angle.

    A spring hinge that keeps the lid where it is pushes back with ``|lid_moment|`` at each angle
    from 0 to ``open_to_deg``; m g r cos(th + p) has its extremes at both ends and at th = -p.
    """
    peak = -math.degrees(math.atan2(above, ahead))
    angles = [0.0, open_to_deg, *(th for th in (peak, peak + 180.0) if 0.0 < th < open_to_deg)]
    return max((abs(lid_moment(mass, ahead, above, th)), th) for th in angles)


def pull_on_worst(moment: float, levers: tuple[float, ...]) -> float:
    """Return the pull on the most loaded screw of a stiff leaf that a moment turns, N.

    The leaf turns about its edge; screw j stands ``levers[j]`` mm from that edge and takes a
    pull in proportion: ``M e_max / sum(e^2)``, which is ``M / (n e)`` where all stand alike.
    """
    return moment * max(levers) / sum(lever**2 for lever in levers)


def bond_moment(width: float, depth: float, line_strength: float) -> float:
    """Return the moment that a bond along a rectangle's sides holds about its back side, N mm.

    A stiff frame that tips about its back side pulls on the bond in proportion to the distance
    from there, and the bond gives at the front: ``s (W D + 2/3 D^2)``.

    Args:
        width: length of the front side, mm.
        depth: length of the left and right side, mm.
        line_strength: what each length of the bond holds, N/mm.
    """
    return line_strength * (width * depth + 2 * depth**2 / 3)
