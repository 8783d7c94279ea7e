"""What ``new`` does not ask for: tables that a build may have besides, as lines to take the # off.

Most builds have none of them, and what they hold is chosen, not measured.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unasked:
    """One table: its header as it stands in a file, what it is for, and lines that it may have."""

    header: str
    what: str
    lines: tuple[str, ...]


UNASKED: tuple[Unasked, ...] = (
    Unasked(
        "[[pour]]",
        "What comes out of a tap, and the gas that pushes it. One table for each tap.",
        ("tap = 1", 'drink = "carbonated"', 'carbonation = "2.5 vol"', 'temperature = "38 degF"',
         'gas = "CO2"', 'line = "3/16 in"'),
    ),
    Unasked(
        "[manifold]",
        "A gas distributor inside the collar.",
        ('kind = "manifold-3-outlet"', 'side = "back"'),
    ),
    Unasked(
        "[[hole]]",
        "A way through for a probe, a cable or hoses. One table each.",
        ('side = "left"', 'height = "2 3/4 in"', 'diameter = "1/2 in"', 'name = "probe"'),
    ),
    Unasked(
        "[tray]",
        "The screws that a drip tray hangs on.",
        ('height = "1 in"', "count = 2", 'spacing = "6 in"', 'pilot = "1/8 in"'),
    ),
    Unasked(
        "[cap]",
        "A strip on the boards' top edges that the gasket closes on.",
        ('material = "steel"', 'thickness = "1/16 in"', 'width = "3/4 in"'),
    ),
    Unasked(
        "[cover]",
        "A second, outer layer of boards.",
        ('thickness = "3/4 in"', 'sides = ["front"]'),
    ),
    Unasked(
        "[[keep_out]]",
        "A place that nothing may enter: a lock, a lamp, a recessed grip. One table each.",
        ('side = "front"', 'height = "-1 in"', 'width = "2 in"', 'tall = "1 in"', 'name = "lock"'),
    ),
    Unasked(
        "[finish]",
        "What keeps water out of the wood.",
        ('kind = "spar-varnish"',),
    ),
    Unasked(
        "[stock]",
        "What the boards are cut from: the saw's kerf, and below it lengths that the shop sells.",
        ('kerf = "1/8 in"',),
    ),
    Unasked("[[stock.length]]", "One table for each length.", ('length = "8 ft"',)),
    Unasked(
        "[foam.sheet]",
        "The sheet that the foam panels are cut from.",
        ('length = "8 ft"', 'width = "4 ft"'),
    ),
)  # fmt: skip

ROWS = (
    "Several kinds of taps, or taps in several boards: write [[taps]] in place of [taps], and one"
    " more [[taps]] for each further row.",
    "More than two kinds of vessels: one more [[vessel]] for each. In each, tap is the tap that it"
    " feeds.",
)
"""What is asked for once or twice and may come more often."""

LATER = (
    "Once it is cut: [built], by `collarwright check FILE --built`. Looser or tighter limits:"
    " [limits]. Tables above have more keys than stand there. `collarwright keys` explains them"
    " all, `collarwright keys cap` those of one table."
)
"""What else there is."""
