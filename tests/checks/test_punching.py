"""Layers at punched holes: counted, covered, at an edge, and a better place."""

from __future__ import annotations

import pytest

from cutlayers.box.layers import layers_at
from cutlayers.checks.punching import check_punching
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.job.limits import Limits
from cutlayers.net import Feature, Net, Work
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import place_of, sentence_of
from tests.checks.boxes import CALIPER, folded_strip
from tests.net.standing import standing


def found(*nets: Net, layers: int = 4) -> tuple[Finding, ...]:
    return check_punching(standing(nets), Card(CALIPER), Limits(layers=layers))


@pytest.mark.parametrize("count", [1, 2, 5])
def test_every_layer_of_a_pile_is_counted_in_order(count: int) -> None:
    """The first layer faces the viewer; the others lie behind it in turn."""
    box = standing([folded_strip(count)])
    names = tuple(face.name for face in layers_at(box, "pile", "layer 0", (10, 10), CALIPER))

    assert names == tuple(f"layer {i}" for i in reversed(range(count)))


def test_more_layers_than_allowed_are_named() -> None:
    """Three layers, all punched, where two are allowed."""
    (finding,) = found(folded_strip(3, holes=(0, 1, 2)), layers=2)

    assert finding.code == "layers"
    assert "3 layers: layer 2, layer 1, layer 0" in sentence_of(finding).found
    assert found(folded_strip(3, holes=(0, 1, 2)), layers=3) == ()


def test_a_layer_without_its_hole_is_told() -> None:
    """The middle one of three was forgotten."""
    (finding,) = found(folded_strip(3, holes=(0, 2)))

    assert finding.code == "hole-covered"
    assert "100% of it is covered by layer 1" in sentence_of(finding).found


def gable(punch_inset: float, coarse: float = 0.0) -> tuple[Net, ...]:
    """A gable carton 90 × 60.1 mm with closure holes; with `coarse` its layers share a plane."""
    style = style_named("gable-carton")
    dims = style.dimensions(length=90, width=60.1, punch=4, punch_inset=punch_inset)
    return style.build(dims, Card(CALIPER, coarse=coarse))


@pytest.mark.parametrize(("inset", "codes"), [(20, ["layers"]), (40, [])])
def test_the_gable_s_holes_go_through_four_layers_or_two(inset: float, codes: list[str]) -> None:
    """Within the gusset four, between the gussets two; three are allowed here."""
    assert sorted({each.code for each in found(*gable(inset), layers=3)}) == codes


def test_the_nearest_place_that_works_is_proposed() -> None:
    """From 20 mm, where four layers lie, to past the strips' ends: half the lid's width, and
    the hole's radius and its border beyond that."""
    lid_width = 60.1 + CALIPER + 2 * CALIPER + 1.0
    move = lid_width / 2 + 2 + 2 - 20
    advice = next(
        sentence_of(each).cure
        for each in found(*gable(20, coarse=1.0), layers=3)
        if "left closure" in place_of(each)
    )

    assert f"{move:.1f} mm right" in advice
    assert "2 layers" in advice


def test_a_hole_across_an_edge_is_told_with_a_place_clear_of_it() -> None:
    """The hole lies where a strip ends: the strip covers half of it."""
    base, lid = gable(20, coarse=1.0)
    left, bottom, _, top = lid.panel("front ridge").outline.bounds
    end = (lid.panel("left").outline.bounds[2] - lid.panel("left").outline.bounds[0]) / 2
    hole = Path.circle((left + end, (bottom + top) / 2), 2)
    lid = lid.work("front ridge", Feature(Work.PUNCH, hole, "odd hole"))
    told = [each for each in found(base, lid) if "odd hole" in place_of(each)]

    assert "hole-at-edge" in {each.code for each in told}
    edge = next(each for each in told if each.code == "hole-at-edge")
    assert "covers 50%" in sentence_of(edge).found
    assert "4.0 mm" in sentence_of(edge).cure


def test_a_hole_on_one_layer_only_needs_no_advice() -> None:
    """A single panel with a hole is nobody's trouble."""
    assert found(folded_strip(1)) == ()
