"""What `recut` is asked: numbers, codes of labels, lists of offcuts, options, kept reasons."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from casewright.commands.recut_command.asked_parts import Scanned, asked_parts
from casewright.commands.recut_command.files import recut_files
from casewright.commands.recut_command.run import Read, read_asked
from casewright.errors import InputErrors, OptionErrors, OutputFolderError
from casewright.output.folder import write_folder
from casewright.stages.nested.offcut_stage import FullSheets
from tests.casewright.test_recut import asked, cut, demo, listed


def code_of(build: Path, number: str) -> str:
    rows = csv.DictReader((build / "shop" / "labels.csv").open(encoding="utf-8"))
    return next(row["code"] for row in rows if (row["kind"], row["number"]) == ("part", number))


def test_a_scanned_code(keeper: Path, tmp_path: Path) -> None:
    job, sets = demo()
    code = code_of(keeper, "P003")
    made = cut(asked(tmp_path / "j.yaml", "p003x2", codes=(code,), build=keeper), job, sets)
    assert [(part.number, part.quantity) for part in made.parts] == [("P003", 3)]


def test_a_code_of_another_revision_job_or_label(keeper: Path, tmp_path: Path) -> None:
    job, _ = demo()
    code = code_of(keeper, "P003")
    revision = code.partition("; revision ")[2].partition(";")[0]
    other = code.replace(revision, "00000000")
    rows = csv.DictReader((keeper / "shop" / "labels.csv").open(encoding="utf-8"))
    sheet = next(row["code"] for row in rows if row["kind"] == "sheet")
    for text, words in (
        (other, ("P003 of revision 00000000", f"which has {revision}")),
        (code.replace("; job ", "; job not "), ("of the job not Skarvholm", "labels of Skarvholm")),
        (code.replace("; cut ", "; cut 9"), ("one of the codes in",)),
        (sheet, ("a part's label",)),
        ("P003", ("a part's label",)),
    ):
        with pytest.raises(OptionErrors) as told:
            read_asked(asked(tmp_path / "j.yaml", codes=(text,), build=keeper), job)
        assert all(word in str(told.value) for word in words), text
        assert str(told.value).startswith("--code: ")
    with pytest.raises(OptionErrors, match="--build: "):
        read_asked(asked(tmp_path / "j.yaml", codes=(code,), build=tmp_path), job)


def test_a_part_that_has_changed_since_its_label(keeper: Path, tmp_path: Path) -> None:
    """The same number is another part now, by its cuts, its material or its bands: the code is
    refused, and the number alone is not.
    """
    job, sets = demo()
    listed_parts = {each.number: each for each in sets.cut_list.parts}
    part = next(each for each in listed_parts.values() if each.banding)
    another = next(each for each in listed_parts.values() if each.panel != part.panel)
    other = next(each.material for each in listed_parts.values() if each.material != part.material)
    for now in (
        replace(part, panel=another.panel),
        replace(part, material=replace(other, stock=part.material.stock)),
        replace(part, banding=()),
    ):
        parts = tuple(now if each is part else each for each in sets.cut_list.parts)
        changed = replace(sets, cut_list=replace(sets.cut_list, parts=parts))
        scanned = asked(tmp_path / "j.yaml", codes=(code_of(keeper, part.number),), build=keeper)
        with pytest.raises(OptionErrors, match=rf"{part.number} of revision .* changed since"):
            cut(scanned, job, changed)
        cut(asked(tmp_path / "j.yaml", part.number), job, changed)


def test_a_label_of_what_was_cut_again(keeper: Path, tmp_path: Path) -> None:
    """It is scanned with the folder that it was printed from."""
    job, sets = demo()
    first = cut(asked(tmp_path / "j.yaml", "P003"), job, sets)
    again = tmp_path / "again"
    write_folder(again, recut_files(first))
    code = code_of(again, "P003")
    made = cut(asked(tmp_path / "j.yaml", codes=(code,), build=again), job, sets)
    assert [part.number for part in made.parts] == ["P003"]
    with pytest.raises(OptionErrors, match="of revision"):
        cut(asked(tmp_path / "j.yaml", codes=(code,), build=keeper), job, sets)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (("P999",), "PART: found 'P999'; allowed: one of P001,"),
        (("P0O1",), "(nearest: P01"),
        (("P001x0",), "found 'P001x0'"),
        (("P001x1000",), "up to 999"),
        ((), "PART: found nothing; allowed: a part number such as P001"),
    ],
)
def test_parts_that_are_none(typed: tuple[str, ...], words: str) -> None:
    _, sets = demo()
    with pytest.raises(OptionErrors) as told:
        asked_parts(typed, (), sets.cut_list)
    assert words in str(told.value)


def test_a_bar_is_told_to_be_one() -> None:
    _, sets = demo()
    with pytest.raises(OptionErrors, match="sawn from a bar"):
        asked_parts((sets.cut_list.bars[0].number,), (), sets.cut_list)


@pytest.mark.parametrize(
    ("header", "row", "place"),
    [
        ("", "raw-particleboard,900,400,x,A", ":2: quantity:"),
        ("", "raw-particleboard,900,-4,1,A", ":2: width:"),
        ("", "raw-particleboard,900,400,1,A\nraw-particleboard,90,40,1,A", ":3: label:"),
        ("", "raw-particleboard,900,400,1,2800x2070", ":2: label:"),
        ("material,length,width,quantity,thickness", "raw-particleboard,900,400,1,19.5", ":2: thi"),
        ("material,length,width,quantity,colour", "raw-particleboard,900,400,1,red", ":1: "),
        ("material,length,width", "raw-particleboard,900,400", ":1: quantity: "),
    ],
)
def test_faults_of_a_list(header: str, row: str, place: str, tmp_path: Path) -> None:
    job, sets = demo()
    path = listed(tmp_path, row, *((header,) if header else ()))
    with pytest.raises(InputErrors) as told:
        cut(asked(tmp_path / "j.yaml", "P001", offcuts=(path,)), job, sets)
    assert f"{path.as_posix()}{place}" in str(told.value)
    assert len(told.value.faults) == 1


@pytest.mark.parametrize(
    ("further", "option"),
    [
        ({"offcut_trim": "wide"}, "--offcut-trim"),
        ({"reason": "two\nlines"}, "--reason"),
        ({"reason": "x" * 201}, "--reason"),
        ({"reason": "dent", "date": "yesterday"}, "--date"),
        ({"date": "2031-05-09"}, "--date"),
        ({"full_sheets": FullSheets.LEFT}, "--offcuts-only"),
    ],
)
def test_options_that_cannot_be(further: dict[str, object], option: str, tmp_path: Path) -> None:
    job, _ = demo()
    with pytest.raises(OptionErrors) as told:
        read_asked(asked(tmp_path / "j.yaml", "P001", **further), job)
    assert [fault.option for fault in told.value.faults] == [option]


def test_a_link_out_of_the_folder_and_a_table_of_another_kind(tmp_path: Path) -> None:
    """A reason is kept beside the job file or not at all; nothing is made then."""
    job, _ = demo()
    inside, outside = tmp_path / "job", tmp_path / "elsewhere.csv"
    inside.mkdir()
    outside.write_text("mine\n")
    kept = inside / "j-recuts.csv"
    kept.symlink_to(outside)
    with pytest.raises(OutputFolderError, match="out of the job's folder"):
        read_asked(asked(inside / "j.yaml", "P001", reason="dent"), job)
    kept.unlink()
    kept.write_text("a,b\n1,2\n")
    with pytest.raises(InputErrors, match=r"j-recuts\.csv:1: "):
        read_asked(asked(inside / "j.yaml", "P001", reason="dent"), job)
    assert outside.read_text() == "mine\n"
    assert isinstance(read_asked(asked(inside / "j.yaml", "P001"), job), Read)
    assert read_asked(asked(inside / "j.yaml"), job).scanned == Scanned(build=Path("nowhere"))
