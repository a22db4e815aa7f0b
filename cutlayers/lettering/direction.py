"""Which way each part of a line of text runs, and in which order the parts are seen.

Source: Unicode Standard Annex #9, revision 6.3 and later: rules P2 to L2. Most are those of a
library; it knows no bracket pairs (rule N0), which therefore stand here. Isolates, by which a
program sets off a part, are not looked at: nobody types them.
"""

from __future__ import annotations

import itertools
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

Part = TypeVar("Part")

STRONG = {"L": "L", "R": "R", "AL": "R", "EN": "R", "AN": "R"}
"""What counts as a direction in rule N0; numbers run with what is written to the left."""

SPACES = ("WS", "B", "S", "BN")

OPEN_AT_MOST = 63
"""Brackets open at a time; of a line with more no pairs are looked for (BD16)."""


def levels(text: str) -> list[int]:
    """The embedding level of each character; an odd one runs to the left."""
    from bidi import algorithm

    line = algorithm.get_empty_storage()
    line["base_level"] = base = algorithm.get_base_level(text)
    line["base_dir"] = "R" if base % 2 else "L"
    algorithm.get_embedding_levels(text, line)
    for place, character in enumerate(line["chars"]):
        character["place"] = place
    algorithm.explicit_embed_and_overrides(line)
    if not line["chars"]:
        return [base] * len(text)
    algorithm.resolve_weak_types(line)
    for run in line["runs"]:
        _pair_brackets(line["chars"][run["start"] : run["start"] + run["length"]], run["sor"])
    algorithm.resolve_neutral_types(line, False)
    algorithm.resolve_implicit_levels(line, False)
    found = [base] * len(text)  # marks that rule X9 takes out have no width, wherever they stand
    for character in line["chars"]:
        found[character["place"]] = character["level"]
    for character in reversed(line["chars"]):  # L1: spaces at the end lie at the line's own end
        if character["orig"] not in SPACES:
            break
        found[character["place"]] = base
    return found


def in_visual_order(parts: Sequence[Part], level: Callable[[Part], int]) -> list[Part]:
    """Rule L2: from the highest level down to the lowest odd one, stretches of that level or above
    are turned round."""
    order = list(parts)
    known = list(map(level, order))
    lowest_odd = min((each for each in known if each % 2), default=1)
    for least in range(max(known, default=0), lowest_odd - 1, -1):
        turned: list[Part] = []
        for high, stretch in itertools.groupby(order, lambda part: level(part) >= least):  # noqa: B023
            run = list(stretch)
            turned += run[::-1] if high else run
        order = turned
    return order


def _pair_brackets(run: Sequence[dict[str, Any]], before: str) -> None:
    """Rule N0: both brackets of a pair run as what they hold does, or else as what stands before.

    `run` are the library's characters of one level, their weak types resolved; `before` is the
    direction at its start.
    """
    along = "R" if run[0]["level"] % 2 else "L"
    against = "L" if along == "R" else "R"
    strong = [STRONG.get(character["type"], "") for character in run]
    for opening, closing in sorted(_pairs(run)):
        inside = strong[opening + 1 : closing]
        if along in inside:
            way = along
        elif against in inside:
            context = next(filter(None, reversed(strong[:opening])), before)
            way = against if context == against else along
        else:
            continue
        for bracket in (opening, closing):
            for place in range(bracket, len(run)):
                if place > bracket and run[place]["orig"] != "NSM":
                    break  # marks over a bracket run with it
                run[place]["type"] = strong[place] = way


def _pairs(run: Sequence[dict[str, Any]]) -> Iterator[tuple[int, int]]:
    """Places of brackets that belong together (BD16)."""
    from bidi.mirror import MIRRORED

    open_: list[tuple[int, str]] = []
    found = []
    for place, character in enumerate(run):
        if character["type"] != "ON":
            continue
        sign = unicodedata.normalize("NFC", character["ch"])
        kind, partner = unicodedata.category(sign), MIRRORED.get(sign)
        if kind == "Ps" and partner:
            if len(open_) == OPEN_AT_MOST:
                return
            open_.append((place, partner))
        elif kind == "Pe":
            for depth in range(len(open_) - 1, -1, -1):
                if open_[depth][1] == sign:
                    found.append((open_[depth][0], place))
                    del open_[depth:]
                    break
    yield from found
