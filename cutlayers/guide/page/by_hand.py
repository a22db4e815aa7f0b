"""The blanks by hand: for each its drawings, and what is trimmed, scored, cut and punched."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import count

from cutlayers.formats.svg import number
from cutlayers.geometry.strokes import Fold
from cutlayers.guide import drawing_words, hand_words, words
from cutlayers.guide.by_hand import CutStep, HandBlank, Join, Row, ScoreStep
from cutlayers.guide.cut_figure import cut_figure
from cutlayers.guide.figures import Figure, LineKind, sample_line
from cutlayers.guide.fits import Adjustment
from cutlayers.guide.model import Guide, HandWork
from cutlayers.guide.page.contents import Blank, Cut, Drawing, LegendLine, Rounding, Score, Table
from cutlayers.guide.ruler import Ruler
from cutlayers.guide.score_figure import score_figure
from cutlayers.pictures.svg import inline_svg
from cutlayers.telling.findings import Finding
from cutlayers.telling.words import fact_of

LEGEND: dict[LineKind, str] = {
    "cut": drawing_words.CUT,
    "away": drawing_words.SCORE_OUT,
    "towards": drawing_words.SCORE_IN,
    "perforate": drawing_words.PERFORATE,
    "trim": drawing_words.TRIM,
}


def blanks(guide: Guide) -> Iterator[Blank]:
    """Every blank that takes more than trimming, box by box; what rounding did to a box stands
    with its first."""
    numbers = count(1)
    for hand in guide.by_hand:
        rounding = _rounding(hand, guide)
        for blank, _ in hand.cut_from:
            if not blank.only_trimmed:
                yield _blank(blank, rounding, next(numbers))
                rounding = None


def _blank(blank: HandBlank, rounding: Rounding | None, number: int) -> Blank:
    ruler = blank.ruler
    # Points that scores need are marked first; those of cuts alone stand with the cuts.
    early = any(step.joins for step in blank.scores)
    return Blank(
        blank.name,
        rounding,
        _relief(blank),
        _drawing(score_figure(blank, f"blank-{number}"), _scored_kinds(blank), waste=False),
        hand_words.TRIM_FIRST.format(
            width=ruler.written(blank.width), height=ruler.written(blank.height)
        ),
        tuple((mark.name, ruler.text(mark.left), ruler.text(mark.top)) for mark in blank.marks),
        early,
        tuple(_score(step, blank) for step in blank.scores),
        tuple(_cuts(blank, points=bool(blank.marks) and not early, ident=f"cuts-{number}")),
        _holes(blank),
    )


def _relief(blank: HandBlank) -> str:
    size, across = (
        blank.ruler.written(max(length, blank.ruler.step))
        for length in (blank.relief, 2 * blank.relief)
    )
    return hand_words.relief(blank.rounds, across, blank.stops, size)


def _rounding(hand: HandWork, guide: Guide) -> Rounding | None:
    ruler = guide.ruler
    notes = []
    if hand.drawn:
        notes.append(words.NOT_DRAWN)
    if hand.traced:
        notes.append(words.TRACED)
    if hand.too_small:
        notes.append(words.TOO_SMALL)
    elif hand.uneven:
        notes.append(words.UNEVEN)
    reason, adjusted, left = "", [], ""
    if hand.adjustments:
        reason = hand_words.because(_kinds(hand.reasons, guide))
        adjusted = [_adjusted(each, ruler) for each in hand.adjustments]
    told = [_adjusted(each, ruler) for each in hand.far if each not in hand.adjustments]
    if told:
        notes.append(f"{hand_words.FAR}{' '.join(told)}")
    if hand.left:
        left = hand_words.still(_kinds(hand.left, guide))
    if not (notes or reason or left):
        return None
    return Rounding(tuple(notes), reason, tuple(adjusted), left)


def _adjusted(size: Adjustment, ruler: Ruler) -> str:
    return hand_words.adjusted(
        hand_words.HIGH_WORD if size.upright else hand_words.WIDE_WORD,
        size.panels,
        size.net,
        ruler.written(size.nearest),
        ruler.written(size.taken),
    )


def _kinds(faults: Sequence[Finding], guide: Guide) -> list[str]:
    """Faults in words, those of one kind in a net told by the first."""
    kinds: dict[tuple[str, str], list[str]] = defaultdict(list)
    for fault in faults:
        kinds[fault.code, fault.subject.net or ""].append(fact_of(fault, guide.unit))
    return [hand_words.and_more(told[0], len(set(told)) - 1) for told in kinds.values()]


def _score(step: ScoreStep, blank: HandBlank) -> Score:
    head = (hand_words.DISTANCE, hand_words.FROM_TO, hand_words.WHAT)
    rows = tuple(_row(row, blank) for row in step.rows)
    return Score(
        hand_words.score_heading(step.position.face, step.fold),
        hand_words.position_sentence(step.turn, step.position),
        Table(head, rows, numbers=(0,)) if rows else None,
        _between(step.joins, blank),
    )


def _cuts(blank: HandBlank, *, points: bool, ident: str) -> Iterator[Cut]:
    perforated = not blank.perforations.empty
    if perforated:
        yield Cut(
            hand_words.PERFORATING,
            hand_words.PERFORATE_NOTE,
            _cut_tables(blank.perforations, blank),
            _between(blank.perforations.joins, blank),
            points=False,
            drawing=None,
        )
    if not blank.cuts.empty:
        kinds: list[LineKind] = ["cut", "perforate", "trim"] if perforated else ["cut", "trim"]
        yield Cut(
            hand_words.CUTTING,
            hand_words.CUT_NOTE,
            _cut_tables(blank.cuts, blank),
            _between(blank.cuts.joins, blank),
            points,
            _drawing(cut_figure(blank, ident), kinds, waste=True),
        )


def _cut_tables(step: CutStep, blank: HandBlank) -> tuple[Table, ...]:
    tables = (
        (step.down, (hand_words.AT_LEFT, hand_words.SPAN_TOP), hand_words.DOWN),
        (step.across, (hand_words.AT_TOP, hand_words.SPAN_LEFT), hand_words.ACROSS),
    )
    return tuple(
        Table(head, tuple(_row(row, blank)[:2] for row in rows), numbers=(0,), caption=name)
        for rows, head, name in tables
        if rows
    )


def _row(row: Row, blank: HandBlank) -> tuple[str, str, str]:
    ruler = blank.ruler
    spans = ", ".join(f"{ruler.text(span.start)} to {ruler.text(span.end)}" for span in row.spans)
    return (
        ruler.text(row.at),
        hand_words.THROUGH if row.through else spans,
        hand_words.fold_names(row.names),
    )


def _between(joins: Sequence[Join], blank: HandBlank) -> str:
    """Lines between points."""
    if not joins:
        return ""
    return hand_words.join_sentence(joins, [blank.ruler.written(join.rise) for join in joins])


def _holes(blank: HandBlank) -> Table | None:
    ruler = blank.ruler
    rows = tuple(
        (hole.panel, ruler.text(hole.diameter), ruler.text(hole.left), ruler.text(hole.top))
        for hole in blank.holes
    )
    return Table(hand_words.HOLE_COLUMNS, rows, numbers=(1, 2, 3)) if rows else None


def _scored_kinds(blank: HandBlank) -> list[LineKind]:
    kinds: list[LineKind] = ["cut"]
    folds = {step.fold for step in blank.scores}
    if Fold.MOUNTAIN in folds:
        kinds.append("away")
    if Fold.VALLEY in folds:
        kinds.append("towards")
    if not blank.perforations.empty:
        kinds.append("perforate")
    return [*kinds, "trim"]


def _drawing(figure: Figure, kinds: Sequence[LineKind], *, waste: bool) -> Drawing:
    caption = drawing_words.scale(f"{100 * figure.scale:.0f}")
    if figure.numbered:
        caption += f" {drawing_words.numbered(figure.numbered)}"
    legend = tuple(LegendLine(_sample(kind), LEGEND[kind]) for kind in kinds)
    size = {"class": "blank", "width": f"{number(figure.scene.width, 2)}mm"}
    return Drawing(inline_svg(figure.scene, figure.ident, size), caption, legend, waste)


def _sample(kind: LineKind) -> str:
    hidden = {"class": "sample", "aria-hidden": "true", "focusable": "false"}
    return inline_svg(sample_line(kind), "", hidden)
