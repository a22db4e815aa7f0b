"""New jobs in the folder: of a style, or of a drawing that lies there. No file is written over."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import cutlayers
from cutlayers.page.folder import Folder

UNITS = ("mm", "in")


def job_of_style(
    folder: Folder, style: cutlayers.Style, asked: Mapping[str, Any]
) -> dict[str, Any]:
    """The file of a new job, or why there is none."""
    machine, name = _known_machine(asked.get("machine")), folder.free_name(style.name)
    try:
        sheet = _sheet_for(asked["units"], machine)
        text = cutlayers.job_template(style, asked["units"], sheet, machine)
        cutlayers.put_new(folder.path / name, text.encode())
    except cutlayers.CutlayersError as error:
        return {"refused": str(error)}
    return {"file": name}


def job_of_drawing(folder: Folder, drawing: Path, asked: Mapping[str, Any]) -> dict[str, Any]:
    """The file of a job that a drawing was made; its scales to choose from, where it does not say
    how large it is; or why there is none."""
    machine, name = _known_machine(asked.get("machine")), folder.free_name(drawing.stem)
    try:
        scales = cutlayers.drawing_scales(drawing)
        drawn_in = next((unit for unit in scales if unit == asked.get("unit")), None)
        if scales and drawn_in is None:
            return {"scales": [{"unit": unit, "words": words} for unit, words in scales.items()]}
        text = cutlayers.job_of_drawing(
            drawing,
            folder.path,
            drawn_in=drawn_in,
            unit=asked["units"],
            sheet=_sheet_for(asked["units"], machine),
            profile=machine,
        )
        cutlayers.put_new(folder.path / name, text.encode())
    except cutlayers.CutlayersError as error:
        return {"refused": str(error)}
    return {"file": name}


def _known_machine(name: object) -> str | None:
    from cutlayers.page.looking import machines

    return next((each["name"] for each in machines() if each["name"] == name), None)


def _sheet_for(unit: Any, machine: str | None) -> str:
    """What a new job calls its sheet."""
    if machine is None:
        return cutlayers.usual_sheet(unit)
    bed = cutlayers.read_profile(machine).bed
    return cutlayers.usual_sheet(unit, (bed.width, bed.height))
