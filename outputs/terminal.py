"""What somebody at a terminal is told besides the results: progress, color, lines that fit.

A pipe gets none of the first two. Color never says what no word says.
"""

import os
import shutil
import sys
import textwrap
import threading
from collections.abc import Generator, Iterable, Iterator, Sequence
from contextlib import contextmanager
from types import TracebackType
from typing import Any

import typer

from ..params.problem import Problem
from .text import WIDTH

SLOW = 0.5
"""Seconds that nobody wonders about; work that takes longer is told."""

COLORS = {"fail": "red", "tight": "yellow", "not-checked": "magenta", "pass": "green"}


def painted(verdict: str, heading: str) -> str:
    """Return a heading in the color of its verdict, where color is wanted.

    It is at a terminal that knows escape sequences, unless ``NO_COLOR`` holds anything
    (no-color.org).
    """
    if not _clever(sys.stdout) or os.environ.get("NO_COLOR"):
        return heading
    return typer.style(heading, fg=COLORS[verdict], bold=True)


def _clever(stream: Any) -> bool:
    """Return whether a stream is a terminal that knows escape sequences."""
    return _watched(stream) and os.environ.get("TERM", "dumb") != "dumb"


def _watched(stream: Any) -> bool:
    return stream is not None and stream.isatty()


class Progress:
    """Says on stderr what is being done, in one line that is gone at the end.

    A terminal that cannot take a line back gets a line for each. What is said within ``after``
    seconds of the start waits until they are over, and is never seen where the work ends first.
    """

    def __init__(self, after: float = 0.0) -> None:
        """Start; nothing is shown yet."""
        self._watched, self._clever = _watched(sys.stderr), _clever(sys.stderr)
        self._what, self._shown = "", False
        self._lock = threading.Lock()
        self._timer = threading.Timer(after, self._show) if after and self._watched else None
        if self._timer is not None:
            self._timer.daemon = True
            self._timer.start()

    def __call__(self, what: str) -> None:
        """Say what is being done from now on."""
        self._what = what
        if self._watched and (self._timer is None or self._timer.finished.is_set()):
            self._show()

    def __enter__(self) -> "Progress":
        """Return itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        """Take the line back, however the work ended."""
        if self._timer is not None:
            self._timer.cancel()
        with self._lock:
            self._what = ""
            if self._shown and self._clever:
                _write("\r\x1b[K")

    def _show(self) -> None:
        with self._lock:
            if not self._what:
                return
            line = f"… {self._what}"
            if self._clever:
                columns = shutil.get_terminal_size().columns
                line = f"\r\x1b[K{line[: max(1, columns - 1)]}"
            else:
                line += "\n"
            _write(line)
            self._shown = True


def _write(text: str) -> None:
    try:
        sys.stderr.write(text)
        sys.stderr.flush()
    except OSError:
        pass  # a terminal that was closed ends no work


@contextmanager
def slow(what: str) -> Generator[None]:
    """Say what is being done if it takes longer than half a second."""
    with Progress(SLOW) as say:
        say(what)
        yield


def problems_text(problems: Iterable[Problem]) -> str:
    """Return problems with their sentences broken into lines; examples stay, to be copied."""
    lines: list[str] = []
    for each in problems:
        sentence, *example = str(each).split("\n")
        lines += [*fitted(sentence, "    "), *example]
    return "\n".join(lines)


def columns(table: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield the rows of a table as lines, each column as wide as its longest cell."""
    wide = [max(len(row[k]) for row in table) for k in range(len(table[0]))]
    for row in table:
        yield "  " + "  ".join(word.ljust(w) for word, w in zip(row, wide, strict=True)).rstrip()


def fitted(text: str, later: str = "  ") -> list[str]:
    """Break a text into lines that fit; a path or a word that is longer stays whole."""
    return textwrap.wrap(
        text,
        WIDTH,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [text]
