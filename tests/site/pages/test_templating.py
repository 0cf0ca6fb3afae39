"""Compiled templates are kept where that is safe, and nothing depends on it."""

from __future__ import annotations

import gc
import tempfile
import weakref
from pathlib import Path

import pytest
from jinja2 import DictLoader, Environment
from weld_packets.revisions.differences.changes import Altered
from weld_packets.site.pages.templating import in_brief, prepare, variables_forgotten


def rendered(folder: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    environment = Environment(loader=DictLoader({"a": "{{ 6 * 7 }}"}), autoescape=True)
    prepare(environment)
    return environment.get_template("a").render()


def kept(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file()]


def test_what_is_compiled_is_kept_in_a_folder_for_this_user_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert rendered(tmp_path, monkeypatch) == "42"
    (entry,) = kept(tmp_path)
    assert entry.parent.stat().st_mode & 0o077 == 0


class Thing:
    """What a page is made from."""


def test_what_a_page_was_made_from_goes_with_it_though_its_macros_know_it() -> None:
    files = {
        "a": "{% import 'b' as b with context %}{{ b.shown() }}",
        "b": "{% macro shown() %}{{ 'there' if thing }}{% endmacro %}",
    }
    environment = Environment(loader=DictLoader(files), autoescape=True)
    prepare(environment)
    thing = Thing()
    known = weakref.ref(thing)
    gc.disable()
    try:
        with variables_forgotten():
            assert environment.get_template("a").render(thing=thing) == "there"
        del thing
        assert known() is None
    finally:
        gc.enable()


def test_a_page_that_is_made_inside_another_leaves_that_its_variables() -> None:
    inner = Environment(loader=DictLoader({"a": "{% set it = 1 %}{{ it }}"}), autoescape=True)
    outer = Environment(
        loader=DictLoader(
            {"a": "{% macro it() %}2{% endmacro %}{{ other() }}{{ self.b() }}{% block b %}{{ it() }}{% endblock %}"}
        ),
        autoescape=True,
    )
    for each in (inner, outer):
        prepare(each)

    def other() -> str:
        with variables_forgotten():
            return inner.get_template("a").render()

    with variables_forgotten():
        assert outer.get_template("a").render(other=other) == "122"


def test_a_damaged_entry_is_compiled_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rendered(tmp_path, monkeypatch)
    (entry,) = kept(tmp_path)
    whole = entry.read_bytes()
    entry.write_bytes(whole[: len(whole) // 2])
    assert rendered(tmp_path, monkeypatch) == "42"


def test_a_folder_that_others_can_write_to_is_not_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    rendered(tmp_path, monkeypatch)
    (entry,) = kept(tmp_path)
    entry.unlink()
    entry.parent.chmod(0o777)
    monkeypatch.setattr("os.chmod", lambda *_: None)
    assert rendered(tmp_path, monkeypatch) == "42"
    assert kept(tmp_path) == []


def test_a_full_disk_costs_only_the_compiling(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tempfile, "NamedTemporaryFile", full)
    assert rendered(tmp_path, monkeypatch) == "42"
    assert kept(tmp_path) == []


@pytest.mark.parametrize(("length", "brief"), [(200, False), (201, True)])
def test_a_text_with_two_long_readings_is_named_by_its_place(length: int, brief: bool) -> None:
    before, after = "a" * length, "b" * 300
    change = Altered(where=("operation 1", "qualification"), paths=(), what="record 7", before=before, after=after)
    said = "operation 1, qualification, record 7 reads differently"
    full = f"operation 1, qualification: record 7 {before} → {after}"
    assert in_brief(change) == (said if brief else full)
