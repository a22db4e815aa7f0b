"""What pages ask in JSON, and what they are answered in it."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from starlette.background import BackgroundTask
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response


def answer(content: Any, background: BackgroundTask | None = None) -> Response:
    """As JSON in UTF-8, which knows no nan, no inf and no halves of letters. TOML knows the former,
    so that a file may have them by mistake, and a request may bring any."""
    try:
        return JSONResponse(content, background=background)
    except ValueError:
        return JSONResponse(_in_words(content), background=background)


def _in_words(value: Any) -> Any:
    match value:
        case float() if not math.isfinite(value):
            return str(value)
        case str():
            return value.encode("utf-8", "replace").decode()
        case Mapping():
            return {_in_words(key): _in_words(inner) for key, inner in value.items()}
        case list() | tuple():
            return [_in_words(inner) for inner in value]
    return value


def whole(value: object) -> int:
    """A number from 0 on; 0 for what is none."""
    try:
        return max(0, int(str(value)))
    except ValueError:
        return 0


async def asked_in(request: Request) -> dict[str, Any]:
    """The table that a page sent. Raises HTTPException for anything else."""
    try:
        found = json.loads(await request.body())
    except (ValueError, RecursionError):
        raise HTTPException(400) from None
    if not isinstance(found, dict):
        raise HTTPException(400)
    return found
