"""Register marks round the work.

The marks stand near the corners of the sheet. Half a turn must not carry them onto themselves,
or a sheet fed the wrong way round would go unnoticed: three marks leave the upper right corner
empty, and a fourth stands in from that corner by a quarter of the sheet's width.
"""

from __future__ import annotations

from cutlayers.machine import RegisterPlan
from cutlayers.paths import Path
from cutlayers.sheets.model import RegisterMark
from cutlayers.transforms import Point

RING_SHARE = 0.3
"""Radius of a target's ring as a share of the mark's overall size, so that the cross stands out
of the ring on all sides, as on printers' targets."""


def register_marks(width: float, height: float, plan: RegisterPlan) -> tuple[RegisterMark, ...]:
    """Marks for a sheet of the given size, in the order lower left, lower right, upper left and,
    where the plan asks for a fourth, near the upper right.

    Returns none where the plan's shape is "none".
    """
    if plan.shape == "none":
        return ()
    near, right, top = plan.inset, width - plan.inset, height - plan.inset
    corners = ((near, near), (right, near), (near, top), (right - width / 4, top))
    middle = (width / 2, height / 2)
    return tuple(
        RegisterMark(centre, _paths(plan, centre, middle), plan.size / 2 + plan.keep_out)
        for centre in corners[: plan.count]
    )


def _paths(plan: RegisterPlan, centre: Point, middle: Point) -> tuple[Path, ...]:
    (x, y), half = centre, plan.size / 2
    if plan.shape == "dot":
        return (Path.circle(centre, half),)
    if plan.shape == "corner":
        # Two ticks that meet in the mark's centre and point away from the work.
        side = -half if x < middle[0] else half
        rise = -half if y < middle[1] else half
        return (Path.polyline(((x + side, y), (x, y), (x, y + rise))),)
    return (
        Path.line((x - half, y), (x + half, y)),
        Path.line((x, y - half), (x, y + half)),
        Path.circle(centre, plan.size * RING_SHARE),
    )
