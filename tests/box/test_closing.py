"""What swings free, and in which order it closes."""

from __future__ import annotations

import pytest

from cutlayers import Style, styles
from cutlayers import build as build_style
from cutlayers.box import Box, build
from cutlayers.box.closing import closures, ends, held
from cutlayers.construction.card import Card
from cutlayers.construction.star_nets import regular
from cutlayers.construction.styles import style_named
from cutlayers.geometry.paths import Path
from cutlayers.net import Net, Role, Shape
from cutlayers.net.shapes import rectangle

SQUARE = Shape(
    Path.polygon(((0, 0), (40, 0), (40, 40), (0, 40))), ("bottom", "right", "top", "left")
)


def strip(*, glued: bool) -> Net:
    """Four squares in a row, a flap on the first; a tab on the last lands on the first if glued."""
    net = Net.start("strip", "one", SQUARE, Role.WALL)
    for name, before in (("two", "one"), ("three", "two"), ("four", "three")):
        net = net.attach(name, SQUARE, to=f"{before}.right", own="left", role=Role.WALL)
    net = net.attach("flap", SQUARE, to="one.top", role=Role.LID)
    if not glued:
        return net
    return net.attach(
        "tab", SQUARE, to="four.right", own="left", role=Role.GLUE_TAB, lands_on="one"
    )


def test_a_ring_of_hinges_and_glue_keeps_its_place() -> None:
    """And without the glue only the root does."""
    assert held(strip(glued=True)) == {"one", "two", "three", "four", "tab"}
    assert held(strip(glued=False)) == {"one"}


def test_what_hangs_on_it_swings_with_all_that_hangs_there() -> None:
    assert [closure.panels for closure in closures(strip(glued=True))] == [("flap",)]
    assert [closure.panels for closure in closures(strip(glued=False))] == [
        ("two", "three", "four"),
        ("flap",),
    ]


def test_a_tongue_closes_after_what_it_goes_into() -> None:
    """A band's two ends are alike, and lie in one plane but for the one that engages the other."""
    style = style_named("belly-band")
    band = build(style, style.dimensions(), Card(0.3))

    (end,) = ends(band.nets[0], band.assembly)

    assert [closure.first for closure in end.closures] == ["right", "left"]


def test_ends_alike_close_in_the_order_of_their_panels() -> None:
    """Eight walls 6 mm apart, none of which touches another: nothing else tells which is first, and
    least of all the order of a set."""
    net = Net.start("fence", "base", regular(8, 20.0))
    names = [f"wall {index}" for index in range(1, 9)]
    for index, name in enumerate(names, start=1):
        net = net.attach(
            name,
            rectangle(14.0, 10.0),
            to=f"base.edge-{index}",
            at=3.0,
            fold_deg=90.0,
            role=Role.WALL,
        )
    fence = Box.of([net], Card(0.0))

    assert [end.closures[0].first for end in ends(net, fence.assembly)] == names


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_what_keeps_its_place_hangs_together_without_any_one_link(style: Style) -> None:
    """By the meaning of a ring: take one link away, and its panels still hang together."""
    sizes = {name: each for name, (_, each) in style.table.items() if each is not None}
    for net in build_style(style.name, **sizes, caliper=0.3).nets:
        links = [(hinge.first, hinge.second) for hinge in net.hinges]
        links += [(panel.name, panel.lands_on) for panel in net.panels if panel.lands_on]

        def beside(start: str, some: list[tuple[str, str]]) -> set[str]:
            found = {start}
            while more := {name for link in some if found & {*link} for name in link} - found:
                found |= more
            return found

        rings = [
            (one, other)
            for at, (one, other) in enumerate(links)
            if other in beside(one, links[:at] + links[at + 1 :])
        ]
        assert held(net) == beside(net.root.name, rings)
