"""Pieces of a job and the card that they are made of, added, copied, made another style, taken out:
changes of the job's text."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from cutlayers import (
    EditRefused,
    Style,
    default_profile,
    job_template,
    length_in,
    styles,
    usual_sheet,
    with_block,
    with_copy,
    with_item,
    with_value,
    without_item,
)

Place = tuple[str | int, ...]

PAPER = "patterned paper"
"""What paper is called that is glued on panels, before its owner calls it otherwise."""

PAPER_MM = 0.1
"""Its thickness. Copy paper of 80 g/m² has about that; common practice, no source."""

PAPER_COLOUR = "#E8B4C8"


class NoSuchThingError(ValueError):
    """What a change speaks of is not there; `place` says where it would be."""

    def __init__(self, place: Place, reason: str) -> None:
        super().__init__(reason)
        self.place = place


def with_style(text: str, name: str) -> str:
    """The text with one piece more, of a style, as a new job of it would have it."""
    table = tomllib.loads(text)
    unit = _unit(table)
    template = job_template(_style(name), unit, usual_sheet(unit), default_profile())
    block = template[template.index("[[piece]]") :].rstrip().rpartition("\n\n")[0]
    fresh = with_block(text, ("piece",), block)
    pieces = tomllib.loads(fresh)["piece"]
    stock = next(iter(_cards(text)), "card")
    return with_value(fresh, ("piece", len(pieces) - 1, "stock"), stock)


def with_another(text: str, piece: int) -> str:
    """The text with a piece a second time, at the end."""
    name = _own(text, piece).get("name")
    taken = {str(each.get("name")) for each in _tables(tomllib.loads(text).get("piece"))}
    other = {} if name is None else {"name": _free(str(name), taken)}
    return with_copy(text, ("piece", piece), other)


def restyled(text: str, piece: int, name: str, *, usual_size: bool = False) -> str:
    """The text with a piece made another style: sizes, art and counts that the other one has too
    are kept, what is named of the old one's panels goes. With `usual_size` it has the sizes of a
    new job."""
    style = _style(name)
    at: Place = ("piece", piece)
    own = _own(text, piece)
    unit = _unit(tomllib.loads(text))
    usual = tomllib.loads(job_template(style, unit, usual_sheet(unit)))["piece"][0]["size"]
    old = _table(own, "size")
    for key in ("drawing", "lines", "folds", "known", "unit", "scale", "join", "ends", "options"):
        text = _without(text, (*at, key))
    for list_name in ("art", "facing", "lettering"):
        items = _tables(own.get(list_name))
        for index in reversed(range(len(items))):
            if {"panel", "panels", "net"} & {*items[index]}:
                text = without_item(text, (*at, list_name, index))
    if isinstance(own.get("stock"), Mapping):
        text = with_value(text, (*at, "stock"), next(iter(own["stock"].values()), None))
    if isinstance(own.get("grain"), Mapping):
        text = _without(text, (*at, "grain"))
    text = with_value(text, (*at, "style"), name)
    measures = {key: each for key, each in usual.items() if key != "measure"}
    for key in [*old]:
        if key not in measures and key != "measure":
            text = with_value(text, (*at, "size", key), None)
    for key, value in ({} if "holds" in own else measures).items():
        if usual_size or key not in old:
            text = with_value(text, (*at, "size", key), value)
    return text


def with_stock(text: str, name: str, piece: int) -> str:
    """The text with one kind of card more, like that of a piece, which is made of it from now on.

    Raises NoSuchThingError where the name is none, or is taken.
    """
    known = _cards(text)
    place: Place = ("stock", name)
    if not name or not name.isprintable():
        raise NoSuchThingError(("stock",), "give the card a name")
    if name in known:
        raise NoSuchThingError(("stock",), f"there is a card “{name}” already")
    own = _own(text, piece).get("stock")
    like = known.get(own if isinstance(own, str) else next(iter(known), ""), {})
    text = with_value(text, place, dict(like))
    return with_value(text, ("piece", piece, "stock"), name)


def without_stock(text: str, name: str) -> str:
    """The text without a kind of card. Raises NoSuchThingError where a piece needs it."""
    if name in used_stocks(tomllib.loads(text)):
        raise NoSuchThingError(("stock", name), f"“{name}” is still needed by a box or a paper")
    return with_value(text, ("stock", name), None)


def used_stocks(table: Mapping[str, Any]) -> set[str]:
    """The kinds of card that pieces and papers on them name."""

    def named(value: object) -> Iterator[str]:
        if isinstance(value, str):
            yield value
        elif isinstance(value, Mapping):
            for each in value.values():
                yield from named(each)

    tables = _tables(table.get("piece"))
    tables = [*tables, *(each for piece in tables for each in _tables(piece.get("facing")))]
    return {name for each in tables for name in named(each.get("stock"))}


def without_paper(text: str) -> str:
    """The text without the stock that `with_paper` made, where nothing needs it any more and nobody
    has said more of it."""
    table = tomllib.loads(text)
    paper = _table(table, "stock").get(PAPER)
    ours = isinstance(paper, Mapping) and {*paper} == {"caliper", "sheet", "colour"}
    needless = ours and PAPER not in used_stocks(table)
    return with_value(text, ("stock", PAPER), None) if needless else text


def with_paper(text: str, piece: int, on: Mapping[str, object]) -> str:
    """The text with paper glued on panels, of a stock of its own: the first that is not the
    piece's, or a new one on sheets like the piece's."""
    known = _cards(text)
    own = _own(text, piece).get("stock")
    names = own.values() if isinstance(own, Mapping) else [own]
    paper = next((name for name in known if name not in names), None)
    if paper is None:
        paper = PAPER
        card = next((known[name] for name in names if isinstance(name, str) and name in known), {})
        unit = _unit(tomllib.loads(text))
        caliper = length_in(PAPER_MM, "mm") if unit == "mm" else f"{PAPER_MM} mm"
        sheet = card.get("sheet", usual_sheet(unit))
        stock = {"caliper": caliper, "sheet": sheet, "colour": PAPER_COLOUR}
        text = with_value(text, ("stock", paper), stock)
    return with_item(text, ("piece", piece, "facing"), {**on, "stock": paper})


def _own(text: str, piece: int) -> Mapping[str, Any]:
    pieces = _tables(tomllib.loads(text).get("piece"))
    if not 0 <= piece < len(pieces):
        raise NoSuchThingError(("piece", piece), "is not there")
    return pieces[piece]


def _cards(text: str) -> Mapping[str, Mapping[str, Any]]:
    """The kinds of card. Raises NoSuchThingError where something else stands in their place."""
    known = tomllib.loads(text).get("stock", {})
    if not isinstance(known, Mapping) or not all(
        isinstance(each, Mapping) for each in known.values()
    ):
        raise NoSuchThingError(("stock",), "holds something else than tables, [stock.NAME]")
    return known


def _table(table: Mapping[str, Any], key: str) -> Mapping[str, Any]:
    """What stands under a key, if that is a table; one without keys otherwise."""
    found = table.get(key)
    return found if isinstance(found, Mapping) else {}


def _tables(found: object) -> list[Mapping[str, Any]]:
    """A list of tables; none where it is something else, or holds something else."""
    if isinstance(found, list) and all(isinstance(each, Mapping) for each in found):
        return found
    return []


def _without(text: str, place: Place) -> str:
    try:
        return with_value(text, place, None)
    except EditRefused:  # it was not there
        return text


def _style(name: str) -> Style:
    found = next((style for style in styles() if style.name == name), None)
    if found is None:
        raise NoSuchThingError((), f"there is no style “{name}”")
    return found


def _unit(table: Mapping[str, Any]) -> Any:
    return "in" if table.get("units") == "in" else "mm"


def _free(name: str, taken: set[Any]) -> str:
    number = 2
    while f"{name} {number}" in taken:
        number += 1
    return f"{name} {number}"
