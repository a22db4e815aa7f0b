"""What covers the outside of a box's panels in a picture: ink, and paper that is glued on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.net.stacking import Key

if TYPE_CHECKING:  # most boxes are bare card
    from cutlayers.artwork.ink import Item
    from cutlayers.geometry.overlays import Area


@frozen
class Decoration:
    """Ink on the card of a panel, or on a piece of paper glued there, which has a `colour`.

    Nothing of it shows outside of `area`, where it has one: the panel's own coordinates.
    """

    ink: tuple[Item, ...]
    area: Area | None = None
    colour: str | None = None


Decorations = Mapping[Key, tuple[Decoration, ...]]
"""What covers each panel, by its net and its name, from below; panels without any are left out."""
