"""A short attack with the other tests; `python -m tests.attack` runs a long one."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from tests.attack.cases import Asked, Case, toml_of
from tests.attack.doors import DOORS
from tests.attack.page import FOLDER, JOB, OWN, TOKEN
from tests.attack.texts import COLOURED, PROFILE, profiles, tray
from tests.attack.watch import attempt, watched

CASES = 8
"""Of each door, always the same; what failed once stands in PAST as well."""

DEEP, LONG = "[" * 50_000, "9" * 5_000
"""Nested so that the parser gives up, and a number of so many digits that Python does."""

SPHERE = ("size", "for-item", "tray", "sphere", "diameter=50")


def _svg(body: str) -> Case:
    """A picture on a tray."""
    art = f'<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30">{body}</svg>'
    image = {"panels": "base", "file": "art.svg"}
    files = {"job.toml": tray(art=[image]), "art.svg": art.encode()}
    return Case(("check", "{folder}/job.toml", *PROFILE), files)


def _scan(width: int, height: int) -> Case:
    """A scan of so many pixels at 100 dpi."""
    Image.new("L", (width, height), 255).save(content := io.BytesIO(), "PNG", dpi=(100, 100))
    files = {"job.toml": tray(art=[COLOURED]), "scan.png": content.getvalue()}
    words = ("align", "{folder}/job.toml", *PROFILE, "--scan", "{folder}/scan.png")
    return Case((*words, "-o", "{folder}/out"), files)


PAPER = '{"add": "paper", "piece": 0}'


def _page(saved: str | None = None, change: str = PAPER) -> Case:
    """A job that is changed while it is open, perhaps after an editor has saved something else."""
    way = f"/{TOKEN}/jobs/{JOB}/"
    body = f'{{"changes": [{change}], "base": 1}}'.encode()
    sent = {**OWN, "content-length": str(len(body))}
    asked = (
        Asked(f"{way}state", headers=OWN),
        Asked(saved=tray() if saved is None else saved.encode()),
        Asked(f"/{TOKEN}/", headers=OWN),
        Asked(f"{way}state", headers=OWN),
        Asked(f"{way}change", "POST", headers=sent, body=body),
    )
    return Case((), {f"{FOLDER}/{JOB}": tray()}, asked=asked)


PAST: dict[str, Case] = {
    "an arc of endless radius": _svg('<path d="M3 1 L0 1 A 1e400 3 0 1 1 1 0"/>'),
    "a colour of thousands of digits": _svg(f'<rect width="5" height="5" fill="rgb({LONG},0,0)"/>'),
    "a key deeper than any": Case(
        ("profile", "set", "{folder}/machine.toml", "a." * 1500 + "b", "1"),
        {"machine.toml": toml_of(profiles()[0])},
    ),
    "a scan larger than any sheet": _scan(12_000, 9_000),
    "an option nested too deeply": Case((*SPHERE, "--set", f"tab={DEEP}")),
    "an option of thousands of digits": Case((*SPHERE, "--set", f"tab={LONG}")),
    "a line whose number is a superior figure": Case(
        ("bring", "{folder}/net.svg", "--known", "²=5"),
        {"net.svg": b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0H9V9Z"/></svg>'},
    ),
    "what is taken out has no number": _page(change='{"remove": ["piece", 0, "piece"]}'),
    "half a letter as a place": _page(change='{"remove": ["piece", "\\ud800"]}'),
    "card like one that is no table": _page(
        'stock = { card = "x" }\npiece = [{ stock = "card" }]',
        change='{"add": "stock", "name": "kraft", "piece": 0}',
    ),
    "a style in place of a piece that is a number": _page(
        "piece = [3]", change='{"style": "tray", "piece": 0}'
    ),
    "a box like one whose facings are a number": _page(
        "piece = [{ facing = 3, size = 4, art = 5 }]", change='{"style": "tray", "piece": 0}'
    ),
    "a style of a box whose cards are none": _page(
        "piece = [{ stock = {} }]", change='{"style": "tray", "piece": 0}'
    ),
    "a drawing with a line far off": Case(
        ("bring", "{folder}/net.svg", "--picture", "{folder}/seen.png"),
        {
            "net.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" '
            b'viewBox="0 0 9 9"><path d="M0 0H9V999999H0Z" fill="none" stroke="red"/></svg>'
        },
    ),
    "paper where cards are a word": _page(
        'stock = "x"\npiece = [{}]', change='{"add": "paper", "piece": 0, "roles": "all"}'
    ),
    "a job nested too deeply, open": _page(f"piece = {DEEP}"),
    "a number of thousands of digits in a job, open": _page(f"count = {LONG}"),
}
"""What failed before it was mended; seeds would make other cases as doors grow."""


@pytest.mark.parametrize("number", range(CASES))
@pytest.mark.parametrize("door", DOORS)
def test_nothing_crashes_at_any_door(door: str, number: int) -> None:
    """Exit 0, 1 or 2, a sentence, nothing written on exit 2, no foreign file, no network."""
    outcome = attempt(door, 0, number)

    assert outcome.fault is None, outcome.detail


@pytest.mark.parametrize("case", PAST)
def test_what_failed_once_holds(case: str) -> None:
    """Each was a crash, a hang or a loss."""
    outcome = watched(PAST[case])

    assert outcome.fault is None, outcome.detail
    assert outcome.exit == 2 or PAST[case].asked
