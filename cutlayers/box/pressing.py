"""What is pressed from inside while a box is put together, and with what."""

from __future__ import annotations

from enum import StrEnum

from cutlayers.box.steps import Step
from cutlayers.frozen import frozen


class Tool(StrEnum):
    """The bluntest thing that gets in."""

    FINGER = "finger"
    PENCIL = "pencil"
    NOTHING = "nothing"


@frozen
class Press:
    """A panel that is pressed in a step, and what gets in to press it."""

    step: Step
    panel: str
    tool: Tool
