"""The five regular solids, from one blank with glue tabs, one face as a lid if wanted.

Geometry: the corners of a solid stand at well-known places; its faces are the corners that lie
farthest in the direction of a corner of the dual solid. Faces are unfolded round the first one,
nearest first (a regular solid unfolds so without overlap, whatever edges are cut: T. Horiyama
and W. Shoji, "Edge unfoldings of Platonic solids never overlap", CCCG 2011). All folds are
180° less the dihedral angle. An edge that was cut gets one tab; its ends stay within half of a
face's angle, since two tabs may come to lie behind one face, and within the gap that the solid's
corner leaves on the flat, 360° less the angles of the faces that meet there.
"""

from __future__ import annotations

import itertools
import math
from collections import deque
from collections.abc import Sequence
from dataclasses import replace

from cutlayers.construction import options
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import choice, size
from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import refuse_above, refuse_below
from cutlayers.construction.spans import at_least, below
from cutlayers.construction.star_nets import regular
from cutlayers.construction.stars import USUAL_TAB
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net import Net, Role, Shape, Stand
from cutlayers.net.shapes import glue_tab, open_gap
from cutlayers.net.space import Vector, cross, dot, minus
from cutlayers.telling.errors import StyleError

GOLDEN = (1 + math.sqrt(5)) / 2
"""The golden ratio."""

SOLIDS: dict[str, tuple[int, float, float]] = {
    "tetrahedron": (3, math.acos(1 / 3), 1 / (6 * math.sqrt(2))),
    "cube": (4, math.pi / 2, 1.0),
    "octahedron": (3, math.acos(-1 / 3), math.sqrt(2) / 3),
    "dodecahedron": (5, math.acos(-1 / math.sqrt(5)), (15 + 7 * math.sqrt(5)) / 4),
    "icosahedron": (3, math.acos(-math.sqrt(5) / 3), 5 * (3 + math.sqrt(5)) / 12),
}
"""Sides of a face, dihedral angle in radians, and volume over a³ (Euclid's solids; textbook)."""

NAMED = 0.1
"""mm between the least and the deepest tab, so that one can be named."""

RELIEF = 1.0
"""Calipers that are cut off the corners of faces of which four or five meet in a point."""

FACES_AT_CORNER = {
    "tetrahedron": 3,
    "cube": 3,
    "octahedron": 4,
    "dodecahedron": 3,
    "icosahedron": 5,
}


@frozen
class PlatonicSolid:
    """Dimensions of a regular solid."""

    edge: float = size("of the solid", example=25)
    solid: str = choice("which solid", default="dodecahedron", choices=tuple(SOLIDS))
    closure: str = choice(
        "how it closes: glued for good, or the last face is tucked in and opens",
        default="glued",
        choices=("glued", "tucked"),
        formerly="lid",
    )
    tab: float | None = options.fitting_tab(example=5)


def build(dims: PlatonicSolid, card: Card) -> tuple[Net, ...]:
    """One net; the face it stands on is the root.

    Raises StyleError for tabs without room.
    """
    sides, dihedral, _ = SOLIDS[dims.solid]
    edge = _edge(dims, card)
    tab = _tab(dims, edge, sides, card.step)
    fold = 180.0 - math.degrees(dihedral)
    faces = _faces(dims.solid)
    tree, seams = _unfolding(faces)
    shape = regular(sides, edge)
    net = Net.start("solid", _name(0), shape, Role.BASE, caliper=card.step)
    for carrier, carried, side, own in tree:
        net = net.attach(
            _name(carried),
            shape,
            to=f"{_name(carrier)}.edge-{side + 1}",
            own=f"edge-{own + 1}",
            role=Role.WALL,
            fold_deg=fold,
        )
    tucked = dims.closure == "tucked"
    lid = tree[-1][1] if tucked else len(faces) - 1
    for one, side, other, own in seams:
        # A lid carries the flaps of its own edges, so that they go in with it.
        if tucked and other == lid:
            one, side, other = other, own, one
        loose = tucked and one == lid
        net = net.attach(
            f"{_name(one)} {'flap' if loose else 'tab'} {side + 1}",
            tab,
            to=f"{_name(one)}.edge-{side + 1}",
            role=Role.FLAP if loose else Role.GLUE_TAB,
            fold_deg=fold,
            lands_on=None if loose else _name(other),
            layer=1,
        )
    if card.step and FACES_AT_CORNER[dims.solid] > 3:
        # Faces that are no neighbours meet in a point there and would run into each other.
        for index in range(len(faces)):
            net = net.cut_corners(_name(index), open_gap(RELIEF * card.step))
    return (replace(net, stand=Stand(_name(tree[0][1]), on=_name(0))),)


def _name(index: int) -> str:
    return "base" if index == 0 else f"face {index + 1}"


def _edge(dims: PlatonicSolid, card: Card) -> float:
    """The edge score to score: faces that lie in or out of the planes through their creases move
    the inscribed ball by that, whose radius is 3·volume over area."""
    sides, _, share = SOLIDS[dims.solid]
    area = len(_faces(dims.solid)) * sides / (4 * math.tan(math.pi / sides))
    return dims.edge + card.score(0.0, 2) / 2 / (3 * share / area)


def _clear(dims: PlatonicSolid, sides: int, step: float) -> float:
    """How far along its edge a tab keeps off a corner, in mm.

    It lies 0.5 to 1.5 layers inside of one face, and inside of the third face at the corner may lie
    another tab, up to 1.5 layers from that. x mm from the corner, faces with angles α and δ between
    them, a point d inside of the one is x·sin α·sin δ − d·cos δ from the other."""
    dihedral = SOLIDS[dims.solid][1]
    corner = math.pi - 2 * math.pi / sides
    inside = (1.5 if dihedral < math.pi / 2 else 0.5) * math.cos(dihedral)
    clear = open_gap(step * (1.5 + inside) / (math.sin(corner) * math.sin(dihedral)))
    # Where more than three faces meet, the one behind which it goes has no corner.
    return clear + (open_gap(RELIEF * step) if FACES_AT_CORNER[dims.solid] > 3 else 0.0)


def _tab(dims: PlatonicSolid, edge: float, sides: int, step: float) -> Shape:
    corner = 180.0 - 360.0 / sides
    gap = 360.0 - FACES_AT_CORNER[dims.solid] * corner
    slant = 1 / math.tan(math.radians(min(0.48 * corner, 0.8 * gap)))
    clear = _clear(dims, sides, step)
    # A tab stands before the edge of its target where the corner is blunt.
    shallow = LEAST_TAB + max(0.0, -step / math.tan(SOLIDS[dims.solid][1]))
    named = shallow + NAMED
    least = max(2 * (slant * named + clear) + 2.0, 3 * named)
    if below(edge, least):
        raise StyleError(
            "size.edge",
            "is {}, too short for tabs",
            at_least(dims.edge - edge + least),
            lengths=(dims.edge,),
        )
    deepest = min((edge - 2 * clear - 2.0) / (2 * slant), edge / 3)
    deep = min(USUAL_TAB, deepest) if dims.tab is None else dims.tab
    refuse_below("options.tab", deep, shallow, "too shallow to be glued behind the next face")
    refuse_above("options.tab", deep, deepest, "more than stays clear of other tabs")
    return glue_tab(edge, deep, slant * deep, clear=clear)


def _corners(solid: str) -> list[Vector]:
    signs = (-1.0, 1.0)
    cube = list(itertools.product(signs, signs, signs))
    match solid:
        case "tetrahedron":
            return [(x, y, z) for x, y, z in cube if x * y * z > 0]
        case "cube":
            return cube
        case "octahedron":
            return [
                (s * (axis == 0), s * (axis == 1), s * (axis == 2))
                for axis in range(3)
                for s in signs
            ]
        case "icosahedron":
            return _cyclic(1.0, GOLDEN)
        case _:
            return cube + _cyclic(GOLDEN, 1 / GOLDEN)


def _cyclic(second: float, third: float) -> list[Vector]:
    """(0, ±second, ±third) and the two turns of it."""
    found: list[Vector] = []
    for s, t in itertools.product((-1.0, 1.0), repeat=2):
        a, b = s * second, t * third
        found += [(0.0, a, b), (a, b, 0.0), (b, 0.0, a)]
    return found


def _directions(solid: str) -> list[Vector]:
    """Where faces look: to the corners of the dual solid."""
    if solid == "tetrahedron":
        return [(-x, -y, -z) for x, y, z in _corners(solid)]
    dual = {"cube": "octahedron", "dodecahedron": "icosahedron"}
    dual |= {other: one for one, other in dual.items()}
    return _corners(dual[solid])


def _faces(solid: str) -> list[tuple[int, ...]]:
    """Corner numbers of each face, counter-clockwise seen from outside."""
    corners = _corners(solid)
    faces = []
    for out in _directions(solid):
        reach = [dot(out, corner) for corner in corners]
        members = [i for i, far in enumerate(reach) if far > max(reach) - 1e-9]
        faces.append(_in_order(members, corners, out))
    return faces


def _in_order(members: list[int], corners: Sequence[Vector], out: Vector) -> tuple[int, ...]:
    """The corners of a face sorted round the direction it looks in."""
    share = 1 / len(members)
    x, y, z = (sum(corners[i][axis] for i in members) * share for axis in range(3))
    right = minus(corners[members[0]], (x, y, z))
    up = cross(out, right)
    size = math.sqrt(dot(up, up) / dot(right, right))
    turns = {}
    for index in members:
        spoke = minus(corners[index], (x, y, z))
        turn = math.atan2(dot(spoke, up) / size, dot(spoke, right))
        # The first corner's own angle is 0 but for rounding, which must not make it the last.
        turns[index] = round(turn, 9) % (2 * math.pi)
    return tuple(sorted(members, key=lambda index: turns[index]))


def _unfolding(
    faces: Sequence[tuple[int, ...]],
) -> tuple[list[tuple[int, int, int, int]], list[tuple[int, int, int, int]]]:
    """(carrier, carried, edge of one, edge of the other) from the first face outwards, and the
    edges that are cut, alike."""
    at = {
        (corner, face[(side + 1) % len(face)]): (index, side)
        for index, face in enumerate(faces)
        for side, corner in enumerate(face)
    }
    tree: list[tuple[int, int, int, int]] = []
    reached, queue = {0}, deque([0])
    while queue:
        index = queue.popleft()
        face = faces[index]
        for side, corner in enumerate(face):
            other, own = at[face[(side + 1) % len(face)], corner]
            if other not in reached:
                reached.add(other)
                queue.append(other)
                tree.append((index, other, side, own))
    kept = {frozenset((one, other)) for one, other, _, _ in tree}
    seams = []
    for (start, end), (one, side) in at.items():
        other, own = at[end, start]
        if one < other and frozenset((one, other)) not in kept:
            seams.append((one, side, other, own))
    return tree, seams


def volume(dims: PlatonicSolid, card: Card) -> float:
    """The solid's share of a³."""
    return SOLIDS[dims.solid][2] * _edge(dims, card) ** 3


STYLE = Style(
    name="platonic-solid",
    summary="one of the five regular solids",
    dimensions=PlatonicSolid,
    build=build,
    volume=volume,
)
