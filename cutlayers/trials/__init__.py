"""Trial cuts: small jobs whose measured results fill a machine's profile.

A *trial* is one question about a machine, such as how wide its cut is. Its *sheet* is cut, *read*
with a ruler or by eye, and the *readings* are turned into values with their uncertainty. A
*ladder* is a row of the same shape made with rising settings, its *rungs*.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

__all__ = [
    "KINDS",
    "Recorded",
    "Setup",
    "Trial",
    "in_plain_words",
    "record",
    "record_command",
    "set_up",
    "trial",
    "trial_files",
]

if TYPE_CHECKING:
    from cutlayers.trials.files import set_up, trial_files
    from cutlayers.trials.instructions import record_command
    from cutlayers.trials.model import Setup, Trial
    from cutlayers.trials.recording import Recorded, in_plain_words, record
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "files": "set_up trial_files",
            "instructions": "record_command",
            "model": "Setup Trial",
            "recording": "Recorded in_plain_words record",
        },
    )

KINDS: dict[str, str] = {
    "kerf": "how wide a laser or wheel cuts: strips pushed together, a tongue in notches",
    "offset": "who leads a drag blade round corners, its offset and overcut: stars and squares",
    "settings": "which setting cuts clean: a ladder of small shapes, a layer for each",
    "score": "which setting folds best: a ladder of strips, along and across the grain",
    "fold": "how much of its thickness a crease takes: strips folded up, measured outside",
    "perforation": "which ties tear clean and still hold: a ladder of tear lines",
    "register": "how far work lands from print: printed scales, then crossed",
    "pen": "how wide a pen's line is, and the smallest letters that can be read",
    "squareness": "whether the bed is square and true to scale: two sides, two diagonals",
}
"""The trials and what each is for, in the order in which a new profile needs them."""


def trial(kind: str) -> Trial:
    """The trial of a kind; raises KeyError for one that is not in KINDS."""
    KINDS[kind]
    found: Trial = import_module(f"cutlayers.trials.{kind}").TRIAL
    return found
