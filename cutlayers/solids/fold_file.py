"""Folded boxes as FOLD files: a crease pattern, and the form that it is folded into.

FOLD is JSON for folded sheets: E. D. Demaine, J. S. Ku, R. J. Lang, "A New File Standard to
Represent Folded Structures", 2016, in its published edition 1.2; the keys here are written from
memory of that. A sheet has no thickness there: faces are the middles of the card, and how thick it
is stands beside them, with the panels' names, in keys of our own. Lengths are mm.

The first frame is the pattern, its blanks side by side, the outside of the box towards the viewer.
The second has the same corners in space, z up. A valley's angle is above 0, a mountain's below.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import Any

from shapely import Polygon

from cutlayers import __version__
from cutlayers.geometry.overlays import common
from cutlayers.net.assembly import together
from cutlayers.net.faces import seen_from
from cutlayers.net.panel import Hinge
from cutlayers.net.space import dot
from cutlayers.net.stacking import OVERLAP
from cutlayers.solids.crease_graph import CreaseGraph, Side, crease_graph
from cutlayers.solids.model import APART, Model, Part

DIGITS = 9
"""Of a mm, in decimals: far below what anybody measures."""

Numbers = list[float]

Shapes = list[tuple[int, Polygon]]
"""Faces by number, each as it lies flat."""


def fold_bytes(model: Model) -> bytes:
    """A model as a FOLD file. Raises NetError for holes that are not inside of their panels."""
    graphs = [crease_graph(part.folded) for part in model.parts]
    flat: list[Numbers] = []
    placed: list[Numbers] = []
    sides: list[Side] = []
    marks: list[str] = []
    angles: Numbers = []
    turned: Numbers = []
    faces: list[list[int]] = []
    names: list[str] = []
    calipers: Numbers = []
    shapes: dict[str, Shapes] = {}
    x = 0.0
    for part, graph in zip(model.parts, graphs, strict=True):
        before = len(flat)
        left, low, right, _ = part.folded.net.bounds
        flat += [_rounded(px - left + x, py - low) for px, py in graph.flat]
        x += right - left + APART
        placed += [_rounded(*corner) for corner in graph.folded]
        for side, hinge in graph.sides.items():
            sides.append((side[0] + before, side[1] + before))
            marks.append(_mark(graph, side, hinge))
            angle = -hinge.fold_deg if hinge else 0.0
            angles += _rounded(angle)
            turned += _rounded(angle * part.folded.fraction)
        for panel, face in graph.faces:
            ring = Polygon([graph.flat[corner] for corner in face])
            shapes.setdefault(part.label(panel), []).append((len(faces), ring))
            faces.append([corner + before for corner in face])
            names.append(part.label(panel))
            calipers.append(part.caliper)
    form: dict[str, Any] = {
        "frame_title": "folded",
        "frame_classes": ["foldedForm"],
        "frame_attributes": ["3D"],
        "frame_unit": "mm",
        "frame_parent": 0,
        "frame_inherit": True,
        "vertices_coords": placed,
        "edges_foldAngle": turned,
    }
    if not model.opened:
        form["faceOrders"] = list(_orders(model.parts, shapes))
    return _lines(
        {
            "file_spec": 1.2,
            "file_creator": f"cutlayers {__version__}",
            "file_title": model.title,
            "file_classes": ["singleModel"],
            "frame_title": "flat",
            "frame_classes": ["creasePattern"],
            "frame_attributes": ["2D"],
            "frame_unit": "mm",
            "vertices_coords": flat,
            "edges_vertices": sides,
            "edges_assignment": marks,
            "edges_foldAngle": angles,
            "faces_vertices": faces,
            "faces_cutlayers:panel": names,
            "faces_cutlayers:caliper": calipers,
            "file_frames": [form],
        }
    ).encode()


def _mark(graph: CreaseGraph, side: Side, hinge: Hinge | None) -> str:
    """Border, cut inside of the sheet, join, mountain, valley or a fold that lies flat."""
    if side in graph.joins:
        return "J"
    if hinge is None:
        return "C" if side in graph.twice else "B"
    if not hinge.fold_deg:
        return "F"
    return "M" if hinge.fold_deg > 0 else "V"


def _orders(parts: Sequence[Part], shapes: Mapping[str, Shapes]) -> Iterator[tuple[int, int, int]]:
    """For faces of a part that lie on each other in one plane: the first, the second, and on which
    side of the second the first lies, 1 for its outside."""
    for part in parts:
        for stack in together([part.folded]).stacks:
            for low, high in combinations(stack.faces, 2):
                side = -1 if dot(high.pose.normal, stack.normal) > 0 else 1
                for one, shape in shapes[part.label(low.panel)]:
                    for other, unseen in shapes[part.label(high.panel)]:
                        seen = seen_from(low.pose, high.pose, unseen)
                        if shape.intersects(seen) and common(shape, seen).area > OVERLAP:
                            yield one, other, side


def _rounded(*numbers: float) -> Numbers:
    """Numbers to the digits that are written, no zero below zero."""
    return [round(number, DIGITS) + 0.0 for number in numbers]


def _lines(table: dict[str, Any]) -> str:
    """JSON with each key on a line of its own."""
    lines = (f"{json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in table.items())
    return "{\n" + ",\n".join(lines) + "\n}\n"
