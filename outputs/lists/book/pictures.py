"""Drawings as figures of the book: upright among the text, or on their side on a page."""

from collections.abc import Iterable, Iterator

from ....params.units import Show
from ...drawings.frame import SMALLEST, Drawing, figure, scale_text
from .blocks import Block, Figure

CAPTION_ROOM = 8.0
"""What a caption of one line takes under a figure that fills a page, mm."""

TALLEST = 0.62
"""Of a page's height: a figure among the text is no taller."""

MUCH = 1.9
"""How many times larger a figure has to come out on its side before it is turned."""


class Pictures:
    """The drawings that there are, each taken once where the text comes to it."""

    def __init__(self, drawings: Iterable[Drawing], show: Show, wide: float, high: float) -> None:
        """Keep drawings for pages that have so much room for text, mm."""
        self._left = {each.name: each for each in drawings}
        self._show: Show = show
        self._wide, self._high = wide, high

    def take(self, *names: str) -> Iterator[Block]:
        """Yield the figures of these names that there are and that nobody has taken."""
        for name in names:
            drawing = self._left.pop(name, None)
            if drawing is not None:
                yield self._figure(drawing)

    def rest(self) -> Iterator[Block]:
        """Yield what nobody has taken."""
        yield from self.take(*self._left)

    def _figure(self, drawing: Drawing) -> Figure:
        page, ratio = figure(drawing, self._show, self._wide, TALLEST * self._high)
        if ratio > SMALLEST / 2 or page.width > self._wide or page.height > self._high:
            long = self._high - CAPTION_ROOM
            turned, better = figure(drawing, self._show, long, self._wide)
            if better * MUCH <= ratio or ratio > SMALLEST or page.width > self._wide:
                return Figure(turned, self._caption(drawing, better), turned=True)
        return Figure(page, self._caption(drawing, ratio))

    def _caption(self, drawing: Drawing, ratio: float) -> str:
        unit = "inches" if self._show == "in" else "millimeters"
        return f"{drawing.says}. Scale {scale_text(ratio)}, dimensions in {unit}."
