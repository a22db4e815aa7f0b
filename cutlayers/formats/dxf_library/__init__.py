"""The library for DXF, imported without what it would look for on the user's computer.

It reads `ezdxf.ini` in the home folder and where the user happens to be, ends the program where
that is no text, looks through the system's fonts, keeps a list of them in the home folder, and
fails where there is none. What we write depends on nothing of this. So it finds its folders here:
without settings, and with a list of fonts that is empty.
"""

from __future__ import annotations

import configparser
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

HERE = str(Path(__file__).parent)
FOLDERS = ("XDG_CONFIG_HOME", "XDG_CACHE_HOME")


@contextmanager
def _on_its_own() -> Iterator[None]:
    before = {name: os.environ.get(name) for name in FOLDERS}
    read: Any = configparser.ConfigParser.read
    os.environ.update(dict.fromkeys(FOLDERS, HERE))
    configparser.ConfigParser.read = lambda *_, **__: []  # type: ignore[method-assign]
    try:
        yield
    finally:
        configparser.ConfigParser.read = read  # type: ignore[method-assign]
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


with _on_its_own():
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts import Modelspace

__all__ = ["Document", "Modelspace"]
