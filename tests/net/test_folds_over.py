"""Panels folded right over, and the strip of card between them."""

from __future__ import annotations

import itertools
import math

import pytest

from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.net import Net, Role
from cutlayers.net.folding import fold
from cutlayers.net.folds_over import shares, strip_name
from cutlayers.net.panel import Panel
from cutlayers.net.shapes import polygon, rectangle


def leaflet(caliper: float, apart: int = 1, **attach: float) -> Net:
    """Two leaves of 60 × 40 mm, the second folded right over the top of the first."""
    net = Net.start("leaflet", "front", rectangle(60, 40), Role.WALL, caliper=caliper)
    return net.attach(
        "back",
        rectangle(60, 40),
        to="front.top",
        role=Role.WALL,
        fold_deg=180,
        apart=apart,
        **attach,  # type: ignore[arg-type]
    )


def lengths(panel: Panel) -> list[float]:
    """Its sides, sorted."""
    return sorted(edge.length for edge in panel.outline.segments)


@pytest.mark.parametrize(
    ("caliper", "apart", "blank"),
    [(0.3, 1, 80.3), (0.3, 4, 81.2), (1.0, 1, 81.0), (3.0, 5, 95.0)],
)
def test_folded_over_leaves_lie_as_far_apart_as_the_strip_between_is_wide(
    caliper: float, apart: int, blank: float
) -> None:
    """Two leaves of 40 and a strip of a caliper for each layer, and one; their size is that of
    the leaf once it is folded."""
    net = leaflet(caliper, apart)
    folded = fold(net)

    assert net.bounds[3] - net.bounds[1] == pytest.approx(blank)
    front, back = folded.pose("front"), folded.pose("back")
    for corner in folded.net.panel("back").outline.vertices:
        assert front.flat(back.place(corner))[2] == pytest.approx(-caliper * apart)
    for name in ("front", "back"):
        sides = lengths(folded.net.panel(name))
        assert sides == pytest.approx([40, 40, 60, 60])
    strip = folded.net.panel(strip_name(net.hinges[0]))
    assert strip.outline.area == pytest.approx(60 * caliper * apart)


def test_the_folded_faces_are_the_blank_cut_up() -> None:
    """Rigid faces: areas add up to the blank's, and every hinge is on the borders of both."""
    net = leaflet(1.5, 3)
    folded = fold(net)

    assert sum(panel.outline.area for panel in folded.net.panels) == pytest.approx(
        sum(panel.outline.area for panel in net.panels)
    )
    for hinge in folded.net.hinges:
        for end in (hinge.edge.start, hinge.edge.end):
            places = [folded.place(name, end) for name in (hinge.first, hinge.second)]
            assert math.dist(*places) == pytest.approx(0, abs=1e-9)


def test_a_strip_narrower_than_a_tool_can_step_is_all_of_the_second_panel() -> None:
    """Half of 0.5 mm is as fine a step in an outline as is made."""
    assert shares(0.48) == (0.0, 0.48)
    assert shares(0.5) == (0.25, 0.25)
    assert leaflet(0.4).panel("front").outline.area == pytest.approx(60 * 40)
    assert leaflet(0.6).panel("front").outline.area == pytest.approx(60 * 40.3)


def test_a_flap_beside_the_corner_keeps_the_rest_of_the_edge() -> None:
    """A tab of 20 in the middle of an edge of 60, in card of 2 mm: 20 × 1 mm of the strip are
    the host's, which is as before once that is folded."""
    net = Net.start("card", "front", rectangle(60, 40), Role.WALL, caliper=2.0)
    net = net.attach("tab", rectangle(20, 10), to="front.top", role=Role.FLAP, fold_deg=180)

    assert net.panel("front").outline.area == pytest.approx(60 * 40 + 20)
    assert fold(net).net.panel("front").outline.area == pytest.approx(60 * 40)


def test_a_flap_that_narrows_is_cut_where_it_began() -> None:
    """A triangle of 60 × 40 keeps its slanting sides of 50 mm."""
    net = Net.start("card", "front", rectangle(60, 40), Role.WALL, caliper=1.0)
    flap = polygon((0, 0), (60, 0), (30, 40), edges=("bottom", "right", "left"))
    net = net.attach("flap", flap, to="front.top", role=Role.FLAP, fold_deg=180)

    assert lengths(fold(net).net.panel("flap")) == pytest.approx([50, 50, 60])


@pytest.mark.parametrize(("one", "other"), list(itertools.permutations(("left", "top"))))
def test_two_flaps_at_one_corner_do_not_hinder_each_other(one: str, other: str) -> None:
    net = Net.start("card", "front", rectangle(60, 40), Role.WALL, caliper=1.2)
    for edge in (one, other):
        long = 60 if edge == "top" else 40
        net = net.attach(edge, rectangle(long, 9), to=f"front.{edge}", role=Role.FLAP, fold_deg=180)

    folded = fold(net).net
    assert folded.panel("front").outline.area == pytest.approx(60 * 40)
    assert folded.panel("left").outline.area == pytest.approx(40 * 9)


def test_pressed_flat_there_is_no_strip() -> None:
    assert len(fold(leaflet(1.0).pressed_flat()).net.panels) == 2


SHARES = [-0.2, 0.1, 0.2, 0.5, 0.8, 1.0]
"""Of the caliper: from card that bends rather than folds to card cut half through from inside."""


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("apart", [1, 2, 4])
@pytest.mark.parametrize("fold_deg", [180.0, -180.0])
def test_the_strip_is_as_wide_as_what_lies_between_and_two_creases_take(
    share: float, apart: int, fold_deg: float
) -> None:
    """Panels that turn about lines at the depth t of card c lie s − 2t apart, face to face, over a
    strip s wide; what lies between them is `apart` − 1 calipers. A strip of nothing is a line."""
    caliper = 1.2
    card = Card(caliper, share=share)
    net = Net.start(
        "leaflet", "front", rectangle(60, 40), Role.WALL, caliper=card.step, eased=card.eased
    )
    net = net.attach(
        "back", rectangle(60, 40), to="front.top", role=Role.WALL, fold_deg=fold_deg, apart=apart
    )
    blank = net.bounds[3] - net.bounds[1]
    folded = fold(net)

    assert blank - 80 == pytest.approx(
        max(0.0, (apart - 1) * caliper + 2 * share * caliper), abs=0.03
    )
    front, back = folded.pose("front"), folded.pose("back")
    for corner in folded.net.panel("back").outline.vertices:
        between = abs(front.flat(back.place(corner))[2]) - caliper
        assert between == pytest.approx((apart - 1) * caliper, abs=1e-9)
        # Leaf on leaf, whatever the strip is.
        assert -1e-9 <= front.flat(back.place(corner))[1] <= 40 + 1e-9


def test_on_the_flat_nothing_has_moved_apart() -> None:
    """The strip lies between its panels there."""
    net = Net.start("leaflet", "front", rectangle(60, 40), caliper=1.0, eased=0.6)
    net = net.attach("back", rectangle(60, 40), to="front.top", role=Role.WALL, fold_deg=180)
    flat = fold(net, 0.0)

    for hinge in flat.net.hinges:
        for end in (hinge.edge.start, hinge.edge.end):
            places = [flat.place(name, end) for name in (hinge.first, hinge.second)]
            assert math.dist(*places) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("style", "dims"),
    [
        ("header-card", {}),
        ("hang-tag", {"double": True}),
        ("folder", {}),
        ("folder", {"fold": "gate"}),
        ("folder", {"fold": "zigzag", "pages": 4}),
        ("folder", {"pocket": 40.0}),
        ("envelope", {}),
        ("gable-carton", {}),
    ],
)
@pytest.mark.parametrize("share", [0.2, 0.8])
def test_every_style_that_folds_card_right_over_draws_what_was_measured(
    style: str, dims: dict[str, object], share: float
) -> None:
    """Each strip of 1 mm board is narrower by what its two creases take less than a millimetre.
    A strip that the rest of a lid makes as wide as it is follows the lid's sizes by some microns.
    """
    found = style_named(style)
    half, measured = (
        found.build(found.dimensions(**dims), Card(1.0, share=each)) for each in (0.5, share)
    )

    pairs = [
        (a.strip, b.strip)
        for one, other in zip(half, measured, strict=True)
        for a, b in zip(one.hinges, other.hinges, strict=True)
        if a.strip
    ]
    assert pairs
    for by_half, as_measured in pairs:
        assert as_measured - by_half == pytest.approx(2 * share - 1.0, abs=1e-3)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_no_style_draws_a_strip_by_half_of_the_card(style: Style) -> None:
    """Whichever styles fold card right over: what lies apart less what is drawn is c − 2t, 0.6 mm
    of 1 mm board whose creases take 0.2."""
    for net in style.build(style.dimensions(), Card(1.0, share=0.2)):
        for hinge in net.hinges:
            if hinge.strip:
                assert hinge.eased == pytest.approx(0.6)
