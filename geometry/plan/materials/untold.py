"""What a list cannot hold because the build file does not say it."""

from collections.abc import Iterator

from ....params.project import Project
from ..cylinders import cylinders, gas_of
from ..pressures import USUAL, drink_of, pressures


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
        for drink, gas in _without_gas(project):
            yield f"cylinder and regulator of what is {drink} ({gas})", ("vessel",)


def _without_gas(project: Project) -> Iterator[tuple[str, str]]:
    """Yield the kinds of drink whose gas is in no cylinder of the file, with what suits them."""
    there = {each.gas for each in cylinders(project)}
    missing = {each.drink: each.gas for each in pressures(project) if each.gas not in there}
    for drink, gas in missing.items():
        usual = USUAL[drink]
        yield drink, " or ".join(usual) if gas == usual[0] else gas


def _feeding(project: Project) -> int:
    """Count the vessels that drink comes from: all that are no gas cylinder."""
    return sum(
        each.count for each in project.vessel if not gas_of(project.part("vessels", each.kind))
    )


def _fixed(project: Project) -> bool:
    """Tell whether it is said what fixes the hinge's leaves."""
    hinge = project.hinge
    if hinge is None:
        return False
    return (hinge.bolt if hinge.fix == "bolt" else hinge.screw) is not None
