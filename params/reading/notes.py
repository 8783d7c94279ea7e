"""What has been found wrong with a build file so far."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from ..problem import Problem
from .paths import parent


@dataclass(slots=True)
class Notes:
    """Problems as they are found, and the keys whose values are not to be relied on.

    A key that is ``dropped`` was written, but not in a way that can be used: whatever depends
    on it is not complained about a second time.
    """

    problems: list[Problem] = field(default_factory=list[Problem])
    dropped: set[str] = field(default_factory=set[str])

    def add(
        self, key: str, read: str, wanted: str, example: str = "", keys: Iterable[str] = ()
    ) -> None:
        """Note a problem."""
        self.problems.append(
            Problem(key=key, read=read, wanted=wanted, example=example, keys=tuple(keys))
        )

    def drop(self, key: str) -> None:
        """Say that a key was written and cannot be used."""
        self.dropped.add(key)

    def doubtful(self, *keys: str) -> bool:
        """Return whether one of the keys, or a table that it stands in, was dropped."""
        for key in keys:
            while key:
                if key in self.dropped:
                    return True
                key = parent(key)
        return False
