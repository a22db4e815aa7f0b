"""The nearest known word to one that was mistyped."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def nearest(word: str, known: Iterable[str], likeness: float = 0.6) -> str | None:
    """The known word most like `word`, whatever its case; None where nothing is like it.

    `likeness` is the least that counts, 0 for anything to 1 for the word itself.

    >>> nearest("calliper", ["caliper", "grain"])
    'caliper'
    """
    return next(iter(near_misses(word, known, likeness)), None)


def near_misses(
    word: str, known: Iterable[str], likeness: float = 0.6, most: int = 3
) -> tuple[str, ...]:
    """Up to `most` known words like `word`, the most like first.

    >>> near_misses("lid", ["lid-tight", "lid-loose", "grain"], 0.4)
    ('lid-tight', 'lid-loose')
    """
    by_lower = {name.lower(): name for name in sorted(known)}
    found = difflib.get_close_matches(word.lower(), sorted(by_lower), n=most, cutoff=likeness)
    return tuple(by_lower[each] for each in found)


def meant(word: str, known: Iterable[str]) -> str | None:
    """What was meant, perhaps, for people: up to three known words that have the word in them, or
    else are like it.

    >>> meant("lid", ["lid-tight", "grain", "lid-loose"])
    'lid-tight or lid-loose'
    """
    names = tuple(known)
    near = [name for name in names if word.lower() in name][:3] or near_misses(word, names)
    return " or ".join(near) or None
