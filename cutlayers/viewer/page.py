"""A page with boxes to be turned and folded, in one file that needs nothing else.

It asks for nothing from any network: a policy in it allows its own script and style alone, by their
sums. Where there is no script, or no 3-D drawing, and in print, a picture of the finished box
stands in the same place.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING

from cutlayers.frozen import frozen
from cutlayers.guide import words
from cutlayers.guide.assembly_words import assembly_step
from cutlayers.guide.model import BoxGuide, Guide
from cutlayers.guide.page.amounts import length_text
from cutlayers.pictures.foldable import Foldable
from cutlayers.pictures.svg import inline_svg
from cutlayers.telling.pages import environment
from cutlayers.viewer.data import box_data
from cutlayers.viewer.files import one_script, style_text

if TYPE_CHECKING:
    from cutlayers.telling.lengths import Unit

UNSEEN = ("blanks", "pens")
"""What a folded view needs nothing of."""


@frozen
class StepLine:
    """One step in words, and when it is over; None for one in which no panel moves."""

    words: str
    end: float | None


def box_page(guide: Guide, foldables: Sequence[Foldable]) -> bytes:
    """The page, UTF-8, of the boxes of a guide, each as it folds; lengths are in the guide's unit.
    The same boxes give the same bytes."""
    shown, data = [], []
    for number, (box, foldable) in enumerate(zip(guide.boxes, foldables, strict=True), 1):
        steps = tuple(_steps(box, foldable, guide.unit))
        shown.append(
            {
                "name": box.name,
                "about": words.about(box.style, box.summary),
                "sizes": _sizes(box, guide.unit),
                "steps": steps,
                "still": inline_svg(box.picture, f"s{number}", {}) if box.picture else "",
            }
        )
        told = {step: line.words for step, line in zip(box.steps, steps, strict=True)}
        folded = box_data(foldable, told.__getitem__)
        data.append({name: each for name, each in folded.items() if name not in UNSEEN})
    script, style = _code()
    policy = (
        f"default-src 'none'; script-src '{_sum(script)}'; style-src '{_sum(style)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )
    template = environment("cutlayers.viewer").get_template("box.html")
    return template.render(
        title=guide.title,
        policy=policy,
        boxes=shown,
        data=_for_script(data),
        script=script,
        style=style,
    ).encode()


@cache
def _code() -> tuple[str, str]:
    return one_script("copy"), style_text("look.css") + style_text("copy.css")


def _sum(text: str) -> str:
    """A source in the sense of Content Security Policy Level 3, section 2.3.1."""
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


def _sizes(box: BoxGuide, unit: Unit) -> str:
    named = [(name, length_text(size, unit)) for name, size in box.sizes]
    return words.sizes(named, box.measure)


def _steps(box: BoxGuide, foldable: Foldable, unit: Unit) -> Iterator[StepLine]:
    """All steps as the guide tells them, with when they are done."""
    over = {each.step: each.end for each in foldable.steps}
    for step in box.steps:
        diameter = length_text(step.diameter, unit)
        text = assembly_step(step, diameter, name_net=len(box.nets) > 1, by_hand=False)
        yield StepLine(text.replace("*", ""), over.get(step))


def _for_script(data: object) -> str:
    """Data as JSON that stands between tags of HTML: nothing in it ends or begins one."""
    text = json.dumps(data, separators=(",", ":"), ensure_ascii=False)
    return text.replace("<", r"\u003c")
