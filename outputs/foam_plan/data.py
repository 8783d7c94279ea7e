"""The foam plan as JSON-ready data; lengths in mm."""

from typing import Any

from ...geometry.plan.sheets import STEP, Rect
from .planned import Foam, Laid
from .words import missing


def foam_data(foam: Foam) -> dict[str, Any]:
    """Return sheets, panels, cuts in their order, openings, seams and what is proved."""
    return {
        "sheets": [_sheet(foam, laid) for laid in foam.sheets()],
        "openings": [
            {
                "collar": foam.names[each.piece.collar],
                "panel": each.piece.name,
                "name": each.name,
                "diameter_mm": each.diameter,
                "u_mm": [round(u, 2) for u in each.u],
                "v_mm": [round(v, 2) for v in each.v],
                "knife_cuts": each.sides,
                "after_joining": each.later,
            }
            for lot in foam.plan.lots
            for each in foam.openings(lot)
        ],
        "seams": [
            {
                "collar": foam.names[seam.collar],
                "side": seam.side,
                "lengthwise": seam.lengthwise,
                "at_mm": round(seam.at, 2),
                "clear_mm": None if seam.clear is None else round(seam.clear, 2),
                "near": seam.near,
            }
            for lot in foam.plan.lots
            for seam in lot.seams
        ],
        "lots": [
            {
                "kind": lot.kind or None,
                "thickness_mm": round(lot.thickness, 2),
                "sheet_length_mm": _mm(lot.job.sheet.length),
                "sheet_width_mm": _mm(lot.job.sheet.width),
                "sheet_assumed": lot.usual,
                "sheets": len(lot.plan.sheets),
                "least_sheets": lot.plan.least,
                "cuts": lot.plan.cuts,
                "proved": {"sheets": lot.plan.sheets_proved, "cuts": lot.plan.proved},
            }
            for lot in foam.plan.lots
        ],
        "without_sheet": [foam.names[number] for number in foam.plan.without],
        "missing": missing(foam) if foam.plan.without else None,
    }


def _sheet(foam: Foam, laid: Laid) -> dict[str, Any]:
    return {
        "number": laid.number,
        "lot": foam.plan.lots.index(laid.lot) + 1,
        "panels": [
            {
                "collar": foam.names[laid.piece(placed).collar],
                "side": laid.piece(placed).panel.side,
                "name": laid.piece(placed).name,
                "turned": placed.turned,
                "panel_from_left_mm": _mm(laid.piece(placed).x),
                "panel_from_below_mm": _mm(laid.piece(placed).y),
                **_rect(placed.rect),
            }
            for placed in laid.plan.parts
        ],
        "cuts": [
            {
                "number": each.number,
                "of": each.of,
                "piece": _rect(each.cut.before),
                "way": each.cut.way,
                "at_mm": _mm(each.cut.at),
                "gives": [
                    {"name": name, **_rect(rect)}
                    for name, rect in zip(each.gives, each.cut.after, strict=True)
                ],
            }
            for each in laid.cuts
        ],
        "left_over": [_rect(rect) for rect in laid.plan.left],
    }


def _rect(rect: Rect) -> dict[str, float]:
    return {
        "x_mm": _mm(rect.x),
        "y_mm": _mm(rect.y),
        "length_mm": _mm(rect.length),
        "width_mm": _mm(rect.width),
    }


def _mm(steps: int) -> float:
    return round(steps * STEP, 2)
