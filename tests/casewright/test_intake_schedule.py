"""The room schedule: what is read, and where its faults are."""

from pathlib import Path

import pytest

from casewright.errors import Fault
from casewright.intake.read_schedule import COLUMNS, read_schedule
from casewright.job import Room
from parametric.geometry.hand import Hand
from parametric.rooms.measured import Measured
from parametric.stock.lengths import Units


def read(
    folder: Path, content: str | bytes, units: Units = Units.INCH
) -> tuple[tuple[Room, ...], list[Fault]]:
    path = folder / "rooms.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    faults: list[Fault] = []

    def never(found: str, allowed: str) -> Fault:
        raise AssertionError(f"the file is there: {found}, {allowed}")

    return read_schedule(path, units, ("twin", "queen"), faults, never), faults


HEAD = "room,set,hand,opening_at_floor,corner_out_of_square,floor_high,floor_low\n"


def test_a_row_becomes_a_room_with_blanks_left_open(tmp_path: Path) -> None:
    rows = "101,twin,right,95 7/8,-2.5,1/8,-3/16\n7b, queen,left,,,,\n"
    rooms, faults = read(tmp_path, HEAD + rows)
    assert not faults
    assert rooms == (
        Room(
            number="101",
            set_name="twin",
            hand=Hand.RIGHT,
            measured=Measured(
                opening_at_floor_mm=95.875 * 25.4,
                corner_out_of_square_per_1000=-2.5,
                floor_high_mm=3.175,
                floor_low_mm=-4.7625,
            ),
        ),
        Room(number="7b", set_name="queen", hand=Hand.LEFT, measured=Measured()),
    )


def test_every_measured_value_has_a_column(tmp_path: Path) -> None:
    row = {
        "opening_at_floor": "2401",
        "opening_at_seat": "2402",
        "opening_at_panel": "2403",
        "side_opening": "2404",
        "floor_width": "2405",
        "floor_depth": "3406",
        "floor_high": "4",
        "floor_low": "-5",
        "wall_base_height": "81",
        "wall_base_thickness": "15",
        "first_stud": "407",
        "stud_spacing": "408",
        "wall_lining": "13",
    }
    lengths = {f"{column}_mm": float(text) for column, text in row.items()}
    row |= {"corner_out_of_square": "6", "blocking": "250 to 350; 900 to 1000"}
    row |= {"side_blocking": "none"}
    assert {"room", "set", "hand", "floor", *row} == set(COLUMNS)
    text = f"room,set,hand,{','.join(row)}\n1,twin,left,{','.join(row.values())}\n"
    (room,), faults = read(tmp_path, text, Units.MM)
    assert not faults
    assert None not in {getattr(room.measured, name) for name in Measured.__slots__}
    assert {name: getattr(room.measured, name) for name in lengths} == lengths
    assert room.measured.corner_out_of_square_per_1000 == 6.0
    assert room.measured.blocking_mm == ((250, 350), (900, 1000))
    assert room.measured.side_blocking_mm == ()


# The least and the most that is measured in any room, millimetres: common practice, no source. A
# wall without a base has one that is 0 high; a floor may lie below the job's level.
LIMITS_MM = {
    "opening_at_floor": (300, 20_000),
    "opening_at_seat": (300, 20_000),
    "opening_at_panel": (300, 20_000),
    "side_opening": (300, 20_000),
    "floor_high": (-200, 200),
    "floor_low": (-200, 200),
    "wall_base_height": (0, 400),
    "wall_base_thickness": (0, 80),
    "first_stud": (0, 2000),
    "stud_spacing": (150, 1300),
    "wall_lining": (0, 150),
}


@pytest.mark.parametrize("column", LIMITS_MM)
def test_each_length_may_be_as_small_and_as_great_as_it_is_in_rooms(
    tmp_path: Path, column: str
) -> None:
    least, most = LIMITS_MM[column]
    for value in (least, most):
        text = f"room,set,hand,{column}\n1,twin,left,{value}\n"
        (room,), faults = read(tmp_path, text, Units.MM)
        assert not faults
        assert getattr(room.measured, f"{column}_mm") == value
    for value in (least - 0.1, most + 0.1):
        text = f"room,set,hand,{column}\n1,twin,left,{value}\n"
        _, (fault,) = read(tmp_path, text, Units.MM)
        assert (fault.line, fault.key_path, fault.found) == (2, column, repr(str(value)))
        assert f"from {least} mm to {most} mm" in fault.allowed or value == -0.1


def test_blocking_lies_between_the_floor_and_four_metres(tmp_path: Path) -> None:
    """Limit, common practice, no source."""
    head = "room,set,hand,blocking\n1,twin,left,"
    (room,), faults = read(tmp_path, f"{head}0 to 4000\n", Units.MM)
    assert (room.measured.blocking_mm, faults) == (((0.0, 4000.0),), [])
    _, (fault,) = read(tmp_path, f"{head}100 to 4000.1\n", Units.MM)
    assert "from 0 mm to 4000 mm" in fault.allowed


@pytest.mark.parametrize(("cell", "read_as"), [("-50", -50.0), ("50", 50.0), ("0", 0.0)])
def test_a_corner_may_be_out_of_square_by_three_degrees(
    tmp_path: Path, cell: str, read_as: float
) -> None:
    """50 in 1000 are the tangent of 2.86 degrees."""
    head = "room,set,hand,corner_out_of_square\n1,twin,left,"
    (room,), faults = read(tmp_path, f"{head}{cell}\n")
    assert (room.measured.corner_out_of_square_per_1000, faults) == (read_as, [])
    for beyond in ("-50.1", "50.1"):
        _, (fault,) = read(tmp_path, f"{head}{beyond}\n")
        assert (fault.key_path, fault.found) == ("corner_out_of_square", repr(beyond))


@pytest.mark.parametrize("cell", ["250", "350 to 250", "250-350", "high to low", "1 to 2 to 3"])
def test_blocking_goes_from_low_to_high(tmp_path: Path, cell: str) -> None:
    _, (fault,) = read(tmp_path, f"room,set,hand,blocking\n1,twin,left,{cell}\n", Units.MM)
    assert (fault.line, fault.key_path) == (2, "blocking")


def test_the_ratio_of_a_corner_needs_no_units(tmp_path: Path) -> None:
    text = HEAD + "1,twin,left,,2.6,,\n"
    ratios = {
        units: read(tmp_path, text, units)[0][0].measured.corner_out_of_square_per_1000
        for units in Units
    }
    assert set(ratios.values()) == {2.6}


@pytest.mark.parametrize("mark", ["\ufeff", ""])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_files_of_spreadsheets_are_read(tmp_path: Path, mark: str, end: str) -> None:
    text = f'{mark}hand,set,room{end}"left","twin","A ""1"""{end},,{end}'
    (room,), faults = read(tmp_path, text)
    assert not faults
    assert (room.number, room.hand) == ('A "1"', Hand.LEFT)


@pytest.mark.parametrize(
    ("content", "line", "column", "found", "allowed"),
    [
        ("", 1, "", "no header", "room, set, hand"),
        ("room,set,hand\n", 1, "", "no rooms", "a row for each room"),
        ("room,hand\n1,left\n", 1, "set", "no such column", "room, set, hand"),
        ("\nroom\tset\thand\n1\ttwin\tleft\n", 2, "", "cells separated by tabs", "by commas"),
        ("room,set,hand,floor_hi\n", 1, "", "the column 'floor_hi'", "nearest: floor_high"),
        ("room,set,hand,set\n", 1, "set", "the column a second time", "each column once"),
        (HEAD + "\n1,twin,left,,,,\n1,twin,left,,,,\n", 4, "room",
         "'1' a second time (first in line 3)", "each room once"),
        (HEAD + "1,twn,left,,,,\n", 2, "set", "'twn'", "nearest: twin"),
        (HEAD + "1,twin,Right,,,,\n", 2, "hand", "'Right'", "nearest: right"),
        (HEAD + "1,twin,,,,,\n", 2, "hand", "''", "one of left, right"),
        (HEAD + ",twin,left,,,,\n", 2, "room", "''", "a number or name"),
        (HEAD + "1,twin,left\n", 2, "", "3 cells", "7, as in the header"),
        (HEAD + "1,twin,left,wide,,,\n", 2, "opening_at_floor", "'wide'", "a length such as"),
        (HEAD + "1,twin,left,-96,,,\n", 2, "opening_at_floor", "'-96'", "not negative"),
        (HEAD + "1,twin,left,9600,,,\n", 2, "opening_at_floor", "'9600'",
         "from 300 mm to 20000 mm"),
        (HEAD + "1,twin,left,,nan,,\n", 2, "corner_out_of_square", "'nan'", "from -50 to 50"),
        (HEAD + "1,twin,left,,1/8,,\n", 2, "corner_out_of_square", "'1/8'", "in thousandths"),
        (HEAD + "1,twin,left,,,1/8,1/4\n", 2, "floor_low", "'1/4' above floor_high (1/8)",
         "at most floor_high"),
        (HEAD + '"1\n2",twin,left,,,,\n3,twin,lft,,,,\n', 2, "room", "'1\\n2'", "a number or"),
        (HEAD + '1,"twin,left\n', 2, "", "unexpected end of data", "quotes in pairs"),
        (b"room,set,hand\n1,twin,l\xe9ft\n", 2, "", "the byte 0xe9, which is not UTF-8", "UTF-8"),
    ],
)  # fmt: skip
def test_a_fault_of_the_schedule_is_located(
    tmp_path: Path, content: str | bytes, line: int, column: str, found: str, allowed: str
) -> None:
    _, faults = read(tmp_path, content)
    fault = next(fault for fault in faults if fault.key_path == column)
    assert (Path(fault.file).name, fault.line, fault.found) == ("rooms.csv", line, found)
    assert allowed in fault.allowed


@pytest.mark.parametrize(
    ("content", "line"),
    [
        ("room\tset\thand\n1\ttwin\tleft\n", 1),
        (HEAD + '1,"twin,left\n2,twin,lft,,,,\n', 2),
        (HEAD + '1,twn,left,,,,\n2,"twin,left\n', 3),
        ('"room,set,hand\n1,twin,left\n', 1),
    ],
)
def test_what_hides_the_rows_is_the_only_fault(tmp_path: Path, content: str, line: int) -> None:
    rooms, faults = read(tmp_path, content)
    assert [fault.line for fault in faults] == [line]
    assert not rooms


def test_an_unknown_set_is_told_once_with_its_rows(tmp_path: Path) -> None:
    rows = "1,twn,left,,,,\n2,twin,left,,,,\n3,twn,right,,,,\n4,qeen,left,,,,\n5,twn,left,,,,\n"
    rooms, faults = read(tmp_path, HEAD + rows)
    assert [(fault.line, fault.key_path, fault.found) for fault in faults] == [
        (2, "set", "'twn', in 3 rows"),
        (5, "set", "'qeen'"),
    ]
    assert [room.number for room in rooms] == ["2"]


def test_semicolons_and_decimal_commas_are_read(tmp_path: Path) -> None:
    """As spreadsheets write them where the comma is the decimal mark; a room keeps its name."""
    content = "room;set;hand;floor_high\n1,5;twin;left;2,5\n"
    (room,), faults = read(tmp_path, content, Units.MM)
    assert not faults
    assert (room.number, room.measured.floor_high_mm) == ("1,5", 2.5)


def test_lines_are_counted_across_quoted_cells(tmp_path: Path) -> None:
    _, faults = read(tmp_path, HEAD + '"1\n2",twin,left,,,,\n3,twin,lft,,,,\n')
    assert [(fault.line, fault.key_path) for fault in faults] == [(2, "room"), (4, "hand")]


def test_all_faults_of_a_row_are_told_and_the_other_rows_still_read(tmp_path: Path) -> None:
    rooms, faults = read(tmp_path, HEAD + "1,tw,lft,x,y,z,\n2,twin,left,,,,\n")
    assert [fault.key_path for fault in faults] == [
        "set", "hand", "opening_at_floor", "floor_high", "corner_out_of_square",
    ]  # fmt: skip
    assert [room.number for room in rooms] == ["2"]


def test_480_rooms_are_read_in_order(tmp_path: Path) -> None:
    lines = [f"{number},twin,left,,,," for number in range(480, 0, -1)]
    rooms, faults = read(tmp_path, HEAD + "\n".join(lines))
    assert not faults
    assert [room.number for room in rooms] == [str(number) for number in range(480, 0, -1)]


def test_a_room_may_say_its_floor(tmp_path: Path) -> None:
    rooms, faults = read(tmp_path, "room,set,hand,floor\n1,twin,left,2nd\n2,twin,left,\n")
    assert not faults and [room.floor for room in rooms] == ["2nd", ""]
    _, faults = read(tmp_path, f"room,set,hand,floor\n1,twin,left,{'x' * 21}\n")
    assert [fault.allowed for fault in faults] == [
        "a name, at most 20 characters, since labels and lists show it large"
    ]
