"""A net stretched to another size is what the style builds at that size.

Styles know nothing of stretching; numbers of the tray and the sleeve are worked by hand.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.bringing.angles import fold_up
from cutlayers.bringing.stretching import sizes_of, stretched
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.net import Feature, Net, Work, linework
from cutlayers.net.folding import fold
from cutlayers.reading.values import ValueRefused
from tests.bringing.stripped import nets, stripped

BEFORE = {"length": 80.0, "width": 50.0, "height": 40.0}
AFTER = {"length": 103.0, "width": 61.0, "height": 57.0}

BOXES: dict[str, dict[str, object]] = {
    "tray": {},
    "telescope-box": {},
    "sleeve-and-drawer": {},
    "hinged-lid-tray": {"tuck_depth": 15, "side_flap_depth": 15},
    "tuck-carton": {"tuck_depth": 12, "dust_depth": 12, "thumb": 10},
}
"""Styles like a box, with options that would otherwise follow from the size: when a drawing is
stretched its flaps keep theirs."""


def folded(net: Net) -> Net:
    """As a drawing of it folds up."""
    found = fold_up(stripped(net))
    assert found is not None
    return found.net


def built(style: str, size: dict[str, float], caliper: float = 0.3) -> tuple[Net, ...]:
    """The nets of a style, as a drawing of each folds up."""
    made = style_named(style)
    return tuple(
        map(folded, made.build(made.dimensions(**size, **BOXES.get(style, {})), Card(caliper)))
    )


@pytest.mark.parametrize("caliper", [0.0, 0.3])
@pytest.mark.parametrize("style", BOXES)
def test_a_stretched_net_is_what_the_style_builds(style: str, caliper: float) -> None:
    """Every panel has the area, and every hinge the length, that the style gives it."""
    for before, after in zip(
        built(style, BEFORE, caliper), built(style, AFTER, caliper), strict=True
    ):
        found = stretched(before, sizes_of(fold(after)))

        for one, other in zip(found.panels, after.panels, strict=True):
            assert one.outline.area == pytest.approx(other.outline.area, abs=1e-6)
        for hinge, wanted in zip(found.hinges, after.hinges, strict=True):
            assert hinge.edge.length == pytest.approx(wanted.edge.length, abs=1e-6)
        assert sizes_of(fold(found)) == pytest.approx(sizes_of(fold(after)))
        assert linework(found)


def test_a_tray_by_hand() -> None:
    """90 × 60 × 30 of card without thickness made 100 × 70 × 40: a base of 7000 mm², walls of
    4000 and 2800 mm², and four tabs 12 deep whose ends run in by 12·tan 15°."""
    (before,) = built("tray", {"length": 90, "width": 60, "height": 30}, 0.0)
    assert sizes_of(fold(before)) == pytest.approx({"length": 90, "width": 60, "height": 30})

    found = stretched(before, {"length": 100, "width": 70, "height": 40})

    tab = 12 * (40 - 12 * math.tan(math.radians(15)))
    areas = sorted(panel.outline.area for panel in found.panels)
    assert areas == pytest.approx([tab] * 4 + [2800, 2800, 4000, 4000, 7000])


def test_a_sleeve_by_hand() -> None:
    """Four walls in a row, 3 mm wider one way: two of them become wider, and the blank by twice as
    much; the tab keeps its depth."""
    before = folded(nets(0.0)["sleeve-and-drawer: sleeve"])
    size = sizes_of(fold(before))
    left, bottom, right, top = before.bounds

    found = stretched(before, {"width": size["width"] + 3})

    grown = [
        one.outline.area - other.outline.area
        for one, other in zip(found.panels, before.panels, strict=True)
    ]
    assert sorted(round(each, 6) for each in grown) == [
        0,
        0,
        0,
        *[round(3 * size["length"], 6)] * 2,
    ]
    low, below, high, above = found.bounds
    assert sorted((high - low - right + left, above - below - top + bottom)) == pytest.approx(
        [0, 6]
    )


def holes(net: Net, *centres: tuple[float, float]) -> Net:
    """A net with round holes 5 mm across in its base."""
    made = tuple(
        Feature(Work.PUNCH, Path.circle(centre, 2.5), f"hole {number}")
        for number, centre in enumerate(centres)
    )
    return replace(
        net,
        panels=tuple(
            replace(panel, features=made) if panel.name == "panel 1" else panel
            for panel in net.panels
        ),
    )


def test_holes_keep_their_size_and_their_distance_from_the_nearer_end() -> None:
    """One in the middle stays there. The base is 90 mm long, from 0, and becomes 100."""
    (before,) = built("tray", {"length": 90, "width": 60, "height": 30}, 0.0)
    left, bottom, _, _ = before.panel("panel 1").outline.bounds

    found = stretched(
        holes(before, (left + 10, bottom + 30), (left + 45, bottom + 30), (left + 80, bottom + 30)),
        {"length": 100},
    )

    base = found.panel("panel 1")
    start = base.outline.bounds[0]
    middles = [sum(each.path.bounds[::2]) / 2 - start for each in base.features]
    assert middles == pytest.approx([10, 50, 90])
    assert all(each.path.length == pytest.approx(5 * math.pi) for each in base.features)


def test_a_line_across_a_panel_becomes_longer() -> None:
    """A tear line from side to side still goes from side to side."""
    (before,) = built("tray", {"length": 90, "width": 60, "height": 30}, 0.0)
    left, bottom, right, _ = before.panel("panel 1").outline.bounds
    tear = Feature(Work.TEAR, Path.line((left, bottom + 20), (right, bottom + 20)), "tear")
    panels = (replace(before.panels[0], features=(tear,)), *before.panels[1:])

    found = stretched(replace(before, panels=panels), {"length": 100})

    (feature,) = found.panel("panel 1").features
    assert feature.path.length == pytest.approx(100)


def refusal(net: Net, size: dict[str, float]) -> tuple[str, str]:
    """Place and words."""
    with pytest.raises(ValueRefused) as caught:
        stretched(net, size)
    return str(caught.value.refusal.place[0]), str(caught.value)


def test_what_has_no_straight_place_is_refused() -> None:
    """Roofs lean over the whole width of a house."""
    place, words = refusal(folded(nets(0.3)["house-box: house"]), {"width": 70.0})

    assert place == "width"
    assert "leans or bends" in words


def test_two_readings_are_refused() -> None:
    """A card with a step: whether what is before it or behind it grows nobody said."""
    place, words = refusal(folded(nets(0.3)["pop-up-card: card"]), {"width": 120.0})

    assert place == "width"
    assert "either side of 'panel" in words


def test_a_size_that_leaves_nothing_is_refused() -> None:
    """The least that works is told, and works."""
    (before,) = built("tray", BEFORE)

    place, words = refusal(before, {"height": 2.0})

    assert place == "height"
    assert "is 2 mm" in words
    least = float(words.split()[-2])
    assert sizes_of(fold(stretched(before, {"height": least})))["height"] == pytest.approx(least)


def test_a_size_that_a_flat_net_has_not_is_refused() -> None:
    """A tag has no width from front to back."""
    place, _ = refusal(folded(nets(0.3)["hang-tag: tag"]), {"width": 5.0})

    assert place == "width"
