"""What goes through the bores and hangs on them."""

from collections import Counter
from collections.abc import Iterator

from ...shape.taps import Tap
from ..shown import PRACTICE
from .item import Item, Job

GROUP = "taps"

SPARE_WASHERS = 25.0
"""Added to small washers, percent (common practice): one tears, one falls into the well."""


def taps(job: Job) -> Iterator[Item]:
    """Yield shanks, faucets, handles and what seals them."""
    found = job.layout.taps
    count = len(found)
    if not count:
        return
    yield from _shanks(job)
    yield from _named(job, "faucet", [tap.faucet.id if tap.faucet else None for tap in found])
    yield from _named(job, "handle", [tap.handle.id if tap.handle else None for tap in found])
    yield from _nut_washers(job)
    yield from _plates(job)
    yield Item(
        id="tailpiece", group=GROUP, name="tailpiece, barbed for the line, with its tail nut",
        net=count, why="one behind each shank, where it was not sold with it",
    )  # fmt: skip
    yield Item(
        id="tail-washer", group=GROUP, name="washer for a tail nut, food grade", net=count,
        allowance=SPARE_WASHERS, source=f"one a joint; spares {PRACTICE}",
        why="between shank and tailpiece; a joint without one leaks",
    )  # fmt: skip
    yield Item(
        id="food-grease", group=GROUP, name="food-grade lubricant, a small tube", net=1,
        basis="common practice", source=PRACTICE, why="on the seals of each faucet",
    )  # fmt: skip


def _shanks(job: Job) -> Iterator[Item]:
    counts: Counter[tuple[str, str]] = Counter()
    for tap in job.layout.taps:
        counts[_shank(job, tap)] += 1
    for (part_id, name), count in counts.items():
        yield Item(
            id=part_id,
            group=GROUP,
            name=name,
            net=count,
            why="with flange, shank nut and coupling ring: screw one together before you buy all",
        )


def _shank(job: Job, tap: Tap) -> tuple[str, str]:
    asked = job.project.taps[tap.row].shank
    if isinstance(asked, int | float):
        length = job.length(asked)
        return f"shank-{job.slug(asked)}", f"shank with {length} of thread behind the flange"
    row = job.project.part("shanks", asked)
    if row is None:
        return "shank", "shank, length not chosen yet: give taps.shank"
    return row.id, row.name


def _named(job: Job, what: str, ids: list[str | None]) -> Iterator[Item]:
    for part_id, count in Counter(ids).items():
        row = job.project.part(f"{what}s", part_id)
        name = row.name if row else f"{what}, not chosen yet: give taps.{what}"
        thread = row.text("handle_thread") if row else ""
        why = f"thread for the handle: {thread}" if thread else f"one {what} for each tap"
        yield Item(id=part_id or what, group=GROUP, name=name, net=count, why=why)


def _nut_washers(job: Job) -> Iterator[Item]:
    counts: Counter[tuple[float, float | None]] = Counter(
        (tap.washers, tap.washer_diameter) for tap in job.layout.taps if tap.washers
    )
    for (thick, across), count in counts.items():
        size = f"{job.length(across)} across, " if across else ""
        yield Item(
            id=f"shank-washer-{job.slug(across or 0)}" if across else "shank-washer",
            group=GROUP,
            name=f"washers for a shank nut, {size}{job.length(thick)} thick together, one set",
            net=count,
            why="under each shank nut, inside",
        )


def _plates(job: Job) -> Iterator[Item]:
    counts = Counter(tap.plate for tap in job.layout.taps if tap.plate is not None)
    for across, count in counts.items():
        yield Item(
            id=f"plate-{job.slug(across)}",
            group=GROUP,
            name=f"stainless plate {job.length(across)} across, bored for the shank",
            net=2 * count,
            why="on each face of a bore that came out too wide",
        )
