"""Lettering on a panel: it fits, it is as large as it can be, and it says why not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath
from typing import Literal

import pytest
import shapely

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.lettering.inscriptions import Inscription, Turn
from cutlayers.lettering.single_stroke import letter
from cutlayers.net import Feature, Net, Role, Work
from cutlayers.net.shapes import polygon, rectangle
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import in_unit
from cutlayers.telling.refusing import refused_line
from tests.lettering.lettered import inscribed
from tests.lettering.test_outlines import build as build_font


def card(width: float, height: float, *features: Feature) -> tuple[Net, ...]:
    """One panel."""
    return (Net.start("card", "front", rectangle(width, height)).work("front", *features),)


def box(nets: tuple[Net, ...], panel: str = "front") -> Bounds:
    """The box round a panel's lettering."""
    return union_bounds(
        feature.path.bounds
        for feature in nets[0].panel(panel).features
        if feature.name.startswith("lettering")
    )


@pytest.mark.parametrize("width", [30.0, 60.0, 200.0])
def test_text_is_as_large_as_the_panel_allows(width: float) -> None:
    """Either the width or the height less two margins of 3 mm is filled to a tenth of a mm."""
    left, bottom, right, top = box(inscribed(card(width, 40), Inscription("SOAP", "front")))

    fills = (right - left) / (width - 6), (top - bottom) / 34
    assert max(fills) == pytest.approx(1.0, abs=1e-6)
    assert left >= 3 - 1e-6
    assert bottom >= 3 - 1e-6
    assert (left + right) / 2 == pytest.approx(width / 2)
    assert (bottom + top) / 2 == pytest.approx(20)


def test_a_given_height_is_kept() -> None:
    """A capital of 5 mm, in the middle."""
    _, bottom, _, top = box(inscribed(card(60, 40), Inscription("SOAP", "front", height=5.0)))

    # The O of this face reaches from the base line to the cap height, as the A does.
    assert top - bottom == pytest.approx(5.0, abs=0.01)


@pytest.mark.parametrize(("align", "side"), [("left", 0), ("right", 2)])
def test_text_goes_to_the_side_it_is_sent_to(align: Literal["left", "right"], side: int) -> None:
    """Up to the margin."""
    nets = inscribed(card(80, 40), Inscription("OK", "front", height=5.0, align=align))
    sides = box(nets)

    assert sides[side] == pytest.approx({0: 3.0, 2: 77.0}[side], abs=1e-6)


@pytest.mark.parametrize("turn", [90, 270])
def test_turned_text_stands_on_its_side(turn: Turn) -> None:
    """A wide text in a tall panel, turned, is larger than upright."""
    upright = box(inscribed(card(20, 90), Inscription("SOAP", "front")))
    turned = box(inscribed(card(20, 90), Inscription("SOAP", "front", turn=turn)))

    assert turned[3] - turned[1] > upright[2] - upright[0]
    assert turned[2] - turned[0] == pytest.approx(14.0, abs=1e-6)


@pytest.mark.parametrize("text", ["I", "-", "l1"])
def test_texts_without_width_or_height_are_lettered(text: str) -> None:
    """One stroke straight up or straight across."""
    left, bottom, right, top = box(inscribed(card(60, 40), Inscription(text, "front")))

    assert max((right - left) / 54, (top - bottom) / 34) == pytest.approx(1.0, abs=1e-6)


def test_text_keeps_clear_of_holes() -> None:
    """A hole in the middle of a panel: the text lies 3 mm from it, and within the margin."""
    hole = Feature(Work.PUNCH, Path.circle((40.0, 20.0), 6.0), "hole")
    nets = inscribed(card(80, 40, hole), Inscription("SOAP", "front"))
    sides = box(nets)

    apart = shapely.box(*sides).distance(shapely.Point(40, 20))
    assert apart >= 6 + 3 - 0.1
    assert shapely.box(3, 3, 77, 37).buffer(1e-6).covers(shapely.box(*sides))


def test_text_lies_within_a_triangle() -> None:
    """No corner of its box leaves the panel, and each keeps the margin."""
    corners = [(0.0, 0.0), (90.0, 0.0), (45.0, 70.0)]
    net = Net.start("net", "front", polygon(*corners))
    sides = box(inscribed((net,), Inscription("SOAP", "front")))

    inside = shapely.Polygon(corners).buffer(-3.0)
    assert inside.buffer(1e-6).covers(shapely.box(*sides))


def test_letters_are_guide_lines_of_the_face() -> None:
    """As many strokes as the face draws, none closed that was open."""
    nets = inscribed(card(60, 40), Inscription("A1", "front", height=6.0))
    features = nets[0].panel("front").features

    assert {feature.work for feature in features} == {Work.GUIDE}
    assert [feature.path.closed for feature in features] == [
        path.closed for path in letter("A1", 6.0)
    ]
    for feature, path in zip(features, letter("A1", 6.0), strict=True):
        assert feature.path.length == pytest.approx(path.length)


@pytest.mark.parametrize(
    ("inscription", "field", "message"),
    [
        (
            Inscription("OK", "frnt"),
            "panel",
            'is "frnt"; it must be "front". Did you mean "front"?',
        ),
        (Inscription("Straße", "front"), "text", 'the face "roman" lacks ß'),
        (Inscription("OK", "front", height=45.0), "height", "it fits up to"),
        (Inscription("OK " * 60, "front"), "text", "no legible size fits"),
        (Inscription("OK", "front", made="cut"), "as", "name a font as file"),
    ],
)
def test_what_cannot_be_is_told(inscription: Inscription, field: str, message: str) -> None:
    """The key that is wrong, and what would do."""
    with pytest.raises(StyleError) as caught:
        inscribed(card(60, 40), inscription)

    assert caught.value.field == field
    assert message in str(caught.value)


def test_the_height_that_would_fit_does_and_is_told_in_the_unit_of_the_job() -> None:
    """A name of 45 mm on 60 × 40 mm: what is said to fit does, and 1 mm more does not. A job in
    inches reads 45 mm as 45 / 25.4 = 1.772 in as well."""
    text = Inscription("Rosemary", "front", height=45.0)
    with pytest.raises(StyleError) as caught:
        inscribed(card(60, 40), text)

    *_, highest = caught.value.refusal.lengths
    assert inscribed(card(60, 40), replace(text, height=highest))
    with pytest.raises(StyleError):
        inscribed(card(60, 40), replace(text, height=highest + 1.0))
    (told,) = in_unit("in", caught.value.refusals)
    assert "is 45 mm (1.772 in)" in refused_line(told)
    assert "margin of 3 mm (0.1181 in)" in refused_line(told)


def test_a_name_on_two_nets_needs_the_nets_name() -> None:
    """Tray and lid of a gable carton both have a front."""
    style = style_named("gable-carton")
    nets = style.build(style.dimensions(length=60, width=60, height=60), Card(0.3))
    with pytest.raises(StyleError, match=r'must be "base\.front" or "lid\.front"'):
        inscribed(nets, Inscription("OK", "front"))

    changed = inscribed(nets, Inscription("OK", "lid.front"))

    assert changed[0] == nets[0]
    assert changed[1] != nets[1]


def test_an_empty_text_changes_nothing() -> None:
    """As a kit's row may leave it."""
    nets = card(60, 40)

    assert inscribed(nets, Inscription("  ", "front")) == nets


def test_two_texts_do_not_overlap() -> None:
    """The second keeps clear of the first."""
    nets = inscribed(card(80, 40), Inscription("ONE", "front", height=5.0))
    first = box(nets)
    both = inscribed(nets, Inscription("TWO", "front", height=5.0))
    second = union_bounds(
        feature.path.bounds
        for feature in both[0].panel("front").features
        if feature.name == "lettering TWO"
    )

    assert shapely.box(*first).distance(shapely.box(*second)) >= 3 - 0.3
    assert Role.BASE is both[0].panel("front").role


@pytest.mark.parametrize("made", ["draw", "cut"])
@pytest.mark.parametrize("text", ["\u200b", "\u200e\u200f", "\u2060 \u200d"])
def test_a_text_of_which_nothing_is_seen_is_told(
    text: str, made: Literal["draw", "cut"], tmp_path: FilePath
) -> None:
    """A font lacks none of these signs, and has no ink for them."""
    font = build_font(tmp_path / "squares.ttf")

    with pytest.raises(StyleError, match="of which nothing is seen"):
        inscribed(card(60, 40), Inscription(text, "front", file=font, made=made))
