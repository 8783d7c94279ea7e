"""Gas in a cylinder, a hose and a room: what a gauge shows, and what a leak makes of the air.

Pressures in kPa, temperatures in degC, masses in kg, volumes in m3. Gauge pressure is what the
gauge shows, over the air's own.
"""

SEA_LEVEL = 101.325
"""Pressure of the air at sea level, kPa (ISO 2533 standard atmosphere)."""

ZERO = 273.15
"""0 degC in K."""

CO2_DENSITY = 1.839
"""kg/m3 at 20 degC and 101.325 kPa (an equation of state, CoolProp; an ideal gas: 1.830)."""

NITROGEN_DENSITY = 1.165
"""kg/m3 at 20 degC and 101.325 kPa (ideal gas, 28.013 g/mol)."""

BLEND_CO2 = 0.30
"""Most CO2 in blended gas, by volume (common practice: 25 to 30 %, the rest nitrogen). With
nitrogen's density its volume comes out too large: on the side of caution."""

OXYGEN = 0.2095
"""Share of oxygen in air, by volume (ISO 2533)."""

CO2_EIGHT_HOURS, CO2_SHORT, CO2_DANGER = 5_000, 30_000, 40_000
"""Limits of CO2 in the air at work, ppm: OSHA PEL and NIOSH REL over a shift; NIOSH short term; and
immediately dangerous to life or health (NIOSH IDLH documentation 124-38-9, May 1994)."""

LEAST_OXYGEN = 0.195
"""Air with less oxygen is deficient in it (29 CFR 1910.146(b)), share by volume."""


def air_pressure(altitude: float) -> float:
    """Return the pressure of the air at a height above the sea, kPa.

    ``p = 101.325 (1 - 2.25577e-5 h)^5.25588`` with h in m, up to 11 km (ISO 2533, constants from
    memory).

    Args:
        altitude: height above the sea, m; negative below it.
    """
    return SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.25588


def density_at(density: float, temperature: float, air: float) -> float:
    """Return a gas's density in a room, kg/m3: an ideal gas; in thin air it takes more room.

    Args:
        density: at 20 degC and 101.325 kPa, kg/m3.
        temperature: of the room, degC.
        air: pressure of the air there, kPa.
    """
    return density * air / SEA_LEVEL * (20 + ZERO) / (temperature + ZERO)


def gauge_after(gauge: float, before: float, after: float, air: float = SEA_LEVEL) -> float:
    """Return what a gauge shows once shut-in gas has another temperature, with no leak.

    ``P2 = (P1 + p) T2 / T1 - p``: an ideal gas in a volume that stays. It holds for gas alone:
    a drink takes CO2 up as it cools, and liquid CO2 in the cylinder boils after what is drawn.

    Args:
        gauge: what it showed, kPa.
        before: temperature of the gas then, degC.
        after: its temperature now, degC.
        air: pressure of the air, kPa.
    """
    return (gauge + air) * (after + ZERO) / (before + ZERO) - air


def share_of_room(mass: float, density: float, room: float) -> float:
    """Return the share of a closed room's air that so much gas makes, mixed evenly; 0 to 1.

    ``V / V_room``, the upper figure: in a real room some of the mixture is pushed out. Near the
    floor and in the well a heavy gas is not mixed, and there is more of it.

    Args:
        mass: of the gas, kg.
        density: of the gas in the room, kg/m3.
        room: volume of the room, m3.
    """
    return min(1.0, mass / density / room)


def oxygen_left(share: float) -> float:
    """Return the share of oxygen in air of which a gas makes up ``share``, 0 to 0.2095."""
    return OXYGEN * (1 - share)
