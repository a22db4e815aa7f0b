"""The door for drawings from outside: nets as SVG, DXF and FOLD, careless, odd and broken."""

from __future__ import annotations

import json
import math
from itertools import pairwise
from typing import Any

from tests.attack.cases import (
    NAUGHTY_NUMBERS,
    NAUGHTY_TEXTS,
    Case,
    Chance,
    consoles,
    mutated,
    scrambled,
    toml_of,
)
from tests.attack.texts import PROFILE

Line = tuple[float, float, float, float, bool]
"""From, to, in mm, and whether it is folded."""

ODD = ("nan", "inf", "-1e9", "1e400", "1e-12", "", "x", "0")


def drawing(chance: Chance) -> Case:
    """A tray as somebody drew it, told of, made a job, or checked as a piece of one."""
    kind = chance.choice(("svg", "svg", "dxf", "dxf", "fold"))
    lines = _careless(_tray(chance), chance)
    content = {"svg": _svg, "dxf": _dxf, "fold": _fold}[kind](lines, chance)
    if chance.random() < 0.2:
        content = scrambled(content, chance)
    name = f"net.{kind}"
    files = {name: content}
    words = ["bring", "{folder}/" + name]
    if chance.random() < 0.6:
        words += ["--unit", "mm"]
    elif chance.random() < 0.5:
        options: tuple[tuple[str, object], ...] = (
            ("--unit", chance.choice(("mm", "in", "px", "x"))),
            ("--scale", chance.choice((0.1, 25.4, *NAUGHTY_NUMBERS))),
            ("--known", chance.choice(("1=60", "999=60", "1=-1", "²=6", *NAUGHTY_TEXTS))),
            ("--join", chance.choice(("0", "1 mm", "500 mm", *NAUGHTY_TEXTS))),
            ("--ends", chance.choice(("trim", "keep"))),
        )
        for option, value in chance.sample(options, chance.choice((1, 1, 2))):
            words += [option, str(value)[:400]]
    if chance.random() < 0.3:
        words += ["-o", "{folder}/" + chance.choice(("new.toml", name, "net.toml"))]
    if chance.random() < 0.1:
        words += ["--picture", "{folder}/" + chance.choice(("seen.svg", "seen.png", name))]
    if chance.random() < 0.3:
        files["job.toml"] = _job(name, chance)
        words = ["check", "{folder}/job.toml", *PROFILE]
    return Case(tuple(words), files, console=consoles(chance))


def _job(name: str, chance: Chance) -> bytes:
    """A job whose piece is the drawing."""
    piece: dict[str, Any] = {"stock": "card", "drawing": name}
    if chance.random() < 0.8:
        piece["unit"] = "mm"
    table = {"stock": {"card": {"caliper": 0.3, "sheet": "A4"}}, "piece": [piece]}
    return toml_of(mutated(table, chance, 1) if chance.random() < 0.4 else table)


def _tray(chance: Chance) -> list[Line]:
    """The outline and the folds of a tray without tabs."""
    wide, deep, high = (chance.choice((20, 31.7, 60, 90)) for _ in range(3))
    x, y = wide + high, deep + high
    ring = [
        (high, 0), (x, 0), (x, high), (x + high, high), (x + high, y), (x, y), (x, y + high),
        (high, y + high), (high, y), (0, y), (0, high), (high, high), (high, 0),
    ]  # fmt: skip
    cuts: list[Line] = [(*one, *two, False) for one, two in pairwise(ring)]
    corners = [(high, high), (x, high), (x, y), (high, y), (high, high)]
    folds: list[Line] = [(*one, *two, True) for one, two in pairwise(corners)]
    return [*cuts, *folds]


def _careless(lines: list[Line], chance: Chance) -> list[Line]:
    """Gaps, doubled and lost lines, lines that run past others, and some that cross all."""
    found = list(lines)
    for _ in range(chance.choice((0, 0, 1, 3, 10))):
        at = chance.randrange(len(found))
        x0, y0, x1, y1, folded = found[at]
        by = chance.choice((1e-9, 0.01, 0.2, 2.0, 40.0))
        match chance.randrange(5):
            case 0:
                found[at] = (x0 + by, y0, x1, y1 + by, folded)
            case 1:
                found.append((x0, y0, x1 + by, y1, not folded))
            case 2 if len(found) > 1:
                del found[at]
            case 3:
                found.append((x0, y0, x0, y0, folded))
            case _:
                found[at] = (x0, y0, x1, y1, not folded)
    if chance.random() < 0.05:
        turns = [math.pi * step / 150 for step in range(chance.choice((20, 150)))]
        found += [
            (60, 60, 60 + 90 * math.cos(turn), 60 + 90 * math.sin(turn), False) for turn in turns
        ]
    return found


def _number(value: float, chance: Chance) -> str:
    return chance.choice(ODD) if chance.random() < 0.002 else f"{value:.6g}"


def _svg(lines: list[Line], chance: Chance) -> bytes:
    heads = ('width="210mm" height="297mm" viewBox="0 0 210 297"', 'width="210"', "")
    looks = (
        ('stroke="#f00"', 'stroke="#00f"'),
        ('stroke="black"', 'stroke="black" stroke-dasharray="3 2"'),
        ('class="a"', 'class="b" stroke-width="0.1"'),
        ("", ""),
    )
    cut, fold = chance.choice(looks)
    parts = []
    for line in lines:
        x0, y0, x1, y1 = (_number(value, chance) for value in line[:4])
        look = fold if line[4] else cut
        parts.append(
            chance.choice(
                (
                    f'<line x1="{x0}" y1="{y0}" x2="{x1}" y2="{y1}" {look}/>',
                    f'<path d="M{x0} {y0} L{x1} {y1}" fill="none" {look}/>',
                    f'<polyline points="{x0},{y0} {x1},{y1}" {look}/>',
                )
            )
        )
    parts.append(
        chance.choice(("", '<circle cx="50" cy="50" r="5" stroke="red"/>', "<text>a</text>"))
    )
    if chance.random() < 0.2:
        turn = _number(chance.uniform(-90, 90), chance)
        parts = [f'<g transform="rotate({turn}) scale({chance.choice((1, -1, 0, 2))})">', *parts]
        parts.append("</g>")
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {chance.choice(heads)}>'
    return "\n".join((head, *parts, "</svg>")).encode()


def _dxf(lines: list[Line], chance: Chance) -> bytes:
    """As ASCII, in the release that every program writes."""
    layers = chance.choice((("CUT", "FOLD"), ("0", "0"), ("é", "=1+1")))
    parts = ["0", "SECTION", "2", "ENTITIES"]
    for line in lines:
        parts += ["0", "LINE", "8", layers[line[4]], "62", str(5 if line[4] else 1)]
        for code, value in zip(("10", "20", "11", "21"), line[:4], strict=True):
            parts += [code, _number(value, chance)]
    if chance.random() < 0.3:
        radius = _number(5, chance)
        parts += ["0", "ARC", "8", "CUT", "10", "50", "20", "50", "40", radius]
        parts += ["50", _number(0, chance), "51", _number(180, chance)]
    if chance.random() < 0.2:
        parts += ["0", "INSERT", "2", chance.choice(NAUGHTY_TEXTS).replace("\n", ""), "10", "0"]
    return "\n".join((*parts, "0", "ENDSEC", "0", "EOF", "")).encode("utf-8", "surrogatepass")


def _fold(lines: list[Line], chance: Chance) -> bytes:
    points = list(dict.fromkeys(end for line in lines for end in (line[:2], line[2:4])))
    table: dict[str, Any] = {
        "file_spec": 1.1,
        "vertices_coords": [list(point) for point in points],
        "edges_vertices": [[points.index(line[:2]), points.index(line[2:4])] for line in lines],
        "edges_assignment": ["VMF"[chance.randrange(3)] if line[4] else "B" for line in lines],
    }
    if chance.random() < 0.4:
        table = mutated(table, chance)
    return json.dumps(table, default=str).encode("utf-8", "surrogatepass")
