"""The address is there before the server is, and each script is whole."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from cutlayers import one_script
from cutlayers.page.app import own_file

SAMPLES = Path(__file__).parents[2] / "samples"
SCRIPTS = Path(__file__).parents[2] / "cutlayers" / "page" / "static"

ADDRESS_FIRST = """
import sys
from pathlib import Path
from cutlayers.page import listening, serve

class Told(Exception): ...

def ready(address):
    assert at.getsockname()[1] == int(address.split(":")[2].split("/")[0])
    heavy = {"asyncio", "jinja2", "numpy", "shapely", "starlette", "uvicorn"}
    print(*sorted(heavy & {*sys.modules}))
    raise Told

at = listening(0)
try:
    serve(Path(), None, at, ready)
except Told:
    pass
"""


FIRST_BOX = """
import sys
from pathlib import Path
from cutlayers.page.desk import Desk

assert Desk(Path(sys.argv[1])).state()["box"]
found = {".".join(name.split(".")[:2]) for name in sys.modules}
print(*sorted(found & {f"cutlayers.{room}" for room in ("kits", "report", "sheets", "toolpaths")}))
print(*sorted(found & {"lxml", "pydantic", "tomlkit"}))
"""


def test_the_first_box_waits_for_nothing_that_lays_out_or_edits() -> None:
    told = subprocess.run(
        [sys.executable, "-c", FIRST_BOX, SAMPLES / "bath-bombs.toml"],
        capture_output=True,
        text=True,
        check=True,
    )

    assert told.stdout.split() == []


def test_a_browser_starts_before_anything_heavy_is_loaded() -> None:
    told = subprocess.run(
        [sys.executable, "-c", ADDRESS_FIRST], capture_output=True, text=True, check=True
    )

    assert told.stdout.strip() == ""


@pytest.mark.parametrize("name", sorted(path.stem for path in SCRIPTS.glob("*.js")))
def test_a_script_is_sent_with_all_that_it_imports(name: str) -> None:
    """Once each, and what it exports is all that is left to a module."""
    sent = one_script(name, own_file)
    own = (SCRIPTS / f"{name}.js").read_text()
    wanted = re.findall(r"^export (?:async )?(?:class|const|function) (\w+)", own, re.MULTILINE)

    left = re.findall(r"^\s*(?:import|export)\b.*$", sent, re.MULTILINE)
    assert left == ([f"export const {{ {', '.join(wanted)} }} = its_{name};"] if wanted else [])
    modules = re.findall(r"^const its_(\w+) =", sent, re.MULTILINE)
    assert len(modules) == len({*modules})
    assert {*re.findall(r'^import .* from "\./(\w+)\.js";$', own, re.MULTILINE)} < {*modules}
