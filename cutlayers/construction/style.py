"""What a box style is: a table of dimensions and a function that returns nets."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection
from typing import Any

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import Dimension
from cutlayers.frozen import frozen
from cutlayers.net import Net
from cutlayers.telling.nearest import nearest


@frozen
class Style:
    """One box style.

    `dimensions` is a frozen dataclass made of the fields above; `build` takes one and the card
    and returns the nets of one box, the first of them the one the others sit on. `build` raises
    StyleError for dimensions that cannot be folded. `like` names a published family, if sure.
    `volume` is the room between the walls of the first net in mm³, taken to the planes of the
    panels, by a formula of its own; None where a style encloses nothing. `limp` says that paper
    will do which would sag in a box of that size: for a bag, a pop-up card, or a band round what
    is packed. `goes` says in words where a piece is put that holds nothing by itself, "over the top
    of the filled bag". `parts` are options that say in how many parts a net is cut, each with the
    net's name before it.
    """

    name: str
    summary: str
    dimensions: type[Any]
    build: Callable[[Any, Card], tuple[Net, ...]]
    like: str = ""
    volume: Callable[[Any, Card], float] | None = None
    limp: bool = False
    goes: str = ""
    parts: tuple[tuple[str, str], ...] = ()

    @property
    def table(self) -> dict[str, tuple[Dimension, Any]]:
        """Field name → (dimension, default or example), in declared order."""
        return {
            field.name: (field.metadata["dimension"], field.default)
            for field in dataclasses.fields(self.dimensions)
        }

    def meant(self, name: str, known: Collection[str]) -> str | None:
        """The one of the `known` dimensions that was called so, or else is called alike."""
        for each in known:
            if each in self.table and self.table[each][0].formerly == name:
                return each
        return nearest(name, known)
