"""What can hurt, by tool: the usual cautions, which the machine's manual and local rules outrank.

Sources: IEC 60825-1 (laser classes; eye, skin and fire hazards); common rules of university laser
workshops (no chlorinated plastics, extraction, never unattended); common practice for blades.
"""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.profile.tools import ToolType

FIRST = (
    "The machine's manual and the rules of your place and country come before anything written "
    "here; who has not been shown how the machine works should not run it alone."
)

BLADE = (
    "Blades are sharp: switch the machine off before you change one, keep your fingers out of the "
    "moving carriage, cap a blade that is not in use, and collect used ones in a rigid container."
)

LASER = (
    "Lasers hurt eyes and skin, also by scattered light, and set card alight: keep the lid closed "
    "and its interlocks whole; an open beam needs a trained person and eyewear rated for its "
    "wavelength.",
    "Never leave a laser running alone; keep the bed clean and an extinguisher at hand, and take "
    "the fumes outside.",
    "Never cut PVC, vinyl or anything else with chlorine in it with a laser: it gives off hydrogen "
    "chloride, which is toxic and eats metal. Do not cut a coating that you do not know.",
)


def cautions(types: Iterable[ToolType]) -> tuple[str, ...]:
    """The cautions for these kinds of tools, a sentence or two each, always the same order."""
    kinds = set(types)
    said: list[str] = []
    if kinds & {ToolType.DRAG_BLADE, ToolType.WHEEL}:
        said.append(BLADE)
    if ToolType.LASER in kinds:
        said += LASER
    return (*said, FIRST)
