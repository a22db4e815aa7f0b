"""What a style's own table says, for people: a list of its dimensions and a job to start from."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import dedent

from cutlayers.construction.calipers import THICKEST, Calipers, calipers_of
from cutlayers.construction.card import Card
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.frozen import frozen
from cutlayers.net.calipers import Most, Reason
from cutlayers.reading.allowed import allowed_of
from cutlayers.reading.declared import Length
from cutlayers.telling.lengths import MM_PER, Unit, format_inches, parse_length
from cutlayers.telling.written import shown

TABLES = {"size": "size", "option": "options"}
"""The job file's table for each group of dimensions."""

EXAMPLE_CALIPER = 0.3
"""mm; an ordinary box card."""

DIVISIONS = (16, 32, 64)
"""Of an inch, on rulers."""

NEAR_ENOUGH = 0.1
"""Of a length, that an example in inches may differ by from the one in mm."""


@frozen
class DimensionRow:
    """One dimension in words; `default` is an example where `table` is "size"."""

    table: str
    name: str
    default: str
    allowed: str
    help: str


@frozen
class StyleDescription:
    """What there is to know of a style before a box is made. `card` is what it takes at its example
    sizes, `panels` the names of its panels there: net → role → names."""

    dimensions: tuple[DimensionRow, ...]
    card: Calipers
    panels: dict[str, dict[str, list[str]]]


def describe(style: Style, unit: Unit = "mm") -> StyleDescription:
    """A style's dimensions in declared order, sizes first, its card and panels. Lengths are mm;
    with inches limits are told in both, and what a length is by default as a ruler has it."""
    rows = [
        DimensionRow(
            TABLES[dimension.group],
            name,
            "by proportion" if default is None else _usual(default, dimension, unit),
            allowed_of(dimension.value, unit),
            dimension.value.help,
        )
        for name, (dimension, default) in style.table.items()
    ]
    ordered = tuple(sorted(rows, key=lambda row: row.table != "size"))
    return StyleDescription(ordered, calipers_of(style), _panels_of(style))


def card_in_words(found: Calipers, unit: Unit = "mm") -> str:
    """Which card a style takes, and what of thicker board."""
    least = "" if found.least is None else f"{_thick(found.least, unit)} to "
    if found.most is None:
        most = _thick(THICKEST, unit)
        return f"{least}{most} {unit} thick or more; nothing of it is folded or bent"
    most = f"{_thick(found.most, unit)} {unit} thick"
    if found.limit is None:
        return f"{least}{most}; its sizes leave no room for thicker"
    return f"{least or 'up to '}{most}; thicker, {_what(found.limit)}"


def _thick(caliper: float, unit: Unit) -> str:
    return f"{caliper / MM_PER[unit]:.3f}" if unit == "in" else f"{caliper:g}"


def _what(limit: Most) -> str:
    of = f"{limit.of:.3g}"
    match limit.reason:
        case Reason.FOLD if limit.of > 90.0:
            return f"folds by {of}° split"
        case Reason.FOLD:
            return "it is not creased: cut the panels apart and hinge them with tape"
        case Reason.FLAT:
            return "it does not lie flat"
        case Reason.NARROW:
            return f"{limit.panel} is too narrow to fold"
        case Reason.TUCK:
            return f"{limit.panel} is too stiff to tuck in"
        case Reason.BEND:
            return f"{limit.panel} does not bend so far"


def _panels_of(style: Style) -> dict[str, dict[str, list[str]]]:
    """The panels of a box of the style's own example size: net → role → names."""
    found: dict[str, dict[str, list[str]]] = {}
    for net in style.build(style.dimensions(), Card(EXAMPLE_CALIPER)):
        roles = found.setdefault(net.name, {})
        for panel in net.panels:
            roles.setdefault(panel.role.value, []).append(panel.name)
    return found


def job_template(style: Style, unit: Unit, sheet: str, profile: str | None = None) -> str:
    """A commented job file for a style, ready to be made as it is, on a sheet as a job names it;
    lengths are in `unit`, and `profile` is the machine that it names."""
    head = dedent(
        f"""\
        # {style.name}: {style.summary}
        # 'cutlayers check' says whether it works, 'cutlayers make' writes the files.

        """
    )
    head += job_head(f"My {style.name.replace('-', ' ')}", unit, sheet, profile)
    head += dedent(
        f"""\
        [[piece]]
        style = "{style.name}"
        stock = "card"
        count = 1

        [piece.size]
        """
    )
    lines = [*_lines(style, "size", unit, commented=False)]
    lines.append('measure = "inside"    # inside, score (crease to crease) or outside')
    options = [*_lines(style, "option", unit, commented=True)]
    if options:
        lines += ["", "[piece.options]    # take away the # in front of what you change", *options]
    lines += ["", "# 'cutlayers keys' tells what else a job may have: lettering, art, limits, …"]
    return head + "\n".join(lines) + "\n"


def job_head(title: str, unit: Unit, sheet: str, profile: str | None = None) -> str:
    """What a commented job has before its pieces: title, unit, machine and one stock, "card"."""
    caliper = "0.3" if unit == "mm" else "0.012"
    machine = '# profile = "drag-blade-340"' if profile is None else f"profile = {shown(profile)}"
    return dedent(
        f"""\
        title = {shown(title)}
        units = "{unit}"    # what a bare number means; "2 7/16 in" and "62 mm" work as well
        {machine}    # your machine; 'cutlayers profile list' names them

        [stock.card]
        caliper = {caliper}    # thickness of one sheet; measure a pile of ten and divide
        sheet = {shown(sheet)}    # A3 to A6, letter, legal, tabloid, "12x12 in" or [width, height]
        grain = "unknown"    # the side the fibres run along: long, short or unknown

        """
    )


def _lines(style: Style, group: str, unit: Unit, *, commented: bool) -> Iterator[str]:
    import tomlkit

    for name, (dimension, _) in style.table.items():
        if dimension.group == group:
            shown = tomlkit.item(_example(dimension, unit)).as_string()
            note = f"{dimension.value.help} ({allowed_of(dimension.value)})"
            yield f"{'# ' if commented else ''}{name} = {shown}    # {note}"


def _example(dimension: Dimension, unit: Unit) -> object:
    """A value to start from, as a file in that unit has it."""
    match dimension.value, dimension.example:
        case Length() as length, (int() | float()) as value:
            return _written(value, length, unit)
    return dimension.example


def _written(value: float, length: Length, unit: Unit) -> float | str:
    """A length by the coarsest division of a ruler that is near enough and allowed; in mm where
    there is none, as for the play between two pieces."""
    if unit == "in":
        for divisions in DIVISIONS:
            text = f"{format_inches(value, divisions)} in"
            near = parse_length(text)
            if abs(near - value) <= NEAR_ENOUGH * value and length.least <= near <= length.most:
                return text
        return f"{value:g} mm"
    return int(value) if float(value).is_integer() else value


def _usual(default: object, dimension: Dimension, unit: Unit) -> str:
    match dimension.value, default:
        case Length() as length, (int() | float()) as value if unit == "in":
            return str(_written(value, length, unit))
    return _text(default)


def _text(default: object) -> str:
    if isinstance(default, bool):
        return "true" if default else "false"
    return f"{default:g}" if isinstance(default, int | float) else str(default)
