"""A profile may ask for the folded boxes beside the files for the machine."""

from __future__ import annotations

import json
from dataclasses import replace

import cutlayers
from cutlayers.profile.output import FilesPlan
from cutlayers.profile.reading import read_profile


def test_each_kind_of_box_is_a_fold_file() -> None:
    """With the crease pattern first, as FOLD 1.2 has it: a tray of nine panels, glue tabs too."""
    machine = replace(read_profile("drag-blade-340"), files=FilesPlan(("dxf", "fold")))
    card = cutlayers.Stock("card", caliper=0.3, sheet=(210.0, 297.0))
    box = cutlayers.build("tray", length=60, width=40, height=20, caliper=0.3)
    job = cutlayers.Job("t", "mm", {"card": card}, (cutlayers.Order(box, "card", 2, "soap tray"),))

    files = cutlayers.render(cutlayers.draw(cutlayers.plan(cutlayers.lay_out(job, machine))))

    (name,) = (name for name in files if name.endswith(".fold"))
    found = json.loads(files[name])
    assert name == "folded-soap-tray.fold"
    assert found["file_spec"] == 1.2
    assert found["frame_classes"] == ["creasePattern"]
    assert len(found["faces_vertices"]) == len(box.nets[0].panels)
    assert not any(each.endswith(".svg") for each in files)
