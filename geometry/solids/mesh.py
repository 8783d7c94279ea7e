"""Parts as triangles. A shape keeps its first mesh, so all meshes are made here, at one setting."""

# pyright: reportAttributeAccessIssue=false
# The kernel's own modules come without types.

from collections.abc import Iterable, Iterator

import cadquery as cq
import numpy as np
from numpy.typing import NDArray
from OCP.BRep import BRep_Tool
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopLoc import TopLoc_Location

from . import kernel
from .part import Part

TOLERANCE, ANGLE_RAD = 0.1, 0.2
"""How far the triangles may leave the surface, mm, and how far neighbours may turn, radians."""

Vertices = NDArray[np.float64]
Faces = NDArray[np.int64]


def meshed(shape: cq.Shape) -> None:
    """Mesh a shape, unless it has its mesh already. The tolerance is in mm, not a share."""
    if not BRepTools.Triangulation_s(shape.wrapped, TOLERANCE):
        BRepMesh_IncrementalMesh(shape.wrapped, TOLERANCE, False, ANGLE_RAD, False)


def placed(parts: Iterable[Part]) -> Iterator[tuple[Part, Vertices, Faces]]:
    """Yield each part with its triangles where it stands: n x 3 corners, mm, and m x 3 indices.

    Corners that several faces share are one, so a sound solid's mesh is closed. Equal bought
    parts are meshed once.

    Raises:
        SolidError: the kernel failed.
    """
    flats: dict[str, tuple[Vertices, Faces]] = {}
    for part in parts:
        with kernel.guarded(part.name, "meshing", part.sizes):
            if part.product not in flats:
                flats[part.product] = _triangles(part.flat)
            vertices, faces = flats[part.product]
            step = part.location.wrapped.Transformation()
            matrix = np.array([[step.Value(i, j) for j in range(1, 5)] for i in range(1, 4)])
        yield part, vertices @ matrix[:, :3].T + matrix[:, 3], faces


def _triangles(shape: cq.Shape) -> tuple[Vertices, Faces]:
    meshed(shape)
    index: dict[tuple[float, float, float], int] = {}
    faces: list[tuple[int, int, int]] = []
    for face in shape.Faces():
        where = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(face.wrapped, where)
        if mesh is None:
            raise RuntimeError("the kernel left a face without triangles")
        step = where.Transformation()
        corners = [0]  # the kernel counts from 1
        for n in range(1, mesh.NbNodes() + 1):
            point = mesh.Node(n).Transformed(step)
            key = round(point.X(), 6), round(point.Y(), 6), round(point.Z(), 6)
            corners.append(index.setdefault(key, len(index)))
        turned = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        for n in range(1, mesh.NbTriangles() + 1):
            a, b, c = (corners[k] for k in mesh.Triangle(n).Get())
            if len({a, b, c}) == 3:
                faces.append((a, c, b) if turned else (a, b, c))
    return np.array(list(index), dtype=np.float64), np.array(faces, dtype=np.int64)
