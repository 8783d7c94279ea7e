"""``model/collar.glb``: the collar for a viewer, lengths in meters, Y up.

Node names are the parts' names. The lid hangs under ``lid-hinge``, a node on the hinge axis: its
turn about X opens the lid. Without the axis's readings the lid stands like every other part.
"""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..geometry.shape.lid import HingeAxis
from .stops import stop_if_asked

if TYPE_CHECKING:
    from ..geometry.solids.part import Part

ROOT, HINGE = "collar", "lid-hinge"
METERS = 1e-3


def linear(channel: float) -> float:
    """Return an sRGB channel as linear light, as glTF wants colors (IEC 61966-2-1)."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def write_glb(path: Path, parts: Sequence["Part"], axis: HingeAxis | None) -> None:
    """Write the parts where they stand, one mesh each; the same bytes for the same parts.

    Args:
        path: the file.
        parts: every part, lengths in mm.
        axis: what the lid turns about, None if it was not measured.

    Raises:
        SolidError: the kernel failed.
        OSError: the file cannot be written.
    """
    import numpy as np
    import trimesh as library
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    from ..geometry.solids import mesh

    stop_if_asked()
    trimesh: Any = library  # its scenes are not typed in full
    colors = {part.group: [round(linear(c), 6) for c in part.color] + [1.0] for part in parts}

    def exact(tree: dict[str, Any]) -> None:
        # The library rounds colors to 8 bits, which leaves little of the dark ones.
        for surface in tree["materials"]:
            surface["pbrMetallicRoughness"]["baseColorFactor"] = colors[surface["name"]]

    up = np.eye(4)
    up[1:3, 1:3] = (0, 1), (-1, 0)  # z of the collar is y here, its y is -z
    scene = trimesh.Scene(base_frame="world")
    scene.graph.update(frame_from="world", frame_to=ROOT, matrix=up)
    pin = None if axis is None else np.array((0.0, axis.y, axis.z)) * METERS
    for part, vertices, faces in mesh.placed(parts):
        corners, parent = vertices * METERS, ROOT
        if part.name == "lid" and pin is not None:
            hinge = np.eye(4)
            hinge[:3, 3] = pin
            scene.graph.update(frame_from=ROOT, frame_to=HINGE, matrix=hinge)
            corners, parent = corners - pin, HINGE
        material = PBRMaterial(
            name=part.group,
            baseColorFactor=colors[part.group],
            metallicFactor=0.0,
            roughnessFactor=0.8,
        )
        # No normals: a viewer then shades flat, which is right for boards.
        scene.add_geometry(
            trimesh.Trimesh(
                corners, faces, process=False, visual=TextureVisuals(material=material)
            ),
            node_name=part.name,
            geom_name=part.name,
            parent_node_name=parent,
        )
    data: bytes = scene.export(file_type="glb", include_normals=False, tree_postprocessor=exact)
    path.write_bytes(data)
