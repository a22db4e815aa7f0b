"""The gable top, against its closed form.

Walls w (front and back) and d (sides), roof slope s. The roofs lean in by d/2 each, so the ridge
stands H = √(s² − d²/4) above the walls. A half gusset is rigid and holds the slope's direction
and a unit vector at right angles to it; both its apex (at p up the gusset's middle) and its top
middle must come to lie over the middle of the wall, which forces p = s and brings the apex to
(d/2 inward, middle, H). Proof worked by hand; numbers below by pocket calculator from it. They
are of sheets, whose layers share a plane; tests/styles/test_gable_carton.py has those of card.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest

from cutlayers.box.layers import layers_at
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.transforms import Point
from cutlayers.net import Hinge, Net, Role, Stand
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.telling.errors import StyleError
from tests.net.standing import standing

CALIPER, CLEARANCE = 0.3, 0.4
GROWTH = 2 * CALIPER + CLEARANCE
"""mm by which the lid is larger than the base, score to score."""


@dataclass(frozen=True)
class Case:
    """One gable and what the proof says of it."""

    w: float
    d: float
    s: float
    height: float
    tilt_deg: float
    reach: float
    gap: float

    @property
    def lid(self) -> FoldedNet:
        return lid_of(self.w, self.d, self.s)


CASES = [
    Case(80, 60, 40, 26.457513, 41.409622, 50.0, 20.0),
    Case(70, 70, 50, 35.707142, 45.572996, 61.032778, 0.0),
    Case(70, 70, 36, 8.426150, 13.536203, math.hypot(35, 36), 0.0),
]
"""`reach` is the distance from a corner to the apex, `gap` what is left between the apices."""


def nets(w: float, d: float, s: float) -> tuple[Net, Net]:
    """Base and lid whose lid measures w × d from score to score."""
    style = style_named("gable-carton")
    dims = style.dimensions(length=w - GROWTH, width=d - GROWTH, height=60)
    dims = replace(dims, roof_depth=s, clearance=CLEARANCE)
    base, lid = style.build(dims, Card(CALIPER, "score", coarse=1.0))
    return base, lid


def lid_of(w: float, d: float, s: float) -> FoldedNet:
    return fold(nets(w, d, s)[1])


def corner(lid: FoldedNet, panel: str, x: str, y: str) -> Point:
    """A corner of a panel's bounding box on the flat net."""
    left, bottom, right, top = lid.net.panel(panel).outline.bounds
    return (
        {"left": left, "right": right, "middle": (left + right) / 2}[x],
        {"bottom": bottom, "top": top}[y],
    )


def hinge(lid: FoldedNet, one: str, other: str) -> Hinge:
    return next(h for h in lid.net.hinges if {h.first, h.second} == {one, other})


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"d {case.d:g}, s {case.s:g}")
class TestGable:
    def test_every_loop_closes(self, case: Case) -> None:
        """All left-over hinges meet, in place and in angle."""
        lid = case.lid

        assert len(lid.closures) >= 8
        assert lid.closure_error < 1e-6
        assert max(closure.angle_deg for closure in lid.closures) < 1e-6

    def test_the_ridge_stands_at_its_height(self, case: Case) -> None:
        """√(s² − (d/2)²) above the walls, in the middle between front and back."""
        lid = case.lid
        wall = lid.place("front", corner(lid, "front", "left", "top"))
        for roof in ("front roof", "back roof"):
            for x in ("left", "right"):
                top = lid.place(roof, corner(lid, roof, x, "top"))
                assert top[2] - wall[2] == pytest.approx(case.height, abs=1e-6)
                assert top[1] == pytest.approx(0, abs=1e-9)

    def test_the_gusset_apex_folds_inward_by_half_the_depth(self, case: Case) -> None:
        """At d/2 from its wall, over the middle, at the ridge's height; the apices leave w − d."""
        lid = case.lid
        apices = {}
        for side in ("left", "right"):
            panel = f"{side} gusset"
            apex = lid.place(panel, corner(lid, panel, "middle", "top"))
            wall = lid.place(side, corner(lid, side, "middle", "top"))
            foot = lid.place(panel, corner(lid, panel, "left", "bottom"))
            assert abs(apex[0] - wall[0]) == pytest.approx(case.d / 2, abs=1e-9)
            assert apex[1] == pytest.approx(0, abs=1e-9)
            assert apex[2] - wall[2] == pytest.approx(case.height, abs=1e-6)
            assert math.dist(apex, foot) == pytest.approx(case.reach, abs=1e-6)
            apices[side] = apex[0]
        assert apices["right"] - apices["left"] == pytest.approx(case.gap, abs=1e-9)

    def test_roof_and_gusset_lean_alike(self, case: Case) -> None:
        """acos(d/2s) from level, so the folds at the walls' tops are 90° less that."""
        lid = case.lid
        for panel, wall in (("front roof", "front"), ("left gusset", "left")):
            assert math.degrees(math.acos(lid.normal(panel)[2])) == pytest.approx(
                case.tilt_deg, abs=1e-6
            )
            assert hinge(lid, wall, panel).fold_deg == pytest.approx(90 - case.tilt_deg, abs=1e-6)
        for side in ("front", "back"):
            flat = hinge(lid, f"{side} roof", f"right {side} side")
            assert abs(flat.fold_deg) == 180


def test_the_corner_vertex_has_the_angles_of_the_proof() -> None:
    """d 60, s 40: the gusset's crease folds by 124.228866°, a valley."""
    lid = lid_of(80, 60, 40)

    assert hinge(lid, "left gusset", "left front side").fold_deg == pytest.approx(-124.228866)
    assert hinge(lid, "front", "front roof").fold_deg == pytest.approx(48.590378)


@pytest.mark.parametrize("p", [30.0, 39.0, 40.0, 41.0, 50.0])
def test_only_an_apex_at_the_slope_length_comes_to_the_middle(p: float) -> None:
    """Turned over under the roof, an apex p up the gusset lies d/2 · p/s behind the front."""
    d, s = 60.0, 40.0
    lean = hinge(lid_of(80, d, s), "front", "front roof").fold_deg
    side = polygon((0, 0), (p, 0), (0, d / 2), edges=("outer", "crease", "top"))
    net = Net.start("corner", "front", rectangle(80, 25))
    net = net.attach("roof", rectangle(80, s), to="front.top", role=Role.ROOF, fold_deg=lean)
    net = net.attach(
        "side", side, to="roof.right", own="outer", at=0.0, role=Role.GUSSET, fold_deg=180
    )
    folded = fold(replace(net, stand=Stand("front")))
    front = folded.place("front", net.panel("front").outline.start)
    apex = folded.place("side", net.panel("side").outline.vertices[2])

    assert apex[1] - front[1] == pytest.approx(d / 2 * p / s)
    assert (apex[1] - front[1] == pytest.approx(d / 2)) == (p == s)


def test_gussets_that_would_collide_are_refused_by_name() -> None:
    """d > w: the apices would pass each other."""
    with pytest.raises(StyleError) as caught:
        nets(60, 60.5, 40)

    assert caught.value.field == "size.length"


def test_a_roof_that_cannot_reach_is_refused_by_name() -> None:
    """s = d/2 lies flat and has no ridge."""
    with pytest.raises(StyleError) as caught:
        nets(80, 60, 30)

    assert caught.value.field == "options.roof_depth"


@pytest.mark.parametrize(
    ("x", "expected"),
    [
        (
            20.0,
            [
                "lid: front ridge",
                "lid: left front strip",
                "lid: left back strip",
                "lid: back ridge",
            ],
        ),
        (40.0, ["lid: front ridge", "lid: back ridge"]),
        (
            6.0,
            [
                "lid: front ridge",
                "lid: left front strip",
                "lid: left back strip",
                "lid: ridge tab",
                "lid: back ridge",
            ],
        ),
        (
            74.0,
            [
                "lid: front ridge",
                "lid: right front strip",
                "lid: right back strip",
                "lid: back ridge",
            ],
        ),
    ],
    ids=[
        "inside the gusset: four",
        "between the gussets: two",
        "at the seam tab: five",
        "inside the other gusset: four",
    ],
)
def test_layers_at_the_ridge(x: float, expected: list[str]) -> None:
    """Counted through the closed ridge `x` mm from its left end, from front to back."""
    box = standing(nets(80, 60, 40))
    left, bottom, _, top = box.boxes[1].net.panel("front ridge").outline.bounds

    found = layers_at(box, "lid", "front ridge", (left + x, (bottom + top) / 2), CALIPER)

    assert [face.label for face in found][::-1] == expected
