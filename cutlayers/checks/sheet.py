"""Does every blank fit on its sheet?

Measured: width and height of a flat blank against the room on a sheet: the sheet, as far as the bed
of the machine and the margins allow. Quarter turns count; slanting does not. blank-too-large:
the whole blank is larger. panel-too-large: one of its panels is by itself.

Why: what lies beyond the room is not cut, or the tool runs against its end. Nothing of such a
piece can be used.

Cure: use a larger sheet, or make the box smaller by the share told. If the machine reaches farther
than its profile says, correct `bed` there. Some styles have an option that splits or folds the
blank otherwise; 'cutlayers styles STYLE' lists them.

Source: plain measuring, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from cutlayers.net.model import Net
from cutlayers.telling.findings import Finding, Severity, Subject, at_most, details
from cutlayers.telling.quantities import lengths, share

ROUNDING = 1e-6
"""mm; a blank this near to its limit has met it."""


def check_sheet(nets: Iterable[Net], room: tuple[float, float]) -> tuple[Finding, ...]:
    """An error for each net whose blank is larger than the room on a sheet.

    `room` is the width and height in mm that can be worked: the sheet's, as far as the bed and
    its margin allow. Quarter turns count; slanting does not.
    """
    return tuple(finding for net in nets if (finding := _too_large(net, room)))


def _too_large(net: Net, room: tuple[float, float]) -> Finding | None:
    left, bottom, right, top = net.bounds
    width, height = right - left, top - bottom
    if fits_upright((width, height), room) or fits_upright((height, width), room):
        return None
    short, long = sorted(room)
    scale = min(min(width, height) and short / min(width, height), long / max(width, height))
    for panel in net.panels:
        x0, y0, x1, y1 = panel.outline.bounds
        tall, wide = max(x1 - x0, y1 - y0), min(x1 - x0, y1 - y0)
        if tall > long + ROUNDING or wide > short + ROUNDING:
            return Finding(
                "panel-too-large",
                Severity.ERROR,
                Subject(net=net.name, panel=panel.name),
                lengths(x1 - x0, y1 - y0),
                at_most(*lengths(short, long)),
            )
    return Finding(
        "blank-too-large",
        Severity.ERROR,
        Subject(net=net.name),
        lengths(width, height),
        at_most(*lengths(short, long)),
        details=details(smaller=share(1 - scale)),
    )


def fits_upright(blank: tuple[float, float], room: tuple[float, float]) -> bool:
    """Whether a blank fits without being turned."""
    return blank[0] <= room[0] + ROUNDING and blank[1] <= room[1] + ROUNDING
