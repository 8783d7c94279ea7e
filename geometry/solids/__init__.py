"""The only place that loads the CAD kernel: from the layout to solid parts and their files.

This page itself loads nothing: call ``load`` before the first import of a module beside it, and
a kernel that cannot be loaded is one sentence for people. What went wrong in the kernel later
is a ``SolidError``; none of its own errors leaves this folder.
"""

from collections.abc import Callable
from importlib import import_module

STEPS = ("OCP.gp", "OCP.IVtkOCC", "cadquery")
"""What is loaded one after the other: each takes under a second."""

LIBGL = "libGL.so.1"
"""The one system library that the kernel needs and that a bare Debian lacks."""


class KernelMissing(Exception):  # noqa: N818 - says what is the matter, as the words of the rooms do
    """The CAD kernel cannot be loaded on this machine; the text is one sentence for people."""


class SolidError(Exception):
    """The kernel could not make or write a part, or made it wrong.

    ``part`` is the part's name, ``step`` what was being done, ``sizes`` the part's sizes as
    text, ``why`` what went wrong.
    """

    def __init__(self, part: str, step: str, sizes: str, why: str) -> None:
        super().__init__(f"{part} ({sizes}): {step}: {why}")
        self.part, self.step, self.sizes, self.why = part, step, sizes, why


def load(between: Callable[[], None] = lambda: None) -> None:
    """Load the CAD kernel; takes one to two seconds the first time.

    Args:
        between: is called between the steps; what it raises ends the loading there.

    Raises:
        KernelMissing: it is not installed, or a system library that it needs is missing.
    """
    for step in STEPS:
        _load(step)
        between()


def _load(step: str) -> None:
    try:
        import_module(step)
    except ModuleNotFoundError as error:
        raise KernelMissing(
            f"the CAD kernel is not installed ({error.name} was not found): pip install cadquery"
        ) from error
    except ImportError as error:
        if LIBGL in str(error):
            raise KernelMissing(
                "the CAD kernel needs the system library libgl1: apt-get install -y libgl1"
            ) from error
        raise KernelMissing(f"the CAD kernel cannot be loaded: {error}") from error
