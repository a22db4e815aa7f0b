"""Creases that meet in a point, in card that has thickness.

Where four or more creases meet in a point, as at the corner of a gusset, sheets without thickness
fold up about that point. Card does not: a panel that lies a caliper inside of another must turn
about a crease that stands elsewhere. So the creases of a net drawn for sheets are moved in
parallel, each by as little as will do, until the net closes with every panel on its layer; and
where they no longer meet in a point a small hole is cut that takes the point away.

The angles stay, and with them all turns in space. A crease moved by d along n, at right angles to
it in the sheet, moves what it carries by d times the difference of n as its two panels turn it. So
what closes the net are linear equations: three for each loop of hinges, and one for each glued
tab, whose middle lies a caliper beside that of what it lands on. A crease folded right over is two,
as far apart as its panels lie (`folds_over`). Of the solutions the smallest is taken, in the sense
of least squares, with those creases kept where they are that hold sizes which somebody asked for.

Source: worked by hand as above; rigid motions and their products.

This module needs numpy; whoever has no such net does not import it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import cached_property

import numpy as np

from cutlayers.frozen import frozen
from cutlayers.net.edges import COINCIDENT
from cutlayers.net.folding import folding_order, glued_apart, poses_along
from cutlayers.net.folds_over import LEAST_STRIP, shares, strip_between
from cutlayers.net.model import Net
from cutlayers.net.moved_creases import with_creases_moved, without_points, without_stubs
from cutlayers.net.panel import Hinge
from cutlayers.net.parts import in_order, parts
from cutlayers.net.space import Pose, Vector, minus, turned_about
from cutlayers.telling.errors import NetError

Pair = tuple[str, str]
"""The names of a hinge's two panels, in its order."""

Array = np.ndarray

CLOSES = 1e-6
"""mm by which a net may miss closing."""


def in_card(
    net: Net,
    caliper: float,
    *,
    keep: Collection[Pair] = (),
    apart: Mapping[Pair, int] | None = None,
    loose: Collection[Pair] = (),
    eased: float = 0.0,
) -> Net:
    """A net drawn for sheets, in card of that caliper in mm.

    The creases of `keep` stay where they are. Two panels folded right over lie one caliper apart,
    or as many as `apart` says; those of `loose` as far as the others make it. `eased` is by how
    much farther apart in mm they lie than the strip between them is wide. Raises NetError where the
    net cannot be closed so. Without a caliper the net is given back as it is.
    """
    if caliper <= COINCIDENT:
        return net
    system = _System(net, caliper, dict(apart or {}), tuple(loose))
    moves = system.solved(frozenset(keep), eased)
    moved = with_creases_moved(net, [move.by for move in moves])
    hinges = (
        replace(hinge, strip=move.strip, eased=move.eased)
        for hinge, move in zip(moved.hinges, moves, strict=True)
    )
    moved = replace(moved, caliper=caliper, eased=eased, hinges=tuple(hinges))
    sheets = {sheet.root.name: sheet for sheet in parts(net)}
    whole = [without_stubs(without_points(sheets[part.root.name], part)) for part in parts(moved)]
    return in_order(moved, whole)


def with_strips_that_close(net: Net) -> Net:
    """A net as it was drawn for some card, its panels on no layers: each crease folded right over
    with the strip that it was drawn with, as far as loops of hinges tell; of several answers the
    smallest, in the sense of least squares. No crease is moved.

    How near it comes the folded net tells; strips that came out negative are none.
    """
    over = [hinge for hinge in net.hinges if abs(hinge.fold_deg) == 180]
    pairs = tuple(dict.fromkeys((hinge.first, hinge.second) for hinge in over))
    system = _System(net, 0.0, {}, pairs)
    matrix, wanted = system._equations()
    moves = [system.places[id(hinge)] for hinge in over]
    widths = list(range(len(net.hinges), len(net.hinges) + len(pairs)))
    found = np.zeros(matrix.shape[1])
    while widths:
        free = moves + widths
        found[:] = 0.0
        found[free], *_ = np.linalg.lstsq(matrix[:, free], wanted, rcond=1e-9)
        above = [index for index in widths if found[index] > 0.0]
        if above == widths:
            break
        widths = above
    strips = {pair: float(found[len(net.hinges) + at]) for at, pair in enumerate(pairs)}
    return replace(
        net,
        hinges=tuple(
            _with_strip(hinge, strips[hinge.first, hinge.second], found[system.places[id(hinge)]])
            if hinge in over and strips[hinge.first, hinge.second] > LEAST_STRIP
            else hinge
            for hinge in net.hinges
        ),
    )


def _with_strip(hinge: Hinge, strip: float, move: float) -> Hinge:
    """A crease whose strip has its middle `move` mm to the left of it, in the first panel, as far
    as the strip reaches."""
    share = min(max(strip / 2 + float(move), 0.0), strip)
    return replace(hinge, strip=strip, share=share)


@frozen
class _Move:
    """By how much a crease moves to its left, the strip of one that is folded right over, and how
    much farther apart its panels lie."""

    by: float
    strip: float = 0.0
    eased: float = 0.0


@frozen(slots=False)
class _System:
    """What a net's panels are moved by in space, as linear functions of how far its creases are
    moved in the sheet, and how much wider loose strips are."""

    net: Net
    caliper: float
    apart: Mapping[Pair, int]
    loose: tuple[Pair, ...]

    @cached_property
    def places(self) -> dict[int, int]:
        """The column of each hinge, by its identity."""
        return {id(hinge): index for index, hinge in enumerate(self.net.hinges)}

    def solved(self, keep: frozenset[Pair], eased: float) -> tuple[_Move, ...]:
        """The smallest moves that close the net."""
        matrix, wanted = self._equations()
        pairs = [(hinge.first, hinge.second) for hinge in self.net.hinges]
        free = [index for index, pair in enumerate(pairs) if pair not in keep]
        free += range(len(pairs), len(pairs) + len(self.loose))
        found, *_ = np.linalg.lstsq(matrix[:, free], wanted, rcond=1e-9)
        missed = float(np.abs(matrix[:, free] @ found - wanted).max(initial=0.0))
        if missed > CLOSES:
            raise NetError(
                f"net {self.net.name!r} cannot be closed in card of {self.caliper:g} mm: "
                f"it misses by {missed:.3g} mm"
            )
        moves = np.zeros(matrix.shape[1])
        moves[free] = found
        made = []
        for index, (hinge, pair) in enumerate(zip(self.net.hinges, pairs, strict=True)):
            lie = self._strip(hinge)
            if pair in self.loose:
                lie += float(moves[len(pairs) + self.loose.index(pair)])
            strip = strip_between(lie, eased)
            # A strip's line is its middle, or the first panel's edge, as `folds_over` has it.
            here, _ = shares(strip)
            made.append(_Move(float(moves[index]) + (strip / 2 - here), strip, lie - strip))
        return tuple(made)

    def _strip(self, hinge: Hinge) -> float:
        if abs(hinge.fold_deg) != 180:
            return 0.0
        return self.caliper * self.apart.get((hinge.first, hinge.second), 1)

    def _equations(self) -> tuple[Array, Array]:
        """Coefficients and right sides: three for each loop, one for each glued tab."""
        order, loops = folding_order(self.net)
        poses = poses_along(self.net, order, 1.0, Pose())
        columns = len(self.net.hinges) + len(self.loose)
        root = self.net.root.name
        carried: dict[str, tuple[Array, Array]] = {
            root: (np.zeros((3, columns)), np.zeros(3)),
        }
        for carrier, name, hinge in order:
            if hinge is None:
                by, fixed = carried[carrier]
                out = self.caliper * glued_apart(self.net, carrier, name)
                carried[name] = by, fixed + out * np.array(poses[carrier].normal)
                continue
            carried[name] = self._over(carried[carrier], hinge, carrier, poses[carrier])
        rows: list[Array] = []
        wanted: list[float] = []
        for hinge in loops:
            pose = poses[hinge.first]
            by_hinge = self._over(carried[hinge.first], hinge, hinge.first, pose)
            by_tree = carried[hinge.second]
            middle = hinge.edge.point_at(0.5)
            miss = minus(pose.place(middle), poses[hinge.second].place(middle))
            rows += list(by_hinge[0] - by_tree[0])
            wanted += list(by_tree[1] - by_hinge[1] - np.array(miss))
        for panel in self.net.panels:
            if panel.lands_on is None:
                continue
            target = poses[panel.lands_on]
            normal = np.array(target.normal)
            stands = target.flat(poses[panel.name].place(panel.outline.start))[2]
            (by, fixed), (target_by, target_fixed) = carried[panel.name], carried[panel.lands_on]
            rows.append(normal @ (by - target_by))
            beyond = -self.caliper if panel.under else self.caliper
            wanted.append(float(beyond - stands - normal @ (fixed - target_fixed)))
        return np.array(rows).reshape(-1, columns), np.array(wanted)

    def _over(
        self, carrier: tuple[Array, Array], hinge: Hinge, name: str, pose: Pose
    ) -> tuple[Array, Array]:
        """How what lies beyond a hinge of a carrier moves in space."""
        edge = hinge.edge if hinge.first == name else hinge.edge.reversed()
        ux, uy = edge.direction_at(0.5)
        left: Vector = (-uy, ux, 0.0)
        here = np.array(pose.direction(left))
        half, full = (
            np.array(
                pose.after(turned_about(edge.start, (ux, uy), share * hinge.fold_deg)).direction(
                    left
                )
            )
            for share in (0.5, 1.0)
        )
        by, fixed = carrier[0].copy(), carrier[1].copy()
        by[:, self.places[id(hinge)]] += (here - full) * (1 if hinge.first == name else -1)
        across = (here + full) / 2 - half
        fixed += self._strip(hinge) * across
        if (hinge.first, hinge.second) in self.loose:
            by[:, len(self.net.hinges) + self.loose.index((hinge.first, hinge.second))] += across
        return by, fixed
