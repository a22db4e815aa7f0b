"""Lettering on nets as a job has it, its way up found by folding them."""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.box import Blank
from cutlayers.geometry.transforms import Point
from cutlayers.lettering import inscriptions
from cutlayers.lettering.inscriptions import Inscription
from cutlayers.net import Net, Panel


def inscribed(nets: Sequence[Net], inscription: Inscription) -> tuple[Net, ...]:
    """The nets with the text on its panel."""
    return inscriptions.inscribed(nets, inscription, way_up)


def way_up(net: Net, panel: Panel) -> Point:
    """The flat direction that points up on the finished box."""
    return Blank(net).uprights[panel.name]
