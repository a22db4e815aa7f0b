"""A box for the hand, whose layers lie as far apart as a ruler shows.

Where panels lie on layers of card, creases stand a thickness apart: 0.3 mm in ordinary card. Such a
step would be rounded away here and doubled there; so the box is built once more with steps of whole
divisions, and where a thickness is less than one division, without any: its layers then share a
plane.
"""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import replace

from cutlayers.box import Box, Origin, build
from cutlayers.geometry.transforms import Transform
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Net, Panel
from cutlayers.telling.errors import StyleError


def with_whole_steps(box: Box, ruler: Ruler) -> tuple[Box, ...]:
    """The boxes that its style makes with steps of whole divisions between layers, what is nearest
    to the card first, with what was lettered on the panels; the box itself where it has no layers,
    or no style made it. Empty where the sizes leave no room for steps so large."""
    if box.origin is None or not any(net.caliper for net in box.nets):
        return (box,)
    thickest = box.card.thickest(net.name for net in box.nets)
    coarse = (ruler.step, math.inf) if thickest < ruler.step else (ruler.step,)
    found: list[Box] = []
    for step in coarse:
        with suppress(StyleError):
            made = _stepped(box, box.origin, step)
            if made.nets not in [other.nets for other in found]:
                found.append(made)
    return tuple(found)


def _stepped(box: Box, origin: Origin, step: float) -> Box:
    """The box with steps that are whole numbers of `step`."""
    style, dims, card = origin.style, origin.dims, origin.card
    plain = build(style, dims, card)
    coarse = build(style, dims, card.each(lambda one: replace(one, coarse=step)))
    return coarse.with_nets(
        _lettered(net, own, bare)
        for net, own, bare in zip(coarse.nets, box.nets, plain.nets, strict=True)
    )


def _lettered(net: Net, lettered: Net, plain: Net) -> Net:
    """The net with what `lettered` has worked in its panels and `plain` has not."""
    for panel, bare in zip(lettered.panels, plain.panels, strict=True):
        added = panel.features[len(bare.features) :]
        if added:
            net = net.work(
                panel.name, *added, place=_from_middle_to_middle(panel, net.panel(panel.name))
            )
    return net


def _from_middle_to_middle(one: Panel, other: Panel) -> Transform:
    (x0, y0), (x1, y1) = (
        ((left + right) / 2, (bottom + top) / 2)
        for left, bottom, right, top in (one.outline.bounds, other.outline.bounds)
    )
    return Transform(dx=x1 - x0, dy=y1 - y0)
