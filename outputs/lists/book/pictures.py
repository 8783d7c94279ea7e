"""Drawings as figures of the book: upright among the text, or on their side on a page."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from ....params.units import Show
from ...drawings.frame import SMALLEST, Drawing, figure, likely_ratios, scale_text
from ...paper.marks import Page
from ...paper.overlap import meetings
from .blocks import Block, Figure, Text

CAPTION_ROOM = 8.5
"""What a caption of one line, and the gap above, take beside a figure that fills a page, mm."""

TALLEST = 0.62
"""Of a page's height: a figure among the text is no taller."""

LARGE = 5.0
"""A figure that is to be large is turned where it would be smaller than 1 : this."""

MUCH = 1.3
"""How many times larger a figure that is small has to come out on its side to be turned."""

FAR = 2.0
"""Where it comes out more than so many times larger, any is turned: a page has about the room of a
drawing's own sheet."""


class Pictures:
    """The drawings that there are, each taken once where the text comes to it."""

    def __init__(self, drawings: Iterable[Drawing], show: Show, wide: float, high: float) -> None:
        """Keep drawings for pages that have so much room for text, mm."""
        self.numbers: dict[str, int] = {}
        self._left = {each.name: each for each in drawings}
        self._show: Show = show
        self._wide, self._high = wide, high

    def take(self, *names: str, large: bool = False) -> Iterator[Block]:
        """Yield the figures of these names that there are and that nobody has taken.

        ``large`` ones are turned on their sides where they come out larger so. One whose texts
        stand over lines at the page's size is named instead.
        """
        for name in names:
            drawing = self._left.pop(name, None)
            if drawing is None:
                continue
            made = self._figure(drawing, large=large)
            if large and meetings(made.page.marks):
                yield Text(f"{drawing.says}: too small to read here, see drawings/{name}.pdf.")
                continue
            self.numbers[name] = len(self.numbers) + 1
            yield replace(made, number=self.numbers[name])

    def of(self, name: str) -> tuple[str, ...]:
        """Return the drawings that nobody has taken of a thing that may have several sheets."""
        return tuple(
            each for each in self._left if each == name or re.fullmatch(rf"{name}-\d+", each)
        )

    def rest(self) -> Iterator[Block]:
        """Yield what nobody has taken."""
        yield from self.take(*self._left)

    def _figure(self, drawing: Drawing, *, large: bool) -> Figure:
        rooms = (self._wide, TALLEST * self._high), (self._high - CAPTION_ROOM, self._wide)
        likely = likely_ratios(drawing, self._show, *rooms)
        smallest = LARGE if large else SMALLEST
        found: dict[bool, tuple[Page, float]] = {}
        for turned in (True, False) if self._better(likely[1], likely[0], smallest) else (False,):
            found[turned] = figure(drawing, self._show, *rooms[turned], likely[turned])
            if turned and self._better(found[True][1], likely[0], smallest):
                return self._captioned(drawing, *found[True], turned=True)
        page, ratio = found[False]
        fits = page.width <= self._wide and page.height <= self._high - CAPTION_ROOM
        if True not in found and (not fits or self._better(likely[1], ratio, smallest)):
            found[True] = figure(drawing, self._show, *rooms[True], likely[True])
        turned = True in found and (not fits or self._better(found[True][1], ratio, smallest))
        return self._captioned(drawing, *found[turned], turned=turned)

    def _better(self, on_side: float, upright: float, smallest: float) -> bool:
        """Whether a figure is turned: it gains much by it, or upright it would be small."""
        return on_side * FAR < upright or (upright > smallest and on_side * MUCH <= upright)

    def _captioned(self, drawing: Drawing, page: Page, ratio: float, *, turned: bool) -> Figure:
        unit = "inches" if self._show == "in" else "millimeters"
        said = f"{drawing.says}. Scale {scale_text(ratio)}, dimensions in {unit}."
        return Figure(page, 0, said, turned)
