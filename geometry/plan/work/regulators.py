"""Regulators: how many pressures the drinks want, and what each of them hangs on."""

from collections.abc import Iterator
from itertools import groupby

from ....params.project import Pour
from ....params.values import is_tap
from ..cylinders import cylinders
from ..hoses import hoses as on_manifold
from ..pressures import ALIKE_WARM, pressures, set_point
from .job import Job, called, listed


def several(job: Job) -> tuple[str, ...]:
    """Return the gases of which drinks want more than one pressure."""
    wanted = [each.gas for each in pressures(job.project)]
    return tuple(gas for gas in dict.fromkeys(wanted) if wanted.count(gas) > 1)


def pressure_figures(job: Job) -> Iterator[tuple[str, str]]:
    """Yield each pressure of a gas, the least first, with the drinks that want it."""
    many = several(job)
    for gas, found in groupby(pressures(job.project), key=lambda each: each.gas):
        for number, each in enumerate(found, 1):
            name = f"{gas}, pressure {number}" if gas in many else gas
            yield name, f"{each.kind}: {listed([_drink(job, pour) for pour in each.pours])}"


def _drink(job: Job, pour: Pour) -> str:
    tap = next((t for t in job.layout.taps if is_tap(pour.tap, t.number, t.name)), None)
    return called(tap) if tap is not None else f"tap {pour.tap}"


def hoses(job: Job) -> str:
    """Return from where to where the hoses run.

    The manifold has one pressure of one gas: that of most kegs, the highest where alike.
    """
    tee = "with a tee where one regulator feeds more than it has outlets"
    branch = "; from a tee behind the first regulator to each secondary one, and from there"
    second = f"{branch} straight to its kegs" if several(job) else ""
    if job.layout.manifold is None:
        return f"regulator to each keg, {tee}{second}"
    hung = on_manifold(job.project, job.layout)
    gases = {each.gas for each in (*cylinders(job.project), *pressures(job.project))}
    own, keg, other = "", "keg", ""
    if len(gases) > 1:
        own, keg = (f"{hung.gas} ", f"{hung.gas} keg") if hung.gas else ("one ", "keg of its gas")
        other = (
            ", and from the regulator of each other gas straight to its kegs, past the manifold,"
            f" {tee}"
        )
    if hung.pressure is not None and hung.gas in several(job):
        wanted = f" at its pressure ({hung.pressure.kind}: of most kegs, the highest where alike)"
        if hung.second:
            second = f"{branch} to its kegs, straight or over the manifold"
            own = f"secondary {own}"
            other = f", and from the first regulator straight to its kegs, past the manifold{other}"
    else:
        wanted = ""
    return f"{own}regulator to manifold, manifold to each {keg}{wanted}{other}{second}"


def said(job: Job) -> tuple[str, ...]:
    """Return what there is to say of drinks that one regulator cannot serve, or one well."""
    return (*_pressed(job), *_warm(job))


def _warm(job: Job) -> tuple[str, ...]:
    """Return the sentence about drinks that want several temperatures; one well has one."""
    low = set_point(job.project)
    asked = [each.temperature for each in job.project.pour if each.temperature is not None]
    if low is None or max(asked) - low <= ALIKE_WARM:
        return ()
    high = max(asked)
    return (
        f"The drinks want {job.warmth(low)} to {job.warmth(high)}, but one well keeps all of them"
        f" at the set-point, {job.warmth(low)}: set each pressure for a drink as cold as that.",
    )


def _pressed(job: Job) -> tuple[str, ...]:
    """Return the sentence about drinks that one regulator cannot serve; none where one can."""
    many = several(job)
    if many:
        return (
            f"One regulator holds one pressure, and so does a manifold, but drinks on"
            f" {listed(list(many))} want several (the figures here). Each pressure has a regulator"
            " of its own: the first one holds the highest, a secondary regulator on a hose behind"
            " it each lower one; or take a first regulator whose outlets are each set by"
            " themselves.",
        )
    if len(job.layout.taps) > 1 and not pressures(job.project):
        return (
            "One regulator holds one pressure, and so does a manifold: a drink that wants another"
            " one needs a secondary regulator. What the drinks want is not in the build file.",
        )
    return ()
