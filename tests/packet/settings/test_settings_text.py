from __future__ import annotations

import re
from typing import Any

from weld_packets.packet.plain_text import settings_lines
from weld_packets.packet.records.order import Packet


def test_settings_show_value_allowed_range_and_step_of_every_dialled_figure(make: Any) -> None:
    lines = settings_lines(make.packet(make.spot_operation()))
    line = next(each for each in lines if "Electrode force" in each)
    cells = [cell.strip() for cell in line.replace("\N{NO-BREAK SPACE}", " ").split("  ") if cell.strip()]
    assert cells[:5] == [
        "set", "Electrode force", "2.6 kN (580 lbf)", "2.4 to 2.8 kN (540 to 630 lbf)", "0.1 kN (22 lbf)"
    ]  # fmt: skip


def test_a_travel_angle_says_push_or_drag(demo_packets: dict[str, Packet]) -> None:
    lines = settings_lines(demo_packets["lk-2041-service-module"])
    angles = [re.split(r"\s{2,}", line.strip())[2] for line in lines if "Travel angle" in line]
    assert set(angles) == {"10° push", "10° drag"}


def test_settings_name_operation_cell_process_programs_and_group(make: Any) -> None:
    text = "\n".join(settings_lines(make.packet(make.spot_operation(), make.arc_operation())))
    assert "operation 2  Operation at C1  cell C1  135 MAG welding with solid wire  programs C1A 1203, C1B 1204" in text
    assert "T fillet a 3\N{NO-BREAK SPACE}mm, PB  robots C1A and C1B  welds sA, sB  2 passes" in text


def test_figure_outside_its_method_says_why_in_place_of_its_origin(make: Any) -> None:
    line = next(each for each in settings_lines(make.packet(make.arc_operation())) if "Preheat" in each)
    assert line.split()[1] == "-"
    assert line.endswith("outside the method: too thin")


def test_lines_hold_no_trailing_spaces(make: Any) -> None:
    assert all(line == line.rstrip() for line in settings_lines(make.packet(make.spot_operation())))
