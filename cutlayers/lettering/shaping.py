"""From text to the glyphs of a font, in the order and at the places in which they are seen.

Characters are not letters: Arabic joins them, Hebrew runs to the left, a mark stands over its
letter, and a V slides under a T. A line is cut into runs of one direction and one script; each is
shaped by the font's own rules, and the runs are put in visual order.

Source: Unicode Standard Annex #24 (scripts); the OpenType specification, as HarfBuzz carries it
out.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.lettering.direction import in_visual_order, levels

SPANNING = ("Zyyy", "Zinh")
"""Scripts of what belongs to any: digits, signs and spaces, and marks that take their letter's."""


@frozen
class Glyph:
    """One glyph: its number in the font, where its origin stands on the line, in the font's units,
    and the place in the text of the first character that it shows. Number 0 is of no character
    that the font has."""

    number: int
    x: float
    y: float
    character: int


@frozen
class _Run:
    """Characters from `start` to before `end`, of one level and one script."""

    start: int
    end: int
    level: int
    script: str


def shaped(text: str, face: Any) -> tuple[Glyph, ...]:
    """The glyphs of one line of text from left to right, kerned, joined and with ligatures as the
    font, a HarfBuzz `Face`, has it."""
    import uharfbuzz as hb

    font = hb.Font(face)
    points = list(map(ord, text))
    glyphs: list[Glyph] = []
    x = 0.0
    for run in in_visual_order(list(_runs(text)), lambda run: run.level):
        buffer = hb.Buffer()
        buffer.add_codepoints(points, run.start, run.end - run.start)
        buffer.direction = "rtl" if run.level % 2 else "ltr"
        buffer.script = run.script
        hb.shape(font, buffer)
        for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
            at = (x + place.x_offset, float(place.y_offset))
            glyphs.append(Glyph(info.codepoint, *at, info.cluster))
            x += place.x_advance
    return tuple(glyphs)


def _runs(text: str) -> Iterator[_Run]:
    found = zip(levels(text), _scripts(text), strict=True)
    start = 0
    for (level, script), characters in itertools.groupby(found):
        end = start + sum(1 for _ in characters)
        yield _Run(start, end, level, script)
        start = end


def _scripts(text: str) -> list[str]:
    """The script of each character by ISO 15924: what belongs to any takes that of what stands
    before it, at the beginning that of what follows."""
    from fontTools.unicodedata import script

    found = [script(character) for character in text]
    first = next((each for each in found if each not in SPANNING), "Latn")
    last = first
    for place, each in enumerate(found):
        last = found[place] = last if each in SPANNING else each
    return found
