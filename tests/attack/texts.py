"""Doors for what is written: jobs, their names, profiles, tables."""

from __future__ import annotations

import os
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from cutlayers.construction.catalogue import job_template
from cutlayers.construction.dimension import Dimension
from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.reading.declared import Length, Number, Whole, Word
from tests.attack.cases import (
    NAUGHTY_TEXTS,
    Case,
    Chance,
    consoles,
    mutated,
    naughty,
    scrambled,
    toml_of,
)

ROOT = Path(__file__).parents[2]
COLOURED = {"panels": "base", "colour": "#0072B2"}
PROFILE = ("--profile", "drag-blade-340")

SOURCES: tuple[dict[str, Any], ...] = (
    {"colour": "#0072B2"},
    {"pattern": "stars", "repeat": 9},
    {"pattern": "stripes", "ground": "#F0E442"},
    {"lettering": "soap", "height": 5},
    {"lettering": ["soap", "and more"]},
)

MANY_PIECES = 6
"""Of a job that is checked alone."""

SHEETS: tuple[dict[str, Any], ...] = (
    {"gap": 2, "border": 3, "rotation": "free"},
    {"gap": 1e-300},
    {"gap": 0, "border": 0},
    {"gap": 49.9},
)


@cache
def jobs() -> tuple[dict[str, Any], ...]:
    """Sound ones: samples, and one of every style."""
    samples = [
        tomllib.loads((ROOT / "samples" / f"{name}.toml").read_text(encoding="utf-8"))
        for name in ("bath-bombs", "soap-bars", "one-of-each", "market-trays")
    ]
    for sample in samples:
        for piece in sample["piece"]:
            piece["count"] = 1
    templates = [tomllib.loads(job_template(style, "mm", "A4")) for style in styles()]
    return (*samples, *templates, *templates)


@cache
def profiles() -> tuple[dict[str, Any], ...]:
    """Those that come with the package."""
    return tuple(
        tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((ROOT / "profiles").glob("*.toml"))
    )


def tray(**more: Any) -> bytes:
    """A job of one small tray, with more keys of its piece."""
    return toml_of(_tray_table(**more))


def _tray_table(**more: Any) -> dict[str, Any]:
    size = {"length": 60, "width": 40, "height": 20}
    piece = {"style": "tray", "stock": "card", "size": size, **more}
    return {"stock": {"card": {"caliper": 0.3, "sheet": "A4"}}, "piece": [piece]}


def _value(dimension: Dimension, usual: Any, chance: Chance) -> Any:
    """One that the dimension may have: about the usual one, odd, or at the very limit."""
    match dimension.value:
        case Length() | Number():
            about = (usual or 10.0) * chance.uniform(0.5, 1.6)
            ways = (about, about, round(about), round(about / 25.4 * 16) / 16 * 25.4)
            value = chance.choice((*ways, dimension.least, dimension.most))
            return min(max(value, dimension.least), dimension.most)
        case Whole(least=low, most=high):
            return chance.randint(low, high)
        case Word(choices=choices):
            return chance.choice(choices)
        case _:
            return chance.random() < 0.5


@cache
def _usual_sizes(style: Style) -> dict[str, Any]:
    sizes: dict[str, Any] = tomllib.loads(job_template(style, "mm", "A4"))["piece"][0]["size"]
    return sizes


def _made(style: Style, chance: Chance) -> dict[str, Any]:
    """A job of a style whose every value may be: what comes of it is a box or a reason."""
    usual_sizes = _usual_sizes(style)
    size = {**usual_sizes, "measure": chance.choice(("inside", "score", "outside"))}
    options = {}
    for name, (dimension, usual) in style.table.items():
        if dimension.group != "size":
            if chance.random() < 0.15:
                options[name] = _value(dimension, usual, chance)
        elif name not in size or chance.random() < 0.4:
            size[name] = _value(dimension, usual_sizes.get(name), chance)
    stock = {
        "caliper": chance.choice((0.2, 0.3, 0.5, 1.0)),
        "sheet": chance.choice(("A4", "A3", "12x12 in", "300 x 200 mm")),
        "grain": chance.choice(("long", "short", "unknown")),
    }
    piece = {
        "style": style.name, "stock": "card", "size": size, "options": options,
        "grain": "any" if stock["grain"] == "unknown" else chance.choice(("along", "across")),
    }  # fmt: skip
    return {"stock": {"card": stock}, "piece": [piece]}


def _with_extras(table: dict[str, Any], chance: Chance) -> dict[str, Any]:
    """A job with art, lettering, facings, guides, limits and rules for its sheets, at times."""
    table = {**table, "piece": [dict(piece) for piece in table["piece"]]}
    piece = table["piece"][0]
    if chance.random() < 0.3:
        roles = chance.choice(("all", "all", ["wall"], ["wall", "lid"]))
        piece["art"] = [
            {"roles": roles, **chance.choice(SOURCES)} for _ in range(chance.choice((1, 1, 2)))
        ]
    if chance.random() < 0.2:
        panel = chance.choice(("front", "base", "lid"))
        how = chance.choice(({}, {"face": "script"}, {"as": "cut"}, {"height": 62}))
        piece["lettering"] = [{"panel": panel, "text": "soap", **how}]
    if chance.random() < 0.2:
        piece["facing"] = [{"roles": ["wall"], "stock": next(iter(table["stock"]))}]
    if chance.random() < 0.3:
        piece["guides"] = True
    if chance.random() < 0.2:
        table["limits"] = {"layers": 4, "lid_tight": 0.3, "tab_depth": 6}
    if chance.random() < 0.2:
        table["sheets"] = dict(chance.choice(SHEETS))
    if chance.random() < 0.2:
        table["print"] = {"bleed": chance.choice((0, 1, 3, 3.175, 10)), "safe_margin": 4}
    if chance.random() < 0.1:
        piece.pop("count", None)
        piece["fill"] = True
    if chance.random() < 0.02:
        table["piece"] = [
            {
                **piece,
                "name": f"box {number}",
                "size": {**piece.get("size", {}), "height": 10 + number},
            }
            for number in range(30)
        ]
    return table


def job(chance: Chance) -> Case:
    """A job file: one whose values all may be, or with values or bytes that may not."""
    if chance.random() < 0.45:
        table = _with_extras(_made(chance.choice(styles()), chance), chance)
        content = toml_of(table if chance.random() < 0.6 else mutated(table, chance, 1))
    else:
        content = toml_of(mutated(_with_extras(chance.choice(jobs()), chance), chance))
        if chance.random() < 0.3:
            content = scrambled(content, chance)
    ways: tuple[tuple[str, ...], ...] = (
        *((("check", "{folder}/job.toml"),) * 20),
        ("check", "{folder}/job.toml", "--json"),
        ("check", "{folder}/job.toml", "--mend", "--yes"),
        ("make", "{folder}/job.toml", "-o", "{folder}/out"),
        ("make", "{folder}/job.toml", "-o", "{folder}/out", "--anyway"),
        ("guide", "{folder}/job.toml", "-o", "{folder}/page.html"),
    )
    # A second or two of each sheet is drawing it, which many sheets may take: that is no hang.
    words = chance.choice(ways if content.count(b"[[piece]]") < MANY_PIECES else ways[:1])
    ours = frozenset({"job.toml"} if "--mend" in words else ())
    return Case((*words, *PROFILE), {"job.toml": content}, ours=ours, console=consoles(chance))


def fold(chance: Chance) -> Case:
    """A box of any style, or a job that may not be, folded into a file of any format."""
    table = _made(chance.choice(styles()), chance)
    if chance.random() < 0.5:
        table = _with_extras(table, chance)
    if chance.random() < 0.2:
        table = mutated(table, chance, 1)
    name = chance.choice(
        ("box.glb", "box.obj", "box.fold", "box.fold", "BOX.GLB", "box.stl", "box")
    )
    if chance.random() < 0.1:
        name = chance.choice(NAUGHTY_TEXTS) + chance.choice(("", ".glb", ".fold"))
    words = ["fold", "{folder}/job.toml", "-o", "{folder}/" + name]
    if chance.random() < 0.4:
        words += ["--open", chance.choice(("0.4", "1", "0", "1e-9", "-0", "nan", "2", "x"))]
    if chance.random() < 0.2:
        words += ["--piece", chance.choice(("1", "2", "0", table_name(table), *NAUGHTY_TEXTS))]
    return Case(tuple(words), {"job.toml": toml_of(table)}, console=consoles(chance))


def table_name(table: dict[str, Any]) -> str:
    """What the first piece of a job may be called."""
    pieces = table.get("piece")
    first = pieces[0] if isinstance(pieces, list) and pieces else {}
    return str(first.get("name", "tray") if isinstance(first, dict) else first)[:300]


def job_name(chance: Chance) -> Case:
    """A sound job whose title, names and file name are not."""
    table = _tray_table()
    pieces = [
        {**table["piece"][0], "name": chance.choice(NAUGHTY_TEXTS)}
        for _ in range(chance.randint(1, 3))
    ]
    table["piece"] = pieces
    if chance.random() < 0.5:
        table["title"] = chance.choice(NAUGHTY_TEXTS)
    names = (
        "job.toml", "é.toml", "job ☃.toml", "-.toml", "a" * 120 + ".toml", "line\nbreak.toml",
        "{x}.toml", "$(touch x).toml", "con.toml", os.fsdecode(b"\xff\xfe.toml"),
    )  # fmt: skip
    name = chance.choice(names)
    verb = (
        ("check", *PROFILE) if chance.random() < 0.7 else ("make", "-o", "{folder}/out", *PROFILE)
    )
    if chance.random() < 0.1:
        verb = ("fold", "-o", "{folder}/out" + chance.choice((".glb", ".obj", ".fold")))
    words = (*verb, "{folder}/" + name)
    return Case(words, {name: toml_of(table)}, console=consoles(chance))


def profile(chance: Chance) -> Case:
    """A profile, its values changed or its bytes."""
    content = toml_of(mutated(chance.choice(profiles()), chance, chance.choice((1, 1, 3))))
    if chance.random() < 0.25:
        content = scrambled(content, chance)
    words: tuple[str, ...] = chance.choice(
        (
            ("profile", "check", "{folder}/machine.toml"),
            ("profile", "show", "{folder}/machine.toml", "--json"),
            ("profile", "import", "{folder}/machine.toml"),
            ("profile", "diff", "{folder}/machine.toml", "drag-blade-340"),
            ("check", "{folder}/job.toml", "-p", "{folder}/machine.toml"),
            ("check", "{folder}/job.toml", "-p", "{folder}/machine.toml"),
        )
    )
    if chance.random() < 0.04:
        words = ("make", "{folder}/job.toml", "-p", "{folder}/machine.toml", "-o", "{folder}/out")
    more = {"art": [COLOURED]} if chance.random() < 0.5 else {}
    return Case(
        words, {"machine.toml": content, "job.toml": tray(**more)}, console=consoles(chance)
    )


def profile_edit(chance: Chance) -> Case:
    """`profile set` and `unset` with odd keys and values."""
    table = chance.choice(profiles())
    content = toml_of(table)
    inner = [
        f"{key}.{sub}" for key, held in table.items() if isinstance(held, dict) for sub in held
    ]
    keys = (*table, *inner, "svg", "svg.units", "print", "trials", "materials.x.cut.force")
    odd = (
        *NAUGHTY_TEXTS,
        "a." * chance.choice((1, 40, 1500)) + "b",
        '"a.b".c',
        "svg.",
        ".svg",
        "a..b",
    )
    key = chance.choice(keys if chance.random() < 0.7 else odd)
    value = str(naughty(chance))[:5000]
    sound = chance.choice(("3", "true", "[1, 2]"))
    name = chance.choice((value[:200] or "x", "con", "a\nb", "mine", "../mine", ".", "mine.toml"))
    words = chance.choice(
        (
            ("profile", "set", "{folder}/machine.toml", key, value),
            ("profile", "set", "{folder}/machine.toml", key, sound),
            ("profile", "unset", "{folder}/machine.toml", key),
            ("profile", "unset", "{folder}/machine.toml", key),
            ("profile", "new", name, "--no-ask"),
            ("profile", "copy", "{folder}/machine.toml", name),
            ("profile", "export", "{folder}/machine.toml", "{folder}/" + name),
            ("profile", "default", name),
        )
    )
    typed = "\n".join(chance.choice(("1", "", "laser", "300", "x")) for _ in range(40))
    return Case(
        words, {"machine.toml": content}, typed, frozenset({"machine.toml"}), (), consoles(chance)
    )


def table(chance: Chance) -> Case:
    """The table of a kit: cells, columns and bytes; and its job."""
    job_text = (ROOT / "samples/market-guests.toml").read_bytes()
    rows = (ROOT / "samples/guests.csv").read_text(encoding="utf-8").splitlines()[:3]
    cells = [row.split(",") for row in rows]
    for _ in range(chance.choice((0, 1, 1, 2, 3))):
        row = chance.choice(cells)
        if row:
            value = naughty(chance) if chance.random() < 0.7 else chance.choice(("60", "3", "é"))
            row[chance.randrange(len(row))] = str(value)[:4000]
        if chance.random() < 0.1:
            row.append("more")
        if chance.random() < 0.05:
            row.clear()
    sign = chance.choice((",", ",", ",", ",", ",", ";", "\t"))
    content = "\n".join(sign.join(row) for row in cells).encode("utf-8", "surrogatepass")
    if chance.random() < 0.15:
        content = scrambled(content, chance)
    if chance.random() < 0.2:
        job_text = toml_of(mutated(tomllib.loads(job_text.decode()), chance, 1))
    words: tuple[str, ...] = ("check", "{folder}/kit.toml")
    few = not any(row[-1:] in (["60"], ["62"]) for row in cells)  # many sheets are no hang
    if few and chance.random() < 0.03:
        words = ("make", "{folder}/kit.toml", "-o", "{folder}/out")
    files = {"kit.toml": job_text, "guests.csv": content}
    return Case(words, files, console=consoles(chance))
