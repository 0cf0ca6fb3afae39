from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from weld_packets.errors import OutOfRangeError
from weld_packets.packet.assembly import check_complete


def _refused(make: Any, operation: Any, **changed: Any) -> list[str]:
    make.approved = replace(make.approved, **changed)
    with pytest.raises(OutOfRangeError) as refused:
        check_complete(make.views(operation))
    return [str(problem) for problem in refused.value.problems]


def test_complete_order_passes(make: Any) -> None:
    check_complete(make.views(make.arc_operation(), make.spot_operation()))


def test_sign_that_is_not_drawn_names_hazard_and_code(make: Any) -> None:
    first, *rest = make.approved.hazards
    (message,) = _refused(make, make.spot_operation(), hazards=(first.model_copy(update={"signs": ("W999",)}), *rest))
    assert f"table hazards: entries[{first.id}].signs = 'W999'" in message
    assert f"hazard {first.id} shows sign W999" in message


@pytest.mark.parametrize(("stage", "operation"), [("coupon", "spot_operation"), ("first-off", "arc_operation")])
def test_operation_that_nothing_proves_is_refused(make: Any, stage: str, operation: str) -> None:
    left = tuple(check for check in make.approved.inspections if check.stage != stage)
    (message,) = _refused(make, getattr(make, operation)(), inspections=left)
    assert f"no inspection table has a check at stage {stage}" in message
    assert "operations[0].process" in message
