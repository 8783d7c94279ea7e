"""The foam plan as text: sheets with their panels, cuts in their order, seams, what is proved."""

from collections.abc import Iterator

from ...geometry.plan.sheets import STEP
from ...geometry.plan.sheets.panels import Lot, Seam
from ...geometry.plan.work.cautions import FOAM, KNIFE
from ...params.units import both_text, length_text
from ..terminal import columns, fitted
from .planned import Foam, Laid, at_text, gives_text, how_text, size_text, where_text

HOW = (
    "Lay each sheet with its long side from left to right, the face that goes on the board up;"
    " every cut runs through its piece from edge to edge, and pieces stay as they lie until their"
    " last cut. A knife takes no foam. The sheet's edges count as straight and square: check them."
)

CARE = (KNIFE, FOAM)

AFTER = (
    "When a panel is cut to size, mark it, then cut its pockets and openings: by its template, or"
    " from its left end and lower edge as seen from outside. What falls out is waste. What is set"
    " out only is not cut yet: it waits until the part that it lies about is on."
)

SEAMED = "Butt the pieces tight on the board; the seam is a joint to seal like the corners."


def foam_text(foam: Foam) -> str:
    """Return the plan sheet by sheet."""
    lines: list[str] = []
    sheets = list(foam.sheets())
    for lot in foam.plan.lots:
        lines += ["", *fitted(heading(foam, lot))]
        lines += (line for said in about(foam, lot) for line in fitted(said))
    if sheets:
        lines += ["", *(line for said in (HOW, *CARE) for line in fitted(said))]
    for laid in sheets:
        lines += ["", *_sheet(foam, laid)]
    if sheets:
        lines += ["", *fitted(AFTER)]
        lines += _openings(foam)
    for said in closing(foam):
        lines += fitted(said)
    return "\n".join(lines[1:] if lines and not lines[0] else lines) + "\n"


def heading(foam: Foam, lot: Lot) -> str:
    """Say what comes from how many sheets."""
    panels = len({(piece.collar, piece.panel.side) for piece in lot.pieces})
    pieces = f" in {len(lot.pieces)} pieces" if len(lot.pieces) > panels else ""
    count = len(lot.plan.sheets)
    return (
        f"Foam plan: {panels} panels{pieces}, {foam.foam(lot)}, from {count}"
        f" sheet{'' if count == 1 else 's'} of"
        f" {size_text(lot.job.sheet.length, lot.job.sheet.width, foam.show)}"
    )


def about(foam: Foam, lot: Lot) -> Iterator[str]:
    """Yield what to know of a lot's sheet: whether it is assumed, and what its row says of it."""
    if lot.usual:
        yield assumed(foam, lot)
    row = foam.row(lot)
    if row is not None and row.text("note"):
        yield f"Of {row.name}: {row.text('note')}."


def assumed(foam: Foam, lot: Lot) -> str:
    """Say that nobody gave the sheet."""
    long, wide = (length_text(each * STEP, foam.show)
                  for each in (lot.job.sheet.length, lot.job.sheet.width))  # fmt: skip
    return (
        "The usual sheet of this kind, assumed: measure yours and enter it under [foam.sheet],"
        f' length = "{long}" and width = "{wide}".'
    )


def closing(foam: Foam) -> Iterator[str]:
    """Yield what stands under all sheets: seams, what is proved, what has no plan."""
    for lot in foam.plan.lots:
        yield from (seam_text(foam, seam) for seam in lot.seams)
        if lot.seams:
            yield SEAMED
        yield from proof(foam, lot)
    if foam.plan.without:
        yield missing(foam)


def seam_text(foam: Foam, seam: Seam) -> str:
    """Say where a seam lies and how far from the nearest hole."""
    show = foam.show
    whose = f"{foam.names[seam.collar]} {seam.side}" if len(foam.names) > 1 else seam.side
    edge = "lower edge" if seam.lengthwise else "left end"
    said = f"Seam in {whose}: {both_text(seam.at, show)} from its {edge}"
    if seam.clear is None:
        return said + "."
    if seam.clear < 0:
        return f"{said}. It runs through a cut-out: this sheet leaves no other place."
    said += f", {both_text(seam.clear, show)} clear of the nearest cut-out"
    return f"{said}, the most that this sheet leaves." if seam.near else said + "."


def proof(foam: Foam, lot: Lot) -> Iterator[str]:
    """Yield what is proved of a lot, in words."""
    plan, count = lot.plan, len(lot.plan.sheets)
    given = " with these seams" if lot.seams else ""
    kind = f" ({foam.foam(lot)})" if len(foam.plan.lots) > 1 else ""
    if plan.sheets_proved:
        yield f"Least sheets{kind}: proved, no plan of edge-to-edge cuts{given} takes fewer."
    else:
        yield (
            f"Least sheets{kind}: not proved; {count} are used, and the panels' area alone fills"
            f" {plan.least}."
        )
    cuts = f"{plan.cuts} cut{'' if plan.cuts == 1 else 's'}"
    if plan.proved:
        yield f"Least cuts{kind}: {cuts}, proved for as many sheets."
    else:
        yield f"Least cuts{kind}: {cuts}, not proved; there may be a way with fewer."
    if lot.seams and lot.trials > 1:
        yield f"Seams{kind}: the best of {lot.trials} ways that are as far from cut-outs."


def missing(foam: Foam) -> str:
    """Say why there is no plan for some foam, and which key brings one."""
    whose = ""
    if len(foam.names) > 1:
        whose = " of " + ", ".join(foam.names[number] for number in foam.plan.without)
    return (
        f"No plan for the foam{whose}: enter the sheet that you can buy as length and width under"
        " [foam.sheet]."
    )


def _sheet(foam: Foam, laid: Laid) -> Iterator[str]:
    show = foam.show
    several = f" ({foam.foam(laid.lot)})" if len(foam.plan.lots) > 1 else ""
    yield from fitted(f"Foam sheet {laid.number}{several}")
    rows = [("panel", "size", "from the left", "from below", "")]
    for placed in laid.plan.parts:
        piece, rect = laid.piece(placed), placed.rect
        rows.append(
            (
                foam.name(piece),
                size_text(piece.length, piece.width, show),
                length_text(rect.x * STEP, show),
                length_text(rect.y * STEP, show),
                "on end" if placed.turned else "",
            )
        )
    yield from columns(rows)
    for each in laid.cuts:
        before = size_text(each.cut.before.length, each.cut.before.width, show)
        yield from fitted(
            f"  cut {each.number}: {each.of} ({before}), {where_text(each.cut, show)};"
            f" {gives_text(each)}",
            "      ",
        )
    left = sorted(laid.plan.left, key=lambda rect: -rect.area)
    if left:
        sizes = ", ".join(size_text(rect.length, rect.width, show) for rect in left)
        yield from fitted(f"  left over: {sizes}", "      ")


def _openings(foam: Foam) -> Iterator[str]:
    rows = [
        (
            foam.name(each.piece),
            each.name,
            how_text(each, foam.show),
            at_text(each.u, foam.show),
            at_text(each.v, foam.show),
        )
        for lot in foam.plan.lots
        for each in foam.openings(lot)
    ]
    if rows:
        yield from columns([("panel", "what", "how", "from the left", "from below"), *rows])
