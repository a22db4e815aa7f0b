"""The table of a kit, and a job with a row's values in it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlayers.kits.rows import Row, Rows, columns_used, read_rows, table_for, with_decimal_commas
from cutlayers.telling.errors import JobError


def rows(tmp_path: Path, text: str | bytes) -> Rows:
    path = tmp_path / "guests.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_rows(path)


def refused(tmp_path: Path, text: str | bytes) -> list[str]:
    with pytest.raises(JobError) as caught:
        rows(tmp_path, text)
    return [
        line.removeprefix(f"{tmp_path}/guests.csv: ") for line in str(caught.value).splitlines()
    ]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("begin", ["", "\ufeff"])
def test_tables_of_all_usual_programs_are_read(
    tmp_path: Path, mark: str, end: str, begin: str
) -> None:
    """Commas, semicolons or tabs; both line ends; with a byte-order mark or none."""
    found = rows(
        tmp_path, begin + mark.join(("name", "scent")) + end + mark.join(("Ida", "oat")) + end
    )

    assert found.columns == ("name", "scent")
    assert [(row.line, dict(row.cells)) for row in found.rows] == [
        (2, {"name": "Ida", "scent": "oat"})
    ]


@pytest.mark.parametrize(
    ("text", "columns"),
    [
        ("name, as printed;long\nIda;60\n", ("name, as printed", "long")),
        ("name;long\nIda, Vit, Ole;60\n", ("name", "long")),
        ("name\tsize; in mm\nIda\t60\n", ("name", "size; in mm")),
        ("name,note; for you\nIda,x\n", ("name", "note; for you")),
        ("name\nIda; Vit\n", ("name",)),
    ],
)
def test_the_mark_that_parts_the_cells(tmp_path: Path, text: str, columns: tuple[str, ...]) -> None:
    """It is the one that gives every line as many cells; others belong to the texts."""
    assert rows(tmp_path, text).columns == columns


def test_a_cell_that_is_far_too_long_is_refused(tmp_path: Path) -> None:
    """Also where it is in the way of finding out what parts the cells."""
    (line,) = refused(tmp_path, f'name;"long, {"x" * 200_000}"\nIda;60\n')

    assert "field larger than field limit" in line


COMMAS = {
    "piece": [
        {
            "size": {"length": "{long}", "width": "{wide}"},
            "name": "{name}",
            "lettering": [{"text": "{name}", "height": "{high}", "panel": "front"}],
        }
    ]
}


@pytest.mark.parametrize("mark", [";", "\t"])
def test_decimal_commas_of_semicolons_and_tabs(tmp_path: Path, mark: str) -> None:
    """Numbers and lengths have them, as spreadsheets write in many countries; texts keep commas."""
    text = "name;long;wide;high\nIda 3,5;62,5;4,2 cm;5,5\nVit;1.062,5;60;2 7/16 in\n"
    found = rows(tmp_path, text.replace(";", mark))
    (ida,), (vit,) = (table_for(COMMAS, row)["piece"] for row in found.rows)

    assert ida["size"] == {"length": 62.5, "width": "4.2 cm"}
    assert ida["name"] == ida["lettering"][0]["text"] == "Ida 3,5"
    assert ida["lettering"][0]["height"] == 5.5
    assert vit["size"] == {"length": "1.062,5", "width": 60}
    assert with_decimal_commas(COMMAS, found.rows[0]) == ("long", "wide", "high")
    assert with_decimal_commas(COMMAS, found.rows[1]) == ()


def test_a_comma_in_a_table_of_commas_is_no_decimal_one(tmp_path: Path) -> None:
    """RFC 4180: there it needs quotes, and whether it parts thousands nobody can tell."""
    (row,) = rows(tmp_path, 'name,long,wide,high\nIda,"62,5",42,5\n').rows

    assert table_for(COMMAS, row)["piece"][0]["size"]["length"] == "62,5"
    assert with_decimal_commas(COMMAS, row) == ()


def test_quoted_cells_and_their_lines(tmp_path: Path) -> None:
    """RFC 4180: quotes, doubled quotes, commas; empty lines are passed over and counted."""
    found = rows(
        tmp_path, 'name,scent\n"Ida, the ""first""",oat\n\n,,\nVit,\n'.replace(",,\n", ",\n")
    )

    assert [(row.line, row.cells["name"]) for row in found.rows] == [
        (2, 'Ida, the "first"'),
        (5, "Vit"),
    ]


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", ["has no rows; the first line names the columns, each line after it is one."]),
        ("name\n", ["has no rows; the first line names the columns, each line after it is one."]),
        ("name,\nIda,\n", ["line 1, column 2: has no name."]),
        ("name,name\nIda,x\n", ['line 1, column 2: is "name", the name of column 1 already.']),
        ("na{me\nIda\n", ['line 1, column 1: is "na{me", with a brace in its name.']),
        (
            "name,scent\nIda\nVit,oat,x\n",
            [
                "line 2: has 1 cells, but there are 2 columns.",
                "line 3: has 3 cells, but there are 2 columns.",
            ],
        ),
        (
            "name\nI\u0007da\n",
            [
                'line 2, column 1: name is "I\\u0007da"; it must be a text on one line without '
                "control characters."
            ],
        ),
        ('name\n"Ida\n', ["line 2: unexpected end of data."]),
        (
            "name\nIda\nJos\u00e9\n".encode("latin-1"),
            ["line 3: is not UTF-8; save it as CSV UTF-8."],
        ),
    ],
)
def test_everything_wrong_is_told_at_once(
    tmp_path: Path, text: str | bytes, lines: list[str]
) -> None:
    """Each with its line."""
    assert refused(tmp_path, text) == lines


def test_a_missing_table_is_told_with_the_nearest(tmp_path: Path) -> None:
    """A slip of the name."""
    (tmp_path / "guests.csv").write_text("name\nIda\n")

    with pytest.raises(JobError, match=r"no such file.*Did you mean .*guests\.csv"):
        read_rows(tmp_path / "guest.csv")


TABLE = {
    "title": "{name} stays",
    "kit": "guests.csv",
    "piece": [
        {
            "size": {"length": "{length}", "measure": "inside"},
            "count": "{count}",
            "lettering": [{"text": "For {name}, {{kept}}"}, {"text": "{count}"}],
        }
    ],
}


def test_a_rows_values_go_into_the_pieces() -> None:
    """Numbers in sizes and counts, texts in texts, braces kept; the kit itself goes."""
    row = Row(2, {"name": "Ida", "length": "62.5", "count": "3"})

    assert table_for(TABLE, row) == {
        "title": "{name} stays",
        "piece": [
            {
                "size": {"length": 62.5, "measure": "inside"},
                "count": 3,
                "lettering": [{"text": "For Ida, {kept}"}, {"text": "3"}],
            }
        ],
    }


def test_lengths_with_a_unit_stay_as_written() -> None:
    """They are the length reader's to read."""
    row = Row(2, {"name": "Ida", "length": "2 7/16 in", "count": "1"})

    assert table_for(TABLE, row)["piece"][0]["size"]["length"] == "2 7/16 in"


def test_columns_used_are_those_of_the_pieces() -> None:
    """With the place that names each first."""
    assert columns_used(TABLE) == {
        "length": ("piece", 0, "size", "length"),
        "count": ("piece", 0, "count"),
        "name": ("piece", 0, "lettering", 0, "text"),
    }
