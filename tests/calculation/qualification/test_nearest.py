"""Which record is nearest to some welds, what the verdict on them is, and which records it names."""

from __future__ import annotations

from weld_packets.calculation.qualification.judging import Answer, Miss
from weld_packets.calculation.qualification.values import Case, Outcome, Terms
from weld_packets.calculation.qualification.verdict import OfRecord, OfWelds
from weld_packets.model.tables.qualification import QualificationRecord

SHEET = {"material": "S355J2", "thickness": "8 mm"}
MISS = Miss(term="a")


def answer(outcome: Outcome, miss: Miss | None = None) -> Answer:
    """Return an answer on a variable; which one does not matter here."""
    return Answer("gas", outcome, "by the rule", Terms(("a",)), Terms(("b",)), miss=miss)


INSIDE = answer("inside")
PAST = answer("outside", MISS)
"""Surely outside."""
OPEN = answer("cannot decide")
"""A rule that is not sure would cover it, or nobody states it."""
DOUBTED = answer("cannot decide", MISS)
"""A rule that is not sure would not cover it."""


def record(number: str, *answers: Answer) -> OfRecord:
    """Return what a record says of the welds."""
    head = {"title": "t", "source": "s", "revision": "A", "standard": "S", "edition": "1", "examiner": "role"}
    of = QualificationRecord.model_validate({
        **head, "table": number, "kind": "qualification record", "date": "2025-01-01", "process": "135",
        "weld type": "fillet", "sheets": [SHEET, SHEET], "results": [{"test": "a", "found": "b", "document": "c"}],
    })  # fmt: skip
    return OfRecord(of, (INSIDE, *answers))


def welds(*records: OfRecord) -> OfWelds:
    """Return the verdict on welds that some records were compared with."""
    return OfWelds(Case(("W1",), "fillet", {}), tuple(sorted(records, key=lambda each: each.rank)))


def named(*records: OfRecord) -> list[str]:
    """Return the numbers of the records that a verdict names."""
    return [each.record.table for each in welds(*records).named]


def nearest(*records: OfRecord) -> str:
    """Return the number of the nearest record."""
    return welds(*records).records[0].record.table


def test_one_that_is_outside_by_one_variable_is_nearer_than_one_that_is_open_in_several() -> None:
    assert nearest(record("A", OPEN, OPEN), record("B", PAST)) == "B"
    assert nearest(record("A", DOUBTED, DOUBTED), record("B", PAST)) == "B"
    assert nearest(record("A", OPEN, OPEN), record("B", PAST, PAST, PAST)) == "A"


def test_a_record_that_covers_the_welds_is_nearest_even_beside_one_of_which_nothing_was_compared() -> None:
    assert nearest(record("A", OPEN), record("B")) == "B"
    empty = OfRecord(record("A").record, ())
    assert (empty.outcome, nearest(empty, record("B"))) == ("cannot decide", "B")


def test_of_records_that_lack_equally_many_the_one_past_fewer_bounds_is_nearer() -> None:
    assert nearest(record("A", PAST, OPEN), record("B", OPEN, OPEN)) == "B"
    assert nearest(record("A", DOUBTED, OPEN), record("B", OPEN, OPEN)) == "B"
    assert nearest(record("A", PAST, PAST), record("B", DOUBTED, PAST)) == "B"  # then fewer sure answers against it
    assert nearest(record("B", OPEN), record("A", OPEN)) == "A"
    unread = answer("outside")  # outside since no rule covers the change counts as past a bound, too
    assert nearest(record("A", unread), record("B", OPEN)) == "B"


def test_the_verdict_is_the_best_of_all_records_and_not_that_of_the_nearest() -> None:
    assert welds(record("A", OPEN, OPEN), record("B", PAST)).outcome == "cannot decide"
    assert welds(record("A", PAST, PAST), record("B", PAST)).outcome == "outside"
    assert welds(record("A", PAST), record("B")).outcome == "inside"
    assert welds().outcome == "outside"


def test_an_open_verdict_names_what_keeps_it_open_beside_a_nearest_record_that_is_outside() -> None:
    many = record("A", OPEN, OPEN)
    assert named(many, record("B", PAST)) == ["B", "A"]
    assert named(record("C", OPEN, OPEN, OPEN), many, record("B", PAST)) == ["B", "A"]  # of two the nearer


def test_an_open_verdict_never_hides_a_sure_answer_that_is_as_near() -> None:
    assert named(record("A", OPEN), record("B", PAST)) == ["A", "B"]
    assert named(record("A", OPEN), record("B", PAST, OPEN)) == ["A"]
    assert named(record("A", OPEN), record("B", DOUBTED)) == ["A"]


def test_a_verdict_that_is_sure_names_the_nearest_record_alone() -> None:
    assert named(record("A", PAST, PAST), record("B", PAST)) == ["B"]
    assert named(record("A", PAST), record("B")) == ["B"]
    assert named() == []
