"""Every style over its whole table of dimensions: nets that can be cut, or advice that works."""

from __future__ import annotations

import dataclasses
import itertools
import subprocess
import sys
from typing import Any

import pytest
import shapely
from hypothesis import event, given, settings
from hypothesis import strategies as st

from cutlayers.construction.style import Card, Dimension, Style, styles, styles_by_name
from cutlayers.net import Net, Role, Work, linework
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span
from tests.net.strategies import flat
from tests.net.union_proof import prove

STYLES = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)

MOST_ADVICE = 20
"""Errors a maker may have to act on, one after another, before a box comes out."""


def values(dimension: Dimension, default: Any) -> st.SearchStrategy[Any]:
    """Any value the table allows, everyday sizes more often than odd ones."""
    if dimension.kind == "choice":
        return st.sampled_from(dimension.choices)
    if dimension.kind == "flag":
        return st.booleans()
    low, high = dimension.minimum, dimension.maximum
    if dimension.kind == "count":
        return st.integers(int(low), int(high))
    everyday = st.floats(low, min(high, low + 120)).map(lambda value: round(value, 1))
    odd = st.floats(low, high) | st.sampled_from((low, high))
    if dimension.group == "size":
        return st.one_of(everyday, everyday, odd)
    return st.one_of(st.just(default), everyday, odd)


def dimensions(style: Style) -> st.SearchStrategy[Any]:
    """The style's dimensions within the limits of its table."""
    return st.builds(
        style.dimensions,
        **{name: values(dimension, default) for name, (dimension, default) in style.table.items()},
    )


def cards() -> st.SearchStrategy[Card]:
    """Paper to thick board, sizes measured in any way."""
    return st.builds(
        Card,
        st.sampled_from((0.1, 0.3, 0.32, 0.5, 1.0, 2.0)),
        st.sampled_from(("inside", "score", "outside")),
    )


def prove_flat(net: Net) -> None:
    """Assert that the net does not lie on itself, and that what is worked in a panel lies in it."""
    polygons = [flat(panel.outline, 1e-4) for panel in net.panels]
    assert all(polygon.is_valid for polygon in polygons)
    # GEOS has been seen to give a whole panel as what two panels share that touch along an edge
    # to the last bit, so panels are compared a micrometre inside their borders.
    inner = [polygon.buffer(-1e-3) for polygon in polygons]
    tree = shapely.STRtree(inner)
    for one, other in zip(*tree.query(inner), strict=True):
        if one < other:
            shared = shapely.intersection(inner[one], inner[other])
            assert shared.area < 1e-6 * (1 + polygons[one].length)
    for panel, polygon in zip(net.panels, polygons, strict=True):
        for feature in panel.features:
            points = shapely.MultiPoint(feature.path.points(1e-3))
            assert polygon.buffer(1e-6).contains(points)
            if feature.work is Work.PUNCH:
                assert polygon.exterior.distance(points) > 1.0


def prove_hinged(net: Net) -> None:
    """Assert that the net hangs together by hinges and tabs land on panels that are there."""
    reached = {net.root.name}
    for _ in net.panels:
        for hinge in net.hinges:
            if reached & {hinge.first, hinge.second}:
                reached |= {hinge.first, hinge.second}
    assert reached == {panel.name for panel in net.panels}
    for panel in net.panels:
        assert (panel.role is Role.GLUE_TAB) == (panel.lands_on is not None)
        if panel.lands_on is not None:
            net.panel(panel.lands_on)


@STYLES
def test_a_style_builds_as_it_comes(style: Style) -> None:
    """The example sizes and the default options make a box in cards of every day."""
    for caliper, measure in itertools.product((0.2, 0.3, 0.5), ("inside", "score", "outside")):
        for net in style.build(style.dimensions(), Card(caliper, measure)):  # type: ignore[arg-type]
            prove(net, linework(net))
            prove_flat(net)
            prove_hinged(net)


@STYLES
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_style_builds_or_names_the_dimension_at_fault(style: Style, data: st.DataObject) -> None:
    """No other error comes out, and the nets that do can be cut."""
    dims, card = data.draw(dimensions(style)), data.draw(cards())
    try:
        nets = style.build(dims, card)
    except StyleError as error:
        event(error.field)
        table, _, name = error.field.partition(".")
        dimension, _ = style.table[name]
        assert table == {"size": "size", "option": "options"}[dimension.group]
        assert "\n" not in str(error)
        return
    event("a box")
    for net in nets:
        prove(net, linework(net))
        prove_flat(net)
        prove_hinged(net)


@STYLES
@settings(max_examples=300, deadline=None)
@given(data=st.data())
def test_following_a_style_s_advice_leads_to_a_box(style: Style, data: st.DataObject) -> None:
    """Each error names a value; taking it, the next error names another, until the box stands."""
    dims, card = data.draw(dimensions(style)), data.draw(cards())
    for _ in range(MOST_ADVICE):
        try:
            style.build(dims, card)
        except StyleError as error:
            dims = advised(style, dims, error)
        else:
            return
    raise AssertionError(f"still not a box after {MOST_ADVICE} errors: {dims}")


def advised(style: Style, dims: Any, error: StyleError) -> Any:
    """The dimensions with the one an error names set to a value that works."""
    _, _, name = error.field.partition(".")
    dimension, _ = style.table[name]
    works = error.works
    assert works is not None, f"no value is named: {error}"
    assert works != getattr(dims, name), f"that is what was given: {error}"
    if dimension.kind == "choice":
        assert works in dimension.choices
        return dataclasses.replace(dims, **{name: works})
    assert isinstance(works, float | int)
    assert f"{works:g}" in str(error), "the sentence does not say it"
    left_out = isinstance(error.refusal.allowed, Span) and error.refusal.allowed.zero
    assert works >= dimension.minimum or left_out, f"it is refused elsewhere: {error}"
    if works > dimension.maximum:
        # Beyond the largest sheet nothing helps but a smaller box.
        smaller = {field: 100.0 for field, (each, _) in style.table.items() if each.group == "size"}
        return dataclasses.replace(dims, **smaller)
    return dataclasses.replace(dims, **{name: int(works) if dimension.kind == "count" else works})


def test_a_style_has_the_name_of_its_file_and_only_that_file_is_read_for_it() -> None:
    script = (
        "import sys\n"
        "from cutlayers.construction.style import styles_by_name\n"
        "print(styles_by_name()['hang-tag'].name)\n"
        "print([name for name in sys.modules if '.construction.styles.' in name])\n"
    )
    printed = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    ).stdout
    assert printed.splitlines() == ["hang-tag", "['cutlayers.construction.styles.hang_tag']"]
    assert all(style.name == name for name, style in styles_by_name().items())
