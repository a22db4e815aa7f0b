"""The doors, each a function from a seeded chance to a case."""

from __future__ import annotations

import io
import struct
import tomllib
import zlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from cutlayers.construction.catalogue import job_template
from cutlayers.construction.style import styles
from tests.attack.cases import (
    NAUGHTY_NUMBERS,
    NAUGHTY_TEXTS,
    Case,
    Chance,
    mutated,
    naughty,
    scrambled,
    toml_of,
)

ROOT = Path(__file__).parents[2]
COLOURED = {"panels": "base", "colour": "#0072B2"}
PROFILE = ("--profile", "drag-blade-305")


@cache
def _jobs() -> tuple[dict[str, Any], ...]:
    samples = [
        tomllib.loads((ROOT / "samples" / f"{name}.toml").read_text(encoding="utf-8"))
        for name in ("bath-bombs", "soap-bars", "one-of-each", "market-trays")
    ]
    for sample in samples:
        for piece in sample["piece"]:
            piece["count"] = 1
    templates = [tomllib.loads(job_template(style)) for style in styles()]
    return (*samples, *templates, *templates)


@cache
def _profiles() -> tuple[dict[str, Any], ...]:
    return tuple(
        tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((ROOT / "profiles").glob("*.toml"))
    )


def _with_extras(table: dict[str, Any], chance: Chance) -> dict[str, Any]:
    """A job with art, lettering, facings, guides, limits and rules for its sheets, at times."""
    table = {**table, "piece": [dict(piece) for piece in table["piece"]]}
    piece = table["piece"][0]
    if chance.random() < 0.3:
        piece["art"] = [
            chance.choice(
                (
                    {"roles": "all", "colour": "#0072B2"},
                    {"roles": ["wall"], "pattern": "stars", "repeat": 9},
                    {"roles": "all", "lettering": "soap", "height": 5},
                )
            )
        ]
    if chance.random() < 0.2:
        piece["lettering"] = [{"panel": chance.choice(("front", "base", "lid")), "text": "soap"}]
    if chance.random() < 0.2:
        piece["facing"] = [{"roles": ["wall"], "stock": next(iter(table["stock"]))}]
    if chance.random() < 0.3:
        piece["guides"] = True
    if chance.random() < 0.2:
        table["limits"] = {"layers": 4, "lid_tight": 0.3, "tab_depth": 6}
    if chance.random() < 0.2:
        table["sheets"] = {"gap": 2, "border": 3, "rotation": "free"}
    if chance.random() < 0.1:
        piece.pop("count", None)
        piece["fill"] = True
    return table


def job(chance: Chance) -> Case:
    """A job file, its values changed or its bytes."""
    table = _with_extras(chance.choice(_jobs()), chance)
    content = toml_of(mutated(table, chance))
    if chance.random() < 0.25:
        content = scrambled(content, chance)
    verb = chance.choice(("check", "check", "check", "make", "guide"))
    words = [verb, "{folder}/job.toml", *PROFILE]
    if verb == "make":
        words += ["-o", "{folder}/out"]
    if verb == "guide":
        words += ["-o", "{folder}/page.html"]
    if verb == "check" and chance.random() < 0.3:
        words.append("--json")
    return Case(tuple(words), {"job.toml": content})


def job_name(chance: Chance) -> Case:
    """A sound job whose title, names and file name are not."""
    table = _with_extras(chance.choice(_jobs()), chance)
    table["piece"][0]["name"] = chance.choice(NAUGHTY_TEXTS)
    if chance.random() < 0.5:
        table["title"] = chance.choice(NAUGHTY_TEXTS)
    else:
        table.pop("title", None)
    name = chance.choice(("job.toml", "é.toml", "job ☃.toml", "-.toml", "a" * 120 + ".toml"))
    return Case(
        ("make", "{folder}/" + name, *PROFILE, "-o", "{folder}/out"), {name: toml_of(table)}
    )


def profile(chance: Chance) -> Case:
    """A profile, its values changed or its bytes."""
    content = toml_of(mutated(chance.choice(_profiles()), chance))
    if chance.random() < 0.25:
        content = scrambled(content, chance)
    words = chance.choice(
        (
            ("profile", "check", "{folder}/machine.toml"),
            ("profile", "show", "{folder}/machine.toml", "--json"),
            ("check", str(ROOT / "samples/market-trays.toml"), "-p", "{folder}/machine.toml"),
        )
    )
    return Case(words, {"machine.toml": content})


def profile_edit(chance: Chance) -> Case:
    """`profile set` and `unset` with odd keys and values."""
    content = toml_of(chance.choice(_profiles()))
    keys = ("title", "bed.width", "tools.blade.offset", "tools", "svg", "svg.units", "materials")
    key = chance.choice((*keys, *NAUGHTY_TEXTS, "a." * chance.choice((1, 40, 1500)) + "b"))
    value = str(naughty(chance))[:5000]
    words = chance.choice(
        (
            ("profile", "set", "{folder}/machine.toml", key, value),
            ("profile", "unset", "{folder}/machine.toml", key),
            ("profile", "new", value[:200] or "x", "--no-ask"),
            ("profile", "copy", "{folder}/machine.toml", value[:200] or "x"),
        )
    )
    return Case(words, {"machine.toml": content}, typed="\n".join(["1"] * 40))


def table(chance: Chance) -> Case:
    """The table of a kit: cells, columns and bytes."""
    job_text = (ROOT / "samples/market-guests.toml").read_bytes()
    rows = (ROOT / "samples/guests.csv").read_text(encoding="utf-8").splitlines()[:4]
    cells = [row.split(",") for row in rows]
    for _ in range(chance.randint(1, 3)):
        row = chance.choice(cells)
        if row:
            row[chance.randrange(len(row))] = str(naughty(chance))[:4000]
        if chance.random() < 0.2:
            row.append("more")
        if chance.random() < 0.1:
            row.clear()
    sign = chance.choice((",", ",", ",", ";", "\t"))
    content = "\n".join(sign.join(row) for row in cells).encode("utf-8", "surrogatepass")
    if chance.random() < 0.25:
        content = scrambled(content, chance)
    return Case(("check", "{folder}/kit.toml"), {"kit.toml": job_text, "guests.csv": content})


def _tray(**more: Any) -> bytes:
    """A job of one small tray, with more keys of its piece."""
    size = {"length": 60, "width": 40, "height": 20}
    piece = {"style": "tray", "stock": "card", "size": size, **more}
    return toml_of({"stock": {"card": {"caliper": 0.3, "sheet": "A4"}}, "piece": [piece]})


def _job_with_image(name: str, chance: Chance) -> bytes:
    fit = chance.choice(("contain", "cover", "tile"))
    return _tray(art=[{"panels": "base", "image": name, "fit": fit}])


def _align(chance: Chance) -> tuple[str, ...]:
    return ("align", "{folder}/job.toml", *PROFILE, "--sheet", chance.choice(("1", "1", "1", "2")))


SVG_NUMBERS = ("0", "1", "-1", "1e9", "1e-9", "nan", "inf", "1e400", "50%", "10mm", "2em", "", "x")
SVG_ELEMENTS = (
    '<rect x="{a}" y="{b}" width="{c}" height="{d}" stroke="red" stroke-width="{e}"/>',
    '<circle cx="{a}" cy="{b}" r="{c}" style="fill:url(#g);opacity:{d}"/>',
    '<path d="M{a} {b} L{c} {d} A {e} {a} 0 1 1 {b} {c} C 1 2 {d} 4 5 6 Z"/>',
    '<path d="M1 1 L5 5 L9 1" stroke="red" stroke-linejoin="miter" stroke-miterlimit="{e}"/>',
    '<use href="#u" x="{a}"/>',
    '<image href="file:///etc/passwd" width="{a}" height="{b}"/>',
    '<image href="data:image/png;base64,AAAA" width="{a}" height="{b}"/>',
    '<g id="u" transform="matrix({a} {b} {c} {d} {e} 0)"><rect width="5" height="5"/></g>',
    '<g filter="url(#f)"><rect width="{a}" height="{b}"/></g>',
    "<style>@import url(http://127.0.0.1:9/x.css); .a{{fill:{a}}} rect{{fill:red}}</style>",
    '<text x="{a}" y="{b}">soap</text>',
    "<script>alert(1)</script>",
    '<clipPath id="c"><use href="#c"/></clipPath>',
    '<linearGradient id="g" href="#g"><stop offset="{a}" stop-color="red"/></linearGradient>',
    '<filter id="f"><feTurbulence baseFrequency="{a}" numOctaves="{b}"/>'
    '<feMorphology operator="dilate" radius="{c}"/></filter>',
    '<pattern id="p" width="{a}" height="{b}"><rect width="1" fill="url(#p)"/></pattern>',
    "<svg viewBox='{a} {b} {c} {d}'><rect width='3' height='3'/></svg>",
)


def svg(chance: Chance) -> Case:
    """A picture as SVG: odd numbers, references in circles, filters, foreign files, broken XML."""
    head = chance.choice(
        (
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60">',
            '<svg xmlns="http://www.w3.org/2000/svg" width="{a}" height="{b}">',
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="{a} {b} {c} {d}">',
            '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>'
            '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><desc>&x;</desc>',
        )
    )
    parts = [head, *(chance.choice(SVG_ELEMENTS) for _ in range(chance.randint(1, 5))), "</svg>"]
    usual = ("3", "10", "40")
    text = "".join(
        part.format(**{key: chance.choice(SVG_NUMBERS + usual * 6) for key in "abcde"})
        for part in parts
    )
    content = text.encode()
    if chance.random() < 0.2:
        content = scrambled(content, chance)
    files = {"job.toml": _job_with_image("art.svg", chance), "art.svg": content}
    verb = ("check",) if chance.random() < 0.7 else ("make", "-o", "{folder}/out")
    return Case((*verb, "{folder}/job.toml", *PROFILE), files)


def _png(chance: Chance) -> bytes:
    """A small PNG, or the beginning of one that says it is huge."""
    wide, high = chance.choice(((4, 4), (40, 30), (40, 30), (1, 60_000_000), (60_000, 60_000)))
    depth = chance.choice((1, 2, 4, 8, 8, 8, 16))
    colour = chance.choice((0, 2, 2, 3, 4, 6))
    samples = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[colour]
    rows = min(high, 64)
    row = b"\0" + bytes((wide * samples * depth + 7) // 8)

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", wide, high, depth, colour, 0, 0, chance.choice((0, 0, 1)))
    density = struct.pack(">IIB", 11811, chance.choice((11811, 0, 2**31)), 1)
    body = zlib.compress(row[:100_000] * rows)
    return b"".join(
        (
            b"\x89PNG\r\n\x1a\n",
            chunk(b"IHDR", header),
            chunk(b"pHYs", density),
            chunk(b"PLTE", bytes(range(48))) if colour == 3 else b"",
            chunk(b"IDAT", body),
            chunk(b"IEND", b""),
        )
    )


def pixels(chance: Chance) -> Case:
    """A picture of pixels: odd kinds and broken bytes."""
    content = _png(chance)
    if chance.random() < 0.3:
        from PIL import Image

        out = io.BytesIO()
        Image.new(chance.choice(("L", "RGB", "CMYK")), (30, 20), 90).save(out, "JPEG")
        content = out.getvalue()
    if chance.random() < 0.6:
        content = scrambled(content, chance)
    files = {"job.toml": _job_with_image("art.png", chance), "art.png": content}
    return Case(("check", "{folder}/job.toml", *PROFILE), files)


@cache
def _font() -> bytes:
    from fontTools.fontBuilder import FontBuilder
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    glyphs = {}
    for name in (".notdef", "I", "O"):
        pen = glyphs[name] = TTGlyphPen(None)
        for low, high, ring in ((0, 700, name != ".notdef"), (200, 500, name == "O")):
            if ring:
                corners = [(low, low), (low, high), (high, high), (high, low)]
                pen.moveTo(corners[0])
                for corner in corners[1:] if not low else corners[:0:-1]:
                    pen.lineTo(corner)
                pen.closePath()
    builder = FontBuilder(1000, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap({ord("I"): "I", ord("O"): "O"})
    builder.setupGlyf({name: pen.glyph() for name, pen in glyphs.items()})
    builder.setupHorizontalMetrics(dict.fromkeys(glyphs, (800, 0)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Squares", "styleName": "Regular"})
    builder.setupOS2(sTypoAscender=800, sCapHeight=700)
    builder.setupPost()
    out = io.BytesIO()
    builder.font.save(out)
    return out.getvalue()


def font(chance: Chance) -> Case:
    """A font file, broken."""
    content = scrambled(_font(), chance) if chance.random() < 0.9 else naughty_bytes(chance)
    how = chance.choice(("draw", "cut"))
    job_file = _tray(lettering=[{"panel": "base", "text": "IOI", "file": "f.ttf", "as": how}])
    return Case(("check", "{folder}/job.toml", *PROFILE), {"job.toml": job_file, "f.ttf": content})


def naughty_bytes(chance: Chance) -> bytes:
    """Bytes of no kind."""
    return chance.choice((b"", b"\0" * 100, b"OTTO", b"\x00\x01\x00\x00", bytes(range(256)) * 4))


def scan(chance: Chance) -> Case:
    """A scan that is none."""
    content = _png(chance)
    if chance.random() < 0.5:
        content = scrambled(content, chance)
    words = [*_align(chance), "--scan", "{folder}/scan.png", "-o", "{folder}/out"]
    if chance.random() < 0.5:
        words += ["--dpi", chance.choice(("300", "0", "-1", "1e9", "nan", "x"))]
    return Case(tuple(words), {"scan.png": content, "job.toml": _tray(art=[COLOURED])})


def marks(chance: Chance) -> Case:
    """Measured marks that cannot be."""
    words = list(_align(chance))
    for _ in range(chance.randint(0, 5)):
        x, y = (chance.choice((10, 12.5, 295, 280, *NAUGHTY_NUMBERS, "x", "")) for _ in range(2))
        words += ["--mark", f"{x},{y}"[:3000]]
    files = {"job.toml": _tray(art=[COLOURED])}
    return Case((*words, "-o", "{folder}/out"), files)


def record(chance: Chance) -> Case:
    """Readings of a trial."""
    kind = chance.choice(
        ("kerf", "offset", "pen", "perforation", "register", "score", "settings", "squareness")
    )
    values = [
        str(chance.choice((1, 0.2, *NAUGHTY_NUMBERS, *NAUGHTY_TEXTS)))[:2000]
        for _ in range(chance.randint(0, 4))
    ]
    words = ["trial", "record", kind, "-p", "{folder}/machine.toml", "--", *values]
    return Case(tuple(words), {"machine.toml": toml_of(chance.choice(_profiles()))}, typed="n\n")


def trial(chance: Chance) -> Case:
    """A trial for an odd card, ladder or sheet."""
    kind = chance.choice(("kerf", "offset", "pen", "perforation", "register", "score", "settings"))
    words = ["trial", kind, *PROFILE, "-o", "{folder}/out"]
    if chance.random() < 0.7:
        words += ["--material", chance.choice(NAUGHTY_TEXTS)]
    if chance.random() < 0.3:
        words += ["--sheet", chance.choice(("A5", "A3", *NAUGHTY_TEXTS))]
    if chance.random() < 0.3:
        words += ["--setting", "force", "--from", str(chance.choice(NAUGHTY_NUMBERS))[:400]]
        words += ["--to", str(chance.choice(NAUGHTY_NUMBERS))[:400], "--steps", "4"]
    return Case(tuple(words))


def command(chance: Chance) -> Case:
    """The words of a command: sizes, options, names, files that are none."""
    style = chance.choice(styles()).name
    text = chance.choice(NAUGHTY_TEXTS)
    number = str(chance.choice(NAUGHTY_NUMBERS))[:4000]
    words = chance.choice(
        (
            ("size", "for-item", style, "sphere", f"diameter={number}"),
            ("size", "for-item", style, "cuboid", "length=50", "width=30", f"height={text}"),
            ("size", "for-item", style, "sphere", "diameter=50", "--set", f"tab={'[' * 300}"),
            ("size", "for-item", style, "sphere", "diameter=50", "--set", f"{text}={number}"),
            ("size", "from-sheet", style, "length=2", "width=1", f"height={number}", *PROFILE),
            ("size", "from-sheet", style, "length=1", "--set", f"length={number}", *PROFILE),
            ("size", "like", str(ROOT / "samples/bath-bombs.toml"), "sphere", f"diameter={number}"),
            ("styles", text),
            ("new", text),
            ("new", style, "-o", "{folder}/" + text),
            ("check", "{folder}/" + text),
            ("check", text),
            ("check", "{folder}"),
            ("make", str(ROOT / "samples/bath-bombs.toml"), "-o", "{folder}/" + text),
            ("check", str(ROOT / "samples/bath-bombs.toml"), "-p", text),
            ("profile", "show", text),
            ("guide", str(ROOT / "samples/bath-bombs.toml"), "-o", "{folder}/" + text),
            (text, number),
            (chance.choice(("make", "check", "align", "trial", "size")), text, text),
        )
    )
    return Case(tuple(words))


DOORS: dict[str, Callable[[Chance], Case]] = {
    door.__name__.replace("_", "-"): door
    for door in (
        job,
        job_name,
        profile,
        profile_edit,
        table,
        svg,
        pixels,
        font,
        scan,
        marks,
        record,
        trial,
        command,
    )
}
