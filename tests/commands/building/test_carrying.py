"""What each order leaves fitted for the next one: along the chain, from records first, computed once."""

from __future__ import annotations

import shutil
from collections import Counter
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from weld_packets.commands.building.build import build
from weld_packets.commands.recording.release import release
from weld_packets.commands.shared.releasing.responsible import Responsible
from weld_packets.commands.writing.check import check
from weld_packets.errors import Problem, SourceError
from weld_packets.packet.records.order import Packet
from weld_packets.packet.run.run import fitted_at_end
from weld_packets.planning.records import Left
from weld_packets.plant.drafts import Drafts, draft
from weld_packets.plant.fitted import carrying
from weld_packets.plant.fitted.carrying import Carrying, Remembered
from weld_packets.plant.orders import open_workspace
from weld_packets.revisions.queries.archive import released_packet
from weld_packets.revisions.records.canonical import packet_digest
from weld_packets.revisions.store.files import open_archive
from weld_packets.sources.digests import OrderDigests
from weld_packets.sources.reading.places import Places

ROOT = Path(__file__).resolve().parents[3]
WORKSHOP = ROOT / "tests" / "commands" / "workshop"
DAY = "1798761600"
"""2027-01-01 as SOURCE_DATE_EPOCH: after every approval of a table."""


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A workspace with the order ``wo-1``."""
    shutil.copytree(WORKSHOP, tmp_path, dirs_exist_ok=True)
    shutil.copytree(ROOT / "tables", tmp_path / "tables")
    return tmp_path


def add(workshop: Path, name: str, previous: str, *changes: tuple[str, str]) -> None:
    """Add a copy of ``wo-1`` under its own number that follows ``previous``, with the changes made."""
    source = workshop / "instructions" / "wo-1"
    shutil.copytree(source, workshop / "instructions" / name, ignore=shutil.ignore_patterns("released"))
    edit(
        workshop,
        name,
        ("order: T-1", f"order: T-{name[-1]}"),
        ("quantity: 20", f"quantity: 20\nprevious order: {previous}"),
    )
    edit(workshop, name, *changes)


def edit(workshop: Path, name: str, *changes: tuple[str, str]) -> None:
    path = workshop / "instructions" / name / "order.yaml"
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def starts(packet: Packet) -> set[str]:
    """Return on what the starts of a packet's consumables rest, without the amounts."""
    return {line.start.partition(" used ")[2] or line.start for line in packet.run.consumables}


def share(packet: Packet, place: str, what: str) -> Fraction:
    return next(Fraction(left.used) for left in packet.run.fitted_at_end if (left.place, left.what) == (place, what))


def test_an_order_starts_from_what_the_order_before_it_leaves_and_that_from_the_one_before(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    add(workshop, "wo-3", "wo-2")
    workspace = open_workspace(workshop)
    first, second, third = (draft(workspace, name) for name in ("wo-1", "wo-2", "wo-3"))
    assert starts(first) == {"new"}
    assert starts(second) == {"at the end of T-1, calculated from its sources"}
    assert starts(third) == {"at the end of T-2, calculated from its sources"}
    used = [share(packet, "C2A", "Wire") for packet in (first, second, third)]
    assert used[1] == 2 * used[0]
    assert used[2] == 3 * used[0]


def test_orders_drafted_together_read_as_each_drafted_alone(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    add(workshop, "wo-3", "wo-2")
    workspace = open_workspace(workshop)
    together = Drafts(workspace)
    for name in ("wo-3", "wo-1", "wo-2"):
        assert together.draft(name) == draft(workspace, name)


def test_a_cell_that_an_order_in_between_does_not_use_keeps_its_state(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    path = workshop / "instructions" / "wo-2" / "order.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("  - name: Door")], encoding="utf-8")
    add(workshop, "wo-3", "wo-2")
    path.with_name("points.csv").unlink()  # the door's welds
    workspace = open_workspace(workshop)
    first, second, third = (draft(workspace, name) for name in ("wo-1", "wo-2", "wo-3"))
    caps = [share(packet, "C5A", "Electrode caps") for packet in (first, second, third)]
    assert caps == [caps[0], caps[0], 2 * caps[0]]
    by = {line.what: line.start for line in third.run.consumables}
    assert by["Electrode caps"].endswith("used at the end of T-1, calculated from its sources")
    assert by["Wire"].endswith("used at the end of T-2, calculated from its sources")


def test_what_an_order_records_counts_in_it_and_in_the_orders_after_it(workshop: Path) -> None:
    recorded = ("previous order: wo-1", "previous order: wo-1\nfitted at start: [{robot: C2A, wire left: 3 kg}]")
    add(workshop, "wo-2", "wo-1", recorded)
    add(workshop, "wo-3", "wo-2")
    workspace = open_workspace(workshop)
    first, second, third = (draft(workspace, name) for name in ("wo-1", "wo-2", "wo-3"))
    assert "as recorded in this order" in starts(second)
    one = share(first, "C2A", "Wire")
    assert share(second, "C2A", "Wire") == Fraction(12, 15) + one
    assert share(third, "C2A", "Wire") == Fraction(12, 15) + 2 * one


@pytest.fixture
def released(workshop: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The workspace with ``wo-1`` released as revision A, and ``wo-2`` after it."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", DAY)
    digest = packet_digest(draft(open_workspace(workshop), "wo-1"))
    release(workshop, "wo-1", Responsible("welding engineer", "first issue", "2027-01-01", "quality lead"), digest)
    add(workshop, "wo-2", "wo-1")
    return workshop


def test_the_released_revision_counts_and_not_what_its_sources_say_since(released: Path) -> None:
    before = draft(open_workspace(released), "wo-2")
    assert starts(before) == {"at the end of T-1 revision A"}
    edit(released, "wo-1", ("quantity: 20", "quantity: 500"))
    after = draft(open_workspace(released), "wo-2")
    assert after.run == before.run
    kept = released_packet(open_archive(released / "instructions"), "wo-1", "A").run.fitted_at_end
    assert [(left.order, left.revision) for left in kept][:1] == [("T-1", "")]


def test_a_chain_ends_at_a_released_revision_whatever_became_of_the_orders_before_it(released: Path) -> None:
    add(released, "wo-3", "wo-2")
    edit(released, "wo-1", ("quantity: 20", "quantity: 20\nprevious order: gone"))
    problems = check(released, ["wo-2", "wo-3"]).problems
    assert [(problem.file, problem.key) for problem in problems] == [("instructions/wo-1/order.yaml", "previous order")]


def test_orders_in_a_ring_are_reported_once_each_and_not_by_those_that_follow_them(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    add(workshop, "wo-3", "wo-2")
    add(workshop, "wo-4", "wo-3")
    add(workshop, "wo-5", "wo-4")
    edit(workshop, "wo-1", ("quantity: 20", "quantity: 20\nprevious order: wo-3"))
    problems = check(workshop, []).problems
    assert [(problem.file, problem.line, problem.value) for problem in problems] == [
        ("instructions/wo-1/order.yaml", 6, "wo-3"),
        ("instructions/wo-2/order.yaml", 6, "wo-1"),
        ("instructions/wo-3/order.yaml", 6, "wo-2"),
    ]
    assert {problem.message for problem in problems} == {
        "these orders follow each other in a ring: wo-1 after wo-3 after wo-2 after wo-1"
    }


def test_what_is_wrong_with_an_order_is_reported_once_however_many_follow_it(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    add(workshop, "wo-3", "wo-2")
    edit(workshop, "wo-1", ("throat: 2.2 mm", "throat: 9 mm"))
    problems = check(workshop, []).problems
    assert {problem.file for problem in problems} == {"instructions/wo-1/order.yaml"}
    assert len(problems) == len(set(problems)) == 1


class Chain:
    """Orders in the place of loaded ones: each follows the one before it, and what it leaves counts them."""

    def __init__(self, length: int, wrong: int = -1) -> None:
        self.length, self.wrong, self.approved = length, wrong, None
        self.loaded: Counter[str] = Counter()
        self.records: dict[str, tuple[str, Any]] = {}

    def sourced(self, slug: str) -> Any:
        self.loaded[slug] += 1
        number = int(slug)
        if number == self.wrong:
            raise SourceError([Problem(f"{slug}.yaml", 1, "", "", "wrong", "correct it")])
        order = SimpleNamespace(previous_order=str(number - 1) if number else None)
        return SimpleNamespace(order=order, places=Places(f"{slug}.yaml"), placed=lambda problem: problem)

    def computed(self, slug: str) -> Any:
        return SimpleNamespace(order=slug, results=())

    def released(self, slug: str) -> tuple[str, Any] | None:
        return self.records.get(slug)


@pytest.fixture
def computed(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often what an order leaves was computed."""
    counted: Counter[str] = Counter()

    def left_by(order: str, _results: Any, _approved: Any, left: tuple[Left, ...] | None) -> tuple[Left, ...]:
        counted[order] += 1
        before = left[0].used if left else Fraction(0)
        return (Left("C1A", "Wire", "W", before + 1, 0, order),)

    monkeypatch.setattr(carrying, "left_by", left_by)
    return counted


def test_a_chain_of_three_thousand_orders_is_walked_once(computed: Counter[str]) -> None:
    chain = Chain(3_000)
    carried = Carrying(chain)  # type: ignore[arg-type]
    assert carried.left_by("2999")[0].used == 3_000
    for number in range(3_000):
        assert carried.left_by(str(number))[0].used == number + 1
    assert set(computed.values()) == {1}
    assert max(chain.loaded.values()) <= 2


def test_orders_after_a_wrong_one_are_reported_without_walking_the_chain_again(computed: Counter[str]) -> None:
    chain = Chain(500, wrong=3)
    carried = Carrying(chain)  # type: ignore[arg-type]
    for number in range(3, 500):
        with pytest.raises(SourceError) as caught:
            carried.left_by(str(number))
        assert [problem.file for problem in caught.value.problems] == ["3.yaml"]
    assert max(chain.loaded.values()) <= 2
    assert not computed


def test_what_was_drafted_is_not_computed_again(computed: Counter[str]) -> None:
    carried = Carrying(Chain(10))  # type: ignore[arg-type]
    kept = (Left("C1A", "Wire", "W", Fraction(7), 0, "drafted"),)
    carried.keep("4", kept)
    assert carried.left_by("4") == kept
    assert carried.left_by("6")[0].used == 9
    assert computed == {"5": 1, "6": 1}


def test_a_released_packet_without_a_state_leaves_it_to_the_sources(computed: Counter[str]) -> None:
    chain = Chain(3)
    run = SimpleNamespace(fitted_at_end=())
    chain.records["1"] = ("B", SimpleNamespace(run=run, head=SimpleNamespace(number="1")))
    assert Carrying(chain).left_by("2")[0].used == 3  # type: ignore[arg-type]
    assert computed["1"] == 1


@pytest.fixture
def remembered(tmp_path: Path) -> Remembered:
    return Remembered(tmp_path / "kept", lambda slug: f"digest of {slug}")


def test_what_an_order_leaves_is_remembered_exactly(remembered: Remembered) -> None:
    wire = Left("C1A", "Wire", "W", Fraction(7, 9), 0, "T-1")
    left = (wire, Left("C5A", "Electrode caps", "c", Fraction(1), 27, "T-0", "B"))
    remembered.put("wo-1", left)
    assert remembered.get("wo-1") == left
    assert remembered.get("wo-2") is None


@pytest.mark.parametrize(
    "kept",
    [
        "",
        "[]",
        "{}",
        '{"digest": "digest of wo-1"}',
        '{"digest": "other", "left": []}',
        '{"digest": "digest of wo-1", "left": [{"place": "C1A"}]}',
        '{"digest": "digest of wo-1", "left": [{"used": "1/0"}]}',
    ],
)
def test_what_is_damaged_or_of_other_sources_is_not_taken(remembered: Remembered, tmp_path: Path, kept: str) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "wo-1.json").write_text(kept, encoding="utf-8")
    assert remembered.get("wo-1") is None


def test_a_chain_goes_back_to_what_is_remembered_and_is_remembered_from_there(
    computed: Counter[str], remembered: Remembered
) -> None:
    first = Carrying(Chain(100), remembered)  # type: ignore[arg-type]
    assert first.left_by("80")[0].used == 81
    computed.clear()
    chain = Chain(100)
    assert Carrying(chain, remembered).left_by("82")[0].used == 83  # type: ignore[arg-type]
    assert computed == {"81": 1, "82": 1}
    assert "79" not in chain.loaded


def test_a_build_remembers_what_orders_leave_until_their_sources_or_those_before_them_change(workshop: Path) -> None:
    add(workshop, "wo-2", "wo-1")
    add(workshop, "wo-3", "wo-2")
    assert build(workshop, [], everything=False).built == ("wo-1", "wo-2", "wo-3")

    def kept() -> dict[str, tuple[Left, ...] | None]:
        found = Remembered(workshop / "site" / ".fitted", OrderDigests(workshop).of)
        return {name: found.get(name) for name in ("wo-1", "wo-2", "wo-3")}

    first = draft(open_workspace(workshop), "wo-3").run.fitted_at_end
    assert fitted_at_end(kept()["wo-3"] or ()) == first
    edit(workshop, "wo-2", ("quantity: 20", "quantity: 21"))
    assert [name for name, left in kept().items() if left] == ["wo-1"]
    shutil.rmtree(workshop / "instructions" / "wo-3")
    build(workshop, [], everything=False)
    assert sorted(path.stem for path in (workshop / "site" / ".fitted").iterdir()) == ["wo-1", "wo-2"]
