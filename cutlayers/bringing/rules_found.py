"""The rules that say of a drawing's lines what was found out about them, as short as may be."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from cutlayers.bringing.lines import DrawnLine, Kind, Meant

Chosen = dict[str, Any]
"""A selection as a job has it."""

Look = Callable[[DrawnLine], Chosen]


def _layer(line: DrawnLine) -> Chosen:
    return {"layer": line.hints.layer} if line.hints.layer else {}


def _colour(line: DrawnLine) -> Chosen:
    return {"colour": line.hints.colour} if line.hints.colour else {}


def _dash(line: DrawnLine) -> Chosen:
    return {"dash": bool(line.hints.dash)}


LOOKS: tuple[Look, ...] = (
    _layer,
    _colour,
    lambda line: {**_layer(line), **_colour(line)},
    lambda line: {**_colour(line), **_dash(line)},
    lambda line: {**_layer(line), **_colour(line), **_dash(line)},
    _dash,
)
"""What tells lines apart, as people draw: by layer, by colour, by both; then by dashes."""


def rules_found(lines: Sequence[Meant]) -> Mapping[Kind, list[Chosen]]:
    """Selections that give every line that is not doubtful its kind, by kind: by one way to tell
    lines apart where that tells the kinds apart, otherwise by their numbers."""
    sure = [each for each in lines if not each.doubtful]
    doubtful = [each for each in lines if each.doubtful]
    for look in LOOKS:
        found = dict(_told_apart(sure, look))
        if found and not any(_key(look(each.line)) in found for each in doubtful):
            return _by_kind((kind, dict(key)) for key, kind in found.items())
    numbers: dict[Kind, list[int]] = defaultdict(list)
    for each in sure:
        numbers[each.kind].append(each.line.number)
    return {kind: [{"numbers": found}] for kind, found in numbers.items()}


def _told_apart(
    lines: Sequence[Meant], look: Look
) -> Iterator[tuple[tuple[tuple[str, Any], ...], Kind]]:
    """What each look means; nothing where one means two kinds, or says nothing of a line."""
    kinds: dict[tuple[tuple[str, Any], ...], set[Kind]] = defaultdict(set)
    for each in lines:
        kinds[_key(look(each.line))].add(each.kind)
    if () not in kinds and all(len(found) == 1 for found in kinds.values()):
        for key, (kind,) in kinds.items():
            yield key, kind


def _key(chosen: Chosen) -> tuple[tuple[str, Any], ...]:
    return tuple(chosen.items())


def _by_kind(selections: Iterator[tuple[Kind, Chosen]]) -> Mapping[Kind, list[Chosen]]:
    found: dict[Kind, list[Chosen]] = defaultdict(list)
    for kind, chosen in selections:
        found[kind].append(chosen)
    return found
