"""Checks as printed: what was held against which limit, in the order's system of units."""

from __future__ import annotations

from typing import Literal

from weld_packets.calculation.trace import Verdict
from weld_packets.packet.numbers import inches
from weld_packets.packet.records import Check
from weld_packets.packet.values import Showing


def check_of(verdict: Verdict, showing: Showing) -> Check:
    """Return a verdict as printed; one that failed never reaches a packet."""
    if verdict.passed is False:
        raise ValueError(f"{verdict.subject}: a failed check must be refused before the packet: {verdict.text}")
    act = verdict.act
    return Check(
        subject=verdict.subject,
        text=_text(verdict, showing),
        outcome=_outcome(verdict),
        source=verdict.source,
        do="" if act is None else act.do,
        stage="" if act is None else act.stage,
    )


def _outcome(verdict: Verdict) -> Literal["passed", "not checked", "warning"]:
    if verdict.passed:
        return "passed"
    return "warning" if verdict.warns else "not checked"


def _text(verdict: Verdict, showing: Showing) -> str:
    """Return what was found; where inches are shown first they stand before the millimetres."""
    if showing.first != "US customary":
        return verdict.text
    told, rest = "", verdict.text
    for length in verdict.measured:
        before, _, rest = rest.partition(length.text)
        told += f"{before}{inches(length.millimetres, length.last)} ({length.text})"
    return told + rest
