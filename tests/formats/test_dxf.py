from __future__ import annotations

import io
import re
from typing import Literal

import ezdxf
import pytest
from ezdxf.document import Drawing

from cutlayers.formats.dxf import write_dxf
from cutlayers.profile.output import DxfSettings
from tests.formats.examples import EXAMPLES
from tests.formats.polylines import polylines

Version = Literal["R12", "R2000", "R2004"]
SEVERAL = EXAMPLES[-1].drawing


def read(data: bytes) -> Drawing:
    """Parse the bytes."""
    return ezdxf.read(io.StringIO(data.decode("cp1252")))


@pytest.mark.parametrize(
    ("version", "number"), [("R12", "AC1009"), ("R2000", "AC1015"), ("R2004", "AC1018")]
)
def test_version_is_the_one_asked_for(version: Version, number: str) -> None:
    """$ACADVER as in the DXF Reference, header variables."""
    assert read(write_dxf(SEVERAL, DxfSettings(version))).dxfversion == number


@pytest.mark.parametrize("version", ["R2000", "R2004"])
def test_header_states_millimetres(version: Version) -> None:
    """$INSUNITS 4 is mm, $MEASUREMENT 1 metric (DXF Reference, header variables)."""
    text = write_dxf(SEVERAL, DxfSettings(version)).decode()

    assert "$INSUNITS\n 70\n4\n" in text
    assert "$MEASUREMENT\n 70\n1\n" in text


def test_r12_states_millimetres_in_a_comment(capfd: pytest.CaptureFixture[str]) -> None:
    """R12 has no variable for units, and the user is not bothered with it."""
    text = write_dxf(SEVERAL, DxfSettings("R12")).decode()

    assert text.startswith("999\nall lengths are millimetres\n  0\nSECTION\n")
    assert "$INSUNITS" not in text
    assert "$MEASUREMENT" not in text
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004"])
def test_layers_stand_in_working_order_with_their_colours(version: Version) -> None:
    """After layer 0, which DXF always has; empty layers are kept.

    Read from the tags (2 name, 62 colour), because ezdxf adds a layer of its own on reading.
    """
    text = write_dxf(SEVERAL, DxfSettings(version)).decode()
    table = re.search(r"TABLE\n  2\nLAYER\n(.*?)ENDTAB", text, re.DOTALL)
    assert table is not None
    layers = re.findall(r"  2\n(\S+)\n 70\n0\n 62\n(\d+)\n", table[1])

    assert [(name, int(colour)) for name, colour in layers] == [
        ("0", 7),
        ("draw", 3),
        ("score", 5),
        ("perforate", 6),
        ("cut", 1),
    ]


def test_r2004_carries_true_colours() -> None:
    """Group 420 is R·65536 + G·256 + B: (213, 94, 0) is 13983232, (0, 114, 178) is 29362."""
    layers = read(write_dxf(SEVERAL, DxfSettings("R2004"))).layers

    assert layers.get("cut").dxf.true_color == 13983232
    assert layers.get("score").dxf.true_color == 29362
    assert b"\n420\n" not in write_dxf(SEVERAL, DxfSettings("R2000"))


def test_header_holds_sheet_and_extents() -> None:
    """$LIMMAX is the sheet, $EXTMIN and $EXTMAX the work on it."""
    header = read(write_dxf(SEVERAL, DxfSettings())).header

    assert tuple(header["$LIMMAX"]) == (120.0, 80.0)
    assert tuple(header["$EXTMIN"])[:2] == pytest.approx((10.0, 10.0))
    assert tuple(header["$EXTMAX"])[:2] == pytest.approx((110.0, 70.0))


def test_vertices_and_bulges_are_written_to_the_last_bit() -> None:
    """What is read back equals the path."""
    (path,) = EXAMPLES[1].drawing.layers[0].paths
    (entity,) = polylines(read(write_dxf(EXAMPLES[1].drawing, DxfSettings())), "cut")

    assert [tuple(point) for point in entity.get_points("xyb")] == [
        (*vertex, bulge) for vertex, bulge in zip(path.vertices, path.bulges, strict=True)
    ]


@pytest.mark.parametrize("before", [True, False])
def test_process_option_is_put_back(before: bool) -> None:
    """The library's switch for fixed dates belongs to the whole process."""
    kept = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = before
    try:
        write_dxf(SEVERAL, DxfSettings())

        assert ezdxf.options.write_fixed_meta_data_for_testing is before
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = kept
