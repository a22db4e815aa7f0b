"""Templates compiled once, and kept beside them as Python keeps what it compiles of modules.

To compile those of one page takes longer than to set it.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from contextlib import suppress
from importlib.util import cache_from_source
from pathlib import Path

from jinja2.bccache import Bucket, FileSystemBytecodeCache


class CompiledPages(FileSystemBytecodeCache):
    """The compiled templates of a folder, each with a sum of what it was compiled from and how.

    Nothing is kept where Python is told to keep nothing (PYTHONDONTWRITEBYTECODE), or where the
    folder cannot be written. Source: PEP 3147, for where such files stand.
    """

    def __init__(self, templates: Path, setting: Mapping[str, object]) -> None:
        kept = Path(cache_from_source(str(templates / "template.py")))
        super().__init__(str(kept.parent), f"%s-{kept.name}")
        self._setting = repr(sorted(setting.items()))

    def get_source_checksum(self, source: str) -> str:
        """The sum of a template and of how it is read."""
        return super().get_source_checksum(self._setting + source)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what was compiled, whole or not at all."""
        if sys.dont_write_bytecode:
            return
        with suppress(OSError):
            Path(self.directory).mkdir(parents=True, exist_ok=True)
            super().dump_bytecode(bucket)
