"""Is lettering drawn or cut across a crease, or a guide drawn there?

Measured: how far letters on a panel, drawn or cut out, or its guide lines reach into the crease
beside them. A crease is as broad as the card is thick, to either side; where a panel is folded
right over, as broad as the strip of card that stands there.

Why: a crease is pressed and bends. A pen skips over it, ink cracks on its outside, a letter that
lies half round a corner is hard to read, and one that is cut out there weakens the fold.

Cure: give the lettering a larger `margin`, or a smaller `height`; leave out `guides`, or make the
panel that they are on larger.

Source: common practice, no source; a crease takes about a caliper to either side.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cutlayers.construction.card import Card
from cutlayers.net import Net
from cutlayers.net.features import guides
from cutlayers.telling.findings import Finding, Severity, Subject, at_most, details
from cutlayers.telling.quantities import length

CHORD = 0.05
"""mm that chords may stray from a curve here."""

TOUCHING = 0.01
"""mm by which letters may reach into a crease."""


def check_across_crease(nets: Iterable[Net], card: Card) -> Iterator[Finding]:
    """A warning for each panel with letters or guides that lie on one of its creases."""
    found = [
        (net, panel.name, what, lines)
        for net in nets
        for panel in net.panels
        for what, lines in (
            ("lettering", tuple(each for each in panel.features if each.traced)),
            ("guides", guides(panel.features)),
        )
        if lines
    ]
    if not found:
        return
    import shapely

    from cutlayers.net.faces import into_creases

    for net, panel_name, what, lines in found:
        drawn = shapely.MultiLineString([each.path.as_line(CHORD) for each in lines])
        reach = into_creases(net, panel_name, card.of(net.name).caliper, drawn)
        if reach > TOUCHING:
            yield Finding(
                "drawn-across-crease",
                Severity.WARNING,
                Subject(net=net.name, panel=panel_name),
                (length(reach),),
                at_most(length(0.0)),
                details=details(what=what),
            )
