"""From a job's pieces as they are written to orders: boxes sized and built, pictures read."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from pathlib import Path

from cutlayers.box import Blank
from cutlayers.construction.style import Style
from cutlayers.job.art import read_piece_art
from cutlayers.job.building import box_of
from cutlayers.job.dimensions import Reading, dimension_place, read_item
from cutlayers.job.order import Order
from cutlayers.job.stock import Stock
from cutlayers.job.written import WrittenPiece
from cutlayers.lettering.fold_names import with_fold_names
from cutlayers.lettering.inscriptions import inscribed
from cutlayers.net import Net
from cutlayers.net.guides import with_glue_lines
from cutlayers.telling.errors import StyleError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.nearest import nearest
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
        name = piece.name or _free(piece.style, taken)
        taken.add(name)
        style, card = styles[piece.style], stocks[piece.stock].card(reading.measure)
        found = _at_odds(piece, stocks[piece.stock])
        thing, wrong = read_item(piece.holds, unit) if piece.holds is not None else (None, [])
        problems += [problem.under("piece", index) for problem in (*found, *wrong)]
        if wrong:
            continue
        try:
            box = box_of(style, reading.values, card, thing)
        except StyleError as error:
            place = dimension_place(style.dimensions, error.field)
            found_there = reading.values.get(place[-1])
            blamed = dataclasses.replace(error.refusal, place=place, found=found_there)
            problems.append(blamed.under("piece", index))
            continue
        problems += [problem.under("piece", index) for problem in _unknown_nets(piece, box.blanks)]
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


def _at_odds(piece: WrittenPiece, stock: Stock) -> list[Refusal]:
    """Keys of a piece that cannot both hold, or that its stock does not allow."""
    problems = []
    if piece.fill and piece.facing:
        problems.append(
            Refusal(("facing",), "needs a number of boxes; write count in place of fill")
        )
    if piece.fill and piece.count is not None:
        problems.append(Refusal(("fill",), "is true beside a count; leave one of them out"))
    ways = [piece.grain] if isinstance(piece.grain, str) else list(piece.grain.values())
    way = next((each for each in ways if each != "any"), None)
    if way is not None and stock.grain == "unknown":
        sentence = f"is {shown(way)}, but stock.{stock.name}.grain is unknown"
        problems.append(Refusal(("grain",), f'{sentence}; write "long" or "short" there'))
    return problems


def _unknown_nets(piece: WrittenPiece, blanks: Sequence[Blank]) -> list[Refusal]:
    """Nets that the piece's grain names and its box has not."""
    known = tuple(blank.name for blank in blanks)
    named = () if isinstance(piece.grain, str) else tuple(piece.grain)
    return [
        Refusal(("grain", net), fault="unknown", allowed=known, nearest=nearest(net, known))
        for net in named
        if net not in known
    ]


def _lettered(
    nets: tuple[Net, ...], piece: WrittenPiece, folder: Path
) -> tuple[tuple[Net, ...], list[Refusal]]:
    """The nets with the piece's lettering; texts are told wrong one by one, each place once."""
    problems = []
    for index, inscription in enumerate(piece.lettering):
        if inscription.file is not None:
            inscription = dataclasses.replace(inscription, file=folder / inscription.file)
        try:
            nets = inscribed(nets, inscription)
        except StyleError as error:
            problems.append(error.refusal.under("lettering", index))
    return nets, problems


def _free(name: str, taken: set[str]) -> str:
    number, free = 2, name
    while free in taken:
        number, free = number + 1, f"{name} {number}"
    return free
