"""What is wrong with readings of a lip, or of a frame, that are no quadrilateral as one would be.

Which reading is wrong is never certain; what is said is the one that explains most, and by how
much.
"""

import math

from ...params.problem import BuildFileError, Problem
from ...params.units import Show, both_text, length_text
from .plane import interior_deg
from .six_lengths import CORNERS, KEYS, Figure, Readings, closing_change, place

NARROWEST_DEG, WIDEST_DEG = 60.0, 120.0
"""Corners beyond these are a slip of the tape, not a freezer (common practice, no source)."""

FAR_APART = 0.05
"""Opposite sides that differ by more than this part of the longer one are a slip sooner than a
freezer (common practice, no source): a corner is then some degrees out of square."""

NEARLY_SQUARE_DEG = 5.0
"""A side is blamed alone where with its opposite's length the corners come so near to square
(common practice, no source)."""


def said(mm: float) -> str:
    """Write a length in both units, whatever the builder counts in."""
    return both_text(mm, "in")


def not_closing(read: Readings, table: str, show: Show) -> Problem:
    """Say which readings cannot meet: sides that are far apart, or else three of a triangle."""
    return _odd_side(read, table, show) or _cannot_close(read, table, show)


def _odd_side(read: Readings, table: str, show: Show) -> Problem | None:
    """Blame a side where opposite ones are far apart, whatever the diagonal; None where none are.

    Of two such sides it is the one that makes the corners squarest where it takes the other's
    length; where both pairs are apart, or nothing makes them square, it is all that were read.
    """
    sides, opposite = read[:4], (*read[2:4], *read[:2])
    far = [k for k in range(4) if far_apart(sides[k], opposite[k])]
    if not far:
        return None
    found: list[tuple[float, int]] = []
    diagonals = [k for k in (4, 5) if read[k] is not None]
    for k in far if len(far) == 2 and diagonals else ():
        figure = place((*read[:k], opposite[k], *read[k + 1 :]))  # type: ignore[arg-type]
        if figure is not None:
            off = max(abs(interior_deg(figure, i) - 90) for i in range(4))
            found.append((off, k))
    off, odd = min(found, default=(90.0, far[0]))
    alone = off <= NEARLY_SQUARE_DEG
    if alone:
        wanted = (
            f"opposite sides that are nearly alike: measure {KEYS[odd]} again (as long as"
            f" {KEYS[(odd + 2) % 4]} it would make all corners square within {off:.1f} deg)"
        )
    else:
        wanted = "opposite sides that are nearly alike: measure all four again" + (
            ", and the diagonals" if diagonals else ""
        )
    gaps = [f"{KEYS[k]} and {KEYS[k + 2]} {said(abs(sides[k] - opposite[k]))} apart"
            for k in far if k < 2]  # fmt: skip
    return Problem(
        key=f"{table}.{KEYS[odd]}",
        keys=tuple(f"{table}.{KEYS[k]}" for k in (*far, *(() if alone else diagonals)) if k != odd),
        read=", ".join(gaps),
        wanted=wanted,
        example=f'{KEYS[odd]} = "{length_text(opposite[odd], show)}"' if alone else "",
    )


def far_apart(here: float, there: float) -> bool:
    """Whether two opposite sides, mm, differ so much that one is sooner a slip: ``FAR_APART``."""
    return abs(here - there) > FAR_APART * max(here, there)


def _cannot_close(read: Readings, table: str, show: Show) -> Problem:
    """Say which readings cannot meet, and which change of each one would let them."""
    front, right, back, left, first, second = read
    triangles = [
        (("front", front), ("right", right), ("front_left_to_back_right", first)),
        (("back", back), ("left", left), ("front_left_to_back_right", first)),
        (("front", front), ("left", left), ("front_right_to_back_left", second)),
        (("right", right), ("back", back), ("front_right_to_back_left", second)),
    ]
    for triangle in triangles:
        if triangle[2][1] is None:
            continue
        names = [name for name, _ in triangle]
        sizes = [size or 0.0 for _, size in triangle]
        longest = max(range(3), key=lambda n: sizes[n])
        over = sizes[longest] - (sum(sizes) - sizes[longest])
        if over >= 0:
            rest = [n for n in range(3) if n != longest]
            square = length_text(math.hypot(*(sizes[n] for n in rest)), show)
            changes = f"{names[longest]} shorter by more than {said(over)}" + "".join(
                f", or {names[n]} longer by more than {said(over)}" for n in rest
            )
            return Problem(
                key=f"{table}.{names[longest]}",
                keys=tuple(f"{table}.{names[n]}" for n in rest),
                read=said(sizes[longest]),
                wanted=f"a length that meets {names[rest[0]]} ({said(sizes[rest[0]])}) and"
                f" {names[rest[1]]} ({said(sizes[rest[1]])}) in a triangle: {changes}",
                example=f'{names[longest]} = "{square}"' if longest == 2 else "",
            )
    return Problem(
        key=table,
        read="readings that do not meet in four corners",
        wanted="four sides and diagonals of one figure: measure each diagonal again",
    )


def refuse_slips(figure: Figure, read: Readings, table: str = "lip", show: Show = "mm") -> None:
    """Raise ``BuildFileError`` where a corner is so far from square that a reading is a slip."""
    angles = [interior_deg(figure, i) for i in range(4)]
    odd = [i for i, angle in enumerate(angles) if not NARROWEST_DEG <= angle <= WIDEST_DEG]
    if not odd:
        return
    side = _odd_side(read, table, show)
    if side is not None:
        raise BuildFileError([side])
    given = [key for key, value in zip(KEYS, read, strict=True) if value is not None]
    worst = max(odd, key=lambda i: abs(angles[i] - 90))
    diagonals = [key for key in given if key in KEYS[4:]]
    squared = math.hypot((read[0] + read[2]) / 2, (read[1] + read[3]) / 2)
    closings = ""
    if read[4] is not None and read[5] is not None:
        changes = [
            f"{key} {'longer' if change > 0 else 'shorter'} by {said(abs(change))}"
            for k, key in enumerate(KEYS)
            if (change := closing_change(read, k)) is not None and abs(change) > 0.05
        ]
        closings = "; it would close with " + ", or ".join(changes) if changes else ""
    raise BuildFileError(
        [
            Problem(
                key=f"{table}.{diagonals[0] if diagonals else given[0]}",
                keys=tuple(f"{table}.{key}" for key in given),
                read=f"a {CORNERS[worst]} corner of {angles[worst]:.1f} deg",
                wanted=f"corners between {NARROWEST_DEG:g} and {WIDEST_DEG:g} deg: one of"
                f" {', '.join(given)} is a slip (for square corners the diagonals would be"
                f" {said(squared)}){closings}",
            )
        ]
    )
