"""Which places on a net stay as far apart as others, so that rounding keeps the box square.

A net's corners lie on a few upright and level lines, its *places*. Panels that are equally wide
or high must still be so after rounding, or the box racks; so must the two halves of a panel.
Each place is therefore told as a sum of *free* places with coefficients that are whole or half
numbers: round the free ones to whole divisions, and all the others follow.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

Sum = Mapping[int, Fraction]
"""Free place → coefficient."""

LARGEST_COEFFICIENT = 8
"""A place that hangs on others more strongly than this is better rounded on its own."""


@dataclass(frozen=True, slots=True)
class Extent:
    """The distance from one place to a higher one."""

    low: int
    high: int
    length: float


def tied(
    count: int,
    anchors: Sequence[int],
    extents: Sequence[Extent],
    weight: Sequence[float],
    alike: float,
) -> tuple[Sum, ...]:
    """Each of `count` places as a sum of free ones.

    `anchors` are the places that stay at zero. Extents whose lengths differ by at most `alike`
    are kept equal, the longest first; an equality that would put a place where a ruler does not
    find it is left out, and so are long rows of equal cells, whose rounding would add up. Of
    the places that an equality ties, the one with the least `weight` gives up its freedom.
    """
    sums: list[dict[int, Fraction]] = [{place: Fraction(1)} for place in range(count)]
    for anchor in anchors:
        sums[anchor] = {}
    for one, other in _equal_pairs(extents, alike):
        difference = _plus(
            _plus(sums[one.high], sums[one.low], -1),
            _plus(sums[other.high], sums[other.low], -1),
            -1,
        )
        for place in sorted(difference, key=lambda place: (weight[place], place)):
            share = difference[place]
            instead = {
                other_place: -coefficient / share
                for other_place, coefficient in difference.items()
                if other_place != place
            }
            changed = [
                _plus({p: c for p, c in each.items() if p != place}, instead, each[place])
                if place in each
                else each
                for each in sums
            ]
            if all(_measurable(each, at, weight) for at, each in enumerate(changed)):
                sums = changed
                break
    return tuple(sums)


def _equal_pairs(extents: Sequence[Extent], alike: float) -> list[tuple[Extent, Extent]]:
    ordered = sorted(extents, key=lambda extent: -extent.length)
    pairs = []
    first: Extent | None = None
    for extent in ordered:
        if first is None or first.length - extent.length > alike:
            first = extent
        else:
            pairs.append((first, extent))
    return pairs


def _plus(one: Sum, other: Sum, factor: Fraction | int) -> dict[int, Fraction]:
    total = dict(one)
    for place, coefficient in other.items():
        value = total.get(place, Fraction(0)) + factor * coefficient
        if value:
            total[place] = value
        else:
            total.pop(place, None)
    return total


def _measurable(each: Sum, place: int, weight: Sequence[float]) -> bool:
    """Whether a ruler finds a place: on a division, or half-way between two heavier places.

    So a panel's middle may fall between two divisions, but not the fold at its end; what only is
    cut may always.
    """
    if any(abs(c) > LARGEST_COEFFICIENT or c.denominator > 2 for c in each.values()):
        return False
    halved = [weight[other] for other, c in each.items() if c.denominator == 2]
    return not halved or not weight[place] or weight[place] < min(halved)
