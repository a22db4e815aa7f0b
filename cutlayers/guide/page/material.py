"""What to buy: card, blanks, glue, ribbon, and what a box weighs."""

from __future__ import annotations

from collections import Counter

from cutlayers.guide import words
from cutlayers.guide.model import BoxGuide, Guide, HandWork, StockNeed
from cutlayers.guide.page.amounts import (
    bought_length,
    grams_text,
    length_text,
    size_text,
    thickness_text,
)
from cutlayers.guide.page.contents import Material, Needs, Table
from cutlayers.telling.lengths import Unit


def material(guide: Guide) -> Material:
    """The part of the page that is read in the shop."""
    several = len(guide.boxes) > 1
    return Material(
        _cards(guide),
        tuple(_too_large(need, guide) for need in guide.stocks if need.too_large),
        _blanks(guide),
        tuple(_needs(box, box.name if several else "", guide.unit) for box in guide.boxes),
    )


def _cards(guide: Guide) -> Table:
    head = (
        words.STOCK,
        words.SHEETS,
        words.SHEET_SIZE,
        words.THICKNESS,
        words.WEIGHT_PER_AREA,
    )
    rows = tuple(
        (
            need.stock.name,
            words.sheets_needed(need.sheets),
            size_text(need.stock.sheet, guide.unit),
            thickness_text(need.stock.caliper, guide.unit),
            f"{need.stock.grammage:g} g/m²" if need.stock.grammage else "–",
        )
        for need in guide.stocks
    )
    return Table(head, rows)


def _blanks(guide: Guide) -> Table | None:
    if not guide.by_hand:
        return None
    rows = tuple(
        (
            blank.name,
            str(box.count),
            blank.ruler.written(blank.width),
            blank.ruler.written(blank.height),
            stock,
        )
        for box in guide.boxes
        if box.hand is not None
        for blank, stock in box.hand.cut_from
    )
    head = (words.BLANK, words.HOW_MANY, words.WIDE, words.HIGH, words.FROM)
    return Table(head, rows, numbers=(1, 2, 3))


def _too_large(need: StockNeed, guide: Guide) -> tuple[str, ...]:
    sheet = f"{need.stock.name} ({size_text(need.stock.sheet, guide.unit)})"
    ruler = guide.ruler
    return tuple(
        words.too_large(name, f"{ruler.text(width)} × {ruler.written(height)}", sheet)
        for name, width, height in need.too_large
    )


def _needs(box: BoxGuide, heading: str, unit: Unit) -> Needs:
    weight = words.WEIGHT_UNKNOWN
    if box.needs.weight_g is not None:
        weight = words.weight_line(grams_text(box.needs.weight_g))
    return Needs(heading, _glue(box, unit), _closure(box, unit), weight)


def _glue(box: BoxGuide, unit: Unit) -> str:
    glue = box.needs.glue
    if glue is None:
        return words.NO_GLUE
    return words.glue_line(
        glue.tabs,
        length_text(glue.length, unit),
        box.count,
        bought_length(glue.length * box.count, unit),
    )


def _closure(box: BoxGuide, unit: Unit) -> tuple[str, ...]:
    """Holes to punch and ribbon to tie; empty where there are none."""
    if box.hand is not None:
        lines = _told_with_blanks(box.hand)
    else:
        lines = [
            words.cut_holes_line(count, diameter)
            for diameter, count in Counter(
                length_text(hole, unit) for hole in box.needs.holes
            ).items()
        ]
    ribbon = box.needs.ribbon
    if ribbon:
        lines.append(
            words.ribbon_line(
                bought_length(ribbon.length, unit),
                length_text(ribbon.between, unit),
                length_text(ribbon.bow, unit),
                box.count,
                bought_length(ribbon.length * box.count, unit),
            )
        )
    return tuple(lines)


def _told_with_blanks(hand: HandWork) -> list[str]:
    """How many holes of each size; their places are told where the blank is worked."""
    holes = Counter(
        blank.ruler.written(hole.diameter) for blank, _ in hand.cut_from for hole in blank.holes
    )
    return [words.holes_line(count, diameter) for diameter, count in holes.items()]
