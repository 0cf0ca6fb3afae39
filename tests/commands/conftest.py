"""A small workspace of one order, computed with the tables of the demo, and the real command run on it."""

import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from math import inf
from pathlib import Path

import pytest
from weld_packets.commands import main
from weld_packets.commands.writing.init import starter_files

ROOT = Path(__file__).resolve().parents[2]
WORKSHOP = Path(__file__).parent / "workshop"


@dataclass(frozen=True)
class Answer:
    """What a command gave back."""

    status: int
    out: str
    errors: str


Run = Callable[..., Answer]
Change = tuple[str, str, str]
"""A file of a plant, what is replaced in it once, and by what."""
Start = Callable[..., Path]
DAY = "1796126400"
"""2026-12-01, 12:00 UTC: after every approval of a table of the demo."""


@pytest.fixture(autouse=True)
def on_a_day(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let commands run on a day before those on which what they release takes effect, whatever day it is."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", DAY)


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workspace with the order ``wo-1``, made of copies."""
    root = tmp_path / "workshop"
    shutil.copytree(WORKSHOP, root)
    shutil.copytree(ROOT / "tables", root / "tables")
    return root


@pytest.fixture
def first_issue(named: tuple[str, ...]) -> tuple[str, ...]:
    """Words of a release, or a withdrawal, that takes effect later."""
    return (*named, "--reason", "first issue", "--effective", "2027-01-01")


@pytest.fixture
def started(tmp_path: Path) -> Start:
    """Writes a plant in US customary units as `packets init` does, with ``more`` files, and changes some of them."""

    def written(changes: Iterable[Change], more: Mapping[str, str] | None = None) -> Path:
        for name, text in {**starter_files("US customary", "both", "60"), **(more or {})}.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        for name, old, new in changes:
            path = tmp_path / name
            path.parent.mkdir(exist_ok=True)
            text = path.read_text("utf-8") if path.exists() else ""
            assert old in text
            path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return tmp_path

    return written


@pytest.fixture
def run(workshop: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs ``packets`` with words on the workspace; what it says on the way depends on the speed of the machine."""
    monkeypatch.setattr("weld_packets.commands.shared.parallel._REPORT_EVERY_SECONDS", inf)

    def command(*words: str) -> Answer:
        try:
            status = main(["--root", str(workshop), *words])
        except SystemExit as error:
            status = int(str(error.code))
        printed = capsys.readouterr()
        return Answer(status, printed.out, printed.err)

    return command
