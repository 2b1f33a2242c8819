"""A job held from Python: loaded, changed, asked, cancelled, written."""

import doctest
import re
import subprocess
import sys
import threading
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

import casewright
from casewright import Cancelled, InputErrors, Length, Progress, Session
from casewright.errors import OutputFolderError
from casewright.intake.read_job import read_job
from casewright.stages.sets import fast_findings, mesh_stage, set_memory, set_stage
from casewright.stages.sets.check_stage import check
from parametric.findings.telling import told
from parametric.geometry.hand import Hand
from tests.casewright.build_fixtures import CONFIGS, outcome_of

ROOT = CONFIGS.parent
NAMES = casewright.__all__
KEEPER = CONFIGS / "keepers-room.yaml"
OVERHANG = ("sets", "keeper", "head_wall", "bench", "overhang")


@pytest.fixture(scope="module")
def keeper() -> Session:
    return Session.from_file(KEEPER)


@pytest.fixture
def two_sets(tmp_path: Path) -> Session:
    """The keeper's room in both hands, and in one of them with a set that is like it but wider."""
    for file in CONFIGS.iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    job = tmp_path / KEEPER.name
    text = job.read_text(encoding="utf-8")
    wide = "sets:\n  wide: {like: keeper, head_wall: {bench: {deck_width: 460}}}\n"
    job.write_text(text.replace("sets:\n", wide, 1), encoding="utf-8")
    schedule = tmp_path / "keepers-room-rooms.csv"
    header, row = schedule.read_text(encoding="utf-8").splitlines()
    number, _, _, *rest = row.split(",")
    rooms = (("keeper", "left"), ("keeper", "right"), ("wide", "right"))
    rows = [",".join((f"{number}-{n}", *room, *rest)) for n, room in enumerate(rooms)]
    schedule.write_text("\n".join((header, *rows)) + "\n", encoding="utf-8")
    return Session.from_file(job)


class Calls:
    """What a function that is called instead of another one was called with."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, home: Any, name: str) -> None:
        self.count, real = 0, getattr(home, name)

        def counted(*args: Any, **kwargs: Any) -> Any:
            self.count += 1
            return real(*args, **kwargs)

        monkeypatch.setattr(home, name, counted)


def find_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let exact checks find nothing: they take seconds, and what they find is not looked at."""
    monkeypatch.setattr(set_stage, "set_findings", lambda *_: ())
    monkeypatch.setattr(set_stage, "overlap_findings", lambda *_: ())


def test_file_text_and_mapping_agree(keeper: Session) -> None:
    assert keeper.job == read_job(KEEPER)
    text = KEEPER.read_text(encoding="utf-8")
    from_text = Session.from_text(text, CONFIGS)
    assert (from_text.text, from_text.job) == (text, keeper.job)
    values = YAML(typ="safe").load(text)
    from_mapping = Session.from_mapping(values, CONFIGS)
    assert from_mapping.job == keeper.job
    assert YAML(typ="safe").load(from_mapping.text) == values
    assert "#" not in from_mapping.text


def test_lengths_of_a_mapping_are_in_its_units() -> None:
    values = YAML(typ="safe").load((CONFIGS / "avalanche-centre.yaml").read_text(encoding="utf-8"))
    values["sets"]["twin"]["head_wall"]["bench"]["overhang"] = Length(101.6)
    assert "overhang: 4\n" in Session.from_mapping(values, CONFIGS).text


def test_a_change_gives_what_the_changed_file_gives(two_sets: Session) -> None:
    two_sets.fast_findings()
    changed = two_sets.changed(("sets", "wide", "head_wall", "bench", "overhang"), Length(64))
    changed.write(changed.path)
    read = Session.from_file(changed.path)
    assert (read.job, read.text) == (changed.job, changed.text)
    assert read.job != two_sets.job
    assert read.fast_findings() == changed.fast_findings()
    assert read.fast_findings() != two_sets.fast_findings()


def test_places_that_a_change_has_moved_are_told_as_they_are_now(two_sets: Session) -> None:
    """A material of the job file itself stands lower once a line above it is new."""
    library = (two_sets.path.parent / "materials-metric.yaml").read_text(encoding="utf-8")
    material = re.search(r"^  ash-one-face:\n(?:    .*\n)+", library, re.M)
    assert material is not None
    text = f"{two_sets.text.rstrip()}\n\nmaterials:\n{material[0]}"
    session = Session.from_text(text, two_sets.path.parent)
    session.meshes()
    changed = session.changed(("loads", "blocking_gravity"), 0.5)
    assert changed.text.count("\n") == text.count("\n") + 1
    anew = Session.from_text(changed.text, two_sets.path.parent)
    assert repr(changed.meshes()) == repr(anew.meshes()) != repr(session.meshes())


def test_a_refused_change_leaves_the_session(keeper: Session) -> None:
    before, text = keeper.fast_findings(), keeper.text
    line = 1 + text[: text.index("overhang: ")].count("\n")
    with pytest.raises(InputErrors) as caught:
        keeper.changed(OVERHANG, Length(1e4))
    (fault,) = caught.value.faults
    assert (fault.line, fault.key_path) == (line, ".".join(OVERHANG))
    for keys, value in ((OVERHANG, None), (("sets", "nobody"), None), ((), None), ((), 3)):
        with pytest.raises(InputErrors):
            keeper.changed(keys, value)
    assert (keeper.text, keeper.fast_findings()) == (text, before)


def test_what_a_set_takes_over_can_be_changed_and_taken_away(two_sets: Session) -> None:
    bench = ("sets", "wide", "head_wall", "bench")
    own = two_sets.changed((*bench, "corner_radius"), 40)
    assert "bench: {deck_width: 460, corner_radius: 40}" in own.text
    back = own.changed((*bench, "corner_radius"), None)
    assert back.job == two_sets.job
    with pytest.raises(InputErrors, match="corner_radius"):
        back.changed((*bench, "corner_radius"), None).changed(bench, None)
    added = two_sets.changed(("loads", "blocking_gravity"), 0.5)
    assert added.job.loads != two_sets.job.loads


def test_the_written_text_keeps_its_comments(keeper: Session, tmp_path: Path) -> None:
    changed = keeper.changed(OVERHANG, Length(62.5))
    changed.write(tmp_path / "job.yaml")
    old = keeper.text.splitlines()
    new = (tmp_path / "job.yaml").read_text(encoding="utf-8").splitlines()
    ((before, after),) = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert after == before.replace("60", "62.5", 1)
    assert "#" in after
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


def test_a_file_that_cannot_be_written_stays(keeper: Session, tmp_path: Path) -> None:
    (tmp_path / "job.yaml").mkdir()
    for path in (tmp_path / "job.yaml", tmp_path / "missing" / "job.yaml"):
        with pytest.raises(OutputFolderError, match="cannot be written"):
            keeper.write(path)
    assert [path.name for path in tmp_path.iterdir()] == ["job.yaml"]


def test_written_through_a_link_with_its_permissions(keeper: Session, tmp_path: Path) -> None:
    file, link = tmp_path / "job.yaml", tmp_path / "link.yaml"
    file.write_text("old", encoding="utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    keeper.write(link)
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == keeper.text
    assert file.stat().st_mode & 0o777 == 0o640


def test_exact_findings_and_cut_list_are_those_of_a_check(keeper: Session) -> None:
    checked = check(read_job(KEEPER))
    units = keeper.job.units
    assert keeper.exact_findings() == tuple(told(each, units) for each in checked.findings)
    assert keeper.cut_list() == checked.cut_list
    codes = {finding.code for finding in checked.findings}
    assert {finding.code for finding in keeper.fast_findings()} <= codes


def test_files_and_nests_are_those_of_a_build(keeper: Session) -> None:
    """Byte for byte, though one process made both."""
    outcome = outcome_of("keepers-room")
    files = keeper.files()
    assert list(files) == list(outcome.files)
    assert [path for path in files if files[path] != outcome.files[path]] == []
    nested = keeper.nests()
    assert [each.solution.layouts for each in nested.nests] == [
        each.solution.layouts for each in outcome.nests
    ]
    assert nested.bar_nests == outcome.bar_nests


def test_sets_that_stay_as_they_were_are_not_made_again(
    two_sets: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    placed = Calls(monkeypatch, set_memory, "placed")
    found = Calls(monkeypatch, fast_findings, "set_findings")
    meshed = Calls(monkeypatch, mesh_stage, "set_meshes")
    find_nothing(monkeypatch)
    modelled = Calls(monkeypatch, set_stage, "model_set")
    checked = Calls(monkeypatch, set_stage, "set_findings")
    every = (placed, found, meshed, modelled, checked)

    def asked(session: Session) -> list[int]:
        for each in every:
            each.count = 0
        session.fast_findings()
        session.meshes()
        session.exact_findings()
        return [each.count for each in every]

    # Findings know no hand: of a set in both hands they are asked once.
    assert asked(two_sets) == [3, 2, 3, 3, 2]
    assert asked(two_sets) == [0, 0, 0, 0, 0]
    wider = two_sets.changed(("sets", "wide", "head_wall", "bench", "deck_width"), 470)
    assert asked(wider) == [1, 1, 1, 1, 1]
    assert asked(two_sets) == [0, 0, 0, 0, 0]
    assert asked(wider.changed(("job",), "Another name")) == [0, 0, 0, 0, 0]
    assert asked(wider.changed(("loads", "seat_n"), 2000)) == [0, 2, 0, 0, 2]
    changed = wider.changed(OVERHANG, Length(61))  # the other set is like this one
    assert asked(changed) == [3, 2, 3, 3, 2]


def test_libraries_are_read_again_once_they_changed(two_sets: Session) -> None:
    library = two_sets.path.parent / "materials-metric.yaml"
    text = library.read_text(encoding="utf-8")
    assert "price: 118.00" in text
    library.write_text(text.replace("price: 118.00", "price: 119.00"), encoding="utf-8")
    changed = two_sets.changed(("job",), "Another name")
    assert "price=119.0" in repr(changed.job.construction)
    assert "price=119.0" not in repr(two_sets.job.construction)


@pytest.mark.parametrize("asked", ["fast_findings", "meshes", "exact_findings", "nests", "files"])
def test_cancelled_from_another_thread(
    two_sets: Session, asked: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The thread at work waits at its first step until another one has cancelled it."""
    find_nothing(monkeypatch)
    at_work, cancelled = threading.Event(), threading.Event()

    class Waits:
        def stage(self, name: str, steps: int) -> None: ...

        def step(self, what: str) -> None:
            at_work.set()
            assert cancelled.wait(60)

        def note(self, what: str) -> None: ...

        def tell(self, what: str) -> None: ...

    progress = Progress(Waits())

    def cancel() -> None:
        assert at_work.wait(600)
        progress.cancel()
        cancelled.set()

    thread = threading.Thread(target=cancel)
    thread.start()
    with pytest.raises(Cancelled):
        getattr(two_sets, asked)(progress)
    thread.join()
    assert progress.counted.done == 1


def test_what_was_made_before_a_cancel_is_kept(
    two_sets: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    meshed = Calls(monkeypatch, mesh_stage, "set_meshes")

    class Cancels:
        def stage(self, name: str, steps: int) -> None: ...

        def step(self, what: str) -> None:
            progress.cancel()

        def note(self, what: str) -> None: ...

        def tell(self, what: str) -> None: ...

    progress = Progress(Cancels())
    with pytest.raises(Cancelled):
        two_sets.meshes(progress)
    assert meshed.count == 1
    assert len(two_sets.meshes()) == 3
    assert meshed.count == 3


def test_hands_mirror_each_other(two_sets: Session) -> None:
    """What one hand spans to the right of the corner, the other does to its left."""
    meshes = two_sets.meshes()
    assert list(meshes) == [("wide", Hand.RIGHT), ("keeper", Hand.RIGHT), ("keeper", Hand.LEFT)]

    def spans(hand: Hand) -> list[tuple[str, tuple[float, ...]]]:
        found = []
        for each in meshes["keeper", hand]:
            points = each.in_room().part.points
            low, high = points.min(axis=0), points.max(axis=0)
            x = (low[0], high[0]) if hand is Hand.LEFT else (-high[0], -low[0])
            found.append((each.part.name, (*x, low[1], high[1], low[2], high[2])))
        return found

    assert len(spans(Hand.LEFT)) > 10
    for (name, right), (other, left) in zip(spans(Hand.RIGHT), spans(Hand.LEFT), strict=True):
        assert name == other
        assert right == pytest.approx(left, abs=1e-6)


def test_importing_loads_nothing_heavy_and_fast_findings_no_kernel() -> None:
    def loaded(code: str) -> set[str]:
        code = f"import sys; {code}; print(' '.join(sys.modules))"
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
        )
        return {name.split(".")[0] for name in done.stdout.split()}

    heavy = {"cadquery", "OCP", "ezdxf", "numpy", "scipy", "pydantic", "ruamel", "typer"}
    assert loaded("import casewright; dir(casewright)").isdisjoint(heavy)
    asked = f"casewright.Session.from_file({str(KEEPER)!r}).fast_findings()"
    assert loaded(f"import casewright; {asked}").isdisjoint({"cadquery", "OCP", "ezdxf", "typst"})


def test_public_names_are_there_and_no_others() -> None:
    assert all(getattr(casewright, name).__name__ == name for name in NAMES)
    assert set(NAMES) <= set(dir(casewright))
    with pytest.raises(AttributeError, match="has no attribute 'Sessions'"):
        casewright.Sessions  # noqa: B018


def test_only_the_door_has_more_than_a_docstring() -> None:
    for package in ("casewright", "export", "nesting", "parametric"):
        assert (ROOT / package / "py.typed").is_file()
        for init in sorted((ROOT / package).rglob("__init__.py")):
            text = init.read_text(encoding="utf-8").strip()
            only_docstring = text.startswith('"""') and text.index('"""', 3) == len(text) - 3
            assert only_docstring or init == ROOT / "casewright" / "__init__.py"


def examples() -> Iterator[doctest.DocTest]:
    """The examples of all public names, and of their methods."""
    for name in NAMES:
        thing = getattr(casewright, name)
        module = import_module(thing.__module__)
        yield from doctest.DocTestFinder(recurse=True).find(
            thing, name, module, extraglobs={each: getattr(casewright, each) for each in NAMES}
        )


def test_the_examples_of_docstrings(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    shown: list[str] = []
    ran = []
    for example in examples():
        result = doctest.DocTestRunner().run(example, out=shown.append)
        if result.attempted:
            ran.append(example.name.partition(".")[0])
    assert shown == []
    assert set(ran) == set(NAMES)


def test_the_example_of_the_readme(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """It is run with the demos beside it, as a reader would."""
    for file in CONFIGS.iterdir():
        (tmp_path / "configs").mkdir(exist_ok=True)
        (tmp_path / "configs" / file.name).write_bytes(file.read_bytes())
    monkeypatch.chdir(tmp_path)
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    section = readme.partition("\n### From Python\n")[2].partition("\n##")[0]
    (code,) = re.findall(r"```python\n(.*?)```", section, re.S)
    names: dict[str, Any] = {}
    exec(code, names)
    assert names["wider"].job != names["session"].job
    assert (tmp_path / "configs" / "keepers-room.yaml").read_text(encoding="utf-8") == (
        names["wider"].text
    )
