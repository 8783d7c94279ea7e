"""STL files: a part's surface as triangles, binary, in mm."""

# pyright: reportAttributeAccessIssue=false
# The kernel's own modules come without types.

from pathlib import Path

from OCP.StlAPI import StlAPI_Writer

from . import kernel, mesh
from .part import Part

HEADER = 80
"""Length of the free text at the start of a binary STL file, bytes."""


def write_part(path: Path, part: Part, units: str = "millimeters") -> None:
    """Write one part lying flat; the same bytes for the same part.

    Raises:
        SolidError: the kernel failed.
        OSError: the file cannot be written.
    """
    # The kernel only says yes or no to a file; Python says why not.
    path.write_bytes(b"")
    with kernel.guarded(part.name, "writing STL", part.sizes):
        mesh.meshed(part.flat)
        writer = StlAPI_Writer()
        writer.ASCIIMode = False
        if not writer.Write(part.flat.wrapped, str(path)):
            raise RuntimeError("the kernel could not write the triangles")
    with path.open("r+b") as file:
        file.write(f"{part.name}, {units}".encode("ascii").ljust(HEADER)[:HEADER])
