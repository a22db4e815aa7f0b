"""The files of the letters of single strokes hold what their distribution holds."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import cutlayers.lettering
from cutlayers.lettering.glyphs import TYPEFACES, Typeface

NAMES: dict[Typeface, str] = {
    "roman": "rowmans",
    "roman-double": "rowmand",
    "script": "scripts",
    "serif-italic": "timesi",
    "blackletter": "gothiceng",
}
"""Our names for the faces and those of their data. Faces whose full stop does not stand on the base
line are left out."""

BASE_LINE = 9
"""Where capitals stand in the distribution, y down."""


@pytest.mark.parametrize("face", TYPEFACES)
def test_every_stroke_is_as_it_was_distributed(face: Typeface) -> None:
    """Source: the Hershey fonts in the Usenet distribution of 1986, read by an independent
    library; x from the left margin, y up from the base line."""
    from HersheyFonts import HersheyFonts

    file = Path(cutlayers.lettering.__path__[0]) / "faces" / f"{face}.json"
    ours = json.loads(file.read_text(encoding="utf-8"))
    theirs = HersheyFonts(load_default_font=NAMES[face]).all_glyphs

    assert ours.keys() == theirs.keys()
    for character, (advance, strokes) in ours.items():
        glyph = theirs[character]
        assert advance == glyph.char_width
        assert [list(zip(stroke[::2], stroke[1::2], strict=True)) for stroke in strokes] == [
            [(x - glyph.left_offset, BASE_LINE - y) for x, y in stroke] for stroke in glyph.strokes
        ]
