"""Is lettering drawn across a crease?

Measured: how far letters on a panel reach into the crease beside them. A crease is as broad as the
card is thick, to either side; where a panel is folded right over, as broad as the strip of card
that stands there.

Why: a crease is pressed and bends. A pen skips over it, ink cracks on its outside, and a letter
that lies half round a corner is hard to read.

Cure: give the lettering a larger `margin`, or a smaller `height`.

Source: common practice, no source; a crease takes about a caliper to either side.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.box import Box
from cutlayers.net.features import lettering
from cutlayers.telling.findings import Finding, Severity, Subject, at_most
from cutlayers.telling.quantities import length

TOUCHING = 0.01
"""mm by which letters may reach into a crease."""


def check_across_crease(box: Box) -> Iterator[Finding]:
    """A warning for each panel with letters that lie on one of its creases."""
    lettered = [
        (net, panel.name, letters)
        for net in box.nets
        for panel in net.panels
        if (letters := lettering(panel.features))
    ]
    if not lettered:
        return
    import shapely

    from cutlayers.net.faces import FACE_CHORD, into_creases

    for net, panel_name, letters in lettered:
        lines = shapely.MultiLineString([each.path.points(FACE_CHORD) for each in letters])
        reach = into_creases(net, panel_name, box.card.of(net.name).caliper, lines)
        if reach > TOUCHING:
            yield Finding(
                "drawn-across-crease",
                Severity.WARNING,
                Subject(net=net.name, panel=panel_name),
                (length(reach),),
                at_most(length(0.0)),
            )
