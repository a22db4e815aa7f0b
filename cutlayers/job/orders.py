"""From a job's pieces as they are written to orders: boxes sized and built, pictures read."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from pathlib import Path

from cutlayers.box import Blank, Box
from cutlayers.construction.card import Card, Measure
from cutlayers.construction.style import Style
from cutlayers.fitting import Item
from cutlayers.geometry.transforms import Point
from cutlayers.job.art import read_piece_art
from cutlayers.job.building import box_of, not_each_net, unknown_nets
from cutlayers.job.dimensions import Reading, dimension_place, read_item
from cutlayers.job.drawings import Brought, box_of_drawing
from cutlayers.job.order import Order, Stocks
from cutlayers.job.stock import Stock
from cutlayers.job.written import WrittenPiece
from cutlayers.lettering.fold_names import with_fold_names
from cutlayers.lettering.inscriptions import Inscription, inscribed
from cutlayers.net import Net, Panel
from cutlayers.net.guides import with_glue_lines
from cutlayers.reading.values import ValueRefused, readable
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown


def orders_of(
    pieces: Sequence[WrittenPiece],
    readings: Sequence[Reading],
    stocks: Mapping[str, Stock],
    styles: Mapping[str, Style],
    unit: Unit,
    folder: Path,
) -> tuple[list[Order], list[Refusal]]:
    """The orders with their nets built and pictures read, and what was refused of them; fonts and
    pictures are looked for in `folder`."""
    taken = {piece.name for piece in pieces if piece.name}
    orders: list[Order] = []
    problems: list[Refusal] = []
    for index, (piece, reading) in enumerate(zip(pieces, readings, strict=True)):
        name = piece.name or _free(_usual_name(piece), taken)
        taken.add(name)
        found, wrong = _at_odds(piece, stocks), list[Refusal]()
        card = _card(piece.stock, stocks, reading.measure)
        thing = None
        if piece.holds is not None:
            thing, wrong = read_item(piece.holds, unit)
        problems += [problem.under("piece", index) for problem in (*found, *wrong)]
        if wrong:
            continue
        box, drawing, wrong = _made(piece, reading, card, thing, styles, unit, folder)
        problems += [problem.under("piece", index) for problem in wrong]
        if box is None:
            continue
        problems += [problem.under("piece", index) for problem in _misnamed(piece, box.wholes)]
        nets = box.nets
        if piece.guides:
            nets = tuple(
                with_fold_names(with_glue_lines(net), card.of(net.name).caliper) for net in nets
            )
        nets, refused = _lettered(nets, piece, folder, box)
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
                drawing=drawing,
            )
        )
    return orders, problems


def _made(
    piece: WrittenPiece,
    reading: Reading,
    card: Card,
    thing: Item | None,
    styles: Mapping[str, Style],
    unit: Unit,
    folder: Path,
) -> tuple[Box | None, Brought | None, list[Refusal]]:
    """The box of one piece as its style or its drawing has it, with what was understood of that, or
    what is wrong."""
    if piece.drawing is not None:
        try:
            return *box_of_drawing(folder / piece.drawing, piece, piece.size, card, unit), []
        except ValueRefused as refused:
            return None, None, [_drawing_as_written(refused.refusal, piece.drawing)]
    assert piece.style is not None
    style = styles[piece.style]
    try:
        return box_of(style, reading.values, card, thing), None, []
    except StyleError as error:
        place = dimension_place(style.dimensions, error.field)
        found = reading.values.get(place[-1])
        told = dataclasses.replace(error.refusal, place=place, found=found, unit=unit)
        return None, None, [told]


def _usual_name(piece: WrittenPiece) -> str:
    if piece.style is not None:
        return piece.style
    assert piece.drawing is not None
    return readable(piece.drawing.stem)


def _drawing_as_written(refused: Refusal, drawing: Path) -> Refusal:
    """What was refused of a drawing itself, with its name as the job has it."""
    if refused.place != ("drawing",) or refused.found is not None:
        return refused
    return dataclasses.replace(refused, found=drawing.as_posix())


def _card(stock: Stocks, stocks: Mapping[str, Stock], measure: Measure) -> Card:
    """What a box is made of; nets that are not named count as of the first stock."""
    if isinstance(stock, str):
        return stocks[stock].card(measure)
    others = tuple((net, stocks[own].card(measure)) for net, own in stock.items())
    return dataclasses.replace(others[0][1], others=others)


def _at_odds(piece: WrittenPiece, stocks: Mapping[str, Stock]) -> list[Refusal]:
    """Keys of a piece that cannot both hold, or that its stocks do not allow."""
    own = {"": piece.stock} if isinstance(piece.stock, str) else piece.stock
    problems = []
    if piece.fill and piece.facing:
        problems.append(
            Refusal(("facing",), "needs a number of boxes; write count in place of fill")
        )
    if piece.fill and piece.count is not None:
        problems.append(Refusal(("fill",), "is true beside a count; leave one of them out"))
    if piece.fill and len({*own.values()}) > 1:
        problems.append(
            Refusal(("fill",), "needs one stock; write count in place of it, or name one stock")
        )
    ways = dict.fromkeys(own, piece.grain) if isinstance(piece.grain, str) else piece.grain
    for net, way in ways.items():
        stock = stocks[own.get("") or own.get(net) or next(iter(own.values()))]
        if way != "any" and stock.grain == "unknown":
            sentence = f"is {shown(way)}, but stock.{stock.name}.grain is unknown"
            problems.append(Refusal(("grain",), f'{sentence}; write "long" or "short" there'))
            break
    return problems


def _misnamed(piece: WrittenPiece, blanks: Sequence[Blank]) -> list[Refusal]:
    """Nets that the piece names and its box has not, and those that it names no stock for."""
    nets = tuple(blank.name for blank in blanks)
    problems = []
    if not isinstance(piece.grain, str):
        problems += [each.under("grain") for each in unknown_nets(piece.grain, nets)]
    if not isinstance(piece.stock, str):
        problems += [each.under("stock") for each in not_each_net(piece.stock, nets)]
    return problems


def _lettered(
    nets: tuple[Net, ...], piece: WrittenPiece, folder: Path, box: Box
) -> tuple[tuple[Net, ...], list[Refusal]]:
    """The nets with the piece's lettering; texts are told wrong one by one, each place once."""
    problems = []

    def way_up(net: Net, panel: Panel) -> Point:
        return box.blank(net.name).uprights[panel.name]

    for index, written in enumerate(piece.lettering):
        inscription = written
        if written.file is not None:
            inscription = dataclasses.replace(written, file=folder / written.file)
        try:
            nets = inscribed(nets, inscription, way_up)
        except StyleError as error:
            problems.append(_as_written(error.refusal, written).under("lettering", index))
    return nets, problems


def _as_written(refused: Refusal, inscription: Inscription) -> Refusal:
    """What was refused of a font, the file as the job names it."""
    if refused.inside is None or inscription.file is None or refused.place != ("file",):
        return refused
    name = inscription.file.as_posix()
    return dataclasses.replace(
        refused, found=name, inside=dataclasses.replace(refused.inside, found=name)
    )


def _free(name: str, taken: set[str]) -> str:
    number, free = 2, name
    while free in taken:
        number, free = number + 1, f"{name} {number}"
    return free
