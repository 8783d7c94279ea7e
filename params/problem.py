"""What is wrong with what somebody wrote: data first, a sentence second.

Everything that a person can get wrong in a file ends up as a ``Problem``, so that the
terminal and ``--json`` say the same thing and all problems of a file can be shown at once.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing to put right.

    ``key`` is the path in the build file (``taps.height``, ``vessel[2].count``) or the column
    of a catalogue file; ``read`` is what stands there, ``wanted`` completes "expected …" and
    ``example`` is a line that would be accepted, for a table several. ``file`` and ``line`` are
    filled in by whoever knows them. ``keys`` lists further keys that the problem involves.
    ``plain`` is the whole sentence for a person where "read …, expected …" would be none.
    """

    key: str
    read: str
    wanted: str
    example: str = ""
    file: str = ""
    line: int | None = None
    keys: tuple[str, ...] = ()
    plain: str = ""

    def at(self, file: str, line: int | None) -> "Problem":
        """Return a copy that says where the key stands."""
        return replace(self, file=file, line=line)

    def __str__(self) -> str:
        """Return the sentence for a person: place, key, what was read, what was expected."""
        place = ":".join(part for part in (self.file, str(self.line or "")) if part)
        where = f"{place}: " if place else ""
        key = f"{self.key}: " if self.key else ""
        read = f"read {self.read}, " if self.read else ""
        example = f"\n  for example: {self.example}" if self.example else ""
        if "\n" in self.example:  # several lines stand below, to be copied as they are
            example = "\n    ".join(["\n  for example:", *self.example.split("\n")])
        said = self.plain or f"{read}expected {self.wanted}"
        return f"{where}{key}{said}{example}"


class BuildFileError(ValueError):
    """A build file, or a catalogue file beside it, cannot be used as written."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        """Keep every problem; the message is one block of text for each."""
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def visible(text: str) -> str:
    """Return a text in which what hides, turns the direction or breaks the line is written out.

    That is control, direction and unassigned characters, and the two separators of Unicode.
    """
    return "".join(
        f"<U+{ord(sign):04X}>" if unicodedata.category(sign) in _WRITTEN_OUT else sign
        for sign in text
    )


_WRITTEN_OUT = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
