"""The largest box of given proportions that comes out of one sheet."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from dataclasses import replace
from typing import Any

from cutlayers.box import Box, build
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Machine
from cutlayers.sheets.base import sheet_on_bed, to_tenths
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError, StyleError
from cutlayers.telling.refusals import Refusal

STEP = 0.1
"""mm; sizes are found to this step, finer than a person folds."""

SEARCH_RATIO = 0.985
"""Sizes are first tried in steps of this ratio from above, so that a range of sizes that a style
refuses is stepped over rather than taken for the end."""


def largest_on_sheet(
    style: Style,
    dims: Any,
    names: Collection[str],
    card: Card,
    stock: Stock,
    machine: Machine,
    progress: Callable[[int], None] = lambda _: None,
) -> Box:
    """The largest box with the proportions that the sizes of these `names` have in `dims`, whose
    nets all lie on one sheet of the stock, on this machine's bed, clear of its margin and register
    marks.

    Other sizes and options keep their lengths. Sizes are rounded down to 0.1 mm. `progress` is told
    1 for each size that was tried. Raises PlacementError where no size fits, and for a sheet that
    the bed cannot take.
    """
    width, height = sheet_on_bed(stock, machine.bed)
    own = {name: getattr(dims, name) for name in names}

    def box(factor: float) -> Box:
        sizes = {name: _down(size * factor) for name, size in own.items()}
        return build(style, replace(dims, **sizes), card)

    def good(factor: float) -> bool:
        progress(1)
        try:
            return on_one_sheet(box(factor), stock, machine)
        except StyleError:
            return False

    longest = max(own.values())
    high = math.hypot(width, height) / longest
    low = high * SEARCH_RATIO
    while not good(low):
        high, low = low, low * SEARCH_RATIO
        if low * longest < STEP:
            raise PlacementError(
                Refusal(
                    reason=f"no {style.name} of these proportions comes out of one sheet of "
                    "{} × {}",
                    advice="use a larger sheet or other options",
                    lengths=to_tenths(width, height),
                )
            )
    while (high - low) * longest > STEP / 2:
        middle = (high + low) / 2
        high, low = (high, middle) if good(middle) else (middle, low)
    return box(low)


def on_one_sheet(box: Box, stock: Stock, machine: Machine) -> bool:
    """Whether all nets of a box lie on one sheet of the stock."""
    pieces = [Piece(blank.label, "box", blank, stock) for blank in box.blanks]
    try:
        return place_pieces(pieces, machine).count == 1
    except PlacementError:
        return False


def _down(size: float) -> float:
    return round(math.floor(size / STEP + 1e-6) * STEP, 6)
