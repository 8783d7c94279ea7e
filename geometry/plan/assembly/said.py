"""What blocks an order of assembly, in a sentence."""

from ....params.project import Project
from ....params.units import both_text
from .part import Operation, shown
from .search import Link


def blocked(project: Project, loop: tuple[Link, ...]) -> str | None:
    """Return the sentence about what keeps a collar from being put together; None if nothing."""
    if not loop:
        return None
    keys = dict.fromkeys(
        key
        for link in loop
        for each in (link.first, link.then)
        if isinstance(each, Operation)
        for key in each.keys
    )
    change = f"; change {_listed(list(keys))}" if keys else ""
    first, *more = loop
    if not more:
        there = first.then
        what = shown(there) if isinstance(there, str) else f"{there.thing}, there before it,"
        said = f"{first.first.thing} cannot be put on with any tool that was tried"
        return f"{said}: {what} is in the way{_by(project, first)}{change}"
    assert isinstance(first.then, Operation)
    if len(more) == 1 and first.gap and first.gap == more[0].gap:
        pair = f"{first.first.thing} and {first.then.thing}"
        return f"{pair} run into each other{_by(project, first)}{change}"
    told = "; ".join(_told(project, link) for link in loop)
    return f"in no order can all of it be put together: {told}{change}"


def _told(project: Project, link: Link) -> str:
    assert isinstance(link.then, Operation)
    pair = f"{link.first.thing} before {link.then.thing}"
    if link.gap is None:
        return f"{pair}, which needs it"
    if link.gap == 0.0:
        return f"{pair}, beside which its wrench has no bite left"
    return f"{pair}, which its tool would meet{_by(project, link)}"


def _by(project: Project, link: Link) -> str:
    return f" by {both_text(-link.gap, project.show)}" if link.gap else ""


def _listed(words: list[str]) -> str:
    if len(words) == 1:
        return words[0]
    return f"{', '.join(words[:-1])} or {words[-1]}"
