"""Formulas and their inputs have the trade's names on a page, and no label is for a formula that is gone."""

from __future__ import annotations

import importlib
import pkgutil

import pytest
import weld_packets
from weld_packets.calculation.formula import Formula
from weld_packets.wording import calculations
from weld_packets.wording.calculations import formula_label, input_label


@pytest.fixture(scope="module")
def formulas() -> list[Formula]:
    """Return every formula of the program."""
    names = (each.name for each in pkgutil.walk_packages(weld_packets.__path__, "weld_packets."))
    modules = [importlib.import_module(name) for name in names if not name.endswith("__main__")]
    return [value for module in modules for value in vars(module).values() if isinstance(value, Formula)]


@pytest.mark.parametrize(
    ("name", "label"),
    [
        ("carbon equivalent iiw", "carbon equivalent CE of the IIW"),
        ("area per pass", "cross-section of one pass"),
        ("weld diameter", "weld diameter"),
    ],
)
def test_a_formula_has_the_name_of_its_result(name: str, label: str) -> None:
    assert formula_label(name) == label


@pytest.mark.parametrize(
    ("name", "label"), [("stick_out", "stick-out"), ("pass_area", "cross-section of one pass"), ("leg", "leg")]
)
def test_an_input_has_the_name_of_the_trade(name: str, label: str) -> None:
    assert input_label(name) == label


def test_every_label_is_of_a_formula_or_an_input_that_exists(formulas: list[Formula]) -> None:
    inputs = {each.name.replace("_", " ") for formula in formulas for each in formula.inputs}
    assert set(calculations._FORMULAS) <= {formula.name for formula in formulas}
    assert set(calculations._INPUTS) <= inputs
