"""Nets folded up together, for tests of what is measured on them."""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.net import Net
from cutlayers.net.assembly import Assembly, together
from cutlayers.net.folding import fold


def standing(nets: Iterable[Net]) -> Assembly:
    """All nets folded up, each where its stand says."""
    return together(fold(net) for net in nets)
