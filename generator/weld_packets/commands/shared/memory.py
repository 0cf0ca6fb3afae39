"""What a process has loaded for good, kept from the collector of cycles."""

from __future__ import annotations

import gc
from collections.abc import Callable
from typing import TypeVar

T = TypeVar("T")
_COLLECTED_AFTER = 100_000
"""New objects after which cycles are looked for: more than an order has at once, which nearly all go with it."""


def kept(load: Callable[[], T]) -> T:
    """Return what ``load`` returns, and keep all that it opened out of reach of the collector of cycles.

    None of it is waste before the process ends, so to search it costs time while it is loaded, for every order and at
    the end, and takes from forked processes the memory that they share. What an order leaves behind is collected.
    """
    gc.disable()
    try:
        return load()
    finally:
        gc.freeze()
        gc.set_threshold(_COLLECTED_AFTER)
        gc.enable()
