"""Sizes that a person with a ruler in inches sets: whole sixteenths."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import replace
from typing import Any, Literal, cast

from cutlayers.box import Box, build
from cutlayers.fitting.search import STEP
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import MM_PER

Way = Literal["up", "down"]


def in_sixteenths(
    box: Box,
    way: Way,
    good: Callable[[Box], bool],
    kept: Collection[str] = (),
    along: Collection[str] = (),
) -> Box:
    """The box with its sizes in sixteenths of an inch, rounded that way, as long as it is `good`;
    the box itself where that will not do, or where no style made it.

    Sizes that are `kept` stay as they are; options `along` are rounded too.
    """
    origin = box.origin
    if origin is None:
        return box
    free = [
        name
        for name, (dimension, _) in origin.style.table.items()
        if dimension.is_length and name not in kept and (dimension.group == "size" or name in along)
    ]
    # The box was found in steps, which may have gone past a sixteenth that will do.
    for back in (STEP if way == "up" else -STEP, 0.0):
        sizes = {name: whole_sixteenths(getattr(origin.dims, name) - back, way) for name in free}
        with suppress(StyleError):
            found = build(origin.style, replace(cast(Any, origin.dims), **sizes), origin.card)
            if good(found):
                return found
    return box


def whole_sixteenths(millimetres: float, way: Way) -> float:
    """A length in mm rounded to sixteenths of an inch.

    >>> whole_sixteenths(25.5, "up") == 1.0625 * 25.4, whole_sixteenths(25.5, "down")
    (True, 25.4)
    """
    sixteenth = MM_PER["in"] / 16
    parts = millimetres / sixteenth
    whole = math.ceil(parts - 1e-6) if way == "up" else math.floor(parts + 1e-6)
    return whole * sixteenth
