"""Drawings as figures of the book: upright among the text, or on their side on a page."""

import re
from collections.abc import Iterable, Iterator

from ....params.units import Show
from ...drawings.frame import SMALLEST, Drawing, figure, likely_ratios, scale_text
from ...paper.marks import Page
from .blocks import Block, Figure

CAPTION_ROOM = 8.5
"""What a caption of one line, and the gap above, take beside a figure that fills a page, mm."""

TALLEST = 0.62
"""Of a page's height: a figure among the text is no taller."""

MUCH = 1.9
"""How many times larger a figure has to come out on its side before it is turned."""


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

        ``large`` ones are turned on their sides where they come out larger so.
        """
        for name in names:
            drawing = self._left.pop(name, None)
            if drawing is not None:
                self.numbers[name] = len(self.numbers) + 1
                yield self._figure(drawing, large=large)

    def of(self, name: str) -> tuple[str, ...]:
        """Return the drawings that nobody has taken of a thing that may have several sheets."""
        return tuple(
            each for each in self._left if each == name or re.fullmatch(rf"{name}-\d+", each)
        )

    def rest(self) -> Iterator[Block]:
        """Yield what nobody has taken."""
        yield from self.take(*self._left)

    def _figure(self, drawing: Drawing, *, large: bool) -> Figure:
        upright = self._wide, TALLEST * self._high
        on_side = self._high - CAPTION_ROOM, self._wide
        one, other = likely_ratios(drawing, self._show, upright, on_side)
        if other * MUCH <= one and (large or one > SMALLEST):
            made, ratio = figure(drawing, self._show, *on_side, other)
            if ratio * MUCH <= one:
                return self._captioned(drawing, made, ratio, turned=True)
        made, ratio = figure(drawing, self._show, *upright, one)
        if made.width <= self._wide and made.height <= self._high - CAPTION_ROOM:
            return self._captioned(drawing, made, ratio, turned=False)
        made, ratio = figure(drawing, self._show, *on_side, other)
        return self._captioned(drawing, made, ratio, turned=True)

    def _captioned(self, drawing: Drawing, page: Page, ratio: float, *, turned: bool) -> Figure:
        unit = "inches" if self._show == "in" else "millimeters"
        said = f"{drawing.says}. Scale {scale_text(ratio)}, dimensions in {unit}."
        return Figure(page, self.numbers[drawing.name], said, turned)
