"""Doors for what is looked at: pictures, fonts, scans."""

from __future__ import annotations

import io
import struct
import zlib
from functools import cache

from tests.attack.cases import NAUGHTY_TEXTS, Case, Chance, scrambled
from tests.attack.spoken import align_words
from tests.attack.texts import COLOURED, PROFILE, tray

SVG_NUMBERS = (
    "0", "1", "-1", "1e9", "1e-9", "nan", "inf", "1e400", "50%", "10mm", "2em", "", "x",
    "9" * 5_000,
)  # fmt: skip
SVG_USUAL = ("0", "1", "3", "10", "40", "0.5", "-7")
SVG_HEADS = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60">',
    '<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30">',
    '<svg xmlns="http://www.w3.org/2000/svg" width="{a}" height="{b}">',
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="{a} {b} {c} {d}">',
)
SVG_ELEMENTS = (
    '<rect x="{a}" y="{b}" width="{c}" height="{d}" stroke="red" stroke-width="{e}"/>',
    '<circle cx="{a}" cy="{b}" r="{c}" style="fill:#0072B2;opacity:{d}"/>',
    '<path d="M{a} {b} L{c} {d} A {e} {a} 0 1 1 {b} {c} C 1 2 {d} 4 5 6 Z" fill-rule="evenodd"/>',
    '<rect width="5" height="5" style="fill:rgb({a}, {b}, {c})" stroke="hsl({d}, {a}%, {b}%)"/>',
    '<path d="M1 1 L5 5 L9 1" stroke="red" stroke-linejoin="miter" stroke-miterlimit="{e}"/>',
    '<path d="M1 1 h{a} v{b} m{c} {d} q 1 2 3 {e} t 4 4 s 1 2 3 4" stroke-dasharray="{a} {b}"/>',
    '<polygon points="{a},{b} {c},{d} {e},{a}" fill="none" stroke="hsl(120, 50%, 50%)"/>',
    '<ellipse cx="{a}" cy="{b}" rx="{c}" ry="{d}" transform="rotate({e} 3 4) skewX({a})"/>',
    '<g id="v" transform="scale({a})"><rect width="5" height="5" rx="{b}"/></g><use href="#v"/>',
    '<g opacity="{a}" transform="matrix({a} {b} {c} {d} {e} 0)"><rect width="5" height="5"/></g>',
    "<style>.a{{fill:red}} rect{{stroke-width:{b}}}</style><rect class='a' width='5' height='5'/>",
    "<svg viewBox='{a} {b} {c} {d}'><rect width='3' height='3'/></svg>",
)
"""What a drawing program writes."""

SVG_PAINTED = (
    '<linearGradient id="g"><stop offset="{a}" stop-color="red"/></linearGradient>'
    '<rect width="{b}" height="20" fill="url(#g)"/>',
    '<filter id="f"><feTurbulence baseFrequency="{a}" numOctaves="{b}"/>'
    '<feMorphology operator="dilate" radius="{c}"/></filter>'
    '<g filter="url(#f)"><rect width="{a}" height="{b}"/></g>',
    '<filter id="h"><feGaussianBlur stdDeviation="{a} {b}"/><feConvolveMatrix order="{c}" '
    'kernelMatrix="1"/></filter><rect filter="url(#h)" width="9" height="9"/>',
    '<filter id="i"><feTurbulence numOctaves="1000"/></filter><rect filter="url(#i)" width="9" '
    'height="9"/>',
    '<clipPath id="c"><circle r="{a}"/></clipPath><rect clip-path="url(#c)" width="9" height="9"/>',
    '<mask id="m"><rect width="{a}" height="{b}" fill="white"/></mask>'
    '<g mask="url(#m)"><rect width="9" height="9"/></g>',
    '<pattern id="q" width="{a}" height="{b}"><rect width="1" height="1"/></pattern>'
    '<rect width="50" height="50" fill="url(#q)"/>',
)
"""What has to be painted by the pixel."""

SVG_HOSTILE = (
    '<use href="#u" x="{a}"/><g id="u"><use href="#u"/></g>',
    '<image href="file:///etc/passwd" width="{a}" height="{b}"/>',
    '<image href="data:image/png;base64,AAAA" width="{a}" height="{b}"/>',
    "<style>@import url(http://127.0.0.1:9/x.css);</style>",
    "<rect width='5' height='5' fill='url(file:///etc/passwd#a)'/>",
    '<text x="{a}" y="{b}">soap</text>',
    "<script>alert(1)</script><rect onload='x' width='5' height='5'/>",
    '<clipPath id="c"><use href="#c"/></clipPath>',
    '<linearGradient id="g" href="#g"><stop offset="{a}" stop-color="red"/></linearGradient>',
    '<pattern id="p" width="{a}" height="{b}"><rect width="1" fill="url(#p)"/></pattern>',
)
SVG_DECLARED = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
    '<?xml version="1.0" encoding="utf-7"?>',
    '<?xml-stylesheet href="file:///etc/passwd"?>',
    '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>',
)


def _nested(chance: Chance) -> list[str]:
    """Groups in groups, and references that double at each step."""
    depth = chance.choice((5, 12, 60, 190, 400))
    if chance.random() < 0.5:
        return ["<g>" * depth, '<rect width="5" height="5"/>', "</g>" * depth]
    steps = "".join(
        f'<g id="n{number}"><use href="#n{number - 1}"/><use href="#n{number - 1}"/></g>'
        for number in range(1, min(depth, 60))
    )
    return ['<rect id="n0" width="5" height="5"/>', steps]


def svg(chance: Chance) -> Case:
    """A picture as SVG: sound shapes of odd numbers, what must be painted, and hostile things."""
    elements = [chance.choice(SVG_ELEMENTS) for _ in range(chance.randint(1, 4))]
    kind = chance.random()
    if kind < 0.06:
        elements.append(chance.choice(SVG_PAINTED))
    elif kind < 0.25:
        elements.append(chance.choice(SVG_HOSTILE))
    elif kind < 0.28:
        elements += _nested(chance)
    parts = [chance.choice(SVG_HEADS[:2] if kind > 0.4 else SVG_HEADS), *elements, "</svg>"]
    numbers = SVG_USUAL * chance.choice((2, 6, 50)) + SVG_NUMBERS
    text = "".join(
        part.format(**{key: chance.choice(numbers) for key in "abcde"}) for part in parts
    )
    if chance.random() < 0.04:
        text = chance.choice(SVG_DECLARED) + text
    content = text.encode()
    if chance.random() < 0.15:
        content = scrambled(content, chance)
    files = {"job.toml": _job_with_image("art.svg", chance), "art.svg": content}
    verb = ("check",) if chance.random() < 0.96 else ("make", "-o", "{folder}/out")
    return Case((*verb, "{folder}/job.toml", *PROFILE), files)


def _job_with_image(name: str, chance: Chance) -> bytes:
    fit = chance.choice(("contain", "contain", "cover", "tile"))
    more = {"repeat": 10} if fit == "tile" else {}
    return tray(art=[{"panels": "base", "file": name, "fit": fit, **more}])


SIDES = ((4, 4), (40, 30), (40, 30), (1, 60_000_000), (60_000, 60_000), (12_000, 9_000))
"""Pixels of a PNG: of those that say they are huge, only the beginning is there."""


def _png(chance: Chance) -> bytes:
    """A small PNG, or the beginning of one that says it is huge."""
    wide, high = chance.choice(SIDES)
    depth = chance.choice((1, 2, 4, 8, 8, 8, 16))
    colour = chance.choice((0, 2, 2, 3, 4, 6))
    samples = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}[colour]
    rows = min(high, 64)
    row = b"\0" + chance.randbytes(min(100_000, (wide * samples * depth + 7) // 8))

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    header = struct.pack(">IIBBBBB", wide, high, depth, colour, 0, 0, chance.choice((0, 0, 1)))
    density = struct.pack(">IIB", 11811, chance.choice((11811, 0, 2**31)), 1)
    body = zlib.compress(row * rows, 1)
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
        kind = chance.choice(("JPEG", "JPEG", "TIFF", "GIF", "BMP", "WEBP"))
        mode = chance.choice(("L", "RGB", "CMYK") if kind in ("JPEG", "TIFF") else ("L", "RGB"))
        Image.new(mode, (30, 20), 90).save(out, kind)
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
    text = chance.choice(("IOI", "IOI", "I", "XY", *NAUGHTY_TEXTS))
    job_file = tray(lettering=[{"panel": "base", "text": text, "file": "f.ttf", "as": how}])
    return Case(("check", "{folder}/job.toml", *PROFILE), {"job.toml": job_file, "f.ttf": content})


def naughty_bytes(chance: Chance) -> bytes:
    """Bytes of no kind."""
    return chance.choice((b"", b"\0" * 100, b"OTTO", b"\x00\x01\x00\x00", bytes(range(256)) * 4))


@cache
def _scan(wide: int, high: int, mode: str) -> bytes:
    """A page at a few dots per inch with two crosses where marks could be."""
    from PIL import Image, ImageDraw

    page = Image.new("L", (wide, high), 250)
    pen = ImageDraw.Draw(page)
    for x, y in ((12, 12), (198, 12), (12, 285)):
        across, down = x / 210 * wide, high - y / 297 * high
        reach = 4 / 210 * wide
        pen.line((across - reach, down, across + reach, down), 20, 2)
        pen.line((across, down - reach, across, down + reach), 20, 2)
    out = io.BytesIO()
    page.convert(mode).save(out, "PNG", dpi=(wide / 210 * 25.4,) * 2)
    return out.getvalue()


def scan(chance: Chance) -> Case:
    """A scan that is none, or a poor one."""
    if chance.random() < 0.4:
        wide = chance.choice((420, 840, 840, 1680))
        content = _scan(wide, round(wide / 210 * 297), chance.choice(("L", "RGB", "1")))
    else:
        content = _png(chance)
    if chance.random() < 0.4:
        content = scrambled(content, chance)
    words = [*align_words(chance), "--scan", "{folder}/scan.png", "-o", "{folder}/out"]
    if chance.random() < 0.5:
        words += ["--dpi", chance.choice(("300", "100", "0", "-1", "1e9", "nan", "x"))]
    return Case(tuple(words), {"scan.png": content, "job.toml": tray(art=[COLOURED])})
