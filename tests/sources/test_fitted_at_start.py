"""What an order records as fitted at its start: readable quantities at places that it uses, once, and possible."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from weld_packets.sources.orders.orders import SourcedOrder, load_order
from weld_packets.sources.tables.tables import Workspace
from weld_packets.units import exact

Load = Callable[[], SourcedOrder]
Refused = Callable[[Callable[[], object]], str]


@pytest.fixture
def record(folder: Path) -> Callable[[str], None]:
    """Writes a list of entries as the first lines of the order after its quantity, which is on line 5."""

    def write(entries: str) -> None:
        path = folder / "order.yaml"
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace("quantity: 20", f"quantity: 20\nfitted at start:\n{entries}"), encoding="utf-8")

    return write


def test_states_are_read_with_their_units(load: Load, record: Callable[[str], None]) -> None:
    record(
        "  - {robot: C1A, wire left: 3.3 kg, contact tip used: 7.3 h}\n"
        "  - {robot: C1B, new: [wire, contact tip]}\n"
        "  - {cell: C1, gas left: 7600 l}\n"
        "  - {robot: C5A, dressings: 27, welds since dressing: 144, coating: none}\n"
        "  - {robot: C5B, new: [caps]}\n"
    )
    first, second, gas, caps, _ = load().order.fitted_at_start
    assert first.wire_left is not None
    assert exact(first.wire_left, "g") == Decimal(3300)
    assert first.contact_tip_used is not None
    assert exact(first.contact_tip_used, "min") == Decimal(438)
    assert second.new == ("wire", "contact tip")
    assert (gas.cell, caps.dressings, caps.welds_since_dressing, caps.coating) == ("C1", 27, 144, "none")


def test_an_order_need_not_record_anything(load: Load) -> None:
    assert load().order.fitted_at_start == ()


def test_the_whole_of_what_one_holds_and_nothing_are_possible(load: Load, record: Callable[[str], None]) -> None:
    record(
        "  - {robot: C1A, wire left: 15 kg, contact tip used: 8 h}\n"
        "  - {robot: C1B, wire left: 0 kg, contact tip used: 0 h}\n"
        "  - {cell: C1, gas left: 11500 l}\n"
        "  - {robot: C5A, dressings: 30, welds since dressing: 400, coating: none}\n"
        "  - {robot: C5B, dressings: 0, welds since dressing: 0}\n"
    )
    load()


BROKEN = [
    ("robot and cell", "{robot: C1A, cell: C1, new: [wire]}", "", "one robot, or in one cell", "write either"),
    ("neither", "{new: [wire]}", "", "one robot, or in one cell", "write either"),
    ("no such robot", "{robot: C1X, new: [wire]}", ".robot = 'C1X'", "there is no robot of this name",
     "allowed: C1A, C1B, C5A, C5B"),
    ("robot of another order", "{robot: C2A, new: [wire]}", ".robot = 'C2A'", "this order does not use robot C2A",
     "its robots are: C1A, C1B, C5A, C5B"),
    ("cell of another order", "{cell: C2, new: [gas]}", ".cell = 'C2'", "this order does not use cell C2",
     "its cells are: C1, C5"),
    ("cell named as a robot", "{robot: C1, gas left: 100 l}", ".robot = 'C1'", "there is no robot of this name", "C1A"),
    ("nothing recorded", "{robot: C1A}", "", "this records nothing of C1A", "add one of 'new', 'wire left'"),
    ("wire of a spot robot", "{robot: C5A, wire left: 3 kg}", ".wire left", "no wire is fitted at robot C5A",
     "record it at one of: robot C1A, robot C1B"),
    ("caps of an arc robot", "{robot: C1A, new: [caps]}", ".new[0]", "no caps are fitted at robot C1A", "robot C5A"),
    ("gas of a robot", "{robot: C1A, gas left: 100 l}", ".gas left", "no gas is fitted at robot C1A", "cell C1"),
    ("gas of a spot cell", "{cell: C5, gas left: 100 l}", ".gas left", "no gas is fitted at cell C5", "cell C1"),
    ("more wire than a spool", "{robot: C1A, wire left: 15.1 kg}", ".wire left = '15.1 kg'",
     "this is more than the 15 kg that one spool holds", "correct it, or write what is new under 'new'"),
    ("more gas than a cylinder", "{cell: C1, gas left: 12 m3}", ".gas left = '12 m³'",
     "more than the 11500 l that one cylinder holds", "correct it"),
    ("tip beyond its life", "{robot: C1A, contact tip used: 481 min}", ".contact tip used = '481 min'",
     "more than the 8 h that one contact tip is used for", "correct it"),
    ("more dressings than a cap has", "{robot: C5A, dressings: 31, welds since dressing: 1, coating: none}",
     ".dressings = '31'", "caps cap-16-5 are changed after 30 dressings", "write 'new: [caps]'"),
    ("more welds than a dressing", "{robot: C5A, dressings: 1, welds since dressing: 151, coating: hot-dip zinc}",
     ".welds since dressing = '151'", "caps cap-16-5 are dressed after 150 welds", "dress them, or correct it"),
    ("dressings alone", "{robot: C5A, dressings: 3}", "", "how many welds they made since",
     "add 'welds since dressing: ...'"),
    ("welds alone", "{robot: C5A, welds since dressing: 3, coating: none}", "", "how often they were dressed",
     "add 'dressings: ...'"),
    ("welds on an unknown coating", "{robot: C5A, dressings: 1, welds since dressing: 3}", "",
     "depends on the coating that they were made on", "one of: none, iron-zinc, electro zinc, hot-dip zinc"),
    ("new and left", "{robot: C1A, wire left: 3 kg, new: [wire]}", ".new[0]",
     "wire of C1A: already recorded on line 7", "keep one of the two"),
    ("new twice", "{robot: C1A, new: [wire, wire]}", ".new[1]", "wire of C1A: already recorded", "keep one"),
    ("no unit", "{robot: C1A, wire left: 3.3}", ".wire left = '3.3'", "a mass needs its unit", "like '3.3 kg'"),
    ("unit of another kind", "{robot: C1A, contact tip used: 3 kg}", ".contact tip used", "'kg' is not a unit of",
     "units: s, ms, min, h"),
    ("new without a list", "{robot: C1A, new: wire}", ".new", "a list is expected here", "write it as [a, b]"),
    ("unknown thing", "{robot: C1A, new: [tip]}", ".new[0] = 'tip'", "not an allowed word", "contact tip"),
    ("misspelt key", "{robot: C1A, wire lefd: 3 kg}", ".wire lefd", "key is not known", "did you mean 'wire left'"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("entry", "key", "message", "remedy"), [case[1:] for case in BROKEN], ids=[case[0] for case in BROKEN]
)
def test_a_state_that_cannot_be_is_reported_once_with_its_line_and_remedy(  # noqa: PLR0917 - one case is one line
    load: Load, refused: Refused, record: Callable[[str], None], entry: str, key: str, message: str, remedy: str
) -> None:
    record(f"  - {entry}\n")
    text = refused(load)
    assert text.startswith(f"instructions/wo-1/order.yaml:7: fitted at start[0]{key}")
    assert message in text
    assert remedy in text
    assert text.count("    -> ") == 1


def test_one_consumable_in_two_entries_is_reported_at_the_second(
    load: Load, refused: Refused, record: Callable[[str], None]
) -> None:
    record("  - {robot: C1A, wire left: 3 kg}\n  - {robot: C1A, contact tip used: 1 h, new: [wire]}\n")
    text = refused(load)
    assert "order.yaml:8: fitted at start[1].new[0]" in text
    assert "wire of C1A: already recorded on line 7" in text
    assert text.count("    -> ") == 1


def test_two_entries_may_share_a_robot(load: Load, record: Callable[[str], None]) -> None:
    record("  - {robot: C1A, wire left: 3 kg}\n  - {robot: C1A, contact tip used: 1 h}\n")
    assert len(load().order.fitted_at_start) == 2


def test_a_cap_with_one_life_needs_no_coating(
    workspace: Workspace, record: Callable[[str], None], refused: Refused
) -> None:
    cap = workspace.approved.caps["cap-16-5"]
    caps = dict(workspace.approved.caps) | {cap.id: cap.model_copy(update={"life": cap.life[:1]})}
    plain = Workspace(workspace.root, replace(workspace.approved, caps=caps), workspace.places)
    record("  - {robot: C5A, dressings: 3, welds since dressing: 400}\n")
    assert load_order(plain, "wo-1").order.fitted_at_start[0].coating is None
    assert "depends on the coating" in refused(lambda: load_order(workspace, "wo-1"))


def test_caps_without_a_number_for_a_coating_are_reported_for_which_there_are_numbers(
    workspace: Workspace, record: Callable[[str], None], refused: Refused
) -> None:
    cap = workspace.approved.caps["cap-16-5"]
    caps = dict(workspace.approved.caps) | {cap.id: cap.model_copy(update={"life": cap.life[:1]})}
    plain = Workspace(workspace.root, replace(workspace.approved, caps=caps), workspace.places)
    record("  - {robot: C5A, dressings: 3, welds since dressing: 4, coating: hot-dip zinc}\n")
    text = refused(lambda: load_order(plain, "wo-1"))
    assert "fitted at start[0].coating = 'hot-dip zinc'" in text
    assert "-> it has them for: none" in text
