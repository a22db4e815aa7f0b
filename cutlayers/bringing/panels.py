"""Flat nets: what a cleaned drawing holds."""

from __future__ import annotations

from cutlayers.frozen import frozen
from cutlayers.net.model import Net


@frozen
class FlatNet:
    """A net as it was drawn, its hinges flat, and what the drawing says of the angle of each:
    degrees, "mountain" or "valley", or None."""

    net: Net
    given: tuple[float | str | None, ...]
