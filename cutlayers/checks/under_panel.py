"""Is lettering drawn where another panel lies over it?

Measured: how many of the lines of letters on a panel lie under other panels of the finished box,
from half a per cent of a line's length on: under a lid, a sleeve, a closing flap, or the panel that
a tab is glued behind. Guide lines are meant to be hidden and are not counted.

Why: the pen's work is lost where nobody sees it, and half a word is worse than none.

Cure: put the lettering on another panel, make it smaller, or move it by `align` to where the panel
stays in sight.

Source: geometry of the folded box.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cutlayers.box import Box
from cutlayers.net import Net
from cutlayers.net.features import lettering
from cutlayers.telling.findings import Finding, Severity, Subject, at_most
from cutlayers.telling.quantities import count

UNDER = 0.005
"""Share of a drawn line from which on it counts as covered."""


def check_under_panel(nets: Iterable[Net], finished: Box) -> Iterator[Finding]:
    """A warning for each panel with letters that the finished box hides, which has the same panels
    as the nets."""
    lettered = [
        (net.name, panel.name, letters)
        for net in nets
        for panel in net.panels
        if (letters := lettering(panel.features))
    ]
    if not lettered:
        return
    import shapely

    from cutlayers.geometry.overlays import common, together
    from cutlayers.net.faces import FACE_CHORD

    for net_name, panel_name, letters in lettered:
        mine = [
            each for each in finished.covers if (each.net, each.panel) == (net_name, panel_name)
        ]
        over = together(each.area for each in mine)
        lines = [shapely.LineString(letter.path.points(FACE_CHORD)) for letter in letters]
        hidden = [line for line in lines if common(line, over).length > UNDER * line.length]
        by = [
            each.by
            for each in mine
            if any(common(line, each.area).length > UNDER * line.length for line in hidden)
        ]
        if hidden:
            yield Finding(
                "drawn-under-panel",
                Severity.WARNING,
                Subject(net=net_name, panel=panel_name),
                (count(len(hidden)),),
                at_most(count(0)),
                tuple(Subject(net=net, panel=panel) for net, panel in dict.fromkeys(by)),
            )
