"""A piece of a job, built: its nets, and everything that follows from them, worked out once."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "TURN_DEG",
    "Blank",
    "Box",
    "Origin",
    "Press",
    "Tool",
    "Way",
    "build",
]

if TYPE_CHECKING:
    from cutlayers.box.blank import Blank
    from cutlayers.box.box import Box, Origin, build
    from cutlayers.box.pressing import Press, Tool
    from cutlayers.box.walking import TURN_DEG
    from cutlayers.box.ways import Way
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "blank": "Blank",
            "box": "Box Origin build",
            "pressing": "Press Tool",
            "walking": "TURN_DEG",
            "ways": "Way",
        },
    )
