"""The size of a box from a drawing for a thing to be packed."""

from __future__ import annotations

from collections.abc import Mapping

from cutlayers.box import Box
from cutlayers.bringing.stretching import sizes_of, stretched
from cutlayers.construction.dimension import LARGEST
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import pack
from cutlayers.fitting.search import smallest_factor, up
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import StyleError


def sizes_for_item(box: Box, thing: Item) -> Mapping[str, float]:
    """The length, width and height in mm, between creases, at which a drawn box of one net just
    holds a thing: stretched as a whole, its proportions kept.

    Raises StyleError for "holds" where no size of it does, and for "size" where it is several nets,
    or has too few sizes to hold anything.
    """
    if len(box.nets) != 1:
        raise StyleError("size", "is told of a drawing with one net; this one holds several")
    (net,) = box.nets
    sizes = sizes_of(box.wholes[0].folded()) if any(hinge.fold_deg for hinge in net.hinges) else {}
    if len(sizes) < 3:
        raise StyleError("holds", "is no use with a drawing that folds up to nothing")

    def scaled(factor: float) -> dict[str, float]:
        return {name: up(size * factor) for name, size in sizes.items()}

    def good(factor: float) -> bool:
        wanted = scaled(factor)
        if max(wanted.values()) > LARGEST:
            return False
        try:
            grown = box.with_nets([stretched(net, wanted)])
        except ValueRefused:
            return False
        return pack(thing, grown.assembly, box.card).fits

    factor = smallest_factor(good, max(sizes.values()))
    if factor is None:
        raise StyleError("holds", f"is a {thing.shape} that no size of the drawn box holds")
    return scaled(factor)
