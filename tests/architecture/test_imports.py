"""What importing a part of the program must not load, checked in a fresh interpreter."""

import subprocess
import sys

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
