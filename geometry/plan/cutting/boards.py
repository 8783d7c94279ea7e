"""The job that one or several collars give: their boards, and covers of the same section."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ....params.catalogue import load
from ....params.project import SIDES, Project, Stock
from ...shape.frame import Board
from ...shape.layout import Layout
from ...shape.plane import over_corners
from ...shape.stick import goes_through, section
from .job import STEP, Flaw, Job, OnSale, Owned, Piece, Sound, down, kerf_along, up


@dataclass(frozen=True, slots=True)
class Asked:
    """The job; for each of its pieces the collar's number and the board; what is left out.

    Covers of another thickness or width than the boards come from other sticks: ``left_out``
    holds them by collar. ``kerf`` is what the blade takes square to itself, mm. ``assumed``:
    the build file tells no sticks, so the lengths on sale are those that are usual. ``told`` are
    the flaws of each owned stick as they were entered: to the job, one that comes to an edge goes
    through.
    """

    job: Job
    boards: tuple[tuple[int, Board], ...]
    left_out: tuple[tuple[int, Board], ...]
    kerf: float
    assumed: bool = False
    told: tuple[tuple[Flaw, ...], ...] = ()


def seats(layout: Layout, *, cover: bool) -> dict[str, float]:
    """Return across what a tap's parts bear on boards or on covers, mm, by its bore's name.

    The flange seats on the outermost wood; the washer, without one the nut's corners, on the
    board, but where the nut clamps over the foam.
    """
    found: dict[str, float] = {}
    for tap in layout.taps:
        shank = tap.shank
        outside = shank.flange_diameter if shank and cover == (tap.cover > 0) else 0.0
        inside = tap.washer_diameter or (over_corners(shank.nut_across_flats) if shank else 0)
        over_foam = tap.pocket is not None and tap.pocket == 0
        found[tap.hole.name] = max(outside, 0.0 if cover or over_foam else inside)
    return found


def sound(board: Board, seated: Mapping[str, float]) -> Iterator[Sound]:
    """Yield where a board must be sound: what is bored or screwed into it, and its ends.

    An end reaches as far as its miter through the board's thickness, or a joint in it; a round
    hole is taken for the square around it, or around what is ``seated`` on it (see ``seats``).
    Screws that a bought part decides are taken where they are set out. Flaws are taken to go right
    through the board.
    """
    width = up(board.width)
    ends = {"left": [board.inner_left], "right": [board.inner_right]}
    for slot in board.slots:
        ends[slot.end].append(slot.beyond(0.0 if slot.end == "left" else board.long_point))
    left, right = (up(max(map(abs, ends[end]))) for end in ("left", "right"))
    yield Sound("left end", 0, left, 0, width)
    yield Sound("right end", down(board.long_point) - right, up(board.long_point), 0, width)
    for hole in board.holes:
        seat = seated.get(hole.name, 0.0) / 2
        long, high = max(hole.half_length, seat), max(hole.half_height, seat)
        yield Sound(
            hole.name,
            down(hole.u - long),
            up(hole.u + long),
            down(hole.v - high),
            up(hole.v + high),
        )


def flaw(defect: Sequence[float], width: float) -> Flaw:
    """Return a flaw of a stick of a width, mm; one that comes to an edge goes through it all."""
    told = _as_told(defect)
    return Flaw(told.start, told.end) if goes_through(defect, width) else told


def _as_told(defect: Sequence[float]) -> Flaw:
    return Flaw(*(down(at) if place % 2 == 0 else up(at) for place, at in enumerate(defect)))


def usual_lengths(project: Project) -> list[float]:
    """Return the lengths that boards are usually sold in, mm, in the system of ``show``."""
    system = "inch" if project.show == "in" else "metric"
    rows = load("lengths").values()
    return sorted(row.value("length") for row in rows if row.text("system") == system)


def asked(project: Project, layouts: Sequence[Layout]) -> Asked:
    """Return what is to be cut for some collars whose boards have one section.

    ``project`` is the one whose ``[stock]`` counts; where it names no sticks, lengths are taken
    that are usually on sale (``assumed``). Covers run round the corners like boards: a
    ring of their own.
    """
    stock = project.stock or Stock()
    assumed = not (stock.length or stock.owned)
    sale = [(each.length, each.price or 0.0) for each in stock.length]
    if assumed:
        sale = [(length, 0.0) for length in usual_lengths(project)]
    size = section(layouts[0].boards[0])
    boards: list[tuple[int, Board]] = []
    left_out: list[tuple[int, Board]] = []
    pieces: list[Piece] = []
    for number, layout in enumerate(layouts):
        for ring, around in enumerate((layout.boards, layout.covers)):
            seated = seats(layout, cover=ring == 1)
            for board in around:
                if section(board) != size:
                    left_out.append((number, board))
                    continue
                boards.append((number, board))
                pieces.append(
                    Piece(
                        name=board.name,
                        length=up(board.long_point),
                        kerf=kerf_along(stock.kerf, board.miter_right_deg),
                        ring=2 * number + ring,
                        place=SIDES.index(board.side),
                        kerf_left=kerf_along(stock.kerf, board.miter_left_deg),
                        sound=tuple(sound(board, seated)),
                    )
                )
    job = Job(
        pieces=tuple(pieces),
        on_sale=tuple(OnSale(down(length), round(100 * price)) for length, price in sale),
        owned=tuple(
            Owned(down(each.length), tuple(flaw(defect, size[1] * STEP) for defect in each.defects))
            for each in stock.owned
        ),
        trim=up(stock.trim or 0.0),
        matched=stock.match_grain,
        width=size[1],
    )
    told = tuple(tuple(map(_as_told, each.defects)) for each in stock.owned)
    return Asked(job, tuple(boards), tuple(left_out), stock.kerf, assumed, told)
