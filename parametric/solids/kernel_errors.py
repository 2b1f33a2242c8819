"""The errors that leave the CAD kernel's door; they load no kernel themselves."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


class KernelFailure(RuntimeError):
    """The CAD kernel could not do an operation on a part: a bug, or a size it cannot take."""

    def __init__(self, part: str, operation: str, reason: str) -> None:
        self.part = part
        self.operation = operation
        self.reason = reason
        super().__init__(f"{part}: {operation} failed: {reason}")


class NotFlat(ValueError):
    """The solid is not a flat panel; `reason` says what stands against it, and where."""

    def __init__(self, name: str, reason: str) -> None:
        self.name = name
        self.reason = reason
        super().__init__(f"{name} is not a flat panel: {reason}")


@contextmanager
def kernel_operation(part: str, operation: str) -> Iterator[None]:
    """Turn what the kernel raises inside the block into a `KernelFailure`."""
    try:
        yield
    except KernelFailure:
        raise
    except Exception as error:  # the kernel's bindings raise bare and unrelated types
        raise KernelFailure(part, operation, str(error) or type(error).__name__) from error
