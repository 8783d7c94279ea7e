"""Ctrl-C, and what a system sends to end a run: the run tidies up and leaves in a sentence.

A stop reaches the program as ``Stop``, a ``KeyboardInterrupt``: what cleans up after the one
cleans up after the other. Where an exception out of nowhere would do harm, while a library is
being loaded or compiled code calls back, work runs ``undisturbed`` and asks between its steps
with ``stop_if_asked``.
"""

import signal
import sys
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
_waiting: list[list[int]] = []
"""What came within each ``undisturbed`` block that is open, the outermost first."""


def _stop(number: int, frame: FrameType | None) -> None:
    _came.append(number)
    raise Stop(number)


def stop_if_asked() -> None:
    """Raise the stop that an ``undisturbed`` block puts off, or that a library swallowed.

    Between steps of such a block: nothing is half done here. Inside a block within a block,
    which must not be left, nothing happens.
    """
    if len(_waiting) > 1 or threading.current_thread() is not threading.main_thread():
        return
    came = [*_came, *(_waiting[0] if _waiting else ())]
    if came:
        if _waiting:
            _waiting[0].clear()
        raise Stop(came[0])


def _unraisable(found: "sys.UnraisableHookArgs") -> None:
    """Keep quiet of a ``Stop`` that fell into a finalizer, and send it again."""
    if not isinstance(found.exc_value, Stop):
        sys.__unraisablehook__(found)
        return
    number = found.exc_value.number
    again = threading.Timer(0.01, signal.raise_signal, (number,))
    again.daemon = True
    again.start()


def catch_stops() -> None:
    """Let every stop be raised as ``Stop``, but for those that are ignored (``nohup``, ``&``)."""
    sys.unraisablehook = _unraisable
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
    _waiting.append(came)
    for each in before:
        signal.signal(each, note)
    try:
        yield
    except Stop:
        came.clear()  # it is on its way, and knows better what became of the files
        raise
    finally:
        for each, by in before.items():
            signal.signal(each, by)
        _waiting.pop()
        if came:
            signal.raise_signal(came[0])
