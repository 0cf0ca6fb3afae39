"""Coupon programs of an order: each calls one weld schedule of its robot and never welds the part."""

from collections.abc import Callable
from pathlib import Path

import pytest
from weld_packets.sources.orders.orders import SourcedOrder

Load = Callable[[], SourcedOrder]
Refused = Callable[[Callable[[], object]], str]
PLACE = "instructions/wo-1/order.yaml:46: operations[1].coupon programs"


@pytest.fixture
def write(folder: Path) -> Callable[..., None]:
    """Writes coupon programs into the spot operation: both robots weld its stack S1, C5B alone the second one."""

    def change(programs: str, *, first: str = "", second: str = "", arc: str = "") -> None:
        path = folder / "order.yaml"
        text = path.read_text(encoding="utf-8")
        programs = f"programs: {{C5A: 21, C5B: 22}}\n    coupon programs: {programs}"
        text = text.replace("programs: {C5A: 21, C5B: 22}", programs)
        number = {name: f", weld schedule: {value}" if value else "" for name, value in (("1", first), ("2", second))}
        stacks = [f"{{id: S{name}, sheets: [skin, rib]{number[name]}}}" for name in "12"]
        text = text.replace("{id: S1, sheets: [skin, rib]}", "\n      - ".join(stacks))
        if arc:
            text = text.replace("programs: {C1A: 11, C1B: 12}", f"programs: {{C1A: 11, C1B: 12}}, {arc}")
            text = text.replace("C1B: 12}, coupon", "C1B: 12}\n    coupon")
        path.write_text(text, encoding="utf-8")
        points = (folder / "points.csv").read_text(encoding="utf-8")
        (folder / "points.csv").write_text(points + "P4,C5B,S2,90,60,0\n", encoding="utf-8")

    return change


def test_each_weld_schedule_of_a_robot_has_its_coupon_program(load: Load, write: Callable[..., None]) -> None:
    write("{C5A: {7: T1}, C5B: {8: T2, 7: T3}}", first="7", second="8")
    operation = load().order.operations[1]
    assert operation.coupon_programs_of("C5A") == ((7, "T1"),)
    assert operation.coupon_programs_of("C5B") == ((7, "T3"), (8, "T2"))


def test_one_program_alone_serves_welds_without_a_number(load: Load, write: Callable[..., None]) -> None:
    write("{C5A: T1, C5B: T2}")
    assert load().order.operations[1].coupon_programs_of("C5B") == ((None, "T2"),)


def test_an_operation_without_coupon_programs_names_none(load: Load) -> None:
    assert load().order.operations[1].coupon_programs_of("C5A") == ()


BROKEN = {
    "program alone for numbered welds": (
        "{C5A: T1, C5B: {7: T2, 8: T3}}",
        ".C5A = 'T1'",
        "does not say which weld schedule the program calls; C5A uses weld schedule 7",
        "write 'C5A: {7: T1}'",
    ),
    "program alone for two schedules": (
        "{C5A: {7: T1}, C5B: T2}",
        ".C5B = 'T2'",
        "C5B uses weld schedules 7, 8",
        "write 'C5B: {7: T2, 8: PROGRAM}'",
    ),
    "schedule without a program": (
        "{C5A: {7: T1}, C5B: {7: T2}}",
        ".C5B",
        "weld schedule 8 of C5B has no coupon program",
        "add '8: PROGRAM' under 'C5B'",
    ),
    "program of a schedule that no weld uses": (
        "{C5A: {7: T1, 8: T4}, C5B: {7: T2, 8: T3}}",
        ".C5A.8 = 'T4'",
        "no weld of C5A uses weld schedule 8; it uses weld schedule 7",
        "correct the number, or delete the key",
    ),
    "robot without any": (
        "{C5A: {7: T1}}",
        "",
        "robot C5B has no program for its coupons, and the other robot has",
        "add 'C5B: {7: PROGRAM, 8: PROGRAM}' under 'coupon programs'",
    ),
    "one program for two schedules": (
        "{C5A: {7: T1}, C5B: {7: T2, 8: T2}}",
        ".C5B.8 = 'T2'",
        "this coupon program of C5B already calls weld schedule 7 on line 46",
        "give each weld schedule a coupon program of its own",
    ),
    "program of the part": (
        "{C5A: {7: T1}, C5B: {7: T2, 8: 22}}",
        ".C5B.8 = '22'",
        "C5B welds the part with this program",
        "give the coupon program a number of its own",
    ),
    "robot of another cell": (
        "{C5A: {7: T1}, C5B: {7: T2, 8: T3}, C6A: {7: T4}}",
        ".C6A",
        "there is no robot in this operation of this name",
        "allowed: C5A, C5B",
    ),
    "word in place of a number": (
        "{C5A: {seven: T1}, C5B: {7: T2, 8: T3}}",
        ".C5A.seven",
        "not the number of a weld schedule",
        "write digits only",
    ),
    "number with a zero before it": (
        "{C5A: {07: T1}, C5B: {7: T2, 8: T3}}",
        ".C5A.07",
        "not the number of a weld schedule",
        "no zero before them",
    ),
    "list of programs": (
        "{C5A: [T1], C5B: {7: T2, 8: T3}}",
        ".C5A",
        "one value is expected here",
        "write one value",
    ),
    "unfit program": (
        "{C5A: {7: 'T 1'}, C5B: {7: T2, 8: T3}}",
        ".C5A.7 = 'T 1'",
        "this short identifier has a character",
        "write letters, digits",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("programs", "key", "message", "remedy"), BROKEN.values(), ids=BROKEN)
def test_a_coupling_that_proves_nothing_is_reported_once_with_its_line_and_remedy(  # noqa: PLR0917 - one case is one line
    load: Load, refused: Refused, write: Callable[..., None], programs: str, key: str, message: str, remedy: str
) -> None:
    write(programs, first="7", second="8")
    text = refused(load)
    assert text.startswith(f"{PLACE}{key}")
    assert message in text
    assert remedy in text
    assert text.count("    -> ") == 1


def test_programs_by_number_of_welds_without_numbers_are_refused_with_how_to_number_them(
    load: Load, refused: Refused, write: Callable[..., None]
) -> None:
    write("{C5A: {7: T1}, C5B: T2}")
    text = refused(load)
    assert "the welds of C5A have no 'weld schedule'" in text
    assert "or write 'C5A: PROGRAM' where all are set the same" in text
    assert text.count("    -> ") == 1


def test_a_robot_that_welds_nothing_needs_no_coupon_program(load: Load, write: Callable[..., None]) -> None:
    write("{C5A: T1, C5B: T2}", arc="coupon programs: {C1A: T3}")
    assert load().order.operations[0].coupon_programs_of("C1A") == ((None, "T3"),)


def test_a_coupon_program_of_a_robot_that_welds_nothing_is_refused(
    load: Load, refused: Refused, write: Callable[..., None]
) -> None:
    write("{C5A: T1, C5B: T2}", arc="coupon programs: {C1A: T3, C1B: T4}")
    text = refused(load)
    assert "operations[0].coupon programs.C1B = 'T4'" in text
    assert "robot C1B welds nothing in this operation" in text
    assert text.count("    -> ") == 1


def test_another_robot_may_use_the_number(load: Load, write: Callable[..., None]) -> None:
    write("{C5A: T1, C5B: T1}")
    load()
