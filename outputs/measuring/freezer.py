"""The freezer that is drawn on the measuring sheet: nobody's in particular.

Numbers of our own, within what is usual (common practice, no source); what is small on a real one
is drawn large, so that it can be seen where the tape is held. Everything is in mm.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Freezer:
    """A freezer with its lid, hinge, inside and room, mm and degrees."""

    lip_length: float = 900.0
    lip_width: float = 560.0
    land_starts: float = 14.0
    land: float = 46.0
    corner_radius: float = 60.0
    lip_height: float = 840.0
    lid_overhang: float = 20.0
    lid_thickness: float = 56.0
    gasket_height: float = 9.0
    gasket_inset: float = 52.0
    gasket_width: float = 28.0
    skirt: float = 26.0
    skirt_thickness: float = 8.0
    plug: float = 22.0
    plug_inset: float = 106.0
    axis_behind: float = 26.0
    axis_below: float = 16.0
    leaf_height: float = 46.0
    leaf_thickness: float = 5.0
    open_to_deg: float = 80.0
    mouth_length: float = 760.0
    mouth_width: float = 420.0
    floor_length: float = 680.0
    floor_width: float = 350.0
    well_height: float = 660.0
    well_corner: float = 55.0
    step_length: float = 210.0
    step_height: float = 230.0
    room_behind: float = 230.0
    room_above: float = 900.0
    room_left: float = 190.0
    room_right: float = 260.0
    vessel_diameter: float = 230.0
    vessel_height: float = 560.0
    vessel_fitting: float = 60.0


FREEZER = Freezer()
