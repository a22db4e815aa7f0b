"""The door of the page: what it is asked, by itself, by a stranger and by an editor."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from tests.attack.cases import (
    NAUGHTY_NUMBERS,
    NAUGHTY_TEXTS,
    Asked,
    Case,
    Chance,
    mutated,
    naughty,
    nudged,
    places,
    scrambled,
    toml_of,
)
from tests.attack.texts import jobs, tray

TOKEN, PORT = "a-token", 4711
HOST = f"127.0.0.1:{PORT}"
OWN = {
    "host": HOST,
    "origin": f"http://{HOST}",
    "sec-fetch-site": "same-origin",
    "content-type": "application/json",
}
STRANGE: tuple[Mapping[str, str], ...] = (
    {"host": "evil.example:4711"},
    {"host": ""},
    {"sec-fetch-site": "cross-site"},
    {"sec-fetch-site": "same-site"},
    {"origin": "http://evil.example"},
    {"origin": "null"},
    {"content-type": "text/plain"},
    {"content-length": "9999999"},
    {"content-length": "-1"},
    {"token": "another"},
    {"token": ""},
    {"token": "é"},
)
"""What a request from elsewhere has instead of what our own page sends."""

FOLDER, JOB = "jobs", "job.toml"


def page(chance: Chance) -> Case:
    """A job that is open, and what its page, a stranger and an editor do with it."""
    table = chance.choice([each for each in jobs() if len(each["piece"]) <= 2])
    if chance.random() < 0.7:
        table = {**table, "profile": "drag-blade-340"}
    content = toml_of(table if chance.random() < 0.8 else mutated(table, chance, 1))
    if chance.random() < 0.1:
        content = scrambled(content, chance)
    asked = tuple(_asked(table, content, chance) for _ in range(chance.randint(2, 6)))
    files = {f"{FOLDER}/{JOB}": content, "outside.toml": tray(), f"{FOLDER}/photo.jpg": b"theirs"}
    return Case((), files, asked=asked)


def _asked(table: dict[str, Any], content: bytes, chance: Chance) -> Asked:
    if chance.random() < 0.1:
        none = b"piece = " + chance.choice((b"[" * 5_000, b"9" * 5_000))
        left = (content, b"", scrambled(content, chance), tray(), none, None)
        return Asked(saved=chance.choice(left))
    way, body = _request(table, chance)
    name = JOB if chance.random() < 0.93 else chance.choice((*NAUGHTY_TEXTS, "../outside.toml"))
    headers = dict(OWN)
    if chance.random() < 0.08:
        headers |= chance.choice(STRANGE)
    sent = b"" if body is None else _json(body, chance)
    method = "GET" if body is None else "POST"
    if method == "POST":
        headers.setdefault("content-length", str(len(sent)))
    if chance.random() < 0.03:
        method = chance.choice(("HEAD", "PUT", "DELETE", "OPTIONS", "POST"))
    token = headers.pop("token", TOKEN)
    query = "&".join(
        f"{key}={chance.choice((0, 1, 2, *NAUGHTY_NUMBERS, *NAUGHTY_TEXTS))}"[:5000]
        for key in chance.sample(("piece", "revision", "other"), chance.randint(0, 3))
    )
    return Asked(f"/{token}{way.format(job=f'/jobs/{name}')}", method, query, headers, sent)


def _request(table: dict[str, Any], chance: Chance) -> tuple[str, Any]:
    """The way to ask, `{job}` for that of a job, and what is sent; None where nothing is."""
    if chance.random() < 0.6:
        return "{job}/change", _change(table, chance)
    odd = chance.choice((*NAUGHTY_TEXTS, "../safety.py", "page.css")).replace("{", "").strip("/")
    name = chance.choice(("tray", "gable-carton", odd.replace("}", "")))
    return chance.choice(
        (
            ("/", None),
            ("{job}/", None),
            ("{job}/state", None),
            ("{job}/state", None),
            ("{job}/more", None),
            ("{job}/events", None),
            ("/presence", None),
            ("{job}/folded.svg", None),
            (f"{{job}}/sheets/{chance.choice((0, 1, 10**30))}.svg", None),
            (f"{{job}}/made/{name}", None),
            (f"/static/{name}", None),
            (f"/styles/{name}.svg", None),
            (f"/{name}", None),
            ("/new", {"style": name, "units": chance.choice(("mm", "in", naughty(chance)))}),
            ("/new", {"style": "tray", "units": "mm", "machine": naughty(chance)}),
            ("{job}/make", {"anyway": chance.random() < 0.5, "cancel": chance.random() < 0.9}),
            ("{job}/folder", {}),
            ("{job}/change", naughty(chance)),
        )
    )


def _change(table: dict[str, Any], chance: Chance) -> Any:
    changes = [_one_change(table, chance) for _ in range(chance.choice((1, 1, 1, 2, 3)))]
    base = chance.choice((1, 1, 1, 2, 3, naughty(chance)))
    asked: dict[str, Any] = {"changes": changes, "base": base, "again": chance.random() < 0.3}
    if chance.random() < 0.2:
        asked["what"] = chance.choice(("undo", "redo", "cure", naughty(chance)))
        asked["number"] = chance.choice((0, 1, 2, naughty(chance)))
    return mutated(asked, chance) if chance.random() < 0.2 else asked


def _one_change(table: dict[str, Any], chance: Chance) -> Any:
    if chance.random() < 0.4:
        return _likely_change(table, chance)
    place = chance.choice(places(table))
    value: Any = table
    for step in place:
        value = value[step]
    panels = [chance.choice(("base", "front", "lid", *NAUGHTY_TEXTS)) for _ in range(2)]
    piece = chance.choice((0, 0, 0, 1, -1, 10**9))
    changed: dict[str, Any] = chance.choice(
        (
            {"set": [*place], "to": chance.choice((nudged(value, chance), naughty(chance)))},
            {"set": [*place], "to": chance.choice(NAUGHTY_TEXTS), "was": value},
            {"set": [*place[:-1], chance.choice(NAUGHTY_TEXTS)], "to": naughty(chance)},
            {"step": [*place], "by": chance.choice((1, -1, 10, 10**9, 10**400)), "from": 3},
            {"add": chance.choice(("pattern", "words", "colour")), "piece": piece},
            {"add": chance.choice(("paper", "letters")), "piece": piece, "panels": panels},
            {"remove": [*place]},
            {"remove": ["stock", chance.choice(("card", *NAUGHTY_TEXTS))]},
            {"add": "box", "style": chance.choice(("tray", *NAUGHTY_TEXTS))},
            {"add": "box", "like": piece},
            {"add": "stock", "name": chance.choice(("kraft", *NAUGHTY_TEXTS)), "piece": piece},
            {"style": chance.choice(("tray", *NAUGHTY_TEXTS)), "piece": piece, "usual": True},
            {"line": piece, "is": chance.choice(("cut", "x", None)), "piece": 0},
            {"holds": chance.choice(("sphere", "cuboid", "egg", "x")), "piece": piece},
            {"sized": True, "piece": piece},
        )
    )
    if "set" in changed and chance.random() < 0.7:
        changed["kind"] = chance.choice(("length", "number", "whole", "words", "flag", "x"))
    return mutated(changed, chance, 1) if chance.random() < 0.15 else changed


def _likely_change(table: dict[str, Any], chance: Chance) -> dict[str, Any]:
    """What a person does: most of these are written."""
    sizes = table["piece"][0].get("size", {})
    numbers = [name for name, value in sizes.items() if isinstance(value, int | float)]
    if not numbers or chance.random() < 0.3:
        what = chance.choice(("pattern", "words", "colour", "paper"))
        return {"add": what, "piece": 0, "roles": chance.choice(("all", "wall"))}
    place = ["piece", 0, "size", chance.choice(numbers)]
    if chance.random() < 0.4:
        return {"step": place, "by": chance.choice((1, -1, 10)), "from": 30}
    size = str(round(sizes[place[-1]] * chance.uniform(0.9, 1.3), 1))
    return {"set": place, "to": size, "kind": "length"}


def _json(value: Any, chance: Chance) -> bytes:
    sent = json.dumps(value, default=str).encode("utf-8", "surrogatepass")
    if chance.random() < 0.04:
        return scrambled(sent, chance)
    if chance.random() < 0.04:
        deep = chance.choice(("[" * 50_000, '{"a":' * 10_000, '"\\ud800"', "1" * 6000, "NaN"))
        return b'{"changes": [{"set": ["title"], "to": ' + deep.encode() + b"}]}"
    return sent
