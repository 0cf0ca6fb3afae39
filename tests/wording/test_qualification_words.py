"""What keeps a record from covering a weld, in words."""

from __future__ import annotations

from decimal import Decimal

from weld_packets.calculation.qualification.judging import Answer, Miss
from weld_packets.calculation.qualification.rules import Line
from weld_packets.calculation.qualification.values import Case, Sizes, Terms
from weld_packets.calculation.qualification.verdict import OfRecord, OfWelds
from weld_packets.model.tables.qualification import QualificationRecord, QualificationRules, Variable
from weld_packets.wording.qualification import lowered_words, missing_words, record_words, welds_words

SHEET = {"material": "S355J2", "thickness": "8 mm"}
RECORD = QualificationRecord.model_validate({
    "table": "R-1", "kind": "qualification record", "title": "t", "source": "s", "revision": "A", "standard": "S",
    "edition": "1", "examiner": "role", "date": "2025-01-01", "process": "135", "weld type": "fillet",
    "sheets": [SHEET, SHEET], "results": [{"test": "macro", "found": "good", "document": "D"}],
})  # fmt: skip


def amounts(variable: Variable, number: Decimal, *_: object, **__: object) -> str:
    return f"{number} of {variable}"


def test_a_required_test_that_the_record_does_not_have_is_named() -> None:
    has, proved = Terms(("hardness", "impact")), Terms(("hardness",))
    answer = Answer("required tests", "outside", "no rule", has, proved, miss=Miss(term="impact"))
    assert missing_words(answer, amounts) == "required test that the record does not have: impact"


def unsure(variable: Variable, certainty: str = "from memory", miss: Miss | None = None) -> Answer:
    rules = QualificationRules.model_validate({
        "table": "r", "kind": "qualification rules", "title": "t", "source": "s", "revision": "A", "standard": "S",
        "editions": ["1"], "entries": [{
            "id": "x", "variable": variable, "form": "free", "clause": "1", "certainty": certainty, "source": "s",
        }],
    })  # fmt: skip
    found = Line(rules.entries[0], rules)
    return Answer(variable, "cannot decide", "rule not sure", Terms(("a",)), Terms(("b",)), None, found, miss)


def test_what_keeps_a_record_undecided_is_said_once_for_all_variables_of_one_cause() -> None:
    answers = (
        unsure("thickness"),
        unsure("throat"),
        unsure("passes", miss=Miss(term="several")),
        unsure("carbon dioxide", "in dispute"),
        Answer("voltage", "cannot decide", "not in the record", None, None),
        Answer("preheat", "cannot decide", "not in the record", None, None),
        Answer("material group", "cannot decide", "not in the order", None, None),
        Answer("process", "inside", "as tested", None, None),
    )
    assert record_words(OfRecord(RECORD, answers), amounts) == (
        "passes several: the record has b by a rule that is from memory; "
        "thickness and throat would be covered by rules that are from memory; "
        "carbon dioxide would be covered by a rule that is in dispute between sources; "
        "not stated by the record: voltage and preheat; material group of the order: no table that was read gives it"
    )
    missed = (unsure("passes", miss=Miss(term="several")), unsure("gas", miss=Miss(term="M21")))
    assert record_words(OfRecord(RECORD, missed), amounts) == (
        "passes several: the record has b and gas M21: the record has b, by rules that are from memory"
    )


def test_an_open_verdict_says_which_record_is_surely_outside_and_which_one_keeps_it_open() -> None:
    gas = Answer("gas", "outside", "by the rule", Terms(("M12",)), Terms(("M21",)), miss=Miss(term="M12"))
    sure = OfRecord(RECORD, (gas,))
    other = RECORD.model_copy(update={"table": "R-2"})
    far, near = OfRecord(other, (unsure("thickness"), unsure("throat"))), OfRecord(other, (unsure("throat"),))

    def said(*records: OfRecord) -> str:
        return welds_words(OfWelds(Case(("W1",), "fillet", {}), records), "135", amounts)

    assert said(sure, far) == (
        "Cannot decide. Nearest record R-1, which is outside: gas M12: the record has M21. "
        "What keeps it open is record R-2: thickness and throat would be covered by rules that are from memory."
    )
    assert said(near, sure) == (
        "Cannot decide. Nearest record R-2: throat would be covered by a rule that is from memory. "
        "Surely outside is record R-1: gas M12: the record has M21."
    )
    assert said(sure) == "Outside. Nearest record R-1: gas M12: the record has M21."
    assert said(OfRecord(RECORD, (Answer("gas", "inside", "as tested", None, None),))) == "Inside record R-1."
    assert said() == "Outside: there is no record of process 135."


def test_what_order_or_record_does_not_state_is_named_with_the_side_that_is_silent() -> None:
    of_order = Answer("voltage", "cannot decide", "not in the order", None, None)
    of_record = Answer("material group", "cannot decide", "not in the record", Terms(("1",)), None)
    assert missing_words(of_order, amounts) == "voltage of the order: not stated"
    product = Answer("product", "cannot decide", "not in the order", None, Terms(("plate",)))
    assert missing_words(product, amounts) == "product of the order: not stated; 'section' of the component says it"
    assert record_words(OfRecord(RECORD, (of_order, product)), amounts) == (
        "voltage of the order: not stated; product of the order: not stated; 'section' of the component says it"
    )
    assert missing_words(of_record, amounts) == "material group of the record: no table that was read gives it"


def test_a_lowest_preheat_says_from_which_of_the_test_it_comes() -> None:
    """Without it, at least -30 degrees reads as a mistake."""

    def lowered(form: dict[str, str], variable: Variable = "preheat") -> str:
        rules = QualificationRules.model_validate({
            "table": "r", "kind": "qualification rules", "title": "t", "source": "s", "revision": "A", "standard": "S",
            "editions": ["1"], "entries": [{
                "id": "x", "variable": variable, "clause": "8.4.8", "certainty": "from memory", "source": "s", **form,
            }],
        })  # fmt: skip
        line = Line(rules.entries[0], rules)
        tested = Sizes((Decimal(20),))
        return lowered_words(Answer(variable, "inside", "by the rule", tested, tested, None, line), amounts)

    assert lowered({"form": "difference", "down": "50"}) == "20 of preheat of the test less 50 K, 8.4.8"
    assert lowered({"form": "difference", "up": "50"}) == ""
    assert lowered({"form": "difference", "down": "50"}, "throat") == ""
    assert lowered({"form": "free"}) == ""
