from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from generator.errors import OutOfRangeError
from generator.packet.callouts import messages
from generator.packet.steps.placing import Draft, placed


def _keys(make: Any, row: Any, **more: Any) -> set[str]:
    return set(messages(make.views(row, **more)).of_row["row-1"])


def _why(make: Any, key: str, *rows: Any) -> str:
    return next(each.why for each in messages(make.views(*rows)).callouts if each.key == key)


def _facts(make: Any, key: str, *rows: Any, **more: Any) -> list[tuple[str, str]]:
    told = next(each for each in messages(make.views(*rows, **more)).callouts if each.key == key)
    return [(fact.who, fact.text) for fact in told.facts]


def test_spot_row_brings_crushing_and_implants_but_no_rays(make: Any) -> None:
    assert _keys(make, make.spot_row()) == {"lockout", "crush", "implants", "hot", "start-up", "teach", "clamps"}


def test_arc_row_brings_rays_gas_and_noise_but_no_crushing(make: Any) -> None:
    assert _keys(make, make.arc_row()) == {"lockout", "rays", "gas", "noise", "hot", "start-up", "teach", "clamps"}


def test_zinc_message_needs_both_an_arc_and_a_coated_part(make: Any) -> None:
    assert "zinc" in _keys(make, make.arc_row("DX51"))
    assert "zinc" not in _keys(make, make.spot_row("DX51"))
    assert "Part 1 has a hot-dip zinc coating" in _why(make, "zinc", make.arc_row("DX51"))


def test_chromium_message_appears_with_stainless_sheet_and_names_its_share(make: Any) -> None:
    assert "chromium" not in _keys(make, make.arc_row("DC01"))
    assert "304 holds 18 % chromium" in _why(make, "chromium", make.arc_row("304"))


def test_chromium_in_the_wire_alone_is_enough(make: Any) -> None:
    wire = make.shop.wires["W10"].model_copy(update={"chromium": Decimal(20)})
    make.shop = replace(make.shop, wires={"W10": wire})
    assert "G3Si1 holds 20 % chromium" in _why(make, "chromium", make.arc_row("DC01"))


def test_message_over_a_current_goes_by_the_greatest_set_current(make: Any) -> None:
    assert "strong" not in _keys(make, make.spot_row())
    hotter = make.views(make.spot_row(), change=lambda each: make.result(each.row, current="10.4"))
    found = next(each for each in messages(hotter).callouts if each.key == "strong")
    assert "greatest set current 10.4\N{NO-BREAK SPACE}kA, over 10\N{NO-BREAK SPACE}kA" in found.why.lower().replace(
        "ka", "kA"
    )


def test_message_up_to_a_current_holds_at_its_end_and_not_above(make: Any) -> None:
    at_end = make.views(make.arc_row(), change=lambda each: make.result(each.row, current="100"))
    above = make.views(make.arc_row(), change=lambda each: make.result(each.row, current="101"))
    assert "weak" in messages(at_end).of_row["row-1"]
    assert "weak" not in messages(above).of_row["row-1"]


def test_crushing_message_gives_the_greatest_force(make: Any) -> None:
    ((_, told),) = _facts(make, "crush", make.spot_row())
    assert told == "The caps close with up to 2.6\N{NO-BREAK SPACE}kN (580\N{NO-BREAK SPACE}lbf)."


def test_ray_message_gives_the_shade_and_behind_it_current_and_table(make: Any) -> None:
    assert _facts(make, "rays", make.arc_row()) == [("Every row", "Filter shade at least 10, 11 suggested.")]
    assert "150\N{NO-BREAK SPACE}A (table shades revision B" in _why(make, "rays", make.arc_row())


def test_current_that_two_shade_rows_share_takes_the_darker_one(make: Any) -> None:
    for current, shade in (("60", "at least 10, 11"), ("160", "at least 10, 12")):
        told = _facts(make, "rays", make.arc_row(), change=lambda each, now=current: make.result(each.row, current=now))
        assert shade in told[0][1]


def test_rows_with_other_shades_share_one_message_that_lists_both(make: Any) -> None:
    views = make.views(
        make.arc_row(),
        make.spot_row(),
        make.arc_row(name="Hotter"),
        change=lambda each: make.result(each.row, current="200") if each.row.name == "Hotter" else each,
    )
    (rays,) = [each for each in messages(views).callouts if each.key == "rays"]
    assert [(fact.who, fact.rows, fact.text) for fact in rays.facts] == [
        ("Row 1", ("row-1",), "Filter shade at least 10, 11 suggested."),
        ("Row 3", ("row-3",), "Filter shade at least 10, 12 suggested."),
    ]


def test_current_beyond_the_chart_of_shades_is_refused(make: Any) -> None:
    views = make.views(make.arc_row(), change=lambda each: make.result(each.row, current="260"))
    with pytest.raises(OutOfRangeError, match=r"no row of table shades gives a filter shade .* at 260") as refused:
        messages(views)
    assert refused.value.problems[0].key == "rows[0]"


def test_noise_field_and_teach_speed_are_the_cells_own(make: Any) -> None:
    assert _facts(make, "noise", make.arc_row())[0][1] == "Noise at cell C1: 96 dB(A) at the gate."
    assert _facts(make, "implants", make.spot_row())[0][1] == "Magnetic field at cell C5: 0.8 mT at the gate."
    assert "250\N{NO-BREAK SPACE}mm/s" in _facts(make, "teach", make.spot_row())[0][1]


def test_row_adds_its_figures_only_to_messages_that_they_are_about(make: Any) -> None:
    assert _why(make, "start-up", make.spot_row()) == "Every row of this order."  # no teach speed at the start
    assert "caps close" not in _facts(make, "teach", make.spot_row())[0][1]  # no force at the moving arm


def test_rows_with_the_same_reason_share_a_message_and_others_keep_their_own(make: Any) -> None:
    views = make.views(make.spot_row(), make.spot_row("DX51"), make.arc_row())
    told = messages(views)
    lockout = [each for each in told.callouts if each.key.startswith("lockout")]
    crush = [each for each in told.callouts if each.key.startswith("crush")]
    assert [each.why for each in lockout] == ["Every row of this order."]
    assert len(crush) == 1
    assert crush[0].why.startswith("Rows 1 and 2: ")


def test_rows_with_other_figures_get_their_own_message(make: Any) -> None:
    views = make.views(
        make.spot_row(),
        make.spot_row(name="Stronger"),
        change=lambda each: make.result(each.row, current="10.4") if each.row.name == "Stronger" else each,
    )
    told = messages(views)
    assert "strong" not in told.of_row["row-1"]
    assert "strong" in told.of_row["row-2"]
    assert {each.key for each in told.at("prove", "row-2")} == {"strong", "hot", "teach", "start-up"}


def test_message_stands_before_the_first_step_that_it_is_about(make: Any) -> None:
    told = messages(make.views(make.spot_row())).at("set up", "row-1")
    caps = (Draft("Fit caps.", topics=("caps",)), Draft("Dress caps.", topics=("caps",)))
    drafts = (Draft("Lock out.", topics=("enter",)), *caps, Draft("Close the clamps.", topics=("clamps",)))
    assert [step.callouts for step in placed(drafts, told)] == [("lockout",), ("crush",), (), ("clamps",)]


def test_no_reduced_speed_is_promised_where_arms_start_in_automatic(make: Any) -> None:
    told = messages(make.views(make.spot_row()))
    facts = {call.key: str(call.facts) for call in told.callouts if "W018" in call.signs or "W019" in call.signs}
    starting = {call.key for call in told.callouts if "start" in call.stages}
    assert all("reduced speed" not in facts[key] for key in starting & facts.keys())
