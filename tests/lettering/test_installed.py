"""Fonts of the computer that are recommended."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from cutlayers.lettering import installed
from tests.lettering.test_outlines import build


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setattr(installed, "_folders", lambda: [tmp_path, tmp_path / "absent"])
    installed._fonts.cache_clear()
    yield tmp_path
    installed._fonts.cache_clear()


def test_a_font_that_has_all_letters_is_found(folder: Path) -> None:
    """Also below the folder; one that is broken, or lacks a letter, is passed over."""
    (folder / "a broken.ttf").write_bytes(b"no font")
    (folder / "deep").mkdir()
    font = build(folder / "deep" / "squares.ttf")

    assert installed.font_with("BOI") == font
    assert installed.font_with("BOIS") is None


def test_without_fonts_none_is_found(folder: Path) -> None:
    assert installed.font_with("A") is None
