"""The coupon that is cut first in the waste of a sheet: its size, and what it shows."""

from __future__ import annotations

from cutlayers.profile.tools import Tool, ToolType

SIDE = 12.7
"""mm; half an inch, so that both kinds of ruler have it."""

HOLE = 3.0
"""mm across; the smallest that boxes are punched or cut with."""


def what_to_look_for(tool: Tool) -> tuple[str, ...]:
    """What to do with the coupon, and what follows from how it looks, a sentence or two each."""
    said = [
        f"Cut the file that ends in -coupon first: a square of {SIDE:g} mm (1/2 in) with a V and a "
        f"hole of {HOLE:g} mm, in the waste of the same sheet, counted from the same corner. Leave "
        "the sheet as it lies, look, and cut the rest when the coupon is right.",
        "It lifts out by itself, and so does the round piece of its hole. Where threads hold it, "
        "cut deeper, slower, or once more; where the mat or the bed below is marked, less deep.",
    ]
    if tool.type is ToolType.DRAG_BLADE:
        said.append(
            "The corners and the point of the V are sharp, and the hole is round and closed. Where "
            "corners are round or have little ears, the blade is led round them twice or not at "
            "all, or its offset is wrong (cutlayers trial offset). A step where the hole closes "
            "asks for more overcut; a torn point for a new blade."
        )
    elif tool.type is ToolType.LASER:
        said.append(
            "The edges are clean, not brown or charred: otherwise less power, or faster. The "
            f"square measures {SIDE:g} mm: otherwise the kerf is wrong (cutlayers trial kerf)."
        )
    else:
        said.append(
            f"The square measures {SIDE:g} mm: otherwise the kerf is wrong (cutlayers trial "
            "kerf). The point of the V is not torn."
        )
    return tuple(said)
