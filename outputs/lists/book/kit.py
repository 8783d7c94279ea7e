"""What of reportlab's platypus sets the book, and the kinds of flowables that it does not have.

The library has no types of its own and is loaded on first use.
"""

from functools import cache
from types import SimpleNamespace
from typing import Any

from ...paper.dims import CAPITAL
from ...paper.marks import Page
from ...paper.pdf import POINTS, clean, draw, text_width

BODY = 9.5
"""Font size of what is read, points: at arm's length on a bench (common practice)."""

BOX, SET_IN = 3.4, 7.0
"""A box to tick, and how far the words beside it are set in, mm."""


@cache
def load() -> Any:
    """Load the library, and make the flowables that it does not have."""
    from reportlab import platypus  # type: ignore[import-untyped]
    from reportlab.lib.colors import Color, black  # type: ignore[import-untyped]
    from reportlab.lib.styles import ParagraphStyle  # type: ignore[import-untyped]

    text_width("", 1.0)  # the font has to be there before a paragraph names it
    library: Any = platypus

    class Picture(library.Flowable):
        """A page of marks among the text."""

        def __init__(self, page: Page, *, turned: bool, draws: bool) -> None:
            library.Flowable.__init__(self)
            self.page, self.turned, self.draws = page, turned, draws

        def wrap(self, wide: float, _: float) -> tuple[float, float]:
            across, up = self.page.width * POINTS, self.page.height * POINTS
            self.width, self.height = (up, across) if self.turned else (across, up)
            self.start = max(0.0, (wide - self.width) / 2)
            return wide, self.height

        def draw(self) -> None:
            if not self.draws:
                return
            self.canv.translate(self.start, 0)
            if self.turned:
                self.canv.translate(self.width, 0)
                self.canv.rotate(90)
            self.canv.scale(POINTS, POINTS)
            draw(self.canv, self.page.marks)

    class Ticked(library.Flowable):
        """A paragraph with a box to tick beside its first line."""

        def __init__(self, text: Any, *, box: bool = True) -> None:
            library.Flowable.__init__(self)
            self.text, self.box = text, box

        def getSpaceAfter(self) -> float:  # noqa: N802
            return self.text.getSpaceAfter()

        def wrap(self, wide: float, high: float) -> tuple[float, float]:
            self.width, self.height = self.text.wrap(wide, high)
            return self.width, self.height

        def split(self, wide: float, high: float) -> list[Any]:
            parts = self.text.split(wide, high)
            return [Ticked(part, box=i == 0) for i, part in enumerate(parts)]

        def draw(self) -> None:
            self.text.drawOn(self.canv, 0, 0)
            if self.box:
                side = BOX * POINTS
                low = self.height - BODY * 1.06 - (side - BODY * CAPITAL) / 2
                self.canv.setLineWidth(0.9)
                self.canv.setStrokeGray(0)
                self.canv.rect(1.0, low, side, side, stroke=1, fill=0)

    class Noted(library.Flowable):
        """Nothing to see: tells on which page it is, and marks it for a viewer's list."""

        def __init__(self, tell: Any, text: str) -> None:
            library.Flowable.__init__(self)
            self.tell, self.text = tell, text

        def wrap(self, *_: float) -> tuple[float, float]:
            return 0.0, 0.0

        def draw(self) -> None:
            number = self.canv.getPageNumber()
            self.tell(number)
            name = f"chapter-{number}"
            self.canv.bookmarkPage(name)
            self.canv.addOutlineEntry(clean(self.text), name, 0)

    return SimpleNamespace(
        Frame=library.Frame,
        PageTemplate=library.PageTemplate,
        BaseDocTemplate=library.BaseDocTemplate,
        CondPageBreak=library.CondPageBreak,
        HRFlowable=library.HRFlowable,
        KeepTogether=library.KeepTogether,
        Paragraph=library.Paragraph,
        ParagraphStyle=ParagraphStyle,
        Spacer=library.Spacer,
        Table=library.Table,
        Picture=Picture,
        Ticked=Ticked,
        Noted=Noted,
        Color=Color,
        black=black,
    )
