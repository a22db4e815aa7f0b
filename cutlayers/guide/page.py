"""The job sheet as one HTML page that needs nothing else: no scripts, no network, no fonts.

Headings stand in order, drawings have titles and descriptions, tables have heads. What colour
tells, line types and words tell as well.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import count

from lxml import etree

from cutlayers.geometry.strokes import Fold, Operation
from cutlayers.guide import words
from cutlayers.guide.by_hand import CutStep, HandBlank, Join, Row, ScoreStep
from cutlayers.guide.figures import Figure, Kind, cut_figure, sample_line, score_figure
from cutlayers.guide.markup import Element, make
from cutlayers.guide.material import Punch
from cutlayers.guide.model import BoxGuide, Caution, Guide, Paper, StockNeed
from cutlayers.guide.style_sheet import style_sheet
from cutlayers.report.report import SheetRow
from cutlayers.telling.lengths import Unit, format_length
from cutlayers.telling.words import fact_of, told_plainly

POLICY = "default-src 'none'; style-src 'unsafe-inline'"
"""A browser that honours it fetches nothing and runs nothing."""


def write_page(guide: Guide, paper: Paper) -> bytes:
    """The page, UTF-8; `paper` is what it prints on."""
    body = make(
        "body",
        {},
        make(
            "main",
            {},
            _head(guide),
            _material(guide),
            *([_load_card(guide)] if guide.machine else []),
            _blanks(guide),
            _together(guide),
            *([_findings(guide)] if guide.findings else []),
            _care(guide),
        ),
    )
    page = make(
        "html",
        {"lang": words.LANGUAGE},
        make(
            "head",
            {},
            make("meta", {"charset": "utf-8"}),
            make("meta", {"http-equiv": "Content-Security-Policy", "content": POLICY}),
            make("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
            make("title", {}, guide.title),
            make("style", {}, style_sheet(paper)),
        ),
        body,
    )
    return bytes(etree.tostring(page, method="html", encoding="UTF-8", doctype="<!DOCTYPE html>"))


def _head(guide: Guide) -> Element:
    boxes = sum(box.count for box in guide.boxes)
    lines = [
        make(
            "li",
            {},
            make("b", {}, words.box_line(box.count, box.name, box.style, box.summary)),
            make("br"),
            words.sizes(
                [(name, _length(size, guide.unit)) for name, size in box.sizes], box.measure
            ),
        )
        for box in guide.boxes
    ]
    notes = [words.ruler_note(guide.ruler.written(guide.ruler.step))]
    if guide.machine:
        notes.append(words.EXACT_NOTE)
    text = make(
        "div",
        {},
        make("h1", {}, guide.title),
        make(
            "p",
            {"class": "kicker"},
            words.subtitle(boxes, guide.machine.title if guide.machine else None),
        ),
        make("ul", {"class": "boxes"}, *lines),
        make("p", {"class": "note"}, " ".join(notes)),
    )
    pictures = [
        _picture(box.picture, box, "picture", words.folded_description(_net_names(box)))
        for box in guide.boxes
        if box.picture
    ]
    return make("header", {}, text, *pictures)


def _picture(svg: bytes, box: BoxGuide, part: str, description: str) -> Element:
    """A picture drawn elsewhere, set into the page: its names made its own, its title kept."""
    root = etree.fromstring(svg)
    ident = f"{part}-{_slug(box.name)}"
    for element in root.iter(etree.Element):
        element.tag = etree.QName(element).localname
        for name, value in element.attrib.items():
            if name == "id":
                element.set(name, f"{ident}-{value}")
            elif "url(#" in value:
                element.set(name, value.replace("url(#", f"url(#{ident}-"))
    etree.cleanup_namespaces(root)
    for old in root.findall("title"):
        root.remove(old)
    root.set("role", "img")
    root.set("aria-labelledby", f"{ident}-title {ident}-desc")
    root.insert(0, make("title", {"id": f"{ident}-title"}, words.folded_title(box.name)))
    root.insert(1, make("desc", {"id": f"{ident}-desc"}, description))
    return make("figure", {"class": part}, root)


def _material(guide: Guide) -> Element:
    unit = guide.unit
    rows = [
        [
            need.stock.name,
            words.sheets_needed(need.sheets),
            _size(need.stock.sheet, unit),
            f"{need.stock.caliper:g} mm",
            f"{need.stock.grammage:g} g/m²" if need.stock.grammage else "–",
        ]
        for need in guide.stocks
    ]
    head = (
        words.STOCK,
        words.SHEETS,
        words.SHEET_SIZE,
        words.THICKNESS,
        words.WEIGHT_PER_AREA,
    )
    blanks = [
        [
            blank.name,
            str(box.count),
            blank.ruler.written(blank.width),
            blank.ruler.written(blank.height),
            stock,
        ]
        for box in guide.boxes
        for blank, stock in box.cut_from
    ]
    blank_head = (words.BLANK, words.HOW_MANY, words.WIDE, words.HIGH, words.FROM)
    section = make(
        "section",
        {},
        make("h2", {}, words.MATERIAL),
        make("h3", {}, words.CARD),
        _table(head, rows),
        *(_too_large(need, guide) for need in guide.stocks if need.too_large),
        make("h3", {}, words.BLANKS),
        _table(blank_head, blanks, numbers=(1, 2, 3)),
        make("p", {"class": "note"}, words.TRIM_NOTE),
    )
    for box in guide.boxes:
        if len(guide.boxes) > 1:
            section.append(make("h3", {}, box.name))
        section.append(_needs(box, unit))
    return section


def _too_large(need: StockNeed, guide: Guide) -> Element:
    sheet = f"{need.stock.name} ({_size(need.stock.sheet, guide.unit)})"
    return make(
        "div",
        {"class": "told"},
        *(
            make(
                "p",
                {},
                words.too_large(
                    name,
                    f"{guide.ruler.text(width)} × {guide.ruler.written(height)}",
                    sheet,
                ),
            )
            for name, width, height in need.too_large
        ),
    )


def _needs(box: BoxGuide, unit: Unit) -> Element:
    needs = box.needs
    glue = words.NO_GLUE
    if needs.glue:
        glue = words.glue_line(
            needs.glue.tabs,
            _length(needs.glue.length, unit),
            box.count,
            _long(needs.glue.length * box.count, unit),
        )
    closure = [
        words.punch_line(
            _length(first.diameter, unit),
            _length(first.from_side, unit),
            words.listed(sorted({punch.side for punch in group})),
            _length(first.from_end, unit),
            first.end,
            list(dict.fromkeys(punch.panel for punch in group)),
        )
        for first, *rest in _alike(needs.punches)
        for group in [[first, *rest]]
    ]
    if needs.ribbon:
        closure.append(
            words.ribbon_line(
                _long(needs.ribbon.length, unit),
                _length(needs.ribbon.between, unit),
                _length(needs.ribbon.bow, unit),
                box.count,
                _long(needs.ribbon.length * box.count, unit),
            )
        )
    weight = words.WEIGHT_UNKNOWN
    if needs.weight_g is not None:
        weight = words.weight_line(_grams(needs.weight_g))
    return make(
        "dl",
        {"class": "needs"},
        make("dt", {}, words.GLUE),
        make("dd", {}, glue),
        make("dt", {}, words.CLOSURE),
        make("dd", {}, make("ul", {}, *(make("li", {}, *_marked(line)) for line in closure)))
        if closure
        else make("dd", {}, words.NO_CLOSURE),
        make("dt", {}, words.WEIGHT),
        make("dd", {}, weight),
    )


def _alike(punches: Sequence[Punch]) -> list[list[Punch]]:
    """Holes of one size and place, apart from the panel and the side it is told from."""
    groups: dict[tuple[float, float, float, str], list[Punch]] = defaultdict(list)
    for punch in punches:
        place = (
            round(punch.diameter, 3),
            round(punch.from_side, 2),
            round(punch.from_end, 2),
            punch.end,
        )
        groups[place].append(punch)
    return list(groups.values())


def _load_card(guide: Guide) -> Element:
    """What to load for each stock, then how long each sheet takes."""
    assert guide.machine is not None
    section = make("section", {}, make("h2", {}, words.LOAD_CARD))
    for card in guide.machine.cards:
        rows = [
            [
                step.operation,
                step.tool,
                step.holder or "–",
                str(step.passes),
                step.settings or "–",
                " ".join(part for part in (step.tested_on, step.note) if part) or "–",
            ]
            for step in card.steps
        ]
        part = make(
            "div",
            {"class": "whole"},
            make("h3", {}, words.load_for(card.stock)),
            make("p", {}, f"{card.sentence[0].upper()}{card.sentence[1:]}."),
            _table(words.LOAD_COLUMNS, rows, numbers=(3,)),
        )
        if card.by_hand:
            part.append(make("p", {}, f"{words.HAND_LEFT}{words.listed(card.by_hand)}."))
        section.append(part)
    rows = [
        [
            words.sheet_names([each.file for each in sheets]),
            str(sum(each.copies for each in sheets)),
            sheets[0].stock,
            _size((sheets[0].width, sheets[0].height), guide.unit),
            _long(sum(row.length for row in sheets[0].layers if row.tool), guide.unit),
            str(sheets[0].tool_changes),
            words.minutes(sheets[0].minutes),
        ]
        for sheets in _same_load(guide.machine.sheets)
    ]
    total = sum(sheet.minutes * sheet.copies for sheet in guide.machine.sheets)
    section.append(
        make(
            "div",
            {"class": "whole"},
            make("h3", {}, words.TIMES),
            _table(words.TIME_COLUMNS, rows, numbers=(1, 4, 5, 6)),
            make("p", {}, words.total_time(words.minutes(total))),
        )
    )
    return section


def _same_load(sheets: Sequence[SheetRow]) -> list[list[SheetRow]]:
    """Sheets grouped by what they ask of the machine, to the tenth of a minute."""
    groups: dict[object, list[SheetRow]] = defaultdict(list)
    for sheet in sheets:
        work = tuple(
            (row.layer, row.tool, row.passes, row.lines, round(row.length)) for row in sheet.layers
        )
        side = sheet.file.removeprefix(f"sheet-{sheet.number}")
        groups[side, sheet.stock, sheet.width, sheet.height, work].append(sheet)
    return list(groups.values())


def _blanks(guide: Guide) -> Element:
    """For each blank its drawing and what the hand does, box by box."""
    section = make(
        "section",
        {},
        make("h2", {}, words.BLANKS_BY_HAND),
        make("p", {"class": "keep"}, f"{words.AS_DRAWN} {words.BOARD}"),
    )
    numbers = count(1)
    for box in guide.boxes:
        told = _rounding(box, guide)
        for blank, _ in box.cut_from:
            if blank.only_trimmed:
                continue
            number = next(numbers)
            figure = score_figure(blank, f"blank-{number}")
            part = make("section", {"class": "blank"}, make("h3", {}, blank.name))
            if told is not None:
                part.append(told)
                told = None
            part.append(_figured(figure, _kinds(blank), waste=False))
            part.append(_hand_steps(blank, f"cuts-{number}"))
            section.append(part)
    return section


def _kinds(blank: HandBlank) -> list[Kind]:
    kinds: list[Kind] = ["cut"]
    folds = {step.fold for step in blank.scores}
    if Fold.MOUNTAIN in folds:
        kinds.append("away")
    if Fold.VALLEY in folds:
        kinds.append("towards")
    if not blank.perforations.empty:
        kinds.append("perforate")
    return [*kinds, "trim"]


def _figured(figure: Figure, kinds: Sequence[Kind], *, waste: bool) -> Element:
    told = {
        "cut": words.CUT,
        "away": words.SCORE_OUT,
        "towards": words.SCORE_IN,
        "perforate": words.PERFORATE,
        "trim": words.TRIM,
    }
    items = [make("li", {}, sample_line(kind), make("span", {}, told[kind])) for kind in kinds]
    if waste:
        items.append(
            make("li", {}, make("span", {"class": "waste"}, ""), make("span", {}, words.WASTE))
        )
    caption = words.scale(f"{100 * figure.scale:.0f}")
    if figure.numbered:
        caption += f" {words.numbered(figure.numbered)}"
    return make(
        "figure",
        {},
        figure.element,
        make("figcaption", {}, caption),
        make("ul", {"class": "legend"}, *items),
    )


def _rounding(box: BoxGuide, guide: Guide) -> Element | None:
    """What rounding did to a box, where it did more than take the nearest."""
    inside: list[Element] = []
    ruler = box.ruler
    if ruler != guide.ruler:
        inside.append(make("p", {}, f"{words.FINER_RULER}{ruler.written(ruler.step)}."))
    if box.drawn:
        inside.append(make("p", {}, words.NOT_DRAWN))
    if box.uneven:
        inside.append(make("p", {}, words.UNEVEN))
    if box.adjustments:
        reasons = list(dict.fromkeys(fact_of(finding, guide.unit) for finding in box.reasons))
        inside.append(make("p", {}, words.because(reasons)))
        lines = [
            words.adjusted(
                words.HIGH_WORD if each.upright else words.WIDE_WORD,
                each.panels,
                each.net,
                ruler.written(each.nearest),
                ruler.written(each.taken),
            )
            for each in box.adjustments
        ]
        inside.append(make("ul", {}, *(make("li", {}, *_marked(line)) for line in lines)))
    if box.left:
        left = "; ".join(fact_of(finding, guide.unit) for finding in box.left)
        inside.append(make("p", {}, f"{words.STILL}{left}."))
    return make("div", {"class": "told"}, *inside) if inside else None


def _hand_steps(blank: HandBlank, ident: str) -> Element:
    ruler = blank.ruler
    steps = make("ol", {"class": "steps hand"})
    trim = words.TRIM_FIRST.format(
        width=ruler.written(blank.width), height=ruler.written(blank.height)
    )
    steps.append(make("li", {"class": "trim"}, make("p", {}, trim)))
    # Points that scores need are marked first; those of cuts alone stand with the cuts.
    early = any(step.joins for step in blank.scores)
    if blank.marks and early:
        steps.append(make("li", {"class": "marks"}, make("h4", {}, words.POINTS), *_points(blank)))
    steps.extend(_score_step(step, blank) for step in blank.scores)
    for cut, title, note in (
        (blank.perforations, words.PERFORATING, words.PERFORATE_NOTE),
        (blank.cuts, words.CUTTING, words.CUT_NOTE),
    ):
        if not cut.empty:
            step = _cut_step(cut, blank, title, note)
            if cut.operation is Operation.CUT:
                if blank.marks and not early:
                    step.extend(_points(blank))
                kinds: list[Kind] = ["cut", "trim"]
                if not blank.perforations.empty:
                    kinds.insert(1, "perforate")
                step.append(_figured(cut_figure(blank, ident), kinds, waste=True))
            steps.append(step)
    if blank.holes:
        rows = [
            [
                hole.panel,
                ruler.text(hole.diameter),
                ruler.text(hole.left),
                ruler.text(hole.top),
            ]
            for hole in blank.holes
        ]
        steps.append(
            make(
                "li",
                {"class": "holes"},
                make("h4", {}, words.HOLES),
                make("p", {}, words.HOLES_NOTE),
                _table(words.HOLE_COLUMNS, rows, numbers=(1, 2, 3)),
            )
        )
    return steps


def _points(blank: HandBlank) -> list[Element]:
    """Where the named points are."""
    ruler = blank.ruler
    points = [
        make(
            "li",
            {},
            make("b", {}, mark.name),
            make("span", {}, ruler.text(mark.left)),
            make("span", {}, ruler.text(mark.top)),
        )
        for mark in blank.marks
    ]
    head = make(
        "li",
        {"class": "head"},
        make("b", {}, words.POINT),
        make("span", {}, words.LEFT_EDGE),
        make("span", {}, words.TOP_EDGE),
    )
    return [
        make("p", {}, words.POINTS_NOTE),
        make("ul", {"class": "points"}, head, *points),
    ]


def _score_step(step: ScoreStep, blank: HandBlank) -> Element:
    item = make(
        "li",
        {"class": "score"},
        make("h4", {}, words.score_heading(step.lie.face, step.fold)),
        make("p", {}, words.lie_sentence(step.turn, step.lie)),
    )
    if step.rows:
        head = (words.DISTANCE, words.FROM_TO, words.WHAT)
        item.append(_table(head, [_row(row, blank) for row in step.rows], numbers=(0,)))
    if step.joins:
        item.append(_joined(step.joins, blank))
    return item


def _cut_step(step: CutStep, blank: HandBlank, title: str, note: str) -> Element:
    item = make("li", {"class": "cut"}, make("h4", {}, title), make("p", {}, note))
    tables = make("div", {"class": "tables"})
    for rows, head in (
        (step.down, (words.AT_LEFT, words.SPAN_TOP)),
        (step.across, (words.AT_TOP, words.SPAN_LEFT)),
    ):
        if rows:
            name = words.DOWN if rows is step.down else words.ACROSS
            table = _table(head, [_row(row, blank)[:2] for row in rows], numbers=(0,), caption=name)
            tables.append(table)
    if len(tables):
        item.append(tables)
    if step.joins:
        item.append(_joined(step.joins, blank))
    return item


def _row(row: Row, blank: HandBlank) -> list[str]:
    ruler = blank.ruler
    spans = ", ".join(f"{ruler.text(span.start)} to {ruler.text(span.end)}" for span in row.spans)
    return [
        ruler.text(row.at),
        words.THROUGH if row.through else spans,
        words.fold_names(row.names),
    ]


def _joined(joins: Sequence[Join], blank: HandBlank) -> Element:
    rises = [blank.ruler.written(join.rise) for join in joins]
    return make(
        "p",
        {"class": "joins"},
        make("b", {}, f"{words.SLANTED}: "),
        words.join_sentence(joins, rises),
    )


def _together(guide: Guide) -> Element:
    section = make("section", {}, make("h2", {}, words.TOGETHER))
    for box in guide.boxes:
        if len(guide.boxes) > 1:
            section.append(make("h3", {}, box.name))
        several = len(box.blanks) > 1
        items = [
            make(
                "li",
                {"class": "step"},
                *_marked(
                    words.assembly_step(step, _length(step.diameter, guide.unit), name_net=several)
                ),
            )
            for step in box.steps
        ]
        if box.views:
            described = words.views_description(_net_names(box))
            section.append(_picture(box.views, box, "views", described))
        section.append(make("ol", {"class": "steps"}, *items))
    return section


def _findings(guide: Guide) -> Element:
    items = []
    for finding in guide.findings:
        text = f" {told_plainly(finding, guide.unit)}."
        items.append(make("li", {}, make("b", {}, finding.severity.value), text))
    return make(
        "section",
        {},
        make("h2", {}, words.FINDINGS),
        make("ul", {"class": "findings"}, *items),
    )


def _care(guide: Guide) -> Element:
    told = {
        Caution.KNIFE: words.KNIFE,
        Caution.SMALL_PARTS: words.SMALL_PARTS,
        Caution.FOOD: words.FOOD,
    }
    lines = [told[caution] for caution in guide.cautions]
    if guide.machine:
        lines += dict.fromkeys(line for card in guide.machine.cards for line in card.cautions)
    else:
        lines.append(words.TRAINED)
    return make(
        "section",
        {"class": "whole"},
        make("h2", {}, words.CARE),
        make("ul", {}, *(make("li", {}, line) for line in lines)),
    )


def _table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    numbers: Sequence[int] = (),
    caption: str = "",
) -> Element:
    def cell(tag: str, index: int, text: str) -> Element:
        attributes = {"class": "number"} if index in numbers else {}
        if tag == "th":
            attributes["scope"] = "col"
        return make(tag, attributes, text)

    return make(
        "div",
        {"class": "scroll"},
        make(
            "table",
            {},
            *([make("caption", {}, caption)] if caption else []),
            make("thead", {}, make("tr", {}, *(cell("th", i, t) for i, t in enumerate(head)))),
            make(
                "tbody",
                {},
                *(make("tr", {}, *(cell("td", i, t) for i, t in enumerate(r))) for r in rows),
            ),
        ),
    )


def _length(millimetres: float, unit: Unit) -> str:
    """A length for people, without a needless .0."""
    return format_length(millimetres, unit).replace(".0 ", " ")


def _long(millimetres: float, unit: Unit) -> str:
    """A length to buy or to travel: metres or inches, rounded up to what a shop measures."""
    if unit == "in":
        return format_length(millimetres, unit, 2)
    if millimetres >= 1000:
        return f"{millimetres / 1000:.2f} m"
    return f"{millimetres:.0f} mm"


def _size(sides: tuple[float, float], unit: Unit) -> str:
    return " × ".join(_length(side, unit) for side in sides)


def _grams(grams: float) -> str:
    return f"{grams:.1f} g" if grams < 100 else f"{grams:.0f} g"


def _marked(text: str) -> list[Element | str]:
    """A sentence whose names of panels stand between asterisks, with these set apart."""
    return [
        make("em", {}, part) if index % 2 else part for index, part in enumerate(text.split("*"))
    ]


def _net_names(box: BoxGuide) -> list[str]:
    return [blank.net.name for blank in box.blanks]


def _slug(name: str) -> str:
    return "".join(c if c.isalnum() else "-" for c in name.lower())
