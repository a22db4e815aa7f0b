"""Labels of scenes, typed or drawn, upright or turned."""

from __future__ import annotations

import re

import pytest
from lxml import etree

from cutlayers.geometry.transforms import Transform
from cutlayers.pictures.scene import Group, Label, Scene
from cutlayers.pictures.svg import inline_svg, write_svg
from cutlayers.telling.colours import INK

UP = Label(("ab", "c"), (10.0, 20.0), 2.0, INK, typed=True)
TURNED = Label(("ab",), (10.0, 20.0), 2.0, INK, turned=True, typed=True)


def page(label: Label, place: Transform | None = None) -> etree._Element:
    group = Group((label,), place=place or Transform())
    return etree.fromstring(inline_svg(Scene("", 50.0, 40.0, (group,)), "p", {}))


def extent(scene: Scene) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all drawn strokes."""
    (data,) = re.findall(rb' d="([^"]*)"', write_svg(scene))
    numbers = [float(each) for each in re.findall(rb"-?\d+\.?\d*", data)]
    return min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])


def test_typed_lines_stand_below_each_other() -> None:
    """Each line is an element of its own, its base line lower by the height of a line; SVG 1.1,
    section 10.5: x and y are the base line's start."""
    first, second = page(UP).iter("text")

    assert (first.text, first.get("x"), first.get("y")) == ("ab", "10", "20")
    assert (second.text, second.get("x")) == ("c", "10")
    assert float(str(second.get("y"))) - 20.0 >= UP.size


def test_a_typed_label_turned_runs_upwards() -> None:
    """SVG 1.1, section 7.6: y points down, so a quarter turn to the left is rotate(-90), here
    about the label's own place."""
    (text,) = page(TURNED).iter("text")

    assert text.get("transform") == "rotate(-90 10 20)"


def test_a_typed_label_moves_with_its_group() -> None:
    (text,) = page(TURNED, Transform.translation(5.0, 1.0)).iter("text")

    assert (text.get("x"), text.get("y")) == ("15", "21")
    assert text.get("transform") == "rotate(-90 15 21)"


def test_a_file_of_its_own_has_no_typed_text() -> None:
    """Whoever opens it may lack the font."""
    assert b"<text" not in write_svg(Scene("a", 50.0, 40.0, (UP,)))


@pytest.mark.parametrize("turned", [False, True])
def test_a_drawn_label_stands_on_its_place(turned: bool) -> None:
    """H has strokes as high as capitals are: `cap` up from the base line, or to its left where
    the words run upwards. A letter begins its own bearing, under 0.7 mm, beside the place."""
    label = Label(("HH",), (10.0, 20.0), 3.0, INK, turned=turned)

    left, top, right, bottom = extent(Scene("", 50.0, 40.0, (label,)))

    if turned:
        assert (left, right, bottom) == pytest.approx((7.0, 10.0, 20.0), abs=0.7)
        assert top < 17.0
    else:
        assert (left, top, bottom) == pytest.approx((10.0, 17.0, 20.0), abs=0.7)
        assert right > 13.0
