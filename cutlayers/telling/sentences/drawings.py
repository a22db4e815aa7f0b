"""Sentences of what is doubtful in a drawing from outside."""

from __future__ import annotations

from cutlayers.telling.findings import Finding
from cutlayers.telling.quantities import Quantity
from cutlayers.telling.saying import Say, listed, many, number
from cutlayers.telling.sentences.sentence import Sentence, Telling
from cutlayers.telling.written import shown

DONE = {
    "cut": "cut",
    "score": "scored",
    "perforate": "perforated",
    "draw": "drawn",
    "register": "taken for register marks",
    "ignore": "left out",
}
"""What is done to lines of each kind."""


def _doubtful(finding: Finding, say: Say) -> Sentence:
    (lines,) = finding.measured
    kind: str = finding.detail("kind")
    numbers: tuple[str, ...] = finding.detail("lines")
    return Sentence(
        f"{_lines(lines, numbers)} {'is' if number(lines) == 1 else 'are'} {DONE[kind]}: "
        f"{finding.detail('evidence')}",
        cure=f"say what they are, lines.{kind} = [{{ numbers = [{', '.join(numbers)}] }}]",
    )


def _loose_ends(finding: Finding, say: Say) -> Sentence:
    ends, longest = finding.measured
    return Sentence(
        f"{many(ends, 'line ends', 'lines end')} at nothing, the longest of them "
        f"{say.length(longest)} long, line {listed(finding.detail('lines'))}",
        cure="close the outline in the drawing, write a larger join, or leave the line out",
    )


def _not_folded(finding: Finding, say: Say) -> Sentence:
    (folds,) = finding.measured
    names: tuple[str, ...] = finding.detail("folds")
    return Sentence(
        f"{many(folds, 'fold has', 'folds have')} no angle, so it stays flat and is not checked "
        "as a box",
        cure=f"write folds = {{ {shown(names[0])} = 90, … }}",
    )


def _guessed(finding: Finding, say: Say) -> Sentence:
    (folds,) = finding.measured
    names: tuple[str, ...] = finding.detail("folds")
    return Sentence(
        f"{many(folds, 'fold turns', 'folds turn')} by a guess that nothing tests: "
        f"{_named(folds, tuple(map(shown, names)))}",
        cure=f"fold one by hand, then write folds = {{ {shown(names[0])} = 90, … }} as they turn",
    )


def _bends(finding: Finding, say: Say) -> Sentence:
    (folds,) = finding.measured
    names: tuple[str, ...] = finding.detail("folds")
    return Sentence(
        f"panels bend along {many(folds, 'fold', 'folds')}, "
        f"{_named(folds, tuple(map(shown, names)))}, so "
        "whether the box closes is not checked; it is cut and scored as drawn",
    )


def _lines(lines: Quantity, numbers: tuple[str, ...]) -> str:
    return f"line{'' if number(lines) == 1 else 's'} {_named(lines, numbers)}"


def _named(several: Quantity, names: tuple[str, ...]) -> str:
    """Some of several by their names, and how many more there are."""
    more = number(several) - len(names)
    return listed((*names, f"{more} more") if more else names)


SENTENCES: dict[str, Telling] = {
    "drawing-doubtful": _doubtful,
    "drawing-loose-ends": _loose_ends,
    "drawing-not-folded": _not_folded,
    "drawing-guessed": _guessed,
    "drawing-bends": _bends,
}
