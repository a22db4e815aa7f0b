"""Which parts of its own panels the finished box hides, read off the folded model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutlayers.artwork.regions import PRINT_CHORD
from cutlayers.box.blank import Blank
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import Area, area, as_area, common
from cutlayers.net import Role
from cutlayers.net.folding import FoldedNet
from cutlayers.net.space import dot

LYING_OVER = 8.0
"""mm; a panel of another piece that lies parallel in front of a panel, no farther away than
this, covers it: calipers and clearance of a lid or sleeve add up to a few mm."""

LEVEL = 1e-3
"""mm; panels no farther apart lie in one plane, side by side."""

PARALLEL = 0.999
"""Cosine of the angle between two faces that count as parallel: 2.5°."""


@frozen
class Cover:
    """A part of a panel that cannot be seen on the finished box; `by` is the net and the panel
    that hide it, no panel where that is a facing: its net has one alone."""

    net: str
    panel: str
    area: Area
    by: tuple[str, str | None]


def covers(blanks: Sequence[Blank]) -> Iterator[Cover]:
    """What one box's blanks hide of each other when they stand together, in the nets' coordinates.

    A lid or sleeve hides what it goes over, a closing flap those that it closes over, and a glue
    tab under a panel is hidden whole. Of a net that bends only others' panels are told.
    """
    for blank in blanks:
        net = blank.net
        for panel in net.panels:
            host = panel.lands_on if panel.role is Role.GLUE_TAB and panel.under else None
            if host is not None:
                hidden = area(panel.outline.points(PRINT_CHORD))
                yield Cover(net.name, panel.name, hidden, (net.name, host))
            for other in blanks:
                if other is not blank or not (host or blank.curved):
                    yield from _under(blank.seen, panel.name, other.seen)


def _under(box: FoldedNet, panel: str, lid: FoldedNet) -> Iterator[Cover]:
    pose, own = box.pose(panel), None
    for other in lid.net.panels:
        # Both faces must look the same way: what looks back at us is the lid's inside.
        if other.role is Role.GLUE_TAB and other.under:
            continue
        if dot(pose.normal, lid.normal(other.name)) < PARALLEL:
            continue
        corners = [pose.flat(corner) for corner in lid.outline(other.name, PRINT_CHORD)]
        middle = sum(height for _, _, height in corners) / len(corners)
        if not LEVEL < middle <= LYING_OVER:
            continue
        if own is None:  # for most panels nothing comes so far
            own = area(box.net.panel(panel).outline.points(PRINT_CHORD))
        shadow = area([(x, y) for x, y, _ in corners])
        hidden = as_area(common(shadow, own))
        if hidden.area > 1.0:
            yield Cover(box.net.name, panel, hidden, (lid.net.name, other.name))
