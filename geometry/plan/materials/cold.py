"""What keeps it cold and dry: controller, passages, drip tray; and what cleans it."""

import math
from collections import Counter
from collections.abc import Iterator

from ....params import supplies
from ...shape.tray import screws as tray_screws
from ...shape.tray import side_of, under
from ..shown import PRACTICE
from .drinks import gases
from .item import Item, Job

GROUP = "cold"

PLUG = 10.0
"""What of a passage is closed with sealant at each face, mm (common practice, no source)."""


def cold(job: Job) -> Iterator[Item]:
    """Yield controller and probe, what closes the passages, and the drip tray."""
    yield Item(
        id="temperature-controller", group=GROUP, name="temperature controller with probe, plug-in",
        net=1, basis="common practice", source=PRACTICE,
        why="made for the current with which the freezer's compressor starts; outlet with ground"
        " fault protection where the local code asks for it",
    )  # fmt: skip
    yield Item(
        id="gfci-outlet", group=GROUP, name="outlet with GFCI (RCD), or a plug-in one", net=1,
        basis="common practice", source=PRACTICE,
        why="if the outlet has none; new or altered wiring is a licensed electrician's work",
    )  # fmt: skip
    counts = Counter(each.diameter for each in job.project.hole)
    for across, count in counts.items():
        yield Item(
            id=f"sleeve-{job.slug(across)}", group=GROUP,
            name=f"sleeve or backer rod for a hole of {job.length(across)}", net=2 * count,
            source="one on each face", why="edges of the passages, so that nothing chafes",
        )  # fmt: skip
    if counts:
        row = supplies.row(job.project, "adhesives", supplies.LIP["sealant"])
        volume = sum(math.pi / 4 * d**2 * PLUG * 2 * n for d, n in counts.items()) / 1000
        over = row.figures.get("over")
        yield Item(
            id=row.id, group="lip", name=f"{row.name}, {row.value('cartridge'):g} mL",
            unit="mL", net=volume,
            allowance=over.value if over else 0.0,
            pack=row.value("cartridge"), pack_name="cartridge",
            basis="common practice",
            source=f"each passage closed {job.length(PLUG)} deep at both faces: {PRACTICE}",
            why="closes the passages about cable and hose",
        )  # fmt: skip
    tray, side = job.project.tray, side_of(job.project)
    if tray is not None and side is not None:
        board = job.layout.board(side)
        count = len(tray_screws(job.project, board, under(board, job.layout.covers, job.project)))
        apart = f", {job.length(tray.spacing)} apart" if tray.spacing and count > 1 else ""
        yield Item(
            id="drip-tray", group=GROUP,
            name=f"drip tray that hangs on {count} screw{'' if count == 1 else 's'}{apart}", net=1,
            why="on the collar's wood alone",
        )  # fmt: skip


def cleaning(job: Job) -> Iterator[Item]:
    """Yield what lines are cleaned and joints tried with."""
    for part_id, name, why in (
        ("line-cleaner", "caustic line cleaner, a small bottle", "before the first pour, then every"
         " 14 days"),
        ("ph-paper", "paper for pH", "rinse until it shows the same as tap water"),
        ("faucet-brush", "faucet brush", "faucets are taken apart and brushed"),
        ("leak-soap", "soap solution in a spray bottle, free of ammonia and chlorides",
         "bubbles show a leak on the gas side"),
    ):  # fmt: skip
        yield Item(
            id=part_id, group="cleaning", name=name, net=1, why=why,
            basis="common practice", source=PRACTICE,
        )  # fmt: skip


def protection(job: Job) -> Iterator[Item]:
    """Yield what protects who builds and who pours."""
    found = [
        ("goggles", "goggles", "saw, drill, caustic cleaner"),
        (
            "cleaner-gloves",
            "gloves for caustic cleaner, up to the elbow",
            "never near a saw or bit",
        ),
        ("hearing-protection", "hearing protection", "saw and router"),
        ("dust-mask", "dust mask, P2 or N95", "wood and foam dust"),
    ]
    if job.layout.cap is not None and job.layout.cap.steel:
        found.append(("steel-gloves", "gloves for sheet steel", "its edges cut like knives"))
    brushed = supplies.brushed(job.project)
    if any(row.text("base") == "oil" for row in brushed):
        rags = (
            "rags with oil heat up by themselves: dry them flat outdoors or keep them under water"
        )
        found.append(("rag-can", "metal can with a lid, for rags", rags))
    used = gases(job)
    if not used or used.keys() & {"CO2", "blended gas"}:
        found.append(
            ("co2-alarm", "CO2 alarm, low down near the freezer",
             "consider one, the local code comes first; an oxygen alarm is not enough")
        )  # fmt: skip
    if not used or used.keys() & {"nitrogen", "blended gas"}:
        found.append(
            ("oxygen-alarm", "oxygen alarm",
             "where nitrogen or a blend is used; consider one, the local code comes first")
        )  # fmt: skip
    if any(supplies.gloves(row) for row in (supplies.glue(job.project), *brushed)):
        found.append(
            ("glue-gloves", "gloves for glue and finish, thin ones to throw away",
             "skin that has become allergic to epoxy or polyurethane glue stays so")
        )  # fmt: skip
    for part_id, name, why in found:
        yield Item(
            id=part_id, group="protection", name=name, net=1, why=why,
            basis="common practice", source=PRACTICE,
        )  # fmt: skip
