"""Fresh temporary folders with copies of this tree, and a shield: nothing else can be written.

A changed program may delete what it should keep. So it only ever runs in a copy, in a process that
sees every other folder read-only (a mount namespace of its own, made by util-linux's `unshare`),
with HOME and TMPDIR in the same temporary folder.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.bench.mutation.reach import TREE

ROOT = Path(__file__).parents[3]
COPIED = ("parametric", "nesting", "export", "casewright", "configs", "tests")
COPIED_FILES = ("pyproject.toml", "README.md", "DEVELOPERS.md", ".importlinter")
LEFT_WRITABLE = ("/proc", "/sys", "/dev")
PREFIX = "casewright-mutants-"

SHIELD = """
mount --bind "$0" "$0"
while read -r _ at _; do
  case "$at" in "$0"{but}) ;; *) mount -o remount,bind,ro "$at" 2>/dev/null ;; esac
done < /proc/mounts
if touch {probe} 2>/dev/null; then rm -f {probe}; echo "the shield does not hold" >&2; exit 97; fi
cd "$0/{tree}" && exec "$@"
"""


def make_scratch(below: Path | None = None) -> Path:
    """Return a fresh temporary folder that holds a copy of the tree, a home and a place for files.

    Compiled kernels come along: their cache keeps to the time and size of the sources, kept too.
    """
    scratch = Path(tempfile.mkdtemp(prefix=PREFIX, dir=below)).resolve()
    for name in ("home", "tmp"):
        (scratch / name).mkdir()
    tree = scratch / TREE
    tree.mkdir()
    for name in COPIED:
        shutil.copytree(ROOT / name, tree / name)
    for name in COPIED_FILES:
        if (ROOT / name).exists():
            shutil.copy2(ROOT / name, tree / name)
    return scratch


def assert_in_scratch(tree: Path) -> None:
    """Raise RuntimeError unless `make_scratch` made `tree`, and temporary files go beside it."""
    scratch = tree.resolve().parent
    beside = Path(tempfile.gettempdir()).resolve() == scratch / "tmp"
    if tree.name != TREE or not scratch.name.startswith(PREFIX) or not beside:
        raise RuntimeError(f"faults are only made in a fresh temporary copy, not in {tree}")


def shielded(scratch: Path, command: Sequence[str]) -> list[str]:
    """Return the command that runs this one in the scratch folder's tree, behind the shield."""
    probe = ROOT / f"{PREFIX}probe"
    but = "".join(f"|{at}|{at}/*" for at in LEFT_WRITABLE)
    script = SHIELD.format(but=but, probe=f"'{probe}'", tree=TREE)
    namespace = ["unshare", "--user", "--map-root-user", "--mount"]
    return [*namespace, "sh", "-c", script, str(scratch), *command]


def environment(scratch: Path, **more: str) -> dict[str, str]:
    """Return the environment of whatever runs in the scratch folder."""
    return os.environ | {
        "PYTHONPATH": str(scratch / TREE),
        "HOME": str(scratch / "home"),
        "TMPDIR": str(scratch / "tmp"),
        "OPENBLAS_NUM_THREADS": "1",
        **more,
    }


def start(scratch: Path, arguments: Sequence[str], **more: str) -> "subprocess.Popen[str]":
    """Start this Python behind the shield, with pipes to and from it."""
    return subprocess.Popen(
        shielded(scratch, [sys.executable, *arguments]),
        env=environment(scratch, **more),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
