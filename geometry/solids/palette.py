"""The color of each group of parts; loads no kernel."""

Color = tuple[float, float, float]

GREYS: dict[str, Color] = {
    "well": (0.034, 0.034, 0.082),
    "handle": (0.143, 0.114, 0.178),
    "lip": (0.181, 0.181, 0.232),
    "lid": (0.251, 0.228, 0.279),
    "nut": (0.322, 0.283, 0.188),
    "hinge": (0.307, 0.340, 0.373),
    "washer": (0.422, 0.379, 0.337),
    "tailpiece": (0.380, 0.459, 0.380),
    "ring": (0.467, 0.492, 0.561),
    "board": (0.710, 0.510, 0.300),
    "tail-nut": (0.519, 0.623, 0.685),
    "bracket": (0.754, 0.650, 0.566),
    "shank": (0.706, 0.736, 0.786),
    "manifold": (0.643, 0.829, 0.933),
    "faucet": (0.861, 0.881, 0.891),
    "foam": (0.994, 0.953, 0.881),
}
"""sRGB by group, from dark to light: each is lighter than the one before by a contrast ratio of 1.2
or more (relative luminance as in WCAG 2), so that groups differ in grey print too; what touches is
two steps apart. There is room for no more steps between black and white."""

EXTRAS: dict[str, Color] = {
    "cover": (0.664, 0.354, 0.221),
    "cap": (0.572, 0.686, 0.743),
    "spline": (0.991, 0.970, 0.668),
    "dowel": (0.919, 0.776, 0.674),
    "biscuit": (0.929, 0.870, 0.787),
}
"""sRGB of what some collars have: colors of their own, each in the grey of a group that it never
touches (tailpiece, bracket, foam, manifold, faucet) and two steps from what it does touch."""

PALETTE: dict[str, Color] = GREYS | EXTRAS
"""The color of every group."""


def group_of(name: str) -> str | None:
    """Return the group of a part or product by its name (``nut-2``, ``shank-kind-2``), if any."""
    found = [group for group in PALETTE if name == group or name.startswith(f"{group}-")]
    return max(found, key=len, default=None)
