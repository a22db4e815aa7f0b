"""A box for the hand, without steps that no ruler shows.

Where panels lie on layers of card, creases stand a thickness apart: 0.3 mm in ordinary card. A step
below half a division would be rounded away here and doubled there; so the box is built once more
without it, and its layers share a plane.
"""

from __future__ import annotations

from dataclasses import replace

from cutlayers.box import Box, build
from cutlayers.geometry.transforms import Transform
from cutlayers.guide.ruler import Ruler
from cutlayers.net import Net, Panel


def without_small_steps(box: Box, ruler: Ruler) -> Box:
    """The box that its style makes without steps smaller than half a division, with what was
    lettered on its panels; itself where it has none, or no style made it."""
    half = ruler.step / 2
    if box.origin is None or not any(
        net.caliper and box.card.of(net.name).caliper < half for net in box.nets
    ):
        return box
    style, dims, card = box.origin.style, box.origin.dims, box.origin.card
    plain = build(style, dims, card)
    coarse = build(style, dims, card.each(lambda one: replace(one, coarse=half)))
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
