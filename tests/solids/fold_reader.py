"""A reader of FOLD files of its own, as far as the tests need it.

Source: the FOLD format, edition 1.2 (E. D. Demaine, J. S. Ku, R. J. Lang), from memory: a file is
one frame with further ones in `file_frames`; a frame that inherits has the keys of its parent but
for those of its own; `edges_assignment` is B, M, V, F, U, C or J; `edges_foldAngle` is in degrees,
above 0 for a valley, below 0 for a mountain; a face's corners run counter-clockwise.
"""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import dataclass
from typing import Any

import numpy as np

Array = np.ndarray

OF_THE_FILE = ("file_",)


@dataclass(frozen=True)
class Frame:
    """One frame: corners in space, edges with mark and angle, faces with names."""

    classes: list[str]
    unit: str
    corners: Array
    edges: list[tuple[int, int]]
    marks: list[str]
    angles: list[float]
    faces: list[list[int]]
    names: list[str]
    orders: list[tuple[int, int, int]]

    def sides(self) -> dict[tuple[int, int], list[tuple[int, bool]]]:
        """For each edge the faces beside it, and whether they run along it as it is written."""
        found: dict[tuple[int, int], list[tuple[int, bool]]] = defaultdict(list)
        for number, face in enumerate(self.faces):
            for one, other in zip(face, (*face[1:], face[0]), strict=True):
                known = (one, other) in self.edges_known
                found[(one, other) if known else (other, one)].append((number, known))
        return found

    @property
    def edges_known(self) -> set[tuple[int, int]]:
        return set(self.edges)

    def normal(self, face: int) -> Array:
        """Newell's normal of a face: M. E. Newell, in Sutherland et al., 1974."""
        points = self.corners[self.faces[face]]
        return np.asarray(np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0))


def read(content: bytes) -> list[Frame]:
    """The frames of a file, the first its own. Raises AssertionError where it is no FOLD."""
    table: dict[str, Any] = json.loads(content)
    assert table["file_spec"] == 1.2
    assert "singleModel" in table["file_classes"]
    own = {key: value for key, value in table.items() if not key.startswith(OF_THE_FILE)}
    tables = [own]
    for frame in table.get("file_frames", ()):
        parent = tables[frame["frame_parent"]] if frame.get("frame_inherit") else {}
        tables.append({**parent, **frame})
    return list(map(_frame, tables))


def _frame(table: dict[str, Any]) -> Frame:
    corners = [(*corner, 0.0)[:3] for corner in table["vertices_coords"]]
    edges = [(one, other) for one, other in table["edges_vertices"]]
    assert len(edges) == len(set(edges)) == len({frozenset(edge) for edge in edges})
    assert len(edges) == len(table["edges_assignment"]) == len(table["edges_foldAngle"])
    assert set(table["edges_assignment"]) <= set("BMVFUCJ")
    return Frame(
        table["frame_classes"],
        table["frame_unit"],
        np.array(corners),
        edges,
        table["edges_assignment"],
        table["edges_foldAngle"],
        table["faces_vertices"],
        table["faces_cutlayers:panel"],
        [tuple(order) for order in table.get("faceOrders", ())],
    )
