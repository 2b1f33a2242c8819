"""Labels held against what is cut, what rooms need, and the files of the machine."""

import csv
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import PurePosixPath

import ezdxf
import pytest

from casewright.intake.read_job import read_job
from casewright.stages.labels.label_record import LONGEST_JOB, record_text
from export.edge_names import EDGE_NUMBERS
from export.labels.content import Label, LabelKind, PartPicture
from export.papers.square_code import code_svg
from export.tables.csv_cell import read_cell
from export.tables.label_table import COLUMNS, labels_csv
from parametric.shapes.panel import Edge, Face
from tests.casewright.build_fixtures import CONFIGS, outcome_of
from tests.casewright.label_example import labelled
from tests.square_codes import code_of

DEMOS = ("survey-ship", "keepers-room", "field-station")


def of_kind(demo: str, kind: LabelKind) -> list[Label]:
    return [label for label in labelled(demo).book.labels if label.kind is kind]


def numbers_in(content: bytes) -> list[str]:
    """The texts of a DXF in the order of the file, as another reader finds them."""
    document = ezdxf.read(io.StringIO(content.decode()))
    return [text.dxf.text for text in document.modelspace().query("TEXT")]


@pytest.mark.parametrize("demo", DEMOS)
def test_there_is_a_label_for_each_physical_part_in_the_order_of_the_cut_files(demo: str) -> None:
    """Sheets of a layout times parts in its DXF; a sheet's own label comes first, then its parts as
    the file has them, then its offcuts.
    """
    each = labelled(demo)
    expected: list[tuple[str, str, str]] = []
    for file in each.shop.sheets:
        for run in map(str, range(1, file.entry.runs + 1)):
            expected.append((file.name, run, f"Sheet {int(file.name.rpartition('/')[2])}"))
            expected += [(file.name, run, number) for number in numbers_in(file.content)]
            kept = range(1, len(file.entry.offcuts) + 1)
            expected += [(file.name, run, f"Offcut {at}") for at in kept]
    found = [
        (label.layout, label.run, label.number) for _, of in each.book.materials for label in of
    ]
    assert found == expected
    assert len(of_kind(demo, LabelKind.PART)) == sum(
        part.quantity for part in each.sets.cut_list.parts
    )


@pytest.mark.parametrize("demo", DEMOS)
def test_every_room_gets_exactly_the_parts_of_its_set(demo: str) -> None:
    each = labelled(demo)
    need: Counter[tuple[str, str]] = Counter()
    for room in each.job.rooms:
        need.update(
            (room.number, use.number)
            for use in each.sets.cut_list.uses
            if (use.set_name, use.hand) == (room.set_name, room.hand)
        )
    got = Counter((label.room, label.number) for label in of_kind(demo, LabelKind.PART))
    assert got == need
    for part in each.sets.cut_list.parts:
        order = [room.number for room in each.job.rooms]
        served = [
            order.index(label.room)
            for label in of_kind(demo, LabelKind.PART)
            if label.number == part.number
        ]
        assert served == sorted(served)


def test_all_rooms_of_a_set_get_the_same_in_the_large_demo() -> None:
    """48 rooms of three sets in both hands, from the table that the build left."""
    files = outcome_of("avalanche-centre").files
    labels = rows_of(files[PurePosixPath("shop/labels.csv")])
    parts = rows_of(files[PurePosixPath("shop/cutlist.csv")])
    got: dict[str, Counter[str]] = {}
    for label in labels:
        if label["kind"] == "part":
            got.setdefault(label["room"], Counter())[label["number"]] += 1
    whole: Counter[str] = Counter()
    for each in got.values():
        whole.update(each)
    assert whole == {part["part"]: int(part["quantity"]) for part in parts}
    rooms = read_job(CONFIGS / "avalanche-centre.yaml").rooms
    assert set(got) == {room.number for room in rooms} and len(rooms) == 48
    of_set: dict[tuple[str, str], set[frozenset[tuple[str, int]]]] = {}
    for room in rooms:
        parts_of_room = frozenset(got[room.number].items())
        of_set.setdefault((room.set_name, room.hand), set()).add(parts_of_room)
    assert len(of_set) == 6 and all(len(alike) == 1 for alike in of_set.values())


def rows_of(table: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.decode())))


@pytest.mark.parametrize("demo", DEMOS)
def test_bundles_hold_all_bars_and_each_room_has_a_box(demo: str) -> None:
    each = labelled(demo)
    bundled: Counter[str] = Counter()
    for label in of_kind(demo, LabelKind.BUNDLE):
        bundled[label.number] += label.quantity
        assert bool(label.room) != bool(label.piece)
    assert bundled == {bar.number: bar.quantity for bar in each.sets.cut_list.bars}
    boxes = [label.room for label in of_kind(demo, LabelKind.BOX)]
    assert boxes == [room.number for room in each.job.rooms]


def test_the_pieces_on_labels_are_those_of_the_shop() -> None:
    """A piece's parts from sheets, times the pieces, as `shop/pieces.csv` of the build says."""
    files = outcome_of("survey-ship").files
    text = files[PurePosixPath("shop/pieces.csv")].decode()
    need: Counter[tuple[str, str]] = Counter()
    for row in csv.DictReader(io.StringIO(text)):
        if row["part"].startswith("P"):
            need[row["piece"], row["part"]] += int(row["quantity"]) * int(row["parts_in_piece"])
    labels = of_kind("survey-ship", LabelKind.PART)
    assert Counter((label.piece, label.number) for label in labels if label.piece) == need


def test_without_cut_files_there_are_labels_of_boxes_only() -> None:
    each = labelled("keepers-room")
    assert {label.kind for label in each.without_cut_files.labels} == {LabelKind.BOX}
    assert each.without_cut_files.boxes == each.book.boxes


@pytest.mark.parametrize("demo", DEMOS)
def test_all_codes_differ_and_say_job_revision_part_layout_and_run(demo: str) -> None:
    each = labelled(demo)
    codes = [label.record for label in each.book.labels]
    assert len(set(codes)) == len(codes)
    for label in of_kind(demo, LabelKind.PART):
        assert label.record == (
            f"part {label.number}; layout {label.layout}; run {label.run}; cut {label.order};"
            f" revision {each.shop.revision}; job {each.job.name}"
        )


@pytest.mark.parametrize("demo", DEMOS)
def test_every_code_is_read_by_another_reader(demo: str) -> None:
    for label in labelled(demo).book.labels:
        assert code_of(code_svg(label.record)) == label.record


def test_a_long_name_of_a_job_is_cut_short_in_codes() -> None:
    assert record_text(("sheet",), "0a", "n" * LONGEST_JOB).endswith("n" * LONGEST_JOB)
    assert record_text(("sheet",), "0a", "n" * 200).endswith(f"{'n' * (LONGEST_JOB - 1)}…")


def test_the_table_says_the_same_as_the_labels() -> None:
    book = labelled("survey-ship").book
    rows = list(csv.DictReader(io.StringIO(labels_csv(book.labels))))
    assert len(rows) == len(book.labels)
    for row, label in zip(rows, book.labels, strict=True):
        assert {key: read_cell(value) for key, value in row.items()} == {
            column: str(getattr(label, "record" if column == "code" else column))
            for column in COLUMNS
        }
    built = outcome_of("survey-ship").files[PurePosixPath("shop/labels.csv")].decode()
    assert list(csv.DictReader(io.StringIO(built))) == rows


def part_labels(demo: str) -> Iterator[tuple[Label, PartPicture]]:
    for label in of_kind(demo, LabelKind.PART):
        assert isinstance(label.picture, PartPicture)
        yield label, label.picture


@pytest.mark.parametrize("demo", DEMOS)
def test_bands_second_operation_and_grain_are_those_of_the_cut_list(demo: str) -> None:
    each = labelled(demo)
    files = outcome_of(demo).files
    parts = {part.number: part for part in each.sets.cut_list.parts}
    for label, picture in part_labels(demo):
        part = parts[label.number]
        assert set(picture.banded) == {banding.edge for banding in part.banding}
        for edge in Edge:
            assert (str(EDGE_NUMBERS[edge]) in label.bands.partition(":")[0]) == (
                edge in picture.banded
            )
        second = PurePosixPath(f"shop/parts/{label.number}-second.dxf")
        assert bool(label.second_operation) == (second in files)
        assert picture.grain == (part.material.grain == "lengthwise")


def test_the_top_is_where_the_part_stands_up() -> None:
    """By hand, of the keeper's room: decks lie good face up and are cut good face down, so that
    their top is the face below; the angle is flush with the tops of the boxes, so that the notch of
    a side panel breaks through the edge that ends up on top.
    """
    pictures = {(label.unit, label.name): each for label, each in part_labels("keepers-room")}
    assert pictures["bench", "deck"].top is Face.DOWN
    assert pictures["bed", "deck"].top is Face.DOWN
    for unit, name in (("bench", "side panel"), ("bed", "near side panel")):
        picture = pictures[unit, name]
        ((*_, outline),) = [picture.outlines]
        ys = [vertex.y for vertex in outline]
        low = sum(abs(y - min(ys)) < 1e-6 for y in ys)
        high = sum(abs(y - max(ys)) < 1e-6 for y in ys)
        notched = Edge.Y_LOW if low > high else Edge.Y_HIGH
        assert low != high and picture.top is notched


@pytest.mark.parametrize("demo", ["survey-ship", "keepers-room"])
def test_a_label_calls_a_part_as_the_sheet_of_its_piece_does(demo: str) -> None:
    """Whatever hand the room is of, though the sheet shows one. Here no part is two things;
    one that is has all its names in the cut list.
    """
    files = outcome_of(demo).files
    listed = csv.DictReader(io.StringIO(files[PurePosixPath("shop/pieces.csv")].decode()))
    called = {
        (row["piece"], row["part"]): row["part_description"].split(" with ")[0] for row in listed
    }
    joined = [label for label, _ in part_labels(demo) if label.piece]
    assert joined
    for label in joined:
        assert called[label.piece, label.number].endswith(f" {label.name}")
