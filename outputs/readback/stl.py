"""Reads a binary STL file: its triangles, whether they close, and what they enclose."""

from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

HEADER, COUNT, TRIANGLE = 80, 4, 50
"""Bytes of the free text, of the number of triangles, and of each triangle."""

RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


class StlError(ValueError):
    """The file is not a whole binary STL file."""


@dataclass(frozen=True)
class Mesh:
    """Triangles of an STL file; corners that have the same coordinates are one vertex.

    ``vertices`` is n x 3, ``faces`` m x 3 indices into it, ``normals`` m x 3 as stored; mm.
    """

    header: str
    vertices: NDArray[np.float64]
    faces: NDArray[np.int64]
    normals: NDArray[np.float64]

    @cached_property
    def watertight(self) -> bool:
        """Whether every edge is used as often one way as the other, and no triangle is a line."""
        sides = np.concatenate(
            [self.faces[:, (0, 1)], self.faces[:, (1, 2)], self.faces[:, (2, 0)]]
        )
        if np.any(sides[:, 0] == sides[:, 1]):
            return False
        count = len(self.vertices)
        there = np.sort(sides[:, 0] * count + sides[:, 1])
        back = np.sort(sides[:, 1] * count + sides[:, 0])
        return bool(np.array_equal(there, back))

    @cached_property
    def bodies(self) -> int:
        """Number of surfaces that share no vertex."""
        label = np.arange(len(self.vertices))
        while True:
            least = label[self.faces].min(axis=1)
            following = label.copy()
            for corner in range(3):
                np.minimum.at(following, self.faces[:, corner], least)
            following = following[following]
            if np.array_equal(following, label):
                return len(np.unique(label))
            label = following

    @cached_property
    def volume(self) -> float:
        """What the triangles enclose, mm3; negative where they face inward."""
        return float(self._sixths.sum() / 6)

    @cached_property
    def center(self) -> tuple[float, float, float]:
        """Center of the enclosed volume, mm."""
        middle = self._corners.sum(axis=1) / 4
        x, y, z = (self._sixths[:, None] * middle).sum(axis=0) / self._sixths.sum()
        return float(x), float(y), float(z)

    @cached_property
    def box(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """Lowest and highest coordinates, mm."""
        low, high = self.vertices.min(axis=0).tolist(), self.vertices.max(axis=0).tolist()
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    @cached_property
    def normals_agree(self) -> bool:
        """Whether each stored normal points the way the order of the corners says."""
        a, b, c = (self._corners[:, k] for k in range(3))
        return bool(np.all((np.cross(b - a, c - a) * self.normals).sum(axis=1) > 0))

    @property
    def _corners(self) -> NDArray[np.float64]:
        return self.vertices[self.faces]

    @cached_property
    def _sixths(self) -> NDArray[np.float64]:
        """Six times the volume between each triangle and a point near the mesh, signed."""
        # From the origin, far-off parts would lose digits.
        corners = self._corners
        return np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))


def read(path: Path) -> Mesh:
    """Read a binary STL file.

    Raises:
        StlError: its length does not fit its count of triangles, there are none, or a number is not
            finite.
    """
    data = path.read_bytes()
    if len(data) < HEADER + COUNT:
        raise StlError(f"{path.name} is too short for a binary STL file")
    count = int.from_bytes(data[HEADER : HEADER + COUNT], "little")
    if len(data) != HEADER + COUNT + TRIANGLE * count:
        raise StlError(f"{path.name} has {len(data)} bytes, not those of {count} triangles")
    if not count:
        raise StlError(f"{path.name} has no triangles")
    records = np.frombuffer(data, RECORD, count, HEADER + COUNT)
    corners = records["corners"].reshape(-1, 3)
    if not np.all(np.isfinite(corners)):
        raise StlError(f"{path.name} has a coordinate that is no number")
    vertices, inverse = np.unique(corners, axis=0, return_inverse=True)
    return Mesh(
        header=data[:HEADER].decode("ascii", "replace").strip(" \0"),
        vertices=vertices.astype(np.float64),
        faces=inverse.reshape(-1, 3).astype(np.int64),
        normals=records["normal"].astype(np.float64),
    )
