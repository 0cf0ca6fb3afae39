"""Phrases that several pages share."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from weld_packets.wording.english import counted

if TYPE_CHECKING:  # tables load what computes, and records, which take phrases from here, do not
    from weld_packets.model.sheet_gauges import Gauge
    from weld_packets.model.tables.plant import RiskAssessment, Supervisor

YOUR_SUPERVISOR = "your supervisor"
"""Who is called where nobody is named."""


def at_count(parts: int, when: Literal["after", "during"]) -> str:
    """Return when something is due: after so many parts, in the prove-out, or while a part is welded."""
    if when == "during":
        return f"while part {parts} is welded" if parts else "with the first-off part"
    return f"after {counted(parts, 'part')}" if parts else "in the prove-out"


def clashes_words(programs: int) -> str:
    """Return how many programs of robots two orders use otherwise; at least one."""
    found = "One program of a robot is" if programs == 1 else f"{programs} programs of robots are"
    return f"{found} used otherwise in two orders"


def gauge_words(gauge: Gauge) -> str:
    """Return a gauge as an order writes it."""
    return f"{gauge.number} ga"


def gauge_source(gauge: Gauge) -> str:
    """Return a gauge and where its thickness was read."""
    owner = f"table {gauge.table}" if gauge.table else "the manufacturers' standard gauge"
    return f"{gauge_words(gauge)} of {owner}"


def outside_text(reasons: str) -> str:
    """Return why a value has no number; empty where it has one."""
    return f"outside the method: {reasons}" if reasons else ""


def risk_assessment_words(found: RiskAssessment | None) -> str:
    """Return number, day and holder, such as ``RA-12 of 2026-03-02, held by the safety officer``."""
    if found is None:
        return ""
    held = f", held by {found.holder}" if found.holder else ""
    return f"{found.number} of {found.date}{held}"


def call_words(supervisor: Supervisor) -> str:
    """Return whom to call and how, such as ``the shift supervisor (extension 214)``."""
    return f"the {supervisor.role} ({supervisor.call})"
