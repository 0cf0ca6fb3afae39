"""What commands load before they work: half a second of pint, numpy and tables would be felt at every call."""

from __future__ import annotations

import subprocess
import sys

import pytest


@pytest.mark.parametrize("command", ["build", "history", "as_of", "register"])
def test_a_command_that_only_reads_records_or_digests_loads_no_units_that_compute(command: str) -> None:
    code = f"import sys, weld_packets.commands.{command}; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert f"weld_packets.commands.{command}" in loaded
    assert {"pint", "numpy", "mkdocs", "ezdxf", "weld_packets.model.tables"} & set(loaded) == set()
