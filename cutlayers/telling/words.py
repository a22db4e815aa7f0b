"""The one place where facts become sentences: findings, and what is refused.

A line tells the place, what was found there, what would be right, and what to do, in the unit of
the job. Command line, report, guide and page all take their words from here.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable

from cutlayers.telling.findings import Cure, Edit, Finding, Subject
from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import Quantity
from cutlayers.telling.saying import Say
from cutlayers.telling.sentences import card, drawings, folding, laying, packing, working
from cutlayers.telling.sentences.sentence import Sentence, Telling
from cutlayers.telling.written import shown, write_place

SENTENCES: dict[str, Telling] = {
    **drawings.SENTENCES,
    **folding.SENTENCES,
    **packing.SENTENCES,
    **card.SENTENCES,
    **working.SENTENCES,
    **laying.SENTENCES,
}
"""By code, how each finding is told."""


def sentence_of(finding: Finding, unit: Unit = "mm") -> Sentence:
    """What was found, what would be right and what to do, each as a clause."""
    return SENTENCES[finding.code](finding, Say(unit))


def in_words(finding: Finding, unit: Unit = "mm") -> str:
    """A finding on one line.

    Lengths are told in `unit`; its severity stands in front.
    """
    return f"{finding.severity}: {in_words_without_severity(finding, unit)}"


MOST_LINES = 12
"""Lines of a table that are told by their numbers."""


def lines_of(findings: Iterable[Finding], unit: Unit = "mm") -> list[str]:
    """A line for each finding, its code behind the severity; what reads alike is told once. Below
    findings one after the other that have the same cure, a line says it. The last line says how
    to read more about a code."""
    cures: dict[str, Cure | None] = {}
    codes: dict[str, None] = {}
    for finding in findings:
        head = f"{finding.severity} [{finding.code}]"
        cures.setdefault(f"{head}: {in_words_without_severity(finding, unit)}", finding.cure)
        codes.setdefault(finding.code)
    lines: list[str] = []
    for cure, told_so in itertools.groupby(cures, key=lambda line: cures[line]):
        alike = list(told_so)
        lines += alike
        if cure is not None:
            which = "cure" if len(alike) == 1 else f"cure of these {len(alike)}"
            lines.append(f"  {which}: {cure_in_words(cure, unit)}")
    if codes:
        lines.append(f"to read more of a [code]: cutlayers explain {next(iter(codes))}")
    return lines


def cure_in_words(cure: Cure, unit: Unit = "mm") -> str:
    """What to edit: "[[piece]] 2, options.clearance → 1.5 mm"."""
    return "; ".join(_edited(edit, Say(unit)) for edit in cure.edits)


def _edited(edit: Edit, say: Say) -> str:
    match edit.path:
        case ("piece", int() as index, *inner):
            place = f"[[piece]] {index + 1}, {write_place(tuple(inner))}"
        case _:
            place = write_place(edit.path)
    if edit.value is None:
        return f"{place} left out"
    match edit.value:
        case Quantity(kind="length") as size:
            return f"{place} → {say.limit(size)}"
        case Quantity(value=value) | value:
            return f"{place} → {shown(value)}"


def in_words_without_severity(finding: Finding, unit: Unit = "mm") -> str:
    """A finding on one line without its severity."""
    words = sentence_of(finding, unit)
    clauses = (fact_of(finding, unit), words.right, words.cure)
    return "; ".join(clause for clause in clauses if clause)


def fact_of(finding: Finding, unit: Unit = "mm") -> str:
    """The place and what was found there, without limits or advice."""
    return f"{place_of(finding, unit)}: {sentence_of(finding, unit).found}"


def place_of(finding: Finding, unit: Unit = "mm") -> str:
    """What a finding speaks of: "soap: lid: front and back"."""
    say = Say(unit)
    subject = finding.subject
    if finding.code.startswith("lid-"):
        names = [str(each.panel) for each in finding.named if each.panel is not None]
        return _place(subject, say, panel=" and ".join(names))
    if finding.code == "narrow-strip" and finding.others:
        places = [_place(each, say, pointed=False) for each in finding.named]
        return f"{' and '.join(places)}{_pointed(subject, say)}"
    return _place(subject, say)


def _place(subject: Subject, say: Say, *, panel: str = "", pointed: bool = True) -> str:
    steps = [
        *([subject.file] if subject.file is not None else []),
        *([_lines(subject.lines)] if subject.lines else []),
        *([f"column {subject.column}"] if subject.column and not subject.lines else []),
        *([f"sheet {subject.sheet}"] if subject.sheet is not None else []),
        *([f"register mark {subject.mark}"] if subject.mark is not None else []),
        *([f"stock {subject.stock}"] if subject.stock is not None else []),
        *([subject.operation] if subject.operation is not None else []),
        *_of_a_box(subject, panel),
    ]
    text = ": ".join(steps)
    if subject.art is not None:
        art = _art(subject.art)
        text = f"{text}, {art}" if text else art
    if subject.part is not None:
        text = f"{text}, {subject.part}"
    return text + (_pointed(subject, say) if pointed else "")


def _art(place: str) -> str:
    """Art in the order of the job file, for people, who know its piece by name.

    >>> _art("piece[1].facing[2].art[1]")
    'art 1 of facing 2'
    """
    *_, inner, own = re.findall(r"(\w+)\[(\d+)\]", f"piece[0].{place}")
    kind, number = inner
    return f"art {own[1]}" if kind == "piece" else f"art {own[1]} of {kind} {number}"


def _of_a_box(subject: Subject, panel: str) -> list[str]:
    panel = panel or " | ".join(subject.panels)
    # A box of one net is often named like it; then one of the two is enough.
    net = None if subject.piece == subject.net else subject.net
    steps = (subject.piece, net, panel, subject.edge, subject.feature)
    return [step for step in steps if step]


def _lines(lines: tuple[int, ...]) -> str:
    more = len(lines) - MOST_LINES
    told = [*map(str, lines[:MOST_LINES]), *([f"{more} more"] if more > 0 else [])]
    return f"line{'' if len(lines) == 1 else 's'} {', '.join(told)}"


def _pointed(subject: Subject, say: Say) -> str:
    return "" if subject.at is None else f" at {say.point(subject.at)}"
