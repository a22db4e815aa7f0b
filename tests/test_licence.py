"""The licence, and the notices of what cutlayers is built on."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import distribution
from pathlib import Path

import pytest
from click.testing import CliRunner

from cutlayers.cli import main

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
FOR_USERS = [
    *PROJECT["dependencies"],
    *(
        each
        for extra, needed in PROJECT["optional-dependencies"].items()
        if extra not in ("bench", "test")
        for each in needed
    ),
]
NEEDED = sorted(
    {each.lower() for line in FOR_USERS for each in re.findall(r"^[\w.-]+", line)} - {"cutlayers"}
)
NOTICES = (ROOT / "cutlayers" / "NOTICES.md").read_text(encoding="utf-8")
TOLD = {
    row[1].lower(): row[2]
    for row in re.finditer(r"^\| ([\w.-]+) \| (.+) \|$", NOTICES, re.MULTILINE)
    if row[1] != "package"
}


def test_every_package_that_is_needed_is_told() -> None:
    """No more and no fewer than what is installed along, extras for users counted in."""
    assert sorted(TOLD) == NEEDED


@pytest.mark.parametrize("name", NEEDED)
def test_its_licence_is_what_it_says_itself(name: str) -> None:
    """In its metadata, in whichever field, or else in the text of its licence."""
    there = distribution(name)
    meta = there.metadata
    said = [
        *(meta.get_all("License-Expression") or []),
        *(meta.get_all("License") or []),
        *(meta.get_all("Classifier") or []),
    ]
    texts = [str(file) for file in there.files or () if "licen" in str(file).lower()]
    told = TOLD[name]
    if any(told in (each or "") for each in said):
        return
    content = "\n".join(Path(str(there.locate_file(file))).read_text() for file in texts)
    # The words by which the two licences are known.
    marks = {
        "MIT": "Permission is hereby granted, free of charge",
        "BSD-3-Clause": "Redistribution",
    }
    assert marks[told] in content


def test_nothing_that_is_needed_binds_its_user_s_work() -> None:
    """No licence among them asks that what is built on it be given away."""
    assert not [each for each in TOLD.values() if re.search(r"\bA?GPL|Non-?Commercial", each)]


def test_the_letters_are_acknowledged() -> None:
    """As their distribution asks: Hershey of the NBS, and James Hurt of Cognition."""
    said = CliRunner().invoke(main, ["--version"]).output

    for text in (said, NOTICES):
        assert "Hershey" in text and "National" in text and "Standards" in text
        assert "James Hurt" in text and "Cognition" in text


def test_the_licence_is_named_and_there() -> None:
    """By its SPDX name, with the files that the wheel carries."""
    assert PROJECT["license"] == "MIT"
    assert all((ROOT / name).is_file() for name in PROJECT["license-files"])
    assert (ROOT / "cutlayers" / "py.typed").is_file()
