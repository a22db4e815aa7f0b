"""What people call the lines of a net in other languages than English.

German, French, Spanish, Italian, Dutch, Portuguese, Polish, Czech, Swedish, Japanese and Chinese.
From memory, ordinary words of dictionaries, no list of the trade. They stand here without accents,
since many programs want names so.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

from cutlayers.bringing.lines import Kind

# fmt: off
STEMS: tuple[tuple[str, Kind], ...] = (
    *((stem, Kind.REGISTER) for stem in ("schnittmark", "passmark", "passkreuz", "passermark")),
    *((stem, Kind.CUT) for stem in (
        "schneid", "schnitt", "ausschnitt", "stanz", "umriss", "decoup", "recort", "troquel",
        "tagli", "fustell", "snij", "uitsnij", "wycin", "wyciec", "strih", "vysek", "skarlinje",
        "klipplinje",
    )),
    *((stem, Kind.SCORE) for stem in (
        "falz", "falt", "bergfal", "talfal", "rill", "ritz", "knick", "biege", "pliage", "pliure",
        "rainage", "plega", "pliegue", "dobl", "hendid", "dobra", "vinca", "pieg", "cordon", "vouw",
        "bergvouw", "dalvouw", "zagie", "zagina", "bigowa", "prehyb", "ryhov", "viklinje",
        "bigning",
    )),
    *((stem, Kind.PERFORATE) for stem in (
        "perfor", "abreiss", "aufreiss", "strapp", "picot", "scheur", "predtrh", "odtrh", "odryw",
        "rivlinje",
    )),
)
"""How words begin; what is put after them differs. Of two kinds the first counts."""

WORDS: Mapping[Kind, frozenset[str]] = {
    Kind.CUT: frozenset((
        "couper", "coupe", "coupes", "corte", "cortes", "cortar", "snede", "ciecie", "ciecia",
        "ciac", "rez", "rezy", "rezat", "rezani", "skar", "skara", "skarning", "klipp", "klippa",
    )),
    Kind.SCORE: frozenset((
        "pli", "plis", "plier", "rainer", "vinco", "vincos", "ril", "rillijn", "ohyb", "ohyby",
        "sklad", "sklady", "skladat", "skladac", "vik", "vika", "vikning", "vikningar",
    )),
}
"""Words that are too short, or too much like others, for their beginning to say anything."""

SIGNS: Mapping[Kind, tuple[str, ...]] = {
    Kind.CUT: ("切", "カット", "裁", "剪"),
    Kind.SCORE: ("折", "筋", "スジ", "压痕", "壓痕"),
    Kind.PERFORATE: ("ミシン", "打孔线", "打孔線", "齿线", "齒線"),
}
"""Anywhere in a name, which has no spaces in Japanese and Chinese."""

WAYS: Mapping[str, tuple[str, ...]] = {
    "mountain": ("bergfal", "bergvouw", "montagne", "montana", "monte", "montanha", "gora", "hora"),
    "valley": ("talfal", "dalvouw", "vallee", "valle", "vale", "dolina", "udoli"),
}
"""How words begin that say which way a crease goes; they mean no crease by themselves."""
# fmt: on

SIGN_WAYS: Mapping[str, str] = {"mountain": "山", "valley": "谷"}

_ASCII = str.maketrans({"ß": "ss", "ł": "l", "Ł": "L"})
_PART = re.compile(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+")


def parts_of(name: str) -> list[str]:
    """The words of a name, without accents and in small letters.

    >>> parts_of("FalzLinien"), parts_of("zagięcie_1")
    (['falz', 'linien'], ['zagiecie'])
    """
    apart = unicodedata.normalize("NFKD", name.translate(_ASCII))
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return [part.lower() for part in _PART.findall(bare)]


def kinds_of(name: str, parts: list[str]) -> set[Kind]:
    """What the words of a name mean in any of the languages."""
    found = {kind for part in parts if (kind := _kind_of(part)) is not None}
    signs = unicodedata.normalize("NFKC", name)
    return found | {kind for kind, some in SIGNS.items() if any(sign in signs for sign in some)}


def _kind_of(word: str) -> Kind | None:
    exact = next((kind for kind, words in WORDS.items() if word in words), None)
    return exact or next((kind for stem, kind in STEMS if word.startswith(stem)), None)


def way_of(name: str, parts: list[str]) -> str:
    """ "mountain" or "valley" where words of a crease's name say one of them."""
    ways = {
        way
        for way, stems in WAYS.items()
        if SIGN_WAYS[way] in name or any(part.startswith(stems) for part in parts)
    }
    return ways.pop() if len(ways) == 1 else ""
