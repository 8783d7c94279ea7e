"""Vessels together, and the lines behind the taps: what is asked once, outside the loops.

Here are the questions; ``packed`` answers them, since no check searches.
"""

from ..finding import Check

TAIL_ROOM = Check(
    id="tail-room",
    weight="must",
    unit="mm",
    question="do line and tailpiece bend clear of the vessels?",
    source="from the shank's inner end to the nearest vessel that stands above the axis less bend"
    " and line; tailpiece and a bend of 50 mm are common practice",
    levers=("taps.shank", "vessel.kind", "taps.height"),
)
VESSELS = Check(
    id="vessels",
    weight="must",
    unit="mm",
    question="do all vessels stand in the well together?",
    source="the largest gap that all can keep from each other and from all else; 5 mm is common"
    " practice",
    levers=("foam.thickness", "manifold.side", "taps.shank", "vessel.kind", "vessel.count"),
)
