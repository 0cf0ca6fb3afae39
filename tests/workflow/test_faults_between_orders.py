"""What is wrong between orders, and with the files that every site is made with."""

import shutil
from pathlib import Path

import pytest

from generator.errors import SourceError
from generator.site.theme_faults import theme_faults_told
from generator.workflow.checking import check
from generator.workflow.numbers import repeated_numbers

ROOT = Path(__file__).resolve().parents[2]
WORKSHOP = ROOT / "tests" / "cli" / "workshop"


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workspace with two orders, of which neither is right."""
    shutil.copytree(WORKSHOP, tmp_path, dirs_exist_ok=True)
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    shutil.copytree(tmp_path / "instructions" / "wo-1", tmp_path / "instructions" / "wo-2")
    return tmp_path


def follow(workshop: Path, order: str, previous: str) -> None:
    path = workshop / "instructions" / order / "order.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("quantity: 20", f"quantity: 20\nprevious order: {previous}"), encoding="utf-8")


def test_two_orders_of_one_number_are_told(workshop: Path) -> None:
    (problem,) = check(workshop, []).problems
    assert (problem.file, problem.key, problem.value) == ("instructions/wo-2/order.yaml", "order", "T-1")
    assert "instructions/wo-1 has the same order number" in problem.message


def test_orders_of_their_own_numbers_are_good() -> None:
    assert repeated_numbers([("a", "1"), ("b", "2")]) == ()


def test_two_orders_that_each_follow_the_other_are_told(workshop: Path) -> None:
    follow(workshop, "wo-1", "wo-2")
    follow(workshop, "wo-2", "wo-1")
    problems = check(workshop, []).problems
    assert [(problem.file, problem.line, problem.value) for problem in problems] == [
        ("instructions/wo-1/order.yaml", 6, "wo-2"),
        ("instructions/wo-2/order.yaml", 6, "wo-1"),
    ]


def test_a_configuration_that_mkdocs_refuses_is_told_with_its_reason(tmp_path: Path) -> None:
    from mkdocs.config import load_config  # noqa: PLC0415 - slow, and only here

    (tmp_path / "mkdocs.yml").write_text("site_name: x\ntheme: nosuch\n", encoding="utf-8")
    with pytest.raises(SourceError, match="Unrecognised theme name: 'nosuch'") as told, theme_faults_told(tmp_path):
        load_config(str(tmp_path / "mkdocs.yml"))
    assert told.value.problems[0].file == "mkdocs.yml"


def test_a_template_that_cannot_be_read_is_told_with_its_line(tmp_path: Path) -> None:
    from jinja2 import Environment, FileSystemLoader  # noqa: PLC0415 - as above

    (tmp_path / "site_overrides").mkdir()
    (tmp_path / "site_overrides" / "main.html").write_text("\n{% if %}", encoding="utf-8")
    environment = Environment(loader=FileSystemLoader(tmp_path / "site_overrides"), autoescape=True)
    with pytest.raises(SourceError) as told, theme_faults_told(tmp_path):
        environment.get_template("main.html")
    (problem,) = told.value.problems
    assert (problem.file, problem.line) == ("site_overrides/main.html", 2)
