"""What the readings-back of several files share: what the layout tells, and saying a difference."""

from collections.abc import Iterator

from ..geometry.shape.contour import outlines
from ..geometry.shape.layout import Layout

CLOSE = 1e-3
"""What a written coordinate may differ from the layout's, mm."""

TOLD = ("board-", "foam-", "shank-", "manifold", "hinge-", "lid", "lip", "well")
"""How the names begin of which the layout tells every one."""


def names_told(layout: Layout) -> set[str]:
    """Return the names that the layout tells: those of all parts but the small bought ones."""
    names = {f"board-{board.side}" for board in layout.boards}
    names |= {
        f"foam-{panel.side}"
        for panel in layout.panels
        if outlines(panel.length, panel.width, panel.holes).outer
    }
    names |= {f"shank-{tap.number}" for tap in layout.taps if tap.shank is not None}
    about = layout.reference
    names |= {f"hinge-{leaf.number}" for leaf in about.leaves}
    single = {
        "manifold": layout.manifold,
        "lid": about.lid,
        "lip": about.lip,
        "well": about.well,
    }
    return names | {name for name, thing in single.items() if thing is not None}


def differ(
    what: str, found: tuple[float, ...], wanted: tuple[float, ...], close: float = CLOSE
) -> Iterator[str]:
    """Say where a point is if that is not where the layout has it, mm."""
    if any(not abs(a - b) <= close for a, b in zip(found, wanted, strict=True)):
        said = ", ".join(f"{each:.3f}" for each in found)
        yield f"{what} is at {said} mm, not {', '.join(f'{each:.3f}' for each in wanted)} mm"
