"""``model/``: the collar as a STEP assembly and for viewers, and each made part as STEP and STL."""

from collections.abc import Callable
from pathlib import Path

from ..geometry.shape.layout import Layout
from .glb import write_glb
from .stops import stop_if_asked

FOLDER = "model"
ASSEMBLY = "collar"
"""Name of the assembly and stem of its file."""


def write(
    layout: Layout, out_dir: Path, title: str, remark: Callable[[str], None] = lambda _: None
) -> tuple[str, ...]:
    """Make the solids and write their files, lengths in mm.

    ``model/collar.step`` and ``model/collar.glb`` (in meters, Y up) have every part in its
    place. ``model/PART.step`` and
    ``model/PART.stl`` have a board with its inner face on z = 0 and its outer face up, a foam
    panel with the well's face on z = 0 and the face that lies on the board up.

    Args:
        layout: what is where.
        out_dir: an existing folder; ``model`` is made in it.
        title: the design's title, for the header of the STEP files.
        remark: is told what was left out or came out in pieces.

    Returns:
        The paths written, relative to ``out_dir``, in a fixed order.

    Raises:
        KernelMissing: the CAD kernel cannot be loaded.
        SolidError: the kernel could not make or write a part, or made it wrong.
        OSError: a file cannot be written.
    """
    from ..geometry import solids

    solids.load(stop_if_asked)
    from ..geometry.solids import step, stl
    from ..geometry.solids.parts import model

    made = model(layout, stop_if_asked)
    for each in made.remarks:
        remark(each)
    (out_dir / FOLDER).mkdir(exist_ok=True)
    written = [f"{FOLDER}/{ASSEMBLY}.step", f"{FOLDER}/{ASSEMBLY}.glb"]
    step.write_assembly(out_dir / written[0], ASSEMBLY, title, made.parts)
    stop_if_asked()
    write_glb(out_dir / written[1], made.parts, layout.hinge)
    for part in made.made:
        stop_if_asked()
        names = [f"{FOLDER}/{part.name}.step", f"{FOLDER}/{part.name}.stl"]
        step.write_part(out_dir / names[0], part, title)
        stl.write_part(out_dir / names[1], part)
        written += names
    return tuple(written)
