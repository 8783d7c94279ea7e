"""What a list cannot hold because the build file does not say it."""

from collections.abc import Iterator

from ....params.project import Project
from ..pressures import drink_of

SUITED = {"carbonated": ("CO2", "blended gas"), "nitrogenated": ("nitrogen", "blended gas")}
"""Gases of cylinders that a kind of drink is held and pushed by (common practice)."""


def untold(project: Project) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield what is not on the list, in words, with the keys that would bring it there."""
    seat, hinge = project.seat, project.hinge
    if seat is None or seat.hold is None:
        yield "what holds the collar on the lip", ("seat.hold",)
    if seat is None or seat.seal is None:
        yield "the seal under the boards", ("seat.seal",)
    if project.board.bracket is None:
        yield "brackets in the inner corners", ("board.bracket",)
    if hinge is None or not hinge.positions or not hinge.screws or not _fixed(project):
        yield (
            "the hinge's screws or bolts",
            ("hinge.positions", "hinge.screws", "hinge.fix", "hinge.screw"),
        )
    if not project.vessel:
        yield "kegs, cylinders and the regulator of each gas", ("vessel",)
    elif _feeding(project) > 1 and not any(drink_of(each) for each in project.pour):
        yield "regulators for drinks of another pressure", ("pour.drink", "pour.carbonation")
    else:
        for drink in _without_gas(project):
            gas = " or ".join(SUITED[drink])
            yield f"cylinder and regulator of what is {drink} ({gas})", ("vessel",)


def _without_gas(project: Project) -> Iterator[str]:
    """Yield the kinds of drink that are poured, and whose gas is in no cylinder of the file."""
    rows = [project.part("vessels", each.kind) for each in project.vessel]
    there = {row.text("kind").removesuffix(" cylinder") for row in rows if row is not None}
    poured = {each.drink for each in project.pour}
    for drink, gases in SUITED.items():
        if drink in poured and not there.intersection(gases):
            yield drink


def _feeding(project: Project) -> int:
    """Count the vessels that drink comes from: all that are no gas cylinder."""
    kinds = ((each, project.part("vessels", each.kind)) for each in project.vessel)
    return sum(
        each.count for each, row in kinds if not row or not row.text("kind").endswith(" cylinder")
    )


def _fixed(project: Project) -> bool:
    """Tell whether it is said what fixes the hinge's leaves."""
    hinge = project.hinge
    if hinge is None:
        return False
    return (hinge.bolt if hinge.fix == "bolt" else hinge.screw) is not None
