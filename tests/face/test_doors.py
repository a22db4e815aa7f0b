"""The command line stands on the package's public doors and reaches behind none of them."""

from __future__ import annotations

import ast
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2] / "cutlayers"
CLI = ROOT / "cli"

DOORS = {
    "": "the way of a job, from its file to the files for the machine",
    "align": "how well marks are believed to be read",
    "box": "how a box closes as it is put together",
    "bringing": "drawings from outside, and the nets in them",
    "curing": "edits of a job that cure a finding",
    "explaining": "pages of findings, tables and keys",
    "fitting": "things to be packed, and boxes for them",
    "kits": "a set of boxes for each row of a table",
    "page": "the page in the browser",
    "profile": "machine profiles: found, made, changed",
    "reading": "values as people write them, on the command line too",
    "solids": "folded boxes for other programs",
    "trials": "trial cuts, and what is read off them",
}
"""Packages whose `__init__` says what is there for users, by their names below `cutlayers`."""

WORDS = {"telling", "cli"}
"""Rooms of which commands may know each module: what is told, and one another."""

FACE = {"check", "make", "guide", "align", "new", "styles"}
"""Commands that take nothing else of how a job is made but what the first door gives."""


def modules(path: Path) -> set[str]:
    """What a module imports from when it runs, below `cutlayers`; types alone do not count."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for inner in ast.walk(node)
    }
    named = [
        node.module
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module and node not in for_types
    ]
    named += [
        alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import) and node not in for_types
        for alias in node.names
    ]
    found = {name.partition(".") for name in named}
    own = {rest for first, _, rest in found if first == "cutlayers"}
    return {name for name in own if name.partition(".")[0] not in WORDS}


def test_commands_come_in_by_the_doors() -> None:
    """No command imports from a module of a room; each door that is listed is used."""
    assert set().union(*map(modules, CLI.rglob("*.py"))) == set(DOORS)


def test_what_is_made_of_a_job_goes_by_the_first_door() -> None:
    """So a program can do what these commands do."""
    for name in FACE:
        assert modules(CLI / f"{name}.py") <= {"", "align", "curing", "reading"}


@pytest.mark.parametrize("door", DOORS)
def test_a_door_says_what_it_gives(door: str) -> None:
    """`__all__` names each thing once, in order; all of them are there, and nothing that is there
    hides a module of the room."""
    package = import_module(f"cutlayers.{door}".rstrip("."))
    inside = {path.stem for path in Path(str(package.__file__)).parent.iterdir()}

    assert len(set(package.__all__)) == len(package.__all__)
    assert all(hasattr(package, name) for name in package.__all__)
    assert not inside & set(package.__all__)


@pytest.mark.parametrize("door", [door for door in DOORS if door])
def test_the_type_checker_sees_what_a_door_loads(door: str) -> None:
    """What it is told by imports is what is there."""
    name = f"cutlayers.{door}"
    tree = ast.parse((ROOT / door / "__init__.py").read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{name}."):
            home = import_module(str(node.module))
            for alias in node.names:
                assert getattr(import_module(name), alias.name) is getattr(home, alias.name)
