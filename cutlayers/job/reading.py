"""The job file: what is to be packed or made, from which card, how often.

The pydantic models here are the file's definition: checks, messages, and the JSON Schema come
from them and from the styles' own tables. What leaves is a plain `Job`.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, cast, get_args

from pydantic import Field, ValidationError

from cutlayers.box import Box, build
from cutlayers.construction.style import Card, Style
from cutlayers.fitting import SHAPES, Item
from cutlayers.job.art import read_piece_art
from cutlayers.job.art_tables import ArtTable, FacingTable, JobPrintTable
from cutlayers.job.dimensions import (
    Reading,
    dimension_place,
    read_dimensions,
    read_item,
    style_schema,
)
from cutlayers.job.order import GrainWay, Job, Order, PrintChoice, Rotation
from cutlayers.job.parts import ROTATION, ROTATION_HELP, LetteringTable, LimitsTable, SheetsTable
from cutlayers.job.stock import (
    HAZARDS,
    LARGEST_SHEET,
    SHEETS_MM,
    SMALLEST_SHEET,
    Grain,
    Stock,
    read_sheet,
)
from cutlayers.lettering.fold_names import with_fold_names
from cutlayers.lettering.inscriptions import inscribed
from cutlayers.net import Net
from cutlayers.net.guides import with_glue_lines
from cutlayers.reading.table_model import (
    Reads,
    Table,
    flag,
    length_in_units,
    number,
    problems_of,
    text,
    tidy,
    whole,
    word,
)
from cutlayers.reading.toml_file import Problem, read_toml, refusal
from cutlayers.reading.values import ValueRefused, read_choice
from cutlayers.telling.errors import JobError, StyleError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.written import shown

UNITS: tuple[Unit, ...] = ("mm", "in")
MOST_BOXES = 10_000
"""Of one piece; more is a slip, and would keep the placing busy for hours."""

NO_SIZE = "is missing; give size = { … } or, for a thing to be packed, holds = { … }"

_SHEET = Reads(
    read_sheet,
    {
        "anyOf": [
            {"type": "string", "examples": [*SHEETS_MM, "A4 landscape", "12x12 in"]},
            {
                "type": "array",
                "items": {"type": ["number", "string"]},
                "minItems": 2,
                "maxItems": 2,
            },
        ]
    },
)


class StockTable(Table):
    """One kind of card, [stock.NAME]."""

    caliper: Annotated[
        float,
        length_in_units(0.02, 5.0),
        Field(description="thickness of the card (0.02 mm to 5 mm)"),
    ]
    sheet: Annotated[
        tuple[float, float],
        _SHEET,
        Field(
            description=f"{', '.join(SHEETS_MM)}, a text such as '12x12 in', or [width, height] "
            f"(each side {SMALLEST_SHEET:g} mm to {LARGEST_SHEET:g} mm)"
        ),
    ]
    grammage: Annotated[
        float | None, number(10.0, 2000.0, "g/m²"), Field(description="weight in g/m², if known")
    ] = None
    grain: Annotated[
        Grain,
        word(get_args(Grain)),
        Field(description="the side of the sheet that the fibres run along"),
    ] = "unknown"
    material: Annotated[
        str | None,
        text(),
        Field(description="the profile's material for it; its own name by default"),
    ] = None
    contains: Annotated[
        tuple[Annotated[str, word(HAZARDS)], ...],
        Field(description="what a laser must not meet; such stock is refused for one"),
    ] = ()
    price: Annotated[
        float | None,
        number(0.0, 1e6, "for a sheet"),
        Field(description="of one sheet, in your own currency, if known"),
    ] = None


class PieceTable(Table):
    """Boxes of one style and size, [[piece]]."""

    style: Annotated[str, text(), Field(description="a box style; 'cutlayers styles' lists them")]
    stock: Annotated[str, text(), Field(description="the NAME of one of the [stock.NAME] tables")]
    count: Annotated[
        int | None,
        whole(1, MOST_BOXES),
        Field(description="how many of these boxes to make; 1 if not given"),
    ] = None
    fill: Annotated[
        bool, flag(), Field(description="make as many boxes as one sheet holds, in place of count")
    ] = False
    rotation: Annotated[
        Rotation | None,
        ROTATION,
        Field(description=f"{ROTATION_HELP}; [sheets] decides if not given"),
    ] = None
    grain: Annotated[
        GrainWay,
        word(get_args(GrainWay)),
        Field(description="how the main folds are to run to the grain of the card"),
    ] = "any"
    name: Annotated[
        str | None, text(), Field(description="what to call them; the style's name by default")
    ] = None
    guides: Annotated[
        bool,
        flag(),
        Field(description="draw where the glue goes and which way flaps fold, hidden once glued"),
    ] = False
    holds: Annotated[
        dict[str, Any] | None,
        Field(
            description="the thing to be packed, instead of a size: shape = "
            f"{', '.join(sorted(SHAPES))}, its measures, and slack"
        ),
    ] = None
    art: Annotated[
        list[ArtTable],
        Field(description="what is printed on it, [[piece.art]]", default_factory=list),
    ]
    facing: Annotated[
        list[FacingTable],
        Field(description="pieces to be glued on its panels", default_factory=list),
    ]
    size: Annotated[
        dict[str, Any],
        Field(
            default_factory=dict,
            description="the style's size dimensions, and measure: inside, score or outside; "
            "with `holds`, those that are to keep a size of their own",
        ),
    ]
    options: Annotated[
        dict[str, Any],
        Field(
            description="the style's other dimensions, where not the default", default_factory=dict
        ),
    ]
    lettering: Annotated[
        list[LetteringTable],
        Field(description="lines of text on the panels", default_factory=list),
    ]


class JobTable(Table):
    """A whole job file."""

    title: Annotated[
        str | None, text(), Field(description="a line for the reports; the file's name by default")
    ] = None
    units: Annotated[Unit, word(UNITS), Field(description="what a bare number means, mm or in")] = (
        "mm"
    )
    profile: Annotated[
        str | None, text(), Field(description="the machine's profile, a name or a file")
    ] = None
    print_: Annotated[
        JobPrintTable,
        Field(
            alias="print",
            description="printing, where not as in the profile",
            default_factory=JobPrintTable,
        ),
    ]
    kit: Annotated[
        str | None,
        text(),
        Field(
            description="a CSV file beside the job; a set of pieces is made for each of its rows"
        ),
    ] = None
    sheets: Annotated[
        SheetsTable, Field(description="how sheets are to be filled", default_factory=SheetsTable)
    ]
    limits: Annotated[
        LimitsTable,
        Field(description="from which measure on the checks speak up", default_factory=LimitsTable),
    ]
    stock: Annotated[
        dict[Annotated[str, text()], StockTable],
        Field(description="the card you own, a table [stock.NAME] for each kind", min_length=1),
    ]
    piece: Annotated[
        list[PieceTable],
        Field(description="what to make, a table [[piece]] for each kind of box", min_length=1),
    ]


def read_job(path: Path, styles: Mapping[str, Style] | None = None) -> Job:
    """Read and check a job file; `styles` by name, all of the package's by default.

    Raises JobError with one complete line for each problem.
    """
    return job_from(read_toml(path, "job", JobError), str(path), path.stem, styles)


def job_from(
    table: dict[str, Any], file: str, title: str, styles: Mapping[str, Style] | None = None
) -> Job:
    """The job in a table already read; `file` is named in messages, `title` the title's default.

    Raises JobError.
    """
    known = _all_styles() if styles is None else styles
    units = table.get("units", "mm")
    unit: Unit = units if units in UNITS else "mm"
    problems: list[Problem] = []
    model = None
    try:
        model = JobTable.model_validate(table, context={"unit": unit})
    except ValidationError as error:
        problems += problems_of(error, _model_schema())
    if "kit" in table:
        sentence = "makes a kit; 'cutlayers make' and 'cutlayers check' take its rows one by one"
        problems.append(Problem(("kit",), sentence))
    pieces = table.get("piece")
    pieces = pieces if isinstance(pieces, list) else []
    readings = []
    for index, piece in enumerate(pieces):
        reading, found = _read_piece(piece, table.get("stock"), known, unit)
        readings.append(reading)
        problems += [problem.under("piece", index) for problem in found]
    problems += _same_names(pieces)
    if problems or model is None:
        raise JobError(refusal(file, sorted(problems, key=_piece_number)))
    stocks = {name: Stock(name, **stock.model_dump()) for name, stock in model.stock.items()}
    sizes = [reading for reading in readings if reading is not None]
    orders, problems = _orders(model.piece, sizes, stocks, known, unit, Path(file).parent)
    if problems:
        raise JobError(refusal(file, problems))
    return Job(
        title=model.title or title,
        unit=unit,
        stocks=stocks,
        orders=tuple(orders),
        profile=model.profile,
        sheets=model.sheets.rules(),
        printing=PrintChoice(**model.print_.model_dump()),
        limits=model.limits.limits(),
    )


def _all_styles() -> Mapping[str, Style]:
    from cutlayers.construction.style import styles  # only here, so that other styles can stand in

    return {style.name: style for style in styles()}


def _read_piece(
    piece: object, stocks: object, styles: Mapping[str, Style], unit: Unit
) -> tuple[Reading | None, list[Problem]]:
    """What the model cannot see of one piece: its style, its stock and the style's dimensions.

    Works on the file's own tables, so that these problems are told with those of the model;
    what has the wrong type there is the model's to tell.
    """
    if not isinstance(piece, dict):
        return None, []
    problems = []
    stock, style = piece.get("stock"), piece.get("style")
    if isinstance(stock, str) and isinstance(stocks, dict):
        problems += _chosen("stock", stock, sorted(stocks))
    reading = None
    if isinstance(style, str):
        problems += _chosen("style", style, sorted(styles))
        size, options = piece.get("size", {}), piece.get("options", {})
        holds = isinstance(piece.get("holds"), dict)
        if "size" not in piece and not holds:
            problems.append(Problem(("size",), NO_SIZE))
        elif style in styles and isinstance(size, dict) and isinstance(options, dict):
            reading = read_dimensions(styles[style], size, options, unit, sizes_optional=holds)
            problems += reading.problems
    return reading, problems


def _chosen(key: str, word: str, known: list[str]) -> list[Problem]:
    try:
        read_choice(word, known)
    except ValueRefused as error:
        return [Problem((key,), str(error))]
    return []


def _same_names(pieces: list[Any]) -> list[Problem]:
    first: dict[str, int] = {}
    problems = []
    for index, piece in enumerate(pieces):
        name = piece.get("name") if isinstance(piece, dict) else None
        if not isinstance(name, str):
            continue
        if name in first:
            sentence = f"is {shown(name)}, the name of piece[{first[name] + 1}] already"
            problems.append(Problem(("piece", index, "name"), f"{sentence}; choose another"))
        first.setdefault(name, index)
    return problems


def _piece_number(problem: Problem) -> tuple[bool, int]:
    """Sort key: first what is outside the pieces, then piece by piece."""
    match problem.place:
        case ("piece", int() as index, *_):
            return True, index
    return False, 0


def _orders(
    pieces: list[PieceTable],
    readings: list[Reading],
    stocks: Mapping[str, Stock],
    styles: Mapping[str, Style],
    unit: Unit,
    folder: Path,
) -> tuple[list[Order], list[Problem]]:
    """The orders with their nets built and pictures read, and what was refused of them; fonts and
    pictures are looked for in `folder`."""
    taken = {piece.name for piece in pieces if piece.name}
    orders: list[Order] = []
    problems: list[Problem] = []
    for index, (piece, reading) in enumerate(zip(pieces, readings, strict=True)):
        name = piece.name or _free(piece.style, taken)
        taken.add(name)
        style, card = styles[piece.style], Card(stocks[piece.stock].caliper, reading.measure)
        found = _at_odds(piece, stocks[piece.stock])
        thing, wrong = read_item(piece.holds, unit) if piece.holds is not None else (None, [])
        problems += [problem.under("piece", index) for problem in (*found, *wrong)]
        if wrong:
            continue
        try:
            box = _built(style, reading.values, card, thing)
        except StyleError as error:
            place = dimension_place(style.dimensions, error.field)
            problems.append(Problem(place, error.message).under("piece", index))
            continue
        nets = box.nets
        if piece.guides:
            nets = tuple(with_fold_names(with_glue_lines(net)) for net in nets)
        nets, refused = _lettered(nets, piece, folder)
        box = box.with_nets(nets)
        problems += [problem.under("piece", index) for problem in refused]
        ink = read_piece_art(piece.art, piece.facing, box, stocks, folder, ("piece", index))
        problems += ink.problems
        orders.append(
            Order(
                box=box,
                stock=piece.stock,
                count=piece.count or 1,
                name=name,
                holds=thing,
                fill=piece.fill,
                rotation=piece.rotation,
                grain=piece.grain,
                art=ink.art,
                facings=ink.facings,
            )
        )
    return orders, problems


def _built(style: Style, values: Mapping[str, Any], card: Card, thing: Item | None) -> Box:
    if thing is None:
        return build(style, style.dimensions(**values), card)
    from cutlayers.fitting.search import box_for_item  # heavy, and few jobs need it

    return box_for_item(style, values, card, thing)


def _at_odds(piece: PieceTable, stock: Stock) -> list[Problem]:
    """Keys of a piece that cannot both hold, or that its stock does not allow."""
    problems = []
    if piece.fill and piece.facing:
        problems.append(
            Problem(("facing",), "needs a number of boxes; write count in place of fill")
        )
    if piece.fill and piece.count is not None:
        problems.append(Problem(("fill",), "is true beside a count; leave one of them out"))
    if piece.grain != "any" and stock.grain == "unknown":
        sentence = f"is {shown(piece.grain)}, but stock.{stock.name}.grain is unknown"
        problems.append(Problem(("grain",), f'{sentence}; write "long" or "short" there'))
    return problems


def _lettered(
    nets: tuple[Net, ...], piece: PieceTable, folder: Path
) -> tuple[tuple[Net, ...], list[Problem]]:
    """The nets with the piece's lettering; texts are told wrong one by one, each place once."""
    problems = []
    for index, table in enumerate(piece.lettering):
        try:
            nets = inscribed(nets, table.inscription(folder))
        except StyleError as error:
            problems.append(Problem(("lettering", index, error.field), error.message))
    return nets, problems


def _free(name: str, taken: set[str]) -> str:
    number, free = 2, name
    while free in taken:
        number, free = number + 1, f"{name} {number}"
    return free


def job_schema(styles: Mapping[str, Style] | None = None) -> dict[str, Any]:
    """JSON Schema of the job file, for editors: with the tables of every style."""
    known = _all_styles() if styles is None else styles
    schema = _model_schema()
    piece = schema["$defs"]["PieceTable"]
    piece["properties"]["style"] = {
        "enum": sorted(known),
        "description": piece["properties"]["style"]["description"],
    }
    piece["allOf"] = [
        {
            "if": {"properties": {"style": {"const": name}}, "required": ["style"]},
            "then": style_schema(known[name]),
        }
        for name in sorted(known)
    ]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "cutlayers job",
        **schema,
    }


def _model_schema() -> dict[str, Any]:
    return cast(dict[str, Any], tidy(JobTable.model_json_schema()))
