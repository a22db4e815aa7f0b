"""The library for DXF, imported without what it would look for on the user's computer.

It reads `ezdxf.ini` in the home folder and where the user happens to be, ends the program where
that is no text, looks through the system's fonts, keeps a list of them in the home folder, and
fails where there is none. What we write depends on nothing of this. So it finds its folders here:
without settings, and with a list of fonts that is empty.
"""

from __future__ import annotations

import configparser
import io
import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

HERE = str(Path(__file__).parent)
LONGEST_HEADER = 200_000
"""Bytes in which the header stands that tells the encoding."""

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

    # What it has to say of broken files would go to the user's terminal.
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL + 1)
    if content.startswith(BINARY):
        return Document.load(binary_tags_loader(content, errors="surrogateescape"))
    try:
        head = io.StringIO(content[:LONGEST_HEADER].decode("utf-8", errors="ignore"))
        encoding = dxf_stream_info(head).encoding
        text = content.decode(encoding, errors="surrogateescape")
        return Document.read(io.StringIO(text, newline=None))
    except Exception:  # mending takes twice as long
        return recover.read(io.BytesIO(content))[0]
