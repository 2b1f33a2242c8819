"""The nests of a build: side by side, further searched, stopped, and by the machine's rules."""

import os
import signal
import time
from collections import Counter
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from casewright.cache_folder import CacheFolder
from casewright.intake.read_job import read_job
from casewright.job import EdgeTrim, Job, OffcutSize, SmallParts
from casewright.progress import Listener, Progress
from casewright.stages.nest.nest_settings import NestSettings
from casewright.stages.nest.nest_stage import Nest, nest_groups, nest_instance, sheet_rules
from casewright.stages.nested import nest_run
from casewright.stages.nested.nest_run import nest_all
from casewright.stages.sets.check_stage import check
from casewright.stages.sets.set_stage import model_sets
from casewright.stages.sets.stock_check import board_questions
from casewright.stages.sets.used_sets import placed_sets
from casewright.stages.shop.sheet_stage import hold_limits, reusable_size
from casewright.terminal.interrupt import heard_by
from casewright.terminal.show import gained
from nesting.after.offcuts import Reusable
from nesting.answer.solution import Solution, StopReason
from nesting.answer.verify import violations
from nesting.question.errors import StoppedTooEarly
from nesting.question.instance import Instance
from nesting.question.settings import Effort, Preference
from nesting.question.sheet_rules import Rim, Trim
from nesting.search.watch import Watcher
from parametric.lists.cut_list import CutList
from parametric.remembered import opened
from tests.casewright.build_fixtures import CONFIGS

QUICK = NestSettings(effort=Effort.QUICK)


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(CONFIGS / "keepers-room.yaml")


@pytest.fixture(scope="module")
def cut_list(job: Job) -> CutList:
    return check(job).cut_list


@pytest.fixture(scope="module")
def nests(job: Job, cut_list: CutList) -> tuple[Nest, ...]:
    return nest_all(cut_list, job.machine, QUICK, Progress())


def test_one_core_comes_to_the_same_as_many(
    job: Job, cut_list: CutList, nests: tuple[Nest, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert len({nest.group.material.key for nest in nests}) > 1
    monkeypatch.setattr(nest_run.os, "cpu_count", lambda: 1)
    assert nest_all(cut_list, job.machine, QUICK, Progress()) == nests


def test_nests_are_in_the_order_of_their_parts(nests: tuple[Nest, ...]) -> None:
    first = [nest.group.parts[0].number for nest in nests]
    assert first == sorted(first)


def test_boards_before_they_are_made_are_the_pieces_of_the_nest(
    job: Job, cut_list: CutList
) -> None:
    """What is said of the sheets on hand from sizes alone holds for the parts as they are cut."""
    milled = replace(job, routing=replace(job.routing, pre_mill_mm=0.5))
    for each, listed in ((job, cut_list), (milled, model_sets(milled, Progress()).cut_list)):
        rules = sheet_rules(each.machine)
        cut: Counter[tuple[str, int, int]] = Counter()
        for group in nest_groups(listed.parts):
            for piece in nest_instance(group, rules).pieces:
                sides = sorted((piece.length, piece.width))
                cut[group.material.key, sides[0], sides[1]] += piece.quantity
        planned: Counter[tuple[str, int, int]] = Counter()
        for material, instance in board_questions(each, placed_sets(each)):
            for piece in instance.pieces:
                sides = sorted((piece.length, piece.width))
                planned[material.key, sides[0], sides[1]] += piece.quantity
        assert planned == cut


def test_parts_of_one_unit_are_of_one_group(nests: tuple[Nest, ...]) -> None:
    for nest in nests:
        for part, piece in zip(nest.group.parts, nest.instance.pieces, strict=True):
            assert piece.group == (part.units[0] if len(part.units) == 1 else "")
    groups = {piece.group for nest in nests for piece in nest.instance.pieces}
    assert len(groups - {""}) > 1


def test_a_further_search_keeps_the_better(job: Job, cut_list: CutList) -> None:
    settings = replace(QUICK, extra_seconds=0.5)
    searched = nest_all(cut_list, job.machine, settings, Progress())
    for nest in searched:
        assert violations(nest.instance, nest.solution) == ()
        if nest.before is None:
            assert nest.solution.stop is StopReason.PROVEN
            assert gained(nest) == "proven before"
            continue
        assert nest.before.stop is not StopReason.PROVEN
        assert nest.solution.price <= nest.before.price
        before = (nest.before.price, nest.before.sheets, nest.before.distinct)
        after = (nest.solution.price, nest.solution.sheets, nest.solution.distinct)
        assert after <= before
        assert (gained(nest) == "nothing") is (after == before)


class _PressesCtrlC(Listener):
    def note(self, what: str) -> None:
        if not self.pressed:
            self.pressed = True
            os.kill(os.getpid(), signal.SIGINT)

    pressed = False


def test_ctrl_c_keeps_the_best_so_far(job: Job, cut_list: CutList) -> None:
    presses = _PressesCtrlC()
    progress = Progress(presses)
    hard = NestSettings(effort=Effort.THOROUGH, extra_seconds=60.0)
    with heard_by(progress):
        stopped = nest_all(cut_list, job.machine, hard, progress)
    assert presses.pressed
    assert {nest.solution.stop for nest in stopped} <= {StopReason.CANCELLED, StopReason.PROVEN}
    assert StopReason.CANCELLED in {nest.solution.stop for nest in stopped}
    for nest in stopped:
        assert violations(nest.instance, nest.solution) == ()
        assert nest.before is None


def test_a_second_ctrl_c_ends_the_short_search_for_any_sheets_too(
    job: Job, cut_list: CutList, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each search presses once, then waits until its watcher stops it, however long that takes."""
    pressed: list[str] = []

    def solve(instance: Instance, *, watcher: Watcher, **_: object) -> Solution:
        if len(pressed) < 2:
            pressed.append("once more")
            os.kill(os.getpid(), signal.SIGINT)
        while not watcher.cancelled():
            time.sleep(0.001)
        raise StoppedTooEarly

    monkeypatch.setattr(nest_run, "solve", solve)
    monkeypatch.setattr(nest_run.os, "cpu_count", lambda: 1)
    progress = Progress()
    with pytest.raises(KeyboardInterrupt), heard_by(progress):
        nest_all(cut_list, job.machine, QUICK, progress)
    assert len(pressed) == 2


def test_fewer_layouts_never_are_more(job: Job, cut_list: CutList, nests: tuple[Nest, ...]) -> None:
    fewer = replace(QUICK, preference=Preference(extra_price=0.5))
    for nest, plain in zip(nest_all(cut_list, job.machine, fewer, Progress()), nests, strict=True):
        assert nest.solution.distinct <= plain.solution.distinct
        assert nest.solution.price <= 1.5 * plain.solution.price + 1e-9


def test_the_rules_of_the_machine(job: Job) -> None:
    machine = replace(
        job.machine,
        sheet_trim_mm=10.0,
        gap_mm=12.0,
        edge_trim=EdgeTrim(left_mm=25.0, top_mm=0.0),
        small_parts=SmallParts(area_cm2=300, aspect=8, rim_side_mm=250.0, rim_mm=40.0),
        offcut=OffcutSize(length_mm=300.0, width_mm=700.0),
    )
    rules = sheet_rules(machine)
    assert rules.trim == Trim(left=25 * 1600, right=10 * 1600, bottom=10 * 1600, top=0)
    assert rules.rim == Rim(longest_side=250 * 1600, distance=40 * 1600)
    assert rules.gap == 12 * 1600
    assert machine.even_trim_mm == 17.5  # as much as both ends together
    limits = hold_limits(machine)
    assert (limits.least_area, limits.greatest_aspect) == (300 * 16_000**2, 8)
    assert reusable_size(machine) == Reusable(longer=700 * 1600, shorter=300 * 1600)
    assert sheet_rules(job.machine).rim is None


def test_nests_are_remembered_between_runs(
    job: Job,
    cut_list: CutList,
    nests: tuple[Nest, ...],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with opened(CacheFolder(tmp_path)):
        assert nest_all(cut_list, job.machine, QUICK, Progress()) == nests
        monkeypatch.setattr(nest_run, "solve", lambda *_, **__: pytest.fail("searched again"))
        assert nest_all(cut_list, job.machine, QUICK, Progress()) == nests
        other = replace(QUICK, seed=QUICK.seed + 1)
        with pytest.raises(pytest.fail.Exception, match="searched again"):
            nest_all(cut_list, job.machine, other, Progress())


def test_a_nest_that_was_stopped_is_not_remembered(job: Job, cut_list: CutList) -> None:
    kept: dict[str, bytes] = {}

    class Kept:
        def kept(self, key: str) -> bytes | None:
            return kept.get(key)

        def keep(self, key: str, value: bytes) -> None:
            kept[key] = value

    hard = NestSettings(effort=Effort.THOROUGH)
    progress = Progress(_PressesCtrlC())
    with opened(Kept()), heard_by(progress):
        stopped = nest_all(cut_list, job.machine, hard, progress)
    stops = Counter(nest.solution.stop for nest in stopped)
    assert stops[StopReason.CANCELLED]
    assert len(kept) <= stops.total() - stops[StopReason.CANCELLED]


def test_a_search_that_was_stopped_and_does_not_say_so_is_not_remembered(
    job: Job, cut_list: CutList, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A proof, or the first of several searches, hides that the rest was cut short."""
    kept: list[str] = []
    store = SimpleNamespace(kept=lambda _: None, keep=lambda key, _: kept.append(key))
    group = nest_groups(cut_list.parts)[0]
    instance = nest_instance(group, sheet_rules(job.machine))
    for cancelled in (True, False):
        watcher = SimpleNamespace(cancelled=lambda c=cancelled: c)
        solution = SimpleNamespace(stop=StopReason.PROVEN)
        monkeypatch.setattr(nest_run, "solve", lambda *_, s=solution, **__: s)
        monkeypatch.setattr(nest_run.pickle, "dumps", lambda _: b"")
        with opened(store):
            nest_run._repeatable(instance, 1, Effort.QUICK, Preference(), watcher)
        assert bool(kept) is not cancelled
