"""The estimate: sums by hand, and its workbook reckoned again by readers that are not ours."""

import io
import zipfile
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from export.estimate.estimate import Estimate, Line, Section, SetShare, missing_words, share
from export.estimate.money import as_written, cents
from export.estimate.rates import Rates
from export.estimate.workbook import estimate_xlsx
from tests.workbook_formulas import (
    cached,
    needs_libreoffice,
    recalculated,
    through_libreoffice,
)

RATES = Rates(
    machine_hour=68.0,
    bench_hour=46.5,
    install_hour=52.0,
    overhead_percent=12.0,
    markup_percent=7.5,
)


def line(section: Section, quantity: str, rate: str | None, what: str = "it") -> Line:
    return Line(
        section=section,
        what=what,
        quantity=Decimal(quantity),
        unit="piece",
        rate=None if rate is None else Decimal(rate),
        paper="shop/yield.csv",
    )


def half(section: Section) -> Decimal:
    return Decimal("0.333333") if section is Section.BOARDS else Decimal("0.5")


EXAMPLE = Estimate(
    job="Example",
    currency="EUR",
    rooms=3,
    rates=RATES,
    lines=(
        line(Section.BOARDS, "3", "44.10"),
        line(Section.BOARDS, "7", "131.05"),
        line(Section.HARDWARE, "2", "4.355"),
        line(Section.HARDWARE, "12", None, "=1+1 screws"),
        line(Section.MACHINE, "1.255", "68"),
        line(Section.BENCH, "0.333", "46.5"),
    ),
    uses=(),
    sets=(
        SetShare(name="single, left hand", rooms=2, shares={s: half(s) for s in Section}),
        SetShare(name="single, right hand", rooms=1, shares={s: half(s) for s in Section}),
    ),
    missing=("no price: =1+1 screws",),
)


def test_sums_by_hand() -> None:
    """3 x 44.10 = 132.30, 7 x 131.05 = 917.35, 2 x 4.355 = 8.71, 1.255 x 68 = 85.34,
    .333 x 46.5 = 15.4845.
    """
    assert EXAMPLE.of(Section.BOARDS) == Decimal("1049.65")
    assert EXAMPLE.costs == Decimal("1159.18")
    assert EXAMPLE.overhead == Decimal("139.10")  # 139.1016
    assert EXAMPLE.markup == Decimal("97.37")  # 7.5 % of 1298.28
    assert EXAMPLE.price == Decimal("1395.65")
    left = EXAMPLE.sets[0]
    assert EXAMPLE.of_set(left, Section.BOARDS) == Decimal("349.88")  # 349.883
    # 349.88 + 4.36 (4.355) + 42.67 + 7.74 = 404.65, times 1395.65 / 1159.18, in two rooms
    assert EXAMPLE.set_costs(left) == Decimal("404.65")
    assert EXAMPLE.room_price(left) == Decimal("243.60")


def test_halves_go_up_and_numbers_are_as_written() -> None:
    assert (cents(Decimal("0.125")), cents(Decimal("-0.125"))) == (
        Decimal("0.13"),
        Decimal("-0.13"),
    )
    assert as_written(0.1) * 3 == Decimal("0.3")
    assert as_written(2.0005, 3) == Decimal("2.001")
    assert share(1, 3) == Decimal("0.333333") and share(1, 0) == 0


def test_what_has_no_rate_or_price_is_named_and_counts_nothing() -> None:
    words = set(missing_words(EXAMPLE.lines, (), Rates(bench_hour=46.5)))
    assert words == {
        "no rate: machine hour",
        "no rate: install hour",
        "no rate: overhead percent",
        "no rate: markup percent",
        "no price: =1+1 screws (12 x piece)",
    }
    bare = replace(EXAMPLE, rates=Rates())
    assert bare.price == bare.costs


def test_the_cells_hold_what_their_formulas_give() -> None:
    content = estimate_xlsx(EXAMPLE)
    found, held = recalculated(content), cached(content)
    assert len(found) > 30
    for at, value in found.items():
        assert float(value) == pytest.approx(held[at], abs=1e-9), at


def price_of(values: dict[tuple[str, str], Decimal]) -> Decimal:
    return cents(values["Summary", "B15"])


def test_a_rate_that_is_changed_on_its_sheet_changes_the_price_as_the_tool_does() -> None:
    content = estimate_xlsx(EXAMPLE)
    assert price_of(recalculated(content)) == EXAMPLE.price
    changed = {("Rates", "B2"): Decimal(100), ("Rates", "B5"): Decimal(0)}
    rates = replace(RATES, machine_hour=100.0, overhead_percent=0.0)
    lines = tuple(
        replace(each, rate=Decimal(100)) if each.section is Section.MACHINE else each
        for each in EXAMPLE.lines
    )
    again = replace(EXAMPLE, rates=rates, lines=lines)
    assert price_of(recalculated(content, changed)) == again.price != EXAMPLE.price


def test_texts_are_no_formulas() -> None:
    book = openpyxl.load_workbook(io.BytesIO(estimate_xlsx(EXAMPLE)))
    cells = [c for sheet in book for row in sheet.iter_rows() for c in row]
    assert {c.data_type for c in cells if c.value == "=1+1 screws"} == {"s"}
    formulas = [str(c.value) for c in cells if c.data_type == "f"]
    assert all(text.startswith(("=ROUND", "=SUM", "=IF", "=0", "=Rates", "=Summary"))
               for text in formulas)  # fmt: skip


def test_the_same_estimate_gives_the_same_bytes_on_any_day() -> None:
    content = estimate_xlsx(EXAMPLE)
    assert content == estimate_xlsx(EXAMPLE)
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        assert {info.date_time[0] for info in packed.infolist()} == {1980}
        core = packed.read("docProps/core.xml").decode()
    assert core.count("2000-01-01T00:00:00Z") == 2


@needs_libreoffice
def test_libreoffice_reckons_the_same(tmp_path: Path) -> None:
    content = estimate_xlsx(EXAMPLE)
    ours, theirs = cached(content), through_libreoffice(content, tmp_path)
    assert len(recalculated(content)) > 30
    for at in recalculated(content):
        assert theirs[at] == pytest.approx(ours[at], abs=1e-9), at
