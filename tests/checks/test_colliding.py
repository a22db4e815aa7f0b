"""Panels that pass through one another, and those that only touch."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlayers.checks.colliding import check_colliding
from cutlayers.construction.card import Card
from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Role, Stand, Work
from cutlayers.net.shapes import rectangle
from cutlayers.telling.words import place_of, sentence_of
from tests.checks.boxes import CALIPER, square_tray
from tests.net.standing import standing


def collisions(*nets: Net) -> list[tuple[str, str]]:
    return [
        (place_of(each), sentence_of(each).found)
        for each in check_colliding(standing(nets), Card(CALIPER))
    ]


def with_shelf(depth: float) -> Net:
    """A 60 mm tray; a flap at the top of its front wall turns inwards, `depth` mm deep."""
    return square_tray("tray", 60, 20).attach(
        "shelf", rectangle(50, depth), to="front.top", role=Role.FLAP, fold_deg=90
    )


@pytest.mark.parametrize("depth", [30, 60, 60.4])
def test_touching_is_no_collision(depth: float) -> None:
    """A flap that ends before the wall, at it, or within the thickness of it."""
    assert collisions(with_shelf(depth)) == []


def test_a_flap_through_a_wall_is_an_error_with_its_length() -> None:
    """70 mm deep in a box of 60: it goes through the back wall over its width, less the
    tolerance of a caliper on both sides."""
    # A shelf level with the rim would only touch the wall that ends there.
    net = square_tray("tray", 60, 20)
    net = net.attach("post", rectangle(60, 10), to="front.top", role=Role.FLAP, fold_deg=180)
    net = net.attach("shelf", rectangle(50, 70), to="post.top", role=Role.FLAP, fold_deg=-90)

    ((place, measured),) = collisions(net)
    assert place == "tray: back"
    assert measured == "passes through 'shelf' along 49.0 mm"


def test_a_tongue_goes_through_a_slot_and_collides_beside_it() -> None:
    """A plate 20 mm high across another, through a slot 24 mm long; and one of 4 mm: what is left
    are 20 less 4 mm, less the tolerance of a caliper at four ends."""
    through = replace(
        Net.start("tongue", "tongue", rectangle(20, 20)),
        stand=Stand("tongue", turn_deg=90.0, lift=5.0),
    )
    beside = [("sheet: sheet", "passes through 'tongue: tongue' along 14.0 mm")]
    for long, found in ((24, []), (4, beside)):
        slot = Feature(Work.WINDOW, Path.rectangle(2, long, (29, 15 - long / 2)), "slot")
        sheet = replace(Net.start("sheet", "sheet", rectangle(60, 30)), stand=Stand("sheet"))
        assert collisions(sheet.work("sheet", slot), through) == found


def test_a_lid_that_is_too_narrow_collides_across_nets() -> None:
    """Its walls cut those of the base."""
    net = Net.start("lid", "top", rectangle(66, 50), Role.LID)
    for wall, edge, size in (("front", "bottom", 66), ("right", "right", 50)):
        net = net.attach(wall, rectangle(size, 10), to=f"top.{edge}", role=Role.WALL)
    found = collisions(square_tray("base", 60, 20), replace(net, stand=Stand("front", lift=12)))
    assert found
    assert all("'base: " in measured or place.startswith("base") for place, measured in found)


@pytest.mark.parametrize("fold_deg", [0, 30, 90, 179, 180])
def test_hinged_panels_never_collide_at_their_hinge(fold_deg: float) -> None:
    """Whatever the angle between them."""
    net = Net.start("pair", "one", rectangle(20, 20)).attach(
        "two", rectangle(20, 20), to="one.right", role=Role.WALL, fold_deg=fold_deg
    )
    assert collisions(net) == []
