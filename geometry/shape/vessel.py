"""Kegs and cylinders, each a thing of its own with its name, sizes and mass."""

from dataclasses import dataclass

from ...params.project import Project
from ...params.project import Vessel as VesselRow
from ...params.values import is_tap
from .taps import Tap


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """A keg or cylinder, mm and kg; ``row`` is the index of its ``[[vessel]]`` table.

    ``spot`` is that index and its number in the row, which stay when its kind and name change.

    ``fitting`` is how far coupler, disconnects or regulator stand above its top (None: nobody
    knows), within ``fitting_radius`` of its axis. ``side_reach`` is how far a regulator points
    away from a gas cylinder's wall; None for what is no gas cylinder. ``tap`` is what it feeds.
    """

    name: str
    row: int
    spot: tuple[int, int]
    diameter: float
    height: float
    fitting: float | None
    fitting_radius: float
    side_reach: float | None
    full_mass: float | None
    tap: int | None

    @property
    def tall(self) -> float:
        """Its height with its fitting, mm; without, where nobody knows it."""
        return self.height + (self.fitting or 0.0)


def vessels(project: Project, taps: tuple[Tap, ...]) -> tuple[Vessel, ...]:
    """Return every single vessel, row by row; like ones are numbered over all rows."""
    bases = [row.kind or f"vessel-{number}" for number, row in enumerate(project.vessel, 1)]
    total: dict[str, int] = {}
    for base, row in zip(bases, project.vessel, strict=True):
        total[base] = total.get(base, 0) + row.count
    seen: dict[str, int] = {}
    found: list[Vessel] = []
    for index, (base, row) in enumerate(zip(bases, project.vessel, strict=True)):
        for number in range(row.count):
            seen[base] = seen.get(base, 0) + 1
            name = base if total[base] == 1 else f"{base} {seen[base]} of {total[base]}"
            found.append(_vessel(project, row, (index, number), name, taps))
    return tuple(found)


def _vessel(
    project: Project, row: VesselRow, spot: tuple[int, int], name: str, taps: tuple[Tap, ...]
) -> Vessel:
    """Make one vessel: what was measured goes before the figures of its kind.

    A keg's coupler stands on its axis; a soda keg's disconnects stand beside its handles and a
    regulator on the valve, and may take as much room as the vessel itself.
    """
    part = project.part("vessels", row.kind)

    def size(own: float | None, figure: str) -> float:
        return own if own is not None else part.value(figure) if part else 0.0

    diameter = size(row.diameter, "diameter")
    kind = part.text("kind") if part else ""
    reach = part.get("side_reach") if part else None
    radius = diameter / 2
    if kind == "keg" and reach is not None:
        radius = min(radius, reach)
    feeds = next((tap.number for tap in taps if is_tap(row.tap, tap.number, tap.name)), None)
    return Vessel(
        name=name,
        row=spot[0],
        spot=spot,
        diameter=diameter,
        height=size(row.height, "height"),
        fitting=part.value("fitting_height") if part and row.fitting is None else row.fitting,
        fitting_radius=radius,
        side_reach=reach if kind.endswith("cylinder") else None,
        full_mass=part.get("full_mass") if part else None,
        tap=feeds,
    )
