"""Drawings from outside: their lines read, told apart, cleaned, and made nets that fold up.

understand             a file to nets, as a user asks for it
answers                how the nets fold up, where nobody said it
understood_facts       all of it as data for scripts
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "Answer",
    "Asked",
    "DrawnIn",
    "Ends",
    "Shows",
    "Understood",
    "answers",
    "by_reason",
    "fold_name",
    "looks_of",
    "size_of",
    "understood_facts",
    "understood_of",
]

if TYPE_CHECKING:
    from cutlayers.bringing.facts import by_reason, looks_of, size_of, understood_facts
    from cutlayers.bringing.folding_up import Answer, answers
    from cutlayers.bringing.rules import Asked, DrawnIn, Ends, Shows
    from cutlayers.bringing.understanding import Understood, fold_name, understood_of
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "facts": "by_reason looks_of size_of understood_facts",
            "folding_up": "Answer answers",
            "rules": "Asked DrawnIn Ends Shows",
            "understanding": "Understood fold_name understood_of",
        },
    )
