"""Weld lists in CSV: what is read, and what is refused with its line."""

import pytest
from weld_packets.errors import SourceError
from weld_packets.sources.reading.files import decode
from weld_packets.sources.reading.sheet import Column, Sheet, read_sheet
from weld_packets.units import kinds

COLUMNS = (Column("id"), Column("x", kinds.LENGTH), Column("y", kinds.LENGTH), Column("note", required=False))
GOOD = "id,x (mm),y (mm)\nP1,1.5,2\nP2,-3,4.25\n"


def read(text: str) -> Sheet:
    return read_sheet(text, "points.csv", COLUMNS)


def refusal(text: str) -> str:
    with pytest.raises(SourceError) as caught:
        read(text)
    return str(caught.value)


def test_operations_carry_their_unit_and_line() -> None:
    sheet = read(GOOD)
    assert sheet.rows == ({"id": "P1", "x": "1.5 mm", "y": "2 mm"}, {"id": "P2", "x": "-3 mm", "y": "4.25 mm"})
    assert sheet.lines == (2, 3)
    assert sheet.units == {"id": "", "x": "mm", "y": "mm"}


@pytest.mark.parametrize(
    "text",
    [
        "y (mm),id,x (mm)\n2,P1,1.5\n4.25,P2,-3\n",
        "ID;X (mm);Y [mm]\nP1;1.5;2\nP2;-3;4.25\n",
        "id\tx (mm)\ty (mm)\nP1\t1.5\t2\nP2\t-3\t4.25\n",
        '"id","x (mm)","y (mm)"\n"P1","1.5","2"\n\n"P2","-3","4.25"\n\n',
    ],
    ids=["columns in another order", "semicolons and capitals", "tabs", "quotes and blank lines"],
)
def test_the_same_operations_are_read_however_the_sheet_is_nominal_out(text: str) -> None:
    assert read(text).rows == read(GOOD).rows


def test_byte_order_mark_and_windows_line_ends_are_tolerated() -> None:
    text = decode(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode(), "points.csv")
    assert read(text).rows == read(GOOD).rows


def test_inches_stay_inches() -> None:
    assert read("id,x (in),y (mm)\nP1,0.5,2\n").rows[0]["x"] == "0.5 in"


def test_an_optional_column_may_be_left_empty() -> None:
    rows = read("id,x (mm),y (mm),note\nP1,1,2,\nP2,1,2,over the hinge\n").rows
    assert "note" not in rows[0]
    assert rows[1]["note"] == "over the hinge"


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("id,x (mm),y (mm),colour\nP1,1,2,red\n", "points.csv:1: header = 'colour'", "not a column of this list"),
        ("id,x (mm)\nP1,1\n", "points.csv:1:", "the column 'y' is missing"),
        ("id,x (mm),y (mm),x (in)\nP1,1,2,3\n", "points.csv:1: header = 'x (in)'", "there twice"),
        ("id,x,y (mm)\nP1,1,2\n", "points.csv:1: header = 'x'", "needs a unit in brackets"),
        ("id,x (kg),y (mm)\nP1,1,2\n", "points.csv:1: header = 'x (kg)'", "'kg' is not a unit of length"),
        ("id (mm),x (mm),y (mm)\nP1,1,2\n", "points.csv:1: header = 'id (mm)'", "has no unit"),
        ("id;x (mm),y (mm)\nP1,1,2\n", "points.csv:1:", "a comma and a semicolon"),
        ("id\nP1\n", "points.csv:1:", "the header has one column"),
        ("id,x (mm),y (mm)\nP1,1,5,2\n", "points.csv:2:", "this row has 4 cells and the header has 3"),
        ("id;x (mm);y (mm)\nP1;1,5;2\n", "points.csv:2: x = '1,5'", "a comma is not a decimal sign"),
        ('id;x (mm);y (mm)\nP1;1;2\n"P2;1;2\n', "points.csv:3:", "the quotes do not match"),
        ("id,x (mm),y (mm)\n\nP1,,2\n", "points.csv:3: x", "the cell is empty"),
        ("id,x (mm),y (mm)\nP1,nan,2\n", "points.csv:2: x = 'nan'", "not a plain decimal number"),
        ("id,x (mm),y (mm)\nP1,1,inf\n", "points.csv:2: y = 'inf'", "not a plain decimal number"),
        ("id,x (mm),y (mm)\nP1,1 mm,2\n", "points.csv:2: x = '1 mm'", "not a plain decimal number"),
        ("id,x (mm),y (mm)\nP1,1e999,2\n", "points.csv:2: x = '1e999'", "not a plain decimal number"),
        ("id,x (mm),y (mm)\n", "points.csv:1:", "no row below the header"),
        ("\n\n", "points.csv:1:", "no header line"),
    ],
)
def test_a_faulty_sheet_is_reported_with_line_and_column(text: str, place: str, words: str) -> None:
    message = refusal(text)
    assert place in message
    assert words in message


def test_a_decimal_comma_is_refused_with_the_corrected_number() -> None:
    assert "write '1.5'" in refusal("id;x (mm);y (mm)\nP1;1,5;2\n")


def test_all_faults_are_reported_at_once() -> None:
    message = refusal("id,x (mm),y (mm)\nP1,a,b\nP2,,2\nP3,1\n")
    assert [place in message for place in ("csv:2: x", "csv:2: y", "csv:3: x", "csv:4:")] == [True] * 4


def test_a_long_list_of_faults_is_cut_with_a_count() -> None:
    with pytest.raises(SourceError) as caught:
        read("id,x (mm),y (mm)\n" + "P,a,1\n" * 80)
    assert len(caught.value.problems) == 51
    assert "30 more problems" in str(caught.value)


def test_a_sheet_of_too_many_operations_is_refused() -> None:
    assert "more than 5,000 lines" in refusal("id,x (mm),y (mm)\n" + "P,1,1\n" * 5001)


def test_a_heading_without_unit_is_not_called_missing_too() -> None:
    message = refusal("id,x,y (mm)\nP,1,1\n")
    assert "needs a unit in brackets" in message
    assert "is missing" not in message
