"""What a list cannot hold because the build file does not say it."""

from collections.abc import Iterator

from ....params.project import Project


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


def _fixed(project: Project) -> bool:
    """Tell whether it is said what fixes the hinge's leaves."""
    hinge = project.hinge
    if hinge is None:
        return False
    return (hinge.bolt if hinge.fix == "bolt" else hinge.screw) is not None
