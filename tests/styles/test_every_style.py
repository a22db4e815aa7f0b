"""What must hold for every style there is, over its whole range.

A new style is tested here by being there. Usually a few examples a style are tried;
`pytest --hypothesis-profile=thorough tests/styles` tries 300.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlayers.checks import check_box
from cutlayers.checks.closing import check_closing
from cutlayers.checks.flat import check_flat
from cutlayers.checks.gluing import check_gluing
from cutlayers.construction.style import Style, styles
from cutlayers.job.dimensions import read_dimensions
from cutlayers.job.limits import Limits
from cutlayers.net import Role, linework
from cutlayers.net.faces import FACE_CHORD
from cutlayers.net.folding import fold
from cutlayers.telling.refusing import refused_line
from cutlayers.telling.words import in_words
from tests.net.standing import standing
from tests.net.union_proof import prove, prove_no_overlap
from tests.styles.boxes import Box, boxes
from tests.styles.measuring import room_inside, thickness

FEW = 5
EXAMPLES = settings().max_examples if settings().max_examples >= 300 else FEW

FOLDING = {
    "closure",
    "closure-angle",
    "tab-misses",
    "tab-overhangs",
    "collision",
    "flaps-meet",
    "curved",
}
"""Findings that a net of any size within a style's limits must never have. Others depend on what
the user asked for: a clearance of 0 makes a tight lid, a shallow tab holds less."""

every_style = pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)

tried = settings(
    max_examples=EXAMPLES,
    deadline=None,
    suppress_health_check=[
        HealthCheck.too_slow,
        HealthCheck.filter_too_much,
        HealthCheck.data_too_large,
    ],
)


@every_style
@tried
@given(data=st.data())
def test_any_box_folds_up_and_its_lines_are_right(style: Style, data: st.DataObject) -> None:
    """No closure, tab, collision or overlap finding; flat panels apart; each line once; the room
    inside as the formula has it; pressed flat, all in one plane."""
    box = data.draw(boxes(style))

    _prove_folding(box)
    _prove_blanks(box)
    _prove_volume(box)
    _prove_flat(box)


@every_style
def test_the_example_folds_up_and_its_lines_are_right(style: Style) -> None:
    """What `cutlayers new` writes works as it stands, without any finding at all."""
    from cutlayers.construction.style import Card

    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})
    card = Card(0.3)
    box = Box(style, dims, card, style.build(dims, card))

    assert [in_words(finding) for finding in check_box(box.built)] == []
    _prove_blanks(box)
    _prove_volume(box)
    _prove_flat(box)


@every_style
def test_every_net_says_how_it_stands_and_where_art_goes(style: Style) -> None:
    """The front panel exists, names differ, and something is seen of what is no inside fitment."""
    from cutlayers.construction.style import Card

    dims = style.dimensions(**{name: default for name, (_, default) in style.table.items()})
    nets = style.build(dims, Card(0.3))

    assert len({net.name for net in nets}) == len(nets)
    for net in nets:
        assert net.stand is not None
        assert net.panel(net.stand.front).name == net.stand.front
    hidden = all(panel.role is Role.LINING for net in nets for panel in net.panels)
    assert hidden or any(net.decorated for net in nets)


def _limits() -> list[tuple[Style, str, float, str]]:
    return [
        (style, name, value, f"{limit:g}")
        for style in styles()
        for name, (dimension, _) in style.table.items()
        if dimension.kind in ("length", "count", "angle")
        for value, limit in (
            (dimension.minimum - 1, dimension.minimum),
            (dimension.maximum + 1, dimension.maximum),
        )
    ]


@pytest.mark.parametrize(
    ("style", "name", "value", "limit"),
    [pytest.param(*row, id=f"{row[0].name}-{row[1]}-{row[2]:g}") for row in _limits()],
)
def test_a_size_outside_its_limits_is_refused_with_the_limit(
    style: Style, name: str, value: float, limit: str
) -> None:
    """The message names the dimension's place and the limit that it broke."""
    tables: dict[str, dict[str, object]] = {"size": {}, "options": {}}
    for other, (dimension, default) in style.table.items():
        if default is not None:
            tables["size" if dimension.group == "size" else "options"][other] = default
    dimension = style.table[name][0]
    table = "size" if dimension.group == "size" else "options"
    tables[table][name] = int(value) if dimension.kind == "count" else value

    reading = read_dimensions(style, tables["size"], tables["options"], "mm")

    assert [problem.place for problem in reading.problems] == [(table, name)]
    assert limit in refused_line(reading.problems[0])


def _prove_folding(box: Box) -> None:
    found = check_box(box.built)
    assert [in_words(finding) for finding in found if finding.code in FOLDING] == []


def _prove_blanks(box: Box) -> None:
    for net in box.nets:
        shapes = [shapely.Polygon(panel.outline.points(FACE_CHORD)) for panel in net.panels]
        for one, other in itertools.combinations(range(len(shapes)), 2):
            # Two sets of chords that stand in for one arc agree to the last bits only.
            over = shapely.intersection(shapes[one], shapes[other], grid_size=1e-6).area
            assert over < 1e-3, f"{net.panels[one].name} lies over {net.panels[other].name}"
        # Holes and slits inside panels are no borders; what runs along a border is found here.
        prove_no_overlap(linework(net))
        bare = replace(net, panels=tuple(replace(panel, features=()) for panel in net.panels))
        prove(bare, linework(bare))


def _prove_volume(box: Box) -> None:
    if box.style.volume is not None:
        expected = box.style.volume(box.dims, box.card)
        # Flat strips lie inside of the bent face that they stand for, by 2.4 % of its room where
        # it is bent most; tests/published/ holds the formula itself to a published figure.
        slack = 0.03 if box.nets[0].facets else 1e-6
        assert room_inside(box.nets[0]) == pytest.approx(expected, rel=slack)


def _prove_flat(box: Box) -> None:
    for net in box.nets:
        if net.goes_flat and len(net.panels) > 1:
            flat = net.pressed_flat()
            assert thickness(fold(flat)) < 1e-6
            pressed = standing([flat])
            assert [in_words(finding) for finding in check_closing(pressed, Limits())] == []
            assert [in_words(finding) for finding in check_flat(flat)] == []
            missed = [f for f in check_gluing(pressed, Limits()) if f.code == "tab-misses"]
            assert [in_words(finding) for finding in missed] == []
