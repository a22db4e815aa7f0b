"""A box that folds, as the scripts in a browser take it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cutlayers.box.steps import Step
    from cutlayers.pictures.foldable import Foldable


def box_data(foldable: Foldable, words: Callable[[Step], str]) -> dict[str, Any]:
    """Plain values for JSON; `words` tell a step in a sentence."""
    panels = [
        _plain(each)
        | {"hung": _plain(each.hung) if each.hung else None}
        | {"swings": [_plain(swing) for swing in each.swings]}
        for each in foldable.panels
    ]
    steps = [
        {"start": each.start, "end": each.end, "words": words(each.step)} for each in foldable.steps
    ]
    return _plain(foldable) | {
        "panels": panels,
        "steps": steps,
        "blanks": [_plain(each) for each in foldable.blanks],
        "reaches": [_plain(each) for each in foldable.reaches],
    }


def _plain(value: Any) -> dict[str, Any]:
    return {name: getattr(value, name) for name in value.__slots__}
