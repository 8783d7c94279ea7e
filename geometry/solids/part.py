"""A part of the model: its solid lying flat, and where it goes in the collar."""

from dataclasses import dataclass

import cadquery as cq

Color = tuple[float, float, float]

PALETTE: dict[str, Color] = {
    "well": (0.03, 0.03, 0.05),
    "lip": (0.08, 0.08, 0.10),
    "handle": (0.13, 0.12, 0.16),
    "lid": (0.20, 0.19, 0.22),
    "manifold": (0.20, 0.27, 0.36),
    "bracket": (0.38, 0.32, 0.27),
    "hinge": (0.35, 0.38, 0.40),
    "nut": (0.45, 0.42, 0.33),
    "tail-nut": (0.42, 0.49, 0.53),
    "board": (0.71, 0.51, 0.30),
    "tailpiece": (0.56, 0.62, 0.56),
    "ring": (0.64, 0.67, 0.74),
    "shank": (0.71, 0.74, 0.77),
    "washer": (0.83, 0.79, 0.74),
    "faucet": (0.85, 0.87, 0.88),
    "foam": (0.97, 0.93, 0.86),
}
"""sRGB by group. No two groups have the same lightness, so they differ in grey print too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the model.

    ``name`` is its own (``shank-2``), ``product`` the name of what it is (``shank``): equal
    bought parts are one solid that stands in several places. ``flat`` is the solid as it lies
    on the bench, mm; ``location`` carries it to its place. ``volume`` is the closed form of
    what is made here, mm3, None for what is bought. ``pieces`` is how many bodies it is.
    ``reference`` bodies are neither made nor bought: they stand about the collar.
    """

    name: str
    group: str
    product: str
    made: bool
    flat: cq.Shape
    location: cq.Location
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
