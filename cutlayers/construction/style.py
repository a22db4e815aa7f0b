"""What a box style is: a table of dimensions and a function that returns nets.

The dimensions are fields of a frozen dataclass, declared with `size`, `option`, `count`,
`angle`, `choice` and `flag`: the same declarations that other tables of users' files have, beside
the table of a job that each stands in. Reading, schema, help and documentation are made of them.
"""

from __future__ import annotations

import dataclasses
import importlib
import math
import pkgutil
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any, Literal

from cutlayers.frozen import frozen
from cutlayers.net import Net
from cutlayers.reading.declared import Flag, Length, Number, Whole, Word
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

Measure = Literal["inside", "score", "outside"]
Group = Literal["size", "option"]

DEGREES = "degrees"

LARGEST = 2000.0
"""mm; no sheet in the trade of this tool is larger, so a longer panel is a slip of the unit."""


LEAST_INSIDE = 1.0
"""mm of room a box must have each way; with less there is nothing to pack, nor to fold."""


NAMED = 1e-6
"""mm; the last bits of a sum must not make a limit of 8 mm refuse the 8 mm that it names."""

_STYLES = "cutlayers.construction.styles"


@frozen
class Dimension:
    """One dimension of a style: the table of a job that it stands in, and what it may be there.

    A value's help goes on from the dimension's name, "height" "of the walls".
    """

    group: Group
    value: Length | Whole | Number | Word | Flag

    @property
    def is_length(self) -> bool:
        """Whether it is a length, in mm."""
        return isinstance(self.value, Length)

    @property
    def least(self) -> float:
        """The least number that it may be. Raises TypeError for words."""
        return self._limits.least

    @property
    def most(self) -> float:
        """The largest number that it may be. Raises TypeError for words."""
        return self._limits.most

    @property
    def _limits(self) -> Length | Whole | Number:
        if isinstance(self.value, Word | Flag):
            raise TypeError("words have no limits")
        return self.value


def size(help: str, *, example: float, minimum: float = 1.0, maximum: float = LARGEST) -> Any:
    """A length in the job's `size` table, in mm; `example` is what `cutlayers new` writes."""
    return _field(Dimension("size", Length(minimum, maximum, help)), example)


def option(
    help: str, *, default: float | None, minimum: float = 0.0, maximum: float = LARGEST
) -> Any:
    """A length in the job's `options` table, in mm; None lets the style choose a proportion."""
    return _field(Dimension("option", Length(minimum, maximum, help)), default)


def count(help: str, *, default: int, minimum: int, maximum: int, group: Group = "option") -> Any:
    """A whole number."""
    return _field(Dimension(group, Whole(minimum, maximum, help)), default)


def angle(help: str, *, default: float, minimum: float, maximum: float) -> Any:
    """An angle in degrees."""
    return _field(Dimension("option", Number(minimum, maximum, DEGREES, help)), default)


def choice(help: str, *, default: str, choices: tuple[str, ...]) -> Any:
    """One of a few words."""
    return _field(Dimension("option", Word(help, choices)), default)


def flag(help: str, *, default: bool) -> Any:
    """Yes or no."""
    return _field(Dimension("option", Flag(help)), default)


def _field(dimension: Dimension, default: float | str | bool | None) -> Any:
    return dataclasses.field(default=default, metadata={"dimension": dimension})


@frozen
class Card:
    """What a style must know of the card: its caliper in mm, and what a size is measured to.

    Source: creases lie at mid-thickness of a sharp fold, so between two folded walls
    inside = score − caliper and outside = score + caliper (common practice; the FEFCO–ESBO
    code measures blanks between crease centres and allows for thickness in the same way).
    """

    caliper: float
    measure: Measure = "inside"
    coarse: float = 0.0
    """mm; steps between layers that are smaller are not made: no ruler shows them."""

    @property
    def step(self) -> float:
        """How far apart the creases of two layers stand in mm: a caliper, or 0 where that is too
        small to be made."""
        return self.caliper if self.caliper >= self.coarse else 0.0

    def score(self, length: float, folded_ends: int) -> float:
        """Panel length, score to score, for a length given in this measure.

        `folded_ends` is how many ends of the panel turn into a wall: 2 for a base, 1 for a
        wall that ends in a rim, 0 for none.
        """
        half = self.caliper / 2.0 * folded_ends
        return length + {"inside": half, "score": 0.0, "outside": -half}[self.measure]

    def given(self, score: float, folded_ends: int) -> float:
        """The length in this measure of a panel whose length is `score`; undoes `score`."""
        return score - self.score(0.0, folded_ends)

    def panel(self, field: str, length: float, folded_ends: int) -> float:
        """`score`, for a size that must leave room inside the box.

        Raises StyleError naming the field where the card itself fills the size.
        """
        score = self.score(length, folded_ends)
        walls = self.caliper / 2.0 * folded_ends
        if below(score - walls, LEAST_INSIDE):
            least = self.given(LEAST_INSIDE + walls, folded_ends)
            raise StyleError(
                field,
                f"is {length:g} mm, of which card {self.caliper:g} mm thick leaves less than "
                f"{LEAST_INSIDE:g} mm inside",
                at_least(least),
            )
        return score


def below(value: float, least: float) -> bool:
    """Whether a length is too small, by more than the rounding of a limit that is named."""
    return value < least - NAMED


def above(value: float, most: float) -> bool:
    """Whether a length is too large, by more than the rounding of a limit that is named."""
    return value > most + NAMED


def at_least(limit: float, *, zero: str = "") -> Span:
    """Lengths from `limit` mm, rounded up to 0.1 mm, which is not `below` it.

    `zero` says what 0 does, where that is allowed too.
    """
    return Span(_up(limit), unit="mm", zero=zero)


def at_most(limit: float, *, zero: str = "") -> Span:
    """Lengths to `limit` mm, rounded down to 0.1 mm, which is not `above` it."""
    return Span(most=_down(limit), unit="mm", zero=zero)


def between(least: float, most: float, about: str = "") -> Span:
    """Lengths from one limit to another in mm, both rounded inwards; `about` is what they give."""
    return Span(_up(least), _down(most), "mm", about=about)


def _up(limit: float) -> float:
    return math.ceil((limit - NAMED / 2) * 10) / 10


def _down(limit: float) -> float:
    return math.floor((limit + NAMED / 2) * 10) / 10


@frozen
class Style:
    """One box style.

    `dimensions` is a frozen dataclass made of the fields above; `build` takes one and the card
    and returns the nets of one box, the first of them the one the others sit on. `build` raises
    StyleError for dimensions that cannot be folded. `like` names a published family, if sure.
    `volume` is the room between the walls of the first net in mm³, taken to the planes of the
    panels, by a formula of its own; None where a style encloses nothing.
    """

    name: str
    summary: str
    dimensions: type[Any]
    build: Callable[[Any, Card], tuple[Net, ...]]
    like: str = ""
    volume: Callable[[Any, Card], float] | None = None

    @property
    def table(self) -> dict[str, tuple[Dimension, Any]]:
        """Field name → (dimension, default or example), in declared order."""
        return {
            field.name: (field.metadata["dimension"], field.default)
            for field in dataclasses.fields(self.dimensions)
        }


class _ByName(Mapping[str, Style]):
    """Each module of `cutlayers.construction.styles` defines one style as STYLE, which has the
    module's name, hyphens for underscores. A module is loaded when its style is asked for."""

    def __init__(self) -> None:
        package = importlib.import_module(_STYLES)
        modules = sorted(module.name for module in pkgutil.iter_modules(package.__path__))
        self._modules = {module.replace("_", "-"): module for module in modules}

    def __getitem__(self, name: str) -> Style:
        style: Style = importlib.import_module(f"{_STYLES}.{self._modules[name]}").STYLE
        return style

    def __iter__(self) -> Iterator[str]:
        return iter(self._modules)

    def __len__(self) -> int:
        return len(self._modules)


@cache
def styles_by_name() -> Mapping[str, Style]:
    """All styles by their names, each loaded when it is asked for."""
    return _ByName()


def styles() -> tuple[Style, ...]:
    """All styles, by name."""
    return tuple(styles_by_name().values())


def style_named(name: str) -> Style:
    """The style of that name. Raises KeyError for a name that `styles` does not list."""
    return styles_by_name()[name]


__all__ = [
    "Card",
    "Dimension",
    "Measure",
    "Style",
    "above",
    "angle",
    "at_least",
    "at_most",
    "below",
    "choice",
    "count",
    "flag",
    "option",
    "size",
    "style_named",
    "styles",
    "styles_by_name",
]
