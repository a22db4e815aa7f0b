"""One net of a box, with what follows from it alone: lines, folded shapes, ink.

Everything is worked out when it is first asked for and then kept, since nets never change. Two
threads that ask at once may both work it out; they come to equal values, so either may stay.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Point
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.linework import Linework
from cutlayers.net.model import Net
from cutlayers.net.parts import parts
from cutlayers.net.relief import Relieved

if TYPE_CHECKING:  # a net without art loads no areas
    from cutlayers.artwork.model import Art
    from cutlayers.artwork.panel_ink import PanelInk
    from cutlayers.artwork.regions import Region, Regions
    from cutlayers.geometry.overlays import Area

KEPT = 64
"""Nets last asked for whose lines are kept."""
_Where = tuple[tuple[str, ...], frozenset[str], float]
"""The panels that are printed, those of them that some art spreads over, and the bleed in mm."""


@frozen
class InkedNet:
    """The ink of one net in its own coordinates: where its printed panels may have ink, and each
    art on each of its panels, in the order of the art. Nothing where there is none."""

    regions: Regions | None
    inks: tuple[tuple[Art, str, PanelInk], ...]

    @property
    def of_panels(self) -> Mapping[str, Region]:
        """The region of each printed panel."""
        return self.regions.of_panels if self.regions else {}


@frozen(slots=False)
class Blank:
    """One flat net of a box, or a part of one. Guaranteed: each derived thing is worked out at most
    once. What is folded is the whole net.

    `relief` is the radius in mm of the holes that keep it from tearing, and how far its creases
    stop short of a cut; 0 for none.
    """

    net: Net
    relief: float = 0.0
    part_of: Blank | None = None
    part: int = 0
    """Which part it is, from 1."""
    _folded: dict[float, FoldedNet] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _inked: dict[tuple[tuple[Art, ...], float, float], InkedNet] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _regions: dict[_Where, Regions] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _panel_inks: dict[tuple[Art, str, _Where, float], PanelInk] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    @property
    def name(self) -> str:
        """The net's name."""
        return self.net.name

    @property
    def label(self) -> str:
        """What it is called beside others of its box."""
        return f"{self.name} part {self.part}" if self.part else self.name

    @cached_property
    def parts(self) -> tuple[Blank, ...]:
        """What is cut: the parts of a net that is joined of several, or itself."""
        nets = parts(self.net)
        if len(nets) == 1:
            return (self,)
        return tuple(
            Blank(net, self.relief, self, number) for number, net in enumerate(nets, start=1)
        )

    @property
    def curved(self) -> bool:
        """Whether a fold is curved, so that its panels bend; facets may still stand in for them."""
        return any(hinge.edge.bulge for hinge in self.net.hinges)

    @property
    def foldable(self) -> bool:
        """Whether the net, or its facets, can be folded as rigid panels."""
        return self.net.facets is not None or not self.curved

    @property
    def folds(self) -> bool:
        """Whether any panel of it turns: a sheet that nothing folds is flat, and so is a net of a
        drawing whose angles nobody said."""
        return any(hinge.fold_deg for hinge in (self.net.facets or self.net).hinges)

    @property
    def borders(self) -> Linework:
        """The lines that follow from the net alone. Raises NetError as `linework` does."""
        return self.relieved.borders

    @property
    def lines(self) -> Linework:
        """The lines that are worked. Raises NetError as `linework` does."""
        return self.relieved.lines

    @cached_property
    def relieved(self) -> Relieved:
        """The card with its relief."""
        return _relieved(replace(self.net, stand=None), self.relief)

    @property
    def _relief(self) -> Relieved | None:
        # Parts lie over each other as they are drawn, so holes of one would show in the other.
        return self.relieved if self.relief and len(self.parts) == 1 else None

    def folded(self, fraction: float = 1.0) -> FoldedNet:
        """The net folded up so far, 0 flat to 1. Raises NetError as `fold` does."""
        if self.part_of is not None:
            return self.part_of.folded(fraction)
        if fraction not in self._folded:
            self._folded[fraction] = fold(self.net, fraction, self._relief)
        return self._folded[fraction]

    @cached_property
    def seen(self) -> FoldedNet:
        """The net folded up, for looking at it only.

        A curved hinge bends its panels and has no rigid fold; its chord shows well enough which
        way the panels face.
        """
        if self.part_of is not None:
            return self.part_of.seen
        if self.foldable:
            return self.folded()
        hinges = tuple(
            replace(hinge, edge=Segment(hinge.edge.start, hinge.edge.end))
            for hinge in self.net.hinges
        )
        return fold(replace(self.net, hinges=hinges), relieved=self._relief)

    @cached_property
    def uprights(self) -> dict[str, Point]:
        """For each panel the flat direction that points up on the finished box."""
        return {panel.name: self.seen.upright(panel.name) for panel in self.net.panels}

    @cached_property
    def area(self) -> Area:
        """What the net covers, holes and windows not taken off."""
        from cutlayers.artwork.regions import area_of
        from cutlayers.geometry.overlays import as_area, together

        return as_area(together(area_of(panel.outline) for panel in self.net.panels))

    def inked(self, art: tuple[Art, ...], bleed: float, safe_margin: float) -> InkedNet:
        """The ink of some art on this net; each spot must name one of its panels. Lengths are mm.

        Without art there is no ink.
        """
        key = (art, bleed, safe_margin)
        if key not in self._inked:
            self._inked[key] = self._ink(art, bleed, safe_margin)
        return self._inked[key]

    def _ink(self, art: tuple[Art, ...], bleed: float, safe_margin: float) -> InkedNet:
        if not art:
            return InkedNet(None, ())
        from cutlayers.artwork.model import printed_panels

        printed, spreading = printed_panels(art)
        where = (tuple(printed), frozenset(spreading), bleed)
        inks = tuple(
            (each, spot.panel, self._panel_ink(each, spot.panel, where, safe_margin))
            for each in art
            for spot in each.spots
        )
        return InkedNet(self._regions_of(where), inks)

    def _regions_of(self, where: _Where) -> Regions:
        """Where ink may be: the same for all art on the same panels."""
        from cutlayers.artwork.regions import Regions

        if where not in self._regions:
            self._regions[where] = Regions(self.net, *where)
        return self._regions[where]

    def _panel_ink(self, art: Art, panel: str, where: _Where, safe_margin: float) -> PanelInk:
        """The ink of an art on one panel: the same whichever place of a job file asks for it."""
        from cutlayers.artwork.panel_ink import panel_ink

        key = (replace(art, spots=(), place=""), panel, where, safe_margin)
        if key not in self._panel_inks:
            regions = self._regions_of(where)
            self._panel_inks[key] = panel_ink(
                art, self.uprights[panel], regions, panel, safe_margin
            )
        return self._panel_inks[key]


@lru_cache(KEPT)
def _relieved(net: Net, size: float) -> Relieved:
    """Of a net wherever it stands: that of a lid changes with the height of its base."""
    return Relieved(net, size)
