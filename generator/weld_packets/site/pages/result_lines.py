"""Results of coupons and first-off as lines of a form: what has one limit is one line, with a place for each robot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from weld_packets.packet.records.forms import RequiredResult, Stage

_FROM_MEMORY = "from memory"


@dataclass(frozen=True)
class ResultLine:
    """All results with one limit: each has its own place in the form."""

    results: tuple[RequiredResult, ...]

    @property
    def first(self) -> RequiredResult:
        """The first of them; limit, unit, welds and source of all are equal."""
        return self.results[0]

    @property
    def title(self) -> str:
        """The inspection that it belongs to; empty for a result that is one by itself."""
        return self._parts[0]

    @property
    def what(self) -> str:
        """What is measured or judged, without the inspection."""
        return self._parts[1]

    @property
    def is_from_memory(self) -> bool:
        """Whether the limit was written from memory, which a form must not hide."""
        return _FROM_MEMORY in self.first.source

    def at(self, stage: Stage) -> tuple[RequiredResult, ...]:
        """Return the results that have a place at ``stage``."""
        return tuple(result for result in self.results if result.stage == stage)

    @property
    def _parts(self) -> tuple[str, str]:
        title, separator, what = self.first.what.partition(": ")
        return (title, what) if separator else ("", title)


def result_lines(results: Iterable[RequiredResult]) -> tuple[ResultLine, ...]:
    """Return the lines of a form for ``results``, in the order in which each limit comes first."""
    found: dict[object, list[RequiredResult]] = {}
    for result in results:
        found.setdefault(result.model_copy(update={"key": "", "robot": "", "stage": "coupon"}), []).append(result)
    return tuple(ResultLine(tuple(same)) for same in found.values())
