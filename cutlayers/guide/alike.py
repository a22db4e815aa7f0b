"""Which places on a net stay as far apart as others, so that rounding keeps the box square.

A net's corners lie on a few upright and level lines, its *places*. Panels that are equally wide
or high must still be so after rounding, or the box racks; so must the two halves of a panel.
Each place is therefore told as a sum of *free* amounts with whole coefficients: round the free
ones to whole divisions, and all the others lie on divisions too.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from cutlayers.frozen import frozen

Sum = Mapping[int, Fraction]
"""Free amount → coefficient."""

LARGEST_COEFFICIENT = 8
"""A place that hangs on others more strongly than this is better rounded on its own."""

LARGEST_OF_EXTENT = 2
"""So many times may an extent be an amount, such as a panel its half; more would add up what each
is rounded by."""


@frozen
class Extent:
    """The distance from one place to a higher one."""

    low: int
    high: int
    length: float


@frozen
class Ties:
    """Each place as a sum of free amounts, and the value in mm that each amount has on the net.

    An amount that stands for a place alone has the place's number; others are told by the number
    of a place as well, but are sums of several.
    """

    sums: tuple[Mapping[int, int], ...]
    values: Mapping[int, float]


def tied(
    values: Sequence[float],
    anchors: Sequence[int],
    extents: Sequence[Extent],
    weight: Sequence[float],
    alike: float,
) -> Ties:
    """Tie places together, whose `values` are mm.

    `anchors` are the places that stay at zero. Extents whose lengths differ by at most `alike`
    are kept equal, the longest first. Of the places that an equality ties, the one with the least
    `weight` gives up its freedom, if all then lie where a ruler finds them; else the free amounts
    are chosen anew, so that every place is a whole number of them. Only rows of equal cells, whose
    rounding would add up along a panel or a long way, are left to be rounded each by itself.
    """
    sums: list[dict[int, Fraction]] = [{place: Fraction(1)} for place in range(len(values))]
    for anchor in anchors:
        sums[anchor] = {}
    amounts = {place: value for place, value in enumerate(values) if place not in anchors}
    for one, other in _equal_pairs(extents, alike):
        difference = _difference(sums, one, other)
        if not difference:
            continue
        changed = _one_given_up(sums, difference, weight, extents)
        if changed is not None:
            sums = changed
            continue
        anew, new_amounts = _chosen_anew(sums, difference, amounts)
        if _measurable(anew, extents):
            sums, amounts = anew, new_amounts
    free = {amount for each in sums for amount in each}
    whole = tuple({amount: int(c) for amount, c in each.items()} for each in sums)
    return Ties(whole, {amount: amounts[amount] for amount in sorted(free)})


def _difference(sums: Sequence[Sum], one: Extent, other: Extent) -> dict[int, Fraction]:
    """What must be zero for two extents to be equal."""
    return _plus(
        _plus(sums[one.high], sums[one.low], -1), _plus(sums[other.high], sums[other.low], -1), -1
    )


def _one_given_up(
    sums: Sequence[dict[int, Fraction]],
    zero: Sum,
    weight: Sequence[float],
    extents: Sequence[Extent],
) -> list[dict[int, Fraction]] | None:
    """The sums with one amount told by the others, or None where no ruler would find a place."""
    for amount in sorted(zero, key=lambda amount: (weight[amount], amount)):
        changed = _without(sums, zero, amount)
        if _measurable(changed, extents):
            return changed
    return None


def _without(
    sums: Sequence[dict[int, Fraction]], zero: Sum, amount: int
) -> list[dict[int, Fraction]]:
    """The sums with an amount told by the others, of which `zero` is to be zero."""
    share = zero[amount]
    instead = {other: -c / share for other, c in zero.items() if other != amount}
    return [_put(each, amount, instead) for each in sums]


def _put(each: dict[int, Fraction], amount: int, instead: Sum) -> dict[int, Fraction]:
    if amount not in each:
        return each
    return _plus({a: c for a, c in each.items() if a != amount}, instead, each[amount])


def _chosen_anew(
    sums: Sequence[dict[int, Fraction]], zero: Sum, amounts: Mapping[int, float]
) -> tuple[list[dict[int, Fraction]], dict[int, float]]:
    """The sums in whole numbers of new amounts.

    Euclid's way: while no coefficient divides all others, an amount with a smaller one takes up
    whole multiples of one with a larger, which changes no set of whole numbers into another.
    """
    changed, values = list(sums), dict(amounts)
    scale = math.lcm(*(c.denominator for c in zero.values()))
    left = {amount: int(c * scale) for amount, c in zero.items()}
    while True:
        least = min(left, key=lambda amount: (abs(left[amount]), amount))
        rest = [amount for amount in sorted(left) if left[amount] % left[least]]
        if not rest:
            whole = {amount: Fraction(c) for amount, c in left.items()}
            return _without(changed, whole, least), values
        larger = rest[0]
        times = left[larger] // left[least]
        # The new least is what the old one was, and `times` the larger.
        instead = {least: Fraction(1), larger: Fraction(-times)}
        changed = [_put(each, least, instead) for each in changed]
        values[least] += times * values[larger]
        left[larger] -= times * left[least]


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


def _measurable(sums: Sequence[Sum], extents: Sequence[Extent]) -> bool:
    """Whether a ruler finds all places on its divisions, whatever the free amounts are rounded to,
    and no rounding adds up."""
    if any(c.denominator > 1 or abs(c) > LARGEST_COEFFICIENT for s in sums for c in s.values()):
        return False
    lengths = (_plus(sums[extent.high], sums[extent.low], -1) for extent in extents)
    # What hangs on several amounts can still be made right by one of them.
    return all(len(s) != 1 or abs(*s.values()) <= LARGEST_OF_EXTENT for s in lengths)
