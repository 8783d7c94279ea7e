"""The collar's back in section: what the lid's rear edge and its plug could turn into.

Section plane: y to the back from the lip's front edge, z up from what the collar stands on.
Every piece is an upright box or a tap's envelope. Pieces that lie against each other overlap
here (the foam's includes the board behind it), so that a depth is measured from a face that is
there.
"""

from ...params.project import Project
from .envelope import Envelope
from .layout import Layout
from .plane import Point
from .section import Named, Section, box


def collar_back(project: Project, layout: Layout) -> tuple[Named, ...]:
    """Return the collar's back with what is on it, but for taps, as convex pieces with names.

    A leaf is there once its height and thickness are given.
    """
    board, height = layout.board("back"), layout.frame.height
    face = layout.back_y
    within = face - board.thickness
    panel, cap, cover = layout.panel("back"), layout.cap, layout.cover("back")
    found: list[Named] = []
    if panel is None or panel.width < height:  # else the foam's piece has all of the board in it
        found.append(("back board", box(within, face, 0.0, height)))
    if panel is not None:
        inner = within - panel.thickness
        found.append(("foam on the back board", box(inner, face, 0.0, panel.width)))
    if cap is not None:
        outer = face - cap.inset
        inner = outer - cap.width
        low = 0.0 if inner >= within else height
        found.append(("cap strip", box(inner, outer, low, layout.sealing_z)))
    if cover is not None:
        inner = within if cover.top <= height else face
        found.append(("cover", box(inner, face + cover.thickness, cover.bottom, cover.top)))
    hinge = project.hinge
    if hinge is not None and hinge.leaf_height and hinge.leaf_thickness:
        foot = height - hinge.leaf_height
        out = face + layout.leaf_out + hinge.leaf_thickness
        found.append(("hinge leaf", box(within, out, foot, height)))
    manifold = layout.manifold
    if manifold is not None and manifold.side == "back":
        low = manifold.v - manifold.height / 2
        found.append(("manifold", box(within - manifold.depth, face, low, low + manifold.height)))
    return tuple(found)


def closed_back(layout: Layout) -> tuple[Named, ...]:
    """Return the back in section with the lid closed, as upright boxes with names, to be drawn.

    Places count from where the face that carries the hinge's leaf meets the plane that the lid
    closes on: behind the face to the right, above the plane upward, mm. That is the section in
    which the hinge's own readings are taken. A leaf and the lid are there once they were measured.
    """
    board, plane = layout.board("back"), layout.sealing_z
    face, top = -layout.leaf_out, layout.frame.height - layout.sealing_z
    found: list[Named] = [("back board", box(face - board.thickness, face, -plane, top))]
    cap, cover, lid = layout.cap, layout.cover("back"), layout.lid
    if cap is not None:
        outer = face - cap.inset
        found.append(("cap strip", box(outer - cap.width, outer, top, 0.0)))
    if cover is not None:
        low, high = cover.bottom - plane, cover.top - plane
        found.append(("cover", box(face, face + cover.thickness, low, high)))
    found += [
        ("hinge leaf", box(0.0, leaf.thickness, top - leaf.height, top))
        for leaf in layout.reference.leaves[:1]
    ]
    if lid is not None and lid.back_y is not None and lid.top_z is not None:
        zero = layout.back_y + layout.leaf_out
        front = layout.front_y if lid.front_y is None else lid.front_y
        back, front = lid.back_y - zero, front - zero
        found.append(("lid", box(front, back, 0.0, lid.top_z - plane)))
        if lid.skirt_back:
            inner = back - (lid.skirt_back_thickness or 0.0)
            found.append(("back skirt", box(inner, back, -lid.skirt_back, 0.0)))
    return tuple(found)


def met_at(name: str, place: Point, face: float, thickness: float) -> str:
    """Return what is really met at a place (y, z) of a piece: its own part, or the board in it.

    Args:
        name: of the piece, as ``collar_back`` gave it.
        place: the point of it.
        face: y of the board's outer face, mm.
        thickness: of the board, mm.
    """
    within = face - thickness <= place[0] <= face
    return "back board" if within and name in _OVER_THE_BOARD else name


_OVER_THE_BOARD = ("foam on the back board", "cover", "hinge leaf", "manifold")


def standing(envelope: Envelope, face: float) -> Section:
    """Return a back or front tap's envelope in section, its board's outer face at y = ``face``."""
    if envelope.side == "back":
        a, b, c, d = ((face + out, up) for out, up in envelope.section)
        return a, b, c, d
    d, c, b, a = ((face - out, up) for out, up in envelope.section)
    return a, b, c, d
