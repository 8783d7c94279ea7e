"""At the saw: the test ring and the papers, then boards, covers and the strip on top."""

from collections.abc import Iterable, Iterator

from ...shape.frame import Board
from ...shape.joints import from_inner
from ...shape.sheet import Sheet, inner_sheet, panel_sheet
from ..shown import PRACTICE
from . import cautions
from .before import RESTED
from .job import Job, words
from .step import Step, after

PHASE = "At the saw"

FROM_STICKS = (
    "As far as the sticks' right ends leave any behind the last board's mark (the list of"
    " materials counts them), saw them off there before the boards."
)


def steps(job: Job) -> Iterator[Step]:
    """Yield what is done at the saw."""
    yield _ring(job)
    yield _templates(job)
    yield _cut(job)
    if job.layout.joints:
        yield _corners(job)


def _ring(job: Job) -> Step:
    ring = job.layout.ring
    figures = [("thickness of the scraps", job.both(ring.thickness))]
    if ring.off_deg is None:
        do = (
            "Cut the test ring from four scraps, as its page shows."
            + (f" {FROM_STICKS}" if job.sawn else ""),
            "Push it together in two L's, and measure the gap at the open end of both open joints.",
            "Put the mean into the build file as shop.ring_gap, with shop.ring_open and"
            " shop.ring_thickness, and build the papers anew: they then say what the saw's scale"
            " has to show for each miter.",
        )
        missing: tuple[str, ...] = ("shop.ring_gap",)
    else:
        do = (
            "A ring was cut: the papers say what the scale has to show for each miter.",
            "If the saw was moved or its blade changed since, cut a new ring.",
        )
        figures.append(("blade off its scale by", f"{ring.off_deg:+.2f} deg"))
        missing = ()
    return Step(
        id="ring",
        phase=PHASE,
        title="Cut the test ring",
        do=do,
        hands=(0.5, 1.0),
        figures=tuple(figures),
        cautions=(cautions.TABLE_SAW, cautions.OFFCUT, cautions.DUST),
        after=after("buy"),
        papers=("templates/saw-ring.pdf",),
        missing=missing,
    )


def template(part: Board) -> str:
    """Return the template of a board's or a cover's outer face; of its ends, where it is plain."""
    marked = part.slots or any(hole.face == "outer" or hole.depth is None for hole in part.holes)
    return f"templates/{part.name}{'' if marked else '-ends'}.pdf"


def inner_templates(parts: Iterable[Board]) -> tuple[str, ...]:
    """Return the templates of the inner faces that have any; a cover's only if drilled there."""
    return tuple(
        f"templates/{part.name}-inner.pdf"
        for part in parts
        if (part.kind != "cover" or any(hole.face != "outer" for hole in part.holes))
        and inner_sheet(part).circles
    )


def foam_templates(job: Job) -> tuple[str, ...]:
    """Return the templates of the foam panels that something is cut into."""
    return tuple(
        f"templates/foam-{each.side}.pdf"
        for each in job.layout.panels
        if _cut_into(panel_sheet(job.layout, each.side, job.show))
    )


def _cut_into(panel: Sheet) -> bool:
    """Whether anything is cut into a panel, and anything of it is left."""
    return bool(panel.holes) and any(each.layer == "OUTLINE" for each in panel.contours)


def _templates(job: Job) -> Step:
    papers = [template(part) for part in job.parts]
    papers += [*inner_templates(job.parts), *foam_templates(job)]
    return Step(
        id="templates",
        phase=PHASE,
        title="Print the templates and prove the print",
        do=(
            "Print the test page first, with fit to page turned off.",
            "Measure its bars across the sheet and up it. If they are not true, run collarwright"
            " build FILE with --printed and what 100 mm came out as, and print that.",
            f"Print the {words(len(papers), 'template')} that this step names; measure the ruler on"
            " every page.",
            "Tape the pages of each template together at their marks.",
            *(("Keep those of the foam until it is cut.",) if foam_templates(job) else ()),
        ),
        hands=(0.5, 1.5),
        after=after("measure", "ring"),
        papers=("templates/test-page.pdf", *papers),
    )


def tilt(true_deg: float, scale_deg: float | None) -> str:
    """Say a miter: ``45.0 deg``, ``45.0 deg (scale 44.6)``, or ``square``."""
    if not true_deg:
        return "square"
    scale = "" if scale_deg is None else f" (scale {scale_deg:.1f})"
    return f"{true_deg:.1f} deg{scale}"


def _cut_figure(job: Job, board: Board) -> tuple[str, str]:
    left = tilt(board.miter_left_deg, board.scale_left_deg)
    right = tilt(board.miter_right_deg, board.scale_right_deg)
    return (
        f"{board.kind} {board.side}",
        f"long point {job.length(board.long_point)}, left end {left}, right end {right}",
    )


def _cut(job: Job) -> Step:
    layout = job.layout
    kinds = "boards and covers" if layout.covers else "boards"
    do = [
        "Take papers that were built after the test ring was measured: older ones lack its angle.",
        (
            "Rip all boards to one width with one setting of the fence"
            if job.project.board.width or not job.project.board.stock
            else "Boards that are not as wide as they are sold: rip all to one width"
        )
        + ("; then the covers to theirs." if layout.covers else "."),
        "Cut them in the order of the saw list: stop block, tilt and face up stand there. Ends are"
        " named left and right as seen from outside."
        if job.sawn
        else "There is no saw list: the sticks in the build file do not suffice for the boards"
        " (collarwright stock FILE says what is lacking). Put that right first.",
        "Write on each inner face its side, which edge is up, and the corner at each end.",
    ]
    lengths = [job.length(board.long_point) for board in layout.boards]
    if lengths[0] == lengths[2] or lengths[1] == lengths[3]:
        do.insert(3, "Cut opposite boards of one length against the same stop.")
    figures = [("boards, width", job.both(layout.boards[0].width))]
    if layout.covers:
        figures.append(("covers, width", job.both(layout.covers[0].width)))
    figures += [_cut_figure(job, part) for part in job.parts]
    hands = 0.4 * len(job.parts)
    if layout.strips:
        steel = layout.strips[0].steel
        do.append(
            "Cut the four strips of steel for the top edge with snips or a hacksaw; file off every"
            " burr and sharp corner."
            if steel
            else "Cut the four strips of wood for the top edge, mitered across their width."
        )
        figures += [
            (f"strip {each.side}", f"long point {job.length(each.long_point)}")
            for each in layout.strips
        ]
        hands += 1.0
    unproved = any(part.prove_left or part.prove_right for part in job.parts)
    if unproved:
        do.insert(2, "The test ring does not tell for every miter here: prove those on scraps.")
    return Step(
        id="cut",
        phase=PHASE,
        title=f"Cut the {kinds}",
        do=tuple(do),
        hands=(hands, 2 * hands),
        figures=tuple(figures),
        cautions=(
            cautions.TABLE_SAW, cautions.OFFCUT, cautions.DUST,
            *((cautions.STEEL,) if layout.strips and layout.strips[0].steel else ()),
        ),
        after=(*after("buy", "ring"), RESTED),
        papers=("lists/saw-list.csv",) if job.sawn else (),
        sources=(f"hours: {PRACTICE}",),
    )  # fmt: skip


def _corners(job: Job) -> Step:
    joints = job.layout.joints
    kind, one = joints[0].kind, joints[0]
    each = len(joints) // 4
    what = {
        "spline": "Cut the slot for a spline into both miters of each corner, from end to end.",
        "biscuit": "Cut the slots for no. 20 biscuits into both miters of each corner.",
        "dowel": "Drill the holes for dowels into both miters of each corner, with a jig that holds"
        " the bit square to the miter.",
    }[kind]
    board, slot = next((board, slot) for board in job.layout.boards for slot in board.slots)
    figures = [
        (f"{kind}s at each corner", f"{each}"),
        ("depth in each board, square to the miter", job.both(slot.depth)),
        ("from the inner edge to its middle, along the miter", job.both(from_inner(board, slot))),
    ]
    figures.insert(1, ("thickness" if kind != "dowel" else "diameter", job.both(one.thick)))
    if kind != "spline":
        there = [joint for joint in joints if joint.corner == one.corner]
        heights = ", ".join(job.length(joint.v) for joint in there)
        figures.append(("middles, from the bottom edge up", heights))
    return Step(
        id="corners",
        phase=PHASE,
        title=f"Cut the miters for {kind}s",
        do=(
            what,
            "Try the setting on the scraps of the test ring first.",
            f"Push {words(each, kind)} into each corner dry: the joint has to close all the way.",
        ),
        hands=(0.5, 1.5),
        figures=tuple(figures),
        cautions=(cautions.TABLE_SAW,) if kind == "spline" else (cautions.DUST,),
        after=after("cut", "templates"),
        papers=tuple(template(each) for each in job.layout.boards),
        sources=("where they go: as much wood on both sides as there can be, plane geometry",),
    )
