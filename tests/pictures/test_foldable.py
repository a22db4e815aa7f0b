"""Boxes to be folded by whoever shows them: the panels end up where the box has them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import styles
from cutlayers.net.stacking import key
from cutlayers.pictures.foldable import Foldable, FoldPanel, foldable

STYLES = {style.name: style for style in styles()}
EXAMPLES = {
    name: build(style, style.dimensions(**{k: d for k, (_, d) in style.table.items()}), Card(0.4))
    for name, style in STYLES.items()
}
EXAMPLES["lid in two parts"] = build(
    STYLES["gable-carton"], STYLES["gable-carton"].dimensions(lid_parts=2), Card(0.4)
)


def swung(panel: FoldPanel, time: float) -> float:
    """What the swings of a panel come to at a time."""
    value = panel.swings[0].first if panel.swings else 0.0
    for each in panel.swings:
        share = min(1.0, max(0.0, (time - each.start) / (each.end - each.start)))
        value += share * (each.last - each.first)
    return value


def turned(
    at: NDArray[np.float64], axis: NDArray[np.float64], degrees: float
) -> NDArray[np.float64]:
    """A turn about a line in space as a 4 × 4 matrix, by the exponential of its cross product
    (the matrix form of Rodrigues' formula)."""
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    angle = math.radians(degrees)
    spin = np.eye(3) + math.sin(angle) * k + (1 - math.cos(angle)) * k @ k
    whole = np.eye(4)
    whole[:3, :3], whole[:3, 3] = spin, at - spin @ at
    return whole


def standing(found: Foldable, time: float) -> list[NDArray[np.float64]]:
    """Where each panel stands at a time: one turn about its hinge in space after the other."""
    places: list[NDArray[np.float64]] = []
    for panel in found.panels:
        value = swung(panel, time)
        place = np.eye(4)
        if panel.hung is None:
            assert panel.pose is not None
            place[:3] = np.array(panel.pose).T
            assert panel.away is not None
            place[:3, 3] += value * np.array(panel.away)
        else:
            carrier = places[panel.hung.carrier]
            at = carrier @ [*panel.hung.at, 0, 1]
            axis = carrier[:3, :3] @ [*panel.hung.along, 0]
            place = turned(at[:3], axis, value) @ carrier
            along = carrier if panel.hung.before else place
            place[:3, 3] += along[:3, :3] @ [*panel.hung.aside, 0] * panel.hung.eased * value
            place[:3, 3] += carrier[:3, 2] * panel.hung.raised
        places.append(place)
    return places


@pytest.mark.parametrize("name", EXAMPLES)
def test_at_the_end_every_panel_is_where_the_finished_box_has_it(name: str) -> None:
    box = EXAMPLES[name]
    found = foldable(box)
    faces = {key(face): face for face in box.assembly.faces}

    for panel, place in zip(found.panels, standing(found, found.end), strict=True):
        face = faces[panel.net, panel.piece]
        for x, y in face.ring:
            reached = (place @ [x, y, 0, 1])[:3]
            assert math.dist(reached, face.pose.place((x, y))) < 0.01


@pytest.mark.parametrize("name", EXAMPLES)
def test_at_first_every_blank_lies_flat(name: str) -> None:
    """All panels of a net lie in the plane of its root, side by side as on the blank."""
    found = foldable(EXAMPLES[name])

    first: dict[int, NDArray[np.float64]] = {}
    parts: list[int] = []
    for panel, place in zip(found.panels, standing(found, 0.0), strict=True):
        # A part that is glued on another lies a layer beside it.
        own = panel.hung is None or panel.hung.raised
        parts.append(len(parts) if own or panel.hung is None else parts[panel.hung.carrier])
        assert np.allclose(place, first.setdefault(parts[-1], place), atol=1e-6)


@pytest.mark.parametrize("name", ["gable-carton", "pillow-pack", "telescope-box"])
def test_triangles_cover_the_panel_and_no_more(name: str) -> None:
    """Their areas add up to the card's, which is less than the box's outline where it is holed."""
    box = EXAMPLES[name]

    for panel in foldable(box).panels:
        x, y = np.array(panel.triangles).reshape(-1, 3, 2).transpose(2, 0, 1)
        doubled = (x[:, 1] - x[:, 0]) * (y[:, 2] - y[:, 0])
        doubled -= (x[:, 2] - x[:, 0]) * (y[:, 1] - y[:, 0])
        assert (doubled < 1e-6).all()  # counter-clockwise with y up, so clockwise with y down
        card = box.assembly.cards[panel.net, panel.piece].area
        assert -doubled.sum() / 2 == pytest.approx(card, abs=0.02 * sum(panel.box[2:]))


def test_steps_follow_on_each_other_and_fill_the_time() -> None:
    found = foldable(EXAMPLES["tuck-carton"])

    assert found.steps[0].start == 0.0
    for one, other in zip(found.steps, found.steps[1:], strict=False):
        assert one.end == other.start
    assert found.steps[-1].end == found.end
    assert [each.step.action.value for each in found.steps][:2] == ["seam", "square up"]


def test_a_lid_comes_down_last() -> None:
    """It hangs over the base until then, by more than nothing."""
    found = foldable(EXAMPLES["telescope-box"])
    lid = next(panel for panel in found.panels if panel.hung is None and panel.swings)

    assert lid.net == "lid"
    (down,) = lid.swings
    assert down.first > 10.0 and down.last == 0.0 and down.end == found.end


def test_a_drawer_comes_in_from_the_side() -> None:
    found = foldable(EXAMPLES["sleeve-and-drawer"])

    away = [panel.away for panel in found.panels if panel.hung is None and panel.swings]
    assert len(away) == 1 and away[0] is not None and away[0][2] == 0.0


def test_the_reach_holds_every_corner() -> None:
    found = foldable(EXAMPLES["crash-lock-carton"])

    for reach in found.reaches:
        for panel, place in zip(found.panels, standing(found, reach.time), strict=True):
            left, top, width, height = panel.box
            middle = (place @ [left + width / 2, -top - height / 2, 0, 1])[:3]
            assert math.dist(middle, reach.middle) <= reach.size + 0.02
