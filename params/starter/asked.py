"""Every question, in the order in which they are asked."""

from collections.abc import Mapping

from .about import AIR, ROOM, SAW, WELL
from .lid import LEAVES, LID
from .question import Group, Question
from .rim import LIP, NAMES, SEAL
from .wood import BOARDS, FOAM, TAPS

GROUPS: tuple[Group, ...] = (
    NAMES, LIP, BOARDS, TAPS, FOAM, LID, LEAVES, ROOM, SAW, SEAL, WELL, AIR,
)  # fmt: skip
"""In the order in which they are asked: what is needed first."""

QUESTIONS: tuple[Question, ...] = tuple(each for group in GROUPS for each in group.questions)

BY_KEY: Mapping[str, Question] = {question.key: question for question in QUESTIONS}

GROUP_OF: Mapping[str, Group] = {each.key: group for group in GROUPS for each in group.questions}
"""The group that a key is asked in."""

NEEDED: tuple[str, ...] = tuple(each.key for each in QUESTIONS if each.needed)
"""What no collar can be cut without."""

_IN_PLACE_OF_AN_ID = frozenset(
    key for each in QUESTIONS for key in each.measured if key != each.key
)

EXAMPLES: frozenset[str] = frozenset(
    each.key
    for group in GROUPS
    if group.shown
    for each in group.questions
    if each.key not in _IN_PLACE_OF_AN_ID | {"lid.skirt_thickness", "taps.glass", "taps.thread"}
)
"""Keys whose examples together are a build file that builds as it stands."""
