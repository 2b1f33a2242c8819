"""Bars cut from a list, without a job."""

import csv
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from casewright.commands.bar_command.run import BarFiles, SawTexts, cut_bars
from casewright.errors import DoesNotFit, InputErrors, OptionErrors
from casewright.output.folder import Request
from casewright.written import Written
from parametric.stock.lengths import Units

PIECES = (
    "piece,length,quantity,room,material,colour\n"
    "cleat,23 7/8,12,101,pine,raw\ncleat,23 7/8,12,102,pine,raw\nshort,11 5/8,20,102,pine,raw\n"
    "angle,31 1/2,6,101,steel,black\n"
)
BARS = (
    "bar,length,quantity,price,material,kerf\n"
    "pine 8 ft,96,,6.40,pine,\npine 4 ft,48,9,2.90,Pine,\nsteel 20 ft,240,,61,steel,3/32\n"
)


def cut(tmp_path: Path, pieces: str, bars: str, **texts: str) -> Path:
    (tmp_path / "pieces.csv").write_text(pieces, encoding="utf-8")
    (tmp_path / "bars.csv").write_text(bars, encoding="utf-8")
    files = BarFiles(
        pieces=tmp_path / "pieces.csv",
        bars=(tmp_path / "bars.csv",),
        columns={},
        spare_percent=Fraction(0),
        units=Units.INCH,
    )
    saw = SawTexts(**{"kerf": "1/8", "end_trim": "0", "reusable": "12", **texts})
    cut_bars(files, saw, Request(folder=tmp_path / "out"), Written())
    return tmp_path / "out"


def table(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def test_every_room_gets_its_pieces_from_bars_of_its_material(tmp_path: Path) -> None:
    out = cut(tmp_path, PIECES, BARS)
    got: Counter[tuple[str, str, str]] = Counter()
    for row in table(out / "cuts.csv"):
        runs = int(row["last_run"]) - int(row["first_run"]) + 1
        got[row["material"], row["group"], row["piece"]] += runs
        assert row["bar"].startswith(row["material"])
        assert row["colour"] == ("raw" if row["material"] == "pine" else "black")
    assert got == {
        ("pine", "101", "cleat"): 12,
        ("pine", "102", "cleat"): 12,
        ("pine", "102", "short"): 20,
        ("steel", "101", "angle"): 6,
    }


def test_no_bar_is_cut_longer_than_it_is_and_blades_differ(tmp_path: Path) -> None:
    """By hand: six of 31 1/2 in and six cuts of 3/32 leave 50 7/16 of 240 in."""
    rows = table(cut(tmp_path, PIECES, BARS) / "bar-plan.csv")
    for row in rows:
        lengths = [Fraction(length) for length in row["cut_lengths_mm"].split("; ")]
        kerf = Fraction("2.38125") if row["material"] == "steel" else Fraction("3.175")
        left = Fraction(row["stock_length_mm"]) - sum(lengths) - len(lengths) * kerf
        assert Fraction(row["remnant_mm"]) == pytest.approx(float(max(left, 0)), abs=0.001)
    (steel,) = (row for row in rows if row["material"] == "steel")
    assert (steel["remnant"], steel["keep_remnant"]) == ('50 7/16"', "yes")


def test_four_fill_a_bar_to_the_blade(tmp_path: Path) -> None:
    """By hand: four of 23 7/8 in and three cuts of 1/8 leave 1/8 of 96 for the last cut."""
    pieces = "piece,length,quantity\ncleat,23 7/8,24\n"
    (row,) = table(cut(tmp_path, pieces, "bar,length,quantity,price\nb,96,,\n") / "bar-plan.csv")
    assert (row["cuts"], row["runs"], row["remnant"]) == ('4 x cleat (23 7/8")', "6", '0"')


def test_the_plan_says_whether_the_trim_is_in_the_remnant(tmp_path: Path) -> None:
    bars = "bar,length,quantity,price\nb,96,,\n"
    pieces = "piece,length,quantity\na,40,2\n"
    (row,) = table(cut(tmp_path, pieces, bars, end_trim="1/2") / "bar-plan.csv")
    # 96 - 1/2 at the start - 80 - two cuts of 1/8: the far end is untrimmed.
    assert (row["remnant"], row["remnant_is"]) == (
        '15 1/4"',
        "with the untrimmed end of 12.7 mm",
    )


@pytest.mark.parametrize(
    ("pieces", "bars", "file", "line", "key"),
    [
        (PIECES.replace("31 1/2", "x"), BARS, "pieces", 5, "length"),
        (PIECES.replace("steel", "iron"), BARS, "pieces", 5, "material"),
        (PIECES, BARS.replace("steel,3/32", ",3/32"), "bars", 4, "material"),
        (PIECES, BARS.replace("6.40", ""), "bars", 2, "price"),
        (PIECES, BARS.replace("6.40,pine,", "6.40,pine,1/4"), "bars", 2, "kerf"),
        (PIECES.replace("cleat,23 7/8,12,102", "cleat,23,12,101"), BARS, "pieces", 3, "piece"),
    ],
)
def test_faults_are_told_where_they_stand(tmp_path, pieces, bars, file, line, key) -> None:
    with pytest.raises(InputErrors) as told:
        cut(tmp_path, pieces, bars)
    found = [(Path(f.file).stem, f.line, f.key_path) for f in told.value.faults]
    assert (file, line, key) in found
    assert not (tmp_path / "out").exists()


def test_bars_that_do_not_suffice_are_told(tmp_path: Path) -> None:
    with pytest.raises(DoesNotFit, match="fits no bar"):
        cut(tmp_path, PIECES.replace("31 1/2", "250"), BARS)
    with pytest.raises(DoesNotFit, match="Not enough bars"):
        cut(tmp_path, PIECES, BARS.replace("240,,61", "240,0,61"))


@pytest.mark.parametrize("option", ["kerf", "end_trim", "reusable"])
def test_an_option_that_is_no_length_is_told(tmp_path: Path, option: str) -> None:
    with pytest.raises(OptionErrors, match="--"):
        cut(tmp_path, PIECES, BARS, **{option: "thin"})
