"""Edits of a job file that cure what a check found, each tried before it is offered."""

from typing import TYPE_CHECKING

__all__ = ["Cured", "Mended", "Source", "mended", "places_of", "with_cure", "with_cures"]

if TYPE_CHECKING:
    from cutlayers.curing.mending import Cured, Mended, mended, with_cure
    from cutlayers.curing.places import places_of
    from cutlayers.curing.proving import Source, with_cures
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "mending": "Cured Mended mended with_cure",
            "places": "places_of",
            "proving": "Source with_cures",
        },
    )
