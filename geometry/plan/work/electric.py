"""Controller, probe, and the passages that are sealed behind cables and hoses."""

from collections.abc import Iterator

from ..pressures import COLD, set_point
from ..shown import PRACTICE
from . import cautions
from .job import Job, words
from .step import Step, after

PHASE = "Controller"

FREEZES = "Below 0 degC what is mostly water freezes: first in the lines, then in the vessels."
"""Common practice."""

DELAY = (5.0, 10.0)
"""How long a compressor is kept off before it starts again, minutes (common practice)."""


def steps(job: Job) -> Iterator[Step]:
    """Yield the controller, and the passages if there are any."""
    yield _controller(job)
    if job.project.hole:
        yield _passages(job)


def _probe_way(job: Job) -> str:
    named = [each for each in job.project.hole if each.name]
    found = next((each for each in named if "probe" in (each.name or "").casefold()), None)
    if found is not None:
        return f'Lead the probe\'s cable through the passage "{found.name}", {found.side}.'
    if job.project.hole:
        return "Lead the probe's cable through a passage that has room for it."
    return (
        "The build file has no passage for the probe's cable: lead it flat under the seal at the"
        " back. Under the lid's gasket it is pinched."
    )


def _controller(job: Job) -> Step:
    asked = set_point(job.project)
    point = COLD if asked is None else asked
    pad = "scrap of foam" if job.layout.panels else "pad of something that insulates"
    return Step(
        id="controller",
        phase=PHASE,
        title="Fit the controller and its probe",
        do=(
            "Hang the controller outside, off the floor, where no drip reaches it; all of it is"
            " unplugged.",
            _probe_way(job),
            "Once the kegs are in, tape the probe to the side of a full one, half way up, under a"
            f" {pad}; or hang it into a closed bottle of water. In air it switches the"
            " compressor too often.",
            "Set-point and delay (it keeps the compressor off between starts) are set once the"
            " controller has power, before the freezer's plug goes into it.",
            "Turn the freezer's own thermostat to its coldest: the controller switches the plug.",
            "Compare the controller's fuse and relay with the freezer's nameplate: a compressor"
            " draws several times its running current when it starts.",
        ),
        hands=(0.5, 1.0),
        figures=(
            ("set-point", job.warmth(point) + ("" if asked is not None else ", common practice")),
            ("delay between starts", f"{DELAY[0]:g} to {DELAY[1]:g} min"),
        ),
        cautions=(
            cautions.WALLS,
            *((FREEZES,) if point < 0 else ()),
            "Wire nothing yourself that the local code keeps for an electrician; a controller that"
            " is sold with plug and socket needs no wiring.",
        ),
        after=after("lid-on"),
        assumed=() if asked is not None else ("pour.temperature",),
        sources=(f"set-point without a drink's temperature, probe and delay: {PRACTICE}",),
    )


def _passages(job: Job) -> Step:
    holes = job.project.hole
    return Step(
        id="passages",
        phase=PHASE,
        title=f"Seal {words(len(holes), 'passage')}",
        do=(
            "With every cable and hose through: push a sleeve or backer rod round it, flush with"
            " both faces.",
            "Seal both ends with a sealant that comes out again, inside and outside. Warm air that"
            f" gets in freezes at the probe and wets the {job.lined}.",
        ),
        hands=(0.25, 0.5),
        figures=tuple(
            (
                f"{each.name or f'passage-{n}'}, {each.side}",
                f"{job.bit(each.diameter)} across, {job.length(each.height)} up",
            )
            for n, each in enumerate(holes, 1)
        ),
        after=after("controller", "gas"),
        sources=(f"sleeve and sealant: {PRACTICE}",),
    )
