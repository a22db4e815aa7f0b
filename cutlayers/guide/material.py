"""What one box takes: card, glue, holes, ribbon."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.job.stock import Stock
from cutlayers.net import Net, Role, Work
from cutlayers.net.guides import with_glue_lines
from cutlayers.net.relief_holes import Hole, cut

BOW = 450.0
"""mm of ribbon for a knot and a bow with two loops and two ends; common practice."""


@frozen
class Glue:
    """Glue tabs of one box and the length of the line or tape on them, in mm."""

    tabs: int
    length: float


@frozen
class Ribbon:
    """Ribbon for one box: there and back between the holes that lie farthest apart, and a bow."""

    between: float
    bow: float

    @property
    def length(self) -> float:
        """The whole estimate in mm."""
        return 2 * self.between + self.bow


@frozen
class BoxNeeds:
    """What one box takes: card of its own stocks, and the weight of all of it, facing pieces
    included. `weight_g` is None where the grammage of a stock is not known; `holes` are the
    diameters in mm of what is punched, each hole of each layer by itself."""

    area_mm2: float
    weight_g: float | None
    glue: Glue | None
    holes: tuple[float, ...]
    ribbon: Ribbon | None


def box_needs(
    box: Box, stocks: Mapping[str, Stock], facings: Iterable[tuple[Net, Stock]] = ()
) -> BoxNeeds:
    """Measure one box; `stocks` are those of its nets by name, `facings` the pieces that are glued
    on it, each with its stock."""
    nets = box.nets
    areas = [(each.name, card_area(each.net, each.relieved.holes)) for each in box.blanks]
    weights = [
        _weight_g(math.fsum(area for net, area in areas if stocks[net] == stock), stock)
        for stock in dict.fromkeys(stocks[net.name] for net in nets)
    ]
    weights += [_weight_g(card_area(net), own) for net, own in facings]
    known = [each for each in weights if each is not None]
    return BoxNeeds(
        math.fsum(area for _, area in areas),
        math.fsum(known) if len(known) == len(weights) else None,
        _glue(nets),
        tuple(width for net in nets for width in _holes(net)),
        _ribbon(box),
    )


def _weight_g(area_mm2: float, stock: Stock) -> float | None:
    return None if stock.grammage is None else stock.grammage * area_mm2 / 1e6


def card_area(net: Net, holes: Sequence[Hole] = ()) -> float:
    """Area of a net's card in mm², its windows, punches and relief holes taken off."""
    left = [path for panel in net.panels for paths in cut(panel.outline, holes) for path in paths]
    openings = math.fsum(
        abs(feature.path.area)
        for panel in net.panels
        for feature in panel.features
        if feature.work in (Work.PUNCH, Work.WINDOW)
    )
    return math.fsum(path.area for path in left) - openings


def _glue(nets: Sequence[Net]) -> Glue | None:
    tabs = [panel for net in nets for panel in net.panels if panel.role is Role.GLUE_TAB]
    if not tabs:
        return None
    lines = [
        feature.path.length
        for net in nets
        for panel in with_glue_lines(_bare(net)).panels
        for feature in panel.features
    ]
    return Glue(len(tabs), math.fsum(lines))


def _bare(net: Net) -> Net:
    """The net without what is worked in its panels, guide lines that it has already included."""
    return replace(net, panels=tuple(replace(panel, features=()) for panel in net.panels))


def _holes(net: Net) -> Iterator[float]:
    for panel in net.panels:
        for feature in panel.features:
            if feature.work is Work.PUNCH:
                left, _, right, _ = feature.path.bounds
                yield right - left


def _ribbon(box: Box) -> Ribbon | None:
    places = []
    for blank in box.wholes:
        holes = [
            (panel.name, feature.path.bounds)
            for panel in blank.net.panels
            for feature in panel.features
            if feature.work is Work.PUNCH and feature.closes
        ]
        if holes:
            folded = blank.folded()
            places += [
                folded.place(name, ((x0 + x1) / 2, (y0 + y1) / 2))
                for name, (x0, y0, x1, y1) in holes
            ]
    if not places:
        return None
    return Ribbon(max(math.dist(one, other) for one in places for other in places), BOW)
