"""What was measured beside its peer, as ratios; a missed limit ends the process with 1."""

import platform
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from importlib.metadata import version


@dataclass(frozen=True)
class Comparison:
    """One row: what was measured, its peer, and the most that their ratio may be (None: shown)."""

    what: str
    ours: float
    peer: float
    unit: str
    limit: float | None = None

    @property
    def ratio(self) -> float:
        return self.ours / self.peer if self.peer else float("inf")

    @property
    def missed(self) -> bool:
        return self.limit is not None and self.ratio > self.limit


def show_and_exit(
    title: str,
    ours: str,
    peer: str,
    rows: Sequence[Comparison],
    packages: Iterable[str],
    seed: int | None = None,
) -> None:
    """Print the table with versions and seed, and end the process: 1 if any limit is missed."""
    print(title)
    print(f"  {versions(packages)}; seed {'none' if seed is None else seed}")
    print(f"  {'':34} {ours:>14} {peer:>14} {'ratio':>8} {'limit':>7}")
    for row in rows:
        limit = "" if row.limit is None else f"{row.limit:.2f}"
        verdict = "  MISSED" if row.missed else ""
        print(
            f"  {f'{row.what}, {row.unit}':34} {row.ours:14.3f} {row.peer:14.3f} "
            f"{row.ratio:8.3f} {limit:>7}{verdict}"
        )
    sys.exit(1 if any(row.missed for row in rows) else 0)


def versions(packages: Iterable[str]) -> str:
    named = ", ".join(f"{package} {version(package)}" for package in packages)
    return f"Python {platform.python_version()}, {named}"
