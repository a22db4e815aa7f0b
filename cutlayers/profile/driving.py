"""What the program that drives the machine must be told, so that a file is followed as meant.

A wrong setting spoils every corner and looks like a worn blade: where the file leads the holder
round the corners and the machine does so as well, each is swung twice.
"""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.profile.tools import Tool, ToolType

KEEP_ORDER = (
    "Have the program that drives the machine keep the order of the file's lines, without sorting "
    "or joining them: what lies inside is cut before what holds it, and a trailing blade is set "
    "straight by a short bent stroke in the waste before each layer."
)

ANY_ORDER = (
    "Lines may come in any order: each closed cut of a trailing blade begins with a short way in "
    "through the waste or through its hole."
)

ALL_PASSES = "Every pass is in the file already: set the machine to one pass."


def driving(tools: Iterable[Tool], order: str, passes: int) -> tuple[str, ...]:
    """What to set for these tools, a sentence or two each; `passes` is the most of any layer."""
    blades = dict.fromkeys(tool for tool in tools if tool.type is ToolType.DRAG_BLADE)
    said = [leading(tool) for tool in blades]
    said.append(ANY_ORDER if order == "any" else KEEP_ORDER)
    if passes > 1:
        said.append(ALL_PASSES)
    return tuple(said)


def leading(tool: Tool) -> str:
    """Who leads a trailing blade round its corners, and what follows for the machine."""
    if tool.swivel == "path" and tool.offset:
        return (
            f"The file leads the {tool.name} round its corners for an offset of {tool.offset:g} "
            "mm: switch the machine's own blade compensation off, or set its blade offset to 0. "
            "With both, every corner is swung twice."
        )
    return (
        f"The file has the bare lines for the {tool.name}: the machine must lead it round its "
        "corners, so set its blade compensation on and its blade offset to what the blade has."
    )
