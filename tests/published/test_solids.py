"""Solids folded from their nets, against handbook angles and volumes."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator

import numpy as np
import pytest
import trimesh

from cutlayers.net import Net, Role
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.shapes import Shape, polygon, rectangle
from cutlayers.net.space import Vector

EDGE = 10.0
SAME = 1e-6

PLATONIC = {
    # name: corners of a face, faces, corners, dihedral, volume / edge³ (handbook values; the
    # exact dihedrals are acos(1/3), 90°, acos(−1/3), acos(−1/√5) and acos(−√5/3))
    "tetrahedron": (3, 4, 4, math.degrees(math.acos(1 / 3)), 0.117851),
    "cube": (4, 6, 8, 90.0, 1.0),
    "octahedron": (3, 8, 6, math.degrees(math.acos(-1 / 3)), 0.471405),
    "dodecahedron": (5, 12, 20, math.degrees(math.acos(-1 / math.sqrt(5))), 7.663119),
    "icosahedron": (3, 20, 12, math.degrees(math.acos(-math.sqrt(5) / 3)), 2.181695),
}

DEGREES = {
    "tetrahedron": 70.5288,
    "cube": 90.0,
    "octahedron": 109.4712,
    "dodecahedron": 116.5651,
    "icosahedron": 138.1897,
}
"""Dihedral angles as handbooks print them."""


def regular(count: int, edge: float) -> Shape:
    """A regular polygon that stands on its first edge."""
    x, y, points = 0.0, 0.0, []
    for index in range(count):
        points.append((x, y))
        angle = 2 * math.pi * index / count
        x, y = x + edge * math.cos(angle), y + edge * math.sin(angle)
    return polygon(*points)


def middle(folded: FoldedNet, panel: str) -> Vector:
    corners = folded.outline(panel, 1.0)
    x, y, z = (sum(corner[i] for corner in corners) / len(corners) for i in range(3))
    return (x, y, z)


def unfolded(count: int, faces: int, dihedral_deg: float) -> Net:
    """Attach a face to every free edge whose face is not there yet, measured in the folded net.

    A wrong dihedral angle never comes round to a face that is there; then there are too many.
    """
    face = regular(count, EDGE)
    net = Net.start("solid", "0", face)
    waiting = [("0", name) for name in face.edges]
    while waiting:
        panel, edge = waiting.pop(0)
        name = str(len(net.panels))
        larger = net.attach(
            name, face, to=f"{panel}.{edge}", role=Role.WALL, fold_deg=180 - dihedral_deg
        )
        folded = fold(larger)
        here = middle(folded, name)
        if all(math.dist(here, middle(folded, other.name)) > SAME for other in net.panels):
            net = larger
            waiting.extend((name, other) for other in face.edges[1:])
            assert len(net.panels) <= faces
    return net


def triangles(folded: FoldedNet) -> Iterator[tuple[Vector, Vector, Vector]]:
    """The outsides as triangles, counter-clockwise seen from outside."""
    for panel in folded.net.panels:
        first, *rest = folded.outline(panel.name, 1.0)
        for one, other in itertools.pairwise(rest):
            yield first, one, other


def volume(folded: FoldedNet) -> float:
    """Source: the divergence theorem, V = Σ p₀·(p₁ × p₂)/6 over outward triangles."""
    return sum(float(np.dot(a, np.cross(b, c))) / 6 for a, b, c in triangles(folded))


def mesh(folded: FoldedNet) -> trimesh.Trimesh:
    """The same triangles as another library has them, corners merged."""
    corners = np.array(list(triangles(folded))).reshape(-1, 3)
    found = trimesh.Trimesh(corners, np.arange(len(corners)).reshape(-1, 3), process=False)
    found.merge_vertices(digits_vertex=6)
    return found


def corners_of(folded: FoldedNet) -> Counter[tuple[int, ...]]:
    return Counter(
        tuple(round(c * 1e5) for c in corner)
        for panel in folded.net.panels
        for corner in folded.outline(panel.name, 1.0)
    )


@pytest.mark.parametrize("name", PLATONIC)
def test_a_platonic_solid_closes_with_its_handbook_angle_and_volume(name: str) -> None:
    """The net folds to as many corners as the solid has, watertight, with its volume."""
    count, faces, corners, dihedral, share = PLATONIC[name]
    assert dihedral == pytest.approx(DEGREES[name], abs=1e-4)
    folded = fold(unfolded(count, faces, dihedral))

    assert len(folded.net.panels) == faces
    assert len(mesh(folded).vertices) == corners
    # V − E + F = 2 (Euler), every edge shared by two faces.
    assert corners - faces * count / 2 + faces == 2
    assert volume(folded) == pytest.approx(share * EDGE**3, rel=1e-5)
    assert mesh(folded).is_watertight
    assert mesh(folded).volume == pytest.approx(volume(folded), rel=1e-9)


def test_a_wrong_dihedral_angle_leaves_a_solid_open() -> None:
    """The check can fail: half a degree off, the cube's edges no longer meet."""
    square = rectangle(EDGE, EDGE)
    net = Net.start("cube", "base", square)
    for side in square.edges:
        net = net.attach(side, square, to=f"base.{side}", role=Role.WALL, fold_deg=90.5)
    net = net.attach("lid", square, to="top.top", role=Role.WALL, fold_deg=90)

    assert not mesh(fold(net)).is_watertight


def frustum(low: float, high: float, height: float) -> Net:
    """A square frustum: base, four trapezoids, and a top on the first of them."""
    lean = (low - high) / 2
    slant = math.hypot(height, lean)
    dihedral = math.degrees(math.atan2(height, lean))
    wall = polygon((0, 0), (low, 0), (low - lean, slant), (lean, slant))
    net = Net.start("frustum", "base", rectangle(low, low))
    for side in ("bottom", "right", "top", "left"):
        net = net.attach(side, wall, to=f"base.{side}", role=Role.WALL, fold_deg=180 - dihedral)
    return net.attach(
        "lid", rectangle(high, high), to="top.edge-2", role=Role.LID, fold_deg=dihedral
    )


def test_a_frustum_has_its_textbook_measures() -> None:
    """V = h/3·(A₁ + A₂ + √(A₁A₂)); 100 to 60 over 80 mm has a slant of 82.462113 and a
    dihedral of 75.963757° at the base."""
    net = frustum(100, 60, 80)
    folded = fold(net)

    assert net.panel("bottom").outline.bounds[3] - net.panel("bottom").outline.bounds[1] == (
        pytest.approx(82.462113)
    )
    assert net.hinges[0].fold_deg == pytest.approx(180 - 75.963757)
    assert volume(folded) == pytest.approx(522666.6667)
    assert mesh(folded).is_watertight
    assert mesh(folded).volume == pytest.approx(522666.6667)


def test_a_hexagonal_prism_has_its_textbook_volume() -> None:
    """V = h·n·a²/4·cot(π/n): side 50 and height 40 give 259807.621135."""
    face = regular(6, 50)
    net = Net.start("prism", "base", face)
    for edge in face.edges:
        net = net.attach(edge, rectangle(50, 40), to=f"base.{edge}", role=Role.WALL)
    net = net.attach("lid", face, to="bottom.top", role=Role.LID)
    folded = fold(net)

    assert volume(folded) == pytest.approx(259807.621135)
    assert mesh(folded).is_watertight
    assert len(corners_of(folded)) == 12
