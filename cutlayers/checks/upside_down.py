"""Does lettering stand on its head in the finished box?

Measured: the angle in degrees between the lettering's own way up and the way up of its panel in the
closed box; on a panel that lies level, away from whoever stands in front. Of several texts on a
panel the largest angle counts. More than 135° is upside down; on its side, as on the spine of a
book, may be meant.

Why: a panel that hangs below the bottom of the flat net folds up from there, so what reads upright
on the flat net stands on its head in the box.

Cure: leave `turn` out, or write `turn = "upright"`; both turn the text so that it reads upright.

Source: geometry of the folded box.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from cutlayers.box import Box
from cutlayers.net import Net
from cutlayers.telling.findings import Finding, Severity, Subject, at_most
from cutlayers.telling.quantities import angle

UPSIDE_DOWN_DEG = 135.0
"""Halfway from lying on its side to standing on its head."""


def check_upside_down(nets: Iterable[Net], finished: Box) -> Iterator[Finding]:
    """A warning for each panel with a text that stands on its head on the finished box, which has
    the same panels as the nets."""
    for net in nets:
        for panel in net.panels:
            turns = {each.turn_deg for each in panel.features if each.turn_deg is not None}
            if not turns:
                continue
            x, y = finished.blank(net.name).uprights[panel.name]
            up_deg = math.degrees(math.atan2(-x, y))
            off = max(abs(math.remainder(turn_deg - up_deg, 360.0)) for turn_deg in turns)
            if off > UPSIDE_DOWN_DEG:
                yield Finding(
                    "lettering-upside-down",
                    Severity.WARNING,
                    Subject(net=net.name, panel=panel.name),
                    (angle(off),),
                    at_most(angle(UPSIDE_DOWN_DEG)),
                )
