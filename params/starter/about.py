"""Questions about what stands around the freezer, what is inside it, and the saw."""

from .question import Group, Question

ROOM = Group(
    name="the room",
    need="a long tape",
    why="whether the opening lid hits the wall or what is above",
    questions=(
        Question(
            key="room.behind",
            ask="From the lip's back edge to the wall",
            how="At the height of the lid, not at the floor; to a pipe or socket if one is nearer.",
            why="The opening lid must not reach it.",
            example="6 in",
            mostly="2 in or more, for air",
        ),
        Question(
            key="room.above",
            ask="From the lip up to the lowest thing above",
            how="A shelf, a cupboard, the ceiling.",
            why="The lid opens a board's width higher than before.",
            example="60 in",
        ),
        Question(
            key="room.lip_height",
            ask="From the floor up to the lip",
            how="At the front, beside the freezer.",
            why="How high a full vessel has to be lifted.",
            example="33 in",
            usual=(780, 900),
        ),
    ),
)

SAW = Group(
    name="the saw",
    need="the saw, or its booklet",
    why="whether it can cut these boards",
    questions=(
        Question(
            key="shop.tilt_max",
            ask="How far the saw's blade tilts",
            how="Turn it to its stop and read the scale.",
            why="A lip out of square that is followed wants more than 45 deg at a corner.",
            example="47 deg",
            mostly="45 to 48 deg",
        ),
        Question(
            key="shop.cross_cut",
            ask="Widest board that the saw cuts across",
            how="Blade tilted, board flat.",
            why="The miter is cut across the board's width.",
            example="12 in",
            usual=(100, 1300),
        ),
        Question(
            key="shop.cut_depth_tilted",
            ask="Depth of cut with the blade tilted to 45 deg",
            how="From the table up to the tooth, square to the table.",
            why="The blade must come through the board.",
            example="2 1/8 in",
            usual=(25, 110),
        ),
    ),
)


def _vessel(number: int, what: str, example: str) -> tuple[Question, ...]:
    """Return the questions about one row of vessels; the second is asked after the first."""
    table = f"vessel[{number}]"
    before = "" if number == 1 else f"vessel[{number - 1}].kind"
    return (
        Question(
            key=f"{table}.kind",
            ask=f"{what} kind, or diameter x height measured; skip for none",
            how="Measured: greatest diameter, and height without the fitting.",
            spoken="Kind: words of its name, as ball lock. Measured: 9 in x 25 in.",
            why="It has to go down through the collar and stand under the lid.",
            example=example,
            without="None are taken.",
            catalogue="vessels",
            measured=(f"{table}.diameter", f"{table}.height"),
            follows=before,
        ),
        Question(
            key=f"{table}.diameter",
            ask="Its greatest diameter, measured",
            how="Across handles and rim. Skip it to take the catalogue's.",
            why="It goes before the catalogue's figure.",
            example="9 in",
            without="The catalogue's figure stands.",
            usual=(95, 450),
            follows=f"{table}.kind",
        ),
        Question(
            key=f"{table}.height",
            ask="Its height, measured, without the fitting",
            how="From the foot to the top. Skip it to take the catalogue's.",
            why="It goes before the catalogue's figure.",
            example="25 in",
            without="The catalogue's figure stands.",
            usual=(250, 800),
            follows=f"{table}.kind",
        ),
        Question(
            key=f"{table}.fitting",
            ask="How far the fitting with its line stands above its top",
            how="Fitting on, line bent over: from the top to the highest point.",
            why="It has to fit under the lid too.",
            example="2 in",
            without="The catalogue's figure stands; of a vessel that was measured nobody knows it.",
            usual=(20, 150),
            follows=f"{table}.kind",
        ),
        Question(
            key=f"{table}.count",
            ask="How many of these",
            how="A whole number.",
            why="They all have to stand in the well.",
            example="1",
            without="One is taken.",
            form="count",
            follows=f"{table}.kind",
        ),
    )


WELL = Group(
    name="the inside of the freezer and the vessels",
    need="the freezer empty and unplugged; a tape; the vessels",
    why="whether the vessels go down and stand under the lid",
    shown=False,
    questions=(
        Question(
            key="well.length",
            ask="Inside, left wall to right wall, at the floor",
            how="Down at the floor: the walls lean in. Where there is a raised floor, over it.",
            why="The vessels stand on the floor.",
            example="25 in",
            usual=(480, 1600),
        ),
        Question(
            key="well.width",
            ask="Inside, front wall to back wall, at the floor",
            how="Down at the floor.",
            why="The vessels stand on the floor.",
            example="16 in",
            usual=(370, 660),
        ),
        Question(
            key="well.mouth_length",
            ask="Inside, left to right, at the lip; skip if it is the same",
            how="Between the inner edges of the rim.",
            why="The vessels go down through it.",
            example="25 in",
            without="The same as at the floor is taken.",
            usual=(480, 1600),
        ),
        Question(
            key="well.mouth_width",
            ask="Inside, front to back, at the lip; skip if it is the same",
            how="Between the inner edges of the rim.",
            why="The vessels go down through it.",
            example="16 in",
            without="The same as at the floor is taken.",
            usual=(370, 660),
        ),
        Question(
            key="well.height",
            ask="From the freezer's floor up to the lip",
            how="Lay a straightedge across the rim and measure down from it.",
            why="With the board's width it is the height under the lid.",
            example="27 in",
            usual=(640, 800),
        ),
        Question(
            key="well.corner_radius",
            ask="Rounding of the freezer's upright inside corners, as a radius",
            how="Lay a square into the corner: from its corner to where the wall first touches.",
            why="A vessel does not go into a round corner.",
            example="1 1/2 in",
            without="Sharp corners are taken.",
            usual=(15, 70),
        ),
        Question(
            key="well.step.side",
            ask="The raised floor over the compressor: on which wall? skip for none",
            how="Standing before the freezer: front, right, back or left.",
            why="A vessel on it stands higher.",
            example="right",
            without="No raised floor is taken.",
            mostly="right",
            choices=("front", "right", "back", "left"),
        ),
        Question(
            key="well.step.length",
            ask="How far that raised floor comes out from its wall",
            how="On top of it, from the wall to its edge.",
            why="A vessel on it stands higher.",
            example="9 in",
            usual=(180, 310),
            follows="well.step.side",
        ),
        Question(
            key="well.step.height",
            ask="How high that raised floor is",
            how="From the freezer's floor up to its top.",
            why="A vessel on it stands higher.",
            example="9 in",
            usual=(160, 310),
            follows="well.step.side",
        ),
        *_vessel(1, "The kegs: their", "soda-keg-ball-lock-5gal"),
        *_vessel(2, "Other vessels, such as a gas cylinder: their", "co2-5lb-aluminium"),
    ),
)
