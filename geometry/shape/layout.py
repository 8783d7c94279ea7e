"""Everything in its place: ``Project`` -> ``Layout``, worked out once and read by all the rest."""

from dataclasses import dataclass, field, replace

from ...params.project import SIDES, Project, Side
from . import built as built_
from . import cover as cover_
from . import envelope as envelope_
from . import frame as frame_
from . import impossible, joints, lining, saw_ring, screws, taps, tray
from . import lid as lid_
from . import lip as lip_
from .envelope import Envelope
from .frame import Board, Frame
from .joints import Joint
from .lid import HingeAxis, LidSection
from .lining import Bracket, Manifold, Panel
from .lip import Lip
from .reference import Reference, reference
from .seat import CapStrip, Strip, cap_strip, held_width, squeezed, strips
from .taps import Tap
from .well import Inside, inside


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What is where, mm and degrees. Boards and panels in the order front, right, back, left.

    So are the ``covers``, of the sides that have one, and the cap's ``strips``. ``joints`` are what
    is glued into the miters, corner by corner from below.

    ``undrilled`` names the pilots that are asked for beyond the wood, and so are not drilled.
    ``seal`` is the squeezed height of the seal: the lip's plane lies that far below Z = 0.
    ``held_width`` is how wide what holds the collar on the lip lies beside it.
    ``leaf_out`` is how far the face that carries the hinge leaves stands outside the back board's:
    the thickness of a cover. ``front_y`` and ``back_y`` are where the collar's front and back
    face stand in section. ``ring`` is the saw's test ring, cut or still to be cut.
    """

    lip: Lip
    frame: Frame
    boards: tuple[Board, ...]
    taps: tuple[Tap, ...]
    panels: tuple[Panel, ...]
    manifold: Manifold | None
    brackets: tuple[Bracket, ...]
    lid: LidSection | None
    hinge: HingeAxis | None
    reference: Reference
    undrilled: tuple[str, ...] = ()
    seal: float = 0.0
    held_width: float = 0.0
    cap: CapStrip | None = None
    envelopes: tuple[Envelope, ...] = ()
    covers: tuple[Board, ...] = ()
    strips: tuple[Strip, ...] = ()
    joints: tuple[Joint, ...] = ()
    leaf_out: float = 0.0
    front_y: float = 0.0
    back_y: float = 0.0
    ring: saw_ring.Ring
    inside: Inside = field(default_factory=Inside)

    @property
    def sealing_z(self) -> float:
        """Height of the plane that the lid closes on: the boards' top edge, or the cap's, mm."""
        return self.frame.height + (self.cap.thickness if self.cap else 0.0)

    @property
    def foam(self) -> float:
        """Thickness of the foam panels, mm; 0 without foam."""
        return self.panels[0].thickness if self.panels else 0.0

    def board(self, side: Side) -> Board:
        """Return the board of a side."""
        return self.boards[SIDES.index(side)]

    def cover(self, side: Side) -> Board | None:
        """Return the cover on a side, None without one."""
        return cover_.of_side(self.covers, side)

    def over(self, board: Board) -> Board | None:
        """Return the cover on a board of the collar; None without one, and on a cover itself."""
        return self.cover(board.side) if board.kind == "board" else None

    def panel(self, side: Side) -> Panel | None:
        """Return the foam panel of a side, None without foam."""
        return self.panels[SIDES.index(side)] if self.panels else None

    def taps_on(self, side: Side) -> tuple[Tap, ...]:
        """Return the taps of a side in their order."""
        return tuple(tap for tap in self.taps if tap.side == side)

    def envelopes_of(self, tap: Tap) -> tuple[Envelope, ...]:
        """Return the envelopes of one tap, from its flange outward, then what is inside."""
        return tuple(each for each in self.envelopes if each.tap == tap.number)


def board_size(project: Project) -> tuple[float, float]:
    """Return the boards' thickness and width, mm; the build file goes before the catalogue.

    What was measured on the real boards goes before both where the collar is laid out as built.
    """
    board = project.board
    row = project.part("lumber", board.stock)
    thickness = built_.size(project, "thickness") or board.thickness
    width = built_.size(project, "width") or board.width
    thickness = thickness or (row.value("thickness") if row else 0.0)
    width = width or (row.value("width") if row else 0.0)
    return thickness, width


def as_built(project: Project) -> Project:
    """Return the project whose collar is the one that ``[built]`` measured."""
    return replace(project, as_built=True)


def lay_out(project: Project) -> Layout:
    """Work out the whole collar. Pure: the same project gives the same layout.

    With ``project.as_built`` it is the collar that was really cut: boards, bores and foam as
    ``[built]`` measured them, laid over the place of the drawn one.

    Raises:
        BuildFileError: the readings cannot be laid out; with every problem that was found.
    """
    lip = lip_.fit(project.lip, project.show)
    thickness, width = board_size(project)
    frame, boards = frame_.build(project, lip, thickness, width)
    impossible.refuse_frame(project, boards)
    ring = saw_ring.ring_of(project, thickness)
    boards = saw_ring.with_settings(boards, ring)
    foam = lining.foam_thickness(project)
    seal, cap = squeezed(project), cap_strip(project)
    sealing_z = width + (cap.thickness if cap else 0.0)
    plain_covers = cover_.covers(project, frame, boards, seal)
    bare_covers = saw_ring.with_settings(plain_covers, ring)
    back = boards[SIDES.index("back")]
    leafed = cover_.under_leaf(project, back, bare_covers)
    leaf_out = leafed.thickness if leafed else 0.0
    joined = joints.joints(project, frame, boards)
    tap_list = taps.lay_out(project, boards, foam, bare_covers)
    through = lining.passages(project, boards)
    manifold = lining.manifold(project, boards)
    bare = lining.panels(project, frame, boards)
    impossible.refuse_foam(project, boards, bare)
    impossible.refuse_outside(project, boards, tap_list, manifold)
    brackets = lining.brackets(project, boards)
    drilled: list[Board] = []
    undrilled: list[str] = []
    for board in boards:
        bores = tuple(tap.hole for tap in tap_list if tap.side == board.side)
        legs = tuple(leg for leg in brackets if leg.side == board.side)
        pilots, lost = screws.pilots(project, board, legs, leaf_out)
        over = tray.under(board, bare_covers, project)
        hung = tray.in_board(tray.screws(project, board, over), over)
        holes = bores + through.get(board.side, ()) + hung + pilots
        slots = joints.slots_of(board, frame, joined)
        whole, met = joints.undrilled(replace(board, holes=holes, slots=slots))
        undrilled += (f"{board.side} board: {name}" for name in (*lost, *met))
        drilled.append(whole)
    joints.refuse_met(project, drilled)
    cover_.refuse(project, tuple(drilled), bare_covers, sealing_z)
    tray.refuse(project, tuple(drilled), bare_covers, tap_list)
    covers: list[Board] = []
    for cover in bare_covers:
        leaf = screws.cover_pilots(project, cover, back) if cover is leafed else ()
        pilots = tuple(hole for hole in leaf if screws.inside(cover, hole))
        undrilled += (f"{cover.side} cover: {hole.name}" for hole in leaf if hole not in pilots)
        board = drilled[SIDES.index(cover.side)]
        drawn = cover_.with_holes(cover, board)
        over = tray.under(board, (cover,), project)
        hung = tray.in_cover(tray.screws(project, board, over), over)
        covers.append(replace(drawn, holes=drawn.holes + hung + pilots))
    panels = tuple(
        lining.with_holes(
            panel,
            board,
            tuple(tap for tap in tap_list if tap.side == board.side),
            through.get(board.side, ()),
            manifold if manifold and manifold.side == board.side else None,
            tuple(leg for leg in brackets if leg.side == board.side),
            screws.bolt_pockets(project, board),
        )
        for panel, board in zip(bare, drilled, strict=False)
    )
    back_y = lid_.collar_back_y(project, lip) + frame.moved[2]
    return Layout(
        lip=lip,
        frame=frame,
        boards=tuple(drilled),
        taps=tap_list,
        panels=panels,
        manifold=manifold,
        brackets=brackets,
        lid=lid_.section(project, lip, sealing_z),
        hinge=lid_.hinge_axis(project, back_y + leaf_out, sealing_z),
        reference=reference(project, lip, back, sealing_z, -seal, leaf_out),
        undrilled=tuple(undrilled),
        seal=seal,
        held_width=held_width(project, boards),
        cap=cap,
        envelopes=envelope_.of_taps(tap_list),
        covers=tuple(covers),
        strips=strips(project, cap, frame),
        joints=joined,
        leaf_out=leaf_out,
        front_y=lid_.collar_front_y(project) - frame.moved[0],
        back_y=back_y,
        ring=ring,
        inside=inside(project, lip, frame, boards, bare, tap_list, manifold, brackets, cap, -seal),
    )
