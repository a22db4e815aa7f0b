"""What covers the panels of an order's box: its art, and facing pieces with art of their own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from cutlayers.artwork.ink import Item, within
from cutlayers.artwork.model import Art
from cutlayers.artwork.panel_ink import in_sight
from cutlayers.box import Blank
from cutlayers.geometry.overlays import as_area, together
from cutlayers.geometry.segments import Bounds
from cutlayers.job.order import Order
from cutlayers.job.stock import Stock
from cutlayers.net import Net, Panel
from cutlayers.net.faces import pierced
from cutlayers.net.stacking import Key
from cutlayers.pictures.decoration import Decoration, Decorations
from cutlayers.profile.output import PrintSettings
from cutlayers.sheets.pieces import art_on
from cutlayers.telling.colours import PAPER

BEYOND = 1.0
"""mm beyond a panel's border that may still be seen, where a crease takes up more card."""


def decorations_of(
    order: Order, stocks: Mapping[str, Stock], settings: PrintSettings
) -> Decorations:
    """What covers the panels of an order's box, printed as the settings say."""
    found: dict[Key, tuple[Decoration, ...]] = {}
    for blank in order.box.blanks:
        for panel, ink in _printed(blank, art_on(blank.net, order.art), settings):
            found[blank.name, panel] = (Decoration(ink),)
    for facing in order.facings:
        printed = _printed(facing.blank, facing.art, settings)
        ink = tuple(item for _, items in printed for item in items)
        area = as_area(together(pierced(facing.net.panels)))
        paper = Decoration(ink, area, stocks[facing.stock].colour or PAPER)
        key = (facing.on.net, facing.on.panel)
        found[key] = (*found.get(key, ()), paper)
    for blank in order.box.wholes:
        if blank.net.facets is not None:
            found |= _on_facets(blank.net, blank.net.facets, found)
    return found


def _printed(
    blank: Blank, art: tuple[Art, ...], settings: PrintSettings
) -> Iterator[tuple[str, tuple[Item, ...]]]:
    """The printed panels of a blank, each with its ink from the bottom."""
    inks: dict[str, list[Item]] = {}
    for _, panel, ink in in_sight(blank.inked(art, settings.bleed, settings.safe_margin).inks):
        inks.setdefault(panel, []).extend(ink.items)
    for panel, items in inks.items():
        yield panel, tuple(within(items, _seen(blank.net.panel(panel))))


def _on_facets(net: Net, facets: Net, found: Decorations) -> Decorations:
    """The flat pieces that stand for panels are covered as these are."""
    return {
        (net.name, facet.name): tuple(
            replace(each, ink=tuple(within(each.ink, _seen(facet)))) for each in found[panel]
        )
        for facet in facets.panels
        if (panel := (net.name, net.panel_of(facet.name))) in found
    }


def _seen(panel: Panel) -> Bounds:
    """What may be seen of what covers a panel."""
    left, bottom, right, top = panel.outline.bounds
    return left - BEYOND, bottom - BEYOND, right + BEYOND, top + BEYOND
