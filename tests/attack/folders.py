"""Doors for what lies in the folder that is written into."""

from __future__ import annotations

import json

from cutlayers.writing.changing import CHANGE, STATE, WRITTEN
from cutlayers.writing.manifest import ABOUT, FORMAT
from tests.attack.cases import NAUGHTY_TEXTS, Case, Chance, mutated, naughty, scrambled
from tests.attack.texts import PROFILE, ROOT, tray

NAMES = ("sheet-1.svg", "sheet-1.dxf", "report.json", "report.txt", "guide.html", "photo.jpg")
SUM = "0" * 64


def folder(chance: Chance) -> Case:
    """Somebody's files of our names, and notes of ours that are damaged or forged."""
    files = {
        f"out/{name}": chance.choice((b"theirs", b'{"files": ["photo.jpg"]}', b"[" * 5000))
        for name in chance.sample(NAMES, chance.randint(0, 3))
    }
    sets = {
        chance.choice(("job", "kit", "align", "")): {
            "owner": chance.choice(("", "the kit x", 5)),
            "files": {
                chance.choice((*NAMES, "../job.toml", "/etc/passwd", *NAUGHTY_TEXTS)): SUM
                for _ in range(3)
            },
        }
    }
    note = {
        "about": ABOUT, "format": FORMAT, "sets": sets, "before": {"../job.toml": SUM},
        "stage": chance.choice(("new", "..", "../..", "old")), "label": next(iter(sets)),
    }  # fmt: skip
    if chance.random() < 0.5:
        note = mutated(note, chance)
    for name in chance.sample((WRITTEN, CHANGE, "lock", "coming.json", "after.json"), 2):
        content = json.dumps(note, default=str).encode("utf-8", "surrogatepass")
        files[f"out/{STATE}/{name}"] = (
            scrambled(content, chance) if chance.random() < 0.3 else content
        )
    if chance.random() < 0.3:
        text = json.dumps(naughty(chance), default=str).encode("utf-8", "surrogatepass")
        files[f"out/{STATE}/kit/.plan.json"] = text
    job, words = "job.toml", ["make", "{folder}/job.toml", *PROFILE, "-o", "{folder}/out"]
    files[job] = tray()
    if chance.random() < 0.2:
        files["job.toml"] = (ROOT / "samples/market-guests.toml").read_bytes()
        rows = (ROOT / "samples/guests.csv").read_bytes().splitlines(keepends=True)
        files["guests.csv"] = b"".join(rows[:2])
    return Case(tuple(words), files)
