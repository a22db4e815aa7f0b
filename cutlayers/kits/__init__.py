"""Kits: one set of pieces for each row of a table, made sheet by sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "Kit",
    "KitReport",
    "OpenKit",
    "kit_text",
    "open_kit",
    "write_kit",
]

if TYPE_CHECKING:
    from cutlayers.kits.checking import Kit
    from cutlayers.kits.manifest import KitReport, kit_text
    from cutlayers.kits.opening import OpenKit, open_kit
    from cutlayers.kits.writing import write_kit
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "checking": "Kit",
            "manifest": "KitReport kit_text",
            "opening": "OpenKit open_kit",
            "writing": "write_kit",
        },
    )
