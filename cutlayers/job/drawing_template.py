"""A commented job for a drawing from outside: what was understood of it, for its owner to mend."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from cutlayers.bringing.folding_up import Answer
from cutlayers.bringing.rules_found import rules_found
from cutlayers.bringing.understanding import Understood, fold_name
from cutlayers.construction.catalogue import job_head
from cutlayers.reading.user_paths import named_from
from cutlayers.reading.values import readable
from cutlayers.telling.lengths import Unit
from cutlayers.telling.written import shown


def drawing_job(
    understood: Understood,
    nets: Sequence[Answer],
    drawing: Path,
    folder: Path,
    *,
    unit: Unit,
    sheet: str,
    said: dict[str, Any],
    profile: str | None = None,
) -> str:
    """A job, to be kept in `folder`, that makes the boxes of a drawing.

    `said` are the keys of the piece that the user gave already, such as unit or join.
    """
    import tomlkit

    seen = named_from(folder, drawing)

    def inline(value: Any) -> str:
        return str(tomlkit.item(value, _parent=tomlkit.inline_table()).as_string())

    lines = [
        f"# {seen}: {understood.scale.reason}",
        "# 'cutlayers check' says whether it works, 'cutlayers make' writes the files.",
        "",
        job_head(readable(drawing.stem), unit, sheet, profile).rstrip("\n"),
        "",
        "[[piece]]",
        f"drawing = {shown(seen)}",
        'stock = "card"',
        f"count = {understood.boxes}",
        *(f"{key} = {inline(value)}" for key, value in said.items()),
        "",
        "[piece.lines]    # layer, colour, dash, width, group, name or numbers of lines",
    ]
    found = rules_found(understood.meant)
    for kind, chosen in found.items():
        rows = ", ".join(inline(each) for each in chosen)
        lines.append(f"{kind.value} = [{rows}]")
    lines += ["", "[piece.folds]    # degrees; a mountain is above 0, a valley below"]
    for answer in nets:
        if answer.folded is not None and answer.net.hinges:
            lines.append(f"# {answer.net.name}: {answer.folded.outside_reason}")
        if answer.bent:
            lines.append(f"# {answer.net.name}: {answer.why_not}")
            continue
        # A fold that a slit or a hole parts is several hinges, which turn together.
        for name, hinge in {fold_name(each): each for each in answer.net.hinges}.items():
            angle = answer.angle(hinge)
            if angle is None:
                lines.append(f"# {shown(name)} = 90    # not found; say it")
            else:
                turn = f"{angle:.6g}"
                if answer.doubtful(hinge):
                    turn = f"{{ guess = {turn} }}    # nothing tests this one"
                lines.append(f"{shown(name)} = {turn}")
    lines += ["", "# 'cutlayers keys' tells what else a job may have: lettering, art, limits, …"]
    return "\n".join(lines) + "\n"
