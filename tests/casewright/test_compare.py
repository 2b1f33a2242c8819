"""Two outputs of a job compared. What changed is told anew by the CAD kernel (Open CASCADE):
volume, area and principal moments of a solid are the same wherever it lies, and differ if it is cut
otherwise.
"""

import csv
import io
import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import cadquery as cq
import numpy as np
import pypdfium2
import pytest
from typer.testing import CliRunner

from casewright import CasewrightError, Length, Session
from casewright.cli import app
from casewright.commands.compare_command import change_files, issued_again
from casewright.output.folder import write_folder
from casewright.stages.sets.set_stage import SetsOfJob
from export.changes.changes import Changes, changes_between
from export.changes.issue import Issue, IssuedLayout, IssuedPart, PlaceKey
from export.changes.part_changes import Kind
from export.changes.same_part import same_part, ways_to_lie
from export.changes.words import change_lines
from export.tables.csv_cell import read_cell
from parametric.geometry.outline import Outline
from parametric.shapes.panel import Bore, Edge, Face, FlatPanel
from tests.casewright.build_fixtures import CONFIGS, outcome_of
from tests.casewright.issued_job import issued

KEEPER = CONFIGS / "keepers-room.yaml"
SAME = 1e-10  # relative; the kernel gives figures to about 1e-12, and a moved pilot hole is 1e-8
SEED, CHANGES = 20261130, 12

Signature = tuple[str, tuple[float, ...]]


def measured(solid: cq.Solid) -> tuple[float, ...]:
    moments = np.linalg.eigvalsh(np.array(cq.Shape.matrixOfInertia(solid)))
    return (solid.Volume(), solid.Area(), *sorted(map(float, moments)))


def signatures(sets: SetsOfJob) -> dict[PlaceKey, Signature]:
    """What each part of each set is, by the kernel: its material, and figures of its solids."""
    found: dict[PlaceKey, Signature] = {}
    for each in sets.sets:
        solids, assembly = each.model.solids, each.model.room_set.assembly
        for board in assembly.boards:
            bands = sorted(band.Volume() for band in solids.bands.get(board.name, ()))
            key = board.material.key
            found[place(each, board.name)] = key, (*measured(solids.boards[board.name]), *bands)
        for member in assembly.members:
            solid = solids.members[member.name]
            found[place(each, member.name)] = member.description, measured(solid)
    return found


def place(each: Any, name: str) -> PlaceKey:
    unit, _, own = name.rpartition("/")
    return each.used.sizes.name, each.used.hand.value, unit, own


def differ(a: Signature | None, b: Signature | None) -> bool:
    if a is None or b is None:
        return True
    alike = a[0] == b[0] and len(a[1]) == len(b[1])
    return not alike or not np.allclose(a[1], b[1], rtol=SAME, atol=0.0)


def sizes_of(session: Session) -> list[tuple[tuple[str, ...], float]]:
    """Every length of the keeper's set that its units take, by its keys, in millimetres."""
    set_sizes = session.job.sets[0]
    found = [(("sets", set_sizes.name, "base_height"), set_sizes.base_height_mm)]
    for run in set_sizes.runs:
        for unit in run.units:
            for key, value in vars_of(unit.sizes):
                keys = ("sets", set_sizes.name, "head_wall", unit.name, key.removesuffix("_mm"))
                found.append((keys, value))
    return found


def vars_of(sizes: Any) -> Iterator[tuple[str, float]]:
    for key in sizes.__slots__:
        value = getattr(sizes, key)
        if key.endswith("_mm") and isinstance(value, float):
            yield key, value


@pytest.fixture(scope="module")
def keeper() -> tuple[Session, SetsOfJob, Issue]:
    session = Session.from_file(KEEPER)
    return (session, *issued(session))


@pytest.mark.parametrize("number", range(CHANGES))
def test_a_random_change_is_told_exactly(
    keeper: tuple[Session, SetsOfJob, Issue], number: int
) -> None:
    session, before, old = keeper
    drawn = random.Random(SEED + number)
    changed = None
    while changed is None:
        keys, value = drawn.choice(sizes_of(session))
        try:
            wanted = session.changed(keys, Length(round(value + drawn.uniform(-30, 30))))
            changed = issued(wanted)
        except CasewrightError:
            continue  # sizes that do not go together
    after, new = changed
    changes = changes_between(old, new, {})
    told_once = len(set(changes.places)) == len(changes.places)
    was, now = signatures(before), signatures(after)
    wanted_places = {key for key in {**was, **now} if differ(was.get(key), now.get(key))}
    assert told_once and set(changes.places) == bought_left_out(wanted_places, changes)
    of_parts = {p for c in (*changes.parts, *changes.bars) if c.what or c.instead for p in c.places}
    assert set(changes.places) <= of_parts
    assert changes.nothing == (old.files == new.files)


def bought_left_out(places: set[PlaceKey], changes: Changes) -> set[PlaceKey]:
    """Legs and wall plates are bought: their kind is told by the kit."""
    old, new = changes.old, changes.new
    made = {**old.parts, **old.bars, **new.parts, **new.bars}
    return {p for p in places if {old.places.get(p), new.places.get(p)} & set(made)}


def test_the_same_build_again_tells_nothing(keeper: tuple[Session, SetsOfJob, Issue]) -> None:
    _, _, old = keeper
    _, again = issued(Session.from_file(KEEPER))
    changes = changes_between(old, again, {})
    assert changes.nothing and not list(change_lines(changes)) and not list(issued_again(changes))


def test_parts_under_other_numbers_are_the_same_parts(
    keeper: tuple[Session, SetsOfJob, Issue],
) -> None:
    _, _, old = keeper
    numbers = list(old.parts)
    other = dict(zip(numbers, [*numbers[1:], numbers[0]], strict=True))
    new = renumbered(old, other)
    changes = changes_between(old, new, {})
    assert {(c.was, c.now) for c in changes.parts} == set(other.items())
    assert {c.kind for c in changes.parts} == {Kind.RENUMBERED}
    assert not changes.places and not changes.layouts
    moved = replace(new, layouts=tuple(replace(each, runs=each.runs + 1) for each in new.layouts))
    found = changes_between(old, moved, {}).layouts
    assert [c.kind for c in found] == [Kind.COUNT] * len(old.layouts)


def renumbered(issue: Issue, other: dict[str, str]) -> Issue:
    """The same job with other part numbers."""

    def layout(of: IssuedLayout) -> IssuedLayout:
        labels = tuple(replace(each, text=other[each.text]) for each in of.drawing.labels)
        return replace(of, drawing=replace(of.drawing, labels=labels))

    return replace(
        issue,
        parts={other[n]: replace(part, number=other[n]) for n, part in issue.parts.items()},
        places={place: other.get(n, n) for place, n in issue.places.items()},
        layouts=tuple(map(layout, issue.layouts)),
    )


def test_cut_sheets_count_where_their_parts_are_still_right(
    keeper: tuple[Session, SetsOfJob, Issue],
) -> None:
    session, _, old = keeper
    _, new = issued(
        session.changed(("sets", "keeper", "head_wall", "bench", "deck_depth"), Length(620))
    )
    file = "shop/sheets/raw-particleboard/001.dxf"
    changes = changes_between(old, new, {file: 1})
    rows = {c.was: c for c in changes.cut}
    gone = {c.was for c in changes.parts if c.kind is Kind.CHANGED}
    assert rows and {was for was, c in rows.items() if not c.now} == gone & set(rows)
    for each in rows.values():
        wanted = int(new.parts[each.now].row["quantity"]) if each.now else 0
        assert each.missing == max(0, wanted - each.cut) and each.cut >= 1


def test_table_and_paper_say_the_same(keeper: tuple[Session, SetsOfJob, Issue]) -> None:
    session, _, old = keeper
    _, new = issued(
        session.changed(("sets", "keeper", "head_wall", "bench", "deck_depth"), Length(620))
    )
    changes = changes_between(old, new, {})
    files = {str(path): content for path, content in change_files(changes).items()}
    rows = list(csv.DictReader(io.StringIO(files["changes.csv"].decode())))
    assert [read_cell(row["which"]) for row in rows] == [c.which for c in change_lines(changes)]
    pdf = pypdfium2.PdfDocument(files["changes.pdf"])
    text = " ".join(" ".join(p.get_textpage().get_text_range() for p in pdf).split())
    for row in rows:
        if row["about"] in ("part", "bar", "layout", "kit", "room"):
            assert row["which"].split()[0].strip("'") in text
    assert "541" in text and files == {
        str(path): content for path, content in change_files(changes).items()
    }


def test_a_part_is_the_same_however_it_lies_and_not_its_mirror_image() -> None:
    panel = FlatPanel(
        length_mm=300.0,
        width_mm=200.0,
        thickness_mm=18.0,
        outline=Outline.rectangle(300.0, 200.0),
        openings=(),
        pockets=(),
        bores=(Bore(x=40.0, y=30.0, diameter_mm=5.0, depth_mm=None, face=Face.UP),),
        edge_bores=(),
    )
    row = {"material": "board", "grain": "none", "show_face": "up"}
    part = IssuedPart(number="P1", row=row, panel=panel, bands={Edge.X_LOW: "band"})
    ways = list(ways_to_lie(part))
    assert len(ways) == 8
    for way in ways:
        lying = {**row, "show_face": way.show}
        turned = IssuedPart(number="P2", row=lying, panel=way.panel, bands=way.bands)
        assert same_part(part, turned) and same_part(turned, part)
    mirrored = replace(part, panel=panel.mirror_image())
    assert not same_part(part, mirrored)
    assert not same_part(part, replace(part, bands={Edge.X_HIGH: "band"}))
    assert not same_part(part, replace(part, row={**row, "show_face": "down"}))


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(app, ["compare", *arguments])
    return result.exit_code, result.output


def test_folders_that_cannot_be_compared_are_named(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, outcome_of("keepers-room").files)
    code, told = run(str(out), str(tmp_path / "none"))
    assert code == 2 and "NEW: found" in told and "manifest.json" in told
    code, told = run(str(out), str(out))
    assert code == 0 and "Nothing changed" in told
    done = tmp_path / "done.csv"
    done.write_text("layout,runs\nshop/sheets/raw-particleboard/001.dxf,9\nnone,1\n")
    code, told = run(str(out), str(out), "--cut", str(done))
    assert code == 2 and "from 0 to 1" in told and "none" in told
    (out / "shop" / "cutlist.csv").write_text("edited")
    code, told = run(str(out), str(out), "--out", str(tmp_path / "changes"))
    assert code == 2 and "shop/cutlist.csv was edited" in told
    assert not (tmp_path / "changes").exists()
