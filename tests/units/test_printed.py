"""How a number reads with its unit, in what the program writes and in what a person wrote."""

from __future__ import annotations

import pytest
from weld_packets.units.amounts import held_to_units
from weld_packets.units.kinds import KINDS


@pytest.mark.parametrize(
    ("text", "kept_text"),
    [
        ("within 11 m (35 ft) of it", "within 11~m (35~ft) of it"),
        ("cylinder of 50 l at 200 bar", "cylinder of 50~l at 200~bar"),
        ("25 mm in any 100 mm of weld", "25~mm in any 100~mm of weld"),
        ("at least 1.5 % of 640 parts", "at least 1.5~% of 640~parts"),
        ("60 l/min, 10 cycles, 3 kJ/mm", "60~l/min, 10~cycles, 3~kJ/mm"),
        ("level 2 is used, spots 4 makes", "level 2 is used, spots 4 makes"),
    ],
)
def test_a_number_in_a_text_is_held_to_its_unit(text: str, kept_text: str) -> None:
    assert held_to_units(text) == kept_text.replace("~", "\N{NO-BREAK SPACE}")


@pytest.mark.parametrize("unit", sorted({spelling for kind in KINDS for spelling in kind.spellings} - {"1", "°"}))
def test_every_unit_that_a_source_may_use_is_held_to_its_number(unit: str) -> None:
    assert held_to_units(f"of 20 {unit}, at 5 {unit}") == f"of 20\N{NO-BREAK SPACE}{unit}, at 5\N{NO-BREAK SPACE}{unit}"
