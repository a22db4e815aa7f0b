"""Fonts that this computer has: one is named where the font chosen lacks letters."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

MOST_LOOKED_AT = 200
"""Fonts of a computer; looking at more for the sake of a message would take seconds."""

LARGEST_MEGABYTES = 60


def font_with(characters: str) -> Path | None:
    """An installed font that has all of these characters; of several an upright one of common
    weight, the first by name."""
    wanted = set(map(ord, characters))
    for font in _fonts():
        if wanted <= _characters(font):
            return font
    return None


def _folders() -> list[Path]:
    """Where each system keeps fonts, its own and the user's.

    Source: the systems' documentation (from memory); the XDG base directories on Linux.
    """
    try:
        home = Path.home()
    except RuntimeError:  # nobody's home is known
        home = Path()
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA", str(home / "AppData/Local"))
        windows = os.environ.get("WINDIR", "C:/Windows")
        return [Path(windows) / "Fonts", Path(local) / "Microsoft/Windows/Fonts"]
    if sys.platform == "darwin":
        return [Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library/Fonts"]
    data = Path(os.environ.get("XDG_DATA_HOME") or home / ".local/share")
    return [Path("/usr/share/fonts"), Path("/usr/local/share/fonts"), data / "fonts"]


@lru_cache(1)
def _fonts() -> tuple[Path, ...]:
    found: list[Path] = []
    for folder in _folders():
        found += _in(folder)
    return tuple(sorted(found, key=_order)[:MOST_LOOKED_AT])


def _order(font: Path) -> tuple[bool, str, Path]:
    name = font.stem.lower()
    return not (name.endswith("regular") or "-" not in name), name, font


def _in(folder: Path) -> Iterator[Path]:
    for where, _, names in os.walk(folder):
        for name in names:
            if name.lower().endswith((".ttf", ".otf")):
                yield Path(where) / name


@lru_cache(MOST_LOOKED_AT)
def _characters(font: Path) -> frozenset[int]:
    """What a font has; nothing where it cannot be read: it is only to be recommended."""
    from fontTools.ttLib import TTFont

    try:
        if font.stat().st_size > LARGEST_MEGABYTES * 1e6:
            return frozenset()
        with TTFont(font, lazy=True) as tables:
            return frozenset(tables.getBestCmap() or ())
    except Exception:  # a broken table raises anything at all
        return frozenset()
