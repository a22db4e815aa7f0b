"""The job file: what is to be packed or made, from which card, how often.

Here it is read and checked as a whole; what each key may be is declared in `order.py` and
`written.py`, a box's dimensions by its style.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Any

from cutlayers.bringing.rules import FromDrawing
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles_by_name
from cutlayers.job.dimensions import Reading, read_dimensions, style_schema
from cutlayers.job.order import Job
from cutlayers.job.orders import orders_of
from cutlayers.job.written import UNITS, job_fields
from cutlayers.reading.tables import declared, read_values
from cutlayers.reading.toml_file import parse_toml, read_toml
from cutlayers.reading.values import ValueRefused, read_choice, readable
from cutlayers.telling.errors import JobError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import Place, Refusal, within
from cutlayers.telling.written import shown

NOT_MEASURED: Mapping[str, float] = MappingProxyType({})
"""Nobody tried how the materials fold."""

NEITHER = "is missing; give style = … or, for a drawing that you have, drawing = …"
BOTH = "stands beside a drawing; leave one of them out"

NO_VALUES: Mapping[str, Any] = MappingProxyType({})

NO_SIZE = "is missing; give size = { … } or, for a thing to be packed, holds = { … }"


def read_job(
    path: str | Path,
    styles: Mapping[str, Style] | None = None,
    take_up: Mapping[str, float] = NOT_MEASURED,
) -> Job:
    """Read and check a job file; `styles` by name, all of the package's by default.

    `take_up` is how much of its caliper a crease takes, by material, where that was measured:
    a machine's `take_up`. Elsewhere it is half.

    Raises JobError with one complete line for each problem.
    """
    path = Path(path)
    table = read_toml(path, "job", JobError)
    return job_from(table, str(path), title_of(path), styles, take_up)


def job_in(text: str, path: str | Path, take_up: Mapping[str, float] = NOT_MEASURED) -> Job:
    """The job in a text that is, or is to be, in the file `path`: that is named in messages, and
    pictures and fonts are looked for from there. The rest as in `read_job`.

    Raises JobError.
    """
    path = Path(path)
    table = parse_toml(text, str(path), JobError)
    return job_from(table, str(path), title_of(path), take_up=take_up)


def title_of(path: Path) -> str:
    """The title of a job that has none of its own: the name of its file."""
    return readable(path.stem)


def job_from(
    table: dict[str, Any],
    file: str,
    title: str,
    styles: Mapping[str, Style] | None = None,
    take_up: Mapping[str, float] = NOT_MEASURED,
) -> Job:
    """The job in a table already read; `file` is named in messages, `title` the title's default.
    The rest as in `read_job`.

    Raises JobError.
    """
    known = styles_by_name() if styles is None else styles
    units = table.get("units", "mm")
    unit: Unit = units if units in UNITS else "mm"
    values, problems = read_values(job_fields(), table, unit)
    if "kit" in table:
        sentence = "makes a kit; 'cutlayers make' and 'cutlayers check' take its rows one by one"
        problems.append(Refusal(("kit",), sentence))
    pieces = table.get("piece")
    pieces = pieces if isinstance(pieces, list) else []
    readings = []
    for index, piece in enumerate(pieces):
        reading, found = _read_piece(piece, table.get("stock"), known, unit)
        readings.append(reading)
        problems += [problem.under("piece", index) for problem in found]
    problems += _same_names(pieces)
    if problems:
        raise JobError(*within(file, sorted(problems, key=_piece_number)))
    sizes = [reading for reading in readings if reading is not None]
    pieces, stocks = values.pop("piece"), values["stocks"]
    stocks = {name: stock.folded_as(take_up) for name, stock in stocks.items()}
    values["stocks"] = stocks
    orders, problems = orders_of(pieces, sizes, stocks, known, unit, Path(file).parent)
    if problems:
        raise JobError(*within(file, problems))
    return Job(**{"title": title, "unit": unit, **values, "orders": tuple(orders)})


def _read_piece(
    piece: object, stocks: object, styles: Mapping[str, Style], unit: Unit
) -> tuple[Reading | None, list[Refusal]]:
    """What the model cannot see of one piece: its style, its stock and the style's dimensions.

    Works on the file's own tables, so that these problems are told with those of the model;
    what has the wrong type there is the model's to tell.
    """
    if not isinstance(piece, dict):
        return None, []
    problems = []
    stock, style = piece.get("stock"), piece.get("style")
    if isinstance(stocks, dict):
        named = stock.items() if isinstance(stock, dict) else [(None, stock)]
        for net, own in named:
            if isinstance(own, str):
                place = ("stock",) if net is None else ("stock", net)
                problems += _chosen(place, own, sorted(stocks))
    if ("style" in piece) == ("drawing" in piece):
        return None, [*problems, Refusal(("style",), BOTH if "style" in piece else NEITHER)]
    if "drawing" in piece:
        problems += _of_no_style(piece)
        return Reading(NO_VALUES, "score", ()), problems
    problems += [
        Refusal((key,), "belongs to a drawing; this piece has a style")
        for key in piece
        if key in {each.key for each in declared(FromDrawing)}
    ]
    reading = None
    if isinstance(style, str):
        problems += _chosen(("style",), style, sorted(styles))
        size, options = piece.get("size", {}), piece.get("options", {})
        holds = isinstance(piece.get("holds"), dict)
        if "size" not in piece and not holds:
            problems.append(Refusal(("size",), NO_SIZE))
        elif style in styles and isinstance(size, dict) and isinstance(options, dict):
            reading = read_dimensions(styles[style], size, options, unit, sizes_optional=holds)
            problems += reading.problems
    return reading, problems


def _of_no_style(piece: Mapping[str, object]) -> list[Refusal]:
    """Keys that only a style gives a meaning to."""
    reason = "belongs to a style; this piece is made from a drawing"
    return [Refusal((key,), reason) for key in ("options",) if key in piece]


def _chosen(place: Place, word: str, known: list[str]) -> list[Refusal]:
    try:
        read_choice(word, known)
    except ValueRefused as error:
        return [error.refusal.under(*place)]
    return []


def _same_names(pieces: list[Any]) -> list[Refusal]:
    first: dict[str, int] = {}
    problems = []
    for index, piece in enumerate(pieces):
        name = piece.get("name") if isinstance(piece, dict) else None
        if not isinstance(name, str):
            continue
        if name in first:
            sentence = f"is {shown(name)}, the name of piece[{first[name] + 1}] already"
            problems.append(Refusal(("piece", index, "name"), f"{sentence}; choose another"))
        first.setdefault(name, index)
    return problems


def _piece_number(problem: Refusal) -> tuple[bool, int]:
    """Sort key: first what is outside the pieces, then piece by piece."""
    match problem.place:
        case ("piece", int() as index, *_):
            return True, index
    return False, 0


def job_schema(styles: Mapping[str, Style] | None = None) -> dict[str, Any]:
    """JSON Schema of the job file, for editors: with the tables of every style."""
    from cutlayers.reading.schema import file_schema

    known = styles_by_name() if styles is None else styles
    schema = file_schema(job_fields(), "cutlayers job", "A whole job file.", None)
    piece = schema["$defs"]["WrittenPiece"]
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
    return schema
