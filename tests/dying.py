"""A process that is killed at a line of its own, for tests of what is left of its files.

A kill after so many lines comes at the same place again, on a busy machine too, and over many kills
at every line there is; a kill after so many milliseconds does neither.
"""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path
from types import FrameType
from typing import Any

PACKAGE = Path(__file__).parents[1] / "cutlayers"


def die_at_line(number: int, *rooms: str) -> None:
    """Kill this process as it begins the nth line that is run from now on in rooms of the package,
    whether by a call, in a loop or once more. The first is 1."""
    left = number
    watched = tuple(str(PACKAGE / room) for room in rooms)

    def count(_: FrameType, event: str, __: Any) -> Any:
        nonlocal left
        if event == "line":
            left -= 1
            if not left:
                os.kill(os.getpid(), signal.SIGKILL)
        return count

    def enter(frame: FrameType, _: str, __: Any) -> Any:
        return count if frame.f_code.co_filename.startswith(watched) else None

    sys.settrace(enter)


def lines_of(*rooms: str) -> list[int]:
    """A list whose one number grows with each line that is run in these rooms from now on."""
    counted = [0]
    watched = tuple(str(PACKAGE / room) for room in rooms)

    def count(_: FrameType, event: str, __: Any) -> Any:
        counted[0] += event == "line"
        return count

    def enter(frame: FrameType, _: str, __: Any) -> Any:
        return count if frame.f_code.co_filename.startswith(watched) else None

    sys.settrace(enter)
    return counted
