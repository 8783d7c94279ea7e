"""The color of each group of parts; loads no kernel."""

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


def group_of(name: str) -> str | None:
    """Return the group of a part or product by its name (``nut-2``, ``shank-kind-2``), if any."""
    found = [group for group in PALETTE if name == group or name.startswith(f"{group}-")]
    return max(found, key=len, default=None)
