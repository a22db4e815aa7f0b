"""Who gets an answer: our own page alone."""

from __future__ import annotations

import asyncio
import json
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from cutlayers.page.app import app_of
from cutlayers.page.folder import Folder
from cutlayers.page.safety import HEADERS, OwnPageOnly

WHOLE = """[stock.a]
caliper = 0.3
sheet = "A4"

[[piece]]
style = "tray"
stock = "a"
size = { length = 60, width = 40, height = 20 }
"""

TOKEN, PORT = "a-token", 4711
OWN = {"host": "127.0.0.1:4711"}
POSTED = {
    **OWN,
    "origin": "http://127.0.0.1:4711",
    "content-type": "application/json",
    "content-length": "2",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a job, and beside it a file that is none of its."""
    inside = tmp_path / "inside"
    inside.mkdir()
    (inside / "a.toml").write_text('[stock.a]\ncaliper = 0.3\nsheet = "A4"\n')
    (tmp_path / "outside.toml").write_text("[stock]\n")
    return inside


def asked(
    folder: Path, path: str, headers: dict[str, str], method: str = "GET", body: bytes = b""
) -> tuple[int, dict[str, str], bytes]:
    """Status, headers and body of one answer."""
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Any) -> None:
        sent.append(message)

    async def run() -> None:
        app = OwnPageOnly(app_of(Folder(folder, lambda: True), TOKEN), TOKEN, PORT)
        scope: dict[str, Any] = {
            "type": "http",
            "method": method,
            "path": path,
            "raw_path": path.encode(),
            "query_string": b"",
            "root_path": "",
            "scheme": "http",
            "http_version": "1.1",
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
        }
        await app(scope, receive, send)

    with ThreadPoolExecutor(1) as apart:  # a driven browser leaves a loop in this thread
        apart.submit(asyncio.run, run()).result()
    start = next(each for each in sent if each["type"] == "http.response.start")
    told = {name.decode(): value.decode() for name, value in start["headers"]}
    content = b"".join(each.get("body", b"") for each in sent)
    return start["status"], told, content


def test_our_own_page_is_answered_and_may_fetch_nothing(folder: Path) -> None:
    status, headers, content = asked(folder, f"/{TOKEN}/", OWN)

    assert status == 200 and b"What would you like to make?" in content
    assert {name: headers[name.lower()] for name in HEADERS} == HEADERS
    assert "unsafe" not in headers["content-security-policy"]


@pytest.mark.parametrize(
    ("path", "headers"),
    [
        ("/", OWN),
        ("/another/", OWN),
        (f"/{TOKEN}x/", OWN),
        # A name that another site lets point to this machine (DNS rebinding).
        (f"/{TOKEN}/", {"host": "boxes.example:4711"}),
        (f"/{TOKEN}/", {"host": "127.0.0.1:80"}),
        (f"/{TOKEN}/", {}),
        (f"/{TOKEN}/", {**OWN, "sec-fetch-site": "cross-site"}),
        (f"/{TOKEN}/", {**OWN, "sec-fetch-site": "same-site"}),
    ],
)
def test_nobody_else_is_answered(folder: Path, path: str, headers: dict[str, str]) -> None:
    status, _, content = asked(folder, path, headers)

    assert status >= 400 and b"make?" not in content


@pytest.mark.parametrize(
    "change",
    [
        {"origin": "http://boxes.example"},
        {"origin": "null"},
        {"origin": ""},
        {"content-type": "text/plain"},
        {"content-length": "100001"},
        {"content-length": "-1"},
        {"content-length": "²"},
        {"content-length": "9" * 5_000},
    ],
)
def test_nothing_changes_but_by_our_own_page(folder: Path, change: dict[str, str]) -> None:
    """Other sites cannot send JSON without asking first, nor say that they are ours."""
    made = b'{"style": "tray", "units": "mm"}'

    status, _, _ = asked(folder, f"/{TOKEN}/new", {**POSTED, **change}, "POST", made)

    assert status in (403, 413, 415)
    assert not (folder / "tray.toml").exists()


@pytest.mark.parametrize(
    "body",
    [
        b'{"changes": [0]}',
        b'{"changes": ' + 50_000 * b"[",
        b'{"changes": [{"set": ["title"], "to": ' + 6000 * b"1" + b"}]}",
        b"[]",
        b"\xff",
    ],
    ids=["no change", "deep", "long", "no table", "no text"],
)
def test_what_is_no_change_is_bad_of_the_page(folder: Path, body: bytes) -> None:
    headers = {**POSTED, "content-length": str(len(body))}

    assert asked(folder, f"/{TOKEN}/jobs/a.toml/change", headers, "POST", body)[0] == 400


def test_a_machine_that_is_no_name_is_none(folder: Path) -> None:
    body = b'{"style": "tray", "units": "mm", "machine": []}'

    assert asked(folder, f"/{TOKEN}/new", POSTED, "POST", body)[0] == 200
    assert "\nprofile" not in (folder / "tray.toml").read_text()


def test_a_style_makes_a_file_and_never_takes_another_s_place(folder: Path) -> None:
    (folder / "tray.toml").write_text("mine")
    body = b'{"style": "tray", "units": "mm", "machine": "drag-blade-340"}'

    status, _, content = asked(folder, f"/{TOKEN}/new", POSTED, "POST", body)

    assert (status, content) == (200, b'{"file":"tray-2.toml"}')
    assert (folder / "tray.toml").read_text() == "mine"
    assert 'profile = "drag-blade-340"' in (folder / "tray-2.toml").read_text()


@pytest.mark.parametrize(
    "path",
    [
        "jobs/../outside.toml/",
        "jobs/..%2Foutside.toml/",
        "jobs/%2e%2e/outside.toml/",
        "jobs/none.toml/",
        "jobs/a.toml/made/..%2F..%2Foutside.toml",
        "jobs/a.toml/made/report.txt",
        "static/../app.py",
        "static/..%2Fapp.py",
        "static/__init__.py",
        "styles/none.svg",
    ],
)
def test_no_way_leads_out_of_the_job_s_folder(folder: Path, path: str) -> None:
    status, _, _ = asked(folder, f"/{TOKEN}/{path}", OWN)

    assert status == 404


@pytest.mark.parametrize("value", ["[" * 50_000, "9" * 5_000])
def test_a_file_that_no_parser_takes_is_shown_and_no_obstacle(folder: Path, value: str) -> None:
    """Nested far too deeply, or a number of thousands of digits, on which it gives up in its own
    way."""
    (folder / "deep.toml").write_text(f"{WHOLE}title = {value}")
    body = b'{"changes": [{"add": "paper", "piece": 0}], "base": 1}'
    headers = {**POSTED, "content-length": str(len(body))}

    assert asked(folder, f"/{TOKEN}/", OWN)[0] == 200
    assert asked(folder, f"/{TOKEN}/jobs/deep.toml/", OWN)[0] == 200
    assert asked(folder, f"/{TOKEN}/jobs/deep.toml/state", OWN)[0] == 200
    status, _, told = asked(folder, f"/{TOKEN}/jobs/deep.toml/change", headers, "POST", body)
    assert status == 200 and json.loads(told)["refused"]


def test_a_link_out_of_the_folder_is_no_job_of_it(folder: Path) -> None:
    (folder / "link.toml").symlink_to(folder.parent / "outside.toml")

    assert asked(folder, f"/{TOKEN}/jobs/link.toml/", OWN)[0] == 404


def test_what_users_write_is_never_markup(folder: Path) -> None:
    (folder / "odd.toml").write_text('title = "<script>alert(1)</script>"\n[[piece]]\n')

    _, _, content = asked(folder, f"/{TOKEN}/", OWN)

    assert b"&lt;script&gt;alert(1)" in content and b"<script>alert" not in content


@pytest.mark.parametrize(
    "change",
    [
        {"set": ["title"], "to": "\ud800"},
        {"set": ["\ud800", 0], "to": "a", "was": "\ud800"},
        {"remove": ["piece", "\ud800"]},
        {"add": "stock", "name": "\ud800", "piece": 0},
        {"style": "\ud800", "piece": 0},
    ],
)
def test_half_a_letter_is_refused_and_told(folder: Path, change: dict[str, Any]) -> None:
    """JSON may hold one, a file and an answer in UTF-8 may not."""
    (folder / "a.toml").write_text(WHOLE)
    body = json.dumps({"changes": [change], "base": 1}).encode()
    headers = {**POSTED, "content-length": str(len(body))}

    status, _, told = asked(folder, f"/{TOKEN}/jobs/a.toml/change", headers, "POST", body)

    assert status == 200
    assert json.loads(told)["refused"]
    assert (folder / "a.toml").read_text() == WHOLE


@pytest.mark.parametrize("value", ["NaN", "Infinity", "-Infinity"])
def test_a_number_that_is_none_is_refused_and_told(folder: Path, value: str) -> None:
    """JSON has no such numbers, though a reader may take them; the answer has none either."""
    (folder / "a.toml").write_text(WHOLE)
    before = (folder / "a.toml").read_bytes()
    change = f'{{"set": ["title"], "to": {value}, "was": "what an editor changed"}}'
    body = f'{{"changes": [{change}], "base": 9}}'.encode()
    headers = {**POSTED, "content-length": str(len(body))}

    status, _, content = asked(folder, f"/{TOKEN}/jobs/a.toml/change", headers, "POST", body)

    assert status == 200
    told = json.loads(content, parse_constant=lambda _: pytest.fail("no JSON"))
    assert told["conflict"] or told["refused"]
    assert (folder / "a.toml").read_bytes() == before


@pytest.mark.parametrize("line", ["title = nan", "units = inf", "count = -inf"])
def test_a_file_with_such_a_number_is_shown(folder: Path, line: str) -> None:
    """Whoever saves it in an editor sees what is wrong with it."""
    (folder / "a.toml").write_text(f"{line}\n{WHOLE}".replace("0.3", "nan"))

    status, _, content = asked(folder, f"/{TOKEN}/jobs/a.toml/state", OWN)

    assert status == 200
    json.loads(content, parse_constant=lambda _: pytest.fail("no JSON"))
