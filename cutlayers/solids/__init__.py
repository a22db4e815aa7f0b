"""Folded boxes for other programs: each panel a slab of card, in open formats."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "FORMATS",
    "Format",
    "Model",
    "Part",
    "model_of",
]

if TYPE_CHECKING:
    from cutlayers.solids.model import Model, Part, model_of
    from cutlayers.solids.writers import FORMATS, Format
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "model": "Model Part model_of",
            "writers": "FORMATS Format",
        },
    )
