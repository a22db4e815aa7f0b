"""A flat net at the angles of its folds, its layers apart as they were drawn.

A drawing for card with thickness leaves room for it where panels fold right over on each other: the
crease is the middle of a strip about as wide as they lie apart. Folded about a line such a net does
not close, so the strips are found at which it does.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.bringing.meeting_angles import with_angles
from cutlayers.bringing.roles import with_roles
from cutlayers.net.folding import fold
from cutlayers.net.model import Net
from cutlayers.telling.errors import NetError

CLOSED = 0.05
"""mm by which panels that meet may miss each other; finer than any hand folds."""


def folded_at(net: Net, angles: Sequence[float]) -> Net:
    """A flat net at the angles of its folds, in degrees, with its layers apart, the roles of its
    panels and how it stands."""
    return with_roles(_layered(with_angles(net, angles)))


def _layered(net: Net) -> Net:
    """The net with the strips that close it, where it closes better with them."""
    missed = fold(net).closure_error
    if missed <= CLOSED:
        return net
    from cutlayers.net.meeting_creases import with_strips_that_close

    try:
        layered = with_strips_that_close(net)
        return layered if fold(layered).closure_error < missed / 2 else net
    except NetError:
        return net
