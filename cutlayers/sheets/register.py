"""Register marks round the work: where they stand, as lines for the machine and as ink.

Half a turn must not carry the marks onto themselves, or a sheet fed the wrong way round would go
unnoticed: three marks leave the upper right corner empty, a fourth stands in from that corner by
a share of the sheet's width or height, a fifth stands in the middle of the lower edge.

Lines and ink are made of the very same paths, so they cannot come apart.
"""

from __future__ import annotations

from cutlayers.artwork.ink import Contour, Paint
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.profile.output import RegisterPlan
from cutlayers.sheets.model import RegisterMark
from cutlayers.telling.colours import BLACK

RING_SHARE = 0.3
"""Radius of a target's ring as a share of the mark's overall size, so that the cross stands out
of the ring on all sides, as on printers' targets."""

INK_WIDTH = 0.3
"""mm; wide enough for a flatbed scanner at 300 dpi (3.5 pixels), fine enough for the eye."""

MARK_INK = BLACK
"""The one ink that every printer lays down without a misfit between colours."""


FOURTH = (1 / 4, 1 / 6, 1 / 3)
"""Shares of a side by which the fourth mark may stand in from the upper right corner, the best
first: near enough to it to check the others, far enough to tell a sheet fed the wrong way."""


def register_marks(width: float, height: float, plan: RegisterPlan) -> tuple[RegisterMark, ...]:
    """The marks that every sheet of this size has, in the order lower left, lower right, upper
    left and, where the plan asks for more, near the upper right, middle of the lower edge.

    Returns none where the plan's shape is "none".
    """
    if plan.shape == "none":
        return ()
    near, right, top = plan.from_edge, width - plan.from_edge, height - plan.from_edge
    places = (
        (near, near),
        (right, near),
        (near, top),
        (right - FOURTH[0] * width, top),
        (width / 2, near),
    )
    return tuple(_mark(centre, width, height, plan) for centre in places[: plan.count or 3])


def fourth_marks(width: float, height: float, plan: RegisterPlan) -> tuple[RegisterMark, ...]:
    """Where one mark more may stand if a sheet has room for it, the best place first: on the upper
    edge, then on the right. None where the plan has said how many there are."""
    if plan.shape == "none" or plan.count is not None:
        return ()
    right, top = width - plan.from_edge, height - plan.from_edge
    places = [(right - share * width, top) for share in FOURTH]
    places += [(right, top - share * height) for share in FOURTH]
    return tuple(_mark(centre, width, height, plan) for centre in places)


def _mark(centre: Point, width: float, height: float, plan: RegisterPlan) -> RegisterMark:
    paths = _paths(plan, centre, (width / 2, height / 2))
    return RegisterMark(centre, paths, plan.size / 2 + plan.keep_out)


def mark_ink(marks: tuple[RegisterMark, ...], plan: RegisterPlan) -> tuple[Paint, ...]:
    """The marks as ink: dots filled, everything else as lines INK_WIDTH wide."""
    contours = tuple(Contour.of(path) for mark in marks for path in mark.paths)
    if not contours:
        return ()
    if plan.shape == "dot":
        return (Paint(contours, fill=MARK_INK),)
    return (Paint(contours, stroke=MARK_INK, line_width=INK_WIDTH),)


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
