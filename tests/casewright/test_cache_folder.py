"""What is remembered between runs: whole or not at all, the same as made anew, never too much."""

import os
import zlib
from concurrent.futures import ThreadPoolExecutor
from hashlib import sha256
from pathlib import Path
from random import Random

import pytest

from casewright import cache_folder
from casewright.cache_folder import VARIABLE, CacheFolder, remembering
from parametric.geometry.hand import Hand
from parametric.joints.machining import machining
from parametric.remembered import opened, remembered
from parametric.sets.room_set import build_set
from parametric.shapes.shape import placed_shape
from parametric.solids.shape_solids import solids_of
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.solid_assertions import difference_mm3


def files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def test_what_is_kept_comes_back(tmp_path: Path) -> None:
    store = CacheFolder(tmp_path / "not" / "there yet")
    assert store.kept("one") is None
    store.keep("one", b"1" * 1000)
    store.keep("none", b"")
    assert (store.kept("one"), store.kept("none"), store.kept("two")) == (b"1" * 1000, b"", None)
    assert CacheFolder(tmp_path / "not" / "there yet").kept("one") == b"1" * 1000


@pytest.mark.parametrize("damage", ["cut", "flipped", "emptied", "longer", "another's"])
def test_what_is_damaged_is_thrown_away_and_never_believed(tmp_path: Path, damage: str) -> None:
    store = CacheFolder(tmp_path)
    store.keep("one", b"what was made")
    store.keep("two", b"something else")
    path = store._path("one")
    held = path.read_bytes()
    path.write_bytes(
        {
            "cut": held[:-3],
            "flipped": held[:-1] + bytes([held[-1] ^ 1]),
            "emptied": b"",
            "longer": held + b"\0",
            "another's": sha256(b"x").digest() + zlib.compress(b"what was made"),
        }[damage]
    )
    assert store.kept("one") is None
    assert not path.exists()
    store.keep("one", b"made anew")
    assert store.kept("one") == b"made anew"
    assert store.kept("two") == b"something else"


def test_another_program_finds_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = CacheFolder(tmp_path)
    store.keep("one", b"of this program")
    monkeypatch.setattr(cache_folder, "_program", lambda: "another")
    assert store.kept("one") is None


def test_what_was_used_longest_ago_goes_first(tmp_path: Path) -> None:
    store = CacheFolder(tmp_path)
    for number in range(10):
        store.keep(str(number), Random(number).randbytes(1000))
    for age, number in enumerate((3, 1, 4, 0, 5, 9, 2, 6, 8, 7)):
        os.utime(store._path(str(number)), (1000 + age, 1000 + age))
    assert store.kept("3") is not None, "used now"
    stranger = tmp_path / "ab" / "letter.txt"
    stranger.parent.mkdir(exist_ok=True)
    stranger.write_text("not ours")
    store.trim(6_000)
    left = [number for number in range(10) if store.kept(str(number)) is not None]
    assert left == [3, 6, 7, 8], "4 times 1,043 bytes are at most 0.8 of 6,000"
    assert stranger.exists()
    store.trim(6_000)
    assert sum(path.stat().st_size for path in files(tmp_path)) <= 6_000


def test_what_a_killed_process_was_writing_goes_a_day_later(tmp_path: Path) -> None:
    store = CacheFolder(tmp_path)
    store.keep("one", b"1")
    folder = store._path("one").parent
    old, new = folder / "new-old1.part", folder / "new-now1.part"
    for path in (old, new):
        path.write_bytes(b"half of it")
    os.utime(old, (1000, 1000))
    store.trim()
    assert (old.exists(), new.exists(), store.kept("one")) == (False, True, b"1")


def test_an_interrupt_while_it_writes_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def pressed(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cache_folder.Path, "replace", pressed)
    with pytest.raises(KeyboardInterrupt):
        CacheFolder(tmp_path).keep("one", b"1")
    assert files(tmp_path) == []


def test_many_at_once_leave_nothing_half_written(tmp_path: Path) -> None:
    store = CacheFolder(tmp_path)

    def work(number: int) -> bytes | None:
        key = str(number % 7)
        store.keep(key, key.encode() * 10_000)
        return store.kept(key)

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(work, range(400)))
    assert found == [str(number % 7).encode() * 10_000 for number in range(400)]
    assert len(files(tmp_path)) == 7


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_cannot_be_written_is_as_none(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    store = CacheFolder(tmp_path / "in it")
    store.keep("one", b"1")
    assert store.kept("one") is None


def test_a_file_in_the_way_is_as_no_folder(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    store = CacheFolder(tmp_path / "taken")
    store.keep("one", b"1")
    assert store.kept("one") is None
    store.trim()


def test_an_answer_is_made_once_and_errors_each_time(tmp_path: Path) -> None:
    calls = []

    @remembered("test", key=lambda n: n, freeze=str.encode, thaw=bytes.decode, most=0)
    def spelled(n: int) -> str:
        calls.append(n)
        if n < 0:
            raise ValueError("no")
        return "x" * n

    with opened(CacheFolder(tmp_path)):
        assert [spelled(3), spelled(3), spelled(4)] == ["xxx", "xxx", "xxxx"]
        assert calls == [3, 4]
        for _ in range(2):
            with pytest.raises(ValueError, match="no"):
                spelled(-1)
    assert calls == [3, 4, -1, -1]
    assert spelled(3) == "xxx"
    assert calls[-1] == 3, "without a store nothing is remembered beyond the run"


def test_the_option_and_the_variable_switch_it_off(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    @remembered("test", key=lambda: 0, freeze=lambda b: b, thaw=lambda b: b, most=0)
    def made() -> bytes:
        return b"made"

    for fresh, folder in ((True, tmp_path), (False, None)):
        monkeypatch.setenv(VARIABLE, "" if folder is None else str(folder))
        with remembering(fresh=fresh):
            made()
        assert files(tmp_path) == []
    monkeypatch.setenv(VARIABLE, str(tmp_path))
    with remembering(fresh=False):
        made()
    assert len(files(tmp_path)) == 1


def test_shapes_that_were_kept_are_those_that_weresolids_of(tmp_path: Path) -> None:
    """All shapes of the example: the same solids, to the kernel's last digit, and readings."""
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    worked = machining(assembly, ROUTING)
    shapes = {
        placed_shape(part, worked.of(part.name)).shape
        for part in (*assembly.boards, *assembly.members)
    }
    with opened(CacheFolder(tmp_path)):
        solids_of.cache_clear()
        first = {shape: solids_of(shape, ROUTING) for shape in shapes}
        kept = len(files(tmp_path))
        solids_of.cache_clear()
        again = {shape: solids_of(shape, ROUTING) for shape in shapes}
    assert 0 < kept <= len(shapes)
    assert len(files(tmp_path)) == kept
    for shape in shapes:
        one, other = first[shape], again[shape]
        assert (one.laid, one.volume_mm3) == (other.laid, other.volume_mm3)
        assert one.solid.Volume() == other.solid.Volume()
        assert difference_mm3(one.solid, other.solid) < 1e-6
        assert len(one.bands) == len(other.bands)
    solids_of.cache_clear()
