"""The smallest box of a style for a thing to be packed.

A box is *smallest* when none of its sizes can be made a tenth of a millimetre less by itself
without the thing no longer fitting or the style refusing it. A box with proportions of its own
is smallest when it cannot be scaled down as a whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, cast

from cutlayers.box import Box, Origin, build
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import LARGEST
from cutlayers.construction.style import Style
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import Packing, pack
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Refusal

STEP = 0.1
"""mm; sizes are found to this step, finer than a person folds."""

PATIENCE = 10
"""Growths of a size that is at fault again and again, to four times its length, before the other
sizes are made larger instead."""

LEAP = 1.5
"""By how much the others are made larger then."""

AXES = ("length", "width", "height")
"""The names by which styles call a size along the front, from front to back, and upwards."""

GROWTHS = 80
"""How often a box that is too small is made larger before the search gives up."""

AIMS = 2
"""How often a size is made larger by what it lacks, once and once more for its rounding; what then
is still wrong comes of leaning panels, which lack too much or too little."""

FACTOR = 1.15
"""By how much it is made larger where the style has no size along the axis that is short."""


def fits(box: Box, thing: Item) -> Packing:
    """How a thing fits a box."""
    return pack(thing, box.assembly, box.card)


@dataclass(slots=True)
class _Tries:
    """Boxes of a style that were built on the way to one that holds the thing, each once."""

    style: Style
    card: Card
    thing: Item
    boxes: dict[object, Box] = field(default_factory=dict)

    def box(self, dims: object) -> Box:
        """Raises StyleError where the style refuses the dimensions."""
        if dims not in self.boxes:
            self.boxes[dims] = build(self.style, dims, self.card)
        return self.boxes[dims]

    def packed(self, make: Callable[..., object], values: Mapping[str, Any]) -> Packing | None:
        """How the thing fits the dimensions that `make` makes of the values; None where the style
        refuses them."""
        try:
            return fits(self.box(make(**values)), self.thing)
        except StyleError:
            return None


def box_for_item(style: Style, options: Mapping[str, Any], card: Card, thing: Item) -> Box:
    """The smallest box of a style that holds a thing, with given options.

    `options` are values of the style's own dimensions by name, lengths in mm; sizes among them
    are kept as they are. The others are in the card's measure, rounded up to 0.1 mm where they
    are not the thing's own.

    Raises StyleError: the style's own where it refuses every size that is large enough, or one
    for `holds` where no size of it holds the thing.
    """
    free = [
        name
        for name, (dimension, _) in style.table.items()
        if dimension.group == "size" and dimension.is_length and name not in options
    ]
    tries = _Tries(style, card, thing)
    sizes = _grown(tries, options, free)

    def lacking(name: str, size: float) -> float | None:
        packing = tries.packed(style.dimensions, {**options, **sizes, name: size})
        if packing is None:
            return 0.0
        if packing.fits:
            return None
        return packing.wanting[AXES.index(name)] if name in AXES else 0.0

    for _ in AXES:
        before = dict(sizes)
        for name in free:
            sizes[name] = _lowered(sizes[name], style.table[name][0].least, partial(lacking, name))
        if sizes == before:
            break
    return tries.box(style.dimensions(**options, **sizes))


def scaled_for_item(origin: Origin, thing: Item, along: Sequence[str] = ()) -> Box:
    """The same box, larger or smaller as a whole, so that it just holds another thing.

    All sizes keep their proportions, and so do the options named in `along`; the other options
    keep their lengths. Raises StyleError as `box_for_item` does, and for a name in `along` that
    is no length.
    """
    style, dims = origin.style, cast(Any, origin.dims)
    tries = _Tries(style, origin.card, thing)
    _refuse_flat(style)
    lengths = {
        name: dimension.group
        for name, (dimension, _) in style.table.items()
        if dimension.is_length and getattr(dims, name) is not None
    }
    for name in along:
        if name not in lengths:
            near = style.meant(name, lengths)
            refused = Refusal(reason=f"is no length of {style.name} to be scaled", nearest=near)
            raise StyleError(f"options.{name}", refused)
    scaled = [name for name, group in lengths.items() if group == "size" or name in along]

    def box(factor: float) -> dict[str, float]:
        return {name: up(getattr(dims, name) * factor) for name in scaled}

    def good(factor: float) -> bool:
        packing = tries.packed(partial(replace, dims), box(factor))
        return packing is not None and packing.fits

    largest = max(getattr(dims, name) for name in scaled)
    factor = smallest_factor(good, largest)
    if factor is None:
        raise _no_box(style, thing)
    return tries.box(replace(dims, **box(factor)))


def smallest_factor(good: Callable[[float], bool], largest: float) -> float | None:
    """By how much a box whose largest size is given in mm is to be scaled at least to be good, to
    half a `STEP`; None where growing makes it no better."""
    high = 1.0
    for _ in range(GROWTHS):
        if good(high):
            break
        high *= 1.25
    else:
        return None
    low = high / 2
    while good(low) and low * largest > STEP:
        high, low = low, low / 2
    while (high - low) * largest > STEP / 2:
        middle = (high + low) / 2
        high, low = (middle, low) if good(middle) else (high, middle)
    return high


def _refuse_flat(style: Style) -> None:
    if style.volume is None:
        raise StyleError(
            "holds", f"is no use with {style.name}, which packs nothing; give it a size instead"
        )


def _grown(tries: _Tries, options: Mapping[str, Any], free: Sequence[str]) -> dict[str, float]:
    """Sizes that are large enough, begun at the thing's own."""
    style, thing = tries.style, tries.thing
    _refuse_flat(style)
    room = thing.with_clearance.extents
    sizes = {}
    for name in free:
        own = room[AXES.index(name)] if name in AXES else max(room)
        sizes[name] = max(own, style.table[name][0].least)
    refused: StyleError | None = None
    begun, last, in_a_row = dict(sizes), "", 0
    for _ in range(GROWTHS):
        try:
            packing = fits(tries.box(style.dimensions(**options, **sizes)), thing)
        except StyleError as error:
            refused = error
            blamed = error.field.rpartition(".")[2]
            in_a_row = in_a_row + 1 if blamed == last else 1
            last = blamed
            # A size at fault is made larger by itself; an option's fault may go in a larger box.
            grow, factor = [blamed] if blamed in free else free, FACTOR
            if blamed in free and in_a_row > PATIENCE and len(free) > 1:
                # It was not too small but too large for the others.
                sizes[blamed] = begun[blamed]
                grow, factor, in_a_row = [name for name in free if name != blamed], LEAP, 0
            sizes |= {name: up(sizes[name] * factor) for name in grow}
            if max(sizes.values(), default=0.0) > LARGEST or not free:
                raise
            continue
        refused = None
        if packing.fits:
            return sizes
        more = dict(zip(AXES, packing.wanting, strict=True))
        if all(name in AXES for name in free):
            sizes = {name: up(size + more[name]) for name, size in sizes.items()}
        else:
            sizes = {name: up(size * FACTOR) for name, size in sizes.items()}
    if refused is not None:
        raise refused
    raise _no_box(style, thing)


def _lowered(start: float, least: float, lacking: Callable[[float], float | None]) -> float:
    """The smallest size on the grid from `least` to `start` that will do, or `start` itself.

    `lacking` tells by how many mm a size is too small: 0 where that is not known, None where it
    will do. Taken for granted: what is large enough stays good up to `start`.

    Every try builds a box, so few are made. Most often `start` is as small as can be, and one step
    less is tried first. Then what is left is halved; but a size that tells what it lacks is made
    that much larger, and if that will do, one step less is tried.
    """
    first = high = math.ceil(start / STEP - 1e-9)
    low = math.ceil(least / STEP - 1e-9) - 1
    at, aimed, aims = high - 1, False, AIMS
    while low < at < high:
        lacks = lacking(_at(at))
        if lacks is None:
            high = at
            at, aimed = high - 1 if aimed else (high + low) // 2, False
        else:
            low = at
            aimed = lacks > 0 and aims > 0
            at = min(low + math.ceil(lacks / STEP), high - 1) if aimed else (high + low) // 2
            aims -= aimed
    return start if high == first else _at(high)


def _at(index: int) -> float:
    return round(index * STEP, 6)


def up(size: float) -> float:
    """A size in mm rounded up to `STEP`."""
    return _at(math.ceil(size / STEP - 1e-6))


def _no_box(style: Style, thing: Item) -> StyleError:
    measures = tuple(thing.measures.values())
    sizes = " × ".join("{}" for _ in measures)
    reason = f"a {thing.shape} of {sizes}, which no size of {style.name} was found for"
    return StyleError("holds", reason, lengths=measures)
