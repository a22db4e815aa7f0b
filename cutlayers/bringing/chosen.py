"""Which lines a user's rules hold for: of selections that hold one line, that which says most."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import fields

from cutlayers.bringing.lines import DrawnLine, Hints, Kind
from cutlayers.bringing.rules import Rules, Selection
from cutlayers.frozen import frozen
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Place, Span
from cutlayers.telling.written import shown, write_place

MOST_TOLD = 12
"""Names of a drawing that a refusal lists."""

SAME_WIDTH = 1e-3
"""Relative difference of two widths that is rounding alone."""

Said = Callable[[Hints], tuple[object, ...]]

SAID: Mapping[str, Said] = {
    "layer": lambda hints: (hints.layer,),
    "colour": lambda hints: (hints.colour,),
    "dash": lambda hints: (bool(hints.dash),),
    "width": lambda hints: (hints.width,),
    "group": lambda hints: hints.group,
    "name": lambda hints: (hints.name,),
}
"""What a line has that a condition may hold for."""


@frozen
class _Asked:
    """A selection with its kind and place, and its conditions apart."""

    kind: Kind
    place: Place
    conditions: tuple[tuple[str, object], ...]
    numbers: frozenset[int]

    @property
    def weight(self) -> int:
        """How many conditions it has; numbers, which mean these lines and no others, outweigh all
        that lines may look like."""
        return len(self.conditions) + (len(SAID) + 1) * bool(self.numbers)


def chosen(lines: Sequence[DrawnLine], rules: Rules) -> Mapping[int, tuple[Kind, str]]:
    """Lines that rules hold for, by number: their kind, and what was said.

    Raises ValueRefused, placed in the piece, for a selection that says nothing or holds no line,
    and for a line that two kinds hold with as many conditions.
    """
    asked = list(_asked(rules))
    if not asked:
        return {}
    held: dict[_Asked, set[int]] = {}
    cache: dict[tuple[Hints, _Asked], bool] = {}
    found: dict[int, tuple[Kind, str]] = {}
    for line in lines:
        holding = []
        for each in asked:
            key = (line.hints, each)
            if key not in cache:
                cache[key] = all(
                    _is(value, has)
                    for name, value in each.conditions
                    for has in [SAID[name](line.hints)]
                )
            if cache[key] and (not each.numbers or line.number in each.numbers):
                holding.append(each)
                held.setdefault(each, set()).add(line.number)
        if holding:
            most = max(each.weight for each in holding)
            best = [each for each in holding if each.weight == most]
            for other in best[1:]:
                if other.kind is not best[0].kind:
                    raise _tie(line, best[0], other)
            found[line.number] = (best[0].kind, _evidence(best[0]))
    for each in asked:
        _check(each, held.get(each, set()), lines)
    return found


def _asked(rules: Rules) -> Iterator[_Asked]:
    for kind in Kind:
        selections: tuple[Selection, ...] = getattr(rules, kind.value)
        for index, selection in enumerate(selections):
            place: Place = ("lines", kind.value, index)
            conditions = tuple(
                (field.name, value)
                for field in fields(selection)
                if field.name != "numbers" and (value := getattr(selection, field.name)) is not None
            )
            if not conditions and not selection.numbers:
                raise _at(place, ValueRefused("says nothing of a line", allowed=(*SAID, "numbers")))
            yield _Asked(kind, place, conditions, frozenset(selection.numbers))


def _is(wanted: object, has: tuple[object, ...]) -> bool:
    if isinstance(wanted, str):
        return wanted.casefold() in (str(each).casefold() for each in has)
    if isinstance(wanted, float | int) and not isinstance(wanted, bool):
        return any(
            isinstance(each, float | int) and math.isclose(each, wanted, rel_tol=SAME_WIDTH)
            for each in has
        )
    return wanted in has


def _check(asked: _Asked, held: set[int], lines: Sequence[DrawnLine]) -> None:
    """What holds no line is a slip, most likely in a name."""
    for name, value in asked.conditions:
        known = {each for line in lines for each in SAID[name](line.hints)} - {None, ""}
        if not _is(value, tuple(known)):
            words = sorted(map(str, known))[:MOST_TOLD]
            if isinstance(value, str) and words:
                near = nearest(value, words)
                refused = ValueRefused(found=value, allowed=tuple(words), nearest=near)
            else:
                refused = ValueRefused(f"is {shown(value)}, and no line of the drawing is so")
            raise _at((*asked.place, name), refused)
    numbers = {line.number for line in lines}
    if missing := asked.numbers - numbers:
        allowed = Span(1, max(numbers, default=0), whole=True, about="the drawing's lines")
        raise _at((*asked.place, "numbers"), ValueRefused(found=min(missing), allowed=allowed))
    if not held:
        raise _at(asked.place, ValueRefused("holds no line: none has all that it asks for"))


def _tie(line: DrawnLine, one: _Asked, other: _Asked) -> ValueRefused:
    first = write_place(one.place[1:])
    reason = f"holds line {line.number}, which {first} holds too, with as many conditions"
    return _at(other.place, ValueRefused(reason, advice="say more in one of them"))


def _evidence(asked: _Asked) -> str:
    told = [f"{name} {shown(value)}" for name, value in asked.conditions]
    return f"said of {', '.join([*told, *(['its number'] if asked.numbers else [])])}"


def _at(place: Place, refused: ValueRefused) -> ValueRefused:
    refused.refusal = refused.refusal.under(*place)
    return refused
