"""Everything in its place: ``Project`` -> ``Layout``, worked out once and read by all the rest."""

from dataclasses import dataclass, replace

from ...params.problem import BuildFileError, Problem
from ...params.project import SIDES, Project, Side
from ...params.units import length_text
from . import frame as frame_
from . import lid as lid_
from . import lining, screws, taps
from . import lip as lip_
from .frame import Board, Frame
from .lid import HingeAxis, LidSection
from .lining import Bracket, Manifold, Panel
from .lip import Lip
from .taps import Tap


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What is where, mm and degrees. Boards and panels in the order front, right, back, left."""

    lip: Lip
    frame: Frame
    boards: tuple[Board, ...]
    taps: tuple[Tap, ...]
    panels: tuple[Panel, ...]
    manifold: Manifold | None
    brackets: tuple[Bracket, ...]
    lid: LidSection | None
    hinge: HingeAxis | None

    def board(self, side: Side) -> Board:
        """Return the board of a side."""
        return self.boards[SIDES.index(side)]

    def panel(self, side: Side) -> Panel | None:
        """Return the foam panel of a side, None without foam."""
        return self.panels[SIDES.index(side)] if self.panels else None

    def taps_on(self, side: Side) -> tuple[Tap, ...]:
        """Return the taps of a side in their order."""
        return tuple(tap for tap in self.taps if tap.side == side)


def board_size(project: Project) -> tuple[float, float]:
    """Return the boards' thickness and width, mm; the build file goes before the catalogue."""
    board = project.board
    row = project.part("lumber", board.stock)
    thickness = board.thickness or (row.value("thickness") if row else 0.0)
    width = board.width or (row.value("width") if row else 0.0)
    return thickness, width


def lay_out(project: Project) -> Layout:
    """Work out the whole collar. Pure: the same project gives the same layout.

    Raises:
        BuildFileError: the readings cannot be laid out; with every problem that was found.
    """
    lip = lip_.fit(project.lip)
    thickness, width = board_size(project)
    frame, boards = frame_.build(project, lip, thickness, width)
    _refuse_impossible(project, boards)
    foam = lining.foam_thickness(project)
    tap_list = taps.lay_out(project, boards, foam)
    through = lining.passages(project, boards)
    _refuse_passages(project, boards)
    manifold = lining.manifold(project, boards)
    brackets = lining.brackets(project, boards)
    drilled: list[Board] = []
    for board in boards:
        bores = tuple(tap.hole for tap in tap_list if tap.side == board.side)
        legs = tuple(leg for leg in brackets if leg.side == board.side)
        pilots = screws.pilots(project, board, legs)
        drilled.append(replace(board, holes=bores + through.get(board.side, ()) + pilots))
    panels = tuple(
        lining.with_holes(
            panel,
            board,
            tuple(tap for tap in tap_list if tap.side == board.side),
            through.get(board.side, ()),
            manifold if manifold and manifold.side == board.side else None,
            tuple(leg for leg in brackets if leg.side == board.side),
        )
        for panel, board in zip(lining.panels(project, frame, boards), drilled, strict=False)
    )
    return Layout(
        lip=lip,
        frame=frame,
        boards=tuple(drilled),
        taps=tap_list,
        panels=panels,
        manifold=manifold,
        brackets=brackets,
        lid=lid_.section(project, lip, width),
        hinge=lid_.hinge_axis(project, lip, width),
    )


def _refuse_impossible(project: Project, boards: tuple[Board, ...]) -> None:
    """Raise where boards or panels would have no length left."""
    foam = lining.foam_thickness(project)
    problems: list[Problem] = []
    for board in boards:
        if board.short_point < 2 * board.thickness:
            problems.append(
                Problem(
                    key=f"lip.{board.side}",
                    keys=("board.thickness",),
                    read=f"a board with {length_text(board.short_point, project.show)} between"
                    " its short points",
                    wanted="boards that leave a clear opening",
                )
            )
        elif board.short_point < 4 * foam:
            problems.append(
                Problem(
                    key="foam.thickness",
                    read=length_text(foam, project.show),
                    wanted="foam that leaves an opening between the"
                    f" {length_text(board.short_point, project.show)} of clear length",
                )
            )
    if project.foam and project.foam.below_top >= boards[0].width:
        problems.append(
            Problem(
                key="foam.below_top",
                read=length_text(project.foam.below_top, project.show),
                wanted="less than the board's width"
                f" ({length_text(boards[0].width, project.show)})",
            )
        )
    if problems:
        raise BuildFileError(problems)


def _refuse_passages(project: Project, boards: tuple[Board, ...]) -> None:
    """Raise where a passage leaves the rectangle between its board's short points."""
    problems: list[Problem] = []
    for number, asked in enumerate(project.hole, 1):
        board = boards[SIDES.index(asked.side)]
        radius = asked.diameter / 2 - 1e-9  # may touch, as a bore may
        u = board.long_point / 2 + asked.offset
        if not radius <= asked.height <= board.width - radius:
            key, read = "height", asked.height
        elif not (board.inner_left + radius <= u <= board.long_point - board.inner_right - radius):
            key, read = "offset", asked.offset
        else:
            continue
        problems.append(
            Problem(
                key=f"hole[{number}].{key}",
                keys=(f"hole[{number}].diameter",),
                read=length_text(read, project.show),
                wanted=f"a passage wholly inside the {asked.side} board, between its short points"
                f" ({length_text(board.short_point, project.show)} apart) and its edges"
                f" ({length_text(board.width, project.show)} apart)",
            )
        )
    if problems:
        raise BuildFileError(problems)
