"""Ctrl-C, and what a system sends to end a run: the run tidies up and leaves in a sentence.

A stop reaches the program as ``Stop``, a ``KeyboardInterrupt``: what cleans up after the one
cleans up after the other.
"""

import signal
import threading
from collections.abc import Generator
from contextlib import contextmanager
from types import FrameType

STOPS = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)
"""From a person, from a system that shuts down, from a terminal that is closed."""


class Stop(KeyboardInterrupt):
    """The run is to end; its notes say what became of the files."""

    def __init__(self, number: int) -> None:
        """Keep the signal's number: a shell expects 128 more than it as exit status."""
        self.number = number
        super().__init__(number)


_came: list[int] = []


def _stop(number: int, frame: FrameType | None) -> None:
    _came.append(number)
    raise Stop(number)


def raise_swallowed() -> None:
    """Raise the ``Stop`` that was raised before and that a library caught with the rest."""
    if _came:
        raise Stop(_came[0])


def catch_stops() -> None:
    """Let every stop be raised as ``Stop``, but for those that are ignored (``nohup``, ``&``)."""
    for each in STOPS:
        if signal.getsignal(each) in (signal.SIG_DFL, signal.default_int_handler):
            signal.signal(each, _stop)


def let_stops_end_it() -> None:
    """Let a stop end the process at once: everything is done, and nobody is left to catch it."""
    for each in STOPS:
        if signal.getsignal(each) is _stop:
            signal.signal(each, signal.SIG_DFL)


@contextmanager
def undisturbed() -> Generator[None]:
    """Put off a stop until the end of the block, where it comes as it would have come."""
    if threading.current_thread() is not threading.main_thread():
        yield  # a stop comes to the main thread alone
        return
    came: list[int] = []

    def note(number: int, frame: FrameType | None) -> None:
        came.append(number)

    before = {each: signal.getsignal(each) for each in STOPS}
    # What is ignored stays so, and what was not set from Python cannot be put back from it.
    before = {each: by for each, by in before.items() if by not in (signal.SIG_IGN, None)}
    for each in before:
        signal.signal(each, note)
    try:
        yield
    finally:
        for each, by in before.items():
            signal.signal(each, by)
        if came:
            signal.raise_signal(came[0])
