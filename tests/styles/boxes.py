"""Random boxes of any style, drawn from its own table of dimensions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from cutlayers import box as built
from cutlayers.construction.style import Card, Dimension, Style
from cutlayers.net import Net
from cutlayers.telling.errors import StyleError

SMALL, LARGE = 15.0, 250.0
"""mm; sizes of things people pack. What a style's own limits forbid is left out."""

LARGEST_OPTION = 80.0
"""mm; options are flaps, tabs and holes, much smaller than the box."""

REPAIRS = 30
"""How often a refused value is drawn anew before the attempt is given up."""


@dataclass(frozen=True, slots=True)
class Box:
    """What a style built, and from what."""

    style: Style
    dims: Any
    card: Card
    nets: tuple[Net, ...]

    @property
    def built(self) -> built.Box:
        """As the rest of the package takes it."""
        return built.Box.of(self.nets, self.card.caliper)

    def __repr__(self) -> str:
        """Short, since nets are long: enough to build the box again."""
        return f"{self.style.name}: {self.dims} of {self.card}"


def _values(dimension: Dimension, default: object) -> st.SearchStrategy[Any]:
    low, high = dimension.minimum, dimension.maximum
    match dimension.kind:
        case "length" if dimension.group == "size":
            least, most = min(max(low, SMALL), high), max(min(high, LARGE), low)
            return st.floats(least, most).map(lambda value: round(value, 2))
        case "length":
            numbers = st.floats(low, max(low, min(high, LARGEST_OPTION)))
            return st.one_of(st.just(default), st.just(default), numbers)
        case "angle":
            return st.one_of(st.just(default), st.floats(low, high))
        case "count":
            return st.integers(int(low), int(high))
        case "choice":
            return st.sampled_from(dimension.choices)
        case _:
            return st.booleans()


@st.composite
def boxes(draw: st.DrawFn, style: Style) -> Box:
    """A box that its style agrees to build.

    Where the style refuses, the field that its message blames is put back to its default (an
    option) or drawn anew (a size), as a user would do; so refusals are exercised as well: each
    must blame a field that exists.
    """
    card = Card(
        round(draw(st.floats(0.1, 1.0)), 3), draw(st.sampled_from(("inside", "score", "outside")))
    )
    values = {
        name: draw(_values(dimension, default), label=name)
        for name, (dimension, default) in style.table.items()
    }
    for _ in range(REPAIRS):
        dims = style.dimensions(**values)
        try:
            return Box(style, dims, card, style.build(dims, card))
        except StyleError as error:
            name = error.field.rpartition(".")[2]
            assert name in style.table, f"{error} blames a field that {style.name} does not have"
            dimension, default = style.table[name]
            if dimension.group == "option" and values[name] != default:
                values[name] = default
            else:
                values[name] = draw(_values(dimension, default), label=f"{name} again")
    assume(False)
    raise AssertionError
