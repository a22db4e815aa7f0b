"""Where a panel comes to lie that is hinged to an edge of another: across the edge they share."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Segment
from cutlayers.geometry.transforms import Transform
from cutlayers.net.edges import ALIKE_BULGE, COINCIDENT, shared_edge
from cutlayers.net.folds_over import beside, shares, strip_between, with_share
from cutlayers.net.panel import Panel
from cutlayers.telling.errors import NetError


@frozen
class Attached:
    """Two panels that share `edge`, which runs with the host on its left.

    Both are as long as their shares of the `strip`, in mm, make them; `place` moves what was drawn
    with the new panel to where that lies.
    """

    host: Panel
    panel: Panel
    edge: Segment
    strip: float
    place: Transform


def attached(
    host: Panel, to: str, draft: Panel, own: str, at: float | None, lie: float, eased: float
) -> Attached:
    """The panel `draft`, as it was drawn, with its edge `own` on the host's edge `to`: `at` mm from
    the start of that, or in the middle of it.

    Folded right over they lie `lie` mm apart, `eased` mm more than the strip between them is wide;
    0 for panels that are not. Raises NetError for edges that do not overlap or are not alike.
    """
    strip = strip_between(lie, eased)
    here, there = shares(strip)
    line = host.edge(to)
    if strip:
        line = beside(line, -here)
        draft = with_share(draft, own, beside(draft.edge(own), -there), there)
    edge = draft.edge(own)
    gap = (line.chord - edge.chord) / 2.0 if at is None else at
    curved = bool(line.bulge or edge.bulge)
    if abs(line.bulge + edge.bulge) > ALIKE_BULGE or (
        curved and abs(line.chord - edge.chord) > COINCIDENT
    ):
        raise NetError(f"the edges of {draft.name!r} and '{host.name}.{to}' are not alike")
    dx, dy = line.direction_at(0.5)
    anchor = (line.start[0] + gap * dx, line.start[1] + gap * dy)
    if abs(line.chord - edge.chord) <= COINCIDENT and at is None:
        anchor = line.start
    # Walked counter-clockwise, the shared edge runs the other way round the new panel.
    place = Transform.onto(edge.end, edge.start, anchor, (anchor[0] + dx, anchor[1] + dy))
    panel = replace(draft, outline=draft.outline.transformed(place))
    shared = shared_edge(line, panel.edge(own))
    if shared is None:
        raise NetError(f"panel {draft.name!r} does not touch '{host.name}.{to}'")
    if here:
        host = with_share(host, to, shared, here)
    return Attached(host, panel, shared, strip, place)
