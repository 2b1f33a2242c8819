"""What importing a part of the program must not load, checked in a fresh interpreter."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

KERNEL = ("cadquery", "OCP", "vtkmodules")


def loaded_by(statement: str) -> set[str]:
    code = f"import sys; {statement}; print(' '.join(sorted(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return {name.split(".")[0] for name in done.stdout.split()}


@pytest.mark.parametrize(
    "module",
    [
        "casewright.cli",
        "casewright.intake.read_job",
        "casewright.commands.nest_command.run",
        "nesting.solve",
        "export.drawing.panel_drawing",
        "export.dxf.writer",
        "export.summary.page",
        "parametric.sets.room_set",
        "parametric.lists.part_catalogue",
        "parametric.meshes.set_meshes",
    ],
)
def test_the_cad_kernel_is_not_loaded(module: str) -> None:
    assert loaded_by(f"import {module}").isdisjoint(KERNEL)


def test_the_solids_do_load_it() -> None:
    assert "cadquery" in loaded_by("import parametric.solids.board_solid")


def test_help_loads_neither_kernel_nor_packer_nor_dxf() -> None:
    shown = "import contextlib, io; from casewright.cli import main\n"
    code = (
        "import sys, io, contextlib\n"
        "from casewright.cli import main\n"
        "sys.argv = ['casewright', '--help']\n"
        "with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):\n"
        "    main()\n"
        "print(' '.join(sorted(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    names = {name.split(".")[0] for name in done.stdout.split()}
    assert names.isdisjoint({*KERNEL, "rectpack", "ezdxf", "shapely", "numpy"}), shown


def test_a_check_that_is_remembered_loads_no_kernel(tmp_path: Path) -> None:
    code = (
        "import sys, contextlib\n"
        "from casewright.cli import main\n"
        "sys.argv = ['casewright', 'check', sys.argv[1]]\n"
        "with contextlib.suppress(SystemExit):\n"
        "    main()\n"
        "print('loaded:', ' '.join(sorted(sys.modules)))"
    )
    job = Path(__file__).parents[2] / "configs" / "keepers-room.yaml"
    environment = os.environ | {"CASEWRIGHT_CACHE": str(tmp_path)}
    shown = [
        subprocess.run(
            [sys.executable, "-c", code, str(job)],
            capture_output=True,
            text=True,
            check=True,
            env=environment,
        ).stdout.split("loaded:")
        for _ in range(2)
    ]
    loaded = [{name.split(".")[0] for name in modules.split()} for _, modules in shown]
    assert loaded[0].issuperset({"cadquery"})
    assert loaded[1].isdisjoint(KERNEL)
    assert shown[0][0] == shown[1][0]
