"""Scripts and styles for a browser: each by its name, or all that a page needs as one script."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pkgutil import get_data

_IMPORT = re.compile(r'^import (\{ \w+(?:, \w+)* \}) from "\./(\w+)\.js";$', re.MULTILINE)
_EXPORT = re.compile(r"^export ((?:class|const|(?:async )?function) (\w+))", re.MULTILINE)


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
    return _text(viewer_file(name))


@cache
def one_script(main: str, find: Callable[[str], bytes] = viewer_file) -> str:
    """A module with all that it imports as one script: a page that is a single file needs it, and
    one that is served asks for it at once and not for each module when the one before is there.

    `find` gives a file by its name. Each module becomes a function that is called once, with names
    of its own, after those that it needs; what the main one exports, the script does. Modules are
    written plainly: one line an import, of names in braces, and `export` before what is declared.
    Raises LookupError where `find` does.
    """
    parts: dict[str, str] = {}

    def add(name: str) -> str:
        text = _text(find(f"{name}.js"))
        for found in _IMPORT.finditer(text):
            if found[2] not in parts:
                add(found[2])
        exported = ", ".join(found[2] for found in _EXPORT.finditer(text))
        body = _EXPORT.sub(r"\1", _IMPORT.sub(r"const \1 = its_\2;", text))
        parts[name] = f"const its_{name} = (() => {{\n{body}return {{ {exported} }};\n}})();\n"
        return exported

    exported = add(main)
    return "".join(parts.values()) + (
        f"export const {{ {exported} }} = its_{main};\n" if exported else ""
    )


def _text(content: bytes) -> str:
    return content.decode().replace("\r\n", "\n")
