"""The direction of text, against examples of the standard and another implementation of it."""

from __future__ import annotations

import random

import bidi
import pytest

from cutlayers.lettering.direction import in_visual_order, levels

ALEPH, BET, GIMEL = "\u05d0", "\u05d1", "\u05d2"

TRIED = 1500

SIGNS = (
    f"abcé {ALEPH}{BET}{GIMEL} \u0633\u0644\u0627 123 \u0663\u0664 ()[]{{}}<>.,-+/:%$&!"
    "\u0301\u05b0\u064e"
)
"""Letters of both directions, digits of both kinds, signs, brackets, and marks without width."""


def seen(text: str) -> str:
    found = levels(text)
    return "".join(text[at] for at in in_visual_order(range(len(text)), lambda at: found[at]))


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("soap", "soap"),
        (ALEPH + BET + GIMEL, GIMEL + BET + ALEPH),
        (f"a {ALEPH}{BET} b", f"a {BET}{ALEPH} b"),
        (f"{ALEPH} 12", f"12 {ALEPH}"),
        # Rule N0: of a pair that holds what runs against the line, both run with the line.
        (f"{ALEPH} (ab) 12", f"12 )ab( {ALEPH}"),
    ],
)
def test_examples(text: str, order: str) -> None:
    """By hand from Unicode Standard Annex #9. Brackets are turned later, as glyphs."""
    assert seen(text) == order


@pytest.mark.parametrize("seed", range(6))
def test_text_runs_as_another_implementation_has_it(seed: int) -> None:
    """That of the Rust library unicode-bidi, which knows all rules and gives the order alone."""
    for number in range(TRIED // 6):
        chance = random.Random(f"{seed} {number}")
        text = "".join(chance.choice(SIGNS) for _ in range(chance.randint(1, 14)))

        assert seen(text) == bidi.get_display(text), ascii(text)


@pytest.mark.parametrize("text", ["", " ", "\u200f", "\u202b", "\u0301"])
def test_text_of_nothing_to_see_has_levels_too(text: str) -> None:
    """One for each character."""
    assert len(levels(text)) == len(text)
