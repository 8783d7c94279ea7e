"""The gas cylinders of a build file: which gas, and how much of it."""

from dataclasses import dataclass

from ...params.catalogue import Row
from ...params.project import Project

KIND = " cylinder"
"""How the kind of a cylinder ends in the catalogue of vessels, behind its gas."""


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A gas cylinder: its name, its gas, and how much is in it, kg (None: not known)."""

    name: str
    gas: str
    content: float | None


def gas_of(row: Row | None) -> str:
    """Return the gas of a catalogue's vessel; empty for what is no cylinder."""
    kind = row.text("kind") if row is not None else ""
    return kind.removesuffix(KIND) if kind.endswith(KIND) else ""


def cylinders(project: Project) -> tuple[Cylinder, ...]:
    """Return the gas cylinders of the build file, each as often as there are."""
    found: list[Cylinder] = []
    for each in project.vessel:
        row = project.part("vessels", each.kind)
        gas = gas_of(row)
        if row is None or not gas:
            continue
        full, empty = row.get("full_mass"), row.get("empty_mass")
        content = full - empty if full is not None and empty is not None else None
        found += [Cylinder(row.name, gas, content)] * each.count
    return tuple(found)
