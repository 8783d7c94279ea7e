"""Vessels in the well: do they all stand there, how do they get in, what goes down at all.

``pack`` answers the first, ``entry_order`` the second, ``largest_opening`` the third. They take and
return plain dataclasses and know neither build file nor layout: the problem is discs with heights
in a box whose walls lean, the answer is places in plan.
"""

from .answer import Packing, Place, Reason
from .entry import Entry, EntryOrder, entry_order
from .opening import Circle, largest_opening
from .places import Tightest, measure
from .problem import Box, Disc, HeadRoom, Opening, Problem, Rect, Step, Vessel, Well
from .solve import NODES, NODES_TO_PROVE, pack

__all__ = [
    "NODES",
    "NODES_TO_PROVE",
    "Box",
    "Circle",
    "Disc",
    "Entry",
    "EntryOrder",
    "HeadRoom",
    "Opening",
    "Packing",
    "Place",
    "Problem",
    "Reason",
    "Rect",
    "Step",
    "Tightest",
    "Vessel",
    "Well",
    "entry_order",
    "largest_opening",
    "measure",
    "pack",
]
