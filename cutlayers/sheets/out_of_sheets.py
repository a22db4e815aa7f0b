"""Whether a box comes out of its sheets, and in how many parts it does."""

from __future__ import annotations

from collections.abc import Callable, Collection
from contextlib import suppress
from dataclasses import replace
from typing import Any, cast

from cutlayers.box import Box, build
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Machine
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError, StyleError
from cutlayers.telling.lengths import Unit, format_length
from cutlayers.telling.refusals import in_unit


def too_large(
    box: Box, stock_of: Callable[[str], Stock], machine: Machine | None, unit: Unit = "mm"
) -> str:
    """Why the box does not come out of sheets of its nets' stocks, as a sentence in that unit; ""
    where it does. Without a machine blanks are held against whole sheets."""
    if machine is not None:
        try:
            pieces = [Piece(each.label, "it", each, stock_of(each.name)) for each in box.blanks]
            place_pieces(pieces, machine)
        except PlacementError as error:
            return str(PlacementError(*in_unit(unit, error.refusals)))
        return ""
    for blank in box.blanks:
        sides = sorted(stock_of(blank.name).sheet)
        left, bottom, right, top = blank.net.bounds
        flat = sorted((right - left, top - bottom))
        if flat[0] > sides[0] or flat[1] > sides[1]:
            wide, high, *room = (format_length(each, unit) for each in (*flat[::-1], *sides[::-1]))
            return (
                f"{blank.label} is {wide} × {high} flat, more than the sheet of "
                f"{' × '.join(room)}; use a larger one"
            )
    return ""


def cut_in_parts(
    box: Box,
    stock_of: Callable[[str], Stock],
    machine: Machine | None,
    kept: Collection[str] = (),
) -> tuple[Box, str]:
    """The box with a net cut in parts, where it comes out of sheets so alone, and the name of that
    net; the box itself and "" otherwise. Options that are `kept` stay as they are."""
    origin = box.origin
    if origin is None or not too_large(box, stock_of, machine):
        return box, ""
    for net, option in origin.style.parts:
        count = getattr(origin.dims, option) + 1
        if option in kept or count > origin.style.table[option][0].most:
            continue
        with suppress(StyleError):
            dims = replace(cast(Any, origin.dims), **{option: count})
            parted = build(origin.style, dims, origin.card)
            if not too_large(parted, stock_of, machine):
                return parted, net
    return box, ""
