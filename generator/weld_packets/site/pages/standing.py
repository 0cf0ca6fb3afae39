"""What the pages' own scripts know of the revisions: enough to answer for any day without asking anybody."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from weld_packets.revisions.status.phases import Phase
from weld_packets.site.pages.dossier import Dossier, Edition

STANDING = "assets/records.js"
STANDING_SCRIPTS = (STANDING, "assets/standing.js")


def standing_data(dossier: Dossier, sheets: Mapping[str, Sequence[str]]) -> dict[str, bytes]:
    """Return the data script of an order; ``sheets`` names the sheets of each edition by its mark."""
    data = {
        "order": dossier.newest.packet.head.number,
        "built": str(dossier.built),
        "register": dossier.register,
        "editions": [_edition(edition, sheets[edition.mark]) for edition in dossier.editions],
        "phases": [_phase(phase) for phase in dossier.phases],
    }
    return {STANDING: f"window.packetRecords = {json.dumps(data, indent=1, sort_keys=True)}\n".encode()}


def _edition(edition: Edition, sheets: Sequence[str]) -> dict[str, object]:
    control = edition.control
    return {
        "mark": control.revision,
        "folder": edition.folder,
        "digest": control.digest,
        "effective": control.effective_from,
        "approver": control.approver,
        "reason": control.reason,
        "sheets": list(sheets),
    }


def _phase(phase: Phase) -> dict[str, object]:
    return {
        "since": phase.since,
        "inForce": [
            {"mark": one.revision, "since": one.since, "covers": one.covers, "approver": one.approver}
            for one in phase.found.in_force
        ],
        "earlier": list(phase.found.earlier_that_day),
        "status": {one.revision: [one.status, one.superseded_by] for one in phase.standings},
    }
