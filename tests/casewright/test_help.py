"""The help of the command line: every command, argument and option is there and says what it is."""

import inspect
import re
from pathlib import Path

import pytest
from typer.main import get_command

from casewright.cli import app

# What a person types, by hand from what the commands are for; `--help` goes without saying.
FOLDER = {"--out", "--replace-edited", "--wait"}
USAGE: dict[str, tuple[list[str], set[str]]] = {
    "build": (
        ["JOB"],
        {
            *("--fresh", "--despite-failures", "--despite-shortage", "--effort", "--fewer-layouts"),
            *("--extra-minute", "--verbose"),
        }
        | FOLDER,
    ),
    "check": (["JOB"], {"--fresh", "--verbose"}),
    "kit": (["JOB"], {"--set", "--hand", "--compare"}),
    "openings": (["JOB"], {"--set", "--effort"} | FOLDER),
    "nest": (
        ["PIECES", "STOCK..."],
        {
            *("--defects", "--units", "--gap", "--trim", "--rim", "--rim-side", "--edge-to-edge"),
            *("--stages", "--book-height", "--thickness", "--fewer-layouts", "--reusable"),
            *("--effort", "--seconds", "--seed", "--workers", "--column", "--spare"),
            *("--what-if", "--other-gap"),
        }
        | FOLDER,
    ),
    "bars": (
        ["PIECES", "BARS..."],
        {"--units", "--kerf", "--end-trim", "--reusable", "--column", "--spare"} | FOLDER,
    ),
    "panels": (["TABLE", "MATERIALS..."], {"--machine", "--effort"} | FOLDER),
    "compare": (["OLD", "NEW"], {"--cut"} | FOLDER),
    "recut": (
        ["JOB", "PART..."],
        {
            *("--code", "--offcuts", "--offcuts-only", "--offcut-trim", "--reason", "--date"),
            *("--build", "--despite-failures", "--fresh"),
        }
        | FOLDER,
    ),
    "schema": ([], set()),
    "new": (["FOLDER"], {"--units"}),
}


VALUES = {
    "build": {"--fewer-layouts": "PERCENT"},
    "kit": {"--compare": "LIST"},
    "nest": {
        "--fewer-layouts": "PERCENT",
        "--reusable": "LENGTHxWIDTH",
        "--column": "NAME=HEADER",
        "--spare": "PERCENT",
    },
    "bars": {"--column": "NAME=HEADER", "--spare": "PERCENT"},
    "panels": {"--machine": "ROUTER"},
    "compare": {"--cut": "LIST"},
    "recut": {
        "--code": "TEXT",
        "--offcuts": "LIST",
        "--offcut-trim": "LENGTH",
        "--reason": "TEXT",
        "--date": "DAY",
    },
}


def command(name: str):
    return get_command(app).commands[name]


@pytest.mark.parametrize("name", list(USAGE))
def test_what_is_typed(name: str) -> None:
    arguments, options = USAGE[name]
    params = command(name).params
    names = [each.metavar for each in params if each.param_type_name == "argument"]
    assert names == arguments
    flags = {each.opts[0] for each in params if each.param_type_name == "option"}
    assert flags == options


@pytest.mark.parametrize("name", list(USAGE))
def test_everything_is_told_in_a_sentence(name: str) -> None:
    """A sentence begins with a capital letter or a name in capitals, and ends with a full stop."""
    told = {each.name: each.help or "" for each in command(name).params}
    told["the command itself"] = command(name).help or ""
    for what, words in told.items():
        assert words[:1].isupper(), what
        assert words.rstrip().endswith("."), what


@pytest.mark.parametrize("name", list(USAGE))
def test_what_stands_for_a_value(name: str) -> None:
    """It says what kind of value that is, where a text, a number or a path would be too vague."""
    named = {
        each.opts[0]: each.metavar
        for each in command(name).params
        if each.param_type_name == "option" and each.metavar is not None
    }
    assert named == VALUES.get(name, {})


def test_exit_codes_are_told_below_the_commands() -> None:
    """Each code once, in order, with what it means: scripts rest on them."""
    epilog = inspect.cleandoc(get_command(app).epilog or "")
    assert epilog.startswith("Exit codes: 0 done, ")
    places = [epilog.index(f" {code} ") for code in (0, 1, 2, 3, 4, 130)]
    assert places == sorted(places)
    assert epilog.endswith("130 stopped by Ctrl-C.")


README = Path(__file__).parents[2] / "README.md"


def test_the_readme_names_each_command_and_no_option_that_there_is_not() -> None:
    """The command that runs the tests apart, whose options are those of others."""
    text = re.sub("<!-- tests -->.*<!-- end tests -->", "", README.read_text("utf-8"), flags=re.S)
    table = text.partition("\n## Commands\n")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| `casewright (\w+)([^`]*)` \|", table, re.M)
    assert sorted(name for name, _ in rows) == sorted(USAGE)
    for name, typed in rows:
        arguments, options = USAGE[name]
        assert set(re.findall(r"--[a-z-]+", typed)) <= options, name
        assert [each for each in arguments if each in typed] == arguments, name
    known = {"--help"}.union(*(options for _, options in USAGE.values()))
    assert set(re.findall(r"(?<![\w|-])--[a-z][a-z-]*", text)) <= known
