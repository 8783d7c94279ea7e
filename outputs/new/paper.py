"""The build file while it is talked about: its text, and what it says."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from ...params.starter import answers_in, edit
from ...params.units import Show
from .opens import opens

Changes = Mapping[str, str | None]
"""Answers as typed, by key; None takes one away."""


@dataclass(slots=True)
class Paper:
    """The file as the talk sees it: its text, what it says, and how it is kept.

    ``keep`` writes a text to the file; ``changed`` returns what somebody else wrote there
    meanwhile, None if nobody did. ``own`` are keys that were answered by hand in a way that is
    not asked about.
    """

    path: Path
    text: str
    keep: Callable[[str], None]
    changed: Callable[[], str | None] = lambda: None
    answers: dict[str, str] = field(default_factory=dict[str, str])
    own: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        """Read what the text says."""
        self._take_in()

    def tried(self, changes: Changes) -> str:
        """Return the text with these changes.

        Raises:
            EditError: the file cannot be changed so.
        """
        return edit(self.text, changes, opens())

    def take(self, changes: Changes) -> None:
        """Change the file; what somebody else wrote there meanwhile stays.

        Raises:
            EditError: the file cannot be changed so.
            OSError: the file cannot be written.
        """
        text = edit(self.changed() or self.text, changes, opens())
        self.keep(text)
        self.text = text
        self._take_in()

    @property
    def show(self) -> Show:
        """The units that lengths are told in."""
        return "mm" if self.answers.get("show") == "mm" else "in"

    def _take_in(self) -> None:
        said = answers_in(self.text)
        if said is not None:
            self.answers, self.own = dict(said.answers), said.own
