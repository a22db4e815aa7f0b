"""Creases that meet in a point, moved to where panels of card can turn about them."""

from __future__ import annotations

import math

import pytest

from cutlayers.construction.gable_lid import GableLid, gable_lid
from cutlayers.geometry.strokes import Part
from cutlayers.net import Net, Role, linework
from cutlayers.net.folding import fold
from cutlayers.net.meeting_creases import in_card
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.telling.errors import NetError

CALIPER = 0.8
LEAN = 30.0
"""Degrees by which the roofs of a corner lean in."""


def corner() -> Net:
    """Two walls 40 mm high and long, with a roof and a gusset in the corner between them. Of a
    sheet it folds up: the gusset's crease leaves the walls' tops by cot b = sin 30°, and folds by
    acos(−sin² 30°), as tests/published/test_gable.py proves."""
    side = 20.0
    centre = polygon((0, 0), (40, 0), (40 - side, 2 * side), edges=("bottom", "crease", "free"))
    under = polygon((0, 0), (0, 2 * side), (-side, 2 * side), edges=("outer", "top", "crease"))
    net = Net.start("corner", "front", rectangle(40, 40), Role.WALL)
    net = net.attach("left", rectangle(40, 40), to="front.left", own="right", role=Role.WALL)
    net = net.attach("roof", rectangle(40, 2 * side), to="front.top", role=Role.ROOF, fold_deg=LEAN)
    net = net.attach("gusset", centre, to="left.top", role=Role.GUSSET, fold_deg=LEAN)
    turn = -math.degrees(math.acos(-(math.sin(math.radians(LEAN)) ** 2)))
    net = net.attach(
        "side", under, to="gusset.crease", own="crease", role=Role.GUSSET, fold_deg=turn
    )
    return net.close("roof.left", "side.outer", fold_deg=180)


def test_a_corner_closes_with_its_side_a_caliper_inside_of_the_roof() -> None:
    net = in_card(corner(), CALIPER, keep=[("front", "left"), ("front", "roof")])
    folded = fold(net)

    assert folded.closure_error < 1e-9
    place = folded.place("side", net.panel("side").outline.start)
    assert folded.pose("roof").flat(place)[2] == pytest.approx(-CALIPER)


def test_a_gusset_s_fold_stands_cot_half_the_lean_lower() -> None:
    """t·cot(φ/2), worked by hand from the planes through the corner."""
    net = in_card(corner(), CALIPER, keep=[("front", "left"), ("front", "roof")])
    (fold_at,) = [h.edge.start[1] for h in net.hinges if (h.first, h.second) == ("left", "gusset")]

    assert 40 - fold_at == pytest.approx(CALIPER / math.tan(math.radians(LEAN / 2)))


def test_the_blank_has_a_hole_where_they_met_and_no_panel_lies_on_another() -> None:
    """`linework` refuses panels that overlap."""
    net = in_card(corner(), CALIPER, keep=[("front", "left"), ("front", "roof")])
    at_corner = [
        math.dist((0, 40), vertex) for panel in net.panels for vertex in panel.outline.vertices
    ]

    assert linework(net)
    assert min(at_corner) > CALIPER / 2


def test_a_net_of_no_caliper_stays_as_it_is() -> None:
    sheet = corner()
    assert in_card(sheet, 0.0) is sheet


def test_layers_hinged_at_their_end_cannot_bend_together() -> None:
    """A roof and the side below it into ridge and strip, as a sheet's lid has them."""
    sheet = gable_lid(GableLid(80, 60, 25, 45, 16, 12))
    with pytest.raises(NetError, match="cannot be closed in card"):
        in_card(sheet, CALIPER)


@pytest.mark.parametrize("caliper", [0.2, 0.3, 0.5, 0.8])
@pytest.mark.parametrize("sizes", [(80, 60, 25, 45, 16, 12), (60, 60, 25, 45, 16, 12)])
def test_a_lid_is_cut_in_no_finer_steps_than_its_card(
    sizes: tuple[float, float, float, float, float, float], caliper: float
) -> None:
    """The lid as wide as it is long has its strips reach beyond the roof. Nobody cuts a jog that
    is finer than the card; its slots have six corners, its outline six too, and it ends level with
    the ridge's top beside the tab."""
    lines = linework(gable_lid(GableLid(*sizes, step=caliper)))
    cuts = [stroke.path for stroke in lines if stroke.part in (Part.OUTLINE, Part.OPENING)]
    top = max(y for path in cuts for _, y in path.vertices)
    (outline,) = [path for path in cuts if path.area > 0]

    assert min(segment.chord for path in cuts for segment in path.segments) >= caliper
    assert sorted(len(path.vertices) for path in cuts) == [5, 5, 5, 5, 6, 6, 6]
    assert sum(y == pytest.approx(top) for _, y in outline.vertices) == 2
