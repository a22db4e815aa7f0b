"""FOLD files, measured by a reader of the tests' own, with arithmetic other than the package's."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import Polygon

from cutlayers.solids.fold_file import fold_bytes
from cutlayers.solids.model import Model
from tests.net.test_relief import card
from tests.solids.examples import STYLES, example, job_of
from tests.solids.fold_reader import Frame, read

SAME = 1e-6
"""mm, and degrees of angles; what numbers of nine decimals keep easily."""

FOLDS = set("MVF")

RELIEVED = (
    "gusset-bag",
    "house-box",
    "pillow-pack",
    "platonic-solid",
    "pop-up-card",
    "tapered-tray",
)
"""The styles of which the examples have relief holes."""


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


@pytest.mark.parametrize(
    ("name", "opened", "relief"),
    [(name, opened, 0.0) for name in STYLES for opened in (0.0, 0.4)]
    + [(name, 0.0, 0.6) for name in RELIEVED],
)
def test_the_form_is_the_blank_folded_about_its_creases(
    name: str, opened: float, relief: float
) -> None:
    """Every face is congruent with its place on the blank (all distances of its corners, and so all
    angles), every hinge has two faces, and the angle between them is the one that is written."""
    model = example(name, relief or 0.3, opened, relief=relief)
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


@pytest.mark.parametrize("name", RELIEVED)
def test_faces_are_as_large_as_the_card_that_is_cut(name: str) -> None:
    """What relief takes from the faces, it takes from the card within the lines that are cut, by
    another library's areas, up to the chords of holes and of a pillow's strips, an eighth of a
    hole at the most; and no panel is lost."""
    patterns = [both(example(name, 1.0, relief=relief))[0] for relief in (0.0, 1.0)]
    blanks = [blank for order in job_of(name, 1.0, relief=1.0).orders for blank in order.box.blanks]
    holes = sum(len(blank.relieved.holes) for blank in blanks)
    assert holes and len(set(patterns[0].names)) == len(set(patterns[1].names))

    whole, left = (
        math.fsum(Polygon(each.corners[face][:, :2]).area for face in each.faces)
        for each in patterns
    )
    cut = math.fsum(card(blank.borders).area - card(blank.lines).area for blank in blanks)
    assert 0.0 <= cut - (whole - left) <= holes * math.pi / 8


def test_the_corner_of_a_tapered_tray_by_hand() -> None:
    """A base of 60 between creases, a rim of 80, 40 high, of card of 1 mm. A wall leans out by 10,
    is hypot(40, 10) = 41.231 high as it lies, and ends 41.231 / 40 = 1.031 short of the base's
    corner, where the next one's tab turns in. The gap beside it is atan(41.231 / 10) = 76.37° wide,
    so a hole of 1 mm about its point takes a half of itself from the base's straight edge and
    103.63° from the wall, whose crease is 1 mm shorter; chords of 0.05 mm leave a hole up to a
    fourteenth smaller."""
    pattern, _ = both(
        example(
            "tapered-tray", 1.0, side=60.0, rim_side=80.0, height=40.0, measure="score", relief=1
        )
    )
    slant = math.hypot(40, 10)
    short = slant / 40
    areas = {
        name.partition(": ")[2]: Polygon(pattern.corners[face][:, :2]).area
        for name, face in zip(pattern.names, pattern.faces, strict=True)
    }
    creases = [
        float(np.linalg.norm(pattern.corners[one] - pattern.corners[other]))
        for (one, other), sides in pattern.sides().items()
        if {pattern.names[number] for number, _ in sides} == {"box: base", "box: front"}
    ]

    assert creases == [pytest.approx(60 - short - 1)]
    base, wall = 4 * math.pi / 2, math.pi * (1 - (180 + 76.367) / 360)
    assert 13 / 14 * base <= 3600 - areas["base"] <= base
    front = slant * ((60 - short) + (80 - short)) / 2
    # The wall begins where the last one ends, in a corner that has no hole.
    assert 13 / 14 * wall <= front - areas["front"] <= wall


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
