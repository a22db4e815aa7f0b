"""A printed job that several tests share: one tray with every kind of art, on one A4 sheet."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from PIL import Image

from cutlayers.job.reading import job_from
from cutlayers.making.make import lay_out
from cutlayers.making.stages import Layout
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import PrintSettings, RegisterPlan
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import shipped_folder

SPRIG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 30">'
    '<path d="M10 29C10 20 10 10 10 4" fill="none" stroke="#2E6B4F" stroke-width="1.5"/>'
    '<circle cx="10" cy="4" r="3" fill="#B5232F"/></svg>'
)


def machine(register: RegisterPlan = RegisterPlan(), **printing: Any) -> Machine:  # noqa: B008, RUF100
    """The shipped 340 mm cutter with other marks or print settings."""
    shipped = read_profile(shipped_folder() / "drag-blade-340.toml")
    return replace(shipped, register=register, printing=PrintSettings(**printing))


def table(*art: dict[str, Any], sheet: str = "A4", **more: Any) -> dict[str, Any]:
    """A job of one tray with art."""
    piece = {
        "style": "tray",
        "stock": "kraft",
        "size": {"length": 60, "width": 40, "height": 25},
        "art": list(art),
    }
    return {"stock": {"kraft": {"caliper": 0.3, "sheet": sheet}}, "piece": [piece | more]}


EVERY_KIND: tuple[dict[str, Any], ...] = (
    {"panels": "front", "colour": "#0072B2"},
    {"panels": "back", "pattern": "dots", "ink": "#B5232F", "ground": "#F0E4C2"},
    {"panels": ["left", "right"], "file": "sprig.svg"},
    {"panels": "base", "file": "photo.png", "fit": "cover"},
    {"panels": "front", "lettering": "Winter market", "ink": "#FFFFFF"},
)


def planned(job: dict[str, Any], onto: Machine | None = None) -> Layout:
    """The job laid out, with its pictures in a folder of their own."""
    with TemporaryDirectory() as folder:
        (Path(folder) / "sprig.svg").write_text(SPRIG)
        out = io.BytesIO()
        Image.linear_gradient("L").convert("RGB").save(out, format="PNG")
        (Path(folder) / "photo.png").write_bytes(out.getvalue())
        read = job_from(job, str(Path(folder) / "job.toml"), "printed")
    return lay_out(read, onto or machine())


@cache
def every_kind() -> Layout:
    """One tray with art of every kind, planned once for all tests."""
    return planned(table(*EVERY_KIND))
