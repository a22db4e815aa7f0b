"""FOLD files, measured by a reader of the tests' own, with arithmetic other than the package's."""

from __future__ import annotations

import math

import numpy as np
import pytest

from cutlayers.solids.fold_file import fold_bytes
from cutlayers.solids.model import Model
from tests.solids.examples import STYLES, example
from tests.solids.fold_reader import Frame, read

SAME = 1e-6
"""mm, and degrees of angles; what numbers of nine decimals keep easily."""

FOLDS = set("MVF")


def both(model: Model) -> tuple[Frame, Frame]:
    """The pattern and the form."""
    pattern, form = read(fold_bytes(model))
    assert pattern.classes == ["creasePattern"] and form.classes == ["foldedForm"]
    assert pattern.unit == form.unit == "mm"
    return pattern, form


def turned(form: Frame, edge: tuple[int, int], left: int, right: int) -> float:
    """By how many degrees the face right of an edge is folded towards whoever looks at the one
    left of it: the angle of their normals about the edge."""
    along = form.corners[edge[1]] - form.corners[edge[0]]
    along = along / np.linalg.norm(along)
    one, other = form.normal(left), form.normal(right)
    return -math.degrees(math.atan2(np.cross(one, other) @ along, one @ other))


@pytest.mark.parametrize("opened", [0.0, 0.4])
@pytest.mark.parametrize("name", STYLES)
def test_the_form_is_the_blank_folded_about_its_creases(name: str, opened: float) -> None:
    """Every face is congruent with its place on the blank (all distances of its corners, and so all
    angles), every hinge has two faces, and the angle between them is the one that is written."""
    model = example(name, 0.3, opened)
    pattern, form = both(model)

    for face in pattern.faces:
        flat, placed = (
            np.linalg.norm(f.corners[face][:, None] - f.corners[face][None], axis=2)
            for f in (pattern, form)
        )
        assert flat == pytest.approx(placed, abs=SAME)
        points = pattern.corners[face]
        assert np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0)[2] > 0
    sides = form.sides()
    assert set(sides) == set(form.edges)
    for edge, mark, angle in zip(form.edges, form.marks, form.angles, strict=True):
        beside = sides[edge]
        assert len(beside) == (1 if mark == "B" else 2)
        if mark in "BC":
            assert angle == 0
            continue
        (left,) = (number for number, along in beside if along)
        (right,) = (number for number, along in beside if not along)
        off = turned(form, edge, left, right) - angle
        assert abs(math.remainder(off, 360.0)) <= 1e-4
        assert (form.names[left] == form.names[right]) == (mark == "J")
        assert {"M": angle < 0, "V": angle > 0}.get(mark, angle == 0)


@pytest.mark.parametrize("name", STYLES)
def test_every_hinge_of_a_closed_box_is_shared(name: str) -> None:
    """Loops too: as many folds are in the file as the blanks have, between the panels they join."""
    model = example(name, 0.3)
    pattern, _ = both(model)

    there = sorted(
        sorted(pattern.names[number] for number, _ in pattern.sides()[edge])
        for edge, mark in zip(pattern.edges, pattern.marks, strict=True)
        if mark in FOLDS
    )

    wanted = sorted(
        sorted(f"{part.name}: {panel}" for panel in (hinge.first, hinge.second))
        for part in model.parts
        for hinge in part.folded.net.hinges
    )
    assert there == wanted


def test_a_tray_by_hand() -> None:
    """79 × 59 between the creases of an outside of 80 × 60 in card of 1 mm, a mountain of a right
    angle at each of its four sides; folded, it lies half a caliper above the table."""
    model = example("tray", 1.0, length=80.0, width=60.0, height=20.0, measure="outside")
    pattern, form = both(model)
    base = pattern.names.index("box: base")

    size = np.ptp(pattern.corners[pattern.faces[base]], axis=0)
    assert size == pytest.approx((79, 59, 0), abs=SAME)
    assert form.corners[form.faces[base]][:, 2] == pytest.approx(0.5, abs=SAME)
    face = form.faces[base]
    ring = set(map(frozenset, zip(face, (*face[1:], face[0]), strict=True)))
    found = [
        (mark, angle)
        for edge, mark, angle in zip(form.edges, form.marks, form.angles, strict=True)
        if frozenset(edge) in ring and mark != "B"
    ]
    assert found == [("M", -90.0)] * 4


def test_angles_of_a_box_that_is_partly_open() -> None:
    """The pattern keeps the fold of the finished box, the form says how far it has come."""
    pattern, form = both(example("tray", opened=0.4))

    assert {angle for angle in pattern.angles if angle} == {-90.0}
    assert {angle for angle in form.angles if angle} == {-54.0}


def test_faces_on_each_other_say_which_is_above() -> None:
    """A gable's roof and the gusset's side, folded right over by a mountain, have their insides on
    each other: each lies below the other, as its normal looks. Only faces that are parallel and in
    one plane are told, as where layers are not stepped: a folder's halves lie a caliper apart, with
    a strip of card between."""
    for name, coarse in (("folder", 0.0), ("gable-carton", 1.0), ("gusset-bag", 0.0)):
        _, form = both(example(name, 0.3, coarse=coarse))
        for one, other, side in form.orders:
            normals = [form.normal(face) for face in (one, other)]
            first, second = (normal / np.linalg.norm(normal) for normal in normals)
            assert abs(first @ second) == pytest.approx(1.0, abs=1e-9)
            gap = form.corners[form.faces[one][0]] - form.corners[form.faces[other][0]]
            assert abs(gap @ second) <= 1e-3
            assert side in (-1, 1)
        if name == "folder":
            assert not form.orders
        if name == "gable-carton":
            pair = {
                form.names.index(f"box: lid: {each}") for each in ("front roof", "left front side")
            }
            found = [side for one, other, side in form.orders if {one, other} == pair]
            assert found and set(found) == {-1}


def test_patterns_of_several_blanks_lie_apart() -> None:
    """Side by side, none over another."""
    pattern, _ = both(example("telescope-box"))
    ends = {}
    for blank in ("base", "lid"):
        faces = [
            f for f, n in zip(pattern.faces, pattern.names, strict=True) if f": {blank}: " in n
        ]
        xs = pattern.corners[sorted({corner for face in faces for corner in face})][:, 0]
        ends[blank] = (xs.min(), xs.max())

    assert ends["base"][1] < ends["lid"][0]


def test_the_same_model_has_the_same_bytes() -> None:
    assert fold_bytes(example("pillow-pack")) == fold_bytes(example("pillow-pack"))
