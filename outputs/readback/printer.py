"""What ``--printed`` says of the printer, as a reader takes it: the file's page to true mm.

Worked out here again from what was asked for, and the page's own size; see ``paper.printed`` for
what the pair means.
"""

from dataclasses import dataclass

ROLL_SLACK = 2.5
"""A page wider than the roll by more than this is turned, mm; no page that lies is nearer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """What 100 mm of the file come out as, mm: across the sheet and up it.

    ``roll`` is the width of the roll that is printed on, mm, None for sheets. ``turns`` is whether
    a page that lies on its long side is turned by the printer; of a roll it is one that is wider.
    """

    across: float
    up: float
    roll: float | None = None
    turns: bool = True

    def makes(self, width: float, height: float) -> tuple[float, float]:
        """Return what 1 mm of a page of a size comes out as, level and upright, mm."""
        x, y = self.across / 100, self.up / 100
        if self.roll is not None:
            lies = width > self.roll + ROLL_SLACK
        else:
            lies = self.turns and width > height
        return (y, x) if lies else (x, y)

    @property
    def says(self) -> str:
        """What has to stand on every page."""
        across, up = f"{self.across:.6g} mm", f"{self.up:.6g} mm"
        if self.roll is not None:
            ways = f"{across} across and {up} along the roll"
        elif self.turns:
            ways = f"{across} across and {up} up an upright sheet"
        else:
            ways = f"{across} level and {up} upright"
        return f"scaled for a printer that prints {ways} for 100 mm"
