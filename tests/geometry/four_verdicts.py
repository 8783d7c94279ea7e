"""Four designs for each check: one that passes, one that is tight, one that fails, one unmeasured.

Each is the whole design below with a few figures changed, and its margin is worked out by hand:
t 19.05 and w 139.7 mm (1x6 pine), foam 25.4 mm, lip 939.8 x 533.4 mm, two taps 101.6 mm apart in
25.4 mm bores, a lid that overhangs by 5 mm, is 60 mm thick and turns 15 mm behind and 10 mm below
the boards' top edge, a seal that stands 8 mm high and is squeezed to 8 (1 - 35 %) = 5.2 mm.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

T, W, FOAM, FRONT, SIDE = 19.05, 139.7, 25.4, 939.8, 533.4
DIAGONAL = math.hypot(FRONT, SIDE)
SEAL = 8 * (1 - 0.35)
PLAY = 25.4 - 22.225
SHANK, TAILPIECE = 104.8, 32
KEG = "soda-keg-ball-lock-2-5gal-tall"
"""216 mm across, 368 mm tall, 45 mm more with its disconnects, 12.4 kg full."""
FLANGE_LOW, FLANGE_HIGH, THREAD_HIGH = 44, 52, 23.0
"""How far a bought shank of this kind may be off: the catalogue's, as are the other ranges."""


def mm(value: float) -> str:
    """Write a length as a build file has it."""
    return f"{value:.6f} mm"


def sides(all_: str, **some: str) -> dict[str, str]:
    """Write a value for each side, the same but for some."""
    return {side: some.get(side, all_) for side in ("front", "right", "back", "left")}


WHOLE: Mapping[str, Any] = {
    "lip": {
        "front_left_to_back_right": mm(DIAGONAL),
        "front_right_to_back_left": mm(DIAGONAL),
        "gaps": "1 mm",
    },
    "board": {"species": "eastern-white-pine"},
    "seat": {"hold": "tape", "hold_strength": "90 kPa", "seal": "silicone-bulb"},
    "taps": {
        "count": 2,
        "spacing": "4 in",
        "wrench": "wrench-hook-pin",
        "faucet": "faucet-forward-sealing",
        "glass": "180 mm",
    },
    "foam": {"kind": "xps-type-iv"},
    "lid": {
        "gasket_inset": "15 mm",
        "thickness": "60 mm",
        "gasket": "bulb",
        "plug": "0 mm",
        "mass": "12 kg",
    },
    "hinge": {
        "axis_behind": "15 mm",
        "axis_above": "-10 mm",
        "open_to": "90 deg",
        "positions": ("-300 mm", "300 mm"),
        "leaf_height": "90 mm",
        "leaf_width": "60 mm",
        "leaf_thickness": "2 mm",
        "fix": "screw",
        "screw": "wood-screw-no-8",
        "screw_length": "30 mm",
        "screws": 3,
        "backing": "20 mm",
        "spring": False,
    },
    "room": {"behind": "150 mm", "above": "1200 mm", "lip_height": "850 mm"},
    "shop": {"tilt_max": "47 deg", "cross_cut": "300 mm", "cut_depth_tilted": "50 mm"},
    "well": {"length": "820 mm", "width": "420 mm", "height": "700 mm"},
    "vessel": [{"kind": KEG, "count": 2}],
    "stock": {"trim": "10 mm", "length": ({"length": "2440 mm"},)},
}
"""What is changed in design A for a design in which everything is measured and has room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One design and what a check says of one thing in it.

    ``margin`` is worked out by hand (None: there is none, or ``close`` bounds it); ``close`` is
    how near it is to be; ``tolerance`` too, where it is short; ``missing`` what is not measured.
    """

    check: str
    verdict: str
    where: Mapping[str, Any]
    margin: float | None
    tolerance: float | None = None
    close: float = 1e-3
    missing: tuple[str, ...] = ()
    any_margin: bool = False
    changes: Mapping[str, Any] = field(default_factory=dict[str, Any])

    @property
    def id(self) -> str:
        """Its name in a report of tests."""
        return f"{self.check}-{self.verdict}"

    @property
    def design(self) -> dict[str, Any]:
        """The whole design, changed; for a table of its own a list, None without a table."""
        found: dict[str, Any] = {}
        for table in {*WHOLE, *self.changes}:
            base, change = WHOLE.get(table, {}), self.changes.get(table, {})
            merge = isinstance(base, Mapping) and isinstance(change, Mapping)
            found[table] = {**base, **change} if merge else change or base
            if change is None:
                found[table] = None
        return found


Told = tuple[str, float | None, dict[str, Any]]


def four(check: str, where: Mapping[str, Any], **told: Any) -> Iterator[Case]:
    """Yield the cases of one check about one thing.

    ``passes``, ``tight`` and ``fails`` are (margin, changes) or (margin, tolerance, changes);
    ``lacks`` is (missing keys, changes).
    """
    for name, verdict in (("passes", "pass"), ("tight", "tight"), ("fails", "fail")):
        if name in told:
            margin, *tolerance, changes = told[name]
            yield Case(check=check, verdict=verdict, where=where, margin=margin, changes=changes,
                       tolerance=tolerance[0] if tolerance else None,
                       close=told.get("close", 1e-3),
                       any_margin=name in told.get("any_margin", ()))  # fmt: skip
    if "lacks" in told:
        missing, changes = told["lacks"]
        there = told.get("lacks_where", where)
        yield Case(check=check, verdict="not-checked", where=there, margin=None, missing=missing,
                   changes=changes)  # fmt: skip


def lip_leaning(by: float) -> dict[str, Any]:
    """Return a lip pushed into a parallelogram, its left side leaning by so much.

    d^2 = a^2 + b^2 +- 2 a (b sin) for its two diagonals.
    """
    square = FRONT**2 + SIDE**2
    return {
        "front_left_to_back_right": mm(math.sqrt(square + 2 * FRONT * by)),
        "front_right_to_back_left": mm(math.sqrt(square - 2 * FRONT * by)),
    }


ALONE = {"seal": None}
"""Without a seal, which takes the room of what holds the collar down first."""


def stand_and_seal() -> Iterator[Case]:
    """Yield the cases of *Stand and seal*."""
    # With equal opposite sides the other diagonal alone would have to be longer by what this one
    # is too long; each of the six readings, 1 mm off, moves that: sqrt(2 a2/d2 + 2 b2/d2 + 2) = 2
    yield from four(
        "readings",
        {"text": "closure"},
        passes=(3.0, {}),
        tight=(3.0 - 2, 2.0, {"lip": {"front_left_to_back_right": mm(DIAGONAL + 2)}}),
        fails=(3.0 - 4, {"lip": {"front_left_to_back_right": mm(DIAGONAL + 4)}}),
        lacks=(
            ("lip.front_right_to_back_left",),
            {"lip": {"front_right_to_back_left": None}},
        ),
        close=2e-3,
    )
    # A side may lean by twice what its board can spare: 2 (19.05 - 12) = 14.1
    yield from four(
        "lip-square",
        {"text": "lip"},
        passes=(14.1, {}),
        tight=(14.1 - 14, {"lip": lip_leaning(14)}),
        fails=(14.1 - 16, {"lip": lip_leaning(16)}),
        lacks=(
            ("lip.front_left_to_back_right",),
            {
                "lip": {"front_left_to_back_right": None, "front_right_to_back_left": None},
                "seat": ALONE,
            },
        ),
    )

    # Two boards of each length close square with hypot(a, b) both ways; 1/16 in off is the most
    def racked(by: float) -> dict[str, Any]:
        first = DIAGONAL + by
        second = math.sqrt(2 * DIAGONAL**2 - first**2)
        return {
            "built": {
                "front_left_to_back_right": mm(first),
                "front_right_to_back_left": mm(second),
            }
        }

    yield from four(
        "frame-square",
        {"text": "built frame"},
        passes=(25.4 / 16, racked(0)),
        tight=(25.4 / 16 - 1.3, racked(1.3)),
        fails=(25.4 / 16 - 4, racked(-4)),
        lacks=(("built.front_left_to_back_right",), {"built": {"front": mm(FRONT)}}),
    )
    # t - o on land that reaches in to 50.8; the stock may be 0.8 thinner, o 0.5 more, and
    # half a millimeter of the lip's front or back shifts the left side
    yield from four(
        "stand",
        {"side": "left"},
        passes=(T - 12, {}),
        tight=(T - 6 - 12, {"board": {"overhang": {"left": "6 mm"}}}),
        fails=(T - 8 - 12, {"board": {"overhang": {"left": "8 mm"}}, "seat": ALONE}),
        lacks=(("lip.land",), {"lip": {"land": None}, "seat": ALONE}),
    )
    # Along the diagonal: t sqrt 2, less R (sqrt 2 - 1) that the rounded lip falls short
    root = math.sqrt(2)
    yield from four(
        "corner",
        {"corner": "front-left"},
        passes=(T * root - 20 * (root - 1) - 12, {"lip": {"corner_radius": "20 mm"}}),
        tight=(T * root - 35 * (root - 1) - 12, {"lip": {"corner_radius": "35 mm"}}),
        fails=(T * root - 40 * (root - 1) - 12, {"lip": {"corner_radius": "40 mm"}}),
    )
    # The seal takes 8 x 35 % = 2.8; the gap's limit of error is the tape's, the seal's 8 x 10 %
    off = math.hypot(1.0, 0.8)
    yield from four(
        "lip-flat",
        {"side": "front"},
        passes=(2.8 - 1 - 0.5, off, {}),
        tight=(2.8 - 2 - 0.5, off, {"lip": {"gaps": "2 mm"}}),
        fails=(2.8 - 2.5 - 0.5, off, {"lip": {"gaps": "2.5 mm"}}),
        lacks=(("lip.gaps",), {"lip": {"gaps": None}}),
    )
    # Gasket from inset - 5 - 12.5 on, wood up to 19.05; stock 0.8, inset 2, overhang 1, width 0.5
    yield from four(
        "gasket-seat",
        {"side": "left"},
        passes=(T - 2.5 - 10, {"lid": {"gasket_inset": sides("15 mm", left="20 mm")}}),
        tight=(T - 8.5 - 10, {"lid": {"gasket_inset": sides("15 mm", left="26 mm")}}),
        fails=(T - 9.5 - 10, {"lid": {"gasket_inset": sides("15 mm", left="27 mm")}}),
        lacks=(("lid.gasket_inset",), {"lid": {"gasket_inset": None}}),
    )
    steel = {"material": "steel", "thickness": "1 mm", "width": "19 mm"}
    yield from four(
        "gasket-pull",
        {"text": "gasket"},
        passes=(0.0, {"lid": {"gasket": "magnetic"}, "cap": steel}),
        fails=(0.0 - 1, {"lid": {"gasket": "magnetic"}}),
        lacks=(("lid.gasket",), {"lid": {"gasket": None}}),
    )

    def skirt(overhang: float, thick: float) -> dict[str, Any]:
        return {
            "lid": {
                "overhang": sides("5 mm", left=mm(overhang)),
                "gasket_inset": sides("15 mm", left=mm(overhang + 10)),
                "skirt": sides("0 mm", left="12 mm"),
                "skirt_thickness": mm(thick),
            }
        }

    unread = skirt(10, 2)
    unread["lid"]["skirt_thickness"] = None
    yield from four(
        "skirt",
        {"side": "left"},
        passes=(10 - 2 - 2, skirt(10, 2)),
        tight=(7 - 4 - 2, skirt(7, 4)),  # at least hypot(1, 1): overhang and rim by the tape
        fails=(5 - 4 - 2, skirt(5, 4)),
        lacks=(("lid.skirt_thickness",), unread),
    )

    def plug(inset: float) -> dict[str, Any]:
        return {"lid": {"plug": "20 mm", "plug_inset": sides("100 mm", left=mm(inset))}}

    inner = T + FOAM  # the plug hangs 20 mm below the foam's top
    yield from four(
        "plug",
        {"side": "left"},
        passes=(60 - 5 - inner - 3, plug(60)),
        tight=(54 - 5 - inner - 3, plug(54)),  # the inset alone may be 2 mm off
        fails=(51 - 5 - inner - 3, plug(51)),
        lacks=(("lid.plug",), {"lid": {"plug": None}}),
    )
    yield from four(
        "collar-hold",
        {"text": "collar"},
        passes=(holds(90) - 1.5, {}),
        tight=(holds(25.5) - 1.5, {"seat": {"hold_strength": "25.5 kPa"}}),
        fails=(holds(18) - 1.5, {"seat": {"hold_strength": "18 kPa"}}),
        lacks=(("lid.mass",), {"lid": {"mass": None}}),
        close=2e-3,
    )
    yield from four(
        "saw",
        {"text": "cross_cut"},
        passes=(300 - W, {}),
        tight=(140 - W, math.hypot(0.8, 0.5), {"shop": {"cross_cut": "140 mm"}}),
        lacks=(("shop.cross_cut",), {"shop": {"cross_cut": None}}),
    )
    # a corner that leans by asin(10 / b) is followed with half of that more than 45 deg
    leans = {"lip": lip_leaning(10), "board": {"follow": "lip"}, "seat": ALONE}
    yield from four(
        "saw",
        {"text": "tilt_max"},
        fails=(
            -math.degrees(math.asin(10 / SIDE)) / 2,
            2.0,
            {**leans, "shop": {"tilt_max": "45 deg"}},
        ),
    )


def sticks() -> Iterator[Case]:
    """Cases of the wood that boards are cut from; the front is the longest, 939.8 mm."""

    def on_sale(*lengths: str) -> dict[str, Any]:
        return {"stock": {"length": tuple({"length": length} for length in lengths)}}

    yield from four(
        "stock",
        {"text": "longest board"},
        passes=(2440 - 2 * 10 - FRONT, {}),
        tight=(960 - 2 * 10 - FRONT, on_sale("600 mm", "960 mm")),
        fails=(955 - 2 * 10 - FRONT, on_sale("600 mm", "955 mm")),
        lacks=(("stock.length",), on_sale()),
    )


def holds(strength: float) -> float:
    """Return what holds the collar over what tips it, about the lip's back edge.

    A 6 mm strip holds strength x 6 (W D + 2/3 D^2); pine of 392 kg/m3 weighs on it; the lid of
    12 kg stands upright, its center 40 behind an axis that is 15 behind the edge, and somebody
    pulls with 100 N at its front edge, as far from the lip's back edge as hypot(25, 688.3).
    """
    gravity = 9.80665
    bond = strength / 1000 * 6 * (FRONT * SIDE + 2 / 3 * SIDE**2)
    ahead = SIDE / 2 * 2 * (FRONT + SIDE - 2 * T) * T  # four mitered boards: all turn about D / 2
    own = ahead * W * 392e-9 * gravity
    up = W - 10 + SEAL + 15 + SIDE + 5
    tips = 12 * gravity * (15 + 40) + 100 * math.hypot(15 + 10, up)
    return (bond + own) / tips


def taps() -> Iterator[Case]:
    """Yield the cases of *Bores, shanks, faucets*."""
    one = {"side": "front", "tap": 1}
    none = {"taps": {"shank": None}}
    shank = ("taps.shank",)
    short = {"shank": "shank-2-1-8-in"}  # 51 mm of thread (46 or more), 54 mm long (51 or more)

    # Thread 22.225, 23 at most; bore 0.5 mm off
    loose = math.hypot(THREAD_HIGH - 22.225, 0.5)
    yield from four(
        "bore-entry",
        one,
        passes=(PLAY - 0.4, loose, {}),
        tight=(23.5 - 22.225 - 0.4, loose, {"taps": {"bore": "23.5 mm"}}),
        fails=(22.5 - 22.225 - 0.4, loose, {"taps": {"bore": "22.5 mm"}}),
        lacks=(shank, none),
    )

    def cover(outer: float, bore: float) -> float:
        return (outer - bore) / 2 - (bore - 22.225) / 2 - 2

    # The flange's radius 2 less, the bore 0.5 wider (once), the thread 0.225 thinner (half)
    flange = math.sqrt(2**2 + 0.5**2 + 0.1125**2)
    yield from four(
        "bore-cover",
        one,
        passes=(cover(48, 25.4), flange, {}),
        tight=(cover(48, 32), flange, {"taps": {"bore": "32 mm"}}),
        fails=(cover(48, 34), flange, {"taps": {"bore": "34 mm"}}),
        lacks=(shank, none),
    )
    yield from four(
        "nut-cover",
        one,
        passes=(cover(50, 25.4), math.sqrt(0.25**2 + 0.5**2 + 0.1125**2), {}),
        tight=(cover(33, 25.4), math.sqrt(0.25**2 + 0.5**2 + 0.1125**2),
               {"taps": {"washer_diameter": "33 mm"}}),
        fails=(cover(32, 25.4), math.sqrt(1 + 0.5**2 + 0.1125**2),  # nut 30 across at least
               {"taps": {"washer_diameter": None}}),
        lacks=(shank, none),
    )  # fmt: skip
    # Spacing less bore, at least a bore: the bore counts twice
    web = math.hypot(0.5, 1)
    yield from four(
        "bore-web",
        one,
        passes=(101.6 - 25.4 - 25.4, web, {}),
        tight=(51.5 - 25.4 - 25.4, web, {"taps": {"spacing": "51.5 mm"}}),
        fails=(50.5 - 25.4 - 25.4, web, {"taps": {"spacing": "50.5 mm"}}),
    )
    yield from four(
        "bore-edge",
        one,
        passes=(W / 2 - 24 - 3, {}),
        tight=(28 - 24 - 3, math.hypot(2, 0.5), {"taps": {"height": "28 mm"}}),
        fails=(26 - 24 - 3, math.hypot(2, 0.5), {"taps": {"height": "26 mm"}}),
        lacks=(shank, none),
    )

    def alone(offset: float) -> dict[str, Any]:
        return {"taps": {"count": 1, "spacing": None, "offset": mm(offset)}}

    # To the next board's inner face, less half of the nut's wrench circle of 50 (55 at most)
    yield from four(
        "bore-end",
        one,
        passes=(FRONT / 2 - 50.8 - T - 25, {}),
        tight=(FRONT / 2 - 424 - T - 25, alone(424)),
        fails=(FRONT / 2 - 428 - T - 25, alone(428)),
        lacks=(shank, none),
    )

    def wide(washers: float) -> dict[str, Any]:
        return {"taps": {**short, "washers": mm(washers)}, "foam": {"pocket": "100 mm"}}

    # Thread less wall, washers and a nut of 9; a tailpiece wants 10
    yield from four(
        "shank-grip",
        one,
        passes=(101.8 - T - 3 - 9 - 10, {}),
        tight=(51 - T - 12 - 9 - 10, wide(12)),
        fails=(51 - T - 14 - 9 - 10, wide(14)),
        lacks=(shank, none),
    )

    def bare(mm_: float) -> dict[str, Any]:
        return {"taps": {"washers": "0 mm"}, "figures": {"shanks": {"unthreaded": mm_}}}

    thin = math.hypot(0.8, 0.5)  # stock, washers
    yield from four(
        "shank-run",
        one,
        passes=(T + 3 - 6, {}),
        tight=(T - 19, thin, bare(19.0)),
        fails=(T - 20, thin, bare(20.0)),
        lacks=(shank, none),
    )
    yield from four(
        "shank-past-foam",
        one,
        passes=(104.8 - T - FOAM - 14, {}),
        tight=(54 - T - 20 - 14, {"taps": short, "foam": {"thickness": "20 mm"}}),
        fails=(54 - T - FOAM - 14, {"taps": short}),
        lacks=(shank, none),
    )
    circle = math.hypot(5, 0.5)
    yield from four(
        "nut-room",
        one,
        passes=(60 - 50.0, circle, {}),
        tight=(52 - 50.0, circle, {"foam": {"pocket": "52 mm"}}),
        fails=(48 - 50.0, circle, {"foam": {"pocket": "48 mm"}}),
        lacks=(shank, {**none, "foam": {"pocket": None}}),
    )

    def bears(washer: float) -> float:
        return 0.173 * math.pi / 4 * (washer**2 - 25.4**2) / 500 - 1

    def over(washer: float, **foam: str | None) -> dict[str, Any]:
        return {"foam": {"pocket": "none", **foam}, "taps": {"washer_diameter": mm(washer)}}

    yield from four(
        "foam-crush",
        one,
        passes=(bears(80), over(80)),
        tight=(bears(66), over(66)),  # half a millimeter of washer: 0.173 pi/2 66 0.5/500 = 0.018
        fails=(bears(60), over(60)),
        lacks=(("foam.kind",), over(80, kind=None)),
    )
    # Two flanges of 52 at most, 0.5 of the spacing: tight below hypot(2 + 2, ...)
    yield from four(
        "tap-gap",
        one,
        passes=(101.6 - 48 - 2, {}),
        tight=(51 - 48 - 2.0, {"taps": {"spacing": "51 mm", "bore": "24 mm"}}),
        fails=(49.5 - 48 - 2, {"taps": {"spacing": "49.5 mm", "bore": "24 mm"}}),
        lacks=(shank, none),
    )

    def display(spacing: float) -> dict[str, Any]:
        return {"taps": {"spacing": mm(spacing), "handle": "handle-tall-display"}}

    # Displays 75 mm wide, up to 120
    yield from four(
        "handle-gap",
        one,
        passes=(101.6 - 29 - 20, {}),
        tight=(110 - 75 - 20.0, math.hypot(45, 0.5), display(110)),
        fails=(90 - 75 - 20.0, math.hypot(45, 0.5), display(90)),
        lacks=(("taps.handle",), {"taps": {"handle": None}}),
    )

    def blocked(spacing: float) -> float:
        return math.degrees(2 * math.asin((20 + 8) / spacing))  # body 40 wide, arm 16 wide

    def three(spacing: float) -> dict[str, Any]:
        taps_ = {"count": 3, "spacing": mm(spacing)}
        return {"taps": taps_, "figures": {"shanks": {"ring_holes": 3.0}}}

    # A bite of a ring with 3 holes is 120 deg; with 2, as it may be, 180
    yield from four(
        "wrench-swing",
        {"side": "front", "tap": 2},
        passes=(360 - blocked(101.6) - 95, {}),
        tight=(180 - blocked(76.2) - 125, three(76.2)),
        fails=(180 - blocked(60) - 125, three(60)),
        lacks=(("taps.wrench",), {"taps": {"wrench": None}}),
    )

    def tray(height: float) -> dict[str, Any]:
        size = {"width": "400 mm", "tall": "20 mm", "depth": "300 mm"}
        return {"keep_out": [{"side": "front", "height": mm(height), **size}]}

    # The spout hangs 64 below the axis: 5.85 above the boards' bottom edge
    yield from four(
        "pour-room",
        one,
        passes=(W / 2 - 64 + SEAL + 850 - 180, {}),
        tight=(W / 2 - 64 + 175 - 180, tray(-185)),
        fails=(W / 2 - 64 + 140 - 180, tray(-150)),
        lacks=(("taps.glass",), {"taps": {"glass": None}}),
    )


def lid_and_hinge() -> Iterator[Case]:
    """Yield the cases of *Lid and hinge*."""
    back, one = {"side": "back"}, {"side": "front", "tap": 1}
    # Upright, the lid's top stands 60 + 10 behind an axis that is 15 behind the lip's back edge
    yield from four(
        "lid-wall",
        back,
        passes=(150 - 85.0, {}),
        tight=(100 - 85.0, {"room": {"behind": "100 mm"}}),  # 2 deg of 553 mm alone are 19 mm
        fails=(80 - 85.0, {"room": {"behind": "80 mm"}}),
        lacks=(("room.behind",), {"room": {"behind": None}}),
    )
    # Its top front corner passes straight above the axis before it stands upright
    top = SEAL + W - 10 + math.hypot(SIDE + 15 + 5, 60 + 10)
    yield from four(
        "lid-ceiling",
        {"text": "ceiling"},
        passes=(1200 - top, {}),
        tight=(700 - top, {"room": {"above": "700 mm"}}),  # the room's limit of error is 10
        fails=(690 - top, {"room": {"above": "690 mm"}}),
        lacks=(("room.above",), {"room": {"above": None}}),
    )

    def rear(overhang: float) -> dict[str, Any]:
        return {
            "lid": {
                "overhang": sides("5 mm", back=mm(overhang)),
                "gasket_inset": sides("15 mm", back=mm(overhang + 10)),
                "skirt": sides("0 mm", back="10 mm"),
                "skirt_thickness": "2 mm",
            }
        }

    # A rear skirt down to the axis' height is nearest to the 2 mm leaf while the lid is closed
    yield from four(
        "lid-back",
        back,
        passes=(10 - 2 - 2 - 2.0, rear(10)),
        tight=(6.5 - 2 - 2 - 2, rear(6.5)),
        fails=(5 - 2 - 2 - 2.0, rear(5)),
        lacks=(("lid.plug",), {"lid": {"plug": None}}),
    )

    def front(overhang: float) -> dict[str, Any]:
        return {
            "lid": {
                "overhang": sides("5 mm", front=mm(overhang)),
                "gasket_inset": sides("15 mm", front=mm(overhang + 10)),
            }
        }

    # From the lid's top front corner to the knob's back, 14.5 behind an axis that starts 6 + 45
    # ahead of the face and 58 above the bore, leans back by 8 deg and is 76 long
    lean = math.radians(8)
    up = W + 60 - (W / 2 + 58)

    def beside(overhang: float) -> float:
        off = (51 - overhang) * math.cos(lean) - up * math.sin(lean) - 14.5
        past = (51 - overhang) * math.sin(lean) + up * math.cos(lean) - 76
        return math.hypot(off, max(0.0, past)) - 3

    yield from four(
        "lid-front",
        one,
        passes=(beside(5), {}),
        tight=(beside(15), front(15)),  # the lever's axis may stand 10 mm nearer
        fails=(beside(25), front(25)),
        lacks=(("taps.faucet",), {"taps": {"faucet": None}}),
        close=0.03,  # opening, the corner first comes 0.02 mm nearer to the leaning knob
    )

    def leaves(apart: float) -> dict[str, Any]:
        return {"hinge": {"positions": ("-30 mm", mm(apart - 30))}}

    between = math.sqrt(3 * 0.5**2)  # two places and the leaf's width
    yield from four(
        "hinge-fit",
        {"text": "leaf 1"},
        passes=(W - 90, math.hypot(0.8, 0.5), {}),
        tight=(60.3 - 60, between, leaves(60.3)),
        fails=(59 - 60.0, between, leaves(59)),
        lacks=(("hinge.positions",), {"hinge": {"positions": None}}),
        lacks_where={"text": "hinge"},
    )
    yield from four(
        "hinge-hold",
        {"text": "with a pull"},
        passes=(screws_hold(30, 3) - 1.5, {}),
        tight=(screws_hold(20, 3) - 1.5, {"hinge": {"screw_length": "20 mm"}}),
        fails=(screws_hold(20, 2) - 1.5, {"hinge": {"screw_length": "20 mm", "screws": 2}}),
        lacks=(("lid.mass",), {"lid": {"mass": None}}),
    )
    # Stock 0.8, block, screw and leaf 0.5 each
    deep = math.sqrt(0.8**2 + 3 * 0.5**2)
    yield from four(
        "screw-length",
        {"side": "back"},
        passes=(T + 20 - 28 - 2, deep, {}),
        tight=(T + 11 - 28 - 2, deep, {"hinge": {"backing": "11 mm"}}),
        fails=(T + 8 - 28 - 2, deep, {"hinge": {"backing": "8 mm"}}),
        lacks=(("hinge.screw_length",), {"hinge": {"screw_length": None}}),
    )


def screws_hold(length: float, count: int) -> float:
    """Return what the worst no. 8 screw of a leaf holds in pine over its load, with 100 N.

    Per leaf half of 12 g 40 (the lid leans 40 past its axis) and of 100 x 553.4, on screws that
    share a 90 mm leaf evenly; withdrawal 108.25 G2 D L, across 23.17 D2 times depth / 7 D.
    """
    weight, diameter = 12 * 9.80665, 4.17
    moment = (weight * 40 + 100 * (SIDE + 5 + 15)) / 2
    levers = [90 / count * (place + 0.5) for place in range(count)]
    out = moment * levers[-1] / sum(lever**2 for lever in levers)
    across = weight / 2 / count
    thread = min((length - 2 - diameter), T + 20) - max(0.0, length * (1 - 0.667) - 2)
    withdrawal = 108.25 * 0.35**2 * diameter * thread
    lateral = 23.17 * diameter**2 * min(1.0, (length - 2) / (7 * diameter))
    load = math.hypot(out, across)
    cos2, sin2 = (across / load) ** 2, (out / load) ** 2
    return withdrawal * lateral / (withdrawal * cos2 + lateral * sin2) / load


def well() -> Iterator[Case]:
    """Yield the cases of *The well*."""
    keg = {"vessel": f"{KEG} 1 of 2"}

    def deep(height: float) -> tuple[float, dict[str, Any]]:
        return height + SEAL + W - 368 - 45 - 5, {"well": {"height": mm(height)}}

    sizes = {"diameter": "216 mm", "height": "368 mm"}
    yield from four(
        "head-room",
        keg,
        passes=deep(700),
        tight=deep(280),  # the keg may be 15 mm taller
        fails=deep(270),
        lacks=(("vessel[1].fitting",), {"vessel": [sizes]}),
        lacks_where={"vessel": "vessel-1"},
    )

    def between(foam: float) -> tuple[float, dict[str, Any]]:
        changes = {"foam": {"thickness": mm(foam)}, "taps": {"shank": "shank-10-1-8-in"}}
        return SIDE - 2 * (T + foam) - 216 - 5, changes

    yield from four(
        "opening",
        keg,
        passes=between(120),
        tight=between(135),  # the keg may be 4 mm wider, both boards 0.8 thicker
        fails=between(140),
        lacks=(("well.length", "well.width", "well.height"), {"well": None}),
    )

    def bar(offset: float, **more: Any) -> dict[str, Any]:
        return {"manifold": {"kind": "manifold-3-outlet", "offset": mm(offset)}, **more}

    # Half of 202 (up to 227) and its inlet of 25, to the next board's foam
    room = FRONT / 2 - T - FOAM - 101 - 25 - 5
    front = {"kind": "manifold-3-outlet", "side": "front"}
    yield from four(
        "manifold",
        {"side": "back"},
        passes=(room, bar(0)),
        tight=(room - 290, math.sqrt(12.5**2 + 0.5**2 + 0.5**2 + 0.7**2), bar(290)),
        fails=(room - 300, bar(300)),
        lacks=(("taps.shank",), {"manifold": front, "taps": {"shank": None}}),
        lacks_where={"side": "front"},
        close=0.5,
    )
    yield from four(
        "foam-land",
        {"side": "front"},
        passes=(50.8 - T - FOAM, {}),
        tight=(50.8 - T - 31, {"foam": {"thickness": "31 mm"}}),  # the land may be 1 mm less
        fails=(50.8 - T - 40, {"foam": {"thickness": "40 mm"}}),
        lacks=(("lip.land",), {"lip": {"land": None}}),
    )
    yield from four(
        "lift",
        {"vessel": f"{KEG} 1 of 2"},
        passes=(23 - 12.4, {}),
        lacks=(("vessel[1].kind",), {"vessel": [{**sizes, "fitting": "45 mm"}]}),
        lacks_where={"vessel": "vessel-1"},
    )
    yield from four(
        "lift",
        {"vessel": "keg-sixth-barrel"},
        fails=(23 - 27.1, {"vessel": [{"kind": "keg-sixth-barrel"}]}),
    )


def packed() -> Iterator[Case]:
    """Yield the cases of what is asked once."""

    def narrow(width: float) -> tuple[float, dict[str, Any]]:
        return (width - 216) / 2 - 5, {"well": {"width": mm(width)}}

    three = [{"kind": KEG, "count": 3}]
    short = {"width": "230 mm", "length": "660 mm"}
    yield from four(
        "vessels",
        {},
        passes=narrow(240),
        tight=narrow(230),  # the kegs may be 4 mm wider
        fails=(zigzag(660, 230, 216) - 5, {"vessel": three, "well": short}),
        lacks=(("vessel",), {"vessel": None}),
        close=0.01,
    )
    low = {"width": "230 mm", "height": "280 mm", "length": "490 mm"}

    def bends(margin: float) -> tuple[float, dict[str, Any]]:
        """One keg midway behind two lines, as far from the back wall, beyond 5 mm, as from them."""
        reach = 216 / 2 + TAILPIECE + 50 + margin
        axis = SHANK + math.sqrt(reach**2 - (101.6 / 2) ** 2)
        back = axis + 216 / 2 + 5 + margin
        well = {"width": mm(2 * (back - SIDE / 2)), "height": "280 mm", "length": "231 mm"}
        return margin, {"well": well, "vessel": [{"kind": KEG}]}

    yield from four(
        "tail-room",
        {"tap": 1},
        passes=(None, {}),  # no keg stands as high as a line
        tight=bends(1),  # the tailpiece may be 8 mm longer
        fails=(None, {"well": low}),
        lacks=(("vessel",), {"vessel": None}),
        any_margin=("fails",),
    )


def zigzag(length: float, width: float, diameter: float) -> float:
    """Return the gap that three circles keep in a zigzag: each to the next and to both walls."""
    low, high = 0.0, (width - diameter) / 2
    while high - low > 1e-9:
        gap = (low + high) / 2
        along, across = (length - diameter - 2 * gap) / 2, width - diameter - 2 * gap
        low, high = (gap, high) if math.hypot(along, across) > diameter + gap else (low, gap)
    return low


CASES: tuple[Case, ...] = (
    *stand_and_seal(), *sticks(), *taps(), *lid_and_hinge(), *well(), *packed(),
)  # fmt: skip

NEVER: Mapping[tuple[str, str], str] = {
    ("corner", "not-checked"): "needs no key that a build file may leave out",
    ("bore-web", "not-checked"): "needs no key that a build file may leave out",
    ("gasket-pull", "tight"): "a strip is there or it is not",
    ("lift", "tight"): "catalogue masses have no range, and 23 kg is no reading",
}
"""Verdicts that a check cannot give, and why."""

NO_CHOICE: Mapping[str, str] = {
    "stock": "what a shop sells is a fact: a longer stick is found, not chosen",
    "readings": "a tape goes back to the lip; nothing that is chosen moves a reading",
}
"""Checks whose failing offers no remedy, and why."""

_TOP = SEAL + W - 10 + math.hypot(SIDE + 15 + 5, 60 + 10)
_LEANS = 2 * FRONT * 14.1

WINDOWS: Mapping[str, tuple[float | None, float | None]] = {
    "readings": (DIAGONAL - 3, DIAGONAL + 3),
    "lip-square": (math.sqrt(DIAGONAL**2 - _LEANS), math.sqrt(DIAGONAL**2 + _LEANS)),
    "frame-square": (DIAGONAL - 25.4 / 16, DIAGONAL + 25.4 / 16),
    "stand": (12, None),
    "lip-flat": (None, 2.8 - 0.5),
    "gasket-seat": (5 - 12.5 + 10, 5 + 12.5 + T - 10),
    "skirt": (None, 10 - 2),
    "saw": (W, None),
    "pour-room": (None, W / 2 - 64 + SEAL + 850),
    "lid-wall": (85, None),
    "lid-ceiling": (_TOP, None),
    # less than 4 diameters in the wood hold nothing sideways: hinge-hold would fail
    "screw-length": (2 + 4 * 4.17, T + 20 + 2 - 2),
    "head-room": (None, 700 + SEAL + W - 368 - 5),
    "foam-land": (T + FOAM, None),
}
"""Over which values of the one missing length a check passes, in the case that lacks it, mm."""

NO_PLUG = ("plug", "lid-back")
"""Checks that pass without a plug and want to know more of one."""
