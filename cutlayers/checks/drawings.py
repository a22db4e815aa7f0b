"""Is the drawing that a box was made from understood, and can the box be folded up?

What is doubtful of a drawing is told as long as the job does not say it: once it does, the
finding is gone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from cutlayers.bringing.lines import Kind
from cutlayers.job.drawings import Brought
from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.quantities import count, length

NAMED = 12
"""Lines whose numbers a finding names; more are counted."""


def check_drawings(job: Job) -> Iterator[Finding]:
    """What is doubtful of each drawing, in the order in which it is read."""
    for order in job.orders:
        if order.drawing is not None:
            yield from _doubtful(order.name, order.drawing)
            yield from _loose(order.name, order.drawing)
            yield from _not_folded(order.name, order.drawing)
            yield from _guessed(order.name, order.drawing)
            yield from _bends(order.name, order.drawing)


def _doubtful(piece: str, drawing: Brought) -> Iterator[Finding]:
    """A warning for lines of which only their place says what they are for.

    Measured: how many lines of the drawing are taken for one kind for one reason, where that reason
    is not sure.

    Why: a crease that is cut falls apart, and a cut that is scored does not open; a drawing may
    have both in one colour.

    Cure: look at the lines, which 'cutlayers bring' numbers in its picture, and say under `lines`
    what they are, score = [{ numbers = [3, 4] }].

    Source: geometry of the drawing; common practice, no source.
    """
    found: dict[tuple[Kind, str], list[int]] = defaultdict(list)
    for each in drawing.understood.meant:
        if each.doubtful:
            found[each.kind, each.evidence].append(each.line.number)
    for (kind, evidence), numbers in found.items():
        yield Finding(
            "drawing-doubtful",
            Severity.WARNING,
            Subject(piece=piece),
            (count(len(numbers)),),
            details=details(
                kind=kind.value, evidence=evidence, lines=tuple(map(str, numbers[:NAMED]))
            ),
        )


def _loose(piece: str, drawing: Brought) -> Iterator[Finding]:
    """A warning for lines that end where nothing else does.

    Measured: how many ends lie by themselves, and how long the longest line with such an end is.

    Why: an outline with a gap holds no panel, and a crease that ends inside of one leaves it stiff;
    a cut that does is a slit, which may be meant.

    Cure: close the gap in the drawing, or write a larger `join`; say `ignore` of what is no line of
    the box.

    Source: geometry of the drawing.
    """
    dangling = drawing.understood.cleaned.dangling
    if dangling:
        longest = max(dangling, key=lambda edge: edge.segment.length)
        yield Finding(
            "drawing-loose-ends",
            Severity.WARNING,
            Subject(piece=piece, at=longest.segment.point_at(0.5)),
            (count(len(dangling)), length(longest.segment.length)),
            details=details(lines=tuple(str(number) for number in longest.sources)),
        )


def _not_folded(piece: str, drawing: Brought) -> Iterator[Finding]:
    """A warning for a net of which a fold has no angle: it stays flat.

    Measured: how many of its folds have none.

    Why: a net that does not fold up is cut and scored as drawn, but nobody looked whether it
    closes, whether tabs land and panels pass each other.

    Cure: write the angles under `folds`, "panel 1 | panel 2" = 90; a mountain is above 0.
    'cutlayers bring' finds them where the shape closes.

    Source: none is needed.
    """
    for net, names in drawing.unknown.items():
        yield Finding(
            "drawing-not-folded",
            Severity.WARNING,
            Subject(piece=piece, net=net),
            (count(len(names)),),
            details=details(folds=names[:NAMED]),
        )


def _guessed(piece: str, drawing: Brought) -> Iterator[Finding]:
    """A warning for folds whose angle is a guess.

    Measured: how many of a net's folds have an angle that 'cutlayers bring' could not test: no
    sides meet, and no tab lands, by which another angle would be wrong.

    Why: the folded box, and what is checked of it, are as good as the guess; a gusset or a flap may
    fold the other way.

    Cure: fold one by hand, or look at it in 'cutlayers open', and write the angle as a number under
    `folds`, "panel 1 | panel 2" = 90 in place of { guess = 90 }.

    Source: none is needed.
    """
    for net, names in drawing.guessed.items():
        yield Finding(
            "drawing-guessed",
            Severity.WARNING,
            Subject(piece=piece, net=net),
            (count(len(names)),),
            details=details(folds=names[:NAMED]),
        )


def _bends(piece: str, drawing: Brought) -> Iterator[Finding]:
    """A note for a net whose panels bend along folds: it stays flat.

    Measured: how many folds are curved, or hold two panels along several lines.

    Why: rigid panels do not turn about a curve. The net is cut and scored as drawn; whether it
    closes, and whether tabs land, nobody looked.

    Cure: try one by hand. Where a fold was meant to be straight, draw it so.

    Source: J. Duncan and J. Duncan, "Folded developables", Proceedings of the Royal Society A 383
    (1982).
    """
    for net, names in drawing.bent.items():
        yield Finding(
            "drawing-bends",
            Severity.NOTE,
            Subject(piece=piece, net=net),
            (count(len(names)),),
            details=details(folds=names[:NAMED]),
        )
