"""A build file with its layout, and its figures as words in the units of ``show``."""

from dataclasses import dataclass

from ...params.project import Project
from ...params.units import Show, bit_text, length_text
from ..shape.layout import Layout

PRACTICE = "common practice, no source"
"""What stands beside a figure of the trade for which no source was found."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What lists and steps are made from."""

    project: Project
    layout: Layout

    @property
    def show(self) -> Show:
        """The units that lengths are written in."""
        return self.project.show

    def length(self, mm: float) -> str:
        """Write a length in the units of ``show``."""
        return length_text(mm, self.show)

    def bit(self, mm: float) -> str:
        """Write the diameter that a bit bores, in the units of ``show``."""
        return bit_text(mm, self.show)
