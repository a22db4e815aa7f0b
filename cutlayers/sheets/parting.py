"""Blanks that no sheet holds, cut in more parts where their style can do so.

Some styles have an option that says in how many parts a net is cut, to be glued together first. No
style knows the sheet; here the next numbers are tried, and the first is told whose parts all lie on
a sheet each.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from cutlayers.box import Origin, build
from cutlayers.job.order import SheetRules
from cutlayers.profile.machine import Machine
from cutlayers.sheets.kinds import TooLargeError
from cutlayers.sheets.turns import each_turned
from cutlayers.telling.errors import PlacementError, StyleError


def in_parts(
    error: TooLargeError, origin: Origin | None, machine: Machine, rules: SheetRules
) -> tuple[str, int] | None:
    """The style's option and the fewest parts in which the blank that was too large lies on sheets;
    None where the style cannot cut it in more, or none will do. `origin` is what the box was made
    from."""
    option = origin and dict(origin.style.parts).get(error.piece.blank.name)
    if origin is None or not option:
        return None
    dims = cast(Any, origin.dims)
    most = int(origin.style.table[option][0].most)
    for count in range(getattr(dims, option) + 1, most + 1):
        try:
            box = build(origin.style, replace(dims, **{option: count}), origin.card)
            parts = box.blank(error.piece.blank.name).parts
            pieces = [replace(error.piece, name=part.label, blank=part, art=()) for part in parts]
            each_turned(pieces, machine, rules)
        except (StyleError, PlacementError):
            continue
        return option, count
    return None
