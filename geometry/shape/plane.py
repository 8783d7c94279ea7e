"""Points and lines in plan, mm: the few lines of vector arithmetic that the layout needs."""

import math

Point = tuple[float, float]


def along(start: Point, end: Point) -> Point:
    """Return the unit vector from ``start`` to ``end``."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    return dx / length, dy / length


def distance(a: Point, b: Point) -> float:
    """Return the distance of two points."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def over_corners(across_flats: float) -> float:
    """Return how wide a hexagon is from corner to corner, mm: ``2 f / sqrt 3``."""
    return 2 * across_flats / math.sqrt(3)


def left_of(start: Point, direction: Point, point: Point) -> float:
    """Return how far ``point`` lies to the left of a line, mm; negative to the right."""
    return direction[0] * (point[1] - start[1]) - direction[1] * (point[0] - start[0])


def area(corners: tuple[Point, ...]) -> float:
    """Return the area of a simple polygon, positive when its corners run counterclockwise."""
    following = corners[1:] + corners[:1]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, following, strict=True)) / 2


def apex(p: Point, q: Point, from_p: float, from_q: float) -> Point | None:
    """Return the point at two distances from ``p`` and ``q``, to the left of p -> q.

    None where no triangle has these sides (cosine rule).
    """
    base = distance(p, q)
    if base <= 0:
        return None
    x = (base**2 + from_p**2 - from_q**2) / (2 * base)
    under = from_p**2 - x**2
    if under <= 0:
        return None
    y = math.sqrt(under)
    ux, uy = along(p, q)
    return p[0] + ux * x - uy * y, p[1] + uy * x + ux * y


def moved_out(corners: tuple[Point, ...], by: tuple[float, ...]) -> tuple[Point, ...]:
    """Move each side of a counterclockwise polygon outward and return the new corners.

    Side i runs from corner i to corner i + 1 and moves by ``by[i]`` (negative: inward).
    """
    count = len(corners)
    lines: list[tuple[Point, Point]] = []
    for i, distance_out in enumerate(by):
        ux, uy = along(corners[i], corners[(i + 1) % count])
        start = corners[i][0] + uy * distance_out, corners[i][1] - ux * distance_out
        lines.append((start, (ux, uy)))
    found: list[Point] = []
    for i in range(count):
        (start, u), (other, v) = lines[i - 1], lines[i]
        cross = u[0] * v[1] - u[1] * v[0]
        s = ((other[0] - start[0]) * v[1] - (other[1] - start[1]) * v[0]) / cross
        found.append((start[0] + u[0] * s, start[1] + u[1] * s))
    return tuple(found)


def interior_deg(corners: tuple[Point, ...], i: int) -> float:
    """Return the interior angle at corner ``i`` of a counterclockwise polygon, degrees."""
    before = along(corners[i], corners[i - 1])
    after = along(corners[i], corners[(i + 1) % len(corners)])
    cross = after[0] * before[1] - after[1] * before[0]
    dot = before[0] * after[0] + before[1] * after[1]
    return math.degrees(math.atan2(cross, dot)) % 360
