"""What ``summary.json`` looks like, as a JSON Schema that other programs can check it with.

Lengths are in mm and angles in degrees; what was not measured is null. Keys are only ever
added, so further keys are allowed everywhere and a reader passes over those it does not know.
"""

import json
from typing import Any

from ..geometry.judge.finding import WORST_FIRST
from .paper.printed import LEAST, MOST

DIALECT = "https://json-schema.org/draft/2020-12/schema"

SIDES = ("front", "right", "back", "left")
CORNERS = ("front-left", "front-right", "back-right", "back-left")

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
SAID: Schema = {"type": "string", "minLength": 1}
NUMBER: Schema = {"type": "number"}
SIZE: Schema = {"type": "number", "exclusiveMinimum": 0}
ANGLE: Schema = {"type": "number", "minimum": 0, "maximum": 180}
TILT: Schema = {"type": "number", "exclusiveMinimum": 0, "exclusiveMaximum": 90}
PRINTED: Schema = {"type": "number", "minimum": LEAST, "maximum": MOST}
COUNT: Schema = {"type": "integer", "minimum": 0}
SHA256: Schema = {"type": "string", "pattern": "^[0-9a-f]{64}$"}
SIDE: Schema = {"enum": list(SIDES)}
VERDICT: Schema = {"enum": list(WORST_FIRST)}


def _or_null(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


def _list(items: Schema, **limits: Any) -> Schema:
    return {"type": "array", "items": items, **limits}


def _object(says: str, keys: Schema, optional: Schema | None = None, **more: Any) -> Schema:
    """Return the schema of an object: ``keys`` must be there, ``optional`` ones may."""
    return {
        "type": "object",
        "description": says,
        "properties": {**keys, **(optional or {})},
        "required": list(keys),
        **more,
    }


_HOLE = _object(
    "A round hole (diameter_mm) or a rectangle (length_mm along u, height_mm along v). u and v"
    " are its center in the part's flat view, seen from outside. Without depth_mm it goes right"
    " through, and into_block_mm deep into the block that is glued on behind.",
    {
        "name": SAID,
        "purpose": {"enum": ["bore", "passage", "pocket", "opening", "pilot"]},
        "u_mm": NUMBER,
        "v_mm": NUMBER,
    },
    {
        "diameter_mm": SIZE,
        "length_mm": SIZE,
        "height_mm": SIZE,
        "face": {"enum": ["outer", "inner"]},
        "depth_mm": SIZE,
        "into_block_mm": SIZE,
    },
    oneOf=[{"required": ["diameter_mm"]}, {"required": ["length_mm", "height_mm"]}],
    dependentRequired={
        "length_mm": ["height_mm"],
        "height_mm": ["length_mm"],
        "depth_mm": ["face"],
        "face": ["depth_mm"],
    },
)

_CORNER = _object(
    "An outer corner of the collar, from the lip's outer front-left corner.",
    {
        "name": {"enum": list(CORNERS)},
        "x_mm": NUMBER,
        "y_mm": NUMBER,
        "interior_deg": ANGLE,
        "miter_deg": TILT,
    },
)

_KIND: Schema = {"enum": ["spline", "biscuit", "dowel"]}

_SLOT = _object(
    "What a joint takes out of a board's miter, square to it: the middle of its mouth (u from the"
    " left long point, inward from the outer face, v up), its size from outer to inner face"
    " (thick; a dowel's diameter), up the miter (tall), its depth, and the way into the wood as"
    " a unit vector along u and inward. A biscuit's is a segment of a disc 100 mm across.",
    {
        "joint": SAID,
        "kind": _KIND,
        "end": {"enum": ["left", "right"]},
        "u_mm": NUMBER,
        "inward_mm": SIZE,
        "v_mm": SIZE,
        "thick_mm": SIZE,
        "tall_mm": SIZE,
        "depth_mm": SIZE,
        "way": _list(NUMBER, minItems=2, maxItems=2),
    },
)

_BOARD_KEYS: Schema = {
    "side": SIDE,
    "long_point_mm": SIZE,
    "short_point_mm": SIZE,
    "width_mm": SIZE,
    "thickness_mm": SIZE,
    "miter_left_deg": TILT,
    "miter_right_deg": TILT,
    "volume_mm3": SIZE,
    "holes": _list(_HOLE),
}

_SCALE: Schema = {"scale_left_deg": NUMBER, "scale_right_deg": NUMBER}

_BOARD = _object(
    "A board: u from its left long point, v from its bottom edge, seen from outside. scale_left_deg"
    " and scale_right_deg are what the saw's scale has to say for its miters, by a test ring"
    " that was cut near that tilt.",
    _BOARD_KEYS,
    {"slots": _list(_SLOT), **_SCALE},
)

_COVER = _object(
    "A board of the cover, as a board of the collar; a miter of 0 is a square end. bottom_mm is"
    " the height of its lower edge over what the collar stands on.",
    {
        **_BOARD_KEYS,
        "miter_left_deg": ANGLE,
        "miter_right_deg": ANGLE,
        "bottom_mm": {"type": "number", "maximum": 0},
    },
    {"slots": _list(_SLOT, maxItems=0), **_SCALE},
)

_STRIP = _object(
    "A strip of the cap on the boards' top edges. Its miters run across its width: angles of the"
    " fence, not of the blade.",
    {
        "side": SIDE,
        "material": {"enum": ["wood", "steel"]},
        "long_point_mm": SIZE,
        "short_point_mm": SIZE,
        "width_mm": SIZE,
        "thickness_mm": SIZE,
        "miter_left_deg": TILT,
        "miter_right_deg": TILT,
        "bottom_mm": SIZE,
        "volume_mm3": SIZE,
    },
)

_JOINT = _object(
    "What is glued into a corner: its middle, its size up the miter (long), square to it through"
    " both boards (wide) and along it (thick; a dowel's diameter), how far its middle is from the"
    " outer corner along the miter, and the wood left to the boards' outer and inner faces.",
    {
        "name": SAID,
        "kind": _KIND,
        "corner": {"enum": list(CORNERS)},
        "x_mm": NUMBER,
        "y_mm": NUMBER,
        "v_mm": SIZE,
        "long_mm": SIZE,
        "wide_mm": SIZE,
        "thick_mm": SIZE,
        "from_outer_mm": SIZE,
        "wood_mm": SIZE,
        "volume_mm3": SIZE,
    },
)

_PANEL = _object(
    "A foam panel: u from its left end, v from the board's bottom edge, seen from outside.",
    {
        "side": SIDE,
        "length_mm": SIZE,
        "width_mm": SIZE,
        "thickness_mm": SIZE,
        "volume_mm3": {"type": "number", "minimum": 0},
        "holes": _list(_HOLE),
    },
)

_WHERE = _object(
    "What a finding is about; keys that do not apply are null.",
    {
        "side": _or_null(SIDE),
        "tap": _or_null({"type": "integer", "minimum": 1}),
        "vessel": _or_null(TEXT),
        "corner": _or_null({"enum": list(CORNERS)}),
        "text": _or_null(TEXT),
    },
)

_REMEDY = _object(
    "A change of the build file that was tried, with values as they are written there.",
    {
        "changes": {
            "type": "object",
            "minProperties": 1,
            "additionalProperties": {"type": ["string", "integer", "boolean"]},
        },
        "says": SAID,
    },
)

_FINDING = _object(
    "One answer of one check. measured, required, margin and tolerance are in unit; a positive"
    " margin is good. tolerance is how far readings and bought parts can move the margin.",
    {
        "check": {"type": "string", "pattern": "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"},
        "weight": {"enum": ["must", "advice"]},
        "where": _WHERE,
        "verdict": VERDICT,
        "measured": _or_null(NUMBER),
        "required": _or_null(NUMBER),
        "margin": _or_null(NUMBER),
        "tolerance": _or_null(NUMBER),
        "decided_by": _or_null(SAID),
        "unit": TEXT,
        "missing": _list(SAID, uniqueItems=True),
        "passes_if": _or_null(SAID),
        "why": SAID,
        "remedies": _list(_REMEDY),
        "source": SAID,
    },
    {
        "sense": {"enum": ["at least", "at most"]},
        "levers": _list(SAID, uniqueItems=True),
    },
)

_WELL = _object(
    "The vessels in the well: a gap that all of them keep, none larger than at_most_mm; null where"
    " there is none. Places are there where they fit: axis in plan and foot, as the corners are.",
    {
        "verdict": {"enum": ["fits", "does not fit (proved)", "not found"]},
        "gap_mm": _or_null(NUMBER),
        "at_most_mm": _or_null(NUMBER),
        "vessels": _list(
            _object(
                "A vessel by its name, with the height of its body and of the fitting on it.",
                {
                    "name": SAID,
                    "x_mm": NUMBER,
                    "y_mm": NUMBER,
                    "z_mm": NUMBER,
                    "diameter_mm": SIZE,
                    "height_mm": SIZE,
                    "on": {"enum": ["floor", "step"]},
                },
                {"fitting_mm": _or_null({"type": "number", "minimum": 0})},
            )
        ),
        "order": _list(SAID, uniqueItems=True),
    },
)

_FILE = _object(
    "A file that a build wrote, by its path in the folder.",
    {
        "path": {"type": "string", "pattern": r"^[a-z0-9][\w.-]*(/[a-z0-9][\w.-]*)*$"},
        "bytes": COUNT,
        "sha256": SHA256,
    },
)

_BUILT = _object(
    "A length that was measured on the real thing, beside the one that was drawn.",
    {"what": SAID, "drawn_mm": NUMBER, "built_mm": NUMBER, "difference_mm": NUMBER},
)

_HALO = _object(
    "How far the center of a bore or a hinge's hole may be off whichever way, one hole at a time,"
    " with every must that was asked still passing: the least of the zone on the templates."
    " capped: nothing fails as far as was looked, so that it is at least so much. fails: checks"
    " that fail where it is drawn; it has no zone then. unknown: musts that were not asked, as"
    " readings are lacking or as they ask about the well; without the room about a bore's flange"
    " and nut it has no zone either.",
    {
        "name": SAID,
        "side": SIDE,
        "least_mm": {"type": "number", "minimum": 0},
        "capped": {"type": "boolean"},
        "bounded_by": _list(SAID, uniqueItems=True),
        "fails": _list(SAID, uniqueItems=True),
        "unknown": _list(SAID, uniqueItems=True),
    },
)

_LISTS = _object(
    "What the lists and the workshop book come to: the paper of the book, sticks that are cut and"
    " what is bought of them (null without a cut plan), things to buy and what those with a price"
    " come to, and the day of the first pour, counted from 1.",
    {
        "paper": {"enum": ["letter", "a4"]},
        "boards": _or_null(
            _object(
                "The boards' cut plan.",
                {
                    "sticks": COUNT,
                    "bought_mm": {"type": "number", "minimum": 0},
                    "price": _or_null({"type": "number", "minimum": 0}),
                    "proved": {"type": "boolean"},
                },
            )
        ),
        "materials": _object(
            "The list of materials and tools.",
            {
                "items": COUNT,
                "total": _or_null({"type": "number", "minimum": 0}),
                "without_price": COUNT,
            },
        ),
        "work": _object(
            "The order of work.",
            {
                "steps": COUNT,
                "start": _or_null(SAID),
                "ready_day": {"type": "integer", "minimum": 1},
                "ready_date": _or_null(SAID),
            },
        ),
    },
)

SCHEMA: Schema = {
    "$schema": DIALECT,
    "title": "summary.json of collarwright",
    **_object(
        "Layout, findings and files of one collar. Lengths in mm, angles in degrees; what was not"
        " measured is null; keys are only ever added.",
        {
            "format": {"const": 1},
            "title": TEXT,
            "version": SAID,
            "build_file": SAID,
            "sha256": SHA256,
            "verdict": VERDICT,
            "advice": _object(
                "How many findings of weight advice there are, by verdict.",
                dict.fromkeys(WORST_FIRST, COUNT),
            ),
            "frame": _object(
                "The collar from outside; width and depth are null where it is not a rectangle.",
                {
                    "width_mm": _or_null(SIZE),
                    "depth_mm": _or_null(SIZE),
                    "height_mm": SIZE,
                    "corners": _list(_CORNER, minItems=4, maxItems=4),
                },
            ),
            "boards": _list(_BOARD, minItems=4, maxItems=4),
            "foam": _list(_PANEL, maxItems=4),
            "findings": _list(_FINDING),
            "files": _list(_FILE),
        },
        {
            "covers": _list(_COVER, maxItems=4),
            "cap": _list(_STRIP, maxItems=4),
            "joints": _list(_JOINT),
            "show": {"enum": ["in", "mm"]},
            "measure_again": _or_null(SAID),
            "well": _or_null(_WELL),
            "mended": {"type": "object"},
            "remarks": _list(SAID),
            "not_judged_yet": _list(SAID),
            "as_built": {
                "type": "boolean",
                "description": "true: all of this is about the collar that [built] measured, not"
                " about the one that was drawn.",
            },
            "built": _list(_BUILT),
            "halos": _list(_HALO),
            "lists": _LISTS,
            "printed": _object(
                "What 100 mm come out of the printer as, across an upright sheet and up it (a roll:"
                " across and along it), where the templates are scaled to be true on it.",
                {"across_mm": PRINTED, "up_mm": PRINTED},
            ),
        },
    ),
}
"""The whole of it, draft 2020-12."""


def schema_text() -> str:
    """Return the schema as JSON text."""
    return json.dumps(SCHEMA, indent=2, ensure_ascii=False) + "\n"
