"""The library for DXF, imported without the fonts of the user's computer.

As it is imported it looks through the system's fonts, keeps a list of them in the home folder, and
fails where there is none; what we write has no letters. So while it is imported the folders that it
asks the environment for (`XDG_CACHE_HOME`, `XDG_CONFIG_HOME`, as its documentation says) are this
one, where its list of fonts is empty and no settings are.

Settings for it, `ezdxf.ini` where the user happens to be or the file that `EZDXF_CONFIG_FILE`
names, are read as by any program that uses it. Nothing we write depends on them; but it ends the
program where they cannot be read, so they are looked at before.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from configparser import ConfigParser, Error
from contextlib import contextmanager
from pathlib import Path

from cutlayers.telling.errors import OutputError
from cutlayers.telling.refusals import Refusal

HERE = str(Path(__file__).parent)
FOLDERS = ("XDG_CONFIG_HOME", "XDG_CACHE_HOME")
SETTINGS = ("ezdxf.ini", os.environ.get("EZDXF_CONFIG_FILE", ""))


def _refuse_broken_settings() -> None:
    for file in filter(None, SETTINGS):
        try:
            ConfigParser().read(file, encoding="utf8")
        except (Error, UnicodeDecodeError):
            raise OutputError(
                Refusal(
                    reason="the library that writes DXF reads its settings here, and these are "
                    "none",
                    fault="unreadable",
                    file=file,
                    advice="move it away",
                )
            ) from None


@contextmanager
def _without_fonts() -> Iterator[None]:
    before = {name: os.environ.get(name) for name in FOLDERS}
    os.environ.update(dict.fromkeys(FOLDERS, HERE))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


_refuse_broken_settings()
with _without_fonts():
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts import Modelspace

__all__ = ["Document", "Modelspace"]
