"""Foam panels from sheets by knife cuts from edge to edge: least sheets, then least cuts.

``sheet_plan`` answers, ``faults`` makes its cuts again and measures what falls out. Both take
plain values; ``panels`` makes the job of one or several layouts, ``seams`` says where a panel that
is longer than a sheet is parted.
"""

from ..cutting.job import STEP, down, up
from .job import (
    Across,
    Cut,
    Job,
    NoPlanError,
    Part,
    Placed,
    Plan,
    Rect,
    Sheet,
    SheetPlan,
)
from .measure import faults
from .solve import sheet_plan

__all__ = [
    "STEP",
    "Across",
    "Cut",
    "Job",
    "NoPlanError",
    "Part",
    "Placed",
    "Plan",
    "Rect",
    "Sheet",
    "SheetPlan",
    "down",
    "faults",
    "sheet_plan",
    "up",
]
