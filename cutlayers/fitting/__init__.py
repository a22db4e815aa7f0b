"""Things to be packed, whether a box holds them, and which box does."""

from cutlayers.fitting.items import SHAPES, Item, item

__all__ = ["SHAPES", "Item", "item"]
