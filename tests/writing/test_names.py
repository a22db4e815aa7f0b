"""File names from users' words."""

from __future__ import annotations

import unicodedata

from hypothesis import example, given
from hypothesis import strategies as st

from cutlayers.writing.names import file_names

DEVICES = ("con", "PRN", "aux", "nul", "com1", "Lpt9")


@given(st.lists(st.text(max_size=200), min_size=1, max_size=8))
@example(["a b", "a-b", "a/b", "A B"])
@example(["盒" * 100, "盒" * 101, "盒" * 99 + "子"])
@example(["é", "e\u0301", "É"])
@example([".", "..", "", " ", "a.", "a "])
@example(["straße", "STRASSE", "strasse"])
@example(list(DEVICES))
def test_names_differ_and_every_system_takes_them(words: list[str]) -> None:
    """Different words get names that no file system takes for the same, at most 200 bytes long with
    what stands round them, without marks or words that some system keeps for itself."""
    names = file_names(words)

    assert set(names) == set(words)
    folded = {unicodedata.normalize("NFC", name).casefold() for name in names.values()}
    assert len(folded) == len(set(words))
    for name in names.values():
        assert 0 < len(f"folded-{name}.png".encode()) <= 200
        assert not set(name) & set('<>:"/\\|?*. ') and name.isprintable()
        assert unicodedata.is_normalized("NFC", name)
        assert name.casefold() not in {device.casefold() for device in DEVICES}


@given(st.lists(st.text("abc-_0äあ", min_size=1, max_size=9), min_size=1, max_size=4))
def test_a_plain_word_is_its_own_name(words: list[str]) -> None:
    """The first of those that are alike keeps it."""
    assert file_names(words)[words[0]] == words[0]
