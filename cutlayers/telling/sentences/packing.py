"""Sentences of what is found by packing a thing into its box."""

from __future__ import annotations

from cutlayers.telling.findings import Finding, Subject
from cutlayers.telling.saying import Say, listed
from cutlayers.telling.sentences.sentence import Sentence, Telling

WORST = 4
"""Panels in the way of a thing that are named; more would hide the advice."""


def _item_too_large(finding: Finding, say: Say) -> Sentence:
    clearance = finding.detail("clearance")
    wanting = f" with its clearance of {say.limit(clearance)}" if clearance else ""
    return Sentence(
        f"a {_thing(finding, say)}{wanting} is in the way of {_in_the_way(finding, say)}",
        "it has to be clear of all panels",
        _larger(finding, say),
    )


def _item_pressed(finding: Finding, say: Say) -> Sentence:
    return Sentence(
        f"a {_thing(finding, say)} goes between the walls, but presses on "
        f"{_in_the_way(finding, say)}",
        "it has to be clear of flaps and glue tabs",
        _larger(finding, say),
    )


def _item_too_tall(finding: Finding, say: Say) -> Sentence:
    above = say.length(finding.measured[0])
    return Sentence(
        f"a {_thing(finding, say)} stands {above} above the rim",
        "it has to end at the rim",
        f"make the box {above} higher",
    )


def _thing(finding: Finding, say: Say) -> str:
    shape = finding.detail("shape")
    extents = finding.detail("extents")
    long, _, high = extents
    size = {
        "cuboid": say.size(extents),
        "cylinder": f"⌀ {say.size((long, high))}",
        "egg": f"{say.length(high)} × ⌀ {say.length(long)}",
        "sphere": f"⌀ {say.length(long)}",
    }[shape]
    return f"{shape} {size}"


def _in_the_way(finding: Finding, say: Say) -> str:
    worst = list(zip(finding.others, finding.measured, strict=True))[:WORST]
    return ", ".join(f"{_label(each)} by {say.length(amount)}" for each, amount in worst)


def _label(panel: Subject) -> str:
    return f"{panel.net}: {panel.panel}"


def _larger(finding: Finding, say: Say) -> str:
    words = zip(finding.detail("larger"), ("longer", "wider", "higher"), strict=True)
    return f"make the box {listed([f'{say.length(by)} {word}' for by, word in words if by.value])}"


SENTENCES: dict[str, Telling] = {
    "item-too-large": _item_too_large,
    "item-too-tall": _item_too_tall,
    "item-pressed": _item_pressed,
}
