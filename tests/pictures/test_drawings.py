"""The picture of what was understood of a drawing."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlayers.bringing.folding_up import answers
from cutlayers.bringing.rules import Asked
from cutlayers.bringing.understanding import understood_of
from cutlayers.lettering.single_stroke import text_width
from cutlayers.pictures.drawings import drawing_scene
from cutlayers.pictures.scene import Label

STRIP = """<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="60mm"
viewBox="0 0 {wide} 60"><path fill="none" stroke="red" d="M0 0H{wide}V60H0Z"/>
<path stroke="blue" stroke-dasharray="2 1" d="M{fold} 0V60"/></svg>"""


@pytest.mark.parametrize("wide", [4.0, 12.0, 60.0])
def test_every_word_stands_on_the_paper(tmp_path: Path, wide: float) -> None:
    """Names, angles and the legend of a strip that is narrower than they are."""
    drawing = tmp_path / "strip.svg"
    drawing.write_text(STRIP.format(wide=wide, fold=wide / 8))
    understood = understood_of(drawing, Asked())

    scene = drawing_scene(understood, answers(understood))

    labels = [item for item in scene.items if isinstance(item, Label)]
    assert {"panel 1", "panel 2", "cut", "score"} <= {label.lines[0] for label in labels}
    for label in labels:
        (words,), (x, y) = label.lines, label.at
        long = text_width(words, label.cap)
        before, after = (long / 2, long / 2) if label.anchor == "middle" else (0.0, long)
        if label.turned:
            assert before <= y <= scene.height - before and label.cap <= x <= scene.width
        else:
            assert before <= x <= scene.width - after and label.cap <= y <= scene.height
