"""The guide as one HTML page that needs nothing else: no scripts, no network, no fonts.

Headings stand in order, drawings have titles and descriptions, tables have heads. What colour
tells, line types and words tell as well.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from typing import TYPE_CHECKING

from cutlayers.guide import assembly_words, drawing_words, hand_words, kit_words, words
from cutlayers.guide.model import BoxGuide, Caution, Guide, Paper
from cutlayers.guide.page.amounts import bought_length, length_text
from cutlayers.guide.page.contents import (
    Blank,
    BoxLine,
    Found,
    KitWork,
    MachineWork,
    Page,
    StepLine,
    Together,
    Top,
)
from cutlayers.guide.page.machine import machine_work
from cutlayers.guide.page.material import material
from cutlayers.guide.page.pictures import box_after_step, box_on_its_way, finished_box
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.lengths import Unit
from cutlayers.telling.pages import environment
from cutlayers.telling.saying import listed
from cutlayers.telling.words import in_words_without_severity

if TYPE_CHECKING:
    from jinja2 import Environment

    from cutlayers.box import Press, Tool, Way

PAPER_MM = {"A4": "210mm 297mm", "letter": "215.9mm 279.4mm"}
"""Sources: ISO 216:2007; ASME Y14.1 size A."""

MOST_ALIKE = 2
"""Findings of one code that the page tells."""

CAUTIONS = {
    Caution.KNIFE: words.KNIFE,
    Caution.SMALL_PARTS: words.SMALL_PARTS,
    Caution.FOOD: words.FOOD,
}


def write_page(guide: Guide, paper: Paper) -> bytes:
    """The page, UTF-8; `paper` is what it prints on."""
    template = templates().get_template("page.html")
    return template.render(page=contents(guide, paper)).encode()


@cache
def templates() -> Environment:
    """The page's templates, with the words of the guide."""
    found = environment("cutlayers.guide.page")
    found.globals |= {"words": words, "drawing_words": drawing_words}
    found.globals |= {"hand_words": hand_words, "kit_words": kit_words}
    return found


def contents(guide: Guide, paper: Paper) -> Page:
    """Everything that stands on the page."""
    return Page(
        guide.title,
        PAPER_MM[paper],
        _top(guide),
        material(guide),
        _machine(guide),
        _blanks(guide),
        tuple(_assemblies(guide)),
        tuple(_found(guide.findings, guide.unit)),
        _cautions(guide),
        _kit(guide),
    )


def _machine(guide: Guide) -> MachineWork | None:
    if guide.machine is None:
        return None
    return machine_work(guide.machine, guide.unit, each=guide.kit is None)


def _kit(guide: Guide) -> KitWork | None:
    if guide.kit is None:
        return None
    from cutlayers.guide.page.kit import kit_work

    return kit_work(guide, guide.kit)


def _blanks(guide: Guide) -> tuple[Blank, ...]:
    if not guide.by_hand:
        return ()
    from cutlayers.guide.page.by_hand import blanks

    return tuple(blanks(guide))


def _top(guide: Guide) -> Top:
    notes = []
    if guide.by_hand:
        notes.append(words.ruler_note(guide.ruler.written(guide.ruler.step)))
    if guide.machine and not guide.kit:
        notes.append(words.EXACT_NOTE if guide.by_hand else words.BY_HAND_NOTE)
    several = len(guide.boxes) > 1
    pictures = [finished_box(box, box.name if several else "") for box in guide.boxes]
    return Top(
        _subtitle(guide),
        tuple(_box_line(box, guide) for box in guide.boxes),
        " ".join(notes),
        tuple(picture for picture in pictures if picture),
    )


def _subtitle(guide: Guide) -> str:
    boxes = sum(box.count for box in guide.boxes)
    machine = guide.machine.title if guide.machine else None
    return words.subtitle(boxes, machine, guide.kit.rows if guide.kit else None)


def _box_line(box: BoxGuide, guide: Guide) -> BoxLine:
    named = [(name, length_text(size, guide.unit)) for name, size in box.sizes]
    return BoxLine(
        words.box_line(box.count, box.name, box.style, box.summary),
        words.sizes(named, box.measure),
    )


def _assemblies(guide: Guide) -> Iterator[Together]:
    """How the boxes go together; those that do so alike are told once, unless their steps are
    drawn."""
    alike: dict[object, list[BoxGuide]] = defaultdict(list)
    for number, box in enumerate(guide.boxes):
        told = (box.steps, box.nets, box.bent, box.unreached)
        alike[number if box.step_pictures else told].append(box)
    for boxes in alike.values():
        names = listed([box.name for box in boxes]) if len(guide.boxes) > 1 else ""
        yield _together(boxes[0], names, guide)


def _together(box: BoxGuide, names: str, guide: Guide) -> Together:
    several, by_hand = len(box.nets) > 1, box.hand is not None
    steps = []
    for number, step in enumerate(box.steps, 1):
        diameter = (
            guide.ruler.written(guide.ruler.hole(step.diameter))
            if by_hand
            else length_text(step.diameter, guide.unit)
        )
        text = assembly_words.assembly_step(step, diameter, name_net=several, by_hand=by_hand)
        scene = box.step_pictures.get(step)
        picture = box_after_step(box, scene, number) if scene else None
        notes = [_bent(way, guide.unit) for way in box.bent if way.step == step]
        notes += _unreached(press for press in box.unreached if press.step == step)
        steps.append(StepLine(text, tuple(notes), picture, scene.title if scene else ""))
    return Together(names, box_on_its_way(box), tuple(steps))


def _bent(way: Way, unit: Unit) -> str:
    if way.between is None:
        return assembly_words.bows(_about(way.bow, unit))
    if way.slid:
        return assembly_words.rubs(*way.between, length_text(way.depth, unit))
    return assembly_words.bend(*way.between, _about(way.radius, unit))


def _unreached(presses: Iterable[Press]) -> Iterator[str]:
    """A sentence for each tool, with all that it is for."""
    by_tool: dict[Tool, list[str]] = defaultdict(list)
    for press in presses:
        by_tool[press.tool].append(press.panel)
    return (assembly_words.pressed(panels, tool) for tool, panels in by_tool.items())


def _about(radius: float, unit: Unit) -> str:
    return bought_length(float(f"{radius:.2g}"), unit)


def _found(findings: Sequence[Finding], unit: Unit) -> Iterator[Found]:
    """The findings, those of one code together. Of warnings and notes the first few of a code stand
    for all: art on every panel has one for each."""
    kinds: dict[tuple[Severity, str], list[str]] = {}
    for finding in findings:
        told = kinds.setdefault((finding.severity, finding.code), [])
        told.append(f"{in_words_without_severity(finding, unit)}.")
    for (severity, _), told in kinds.items():
        told = list(dict.fromkeys(told))
        most = len(told) if severity is Severity.ERROR else MOST_ALIKE
        yield from (Found(severity.value, text) for text in told[:most])
        if told[most:]:
            yield Found(severity.value, words.more_alike(len(told) - most))


def _cautions(guide: Guide) -> tuple[str, ...]:
    own = [CAUTIONS[caution] for caution in guide.cautions]
    if guide.machine is None:
        return (*own, words.TRAINED)
    return (*own, *dict.fromkeys(line for card in guide.machine.cards for line in card.cautions))
