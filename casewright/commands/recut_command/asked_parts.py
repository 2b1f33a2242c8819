"""Which parts are cut again: numbers as they are typed, and codes as labels have them."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from casewright.errors import OptionErrors, OptionFault
from casewright.intake.document import shown
from casewright.intake.nearest import one_of
from casewright.intake.read_output import read_written
from casewright.stages.labels.label_record import PartRecord, job_in_record, part_record
from export.edge_names import bands_in_words, bands_of
from export.file_paths import part_file
from export.tables.csv_text import csv_rows, cut_size
from parametric.lists.cut_list import CutList, Part
from parametric.lists.operations import Operation
from parametric.stock.lengths import Units

PART, CODE, BUILD = "PART", "--code", "--build"
MOST_TIMES = 999
LABELS = "shop/labels.csv"
_TYPED = re.compile(r"\s*(?P<number>[A-Za-z]*[0-9]+)(?:\s*[xX×]\s*(?P<times>[0-9]{1,6}))?\s*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """The codes that were scanned, the rows of their labels in the build's table, and the tables
    and DXF files of that build by path.
    """

    build: Path
    codes: tuple[PartRecord, ...] = ()
    labels: tuple[Mapping[str, str], ...] = ()
    files: Mapping[str, bytes] = field(default_factory=dict)


def read_codes(texts: Sequence[str], build: Path, job: str) -> Scanned:
    """Return what the codes of labels say; `build` is the output folder whose labels they are.

    Raises:
        OptionErrors: one is no code of a part of this job, or of another revision than that.
    """
    if not texts:
        return Scanned(build=build)
    records, faults = [], []
    for text in texts:
        record = part_record(text)
        if record is None:
            allowed = "what the square code of a part's label says, such as"
            faults.append(_fault(shown(text), f"{allowed} 'part P012; layout ...; job ...'"))
        elif record.job != job_in_record(job):
            faults.append(
                _fault(f"{record.part} of the job {record.job}", f"labels of {job_in_record(job)}")
            )
        else:
            records.append(record)
    _raise_any(faults)
    files = read_written(build, BUILD)
    listed = {row.get("code", ""): row for row in csv_rows(files.get(LABELS, b"").decode())}
    revisions = dict.fromkeys(each.revision for each in map(part_record, listed) if each)
    for text, record in zip(texts, records, strict=True):
        if record.revision not in revisions:
            known = " or ".join(revisions) or "no revision: it has no labels"
            faults.append(
                _fault(
                    f"{record.part} of revision {record.revision}",
                    f"labels of {build}, which has {known}; name the build of that label with"
                    f" {BUILD}, or give the part number if the part is still the same",
                )
            )
        elif text.strip() not in listed:
            faults.append(_fault(shown(text), f"one of the codes in {build / LABELS}"))
    _raise_any(faults)
    labels = tuple(listed[text.strip()] for text in texts)
    return Scanned(build=build, codes=tuple(records), labels=labels, files=files)


def refuse_changed(
    scanned: Scanned, parts: Iterable[Part], made: Mapping[str, bytes], units: Units
) -> None:
    """Do nothing when the parts that were scanned are still those of the build: of one material,
    size and bands, and cut alike; `made` are their DXF files as they are now, by path.

    Raises:
        OptionErrors: some have changed since.
    """
    known = {part.number: part for part in parts}
    _raise_any(
        _fault(
            f"{record.part} of revision {record.revision}, which the job has changed since",
            f"a part that is now as it was then; give its number to cut it as it is now, or build"
            f" the job again into {scanned.build}",
        )
        for record, label in dict(zip(scanned.codes, scanned.labels, strict=True)).items()
        if _changed(known[record.part], label, scanned.files, made, units)
    )


def _changed(
    part: Part,
    label: Mapping[str, str],
    files: Mapping[str, bytes],
    made: Mapping[str, bytes],
    units: Units,
) -> bool:
    shown_now = {
        "material": part.material.key,
        "size": cut_size(part.panel.length_mm, part.panel.width_mm, units),
        "bands": bands_in_words(bands_of(part)),
    }
    own = [part_file(part.number, operation) for operation in Operation]
    return any(label.get(column) != text for column, text in shown_now.items()) or any(
        files.get(path) != made.get(path) for path in own
    )


def asked_parts(
    typed: Sequence[str], codes: Iterable[PartRecord], cut_list: CutList
) -> tuple[Part, ...]:
    """Return the parts of the cut list that are asked for, as often as they are, in its order.

    Raises:
        OptionErrors: nothing is asked for, or what is none of its parts; all faults at once.
    """
    known = {part.number: part for part in cut_list.parts}
    wanted: Counter[str] = Counter()
    faults = []
    for text in typed:
        found = _TYPED.fullmatch(text)
        number, times = (found["number"].upper(), found["times"]) if found else (text, None)
        if number not in known:
            faults.append(_unknown(PART, number, cut_list))
        elif not 1 <= int(times or 1) <= MOST_TIMES:
            allowed = f"a part number, or with how often, such as {number}x3, up to {MOST_TIMES}"
            faults.append(OptionFault(option=PART, found=shown(text), allowed=allowed))
        else:
            wanted[number] += int(times or 1)
    for record in codes:
        if record.part in known:
            wanted[record.part] += 1
        else:
            faults.append(_unknown(CODE, record.part, cut_list))
    if not wanted and not faults:
        allowed = f"a part number such as {next(iter(known), 'P001')}, or {CODE} with a label's"
        faults.append(OptionFault(option=PART, found="nothing", allowed=allowed))
    _raise_any(faults)
    return tuple(
        replace(part, quantity=wanted[number]) for number, part in known.items() if wanted[number]
    )


def _unknown(option: str, number: str, cut_list: CutList) -> OptionFault:
    found = shown(number)
    if any(bar.number == number for bar in cut_list.bars):
        found += ", which is sawn from a bar"
    names = [part.number for part in cut_list.parts]
    return OptionFault(option=option, found=found, allowed=one_of(names, number, what="parts"))


def _fault(found: str, allowed: str) -> OptionFault:
    return OptionFault(option=CODE, found=found, allowed=allowed)


def _raise_any(faults: Iterable[OptionFault]) -> None:
    found = tuple(faults)
    if found:
        raise OptionErrors(found)
