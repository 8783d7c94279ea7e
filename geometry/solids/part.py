"""A part of the model: its solid lying flat, and where it goes in the collar."""

from dataclasses import dataclass

import cadquery as cq

from .palette import PALETTE, Color

__all__ = ["PALETTE", "Color", "Part"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the model.

    ``name`` is its own (``shank-2``), ``product`` the name of what it is (``shank``): equal
    bought parts are one solid that stands in several places. ``flat`` is the solid as it lies
    on the bench, mm; ``location`` carries it to its place; ``sizes`` are for messages.
    ``volume`` is the closed form of what is made here, mm3, None for what is bought. ``pieces``
    is how many bodies it is.
    ``reference`` bodies are neither made nor bought: they stand about the collar.
    """

    name: str
    group: str
    product: str
    made: bool
    flat: cq.Shape
    location: cq.Location
    sizes: str
    volume: float | None = None
    pieces: int = 1
    reference: bool = False

    @property
    def color(self) -> Color:
        """The color of the part's group, sRGB."""
        return PALETTE[self.group]

    @property
    def shape(self) -> cq.Shape:
        """The solid in its place, in the collar's frame of reference."""
        return self.flat.moved(self.location)
