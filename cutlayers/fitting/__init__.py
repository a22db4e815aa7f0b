"""Things to be packed, whether a box holds them, and which box does."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "CLEARANCE",
    "INCH_DIVISIONS",
    "SHAPES",
    "Item",
    "Packing",
    "box_for_item",
    "fits",
    "in_sixteenths",
    "item",
    "read_measure",
    "scaled_for_item",
    "sizes_for_item",
    "whole_sixteenths",
]

if TYPE_CHECKING:
    from cutlayers.fitting.drawn import sizes_for_item
    from cutlayers.fitting.items import CLEARANCE, INCH_DIVISIONS, SHAPES, Item, item, read_measure
    from cutlayers.fitting.packing import Packing
    from cutlayers.fitting.search import box_for_item, fits, scaled_for_item
    from cutlayers.fitting.sixteenths import in_sixteenths, whole_sixteenths
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "drawn": "sizes_for_item",
            "items": "CLEARANCE INCH_DIVISIONS SHAPES Item item read_measure",
            "packing": "Packing",
            "search": "box_for_item fits scaled_for_item",
            "sixteenths": "in_sixteenths whole_sixteenths",
        },
    )
