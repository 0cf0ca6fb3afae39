"""A verdict of a calculation as a check that is printed."""

from __future__ import annotations

from typing import Literal

from weld_packets.calculation.measure import sentence
from weld_packets.calculation.trace import Verdict
from weld_packets.packet.records import Check
from weld_packets.packet.settings.values import Showing


def check_of(verdict: Verdict, showing: Showing) -> Check:
    """Return a verdict as printed; one that failed never reaches a packet."""
    if verdict.passed is False:
        raise ValueError(f"{verdict.subject}: a failed check must be refused before the packet: {verdict.text}")
    act = verdict.act
    return Check(
        subject=verdict.subject,
        text=sentence(verdict.said, showing.first),
        outcome=_outcome(verdict),
        source=verdict.source,
        do="" if act is None else sentence(act.do, showing.first),
        stage="" if act is None else act.stage,
    )


def _outcome(verdict: Verdict) -> Literal["passed", "not checked", "warning"]:
    if verdict.passed:
        return "passed"
    return "warning" if verdict.warns else "not checked"
