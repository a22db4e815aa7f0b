"""What styles refuse, in the same way everywhere: the value found, why, and which ones work."""

from __future__ import annotations

from collections.abc import Callable

from cutlayers.construction.card import Card
from cutlayers.construction.dimension import LARGEST
from cutlayers.construction.spans import above, at_least, at_most, below, can_be_named
from cutlayers.telling.errors import StyleError
from cutlayers.telling.refusals import Span

STEP = 0.05
"""mm; limits that are searched for are found to this, half of what a message names."""

LEFT_OUT = "leaves it out"
"""What 0 does."""

NOTHING = Span(zero=LEFT_OUT)
"""Where 0 is the only length that works."""


def refuse_above(
    field: str,
    value: float,
    most: float,
    why: str,
    *,
    none: bool = False,
    lengths: tuple[float, ...] = (),
) -> None:
    """Raise StyleError for a length larger than `most` mm; `none` says that 0 is allowed too.

    The sentence reads "is VALUE, WHY; it must be at most …"; `lengths` are those that WHY names.
    """
    if above(value, most):
        raise StyleError(
            field, f"is {{}}, {why}", at_most(most, zero=_zero(none)), lengths=(value, *lengths)
        )


def refuse_below(field: str, value: float, least: float, why: str, *, none: bool = False) -> None:
    """Raise StyleError for a length smaller than `least` mm; `none` says that 0 is allowed too."""
    if below(value, least):
        raise StyleError(
            field, f"is {{}}, {why}", at_least(least, zero=_zero(none)), lengths=(value,)
        )


def refuse_unless_none(
    field: str, value: float, least: float, most: float, why: tuple[str, str]
) -> None:
    """Raise StyleError for a length that is not 0 and lies outside of `least` to `most` mm.

    `why` says what is wrong with one too small and with one too large. Where even the least is
    too large, or no tenth of a mm lies between, 0 is the only value named.
    """
    if not value:
        return
    small, large = why
    if below(most, least):
        raise StyleError(field, f"is {{}}, {large}", NOTHING, lengths=(value,))
    too_small = below(value, least)
    if not can_be_named(least, most) and (too_small or above(value, most)):
        raise StyleError(
            field, f"is {{}}, {small if too_small else large}", NOTHING, lengths=(value,)
        )
    refuse_below(field, value, least, small, none=True)
    refuse_above(field, value, most, large, none=True)


def refuse_small(
    card: Card, field: str, given: float, folded_ends: int, least: float, why: str
) -> None:
    """Raise StyleError for a size whose panel, score to score, is smaller than `least` mm."""
    if below(card.score(given, folded_ends), least):
        raise StyleError(
            field, f"is {{}}, {why}", at_least(card.given(least, folded_ends)), lengths=(given,)
        )


def least_that(works: Callable[[float], bool], start: float) -> float:
    """The smallest length above `start` mm that works, where all larger ones do.

    More than the largest sheet where none does. The limit is found to `STEP`, from above.
    """
    step, high = 1.0, start + 1.0
    while not works(high):
        step *= 2
        high = start + step
        if high > 2 * LARGEST:
            return high
    low = max(start, high - step)
    while high - low > STEP:
        middle = (low + high) / 2
        low, high = (low, middle) if works(middle) else (middle, high)
    return high


def _zero(none: bool) -> str:
    return LEFT_OUT if none else ""
