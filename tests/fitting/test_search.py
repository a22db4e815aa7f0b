"""Smallest boxes: large enough, and not a tenth of a millimetre larger than need be."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlayers.box import Origin, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named, styles
from cutlayers.fitting import Item, item
from cutlayers.fitting.search import AIMS, _lowered, box_for_item, fits, scaled_for_item
from cutlayers.telling.errors import StyleError
from tests.origins import dims_of

CARD = Card(0.3)
BOMB = item("sphere", {"diameter": 58}, 2)
BAR = item("cuboid", {"length": 90, "width": 55, "height": 25}, 2)
BOTTLE = item("cylinder", {"diameter": 38, "height": 110}, 1)
EGG = item("egg", {"diameter": 45, "length": 62}, 1)


def works(style: Style, dims: Any, thing: Item, card: Card = CARD) -> bool:
    try:
        return fits(build(style, dims, card), thing).fits
    except StyleError:
        return False


def smallest(style: Style, options: dict[str, Any], card: Card, thing: Item) -> Any:
    """The dimensions of the box found."""
    return dims_of(box_for_item(style, options, card, thing))


PACKING = [style for style in styles() if style.volume is not None]
FLAT = [style for style in styles() if style.volume is None]


@pytest.mark.parametrize("style", FLAT, ids=lambda style: style.name)
def test_what_packs_nothing_is_refused(style: Style) -> None:
    """A card or a tag has no size for a thing to be packed."""
    with pytest.raises(StyleError, match="packs nothing") as caught:
        smallest(style, {}, CARD, BAR)

    assert caught.value.field == "holds"


def test_a_thing_that_no_size_holds_is_refused() -> None:
    """A tray whose every size is kept at 50 mm holds no ball of 58 mm."""
    kept = {"length": 50.0, "width": 50.0, "height": 50.0}
    with pytest.raises(StyleError, match="no size of tray was found"):
        smallest(style_named("tray"), kept, CARD, BOMB)


def test_a_ball_needs_a_pillow_a_good_deal_wider() -> None:
    """A pack is 0.3 of its width thick: for a ball of 58 mm with 2 mm of clearance 200 mm wide, and
    no more than the card and the flat strips that stand for its faces take."""
    dims = smallest(style_named("pillow-pack"), {}, CARD, BOMB)

    assert 60 / 0.3 <= dims.width <= 1.02 * 60 / 0.3


@pytest.mark.parametrize("style", PACKING, ids=lambda style: style.name)
@pytest.mark.parametrize("thing", [BOMB, BAR, BOTTLE, EGG], ids=str)
@pytest.mark.parametrize("measure", ["inside", "outside"])
def test_the_box_found_is_large_enough_and_no_size_can_be_less(
    style: Style, thing: Item, measure: Any
) -> None:
    """Whatever the measure of its sizes."""
    card = Card(0.3, measure)
    dims = smallest(style, {}, card, thing)

    assert works(style, dims, thing, card)
    for name, (dimension, _) in style.table.items():
        if dimension.group == "size":
            less = getattr(dims, name) - 0.11
            assert not works(style, replace(dims, **{name: less}), thing, card), name


@pytest.mark.parametrize(
    ("style", "thing", "sizes"),
    [
        ("tray", BOMB, (60, 60, 60)),
        ("tray", BAR, (92, 57, 27)),
        ("tray", BOTTLE, (39, 39, 111)),
        ("tuck-carton", BAR, (92, 57, 27)),
    ],
)
def test_with_clearance_the_inside_is_the_thing_and_its_clearance(
    style: str, thing: Item, sizes: tuple[float, float, float]
) -> None:
    """Upright walls and room for the tabs in the clearance: nothing to be worked out."""
    dims = smallest(style_named(style), {}, CARD, thing)

    assert (dims.length, dims.width, dims.height) == sizes


def test_without_slack_glue_tabs_need_room() -> None:
    """One caliper at each side wall of a tray, to whole tenths."""
    bare = item("cuboid", {"length": 90, "width": 55, "height": 25})
    dims = smallest(style_named("tray"), {}, CARD, bare)

    assert (dims.length, dims.width, dims.height) == (90.6, 55, 25)


def test_a_ball_uses_the_roof_space() -> None:
    """A gable needs a lower base than an open tray."""
    dims = smallest(style_named("gable-carton"), {}, CARD, BOMB)

    assert (dims.length, dims.width) == (60, 60)
    assert dims.height < 45


@given(
    least=st.integers(1, 300),
    wide=st.integers(0, 2000),
    share=st.floats(0.0, 1.0),
    told=st.sampled_from([0.0, 0.3, 1.0, 1.001, 2.5, 1e6]),
)
def test_the_smallest_size_is_found_whatever_a_size_tells_that_it_lacks(
    least: int, wide: int, share: float, told: float
) -> None:
    """Nothing, too little, just what it lacks, or too much: it only changes the number of tries,
    to what halving takes and two for each aim at most."""
    start = least + wide
    smallest = least + round(share * wide)
    tried: list[float] = []

    def lacking(size: float) -> float | None:
        tried.append(size)
        lacks = smallest / 10 - size
        return told * lacks if lacks > 1e-9 else None

    found = _lowered(start / 10, least / 10, lacking)

    assert found == pytest.approx(smallest / 10)
    assert len(set(tried)) == len(tried) <= 1 + math.ceil(math.log2(wide + 1)) + 2 * AIMS
    if told == 1.0 and smallest - least > wide / 2 + 1:  # what is halved first tells its lack
        assert len(tried) <= 2 + 2 * AIMS


def test_options_and_fixed_sizes_are_kept() -> None:
    """A size among the options is not searched."""
    dims = smallest(style_named("tray"), {"tab": 8.0, "height": 70.0}, CARD, BOMB)

    assert (dims.tab, dims.height, dims.length) == (8.0, 70.0, 60)


@pytest.mark.parametrize(
    ("style", "options", "thing", "field"),
    [
        ("tray", {"height": 30.0}, BOMB, "holds"),
        ("gable-carton", {"punch": 30.0}, BOMB, "options.punch"),
        ("tray", {"taper": 60.0, "tab": 60.0, "height": 30.0}, BAR, "options.taper"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    style: str, options: dict[str, Any], thing: Item, field: str
) -> None:
    """A fixed size that is too small, an option that no size cures."""
    with pytest.raises(StyleError) as caught:
        smallest(style_named(style), options, CARD, thing)

    assert caught.value.field == field


@pytest.mark.parametrize("diameter", [30.0, 58.0, 90.0])
def test_a_scaled_box_keeps_its_proportions_and_just_holds_the_thing(diameter: float) -> None:
    """To the rounding of a tenth of a millimetre."""
    style = style_named("gable-carton")
    dims = style.dimensions(lid_height=20)
    thing = item("sphere", {"diameter": diameter}, 2)
    scaled = dims_of(scaled_for_item(Origin(style, dims, CARD), thing, ["lid_height"]))
    factor = scaled.length / dims.length

    for name in ("length", "width", "height", "lid_height"):
        assert getattr(scaled, name) == pytest.approx(getattr(dims, name) * factor, abs=0.1)
    assert scaled.ridge_height == dims.ridge_height
    assert works(style, scaled, thing)
    less = {
        name: getattr(scaled, name) * 0.99 for name in ("length", "width", "height", "lid_height")
    }
    assert not works(style, replace(scaled, **less), thing)


@pytest.mark.parametrize("name", ["nonsense", "punches", "roof_depth"])
def test_only_lengths_that_are_set_can_be_scaled_along(name: str) -> None:
    """`roof_depth` is left to the style here, so there is no length to scale."""
    style = style_named("gable-carton")
    with pytest.raises(StyleError, match=name):
        scaled_for_item(Origin(style, style.dimensions(), CARD), BOMB, [name])


def test_a_length_that_was_called_otherwise_is_refused_with_its_name_of_today() -> None:
    style = style_named("gable-carton")
    with pytest.raises(StyleError, match=r"wall is no length .* Did you mean lid_height\?"):
        scaled_for_item(Origin(style, style.dimensions(), CARD), BOMB, ["wall"])
