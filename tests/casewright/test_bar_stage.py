"""From the linear cut list to cut plans, their table, picture and page."""

import csv
import io
from collections import Counter
from dataclasses import replace

import pytest

from casewright.errors import DoesNotFit
from casewright.job import Saw
from casewright.progress import Progress
from casewright.stages.nest.bar_stage import bar_entries, nest_bars
from casewright.stages.sets.stock_check import bar_checks
from export.svg.bar_picture import bar_picture_svg
from export.tables.bar_plan_table import bar_plan_csv, cuts_in_words
from nesting.linear.bar_nest import BarNest, numbered_patterns
from parametric.lists.cut_list import BarPart, CutList, PartHand
from parametric.stock.lengths import Units
from parametric.stock.origin import Origin

SAW = Saw(kerf_mm=3.0, end_trim_mm=5.0, reusable_mm=300.0)


def part(number: str, length_mm: float, quantity: int, material: str = "cleat") -> BarPart:
    return BarPart(
        number=number,
        description="cleat",
        units=("bench",),
        hand=PartHand.EITHER,
        material=material,
        material_name=material,
        profile="20 x 40 mm",
        length_mm=length_mm,
        stock_length_mm=4000.0,
        holes=(),
        quantity=quantity,
        mass_kg=1.0,
    )


def nests(*parts: BarPart) -> tuple[BarNest, ...]:
    return nest_bars(CutList(parts=(), bars=parts, uses=()), SAW, Progress())


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_each_material_has_a_plan_that_makes_its_parts() -> None:
    parts = (part("L001", 1200, 7), part("L002", 350.5, 9), part("L003", 900, 2, "angle"))
    cleats, angles = nests(*parts)
    assert (cleats.material, angles.material) == ("cleat", "angle")
    made: Counter[str] = Counter()
    for row in rows(bar_plan_csv((cleats, angles), Units.MM)):
        for cut in row["cuts_in_order"].split("; "):
            made[cut] += int(row["runs"])
    assert made == {each.number: each.quantity for each in parts}


def test_the_lines_of_the_plan_add_up_to_the_bar() -> None:
    plan = rows(bar_plan_csv(nests(part("L001", 1200, 7), part("L002", 350.5, 9)), Units.MM))
    for row in plan:
        lengths = [float(length) for length in row["cut_lengths_mm"].split("; ")]
        remnant = float(row["remnant_mm"])
        used = SAW.end_trim_mm + sum(lengths) + len(lengths) * SAW.kerf_mm + remnant
        assert used == pytest.approx(float(row["stock_length_mm"]))
        assert row["keep_remnant"] == ("yes" if remnant >= SAW.reusable_mm else "no")
    assert [row["pattern"] for row in plan] == [f"B{n:02d}" for n in range(1, len(plan) + 1)]


def test_each_pattern_has_a_whole_row() -> None:
    """By hand: 5 mm of trim, two cuts of 1203 and three of 353.5 mm leave 528.5 mm of 4000.

    In inches: 20 mm = 0.787, 40 mm = 1.575, 1200 mm = 47.244, 350.5 = 13.799, 528.5 =
    20.807, to the nearest 1/32.
    """
    made = nests(part("L001", 1200, 2), part("L002", 350.5, 3))
    (row,) = rows(bar_plan_csv(made, Units.MM))
    assert row == {
        "pattern": "B01",
        "material": "cleat",
        "profile": "20 x 40 mm",
        "stock_length_mm": "4000.000",
        "runs": "1",
        "cuts_in_order": "L001; L001; L002; L002; L002",
        "cut_lengths_mm": "1200.000; 1200.000; 350.500; 350.500; 350.500",
        "remnant_mm": "528.500",
        "remnant_is": "with the untrimmed end of 5 mm",
        "keep_remnant": "yes",
        "cuts": "2 x L001 (1200 mm); 3 x L002 (350.5 mm)",
        "remnant": "528.5 mm",
    }
    (in_inches,) = rows(bar_plan_csv(made, Units.INCH))
    assert in_inches == row | {
        "profile": '25/32" x 1 9/16"',
        "cuts": '2 x L001 (47 1/4"); 3 x L002 (13 13/16")',
        "remnant": '20 13/16"',
    }


def test_a_remnant_without_trim_runs_to_the_end_and_is_kept_from_its_least_length_on() -> None:
    """By hand: one cut of 1000 mm and its kerf of 3 mm leave 2997 mm of 4000."""
    cut_list = CutList(parts=(), bars=(part("L001", 1000, 1),), uses=())
    for reusable_mm, kept in ((2997.0, "yes"), (2997.01, "no")):
        saw = replace(SAW, end_trim_mm=0.0, reusable_mm=reusable_mm)
        (row,) = rows(bar_plan_csv(nest_bars(cut_list, saw, Progress()), Units.MM))
        assert (row["remnant_mm"], row["keep_remnant"]) == ("2997.000", kept)
        assert row["remnant_is"] == "to the end of the bar"


def test_the_manifest_lists_the_bars_to_buy() -> None:
    # Three of 1200 and their kerfs fill 3616 of 4000: seven need three bars.
    (entry,) = bar_entries(nests(part("L001", 1200, 7)))
    assert (entry.bars, entry.lower_bound, entry.patterns) == (3, 3, 2)
    assert (entry.kerf_mm, entry.end_trim_mm, entry.length_mm) == (3.0, 5.0, 4000.0)
    assert entry.share_used == pytest.approx(7 * 1200 / (3 * 4000))


def test_a_part_longer_than_its_bar_is_named() -> None:
    with pytest.raises(DoesNotFit, match=r"cleat \(20 x 40 mm\): L002 \(3991 mm\) cannot be cut"):
        nests(part("L001", 3990, 1), part("L002", 3991, 1))


def test_a_bar_that_is_too_short_is_told_with_its_place() -> None:
    """By hand: 4000 mm less 5 mm at each end hold a part of 3990 mm, and none of 3991 mm."""
    origin = Origin(file="shop/bars.yaml", line=7, key_path="bars.cleat.stock_length")
    good, long = (replace(part(f"L{mm}", mm, 1), stock_origin=origin) for mm in (3990.0, 3991.0))
    (well,) = bar_checks((good,), SAW)
    assert not well.missed
    assert (well.finding.measured, well.finding.limit) == (0.0, 0.0)
    (short,) = bar_checks((good, long), SAW)
    assert short.missed
    assert short.finding.measured == -1.0
    told = "shop/bars.yaml:7: bars.cleat.stock_length: cleat (20 x 40 mm): L3991.0 (3991 mm) cannot"
    assert str(short).startswith(told)
    assert "set a longer stock_length" in short.finding.advice
    with pytest.raises(DoesNotFit) as refused:
        nests(good, long)
    assert str(refused.value).startswith(told)
    (inches,) = bar_checks((good, long), SAW, Units.INCH)
    assert inches.finding.message == (
        'cleat (25/32" x 1 9/16"): L3991.0 (157 1/8") cannot be cut from bars of 157 15/32",'
        ' which hold 157 3/32" '
        "between their trimmed ends"
    )


def test_a_job_without_bars_has_no_plans() -> None:
    assert nests() == ()


def test_equal_cuts_are_told_together() -> None:
    (nest,) = nests(part("L001", 1200, 2), part("L002", 350.5, 3))
    (pattern,) = numbered_patterns((nest,))
    assert cuts_in_words(pattern, Units.MM) == "2 x L001 (1200 mm); 3 x L002 (350.5 mm)"


def test_the_picture_is_to_scale() -> None:
    (nest,) = nests(part("L001", 1200, 2), part("L002", 60, 1))
    (pattern,) = numbered_patterns((nest,))
    picture = bar_picture_svg(pattern, 6000.0, Units.MM)
    assert "B01: cut 1 bar of 4000 mm like this" in picture
    for x, width in ((5, 1200), (1208, 1200), (2411, 60), (2474, 1526)):
        assert f'<rect x="{x}" ' in picture
        assert f' width="{width}" ' in picture
    assert ">keep 1526 mm</text>" in picture
    assert picture.count("L001, 1200 mm</text>") == 2
    assert "L002" not in picture  # no room for letters; the caption names it
    with pytest.raises(ValueError, match="a page for 3000"):
        bar_picture_svg(pattern, 3000.0, Units.MM)


def test_a_wider_kerf_needs_more_bars() -> None:
    wide = replace(SAW, kerf_mm=10.0)
    parts = CutList(parts=(), bars=(part("L001", 398, 10),), uses=())
    (narrow,) = nest_bars(parts, replace(SAW, kerf_mm=1.0), Progress())
    (broad,) = nest_bars(parts, wide, Progress())
    assert (narrow.answer.bars, broad.answer.bars) == (1, 2)
