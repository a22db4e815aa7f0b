"""Hidden faces, held against rays cast through every face."""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
import shapely
from shapely.affinity import affine_transform

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Role
from cutlayers.net.assembly import Assembly, together
from cutlayers.net.faces import pierced
from cutlayers.net.features import Work
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.relief import Relieved
from cutlayers.net.shapes import rectangle
from cutlayers.net.space import Vector, dot, minus, moved
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.folded import View, usual_views
from cutlayers.pictures.surfaces import Surface, _unhinged, flats, painted, surfaces
from tests.net.standing import standing

STYLES = [style.name for style in styles()]
DIRECTIONS = [(32, 26), (-140, 50), (200, -30), (75, 10), (0, 0), (90, 90)]
OPTIONS: dict[str, dict[str, Any]] = {
    "gable-carton": {"punch": 4.0},
    "tray": {},
    "tuck-carton": {"ends": "straight"},
}


def whole_surfaces(box: Assembly) -> tuple[Surface, ...]:
    """The faces of a box, each whole."""
    return surfaces(box, {folded.net.name: flats(folded, box.cards) for folded in box.boxes})


def views(style: str) -> list[View]:
    found = style_named(style)
    return list(usual_views(build(found, found.dimensions(**OPTIONS[style]), Card(0.3))))


def nearest(box: Assembly, camera: Camera, x: float, y: float) -> set[str]:
    """The faces that a ray towards the viewer leaves last, all within a hair of one another."""
    start: Vector = (
        x * camera.right[0] + y * camera.up[0],
        x * camera.right[1] + y * camera.up[1],
        x * camera.right[2] + y * camera.up[2],
    )
    met = []
    for face in box.faces:
        steep = dot(face.pose.normal, camera.toward)
        if abs(steep) > 1e-9:
            far = dot(face.pose.normal, minus(face.pose.origin, start)) / steep
            flat = face.pose.flat(moved(start, camera.toward, far))
            (card,) = pierced([face.panel])
            if card.contains(shapely.Point(flat[:2])):
                met.append((far, face.label))
    last = max((far for far, _ in met), default=0.0)
    return {label for far, label in met if last - far < 0.02}


def seen(piece: Surface, camera: Camera) -> shapely.geometry.base.BaseGeometry:
    pose, right, up = piece.pose, camera.right, camera.up
    matrix = (
        *(dot(axis, right) for axis in (pose.right, pose.up)),
        *(dot(axis, up) for axis in (pose.right, pose.up)),
        dot(pose.origin, right),
        dot(pose.origin, up),
    )
    return affine_transform(piece.shape, matrix)


@pytest.mark.parametrize("style", OPTIONS)
@pytest.mark.parametrize(("azimuth", "elevation"), DIRECTIONS)
def test_what_is_painted_last_is_what_is_nearest(
    style: str, azimuth: float, elevation: float
) -> None:
    """Folded, half folded, apart and together, from above, below and behind."""
    chance = random.Random(style)
    hits = 0
    for view in views(style):
        camera = Camera.turned(azimuth, elevation)
        box = view.box
        shapes = [
            (piece.face.label, seen(piece, camera))
            for piece in painted(whole_surfaces(box), camera.toward)
        ]
        left, bottom, right, top = shapely.total_bounds([shape for _, shape in shapes])
        for _ in range(24):
            x, y = chance.uniform(left, right), chance.uniform(bottom, top)
            spot = shapely.Point(x, y)
            last = next((label for label, s in reversed(shapes) if s.contains(spot)), None)
            near = nearest(box, camera, x, y)
            assert (last in near) if near else (last is None)
            hits += bool(near)
    assert hits > 20


@pytest.mark.parametrize(("azimuth", "elevation"), DIRECTIONS)
def test_from_outside_a_closed_carton_shows_no_flap(azimuth: float, elevation: float) -> None:
    """Tucks, dust flaps and the glue tab lie under what closes over them, though in its plane.

    The closing panel ends a caliper short of the wall, where the tuck's fold is seen as a hair.
    """
    camera = Camera.turned(azimuth, elevation)
    style = style_named("tuck-carton")
    box = standing(style.build(style.dimensions(thumb=0.0), Card(0.3)))
    pieces = painted(whole_surfaces(box), camera.toward)
    hidden = {Role.FLAP, Role.GLUE_TAB}
    for index, piece in enumerate(pieces):
        if piece.face.panel.role in hidden:
            rest = [seen(other, camera) for other in pieces[index + 1 :]]
            left = seen(piece, camera).difference(shapely.union_all(rest).buffer(1e-6))
            assert left.buffer(-0.3 / 2).area < 1e-3


@pytest.mark.parametrize("relief", [0.0, 0.6])
@pytest.mark.parametrize("style", sorted(STYLES))
def test_borders_are_what_hinges_leave_of_the_outline(style: str, relief: float) -> None:
    """Held against the geometry library: a thin band along the hinges taken from the outline."""
    found = style_named(style)
    for net in found.build(found.dimensions(), Card(0.3)):
        names = [(net.name, panel.name) for panel in net.panels]
        lying = FoldedNet(net, 0.0, {}, (), Relieved(net, relief))
        cards = dict(zip(names, pierced(net.panels, lying.holes), strict=True))
        for name, flat in flats(lying, cards).items():
            hinges = [
                (hinge.edge.start, hinge.edge.end)
                for hinge in net.hinges
                if name in (hinge.first, hinge.second) and not hinge.edge.bulge
            ]
            band = shapely.MultiLineString(hinges).buffer(1e-3, cap_style="flat")
            slits = sum(1 for each in net.panel(name).features if each.work is Work.SLIT)
            borders = flat.borders[: len(flat.borders) - slits]
            left = shapely.line_merge(flat.shape.boundary.difference(band))
            drawn = shapely.MultiLineString(borders)
            assert drawn.length == pytest.approx(left.length, abs=0.05)
            assert drawn.length < 0.01 or drawn.hausdorff_distance(left) < 0.01


def test_a_border_with_a_hinge_in_the_middle_of_an_edge_and_with_tiny_chords() -> None:
    """By hand: a square of 10 mm, one edge hinged from 2 to 5, a corner of chords under 1 µm."""
    square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5e-4, 10.0), (0.0, 10 - 5e-4), (0.0, 0.0)]
    (run,) = _unhinged(square, [((5.0, 0.0), (2.0, 0.0))])
    assert run[0] == pytest.approx((5.0, 0.0)) and run[-1] == pytest.approx((2.0, 0.0))
    assert shapely.LineString(run).length == pytest.approx(40.0 - 3.0, abs=1e-3)
    whole = _unhinged(square, [((0.0, 5.0), (0.0, -5.0)), ((0.0, 9.9995), (0.0, 4.0))])
    assert shapely.MultiLineString(whole).length == pytest.approx(30.0, abs=1e-3)


def test_surfaces_lose_nothing_when_they_are_cut_up() -> None:
    """The pieces of a panel have its area, holes taken out."""
    found = style_named("gable-carton")
    _, lid = found.build(found.dimensions(**OPTIONS["gable-carton"]), Card(0.3))
    box = together([fold(lid, 0.4)])
    whole = {piece.face.label: piece.shape.area for piece in whole_surfaces(box)}
    parts: dict[str, float] = {}
    for piece in painted(whole_surfaces(box), (0.4, -0.7, 0.6)):
        parts[piece.face.label] = parts.get(piece.face.label, 0.0) + piece.shape.area

    assert parts == pytest.approx(whole, abs=1e-2)


def test_creases_are_drawn_as_far_as_they_are_scored() -> None:
    """A tray by hand: 80 × 60 × 20 mm outside of card of 1 mm, so 79 × 59 between creases, walls 77
    long beside short walls of 59, and tabs of 17.5, their creases a caliper short at both ends.
    The long walls' and the tabs' end at inner corners of the border, 1 mm short of them at either
    end; those of the short walls lie a layer farther out and end on straight edges. No card is cut
    away there, so the borders are the same as without."""
    style = style_named("tray")
    dims = style.dimensions(length=80, width=60, height=20)
    found = []
    for relief in (0.0, 1.0):
        box = build(style, dims, Card(1.0, "outside", relief=relief)).assembly
        found.append(flats(box.boxes[0], box.cards))
    whole, relieved = (
        {
            name: sorted(shapely.LineString(fold).length for fold in each[name].folds)
            for name in each
        }
        for each in found
    )

    assert whole["base"] == pytest.approx([59, 59, 77, 77])
    assert relieved["base"] == pytest.approx([59, 59, 75, 75])
    assert whole["front"] == pytest.approx([17.5, 17.5, 77])
    assert relieved["front"] == pytest.approx([15.5, 15.5, 75])
    assert all(found[0][name].borders == found[1][name].borders for name in whole)


def test_a_slit_is_drawn_from_hole_to_hole() -> None:
    """One of 20 mm whose holes of 3 mm across lie inside of its ends: 14 mm between two rings."""
    slit = Feature(Work.SLIT, Path.line((10, 10), (30, 10)), "slit")
    net = Net.start("n", "base", rectangle(40, 30)).work("base", slit)
    box = together([fold(net, relieved=Relieved(net, 1.5))])
    borders = flats(box.boxes[0], box.cards)["base"].borders

    around = sorted(shapely.LineString(run).length for run in borders)
    assert around == pytest.approx([3 * math.pi, 3 * math.pi, 14, 140], rel=0.02)
