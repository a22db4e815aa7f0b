"""Random boxes of any style, drawn from its own table of dimensions: one way for all tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from hypothesis import HealthCheck, assume, settings
from hypothesis import strategies as st

from cutlayers.box import Box
from cutlayers.construction.card import Card, Measure
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.net import Net
from cutlayers.reading.declared import Length, Number, Whole, Word
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import MM_PER, Unit

REPAIRS = 30
"""How often a refused value is drawn anew before the attempt is given up."""

THOROUGH = 300
"""Examples from which a run counts as one with `--hypothesis-profile=thorough`."""

STEPS: Mapping[Unit, tuple[float, ...]] = {
    "mm": (1.0, 0.1, 0.01),
    "cm": (1.0, 0.1),
    "in": (MM_PER["in"] / 16,),
}
"""mm; what lengths are whole numbers of where a person writes them in a unit."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How far the boxes spread; a style's own limits hold besides."""

    sizes: tuple[float, float] = (15.0, 250.0)
    """mm; things that people pack."""

    options: float | None = 80.0
    """mm; the longest option: flaps, tabs and holes are much smaller than the box. None leaves
    every option, counts and choices too, as it comes."""

    odd: bool = False
    """Now and then anything that the table allows, up to its limits."""

    calipers: tuple[float, float] = (0.1, 1.0)
    """mm; from paper to board."""

    measures: tuple[Measure, ...] = ("inside", "score", "outside")

    unit: Unit | None = None
    """Lengths that a person would write in this unit; None for those of all units, and for any
    number at all."""


@dataclass(frozen=True, slots=True)
class RandomBox:
    """What a style built, and from what."""

    style: Style
    dims: Any
    card: Card
    nets: tuple[Net, ...]

    @property
    def built(self) -> Box:
        """As the rest of the package takes it."""
        return Box.of(self.nets, self.card)

    def __repr__(self) -> str:
        """Short, since nets are long: enough to build the box again."""
        return f"{self.style.name}: {self.dims} of {self.card}"


def trying(few: int) -> settings:
    """So many examples, as boxes of each style, or as many as the thorough profile asks for."""
    asked = settings().max_examples
    return settings(
        max_examples=asked if asked >= THOROUGH else few,
        deadline=None,
        suppress_health_check=[
            HealthCheck.too_slow,
            HealthCheck.filter_too_much,
            HealthCheck.data_too_large,
        ],
    )


@cache
def lengths(least: float, most: float, unit: Unit | None = None) -> st.SearchStrategy[float]:
    """Lengths in mm as they are written in a unit, or in any."""
    steps = STEPS[unit] if unit else tuple(step for each in STEPS.values() for step in each)

    def stepped(value: float, step: float) -> float:
        return min(max(round(round(value / step) * step, 9), least), most)

    numbers = st.floats(least, most)
    written = st.builds(stepped, numbers, st.sampled_from(steps))
    return written if unit else written | numbers


def _value(dimension: Dimension, default: Any, spread: Spread) -> st.SearchStrategy[Any]:
    if dimension.group == "option" and spread.options is None:
        return st.just(default)
    match dimension.value:
        case Length(least=low, most=high):
            if dimension.group == "size":
                least, most = spread.sizes
                usual = lengths(min(max(low, least), high), max(min(high, most), low), spread.unit)
            else:
                most = max(low, min(high, spread.options or 0.0))
                usual = st.just(default) | lengths(low, most, spread.unit)
            if not spread.odd:
                return usual
            return st.one_of(usual, usual, st.floats(low, high), st.sampled_from((low, high)))
        case Number(least=low, most=high):
            return st.just(default) | st.floats(low, high)
        case Whole(least=low, most=high):
            return st.integers(low, high)
        case Word(choices=choices):
            return st.sampled_from(choices)
        case _:
            return st.booleans()


@cache
def _values(style: Style, spread: Spread) -> Mapping[str, st.SearchStrategy[Any]]:
    """One strategy for each dimension, made once: making them takes longer than drawing."""
    return MappingProxyType(
        {
            name: _value(dimension, default, spread)
            for name, (dimension, default) in style.table.items()
        }
    )


@cache
def dimensions(style: Style, spread: Spread = Spread()) -> st.SearchStrategy[Any]:
    """A style's dimensions, which it may refuse."""
    return st.builds(style.dimensions, **_values(style, spread))


@cache
def cards(spread: Spread = Spread()) -> st.SearchStrategy[Card]:
    """What a box is made of, and what its sizes are measured to."""
    calipers = st.floats(*spread.calipers).map(lambda caliper: round(caliper, 3))
    return st.builds(Card, calipers, st.sampled_from(spread.measures))


@st.composite
def _boxes(draw: st.DrawFn, style: Style, spread: Spread) -> RandomBox:
    card = draw(cards(spread))
    drawn = _values(style, spread)
    values = {name: draw(value) for name, value in drawn.items()}
    for _ in range(REPAIRS):
        dims = style.dimensions(**values)
        try:
            return RandomBox(style, dims, card, style.build(dims, card))
        except StyleError as error:
            name = error.field.rpartition(".")[2]
            assert name in style.table, f"{error} blames a field that {style.name} does not have"
            dimension, default = style.table[name]
            if dimension.group == "option" and values[name] != default:
                values[name] = default
            else:
                values[name] = draw(drawn[name])
    assume(False)
    raise AssertionError


@cache
def boxes(style: Style, spread: Spread = Spread()) -> st.SearchStrategy[RandomBox]:
    """Boxes that their style agrees to build.

    Where it refuses, the field that its message blames is put back to its default (an option) or
    drawn anew (a size), as a user would do; so refusals are exercised as well: each must blame a
    field that exists.
    """
    return _boxes(style, spread)
