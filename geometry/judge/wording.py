"""How a person says what is to be done, where a key alone would read like a free choice.

A hinge that was bought has its leaf, its holes and its pin where they are: to change these is to
buy another hinge, or to mount it otherwise.
"""

from collections.abc import Iterable, Mapping

from ...params.reading.paths import plain

BOUGHT = frozenset(
    f"hinge.{name}"
    for name in (
        "axis_above", "axis_behind", "leaf_height", "leaf_thickness", "leaf_width", "screws",
    )
)  # fmt: skip
"""Measured facts of a bought hinge, which a remedy changes only where nothing else does."""

GREAT = frozenset(
    {
        "board.species", "board.stock", "board.thickness", "board.width",
        "vessel.count", "vessel.kind",
    }
)  # fmt: skip
"""What makes another design of it: other boards all round, or other vessels. A remedy comes to
these after all smaller changes."""

SAID: Mapping[str, str] = {
    "board.stock": "other boards",
    "hinge.leaf_height": "another hinge",
    "hinge.leaf_width": "another hinge",
    "hinge.leaf_thickness": "another hinge",
    "hinge.screws": "another hinge",
    "hinge.axis_behind": "another hinge",
    "hinge.screw": "other screws",
    "hinge.bolt": "other bolts",
    "hinge.bolt_washer": "other washers",
}

MOVED: Mapping[str, tuple[str, str]] = {
    "hinge.axis_above": ("mount the hinge higher", "mount the hinge lower"),
    "hinge.screw_length": ("longer screws", "shorter screws"),
    "hinge.backing": ("a thicker block behind the board", "a thinner block behind the board"),
}
"""What is said where a value gets larger, and where it gets smaller."""


def in_words(key: str, old: object, value: object) -> str:
    """Return what a person would call a change, ``another hinge: ``; nothing for most keys.

    Args:
        key: the key that is changed.
        old: its value before, None where there was none.
        value: its value after.
    """
    short = plain(key)
    said = SAID.get(short, "")
    if short in MOVED and isinstance(value, float):
        was = old if isinstance(old, float) else 0.0
        said = MOVED[short][value < was]
        if short == "hinge.backing" and was == 0.0:
            said = "a block behind the board"
    return f"{said}: " if said else ""


def great(keys: Iterable[str]) -> int:
    """Return how many changes that make another design of it are among keys."""
    return sum(plain(key) in GREAT for key in keys)


def bought(keys: Iterable[str]) -> int:
    """Return how many measured facts of a bought hinge are among keys."""
    return sum(plain(key) in BOUGHT for key in keys)
