"""The library for DXF, imported without the fonts of the user's computer.

As it is imported it looks through the system's fonts, keeps a list of them in the home folder, and
fails where there is none; what we write has no letters. So while it is imported the folders that it
asks the environment for (`XDG_CACHE_HOME`, `XDG_CONFIG_HOME`, as its documentation says) are this
one, where its list of fonts is empty and no settings are. It makes that list as its own modules
load, so nothing else of it can be told before; as soon as they have the environment is as it was.

Settings for it, `ezdxf.ini` where the user happens to be or the file that `EZDXF_CONFIG_FILE`
names, are read as by any program that uses it. Nothing we write depends on them; but it ends the
program where they cannot be read, so they are looked at before.
"""

from __future__ import annotations

import io
import logging
import os
from collections.abc import Iterator
from configparser import ConfigParser, Error
from contextlib import contextmanager
from pathlib import Path

from cutlayers.telling.errors import OutputError
from cutlayers.telling.refusals import Refusal

HERE = str(Path(__file__).parent)
LONGEST_HEADER = 200_000
"""Bytes in which the header stands that tells the encoding."""

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

__all__ = ["BINARY", "Document", "Modelspace", "read_document"]

BINARY = b"AutoCAD Binary DXF\r\n\x1a\x00"
"""How such a file begins. Source: DXF Reference, "Binary DXF Files"."""


def read_document(content: bytes) -> Document:
    """A document from a file's content, mended where its structure is broken.

    The library raises whatever it meets in a file that cannot be mended.
    """
    from ezdxf import recover
    from ezdxf.filemanagement import dxf_stream_info
    from ezdxf.lldxf.tagger import binary_tags_loader

    # Where nobody listens, what it has to say of broken files would go to the user's terminal.
    logging.getLogger("ezdxf").addHandler(logging.NullHandler())
    if content.startswith(BINARY):
        return Document.load(binary_tags_loader(content, errors="surrogateescape"))
    try:
        head = io.StringIO(content[:LONGEST_HEADER].decode("utf-8", errors="ignore"))
        encoding = dxf_stream_info(head).encoding
        text = content.decode(encoding, errors="surrogateescape")
        return Document.read(io.StringIO(text, newline=None))
    except Exception:  # mending takes twice as long
        return recover.read(io.BytesIO(content))[0]
