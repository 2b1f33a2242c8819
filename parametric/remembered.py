"""What is costly and depends on nothing but what it is made from: made once, remembered in this run
and, where a store is open, from one run to the next.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import lru_cache, wraps
from typing import Concatenate, ParamSpec, Protocol, TypeVar, cast

P = ParamSpec("P")
T = TypeVar("T")


class Store(Protocol):
    """Keeps bytes by key between runs. What it gives back is what was kept, or nothing."""

    def kept(self, key: str) -> bytes | None:
        """Return what is kept under the key, None if nothing whole is."""

    def keep(self, key: str, value: bytes) -> None:
        """Keep it, if that can be done."""


class _Open:
    """The store that is open; nothing is remembered between runs without one."""

    store: Store | None = None


@contextmanager
def opened(store: Store) -> Iterator[None]:
    """Remember between runs what is made inside."""
    before, _Open.store = _Open.store, store
    try:
        yield
    finally:
        _Open.store = before


def remembered(
    kind: str,
    *,
    key: Callable[P, object],
    freeze: Callable[[T], bytes],
    thaw: Callable[[bytes], T],
    most: int,
    whole: Callable[Concatenate[T, P], bool] | None = None,
) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Return a decorator for a pure function: up to `most` of its answers are kept in this run.

    `key` returns what an answer depends on, and its `repr` must say all of that; it takes what the
    function takes. `thaw` undoes `freeze`. Errors are not remembered, nor between runs what is not
    `whole`, which takes the answer and then what the function takes.
    """

    def decorate(make: Callable[P, T]) -> Callable[P, T]:
        def made(*args: P.args, **kwargs: P.kwargs) -> T:
            store = _Open.store
            if store is None:
                return make(*args, **kwargs)
            name = hashlib.sha256(f"{kind}\n{key(*args, **kwargs)!r}".encode()).hexdigest()
            held = store.kept(name)
            if held is not None:
                return thaw(held)
            answer = make(*args, **kwargs)
            if whole is None or whole(answer, *args, **kwargs):
                store.keep(name, freeze(answer))
            return answer

        return cast("Callable[P, T]", lru_cache(maxsize=most)(wraps(make)(made)))

    return decorate
