"""What ``new`` asks, and the commented build file that comes of the answers.

Each question is one key of the build file: where to hold the tape, what the reading is for, what
is usual. The text that is written is a build file like any other: it is read, and judged, by the
same door as one that somebody wrote by hand.
"""

from .answers import Said, answered, answers_in, makes_sense
from .asked import BY_KEY, EXAMPLES, GROUP_OF, GROUPS, NEEDED, QUESTIONS
from .edit import EditError, edit
from .question import Group, Question
from .text import build_text
from .unasked import UNASKED

__all__ = [
    "BY_KEY",
    "EXAMPLES",
    "GROUPS",
    "GROUP_OF",
    "NEEDED",
    "QUESTIONS",
    "UNASKED",
    "EditError",
    "Group",
    "Question",
    "Said",
    "answered",
    "answers_in",
    "build_text",
    "edit",
    "makes_sense",
]
