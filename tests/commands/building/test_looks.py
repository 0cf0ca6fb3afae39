"""What a plant sets of the looks of its sites, and what is refused of it with its place."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from weld_packets.commands.shared.sites.all_orders import plant_name

MARK = "<svg xmlns='http://www.w3.org/2000/svg'/>"


def put(plant: Path, name: str, text: str) -> None:
    path = plant / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def first_page(plant: Path, run: Callable[..., Any]) -> str:
    answer = run("build")
    assert (answer.status, answer.errors) == (0, "")
    return (plant / "site" / "wo-1" / "index.html").read_text("utf-8")


def test_a_plant_that_sets_nothing_gets_the_programs_looks(workshop: Path, run: Callable[..., Any]) -> None:
    page = first_page(workshop, run)
    assert 'href="assets/mark.svg"' in page
    assert (workshop / "site" / "wo-1" / "assets" / "site.css").is_file()
    listed = (workshop / "site" / "index.html").read_text("utf-8")
    named = re.search(r"(?m)^name: (.+?) *(?:#.*)?$", (workshop / "tables" / "plant.yaml").read_text("utf-8"))
    assert named is not None
    assert f'<p class="plant">{named[1]}</p>' in listed


def test_a_list_has_no_name_over_it_where_the_table_of_the_plant_cannot_be_read(tmp_path: Path) -> None:
    put(tmp_path, "tables/plant.yaml", "table: plant\nkind: plant\nname: [\n")
    assert plant_name(tmp_path) == ""


def test_name_marks_and_styles_of_a_plant_are_shown(workshop: Path, run: Callable[..., Any]) -> None:
    put(
        workshop,
        "mkdocs.yml",
        "site_name: Works <1>\ntheme: {logo: assets/own.svg, favicon: assets/tab.svg}\nextra_css: [assets/own.css]\n",
    )
    for name in ("own.svg", "tab.svg", "own.css"):
        put(workshop, f"site_overrides/assets/{name}", MARK)
    page = first_page(workshop, run)
    assert re.search(r'<img src="assets/own.svg"', page)
    assert re.search(r'<link rel="icon" href="assets/tab.svg"', page)
    assert page.index("assets/site.css") < page.index("assets/own.css")
    assert '<p class="plant">Works &lt;1&gt;</p>' in (workshop / "site" / "index.html").read_text("utf-8")


def test_the_address_of_a_plant_is_in_the_codes_of_released_sheets(
    workshop: Path, run: Callable[..., Any], named: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1796040000")  # 2026-11-30
    digest = re.findall(r"digest (\w+)", run("check").out)[0]
    who = (*named, "--reason", "c", "--effective", "2026-12-01")
    assert run("release", "wo-1", *who, "--digest", digest).status == 0

    def codes() -> list[str]:
        first_page(workshop, run)
        page = next((workshop / "site" / "wo-1").rglob("operation-1.html")).read_text("utf-8")
        return re.findall(r"alt=.Code: ([^'\"]*)", page)

    assert any(code.startswith("ORDER ") for code in codes())
    put(workshop, "mkdocs.yml", "extra: {address: https://packets.example/}\n")
    assert any(code.startswith("https://packets.example/wo-1/check.html#order=") for code in codes())


def test_a_template_and_a_file_of_a_plant_come_over_the_programs(workshop: Path, run: Callable[..., Any]) -> None:
    put(workshop, "site_overrides/assets/mark.svg", MARK)
    put(workshop, "site_overrides/partials/nav.html", "<nav>our own list</nav>")
    assert "<nav>our own list</nav>" in first_page(workshop, run)
    assert (workshop / "site" / "wo-1" / "assets" / "mark.svg").read_text("utf-8") == MARK


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("plugins: [search]\n", "mkdocs.yml:1: plugins"),
        ("theme:\n  logo: assets/gone.svg\n", "mkdocs.yml:2: theme.logo = 'assets/gone.svg'"),
        ("theme:\n  logo: ../gone.svg\n", "mkdocs.yml:2: theme.logo = '../gone.svg'"),
        ("extra_css:\n  - assets/gone.css\n", "mkdocs.yml:2: extra_css[0] = 'assets/gone.css'"),
        ("extra:\n  address: packets\n", "mkdocs.yml:2: extra.address = 'packets'"),
        ("site_nam: x\n", "did you mean 'site_name'?"),
    ],
)
def test_what_a_plant_cannot_set_is_reported_with_its_line(
    workshop: Path, run: Callable[..., Any], text: str, expected: str
) -> None:
    put(workshop, "mkdocs.yml", text)
    answer = run("build")
    assert answer.status == 1
    assert expected in answer.errors


def test_a_template_that_cannot_be_used_is_reported_with_its_line(workshop: Path, run: Callable[..., Any]) -> None:
    put(workshop, "site_overrides/main.html", "\n{% if %}")
    answer = run("build")
    assert answer.status == 1
    assert answer.errors.startswith("site_overrides/main.html:2:\n    the template cannot be used: ")
    assert "-> correct it, or delete the file: the program's own then takes its place" in answer.errors


def test_a_template_that_asks_for_one_that_is_not_there_is_reported(workshop: Path, run: Callable[..., Any]) -> None:
    put(workshop, "site_overrides/partials/nav.html", '{% include "partials/gone.html" %}')
    answer = run("build")
    assert answer.status == 1
    assert answer.errors.startswith("site_overrides:\n    the template cannot be used: ")
