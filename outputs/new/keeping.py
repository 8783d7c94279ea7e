"""Keeps a file that is written, perhaps again and again, whole or not at all."""

import os
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

STALE_S = 60.0
"""A part of a file older than this was left by a run that was killed, seconds."""


@dataclass(slots=True)
class Keeper:
    """Writes one file, again and again; a link is followed, the file keeps its rights.

    ``fresh`` says that no file may be there before the first writing.
    """

    file: Path
    fresh: bool
    _wrote: str | None = field(default=None)

    def changed(self) -> str | None:
        """Return what stands in the file, if somebody else wrote it since we did; else None."""
        if self._wrote is None:
            return None
        try:
            there = self.file.read_text("utf-8")
        except (OSError, UnicodeDecodeError):
            return None
        return None if there == self._wrote else there

    def read(self) -> str:
        """Return the file's text, to go on with it.

        Raises:
            OSError: it cannot be read.
            UnicodeDecodeError: it is no text.
        """
        self._wrote = self.file.read_text("utf-8")
        return self._wrote

    def write(self, text: str) -> None:
        """Write the file beside itself and put it in place.

        Raises:
            FileExistsError: ``fresh``, and somebody made the file meanwhile.
            OSError: it cannot be written.
        """
        self.make(lambda part: part.write_text(text, "utf-8", newline="\n"))
        self._wrote = text

    def make(self, draw: Callable[[Path], object]) -> None:
        """Let ``draw`` fill a file beside it, and put that in place once it is whole.

        Raises:
            FileExistsError: ``fresh``, and somebody made the file meanwhile.
            OSError: it cannot be written.
        """
        target = Path(os.path.realpath(self.file))
        held, name = tempfile.mkstemp(prefix=f".{target.name}-", suffix=".part", dir=target.parent)
        try:
            os.close(held)
            draw(Path(name))
            with Path(name).open("rb+") as stream:
                os.fsync(stream.fileno())
            Path(name).chmod(_rights(target))
            if self.fresh and _linked(name, target):
                Path(name).unlink()
            else:
                Path(name).replace(target)
        except BaseException:  # also when the terminal is closed just now
            Path(name).unlink(missing_ok=True)
            raise
        self.fresh = False

    def sweep(self) -> None:
        """Remove parts that a killed run left."""
        target = Path(os.path.realpath(self.file))
        for each in target.parent.glob(f".{_plain(target.name)}-*.part"):
            if each.is_file() and time.time() - each.stat().st_mtime > STALE_S:
                each.unlink(missing_ok=True)


def unfit(file: Path) -> tuple[str, str] | None:
    """Return why nothing can be kept at a path, and what is wanted instead; None if it can.

    Whether a file is there already is not asked.
    """
    folder = Path(os.path.realpath(file)).parent
    if file.is_symlink() and not file.is_file():
        return "a link that leads to no file", "the name of a file"
    if os.path.lexists(file) and not file.is_file():
        return "a folder, or no plain file", "the name of a file"
    if not folder.is_dir():
        return "a folder that is not there", "a name in one that is"
    if not os.access(folder, os.W_OK):
        return "a folder that cannot be written", "a name in one that can"
    return None


def _plain(name: str) -> str:
    """Return a name in which no sign is a pattern."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in name)


def _rights(target: Path) -> int:
    """Return the rights of the file that is there, or those of any new file."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _linked(name: str, target: Path) -> bool:
    """Claim the target's name, so that a file made meanwhile is not written over.

    False where the file system has no hard links: then it is only looked whether one is there.
    """
    try:
        os.link(name, target)
    except FileExistsError:
        raise
    except OSError:
        if os.path.lexists(target):
            raise FileExistsError(str(target)) from None
        return False
    return True
