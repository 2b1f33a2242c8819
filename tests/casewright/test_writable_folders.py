"""Where nothing below the home folder can be written, libraries get a folder to write to.

"Cannot be written" is a path below a file: that holds for every user, root too.
"""

import os
import re
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from casewright import writable_folders
from casewright.errors import NoTemporaryFolder
from casewright.writable_folders import settle_folders

ROOT = Path(__file__).parents[2]
JOB = ROOT / "configs" / "keepers-room.yaml"
COMMAND = (sys.executable, "-c", "from casewright.cli import main; main()")


@pytest.fixture
def below_a_file(tmp_path) -> Path:
    (tmp_path / "file").touch()
    return tmp_path / "file" / "folder"


@pytest.fixture
def temporary(tmp_path, monkeypatch) -> Path:
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    monkeypatch.setattr(os, "environ", os.environ.copy())
    for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "MPLCONFIGDIR", "NUMBA_CACHE_DIR"):
        os.environ.pop(name, None)
    return folder


def nobody_at_home() -> Path:
    raise RuntimeError("Could not determine home directory.")


def test_a_home_that_can_be_written_is_left_alone(temporary, tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    before = dict(os.environ)
    assert settle_folders() is None
    assert dict(os.environ) == before
    assert not list(temporary.iterdir())


def test_without_a_home_caches_and_settings_go_to_one_private_folder(temporary, monkeypatch):
    monkeypatch.setattr(Path, "home", nobody_at_home)
    settle_folders()
    (folder,) = temporary.iterdir()
    for name in ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME"):
        assert os.environ[name] == str(folder)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    settle_folders()
    assert list(temporary.iterdir()) == [folder]


def test_a_home_that_does_not_exist_is_not_made(temporary, tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "nobody")
    settle_folders()
    assert not (tmp_path / "nobody").exists()
    assert Path(os.environ["XDG_CACHE_HOME"]).parent == temporary


@pytest.mark.parametrize(
    ("usual", "name"), [(".cache", "XDG_CACHE_HOME"), (".config", "XDG_CONFIG_HOME")]
)
def test_only_what_cannot_be_written_in_a_home_is_put_elsewhere(
    temporary, tmp_path, usual, name, monkeypatch
):
    """XDG Base Directory Specification: caches are kept in .cache and settings in .config of the
    home folder where nothing else is named. Here one of the two is a file.
    """
    home = tmp_path / "home"
    home.mkdir()
    (home / usual).touch()
    monkeypatch.setattr(Path, "home", lambda: home)
    before = dict(os.environ)
    settle_folders()
    changed = {key: value for key, value in os.environ.items() if before.get(key) != value}
    own = str(own_folder(temporary))
    drawings = {"MPLCONFIGDIR": f"{own}/matplotlib"} if name == "XDG_CONFIG_HOME" else {}
    assert changed == {name: own} | drawings


def test_what_the_user_names_and_can_write_is_kept(temporary, tmp_path, below_a_file, monkeypatch):
    monkeypatch.setattr(Path, "home", nobody_at_home)
    os.environ |= {"XDG_CACHE_HOME": str(tmp_path / "new"), "XDG_CONFIG_HOME": str(below_a_file)}
    settle_folders()
    assert os.environ["XDG_CACHE_HOME"] == str(tmp_path / "new")
    assert Path(os.environ["XDG_CONFIG_HOME"]).parent == temporary


def own_folder(temporary: Path) -> Path:
    return temporary / f"casewright-{os.getuid()}"


def planted_link(folder: Path) -> None:
    (folder.parent / "elsewhere").mkdir()
    folder.symlink_to(folder.parent / "elsewhere")


def planted_open_folder(folder: Path) -> None:
    folder.mkdir()
    folder.chmod(0o777)


@pytest.mark.parametrize("plant", [Path.touch, planted_link, planted_open_folder])
def test_nothing_is_loaded_from_what_another_may_have_put_there(temporary, plant, monkeypatch):
    monkeypatch.setattr(Path, "home", nobody_at_home)
    plant(own_folder(temporary))
    settle_folders()
    folder = Path(os.environ["XDG_CACHE_HOME"])
    assert folder.parent == temporary
    assert folder != own_folder(temporary)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_it_is_told_only_where_compiling_is_kept_nowhere_else(temporary, tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "home", nobody_at_home)
    monkeypatch.setattr(writable_folders, "_kernels_are_kept", lambda: False)
    told = settle_folders()
    assert told is not None
    assert str(own_folder(temporary)) in told
    assert "\n" not in told
    monkeypatch.undo()
    monkeypatch.setattr(os, "environ", {"NUMBA_CACHE_DIR": str(tmp_path / "kernels")})
    monkeypatch.setattr(Path, "home", nobody_at_home)
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    assert settle_folders() is None


def test_no_temporary_folder_is_told_with_what_to_do(monkeypatch):
    def none() -> str:
        raise FileNotFoundError(2, "No usable temporary directory found in ['/tmp']")

    monkeypatch.setattr(tempfile, "gettempdir", none)
    with pytest.raises(NoTemporaryFolder, match=r"\['/tmp'\]; set TMPDIR"):
        settle_folders()


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run the command with no environment but this."""
    return subprocess.run(
        [*COMMAND, *arguments],
        env={"PATH": os.defpath, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_job_is_checked_where_no_library_can_keep_anything(below_a_file, tmp_path):
    """The CAD kernel's library, the drawing library and the beam solver all look for a home."""
    nowhere = str(below_a_file)
    done = run(
        "check", str(JOB), HOME=nowhere, XDG_CACHE_HOME=nowhere, XDG_CONFIG_HOME=nowhere,
        TMPDIR=str(tmp_path),
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert re.search(r"Findings: [1-9][0-9]+ ok, 0 warn, 0 fail", done.stdout)
    assert "directory" not in done.stderr  # no library complains


WITHOUT_HOME = """
import os, pathlib
os.environ.pop("HOME", None)
import pwd
def unknown(user): raise KeyError(user)
pwd.getpwuid = unknown
from casewright.cli import main
main()
"""


def test_a_job_is_checked_by_a_user_whom_nobody_knows(tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_HOME, "check", str(JOB)],
        env={"PATH": os.defpath, "PYTHONPATH": str(ROOT), "TMPDIR": str(tmp_path)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert re.search(r"Findings: [1-9][0-9]+ ok, 0 warn, 0 fail", done.stdout)
