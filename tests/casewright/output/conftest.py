"""Every test here that may replace or delete works in a temporary folder of its own, or not at
all.
"""

import tempfile
from pathlib import Path

import pytest

from casewright.output import held_folder
from casewright.output.held_folder import HeldFolder


@pytest.fixture
def below_temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A fresh temporary folder, made the working folder."""
    assert Path(tempfile.gettempdir()).resolve() in tmp_path.resolve().parents
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(params=["handles", "no exchange", "paths"])
def room(
    request: pytest.FixtureRequest, below_temporary: Path, monkeypatch: pytest.MonkeyPatch
) -> Path:
    """The same, on a system with all it takes, one that exchanges no names, and one that has no
    handles of folders either.
    """
    if request.param != "handles":
        monkeypatch.setattr(HeldFolder, "_renamed_by_linux", lambda *_: False)
    if request.param == "paths":
        monkeypatch.setattr(held_folder, "HANDLES", False)
    return below_temporary
