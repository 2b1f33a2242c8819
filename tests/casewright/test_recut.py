"""Single parts cut again: on any offcut that holds them, and refused by one that does not."""

import csv
import functools
import io
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import ezdxf
import ezdxf.bbox
import pypdfium2
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from casewright.commands.recut_command.files import CutAgain, recut_files
from casewright.commands.recut_command.run import Asked, cut_again, read_asked
from casewright.errors import DoesNotFit
from casewright.intake.read_job import read_job
from casewright.job import EdgeTrim, Job
from casewright.progress import Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nested.offcut_stage import FullSheets, Offcut, RecutRules, nest_on_offcuts
from casewright.stages.sets.set_stage import SetsOfJob, model_sets
from export.layer_table import LayerRole
from nesting.question.instance import StockKind
from nesting.question.settings import Effort
from nesting.question.ticks import piece_ticks, to_mm
from parametric.lists.cut_list import Part
from parametric.stock.lengths import Units
from parametric.stock.materials import Grain
from tests.casewright.build_fixtures import CONFIGS
from tests.casewright.test_cli import copied, run
from tests.pdf_pages import text_of

TICK_MM = 1 / 1600
QUICK = NestSettings(effort=Effort.QUICK)
TRIM_MM, GAP_MM = 10.0, 12.0  # of configs/router-metric.yaml


@functools.cache
def demo(name: str = "keepers-room") -> tuple[Job, SetsOfJob]:
    job = read_job(CONFIGS / f"{name}.yaml")
    return job, model_sets(job, Progress())


def offcut(
    material: str, length_mm: float, width_mm: float, label: str = "A", n: int = 1
) -> Offcut:
    return Offcut(
        material=material, label=label, length_mm=length_mm, width_mm=width_mm, quantity=n
    )


def around(part: Part, trim_mm: float = TRIM_MM) -> tuple[float, float]:
    """An offcut that just holds a part, by hand: its cut size in whole ticks, and the trims."""
    length, width = piece_ticks(part.panel.length_mm), piece_ticks(part.panel.width_mm)
    return to_mm(length) + 2 * trim_mm, to_mm(width) + 2 * trim_mm


def asked(job_file: Path, *parts: str, **further: object) -> Asked:
    given: dict[str, object] = {
        "codes": (),
        "offcuts": (),
        "full_sheets": FullSheets.LEFT if "offcuts" in further else FullSheets.TAKEN,
        "offcut_trim": None,
        "reason": "",
        "date": "",
        "build": Path("nowhere"),
    }
    return Asked(job_file=job_file, parts=parts, **(given | further))  # type: ignore[arg-type]


def cut(asked_for: Asked, job: Job, sets: SetsOfJob) -> CutAgain:
    return cut_again(read_asked(asked_for, job), job, sets, Progress(), QUICK)


def listed(folder: Path, rows: str, header: str = "material,length,width,quantity,label") -> Path:
    path = folder / "offcuts-at-hand.csv"
    path.write_text(f"{header}\n{rows}", encoding="utf-8")
    return path


def outlines(content: bytes, layers: Sequence[str]) -> list[shapely.Polygon]:
    """The boxes of the parts of a DXF file, by the drawing library and shapely."""
    space = ezdxf.read(io.StringIO(content.decode())).modelspace()  # type: ignore[attr-defined]
    found = []
    for entity in space:
        if entity.dxf.layer in layers:
            box = ezdxf.bbox.extents([entity])
            found.append(shapely.box(box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y))
    return found


def keeps_the_rules(made: CutAgain, trim_mm: float) -> None:
    """Every layout, read from its file: parts inside the trim and apart, in the wanted number."""
    names = made.shop.layers.names_of(LayerRole.OUTLINE)
    drawn = 0
    for each, files in made.cut:
        trim = trim_mm if each.kind is StockKind.REMNANT else TRIM_MM
        for layout, file in zip(each.nest.solution.layouts, files, strict=True):
            length, width = file.entry.length_mm, file.entry.width_mm
            room = shapely.box(trim, trim, length - trim, width - trim).buffer(2e-3)
            parts = outlines(file.content, tuple(names))
            assert len(parts) == len(layout.placements)
            drawn += len(parts) * layout.runs
            assert all(room.covers(part) for part in parts)
            for at, part in enumerate(parts):
                for other in parts[at + 1 :]:
                    (x0, y0, x1, y1), (u0, v0, u1, v1) = part.bounds, other.bounds
                    apart = max(u0 - x1, x0 - u1, v0 - y1, y0 - v1)
                    assert apart >= GAP_MM - 2e-3
    assert drawn == sum(part.quantity for part in made.parts)


def numbers() -> Iterator[str]:
    _, sets = demo()
    yield from (part.number for part in sets.cut_list.parts)


def test_each_part_on_an_offcut_just_large_enough(tmp_path: Path) -> None:
    """Cut files are read back and compared; that what they hold keeps the rules is seen here."""
    job, sets = demo()
    for part in sets.cut_list.parts:
        length, width = around(part)
        rows = f"{part.material.key},{length!r},{width!r},1,rest"
        made = cut(
            asked(tmp_path / "j.yaml", part.number, offcuts=(listed(tmp_path, rows),)), job, sets
        )
        assert [(row.part, row.quantity, row.stock) for row in made.rows] == [
            (part.number, 1, "rest")
        ]
        assert made.rows[0].kind is StockKind.REMNANT
        keeps_the_rules(made, TRIM_MM)


@pytest.mark.parametrize(("less", "word"), [((TICK_MM, 0.0), "short"), ((0.0, TICK_MM), "narrow")])
def test_one_tick_too_small_is_refused(less: tuple[float, float], word: str) -> None:
    job, sets = demo()
    rules = RecutRules(machine=job.machine, offcut_trim_mm=None, full_sheets=FullSheets.LEFT)
    for each in sets.cut_list.parts:
        part = replace(each, quantity=1)
        length, width = around(part)
        small = offcut(part.material.key, length - less[0], width - less[1])
        with pytest.raises(DoesNotFit) as told:
            nest_on_offcuts((part,), (small,), rules, QUICK, Progress(), job.units)
        first, hint = told.value.lines
        assert first.startswith(f"{part.number} of ")
        assert first.endswith(f"inside its trim A is less than 0.1 mm too {word}")
        assert "--offcuts-only" in hint


def test_parts_with_grain_are_not_turned_and_others_are(tmp_path: Path) -> None:
    job, sets = demo()
    rules = RecutRules(machine=job.machine, offcut_trim_mm=None, full_sheets=FullSheets.LEFT)
    seen = set()
    for each in sets.cut_list.parts:
        part = replace(each, quantity=1)
        length, width = around(part)
        if length == width:
            continue
        turned = offcut(part.material.key, width, length)
        grained = part.material.grain is Grain.LENGTHWISE
        seen.add(grained)
        if grained:
            with pytest.raises(DoesNotFit):
                nest_on_offcuts((part,), (turned,), rules, QUICK, Progress(), job.units)
        else:
            (made,) = nest_on_offcuts((part,), (turned,), rules, QUICK, Progress(), job.units)
            assert made.nest.solution.layouts[0].placements[0].turned
    assert seen == {True, False}


@settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(st.data())
def test_any_parts_on_any_offcuts(tmp_path: Path, data: st.DataObject) -> None:
    """Whatever is at hand: each part is cut once, by the rules, on an offcut or on a full sheet."""
    job, sets = demo()
    sides = st.integers(50, 2500)
    keys = sorted({part.material.key for part in sets.cut_list.parts})
    picked = data.draw(st.lists(st.sampled_from(sorted(numbers())), min_size=1, max_size=5))
    rows = data.draw(
        st.lists(st.tuples(st.sampled_from(keys), sides, sides, st.integers(0, 2)), max_size=4)
    )
    trim = data.draw(st.sampled_from([None, 0, 3, 25]))
    text = "\n".join(f"{key},{a},{b},{n},L{at}" for at, (key, a, b, n) in enumerate(rows, 1))
    lists = (listed(tmp_path, text),) if rows else ()
    typed = None if trim is None else f"{trim} mm"
    made = cut(
        asked(
            tmp_path / "j.yaml",
            *picked,
            offcuts=lists,
            offcut_trim=typed,
            full_sheets=FullSheets.TAKEN,
        ),
        job,
        sets,
    )
    keeps_the_rules(made, TRIM_MM if trim is None else trim)
    used = {row.stock: row for row in made.rows if row.kind is StockKind.REMNANT}
    at_hand = {f"L{at}": key for at, (key, _, _, n) in enumerate(rows, 1) if n}
    assert all(row.material == at_hand[label] for label, row in used.items())
    sheets = [row for row in made.rows if row.kind is StockKind.SHEET]
    assert bool(sheets) is bool(made.told)


def test_uneven_trim_of_sheets_and_another_of_offcuts() -> None:
    """What is trimmed off at the left and below differs from the offcut's: places are by hand."""
    job, sets = demo()
    part = replace(sets.cut_list.parts[0], quantity=1)
    machine = replace(job.machine, edge_trim=EdgeTrim(left_mm=31.0, bottom_mm=2.0))
    rules = RecutRules(machine=machine, offcut_trim_mm=4.0, full_sheets=FullSheets.LEFT)
    rest = offcut(part.material.key, *around(part, 4.0))
    (made,) = nest_on_offcuts((part,), (rest,), rules, QUICK, Progress(), job.units)
    (placed,) = made.nest.solution.layouts[0].placements
    assert (to_mm(placed.x), to_mm(placed.y)) == (4.0, 4.0)
    with_machine_trim = replace(rules, offcut_trim_mm=None)
    with pytest.raises(DoesNotFit):
        nest_on_offcuts((part,), (rest,), with_machine_trim, QUICK, Progress(), job.units)


def test_the_least_that_does_is_used_up() -> None:
    """Of a large and a small offcut the small one, whatever their order; no full sheet."""
    job, sets = demo()
    part = replace(sets.cut_list.parts[0], quantity=1)
    length, width = around(part)
    small = offcut(part.material.key, length + 5, width + 5, "small")
    large = offcut(part.material.key, length + 900, width + 900, "large")
    rules = RecutRules(machine=job.machine, offcut_trim_mm=None, full_sheets=FullSheets.TAKEN)
    for order in ((small, large), (large, small)):
        (made,) = nest_on_offcuts((part,), order, rules, QUICK, Progress(), job.units)
        assert [layout.stock for layout in made.nest.solution.layouts] == ["small"]


def test_offcuts_that_do_not_suffice_together() -> None:
    job, sets = demo()
    part = replace(sets.cut_list.parts[0], quantity=2)
    rest = offcut(part.material.key, *around(part))
    rules = RecutRules(machine=job.machine, offcut_trim_mm=None, full_sheets=FullSheets.LEFT)
    with pytest.raises(DoesNotFit, match="offcuts-only"):
        nest_on_offcuts((part,), (rest,), rules, QUICK, Progress(), job.units)
    taken = replace(rules, full_sheets=FullSheets.TAKEN)
    kinds = [
        (each.kind, [part.quantity for part in each.nest.group.parts])
        for each in nest_on_offcuts((part,), (rest,), taken, QUICK, Progress(), job.units)
    ]
    assert kinds == [(StockKind.SHEET, [2])]  # one sheet holds both: less to handle, no dearer
    with pytest.raises(DoesNotFit, match=f"{part.number}: no offcut of {part.material.key}"):
        nest_on_offcuts((part,), (), rules, QUICK, Progress(), job.units)


def test_what_a_build_leaves_is_a_list_of_offcuts(keeper: Path, tmp_path: Path) -> None:
    """The table of the build as it is; labels of the rack stand on the new papers."""
    job, sets = demo()
    table = keeper / "shop" / "offcuts.csv"
    labels = {row["rack_label"] for row in csv.DictReader(table.open(encoding="utf-8"))}
    made = cut(asked(tmp_path / "j.yaml", "P001", offcuts=(table,)), job, sets)
    assert {row.stock for row in made.rows} <= labels
    files = {path.as_posix(): content for path, content in recut_files(made).items()}
    words = text_of(pypdfium2.PdfDocument(files["recut.pdf"])[0])
    assert made.rows[0].stock in words
    again = list(csv.DictReader(io.StringIO(files["shop/labels.csv"].decode())))
    assert [(row["kind"], row["number"]) for row in again[:2]] == [
        ("sheet", made.rows[0].stock),
        ("part", "P001"),
    ]
    assert files["shop/parts/P001.dxf"] == (keeper / "shop/parts/P001.dxf").read_bytes()
    assert next(csv.DictReader(io.StringIO(files["recut.csv"].decode())))["reason"] == ""
    assert recut_files(made) == recut_files(made)


def test_the_command_keeps_reasons_and_tells_where_there_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Twice with a reason, which leaves a row for each part; once with none, which leaves none."""
    monkeypatch.setenv("CASEWRIGHT_CACHE", str(tmp_path / "cache"))
    job = copied(tmp_path)
    at_hand = listed(tmp_path, "raw-particleboard,900,400,1,=R1\nteak,900,400,1,T\n")
    out, kept = tmp_path / "out", tmp_path / "keepers-room-recuts.csv"
    first = run(
        *("recut", job, "P001", "--offcuts", at_hand, "--offcuts-only"),
        *("--reason", "-dented, twice", "--date", "2031-05-09", "--out", out),
    )
    assert first.returncode == 0, first.stderr
    assert "no part of the job is made of teak" in first.stderr
    second = run("recut", job, "P001", "P003x2", "--reason", "lost", "--out", out)
    assert second.returncode == 0, second.stderr
    assert "Offcuts do not suffice: 1 full sheet of ash-one-face" in second.stdout
    before = kept.read_bytes()
    assert before.decode().splitlines() == [
        "part,quantity,reason,from,date",
        'P001,1,"\'-dented, twice",offcut =R1,2031-05-09',
        "P001,1,lost,full sheet 2800x2070,",
        "P003,2,lost,full sheet 2800x2070,",
    ]
    third = run("recut", job, "P001", "P777", "--out", out)
    assert third.returncode == 2
    assert third.stderr.splitlines()[-1].startswith("PART: found 'P777'; allowed: one of P001")
    fourth = run("recut", job, "P001", "--out", out)
    assert "Nothing is kept of it: no --reason was given." in fourth.stdout
    assert kept.read_bytes() == before
    left = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert left == {
        *("manifest.json", "recut.csv", "recut.pdf", "labels.pdf", "shop/labels.csv"),
        *("shop/parts/P001.dxf", "shop/sheets/raw-particleboard/001.dxf"),
    }


def test_an_inch_job_on_a_list_in_inches(tmp_path: Path) -> None:
    """Bare numbers count in the job's units; the inch is 25.4 mm (agreement of 1959)."""
    job, sets = demo()
    rows = "raw-particleboard,95 1/2 in,47.25,1,A"
    job = replace(job, units=Units.INCH)
    made = cut(asked(tmp_path / "j.yaml", "P001", offcuts=(listed(tmp_path, rows),)), job, sets)
    entry = made.cut[0][1][0].entry
    assert (entry.length_mm, entry.width_mm) == pytest.approx((2425.7, 1200.15))
