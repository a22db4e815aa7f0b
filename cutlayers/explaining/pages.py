"""The page of a code, read from the docstring of whoever makes the finding."""

from __future__ import annotations

import ast
import re
from importlib.util import find_spec

from cutlayers.explaining.codes import CODES, Code
from cutlayers.frozen import frozen
from cutlayers.telling.errors import CutlayersError
from cutlayers.telling.refusals import Refusal

PARTS = ("Measured", "Why", "Cure", "Source")
"""Heads of the four paragraphs of a page, in their order."""


@frozen
class Page:
    """What there is to know of a code, each part as one line of text."""

    measured: str
    why: str
    cure: str
    source: str


def page_of(code: Code) -> Page:
    """The page of a code; what the docstring says beside its four parts is left out.

    It is read from the source, without importing it. Raises ValueError where a part is missing.
    """
    parts = dict.fromkeys(PARTS, "")
    for paragraph in re.split(r"\n\s*\n", docstring_at(f"cutlayers.{code.place}")):
        head, colon, text = paragraph.partition(":")
        if colon and head in parts:
            parts[head] = _begun(" ".join(text.split()))
    if lacking := [head for head, text in parts.items() if not text]:
        raise ValueError(f"the page of {code.code} in {code.place} lacks {', '.join(lacking)}")
    return Page(*(parts[head] for head in PARTS))


def _begun(text: str) -> str:
    """A sentence with its capital, but for a code, which is written as it is."""
    return text if text.partition(":")[0] in CODES else text[:1].upper() + text[1:]


def beside(code: Code) -> tuple[str, ...]:
    """The other codes that share a code's page."""
    return tuple(
        other.code for other in CODES.values() if other.place == code.place and other != code
    )


def docstring_at(place: str) -> str:
    """The docstring of a module, or after a colon of a function or class in it, from the source:
    that is there even where Python runs without docstrings (-OO).

    Raises CutlayersError where the package was installed without its source.
    """
    name, _, inner = place.partition(":")
    spec = find_spec(name)
    source = getattr(spec.loader, "get_source", lambda _: None)(name) if spec else None
    if source is None:
        reason = f"the source of {name} is not installed, and the page stands there"
        raise CutlayersError(Refusal(reason=reason, fault="absent"))
    node: ast.Module | ast.FunctionDef | ast.ClassDef = ast.parse(source)
    if inner:
        node = next(
            each
            for each in node.body
            if isinstance(each, ast.FunctionDef | ast.ClassDef) and each.name == inner
        )
    return ast.get_docstring(node) or ""
