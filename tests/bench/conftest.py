"""What the benchmark and the tests of its orders share; the folder is no package, so modules come as fixtures."""

from __future__ import annotations

import compileall
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
import weld_packets

HERE = Path(__file__).parent


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--orders", type=int, default=2000, help="how many orders the large measurements use")


def _module(name: str) -> ModuleType:
    """Return a module of this folder under a name of its own; data classes look theirs up in ``sys.modules``."""
    full = f"bench_{name}"
    if full not in sys.modules:
        spec = importlib.util.spec_from_file_location(full, HERE / f"{name}.py")
        assert spec is not None
        assert spec.loader is not None
        sys.modules[full] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[full])
    return sys.modules[full]


@pytest.fixture(scope="session")
def making() -> ModuleType:
    return _module("making")


@pytest.fixture(scope="session")
def measuring() -> ModuleType:
    """Return what measures, with the program compiled, as pip leaves it at a plant and a checkout may not be."""
    assert compileall.compile_dir(Path(weld_packets.__file__).parent, quiet=1)
    return _module("measuring")
