from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def reader() -> ModuleType:
    """The reader of printed steps; tests are no package, so that it is loaded by its place."""
    name = "reader_of_steps"
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name("reader.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module
