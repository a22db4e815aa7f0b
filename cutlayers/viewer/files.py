"""Scripts and styles for a browser: each by its name, or all that a page needs as one script."""

from __future__ import annotations

import re
from functools import cache
from pkgutil import get_data

_IMPORT = re.compile(r'^import (\{ [\w, ]+ \}) from "\./(\w+)\.js";$', re.MULTILINE)
_EXPORT = re.compile(r"^export ((?:class|const|function) (\w+))", re.MULTILINE)


@cache
def viewer_file(name: str) -> bytes:
    """A script or style of the viewer. Raises LookupError where there is none of this name."""
    try:
        found = get_data("cutlayers.viewer", f"static/{name}")
    except OSError:
        found = None
    if found is None:
        raise LookupError(name)
    return found


def style_text(name: str) -> str:
    """A style as text with the line ends that a browser sees, so that a sum over it is right."""
    return viewer_file(name).decode().replace("\r\n", "\n")


@cache
def one_script(main: str) -> str:
    """A module with all that it imports as one script, for a page that is a single file.

    Each module becomes a function that is called once, with names of its own, after those that it
    needs. They are written plainly: one line an import, of names in braces, and `export` before
    what is declared.
    """
    parts: dict[str, str] = {}

    def add(name: str) -> None:
        if name in parts:
            return
        text = style_text(f"{name}.js")
        for found in _IMPORT.finditer(text):
            add(found[2])
        exported = ", ".join(found[2] for found in _EXPORT.finditer(text))
        body = _EXPORT.sub(r"\1", _IMPORT.sub(r"const \1 = its_\2;", text))
        parts[name] = f"const its_{name} = (() => {{\n{body}return {{ {exported} }};\n}})();\n"

    add(main)
    return "".join(parts.values())
