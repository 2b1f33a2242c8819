"""Names as short, and as long, as names may be."""

import re
from pathlib import Path

import pytest

from casewright.errors import InputErrors
from casewright.intake.read_job import read_job
from tests.casewright.intake_folder import SHIP
from tests.casewright.renamed_job import (
    MOST,
    Naming,
    in_one_word,
    of_many_words,
    of_one_letter,
    renamed,
)

NAMINGS = (of_one_letter, of_many_words, in_one_word)


@pytest.mark.parametrize("naming", NAMINGS, ids=lambda naming: naming.__name__)
def test_every_name_is_read_as_it_is_given(naming: Naming, tmp_path: Path) -> None:
    job = read_job(renamed(tmp_path, SHIP, naming).path(f"{SHIP}.yaml"))
    names = {each.name for each in job.sets} | {
        unit.name for each in job.sets for unit in each.units()
    }
    lengths = {len(name) for name in names}
    assert lengths == ({1} if naming is of_one_letter else {MOST})


def test_a_name_of_one_letter_more_is_refused(tmp_path: Path) -> None:
    path = renamed(tmp_path, SHIP, in_one_word).path(f"{SHIP}.yaml")
    text = path.read_text(encoding="utf-8")
    (name,) = re.findall(r"^  (single\w+):", text, re.M)
    path.write_text(text.replace(f"  {name}:", f"  {name}w:"), encoding="utf-8")
    with pytest.raises(InputErrors, match="at most 60 characters"):
        read_job(path)
