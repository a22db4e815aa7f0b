"""What may be set in a job, as controls for whoever shows a form: made from the declarations that
the file is checked against, so that a new key is a new control.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Literal

from cutlayers.bringing.rules import FromDrawing, Known
from cutlayers.construction.catalogue import TABLES
from cutlayers.construction.dimension import LARGEST
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles_by_name
from cutlayers.fitting import SHAPES
from cutlayers.fitting.items import CLEARANCE
from cutlayers.frozen import frozen
from cutlayers.job.dimensions import MEASURE_HELP, MEASURES
from cutlayers.job.drawings import SIZES, SMALLEST
from cutlayers.job.limits import Limits
from cutlayers.job.order import PrintChoice, SheetRules
from cutlayers.job.stock import SHEETS_MM, Stock
from cutlayers.job.written import BesideTheJob, WrittenPiece
from cutlayers.job.written_art import WrittenArt, WrittenFacing
from cutlayers.lettering.inscriptions import Inscription
from cutlayers.reading.allowed import allowed_of
from cutlayers.reading.declared import Flag, KeyKind, Length, Number, Special, Text, Whole, Word
from cutlayers.reading.tables import Declared, declared
from cutlayers.telling.refusals import Place

Kind = Literal["length", "number", "whole", "word", "flag", "text", "colour", "words"]
"""What a person is to give; "words" are one text or several."""

_COLOUR = "^#[0-9A-Fa-f]{6}$"

_SHOWN: Mapping[str, frozenset[str]] = {
    "pattern": frozenset({"pattern", "ink", "ground", "repeat", "rotation"}),
    "lettering": frozenset({"lettering", "height", "ink", "at", "rotation"}),
    "colour": frozenset({"colour"}),
    "file": frozenset({"file", "fit", "repeat", "at", "rotation"}),
}
"""Which keys of art there are, by the one that says what it is."""


@frozen
class Control:
    """One value that may be set: where it stands in the file, what it is, what is allowed.

    `default` is what counts where the file says nothing, in words; `unit` stands behind a number.
    One that is `needed` cannot be left out.
    """

    place: Place
    label: str
    kind: Kind
    help: str
    allowed: str
    choices: tuple[str | int, ...] = ()
    suggested: tuple[str, ...] = ()
    default: str = ""
    unit: str = ""
    needed: bool = False


@frozen
class Controls:
    """Controls that belong together. `item` is the place of a table that may be taken out whole."""

    title: str
    controls: tuple[Control, ...]
    item: Place | None = None


def job_controls(table: Mapping[str, Any], piece: int) -> dict[str, tuple[Controls, ...]]:
    """The controls of one piece of a job and of what goes for the whole job, in parts: "size",
    "details", "drawing", "card", "order", "looks", "job". `table` is the job's, whatever is wrong
    in it."""
    pieces = table.get("piece")
    own = pieces[piece] if isinstance(pieces, list) and piece < len(pieces) else {}
    own = own if isinstance(own, Mapping) else {}
    style = styles_by_name().get(str(own.get("style")))
    at: Place = ("piece", piece)
    stocks = table.get("stock")
    names = tuple(stocks) if isinstance(stocks, Mapping) else ()
    written = {field.key: field for field in declared(WrittenPiece)}
    order = [
        _control(at, written[key], choices=names, said="which card it is made of")
        if key == "stock"
        else _control(at, written[key])
        for key in ("count", "fill", "stock", "grain", "rotation", "name", "guides")
        if key != "stock" or len(names) > 1
    ]
    return {
        "size": (_size(style, own, at),) if style else (),
        "details": _details(style, at) if style else (),
        "drawing": _drawing(own, at) if "drawing" in own else (),
        "card": tuple(
            Controls(f"Card “{name}”" if len(names) > 1 else "Card", _of(Stock, ("stock", name)))
            for name in names
        ),
        "order": (Controls("How many", tuple(each for each in order if each)),),
        "looks": tuple(_looks(own, at, names)),
        "job": (
            Controls(
                "Job",
                _of(BesideTheJob, (), only=frozenset({"title"})),
            ),
            Controls("Sheets", _of(SheetRules, ("sheets",))),
            Controls("Printing", _of(PrintChoice, ("print",))),
            Controls("When the checks speak up", _of(Limits, ("limits",))),
        ),
    }


def _drawing(own: Mapping[str, Any], at: Place) -> tuple[Controls, ...]:
    """What is said of a drawing as a whole. How large it is says one key alone, the one that the
    file has; its lines and folds are said where they are seen."""
    shown = {"join", "ends", "shows", *({"unit", "scale"} & {*own})}
    found = _of(FromDrawing, at, only=frozenset(shown))
    if isinstance(own.get("known"), Mapping):
        found = (*_of(Known, (*at, "known")), *found)
    sizes = tuple(
        _number(
            (*at, "size", name),
            Length(SMALLEST, LARGEST, f"{name} between creases, as drawn where it is left empty"),
        )
        for name in SIZES
    )
    return Controls("Size", sizes), Controls("Drawing", found)


def _size(style: Style, own: Mapping[str, Any], at: Place) -> Controls:
    holds = own.get("holds")
    measure = Control(
        (*at, "size", "measure"),
        "Measured",
        "word",
        MEASURE_HELP,
        allowed_of(Word("", MEASURES)),
        MEASURES,
        default="inside",
    )
    if not isinstance(holds, Mapping):
        return Controls("Size", (*_dimensions(style, "size", at), measure))
    shape = holds.get("shape")
    measures = next((names for name, names in SHAPES.items() if name == shape), ())
    words = tuple(sorted(SHAPES))
    thing = [
        Control((*at, "holds", "shape"), "Shape", "word", "what goes in", "", words, needed=True),
        *(
            _number((*at, "holds", name), Length(0.1, 2000, f"{name} of the {shape}"), needed=True)
            for name in measures
        ),
        _number(
            (*at, "holds", CLEARANCE),
            Length(0, 2000, "room to spare, both sides together"),
            default="0",
        ),
    ]
    return Controls("What goes in", (*thing, measure))


def _details(style: Style, at: Place) -> tuple[Controls, ...]:
    found = _dimensions(style, "option", at)
    return (Controls("Details", found),) if found else ()


def _dimensions(style: Style, group: str, at: Place) -> tuple[Control, ...]:
    found = []
    for name, (dimension, default) in style.table.items():
        if dimension.group == group:
            place = (*at, TABLES[group], name)
            said = "by proportion" if default is None else _said(default)
            shown = "" if group == "size" else said
            found.append(_made(place, name, dimension.value, shown, needed=group == "size"))
    return tuple(each for each in found if each is not None)


def _number(place: Place, kind: KeyKind, *, default: str = "", needed: bool = False) -> Control:
    made = _made(place, str(place[-1]), kind, default, needed=needed)
    assert made is not None
    return made


def _looks(own: Mapping[str, Any], at: Place, stocks: tuple[str, ...]) -> Iterable[Controls]:
    for index, art in enumerate(_tables(own.get("art"))):
        what = next((key for key in _SHOWN if key in art), None)
        place: Place = (*at, "art", index)
        title = f"{_title(what, art)} on {_where(art)}"
        fields = _of(WrittenArt, place, only=_SHOWN[what] if what else None)
        yield Controls(title, fields, place)
    for index, facing in enumerate(_tables(own.get("facing"))):
        place = (*at, "facing", index)
        fields = _of(WrittenFacing, place, choices={"stock": stocks})
        yield Controls(f"Paper glued on {_where(facing)}", fields, place)
    for index, line in enumerate(_tables(own.get("lettering"))):
        place = (*at, "lettering", index)
        yield Controls(f"Letters on {line.get('panel')}", _of(Inscription, place), place)


def _title(what: str | None, art: Mapping[str, Any]) -> str:
    match what:
        case "pattern":
            return str(art["pattern"]).capitalize()
        case "lettering":
            said = art["lettering"]
            return f"“{' '.join(map(str, said)) if isinstance(said, list) else said}”"
        case "colour":
            return "Colour"
        case "file":
            return "Picture"
    return "Art"


def _where(art: Mapping[str, Any]) -> str:
    found = []
    for key in ("panels", "roles"):
        value = art.get(key, ())
        words = [value] if isinstance(value, str) else value
        found += [f"every {word}" if key == "roles" else str(word) for word in words]
    return ", ".join(found) or "no panel"


def _tables(value: object) -> list[Mapping[str, Any]]:
    return [each for each in value if isinstance(each, Mapping)] if isinstance(value, list) else []


def _of(
    of: type,
    at: Place,
    *,
    only: frozenset[str] | None = None,
    choices: Mapping[str, tuple[str, ...]] | None = None,
) -> tuple[Control, ...]:
    """The controls of the single values of a table."""
    found = (
        _control(at, field, choices=(choices or {}).get(field.key, ()))
        for field in declared(of)
        if only is None or field.key in only
    )
    return tuple(each for each in found if each is not None)


def _control(
    at: Place, field: Declared, *, choices: tuple[str, ...] = (), said: str = ""
) -> Control | None:
    default = "" if field.default is None or field.default == () else _said(field.default)
    kind = Word(said or field.help, choices) if choices else field.kind
    return _made((*at, field.key), field.key, kind, default, needed=field.required)


def _made(
    place: Place, name: str, kind: KeyKind, default: str, *, needed: bool = False
) -> Control | None:
    """A control for one value; None for tables, which have controls of their own."""
    label = name.replace("_", " ").capitalize()
    choices: tuple[str | int, ...] = ()
    suggested: tuple[str, ...] = ()
    unit = ""
    match kind:
        case Length():
            what: Kind = "length"
        case Number():
            what, unit = "number", kind.unit
        case Whole():
            what = "whole"
        case Word():
            what, choices = "word", kind.choices
        case Flag():
            what = "flag"
        case Text(pattern=pattern):
            what = "colour" if pattern == _COLOUR else "text"
        case Special() if name == "sheet":
            what, suggested = "text", (*SHEETS_MM, "12x12 in")
        case Special() if name == "grain":
            what, choices = "word", ("any", "along", "across")
        case Special():
            what = "words"
        case _:
            return None
    said = getattr(kind, "help", "")
    return Control(
        place, label, what, said, allowed_of(kind), choices, suggested, default, unit, needed
    )


def _said(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, int | float) else str(value)
