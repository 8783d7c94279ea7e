"""Boards from sticks: least price, then least length bought, then fewest sticks, with proof.

``cut_plan`` answers, ``faults`` measures the answer again. Both take plain values and know neither
build file nor layout; ``boards`` makes the job of one or several layouts.
"""

from .job import (
    STEP,
    Cut,
    Flaw,
    Job,
    NoPlanError,
    OnSale,
    Owned,
    Piece,
    Placed,
    Plan,
    Sound,
    down,
    kerf_along,
    owned_rooms,
    up,
)
from .measure import faults
from .solve import cut_plan

__all__ = [
    "STEP",
    "Cut",
    "Flaw",
    "Job",
    "NoPlanError",
    "OnSale",
    "Owned",
    "Piece",
    "Placed",
    "Plan",
    "Sound",
    "cut_plan",
    "down",
    "faults",
    "kerf_along",
    "owned_rooms",
    "up",
]
