"""What a case is, and the values that break things."""

from __future__ import annotations

import copy
import random
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import tomlkit

Chance = random.Random

NAUGHTY_TEXTS = (
    "",
    " ",
    "\0",
    "a\0b",
    "\n",
    "a\nb",
    "\x1b[31mred",
    "..",
    "../../x",
    "/etc/passwd",
    "~nobody/x",
    "~",
    "CON",
    "nul.txt",
    "trailing. ",
    "a" * 300,
    "é" * 200,
    "紙" * 100,
    "e\u0301",
    "\ud7ff\ue000",
    "\u202eback",
    "\u200b",
    "😀",
    "שלום",
    "ß æ œ",
    "№",
    "{name}",
    "{",
    "%s%n",
    "$(touch x)",
    "`id`",
    "=1+1",
    "<script>alert(1)</script>",
    "]]>",
    "&lolz;",
    '"',
    "'",
    "\\",
    "none",
    "nan",
    "inf",
    "1e309",
    "-0",
    "0x10",
    "1_000",
    "62",
    "62 mm",
    "2 7/16 in",
    "1/0 in",
    "٣ mm",
    "1,5 mm",
    "12x12",
    "12x12 in",
    "A4 landscape",
)
NAUGHTY_NUMBERS: tuple[Any, ...] = (
    0,
    -1,
    1,
    2,
    10**9,
    -(10**9),
    10**4000,
    2**63,
    0.0,
    -0.0,
    1e-300,
    1e-9,
    0.1,
    1e300,
    1.7e308,
    float("nan"),
    float("inf"),
    float("-inf"),
    True,
    False,
)


@dataclass(frozen=True)
class Asked:
    """A request to the page or, without a path, what an editor makes of the job meanwhile: `saved`
    is what the file then holds, None where it is gone."""

    path: str | None = None
    method: str = "GET"
    query: str = ""
    headers: Mapping[str, str] = field(default_factory=dict)
    body: bytes = b""
    saved: bytes | None = None


@dataclass(frozen=True)
class Case:
    """One attempt: files by name below the case's folder, and the command's words, in which
    `{folder}` stands for it; or what the page is asked."""

    words: tuple[str, ...]
    files: Mapping[str, bytes] = field(default_factory=dict)
    typed: str | None = None
    """What is typed, where the command asks."""

    ours: frozenset[str] = frozenset()
    """Those of the files that the command is asked to change; all others are the user's."""

    pipes: tuple[str, ...] = ()
    """Names of pipes in the folder, into which nobody ever writes."""

    console: str = "utf-8"
    """The letters that the console knows."""

    asked: tuple[Asked, ...] = ()


def naughty(chance: Chance) -> Any:
    """A value that nobody expects."""
    match chance.randrange(8):
        case 0 | 1 | 2:
            return chance.choice(NAUGHTY_TEXTS)
        case 3 | 4 | 5:
            return chance.choice(NAUGHTY_NUMBERS)
        case 6:
            return [naughty(chance) for _ in range(chance.randrange(4))]
        case _:
            return {chance.choice(NAUGHTY_TEXTS) or "k": naughty(chance)}


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The key paths to everything in nested tables and lists."""
    found = [path] if path else []
    if isinstance(value, dict):
        for key, inner in value.items():
            found += places(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            found += places(inner, (*path, index))
    return found


def nudged(value: Any, chance: Chance) -> Any:
    """A value near the one that is there."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float) and abs(value) < 1e300:
        return chance.choice((value * 1.01, value * 2, value / 2, value + 1, -value, value * 10))
    if isinstance(value, str) and value:
        at = chance.randrange(len(value))
        return value[:at] + chance.choice(("", "x", value[at].upper(), " ", "é")) + value[at + 1 :]
    return naughty(chance)


def mutated(table: dict[str, Any], chance: Chance, most: int = 3) -> dict[str, Any]:
    """A copy with a few values replaced, nudged, taken out, doubled, or given under other names."""
    changed = copy.deepcopy(table)
    for _ in range(chance.randint(1, most)):
        spots = places(changed)
        if not spots:
            return changed
        *way, last = chance.choice(spots)
        holder: Any = changed
        for key in way:
            holder = holder[key]
        match chance.randrange(7):
            case 0:
                del holder[last]
            case 1 if isinstance(holder, dict):
                holder[str(last) + chance.choice(("x", "s", "_"))] = holder[last]
            case 2 if isinstance(holder, list):
                holder.append(copy.deepcopy(holder[last]))
            case 3 | 4:
                holder[last] = nudged(holder[last], chance)
            case _:
                holder[last] = naughty(chance)
    return changed


def toml_of(table: Mapping[str, Any]) -> bytes:
    """The table as a TOML file; what TOML cannot say is left out."""
    document = tomlkit.document()
    for key, value in table.items():
        try:
            document[key] = value
            tomlkit.dumps(document)
        except (ValueError, TypeError, RecursionError):
            document.pop(key, None)
    return tomlkit.dumps(document).encode("utf-8", "surrogatepass")


def scrambled(content: bytes, chance: Chance) -> bytes:
    """Bytes with some changed, taken out, doubled or cut off."""
    data = bytearray(content or b" ")
    for _ in range(chance.randint(1, 4)):
        if not data:
            break
        at = chance.randrange(len(data))
        match chance.randrange(6):
            case 0:
                data[at] = chance.randrange(256)
            case 1:
                data[at : at + 4] = chance.choice((b"\xff" * 4, b"\0" * 4, b"\x7f\xff\xff\xff"))
            case 2:
                del data[at : at + chance.randint(1, 40)]
            case 3:
                data[at:at] = data[at : at + chance.randint(1, 200)]
            case 4:
                del data[at:]
            case _:
                data[at:at] = chance.choice(NAUGHTY_TEXTS).encode("utf-8", "surrogatepass")
    return bytes(data)


def consoles(chance: Chance) -> str:
    """What a console knows: nearly always all letters."""
    return chance.choice(("utf-8", "utf-8", "utf-8", "ascii", "cp1252"))
