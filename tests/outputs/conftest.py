"""What every test of the outputs starts from, whatever ran before it in the same process."""

import signal
from collections.abc import Iterator

import pytest
from collarwright.outputs.stops import STOPS


@pytest.fixture(autouse=True)
def signals_as_python_sets_them() -> Iterator[None]:
    """Let stops arrive as in any Python, and put back what a test's ``main()`` left of it.

    ``main()`` ends with the system's own handlers, under which a later test that sends itself a
    stop would take pytest with it; started by a shell's ``&`` or ``nohup``, pytest and the
    programs that it starts would not hear one at all.
    """
    before = {each: signal.getsignal(each) for each in STOPS}
    for each in STOPS:
        python = signal.default_int_handler if each == signal.SIGINT else signal.SIG_DFL
        signal.signal(each, python)
    yield
    for each, by in before.items():
        if by is not None:  # set by a library, not from Python: nothing can put it back
            signal.signal(each, by)
