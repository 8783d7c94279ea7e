"""What a question is: one key of the build file, and all that is said about it."""

from dataclasses import dataclass
from typing import Literal

Form = Literal["text", "readings", "sides", "list", "count", "yes"]
"""How an answer is written in the file: as it is; as a list where a reading was repeated; as a
table by side where sides were named; as a list of places; as a whole number; as true or false."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One thing to ask.

    ``key`` is its path in the build file (``lip.front``, ``vessel[2].kind``), ``ask`` what is
    asked in a few words, ``how`` where to hold the tape, ``why`` what the reading is for.
    ``example`` stands in the file that ``new`` writes without answers. ``usual`` is a range in mm
    (common practice, no source): a reading far beyond it is asked about once more; ``mostly``
    says the same in words where it is no length.

    ``catalogue`` names the catalogue whose ids are answers; ``measured`` are the keys that take
    sizes read on the part in place of an id. ``follows`` is a key without which, or with zero
    there, the question makes no sense; ``instead`` are keys that answer it by hand.
    ``without`` says what is taken where it is skipped,
    ``spoken`` is said at a terminal only: how an answer may be typed there.
    """

    key: str
    ask: str
    how: str
    why: str
    example: str
    form: Form = "text"
    needed: bool = False
    usual: tuple[float, float] | None = None
    mostly: str = ""
    choices: tuple[str, ...] = ()
    catalogue: str = ""
    measured: tuple[str, ...] = ()
    follows: str = ""
    instead: tuple[str, ...] = ()
    without: str = ""
    spoken: str = ""

    @property
    def table(self) -> str:
        """Name of the table that the key stands in; empty at the top of the file."""
        return self.key.rpartition(".")[0]

    @property
    def name(self) -> str:
        """The key itself."""
        return self.key.rpartition(".")[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Questions that are asked, or passed over, together.

    ``name`` is what they are about, ``need`` what to have at hand, ``why`` what comes of them. A
    group that is not ``first`` is offered, not asked. ``shown`` says whether the example file
    has their examples in force.
    """

    name: str
    need: str
    why: str
    questions: tuple[Question, ...]
    first: bool = False
    shown: bool = True
