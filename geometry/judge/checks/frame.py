"""The dry frame: is it as square as it was drawn, so that it can be glued?

Four boards of the right length can still be put together as a rhombus. Its miters stand open, and
glue does not fill them; glued so, it never fits the lip and the lid again as drawn.
"""

from collections.abc import Iterator

from ...shape.built import OFF_SQUARE
from ..design import Design
from ..finding import Check, Finding, Where

FRAME_SQUARE = Check(
    id="frame-square",
    weight="must",
    unit="mm",
    question="is the dry frame put together as square as it was drawn?",
    source="its diagonals against those of the same boards racked as drawn; 1/16 in is common"
    " practice",
)

DIAGONAL = "built.front_left_to_back_right"

SEEN = 0.05
"""What is less prints as 0 mm."""


def find(design: Design) -> Iterator[Finding]:
    """Yield how far the dry frame's diagonals are off; nothing before a frame was made."""
    dry, where = design.layout.frame.dry, Where(text="built frame")
    if dry is None:
        return
    if dry.known_by == "sides":
        why = "the diagonals of the dry frame tell whether it is square"
        yield FRAME_SQUARE.not_checked(where, (DIAGONAL,), why)
        return
    thickness = design.layout.boards[0].thickness
    open_ = max(abs(dry.opening(corner, thickness)) for corner in range(4))
    told = (
        (dry.racked, "one diagonal is so much too long"),
        (open_, f"a miter stands open by {design.text(open_)}"),
    )
    why = "; ".join(said for mm, said in told if mm >= SEEN) or "as square as it was drawn"
    required = design.required(FRAME_SQUARE.id, OFF_SQUARE)
    yield FRAME_SQUARE.at_most(where, dry.racked, required, why)
