"""``summary.json``: layout, findings and files as plain data; also what ``--json`` prints.

Lengths are in mm and keys say the unit; what was not measured is null; keys are only added.
"""

import hashlib
import json
import math
from collections.abc import Iterable
from dataclasses import asdict
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

from ..geometry.judge.checks import COMING
from ..geometry.judge.evaluate import Evaluation, remarks
from ..geometry.judge.finding import Finding, advice_count
from ..geometry.judge.standing import Standing
from ..geometry.judge.zones import Zones
from ..geometry.shape.compared import differences
from ..geometry.shape.frame import Board
from ..geometry.shape.hole import Hole
from ..geometry.shape.joints import Joint
from ..geometry.shape.layout import Layout
from ..geometry.shape.lining import Panel
from ..geometry.shape.seat import Strip
from ..geometry.shape.slot import Slot
from ..params.project import Project

FORMAT = 1


def program_version() -> str:
    """Return the installed program's version."""
    try:
        return version("collarwright")
    except PackageNotFoundError:  # run from a checkout that was never installed
        return "unknown"


def summary(
    project: Project,
    evaluation: Evaluation,
    build_file: str,
    sha256: str,
    files: Iterable[Any] = (),
    standing: Standing | None = None,
) -> dict[str, Any]:
    """Return the whole summary as JSON-ready data.

    Args:
        project: the build file as read.
        evaluation: its layout and findings.
        build_file: the path as given on the command line.
        sha256: of the build file's bytes, hex.
        files: entries of ``file_entry`` for what a build wrote.
        standing: what came of packing the vessels, where there was something to pack.
    """
    layout = evaluation.layout
    return {
        "format": FORMAT,
        "title": project.title,
        "version": program_version(),
        "build_file": build_file,
        "sha256": sha256,
        "verdict": evaluation.verdict,
        "advice": advice_count(evaluation.findings),
        "measure_again": evaluation.measure_again,
        "show": project.show,
        "remarks": [*remarks(project, layout), *evaluation.notes],
        "frame": {
            "width_mm": layout.frame.width,
            "depth_mm": layout.frame.depth,
            "height_mm": layout.frame.height,
            "corners": [
                {
                    "name": corner.name,
                    "x_mm": corner.x,
                    "y_mm": corner.y,
                    "interior_deg": corner.interior_deg,
                    "miter_deg": corner.miter_deg,
                }
                for corner in layout.frame.corners
            ],
        },
        "boards": [_board(board) for board in layout.boards],
        "foam": [_panel(panel) for panel in layout.panels],
        "covers": [{**_board(cover), "bottom_mm": cover.bottom} for cover in layout.covers],
        "cap": [_strip(strip) for strip in layout.strips],
        "joints": [_joint(joint) for joint in layout.joints],
        "well": None if standing is None else _well(evaluation.layout, standing),
        "findings": [_finding(finding) for finding in evaluation.findings],
        "not_judged_yet": list(COMING),
        "as_built": project.as_built,
        **({"built": _built(project)} if project.as_built else {}),
        "files": list(files),
    }


def halos_of(zones: Zones) -> list[dict[str, Any]]:
    """Return how far each hole's center may be off, what bounds that, and what was not asked."""
    return [
        {
            "name": halo.name,
            "side": halo.side,
            "least_mm": halo.least,
            "capped": halo.capped,
            "bounded_by": list(halo.bounded_by),
            "fails": list(halo.fails),
            "unknown": list(halo.unknown),
        }
        for halo in zones.halos
    ]


def dumps(data: Any) -> str:
    """Return JSON text, the same for the same data."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def printed_entry(across: float, up: float) -> dict[str, float]:
    """Return what 100 mm come out of the printer as, where templates are scaled for it, mm."""
    return {"across_mm": across, "up_mm": up}


def file_entry(root: Path, path: str) -> dict[str, Any]:
    """Return path, size and hash of a written file; ``path`` is relative to ``root``."""
    data = (root / path).read_bytes()
    return {"path": path, "bytes": len(data), "sha256": hashlib.sha256(data).hexdigest()}


def _built(project: Project) -> list[dict[str, Any]]:
    """Return each length that was measured on the real thing beside the drawn one."""
    return [
        {
            "what": each.what,
            "drawn_mm": each.drawn,
            "built_mm": each.built,
            "difference_mm": each.more,
        }
        for each in differences(project)
    ]


def _board(board: Board) -> dict[str, Any]:
    return {
        "side": board.side,
        "long_point_mm": board.long_point,
        "short_point_mm": board.short_point,
        "width_mm": board.width,
        "thickness_mm": board.thickness,
        "miter_left_deg": board.miter_left_deg,
        "miter_right_deg": board.miter_right_deg,
        "volume_mm3": board.volume,
        "holes": [_hole(hole) for hole in board.holes],
        **({"slots": [_slot(slot) for slot in board.slots]} if board.slots else {}),
        **({"scale_left_deg": board.scale_left_deg} if board.scale_left_deg is not None else {}),
        **({"scale_right_deg": board.scale_right_deg} if board.scale_right_deg is not None else {}),
    }


def _slot(slot: Slot) -> dict[str, Any]:
    (u, inward), (way_u, way_in) = slot.mouth, slot.way
    return {
        "joint": slot.joint,
        "kind": slot.kind,
        "end": slot.end,
        "u_mm": u,
        "inward_mm": inward,
        "v_mm": slot.v,
        "thick_mm": slot.thick,
        "tall_mm": slot.tall,
        "depth_mm": slot.depth,
        "way": [way_u, way_in],
    }


def _joint(joint: Joint) -> dict[str, Any]:
    x, y = joint.middle
    return {
        "name": joint.name,
        "kind": joint.kind,
        "corner": joint.corner,
        "x_mm": x,
        "y_mm": y,
        "v_mm": joint.v,
        "long_mm": joint.long,
        "wide_mm": joint.wide,
        "thick_mm": joint.thick,
        "from_outer_mm": joint.from_outer,
        "wood_mm": joint.wood,
        "volume_mm3": joint.volume,
    }


def _strip(strip: Strip) -> dict[str, Any]:
    return {
        "side": strip.side,
        "material": "steel" if strip.steel else "wood",
        "long_point_mm": strip.long_point,
        "short_point_mm": strip.short_point,
        "width_mm": strip.width,
        "thickness_mm": strip.thickness,
        "miter_left_deg": strip.miter_left_deg,
        "miter_right_deg": strip.miter_right_deg,
        "bottom_mm": strip.bottom,
        "volume_mm3": strip.volume,
    }


def _panel(panel: Panel) -> dict[str, Any]:
    return {
        "side": panel.side,
        "length_mm": panel.length,
        "width_mm": panel.width,
        "thickness_mm": panel.thickness,
        "volume_mm3": panel.volume,
        "holes": [_hole(hole) for hole in panel.holes],
    }


def _hole(hole: Hole) -> dict[str, Any]:
    entry: dict[str, Any] = {
        "name": hole.name,
        "purpose": hole.purpose,
        "u_mm": hole.u,
        "v_mm": hole.v,
    }
    if hole.diameter is not None:
        entry["diameter_mm"] = hole.diameter
    else:
        entry |= {"length_mm": hole.length, "height_mm": hole.height}
    if hole.depth is not None:
        entry |= {"face": hole.face, "depth_mm": hole.depth}
    if hole.into_block:
        entry["into_block_mm"] = hole.into_block
    return entry


def _well(layout: Layout, standing: Standing) -> dict[str, Any]:
    """Return the vessels' places: axes in plan and feet, from where the collar's are."""
    vessels = {vessel.name: vessel for vessel in layout.inside.vessels}
    packing = standing.packing
    return {
        "verdict": packing.verdict,
        "gap_mm": _finite(standing.gap),
        "at_most_mm": _finite(packing.bound),
        "vessels": [
            {
                "name": place.vessel,
                "x_mm": place.x,
                "y_mm": place.y,
                "z_mm": place.z,
                "diameter_mm": vessels[place.vessel].diameter,
                "height_mm": vessels[place.vessel].height,
                "fitting_mm": vessels[place.vessel].fitting,
                "on": "step" if place.on_step else "floor",
            }
            for place in standing.places
        ],
        "order": [entry.vessel for entry in standing.order.entries] if standing.order else [],
    }


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def _finding(finding: Finding) -> dict[str, Any]:
    entry = asdict(finding)
    entry["missing"] = list(finding.missing)
    entry["levers"] = list(finding.levers)
    entry["remedies"] = [
        {"changes": dict(each.changes), "says": each.says} for each in finding.remedies
    ]
    return entry
