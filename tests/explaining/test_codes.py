"""Every code of a finding has a page, and its page stands where the finding is made."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from cutlayers.explaining.codes import CODES, Code
from cutlayers.explaining.pages import page_of
from cutlayers.telling.words import SENTENCES

PACKAGE = Path(__file__).parents[2] / "cutlayers"


def module_of(path: Path) -> str:
    """A module's name within the package."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def findings_made(tree: ast.Module) -> Iterator[tuple[str, str | None]]:
    """Codes with which a module makes findings, each with its severity where that is written out.

    A code that a function is handed as a parameter is read where the module calls it.
    """
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    for function in (None, *functions):
        inner = function or tree
        for call in calls(inner, "Finding"):
            code, severity = call.args[0], ast.unparse(call.args[1])
            told = severity.removeprefix("Severity.").lower() if "." in severity else None
            if isinstance(code, ast.Constant):
                assert isinstance(code.value, str)
                yield code.value, told
            elif function is not None:
                assert isinstance(code, ast.Name)
                place = [arg.arg for arg in function.args.args].index(code.id)
                for outer in calls(tree, function.name):
                    handed = outer.args[place]
                    assert isinstance(handed, ast.Constant) and isinstance(handed.value, str)
                    yield handed.value, told


def calls(tree: ast.AST, name: str) -> Iterator[ast.Call]:
    """Calls of a function by its bare name."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == name:
            yield node


def all_made() -> dict[str, dict[str, set[str | None]]]:
    """By code, the modules that make its findings, with the severities written there."""
    made: dict[str, dict[str, set[str | None]]] = defaultdict(lambda: defaultdict(set))
    for path in sorted(PACKAGE.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        if "Finding(" in text:
            for code, severity in findings_made(ast.parse(text)):
                made[code][module_of(path)].add(severity)
    return made


MADE = all_made()


def test_every_code_is_listed_told_and_made() -> None:
    """A finding without a page or words, and a page of nothing, are faults alike."""
    assert set(CODES) == set(SENTENCES)
    assert set(CODES) == set(MADE)


@pytest.mark.parametrize("code", CODES.values(), ids=str)
def test_the_page_of_a_code_stands_where_its_findings_are_made(code: Code) -> None:
    """Also, it is as bad as the list says."""
    assert set(MADE[code.code]) == {code.place.partition(":")[0]}
    written = MADE[code.code][code.place.partition(":")[0]]
    assert {each for each in written if each} <= set(code.severities)
    if None not in written:
        assert written == set(code.severities)


@pytest.mark.parametrize("code", CODES.values(), ids=str)
def test_every_code_has_a_page_of_four_parts(code: Code) -> None:
    page = page_of(code)

    assert all((page.measured, page.why, page.cure, page.source))
    assert code.line.endswith(".") and len(code.line) <= 60


def test_a_page_of_several_codes_names_each() -> None:
    """Whoever asks for one of them sees what that one measures."""
    places = [code.place for code in CODES.values()]
    silent = [
        code.code
        for code in CODES.values()
        if places.count(code.place) > 1 and f"{code.code}:" not in page_of(code).measured
    ]

    assert silent == []
