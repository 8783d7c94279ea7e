"""The tools, by what this collar asks of them."""

import math
from collections import Counter
from collections.abc import Iterator
from itertools import groupby

from ....params import supplies
from ....params.catalogue import load
from ....params.units import convert
from ...shape.screws import pilot_diameter
from ..shown import PRACTICE
from .fixings import CLEAT_SCREW, cleat_screws, fixings
from .item import SLACK, Item, Job

GROUP = "tools"

CLAMPS_APART = 200.0
"""The most between clamps along a cover or a strip that is glued on, mm (common practice)."""

BLOCK_CLAMPS = 2
"""Clamps on a backing block that is glued (common practice, no source)."""


def tools(job: Job) -> Iterator[Item]:
    """Yield the tools: measuring, sawing, boring, clamping, turning."""
    yield _one("tape-measure", "tape measure of class II, long enough for the diagonal", "readings")
    yield _one("square", "combination square", "marks, and miters held against it")
    tilts = sorted({round(b.miter_left_deg, 1) for b in job.layout.boards})
    told = " and ".join(f"{each:g} deg" for each in ([tilts[0], tilts[-1]] if tilts else []))
    if len(tilts) == 1:
        told = f"{tilts[0]:g} deg"
    yield _one(
        "saw", f"saw whose blade tilts to {told}, with stop block and guards", "boards and covers"
    )
    yield from _boring(job)
    yield from _joinery(job)
    yield from _clamps(job)
    yield from _turning(job)
    if job.layout.panels:
        yield _one("battens", "straight battens of scrap", "brace panels and frame while glue sets")
        yield _one("foam-knife", "knife with a long, thin blade, and a straightedge", "foam panels")
    yield _one("lamp", "lamp to shine from inside", "no light may show between lip and collar")
    yield _one("brush", "brush for the finish, or a roller and a brush", "and another for the glue")
    layout, project = job.layout, job.project
    steel = layout.cap is not None and layout.cap.steel
    if steel:
        yield _one("hacksaw", "hacksaw or tin snips, and a file", "steel strips and their edges")
    if layout.panels or project.hole or steel or supplies.lip_adhesive(project):
        yield _one("caulking-gun", "caulking gun", "cartridges")


def _one(part_id: str, name: str, why: str, count: float = 1) -> Item:
    return Item(
        id=part_id, group=GROUP, name=name, net=count, why=why,
        basis="common practice", source=PRACTICE,
    )  # fmt: skip


def _boring(job: Job) -> Iterator[Item]:
    boards = (*job.layout.boards, *job.layout.covers)
    bores = Counter(
        hole.diameter for b in job.layout.boards for hole in b.holes
        if hole.purpose in ("bore", "passage") and hole.diameter
    )  # fmt: skip
    for across, count in sorted(bores.items()):
        yield Item(
            id=f"bit-{job.bit_slug(across)}", group=GROUP,
            name=f"Forstner bit or hole saw, {job.bit(across)}", net=1,
            why=f"{count} hole{'' if count == 1 else 's'} in the boards",
        )  # fmt: skip
    if bores:
        yield _one("backing-board", "backing board of scrap, and clamps for it", "each bore")
        yield _one("awl", "awl or center punch", "centers through the templates")
    pockets = Counter(
        hole.diameter for panel in job.layout.panels for hole in panel.holes
        if hole.purpose == "pocket" and hole.diameter
    )  # fmt: skip
    for across, count in sorted(pockets.items()):
        yield Item(
            id=f"pocket-cutter-{job.bit_slug(across)}", group=GROUP,
            name=f"hole saw or knife-edged tube for foam, {job.bit(across)}", net=1,
            why=f"{count} pocket{'' if count == 1 else 's'}; a thin knife does it too",
        )  # fmt: skip
    pilots = sorted(
        [
            hole.diameter for b in boards for hole in b.holes
            if hole.purpose == "pilot" and hole.diameter
        ]
        + [pilot_diameter(job.project, load("screws")[CLEAT_SCREW])] * cleat_screws(job)
    )  # fmt: skip
    # Pilots that differ by less than can be told take one bit, that of the narrowest.
    for size, alike in groupby(pilots, job.bit):
        across, *more = alike
        yield Item(
            id=f"drill-{job.bit_slug(across)}", group=GROUP,
            name=f"drill bit {size}"
            + (f" (nearest to {across:.2f} mm)" if job.show == "in" else "") + ", with a stop",
            net=1, why=f"{1 + len(more)} pilot hole{'s' if more else ''}",
        )  # fmt: skip
    if bores or pilots:
        yield _one("drill", "drill press, or a drill with a side handle", "bores and pilot holes")


def _joinery(job: Job) -> Iterator[Item]:
    if not job.layout.joints:
        return
    tool = {
        "spline": "table saw with a jig that holds the miter flat, or a slot cutter",
        "biscuit": "biscuit joiner whose fence takes the miter",
        "dowel": "doweling jig that sits square on the miter",
    }[job.layout.joints[0].kind]
    yield _one("joint-tool", tool, "what holds the miters")
    if job.layout.joints[0].kind == "dowel":
        size = job.length(job.layout.joints[0].thick)
        yield _one("dowel-bit", f"drill bit for dowels, {size}, with a stop", "their holes")


def _clamps(job: Job) -> Iterator[Item]:
    boards = job.layout.boards
    around = sum(each.long_point for each in boards)
    meters = convert(around, "mm", "m")
    yield Item(
        id="band-clamp", group=GROUP, net=1,
        name=f"band clamp or ratchet straps, at least {math.ceil(meters * 10 - SLACK) / 10:.1f} m"
        f" ({math.ceil(convert(around, 'mm', 'foot') - SLACK)} ft)",
        basis="common practice", source=f"once round the collar: {PRACTICE}", why="the miters",
    )  # fmt: skip
    longest = max(each.long_point for each in boards)
    yield Item(
        id="bar-clamp", group=GROUP, net=2,
        name=f"bar clamp that opens to {job.length(longest)}", basis="common practice",
        source=f"two, along or across: {PRACTICE}",
        why="pull the longer diagonal in, hold opposite boards",
    )  # fmt: skip
    covers = job.layout.covers
    if covers:
        yield Item(
            id="small-clamp", group=GROUP, name="clamp that opens to twice the wood",
            net=sum(math.ceil(each.long_point / CLAMPS_APART) + 1 for each in covers),
            basis="common practice", why="covers on their boards; with battens",
            source=f"no more than {job.length(CLAMPS_APART)} apart: {PRACTICE}",
        )  # fmt: skip
    cap = job.layout.cap
    if cap is not None and not cap.steel:
        wide = job.length(boards[0].width + cap.thickness)
        yield Item(
            id="cap-clamp", group=GROUP, name=f"clamp that opens to board and strip, {wide}",
            net=sum(math.ceil(each.long_point / CLAMPS_APART) + 1 for each in job.layout.strips),
            basis="common practice", why="strips on the top edges, from the boards' bottom edges;"
            " one side after the other takes fewer",
            source=f"no more than {job.length(CLAMPS_APART)} apart: {PRACTICE}",
        )  # fmt: skip
    hinge = job.project.hinge
    if hinge is not None and hinge.backing and hinge.positions:
        yield Item(
            id="block-clamp", group=GROUP, name="clamp that opens to board and backing block",
            net=BLOCK_CLAMPS * len(hinge.positions), basis="common practice",
            source=f"{BLOCK_CLAMPS} a block: {PRACTICE}", why="backing blocks, while glue sets",
        )  # fmt: skip


def _turning(job: Job) -> Iterator[Item]:
    if any(fixings(job)):
        yield _one("screwdriver", "screwdriver with a long blade, and a stubby one", "all screws")
        yield _one("wax", "piece of wax", "on screws, so that they go in without splitting wood")
    hinge = job.project.hinge
    if hinge is not None and hinge.fix == "bolt" and hinge.bolt and hinge.positions:
        size = job.length(hinge.bolt)
        yield _one("bolt-wrenches", f"two sockets for bolts of {size}", "one holds, one turns")
    yield _one("regulator-wrench", "wrench that fits the regulator's nut", "regulator to cylinder")
    taps = job.layout.taps
    for wrench in dict.fromkeys(tap.wrench.id if tap.wrench else None for tap in taps):
        row = load("wrenches").get(wrench or "") or job.project.part("wrenches", wrench)
        yield Item(
            id=wrench or "faucet-wrench", group=GROUP,
            name=row.name if row else "faucet wrench that fits the coupling rings", net=1,
            why="turns the coupling rings",
        )  # fmt: skip
    flats = {tap.shank.nut_across_flats for tap in taps if tap.shank}
    tails = {tap.shank.tail_nut_across_flats for tap in taps if tap.shank}
    for part_id, what, sizes in (
        ("nut-wrench", "deep socket, tube wrench or open-ended wrench for shank nuts", flats),
        ("tail-wrench", "open-ended or box wrench for tail nuts", tails),
    ):
        for across in sorted(sizes):
            yield Item(
                id=f"{part_id}-{job.slug(across)}", group=GROUP, net=1,
                name=f"{what}, {job.length(across)} across the flats",
                basis="common practice", source="the catalogue's figure of the shank",
                why="measure the nut you bought; lists/assembly.csv says which kind has room",
            )  # fmt: skip
