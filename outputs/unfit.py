"""What DIR may not be: a file, a link, a mount point, a folder that holds where one stands."""

import os
import re
from pathlib import Path

from ..params.problem import visible


class PlaceError(Exception):
    """DIR cannot take the files; the message is a sentence for a person."""


def refuse_unfit(out: Path) -> None:
    """Raise ``PlaceError`` where DIR is not a folder of its own that can be replaced."""
    said = visible(str(out))
    if not out.name or out.name == "..":
        raise PlaceError(f"{said} cannot be replaced: name a new folder")
    if out.is_symlink():
        raise PlaceError(f"{said} is a symbolic link: name the folder itself")
    if out.exists() and not out.is_dir():
        raise PlaceError(f"{said} is a file: name a folder, or a new one")
    above = next(each for each in out.parents if each.exists() or not each.name)
    if not above.is_dir():
        raise PlaceError(f"{visible(str(above))} is a file: no folder can be made in it")
    for each in out.parents:
        if each.is_symlink() and not each.exists():
            raise PlaceError(f"{visible(str(each))} is a symbolic link that leads nowhere")
    refuse_mounts(out)
    here = Path.cwd().resolve()
    if _real(out) in (here, *here.parents):
        raise PlaceError(f"{said} holds the folder you stand in: name a new one inside it")


def refuse_mounts(out: Path) -> None:
    """Raise ``PlaceError`` where DIR is a mount point or has one in it.

    What is mounted in DIR would be emptied with the old tree. ``Path.is_mount`` does not see a
    folder mounted from the same file system, so the system is asked for its list.
    """
    said, real = visible(str(out)), _real(out)
    if real in (points := _mount_points()) or out.is_mount():
        raise PlaceError(f"{said} is a mount point and cannot be replaced: name a folder in it")
    for point in points:
        if point.is_relative_to(real):
            inside = visible(str(out / point.relative_to(real)))
            raise PlaceError(f"{inside} is a mount point inside {said}: name another folder")


def _mount_points() -> list[Path]:
    """Return every mount point, from Linux's list; none where there is no such list."""
    try:
        lines = Path("/proc/self/mountinfo").read_bytes().splitlines()
    except OSError:
        return []
    # the fifth word; a blank in a path is written \\040
    written = (line.split()[4] for line in lines)
    plain = (re.sub(rb"\\([0-7]{3})", lambda each: bytes([int(each[1], 8)]), w) for w in written)
    return [Path(os.fsdecode(each)) for each in plain]


def _real(path: Path) -> Path:
    return Path(os.path.realpath(path))  # Path.resolve raises an error of its own for a ring
