"""Freeze a record of the version that the program writes: python tests/revisions/frozen/freeze.py

Once for each version, when it comes into use. A folder that is there is never written again.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from pathlib import Path

from weld_packets.revisions.records.effectivity import Effective
from weld_packets.revisions.records.record import Code
from weld_packets.revisions.records.versions import RECORD_VERSION
from weld_packets.revisions.status.release_rules import Release, Signatures
from weld_packets.revisions.store.releasing import record_release

HERE = Path(__file__).parent

if __name__ == "__main__":
    sys.path.insert(0, str(HERE.parent))
    from conftest import demo_packet

    folder = HERE / f"version-{RECORD_VERSION}"
    if folder.exists():
        sys.exit(f"{folder} is there: a frozen record is never replaced")
    packet = demo_packet()
    packet = packet.model_copy(update={"head": packet.head.model_copy(update={"previous_order": ""})})
    (folder / packet.head.slug).mkdir(parents=True)
    recorded = datetime(2026, 3, 2, 8, tzinfo=UTC)
    by = Signatures(
        author="Process engineer",
        approver="Welding coordinator",
        reason="first issue",
        effective=Effective(kind="date", start="2026-03-02"),
        recorded=recorded,
        code=Code(version="0.2.0", commit="0" * 40),
    )
    record_release(folder, Release(packet, (), by))
