"""The boxes of a job folded up and set in a row, ready to be written as solids.

Every piece is there once, whatever its count. A closed box stands with all its blanks where they
belong; of a box that is partly open each blank stands by itself, since a lid that is half folded
would stand in its base. What stands, stands with its lowest card on the table (z = 0) and the
middle of its depth at y = 0; the row runs along x, its middle at x = 0. Axes are right-handed, in
mm: x to the right, y away from whoever looks at the front, z up.

Folding puts the plane through the creases of a panel in its place. What a crease takes up of the
card lies inside of that, half of it where nobody measured it, and the rest outside. A panel that is
folded right over turns its outside inwards, so of it the rest lies inside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.job.order import Job, Order
from cutlayers.net.faces import FACE_CHORD
from cutlayers.net.folding import FoldedNet
from cutlayers.net.model import Net
from cutlayers.net.panel import Panel
from cutlayers.net.parts import parts as parts_of
from cutlayers.net.space import Pose, Vector

APART = 20.0
"""mm between what stands side by side."""


@frozen
class Part:
    """A blank in its place, of card `caliper` mm thick. Names of parts differ."""

    name: str
    folded: FoldedNet
    stock: str
    caliper: float
    take_up: float
    """mm of card inside of the plane through the creases."""
    over: frozenset[str] = frozenset()
    """Names of the panels that are folded right over, an odd number of times."""

    def skins(self, panel: str) -> tuple[float, float]:
        """How far the inside and the outside of a panel lie in front of where folding has put it,
        in mm, the inside's below 0 as a rule."""
        inside = self.caliper - self.take_up if panel in self.over else self.take_up
        return -inside, self.caliper - inside

    def label(self, panel: Panel) -> str:
        """What a panel is called among all panels of all parts."""
        return f"{self.name}: {panel.name}"


@frozen
class Model:
    """All that one file holds; `opened` is 0 for closed boxes, 1 for flat ones."""

    title: str
    parts: tuple[Part, ...]
    opened: float = 0.0

    @property
    def panels(self) -> int:
        """How many panels there are."""
        return sum(len(part.folded.net.panels) for part in self.parts)


def model_of(job: Job, orders: Sequence[Order], opened: float = 0.0) -> Model:
    """The boxes of some orders of a job, each `opened` by that share of all its folds.

    Raises NetError for a share outside of 0 to 1 and for nets that cannot be folded.
    """
    groups = [group for order in orders for group in _groups(job, order, 1.0 - opened)]
    return Model(job.title, tuple(_in_a_row(groups)), opened)


def extent(parts: Sequence[Part]) -> tuple[Vector, Vector]:
    """Lowest and highest corner of the box around some parts, thickness and all."""
    points = [
        part.folded.poses[panel.name].place(point, skin)
        for part in parts
        for panel in part.folded.net.panels
        for point in panel.outline.points(FACE_CHORD)
        for skin in part.skins(panel.name)
    ]
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _groups(job: Job, order: Order, fraction: float) -> Iterator[list[Part]]:
    """What is to stay together of an order."""
    together = []
    for name, blank in zip(order.blank_names, order.box.blanks, strict=True):
        folded = blank.folded(fraction)
        if blank.part:
            own = parts_of(folded.net)[blank.part - 1]
            folded = replace(folded, net=own, relieved=blank.relieved if blank.relief else None)
        card = order.box.card.of(blank.name)
        over = _turned_over(blank.net) if fraction == 1.0 else frozenset()
        parts = [Part(name, folded, order.stock_of(blank.name), card.caliper, card.take_up, over)]
        parts += _facings(job, order, parts[0])
        together.append(parts)
    if fraction == 1.0:
        yield [part for parts in together for part in parts]
    else:
        yield from together


def _turned_over(net: Net) -> frozenset[str]:
    """The panels between which and the root an odd number of folds goes right over."""
    over: dict[str, bool] = {net.root.name: False}
    waiting = [*over]
    while waiting:
        here = waiting.pop()
        for hinge in net.hinges_of([here]):
            there = hinge.second if hinge.first == here else hinge.first
            if there not in over:
                over[there] = over[here] != (abs(hinge.fold_deg) == 180.0)
                waiting.append(there)
    return frozenset(name for name, turned in over.items() if turned)


def _facings(job: Job, order: Order, host: Part) -> Iterator[Part]:
    """The pieces that are glued on the panels of a blank, outside face to inside face."""
    for facing in order.facings:
        own = host.folded.net
        if facing.on.net != own.name or facing.on.panel not in {each.name for each in own.panels}:
            continue
        (panel,) = facing.net.panels
        caliper = job.stocks[facing.stock].caliper
        pose = host.folded.poses[facing.on.panel]
        raised = Pose(origin=(0.0, 0.0, host.skins(facing.on.panel)[1] + caliper / 2))
        folded = FoldedNet(facing.net, 1.0, {panel.name: pose.after(raised)}, ())
        yield Part(f"{order.name}: {facing.net.name}", folded, facing.stock, caliper, caliper / 2)


def _in_a_row(groups: Sequence[Sequence[Part]]) -> Iterator[Part]:
    extents = [extent(group) for group in groups]
    widths = [high[0] - low[0] for low, high in extents]
    x = -(sum(widths) + APART * (len(widths) - 1)) / 2
    for group, width, (low, high) in zip(groups, widths, extents, strict=True):
        shift = (x - low[0], -(low[1] + high[1]) / 2, -low[2])
        for part in group:
            poses = {name: pose.shifted(shift) for name, pose in part.folded.poses.items()}
            yield replace(part, folded=replace(part.folded, poses=poses))
        x += width + APART
