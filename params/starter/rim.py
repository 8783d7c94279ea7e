"""Questions about the build itself and the freezer's lip."""

from .question import Group, Question

NAMES = Group(
    name="name and units",
    need="",
    why="they are printed on every sheet",
    first=True,
    questions=(
        Question(
            key="title",
            ask="A name for this build",
            how="Any words on one line.",
            why="It is printed on every sheet, so that two builds are not mixed up.",
            example="My freezer",
            without="The sheets carry the file's name only.",
        ),
        Question(
            key="show",
            ask="Print lengths in inches or in millimeters? Answer in or mm",
            how="Readings may be given in either, whatever is printed.",
            why="Templates, drawings and findings are printed in this.",
            example="in",
            without="Millimeters are printed.",
            choices=("in", "mm"),
        ),
    ),
)

LIP = Group(
    name="the lip",
    need="the lid open and a tape; a square for the corners",
    why="the boards are cut to it",
    first=True,
    questions=(
        Question(
            key="lip.front",
            ask="Front edge of the lip",
            how="Lid open. The lip is the freezer's top rim, under the lid. Hold the tape along"
            " its front, from the left outer edge to the right outer edge, as if the corners were"
            " square.",
            spoken="Read twice, give both: 37 in; 37 1/16 in.",
            why="The front board is cut to this.",
            example="28 in",
            form="readings",
            needed=True,
            usual=(600, 1800),
        ),
        Question(
            key="lip.right",
            ask="Right edge of the lip",
            how="Standing before the freezer: on its right, from the front outer edge to the back"
            " outer edge. Leave hinges and handle out of it.",
            why="The right board is cut to this.",
            example="21 in",
            form="readings",
            needed=True,
            usual=(480, 800),
        ),
        Question(
            key="lip.back",
            ask="Back edge of the lip",
            how="Along the back, from the left outer edge to the right one. Measure it; do not"
            " copy the front.",
            why="The back board is cut to this, and it shows a slip in the front.",
            example="28 in",
            form="readings",
            needed=True,
            usual=(600, 1800),
        ),
        Question(
            key="lip.left",
            ask="Left edge of the lip",
            how="From the front outer edge to the back one, on the left. Measure it; do not copy"
            " the right.",
            why="The left board is cut to this, and it shows a slip in the right.",
            example="21 in",
            form="readings",
            needed=True,
            usual=(480, 800),
        ),
        Question(
            key="lip.front_left_to_back_right",
            ask="Diagonal, from the front left corner to the back right corner",
            how="Across the open freezer, between the points where the outer edges would meet if"
            " the corners were not rounded. Two squares laid to the corners show them.",
            why="Four sides alone do not say whether the lip is square.",
            example="35 in",
            form="readings",
            usual=(770, 1970),
        ),
        Question(
            key="lip.front_right_to_back_left",
            ask="Diagonal, from the front right corner to the back left corner",
            how="The other way across, between the same kind of points.",
            why="With both diagonals, a slip in any one of the six readings shows.",
            example="35 in",
            form="readings",
            usual=(770, 1970),
        ),
        Question(
            key="lip.land",
            ask="Width of the lip that is hard and flat",
            how="Across the rim, from its outer edge inward to where it gets soft or rounds"
            " over. Take the narrowest place.",
            why="The boards stand on it.",
            example="2 in",
            usual=(25, 70),
        ),
        Question(
            key="lip.land_starts",
            ask="From the lip's outer edge in to where that hard, flat part starts",
            how="Where the edge is rounded, to where that ends; 0 in if it is flat at once.",
            why="A board that stands on the rounding rocks.",
            example="0 in",
            without="The land starts at the edge.",
            follows="lip.land",
        ),
        Question(
            key="lip.corner_radius",
            ask="Rounding of the lip's corners, as a radius",
            how="Lay a square to a corner, seen from above. From the square's inside corner to"
            " where the rim's edge first touches the square: that is the radius. 0 in if sharp.",
            why="A mitered board stands out over a rounded corner; there is less wood on the lip.",
            example="3/4 in",
            without="Sharp corners are taken.",
            usual=(5, 45),
        ),
    ),
)

SEAL = Group(
    name="the seal under the boards",
    need="a straightedge and a feeler, or a ruler with fine marks",
    why="whether the seal fills the gaps under the boards",
    shown=False,
    questions=(
        Question(
            key="lip.gaps",
            ask="Largest gap under a straightedge laid along the lip",
            how="Lay a straightedge along each side of the rim and find the widest gap under it.",
            why="The seal under the boards has to fill it.",
            example="1 mm",
            form="sides",
            usual=(0, 3),
        ),
        Question(
            key="seat.hold",
            ask="What holds the collar on the lip",
            how="adhesive, sealant, tape or cleats.",
            why="The collar must stay when the lid is thrown open.",
            example="sealant",
            choices=("adhesive", "sealant", "tape", "cleats"),
        ),
        Question(
            key="seat.seal",
            ask="The seal between boards and lip",
            how="Its kind, or the nearest one.",
            spoken="Words of its name will do, as bulb.",
            why="How thick it is and how far it gives.",
            example="epdm-d-profile",
            catalogue="seals",
        ),
    ),
)
