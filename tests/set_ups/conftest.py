"""A workspace with one released order, and set-up records of it as a page saves them."""

from __future__ import annotations

import hashlib
import io
import json
import shutil
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, ClassVar

import pytest
from weld_packets.commands import main
from weld_packets.packet.forms import run_form, set_up_form
from weld_packets.packet.records.forms import RequiredResult, RequiredValue, SetUpForm
from weld_packets.packet.records.order import Packet
from weld_packets.revisions.queries.archive import packet_of
from weld_packets.revisions.register.entries import RegisterEntry
from weld_packets.revisions.set_ups.entered import together_of
from weld_packets.revisions.set_ups.record import ReadingEntry
from weld_packets.revisions.store.files import open_archive

ROOT = Path(__file__).resolve().parents[2]
WORKSHOP = ROOT / "tests" / "commands" / "workshop"
ORDER = "wo-1"
RELEASED = datetime(2026, 12, 1, 6, 0, tzinfo=UTC)
BEGUN = datetime(2026, 12, 2, 7, 0, tzinfo=UTC)
FILED = datetime(2026, 12, 20, 12, 0, tzinfo=UTC)
Form = dict[str, Any]
_READ: dict[str, Packet] = {}
"""Packets by the digest of their record."""


@dataclass(frozen=True)
class Answer:
    """What a command gave back."""

    status: int
    out: str
    errors: str


Run = Callable[..., Answer]


moment_of = datetime.fromisoformat


def _at(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")


def _inside(result: RequiredResult) -> str:
    return (result.minimum or result.maximum) if result.unit else ""


@dataclass
class Plant:
    """The workspace, its command, and set-up records of its order."""

    root: Path
    run: Run
    named: ClassVar = ("--author", "welding engineer", "--approver", "quality lead")
    """Two of the list of responsible people that the demo's tables hold, as words of a command."""

    def release(self, day: datetime, reason: str = "first issue") -> None:
        """Release the order as its sources are."""
        answer = self.run(
            "release", ORDER, *self.named, "--reason", reason,
            "--effective", day.date().isoformat(), now=day,
        )  # fmt: skip
        assert answer.status == 0, answer.errors

    def released(self, revision: str) -> tuple[RegisterEntry, Packet]:
        """Return a released revision: its entry in the register, and its packet, which is read once."""
        archive = open_archive(self.root / "instructions")
        entry = next(e for e in archive.register.of(ORDER) if (e.kind, e.revision) == ("release", revision))
        if entry.record_digest not in _READ:
            _READ[entry.record_digest] = packet_of(archive, entry)
        return entry, _READ[entry.record_digest]

    def set_up(self, operation: int = 2, revision: str = "A", begun: datetime = BEGUN, **changes: Any) -> Form:
        """Return a whole set-up in which every value is equal, every result accepted and every step done."""
        entry, packet = self.released(revision)
        sheet = packet.operations[operation - 1]
        wanted = set_up_form(sheet)
        by = "J. Setter"
        done, proved = _at(begun + timedelta(minutes=30)), begun + timedelta(hours=1)
        form = {
            "form": "set-up record", "version": 1,
            "id": hashlib.sha256(f"{operation} {revision} {begun}".encode()).hexdigest()[:16],
            "order": packet.head.number, "slug": ORDER, "revision": revision, "status": "in force", "status_reason": "",
            "record_digest": entry.record_digest, "packet_digest": entry.packet_digest, "operation": operation,
            "operation_name": sheet.name, "cell": sheet.cell, "begun": _at(begun), "finished": _at(proved),
            "setter": by,
            "steps": [{"list": step.list, "key": step.key, "digest": step.digest, "done": done, "by": by}
                      for step in wanted.steps],
            "readings": [self.reading(value, robot, value.setting, at=done) for value in wanted.values
                         for robot in value.robots],
            "numbers": [{"robot": number.robot, "what": number.what, "asked": number.number, "entered": number.number,
                         "verdict": "match", "by_scan": False, "at": done, "by": by} for number in wanted.numbers],
            "results": [{"result": result.key, "entered": _inside(result) or "accepted", "number": _inside(result),
                         "verdict": "accepted", "at": done, "by": by} for result in wanted.results],
            "accepted": [{"what": what, "at": _at(proved), "by": "I. Inspector"} for what in ("coupons", "first-off")],
            "lots": [{"what": "electrode caps", "lot": "L-7"}], "counters": [], "instruments": [
                {"what": "force gauge", "number": "G-12"}],
            "serials": {"from": "", "to": ""}, "deviations": [], **changes,
        }  # fmt: skip
        return self.judged(form)

    def judged(self, form: Form) -> Form:
        """Return a set-up with what its readings are beside those that limit them, as a page saves it."""
        entries = [ReadingEntry.model_validate(entry) for entry in form["readings"]]
        found = [
            {"value": value, "other": other, "robot": robot, "verdict": verdict}
            for (value, other, robot), verdict in together_of(
                entries, self.set_up_form(form["operation"], form["revision"])
            )
        ]
        without = {key: value for key, value in form.items() if key != "together"}
        return {**without, "together": found} if found else without

    def set_up_form(self, operation: int, revision: str = "A") -> SetUpForm:
        """Return the form of an operation."""
        return set_up_form(self.released(revision)[1].operations[operation - 1])

    def excused(self, form: Form, *names: str, reason: str = "gun on trial") -> Form:
        """Return a set-up with a deviation for each name, as the page notes it, before the acceptances."""
        at, by = _at(moment_of(form["begun"]) + timedelta(minutes=40)), "J. Setter"
        return {**form, "deviations": [{"what": name, "reason": reason, "at": at, "by": by} for name in names]}

    def value(self, key: str, operation: int = 2, revision: str = "A") -> RequiredValue:
        """Return a value of the form."""
        return next(each for each in self.set_up_form(operation, revision).values if each.key == key)

    def reading(self, value: RequiredValue, robot: str, entered: str, verdict: str = "equal", **changes: Any) -> Form:
        """Return an entry of a value."""
        return {
            "value": value.key, "robot": robot, "entered": entered, "number": entered.replace(",", "."),
            "unit": value.unit, "verdict": verdict, "hidden": False, "at": _at(BEGUN + timedelta(minutes=30)),
            "by": "J. Setter", "repeat": 0, **changes,
        }  # fmt: skip

    def ran(self, revision: str, begun: datetime, /, **changes: Any) -> Form:
        """Return the record of a run in which every cell is started and 2000 parts are counted."""
        entry, packet = self.released(revision)
        by, done = "J. Setter", _at(begun + timedelta(minutes=5))
        return {
            "form": "run record", "version": 1, "id": "ab" * 8, "order": packet.head.number, "slug": ORDER,
            "revision": revision, "status": "in force", "record_digest": entry.record_digest,
            "packet_digest": entry.packet_digest, "begun": _at(begun),
            "starts": [
                {"list": start.list, "operation": start.operation, "cell": start.cell, "revision": revision,
                 "record_digest": entry.record_digest, "status": "in force", "status_reason": "", "at": done, "by": by,
                 "ticks": [{"key": tick.key, "digest": tick.digest, "done": done, "by": by} for tick in start.ticks]}
                for start in run_form(packet).starts
            ],
            "counts": [{"count": "900", "at": _at(begun + timedelta(hours=1)), "by": by},
                       {"count": "2000", "at": _at(begun + timedelta(hours=2)), "by": by}],
            "events": [], **changes,
        }  # fmt: skip

    def write(self, form: Form, name: str = "set-up.json") -> str:
        """Write a record as a page saves it, and return its place."""
        file = self.root / name
        file.write_text(json.dumps(form, indent=1) + "\n", "utf-8")
        return str(file)

    def add(self, *forms: Form) -> Answer:
        """File records."""
        return self.run("records", "add", *(self.write(form, f"{at}.json") for at, form in enumerate(forms)))


def plant_in(root: Path) -> Plant:
    """Return the workspace in a folder, with its command."""

    def run(*words: str, now: datetime = FILED) -> Answer:
        out, errors = io.StringIO(), io.StringIO()
        with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(errors):
            patch.setenv("SOURCE_DATE_EPOCH", str(int(now.timestamp())))
            status = main(["--root", str(root), *words])
        return Answer(status, out.getvalue(), errors.getvalue())

    return Plant(root, run)


@pytest.fixture(scope="session")
def copied() -> Callable[[Path, Path], Plant]:
    """Copy a workspace to a folder that is not there yet, for a fixture that goes on from it."""
    return lambda made, root: plant_in(Path(shutil.copytree(made, root)))


@pytest.fixture(scope="session")
def released(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workspace, its order released as revision A; tests take copies of it.

    A module whose tests all begin with more than that makes a fixture of this name of it.
    """
    root = tmp_path_factory.mktemp("set-ups") / "workshop"
    shutil.copytree(WORKSHOP, root)
    shutil.copytree(ROOT / "tables", root / "tables")
    (root / "tables" / "instruments.yaml").unlink()  # records name instruments of their own
    plant_in(root).release(RELEASED)
    return root


@pytest.fixture
def plant(released: Path, tmp_path: Path) -> Plant:
    """A copy of the workspace, to file records in."""
    return plant_in(Path(shutil.copytree(released, tmp_path / "workshop")))
