"""What the pages' own scripts know of the revisions: enough to answer for any day without asking anybody."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from weld_packets.revisions.status.periods import Period
from weld_packets.site.pages.order_history import OrderHistory, RevisionView

STATUS_DATA = "assets/records.js"
STATUS_SCRIPTS = (STATUS_DATA, "assets/revision_status.js")


def status_data(history: OrderHistory, sheets: Mapping[str, Sequence[str]]) -> dict[str, bytes]:
    """Return the data script of an order; ``sheets`` names the sheets of each view by its name."""
    data = {
        "order": history.newest.packet.head.number,
        "built": str(history.built),
        "zone": history.zone,
        "goodDays": history.good_days,
        "register": history.register,
        "revisions": [_revision(view, sheets[view.name]) for view in history.views],
        "periods": [_period(period) for period in history.periods],
    }
    return {STATUS_DATA: f"window.packetRecords = {json.dumps(data, indent=1, sort_keys=True)}\n".encode()}


def _revision(view: RevisionView, sheets: Sequence[str]) -> dict[str, object]:
    control = view.control
    return {
        "mark": control.revision,
        "folder": view.folder,
        "digest": control.digest,
        "effective": control.effective_from,
        "approver": control.approver,
        "reason": control.reason,
        "sheets": list(sheets),
    }


def _period(period: Period) -> dict[str, object]:
    return {
        "since": period.since,
        "inForce": [
            {"mark": one.revision, "since": one.since, "covers": one.covers, "approver": one.approver}
            for one in period.found.in_force
        ],
        "turned": period.found.turned,
        "earlier": [str(part) for part in period.found.earlier_that_day],
        "status": {one.revision: [one.status, one.superseded_by] for one in period.statuses},
    }
