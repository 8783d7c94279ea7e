"""Reads a binary glTF 2.0 file: its nodes, where they stand, and how far their meshes reach.

By the Khronos glTF 2.0 specification: a JSON chunk and a binary one, lengths in meters, Y up.
"""

import json
import struct
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

MAGIC, VERSION, JSON_CHUNK, BINARY_CHUNK = 0x46546C67, 2, 0x4E4F534A, 0x004E4942
FLOAT, TRIANGLES = 5126, 4
INDEX = {5121: "<u1", 5123: "<u2", 5125: "<u4"}

Point3 = tuple[float, float, float]


class GlbError(ValueError):
    """The file is not a whole binary glTF file, or uses what none of ours needs."""


@dataclass(frozen=True)
class Node:
    """A node: its parents' names from the root on, and the way from its frame to the file's.

    ``vertices`` are its mesh's corners in the file's frame, n x 3, meters, and ``faces`` m x 3
    indices; both None without a mesh. ``color`` is the base color, linear light.
    """

    name: str
    above: tuple[str, ...]
    matrix: NDArray[np.float64]
    vertices: NDArray[np.float64] | None
    faces: NDArray[np.int64] | None
    color: tuple[float, ...] | None

    @property
    def place(self) -> Point3:
        """Where the node's origin stands, meters, Y up."""
        x, y, z = self.matrix[:3, 3].tolist()
        return x, y, z

    @property
    def box(self) -> tuple[Point3, Point3]:
        """Lowest and highest coordinates of the mesh in the file's frame, meters, Y up."""
        if self.vertices is None:
            raise GlbError(f"node {self.name} has no mesh")
        low, high = self.vertices.min(axis=0).tolist(), self.vertices.max(axis=0).tolist()
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    @property
    def closed(self) -> bool:
        """Whether every edge of the mesh is used as often one way as the other."""
        if self.vertices is None or self.faces is None:
            raise GlbError(f"node {self.name} has no mesh")
        count, faces = len(self.vertices), self.faces
        sides = np.concatenate([faces[:, (0, 1)], faces[:, (1, 2)], faces[:, (2, 0)]])
        there = np.sort(sides[:, 0] * count + sides[:, 1])
        back = np.sort(sides[:, 1] * count + sides[:, 0])
        return bool(np.array_equal(there, back))

    @property
    def volume(self) -> float:
        """What the triangles enclose, m3; negative where they face inward."""
        if self.vertices is None or self.faces is None:
            raise GlbError(f"node {self.name} has no mesh")
        corners = (self.vertices - self.vertices.mean(axis=0))[self.faces]
        turns = np.cross(corners[:, 1], corners[:, 2])
        return float(np.einsum("ij,ij->", corners[:, 0], turns) / 6)


def read(path: Path) -> tuple[Node, ...]:
    """Read every node of the file's scene, parents first.

    Raises:
        GlbError: the file is cut short, or its JSON does not fit its numbers.
    """
    tree, blob = _chunks(path)
    try:
        return tuple(_nodes(tree, blob))
    except (KeyError, IndexError, TypeError, AttributeError, RecursionError) as error:
        raise GlbError(f"{path.name} refers to something that it does not have: {error}") from error
    except GlbError:
        raise
    except ValueError as error:
        raise GlbError(f"{path.name} has numbers that do not fit: {error}") from error


def _chunks(path: Path) -> tuple[dict[str, Any], bytes]:
    data = path.read_bytes()
    if len(data) < 20:
        raise GlbError(f"{path.name} is too short for a binary glTF file")
    magic, version, length = struct.unpack_from("<3I", data)
    if (magic, version) != (MAGIC, VERSION):
        raise GlbError(f"{path.name} is not a binary glTF 2 file")
    if length != len(data):
        raise GlbError(f"{path.name} has {len(data)} bytes, not the {length} that it states")
    found: dict[int, bytes] = {}
    at = 12
    while at < length:
        if at + 8 > length:
            raise GlbError(f"{path.name} ends within a chunk")
        size, kind = struct.unpack_from("<2I", data, at)
        if at + 8 + size > length:
            raise GlbError(f"{path.name} ends within a chunk")
        found[kind] = data[at + 8 : at + 8 + size]
        at += 8 + size
    try:
        tree = json.loads(found[JSON_CHUNK].decode("utf-8"))
    except (KeyError, ValueError, RecursionError) as error:
        raise GlbError(f"{path.name} has no JSON that can be read") from error
    if not isinstance(tree, dict):
        raise GlbError(f"{path.name} has no JSON that can be read")
    return tree, found.get(BINARY_CHUNK, b"")  # pyright: ignore[reportUnknownVariableType]


def _nodes(tree: dict[str, Any], blob: bytes) -> list[Node]:
    nodes, found = tree["nodes"], list[Node]()
    seen: set[int] = set()

    def walk(index: int, above: tuple[str, ...], frame: NDArray[np.float64]) -> None:
        if index in seen:
            raise GlbError(f"node {index} hangs in two places")
        seen.add(index)
        node = nodes[index]
        matrix = frame @ _matrix(node)
        vertices = faces = color = None
        if "mesh" in node:
            mesh = tree["meshes"][node["mesh"]]
            vertices, faces, color = _mesh(tree, blob, mesh)
            vertices = vertices @ matrix[:3, :3].T + matrix[:3, 3]
        name = node.get("name", "")
        found.append(Node(name, above, matrix, vertices, faces, color))
        for child in node.get("children", ()):
            walk(child, (*above, name), matrix)

    for root in tree["scenes"][tree.get("scene", 0)]["nodes"]:
        walk(root, (), np.eye(4))
    return found


def _matrix(node: dict[str, Any]) -> NDArray[np.float64]:
    """Return a node's own transform: a matrix by columns, or translation, turn and scale."""
    if "matrix" in node:
        return np.array(node["matrix"], dtype=np.float64).reshape(4, 4).T
    x, y, z, w = node.get("rotation", (0.0, 0.0, 0.0, 1.0))
    matrix = np.eye(4)
    turn = np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
            [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
            [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
        ]
    )
    matrix[:3, :3] = turn * np.array(node.get("scale", (1.0, 1.0, 1.0)), dtype=np.float64)
    matrix[:3, 3] = node.get("translation", (0.0, 0.0, 0.0))
    return matrix


def _mesh(
    tree: dict[str, Any], blob: bytes, mesh: dict[str, Any]
) -> tuple[NDArray[np.float64], NDArray[np.int64], tuple[float, ...] | None]:
    if len(mesh["primitives"]) != 1:
        raise GlbError(f"mesh {mesh.get('name', '')} has {len(mesh['primitives'])} pieces, not one")
    (piece,) = mesh["primitives"]
    if piece.get("mode", TRIANGLES) != TRIANGLES:
        raise GlbError(f"mesh {mesh.get('name', '')} is not made of triangles")
    points = tree["accessors"][piece["attributes"]["POSITION"]]
    corners = tree["accessors"][piece["indices"]]
    if (points["componentType"], points["type"]) != (FLOAT, "VEC3") or corners["type"] != "SCALAR":
        raise GlbError(f"mesh {mesh.get('name', '')} has corners of a kind that is not read")
    vertices = _numbers(tree, blob, points, "<f4", 3).reshape(-1, 3).astype(np.float64)
    faces = _numbers(tree, blob, corners, INDEX[corners["componentType"]], 1).astype(np.int64)
    if not len(vertices) or not np.all(np.isfinite(vertices)):
        raise GlbError(f"mesh {mesh.get('name', '')} has a coordinate that is no number")
    if not len(faces) or len(faces) % 3 or faces.max() >= len(vertices):
        raise GlbError(f"mesh {mesh.get('name', '')} has triangles without corners")
    color = None
    if "material" in piece:
        surface = tree["materials"][piece["material"]]["pbrMetallicRoughness"]
        color = tuple(float(each) for each in surface.get("baseColorFactor", (1, 1, 1, 1)))
    return vertices, faces.reshape(-1, 3), color


def _numbers(
    tree: dict[str, Any], blob: bytes, accessor: dict[str, Any], kind: str, each: int
) -> NDArray[Any]:
    view = tree["bufferViews"][accessor["bufferView"]]
    if "byteStride" in view or view.get("buffer", 0) != 0 or "sparse" in accessor:
        raise GlbError("numbers are stored in a way that is not read")
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    count = accessor["count"] * each
    if start + count * np.dtype(kind).itemsize > len(blob):
        raise GlbError("the binary chunk is shorter than its JSON says")
    return np.frombuffer(blob, kind, count, start)
