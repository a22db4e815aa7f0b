"""Words that are copied into a terminal."""

from __future__ import annotations

import os
import shutil
import subprocess

import pytest

from cutlayers.telling.shell import quoted

WORDS = [
    "kraft 270",
    "$(echo ran)",
    "`echo ran`",
    "it's",
    'a "b"',
    "a\\b",
    "*",
    "",
    "№ 5 {x}",
    "!!",
    "-n",
]


@pytest.mark.skipif(os.name == "nt", reason="there is no such shell there")
@pytest.mark.parametrize("word", WORDS)
def test_a_shell_hands_the_very_word_on(word: str) -> None:
    """Nothing in it is run or filled in."""
    done = subprocess.run(
        ["sh", "-c", f"printf '%s' {quoted(word, windows=False)}"], capture_output=True, check=True
    )

    assert done.stdout.decode() == word


@pytest.mark.parametrize("word", ["$(1)", "`n", "a b", "%PATH%", "it\u2019s"])
def test_powershell_takes_it_as_it_is(word: str) -> None:
    """Between single quotes everything stands for itself but those, which are doubled."""
    text = quoted(word, windows=True)

    assert text[0] == text[-1] == "'"
    assert text[1:-1].replace("\u2019\u2019", "\u2019") == word


@pytest.mark.skipif(shutil.which("bash") is None, reason="bash is not there to read it back")
@pytest.mark.parametrize(
    "word", [b"caf\xe9 1", b"\xff\xfe", b"line\nbreak'\\n", b"\x1b[31m", b"\x7f"]
)
def test_what_cannot_be_shown_is_read_back_by_a_shell(word: bytes) -> None:
    """On one line, all of it printable."""
    text = quoted(os.fsdecode(word), windows=False)

    assert text.isprintable()
    read = subprocess.run(["bash", "-c", f"printf %s {text}"], capture_output=True, check=True)
    assert read.stdout == word
