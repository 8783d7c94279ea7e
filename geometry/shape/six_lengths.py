"""Four points in a plane from six lengths: four sides and two diagonals, of which one is surplus.

Corners: front-left at (0, 0), front-right on the X axis, then back-right and back-left. Sides and
a diagonal are two triangles, placed by the cosine rule; with both diagonals the figure is the
nearest one by least squares.
"""

from .plane import Point, apex, distance

Readings = tuple[float, float, float, float, float | None, float | None]
Figure = tuple[Point, Point, Point, Point]

CORNERS = ("front-left", "front-right", "back-right", "back-left")
KEYS = (
    "front", "right", "back", "left", "front_left_to_back_right", "front_right_to_back_left",
)  # fmt: skip
EDGES = ((0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3))
"""The corners that each reading joins, in the order of ``KEYS``."""


def place(read: Readings) -> Figure | None:
    """Place the corners from four sides and a diagonal (the first one where both are given).

    None where a triangle does not close.
    """
    front, right, back, left, first, second = read
    front_left, front_right = (0.0, 0.0), (front, 0.0)
    if first is not None:
        back_right = apex(front_left, front_right, first, right)
        back_left = back_right and apex(front_left, back_right, left, back)
    else:
        assert second is not None
        back_left = apex(front_left, front_right, left, second)
        back_right = back_left and apex(back_left, front_right, back, right)
    if back_right is None or back_left is None:
        return None
    return front_left, front_right, back_right, back_left


def closing_change(read: Readings, k: int) -> float | None:
    """Return by how much reading ``k`` alone would have to change for the figure to close, mm.

    Worked out exactly from the other five: they are two triangles on a common side, and the
    distance of the two free corners is what reading ``k`` should have been.
    """
    front, right, back, left, first, second = read
    assert first is not None and second is not None
    sides, diagonals = (front, right, back, left), (first, second)
    if k >= 4:
        rest = (*sides, None, second) if k == 4 else (*sides, first, None)
        figure = place(rest)
        return (
            None if figure is None else distance(*(figure[c] for c in EDGES[k])) - diagonals[k - 4]
        )
    # Side k joins corners k and k + 1; they stand on the opposite side, from k + 3 to k + 2.
    base = sides[(k + 2) % 4]
    one = apex((0.0, 0.0), (base, 0.0), sides[(k + 3) % 4], diagonals[k % 2])
    two = apex((0.0, 0.0), (base, 0.0), diagonals[(k + 1) % 2], sides[(k + 1) % 4])
    return None if one is None or two is None else distance(one, two) - sides[k]


def nearest(read: Readings) -> Figure | None:
    """Return the quadrilateral whose six lengths are nearest to the six readings, None for none.

    The six lengths of a plane figure satisfy one equation. Its normal at a figure is the
    self-stress of the four points, each times the length it belongs to, so the nearest
    figure is found by going down that normal and placing again until nothing moves.
    """
    figure = place(read) or place((*read[:4], None, read[5]))
    if figure is None:
        return None
    for _ in range(60):
        lengths = [distance(figure[i], figure[j]) for i, j in EDGES]
        normal = [_stress(figure, i, j) * n for (i, j), n in zip(EDGES, lengths, strict=True)]
        off = [(r or 0.0) - n for r, n in zip(read, lengths, strict=True)]
        scale = sum(n * o for n, o in zip(normal, off, strict=True)) / sum(n * n for n in normal)
        target = [(r or 0.0) - scale * n for r, n in zip(read, normal, strict=True)]
        nearer = place((*target[:5], None))  # type: ignore[arg-type]
        if nearer is None:
            return None
        moved = max(distance(a, b) for a, b in zip(figure, nearer, strict=True))
        figure = nearer
        if moved < 1e-10:
            break
    return figure


def _stress(figure: Figure, i: int, j: int) -> float:
    """Return the self-stress of edge i-j of four points in the plane, up to a common factor."""
    k, m = (c for c in range(4) if c not in (i, j))
    return 1 / (_doubled(figure, i, j, k) * _doubled(figure, i, j, m))


def _doubled(figure: Figure, i: int, j: int, k: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = figure[i], figure[j], figure[k]
    return ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 1e4
