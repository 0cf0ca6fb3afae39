"""What is wrong between orders, and with the files that every site is made with."""

import shutil
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from weld_packets.commands.building.build import build
from weld_packets.commands.building.export import export
from weld_packets.commands.recording.release import release
from weld_packets.commands.recording.withdraw import withdraw
from weld_packets.commands.shared.releasing.responsible import Responsible
from weld_packets.commands.writing.check import CheckReport, check
from weld_packets.errors import SourceError
from weld_packets.packet.program_use import ProgramUse
from weld_packets.plant.shared_numbers import clashing_programs, repeated_numbers
from weld_packets.sources.folders import order_path

ROOT = Path(__file__).resolve().parents[3]
DAY = "1796126400"
"""2026-12-01, 12:00 UTC: the day of each test of a command."""
WORKSHOP = ROOT / "tests" / "commands" / "workshop"


def of_two_orders(root: Path) -> Path:
    """Return a workspace with two orders, of which neither is right."""
    shutil.copytree(WORKSHOP, root, dirs_exist_ok=True)
    shutil.copytree(ROOT / "tables", root / "tables")
    shutil.copytree(root / "instructions" / "wo-1", root / "instructions" / "wo-2")
    return root


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    return of_two_orders(tmp_path)


@contextmanager
def on(day: str) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", day)
        yield


def answering(reason: str, day: str) -> Responsible:
    """Return who answers for a record: two people of the list that the demo's tables hold."""
    return Responsible("welding engineer", reason, day, "quality lead")


def follow(workshop: Path, order: str, previous: str) -> None:
    path = workshop / "instructions" / order / "order.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("quantity: 20", f"quantity: 20\nprevious order: {previous}"), encoding="utf-8")


def test_two_orders_of_one_number_are_reported(workshop: Path) -> None:
    (problem,) = check(workshop, []).problems
    assert (problem.file, problem.key, problem.value) == ("instructions/wo-2/order.yaml", "order", "T-1")
    assert "instructions/wo-1 has the same order number" in problem.message


def test_numbers_that_differ_by_capitals_only_are_one() -> None:
    (problem,) = repeated_numbers([("wo-1", "T-1"), ("wo-2", "t-1")])
    assert (problem.value, problem.message) == ("t-1", "instructions/wo-1 has the same order number")


def test_orders_of_their_own_numbers_are_good() -> None:
    assert repeated_numbers([("a", "1"), ("b", "2")]) == ()


def test_two_orders_that_each_follow_the_other_are_reported(workshop: Path) -> None:
    follow(workshop, "wo-1", "wo-2")
    follow(workshop, "wo-2", "wo-1")
    problems = check(workshop, []).problems
    assert [(problem.file, problem.line, problem.value) for problem in problems] == [
        ("instructions/wo-1/order.yaml", 6, "wo-2"),
        ("instructions/wo-2/order.yaml", 6, "wo-1"),
    ]


def coupon(program: str, schedule: str = "7", current: str = "8.4 kA", robot: str = "C5A") -> ProgramUse:
    return ProgramUse(robot, program, "there", coupon=True, weld_schedule=schedule, settings={"weld_current": current})


def part(program: str, robot: str = "C5A", welds: int = 0, places: str = "") -> ProgramUse:
    return ProgramUse(robot, program, "here", welds=welds, places=places)


CLASHES = [
    ("part after coupon", coupon("T1"), part("T1"), "instructions/a welds coupons on C5A with this program"),
    ("coupon after part", part("T1"), coupon("T1"), "instructions/a welds the part on C5A with this program"),
    (
        "fewer welds",
        part("T1", welds=3, places="abc"),
        part("T1", welds=2, places="def"),
        "instructions/a makes other welds on C5A with this program: 3 there, 2 here",
    ),
    (
        "other places",
        part("T1", welds=3, places="abc"),
        part("T1", welds=3, places="def"),
        "with this program: 3 in both, at other places or in another sequence",
    ),
    (
        "another schedule",
        coupon("T1"),
        coupon("T1", schedule="8"),
        "in instructions/a this coupon program of C5A calls weld schedule 7, here weld schedule 8",
    ),
    (
        "no number any more",
        coupon("T1"),
        coupon("T1", schedule=""),
        "calls weld schedule 7, here a weld schedule without a number",
    ),
    (
        "other settings",
        coupon("T1"),
        coupon("T1", current="8.6 kA"),
        "weld schedule 7 of C5A is set otherwise in instructions/a: weld current 8.4 kA there, 8.6 kA here",
    ),
]


@pytest.mark.parametrize(("first", "second", "words"), [case[1:] for case in CLASHES], ids=[c[0] for c in CLASHES])
def test_a_program_that_another_order_uses_otherwise_is_reported_at_the_later_order(
    first: ProgramUse, second: ProgramUse, words: str
) -> None:
    (clash,) = clashing_programs([("a", [first]), ("b", [second])], order_path)
    assert (clash.order, clash.other, clash.problem.key, clash.problem.value) == ("b", "a", second.place, "T1")
    assert words in clash.problem.message
    assert clash.problem.remedy


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (coupon("T1"), coupon("T1")),
        (coupon("T1"), coupon("T2", schedule="8")),
        (coupon("T1"), coupon("T1", schedule="8", robot="C5B")),
        (coupon("T1"), part("T1", robot="C9A")),
        (part("T1", welds=3, places="abc"), part("T1", welds=3, places="abc")),
        (part("T1", welds=3, places="abc"), part("T1", "C5B", welds=2, places="def")),
    ],
    ids=[
        "the same",
        "another number",
        "another robot",
        "part of another robot",
        "part of both",
        "other welds of another",
    ],
)
def test_programs_that_mean_the_same_or_stand_in_another_robot_are_good(first: ProgramUse, second: ProgramUse) -> None:
    assert list(clashing_programs([("a", [first]), ("b", [second])], order_path)) == []


def test_every_order_is_held_against_the_first_that_names_a_program() -> None:
    orders = [("a", [coupon("T1")]), ("b", [coupon("T1", "8")]), ("c", [coupon("T1")]), ("d", [coupon("T1", "8")])]
    assert [(clash.order, clash.other) for clash in clashing_programs(orders, order_path)] == [("b", "a"), ("d", "a")]


def numbered(workshop: Path) -> Path:
    """Return two good orders."""
    path = workshop / "instructions" / "wo-2" / "order.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("order: T-1", "order: T-2"), encoding="utf-8")
    return workshop


@pytest.fixture
def moved(workshop: Path) -> Path:
    """Two good orders whose program P3 of C5A welds a spot at another place."""
    points = numbered(workshop) / "instructions" / "wo-2" / "points.csv"
    points.write_text(points.read_text(encoding="utf-8").replace("112,30,0", "112,31,0"), encoding="utf-8")
    return workshop


def test_two_orders_whose_programs_weld_the_same_are_good(workshop: Path) -> None:
    assert check(numbered(workshop), []).problems == ()


OTHER_WELDS = "makes other welds on C5A with this program"


def between(report: CheckReport, order: str) -> list[str]:
    """Return what a check notes of an order in lines of its own about other orders."""
    (found,) = (each for each in report.orders if each.slug == order)
    return [line for line in found.lines if "order.yaml:" in line]


def test_programs_that_two_drafts_use_otherwise_are_noted_at_one_and_refuse_nothing(moved: Path) -> None:
    found = check(moved, [])
    assert found.problems == ()
    assert between(found, "wo-1") == []
    (note,) = between(found, "wo-2")
    line = line_of(moved, "wo-2", "programs: {C5A: P3")
    where = f"wo-2: instructions/wo-2/order.yaml:{line}: operations[1].programs.C5A = 'P3'"
    assert note.startswith(f"{where}: the draft of instructions/wo-1 {OTHER_WELDS}: ")
    assert "the second to be released is refused" in note
    (alone,) = between(check(moved, ["wo-1"]), "wo-1")
    assert f"the draft of instructions/wo-2 {OTHER_WELDS}" in alone
    report = build(moved, [], everything=False)
    assert report.between == ()
    assert "makes other welds" in (report.landing.parent / "register.html").read_text("utf-8").lower()


def test_a_program_that_a_released_revision_uses_otherwise_is_refused(moved: Path) -> None:
    as_released(moved, "wo-1")
    for orders in ([], ["wo-2"]):
        (problem,) = check(moved, orders).problems
        assert (problem.file, problem.key) == ("instructions/wo-2/order.yaml", "operations[1].programs.C5A")
        assert problem.line == line_of(moved, "wo-2", "programs: {C5A: P3")
        assert f"instructions/wo-1 revision A {OTHER_WELDS}" in problem.message
        assert "withdraw its revision A" in problem.remedy
    found = check(moved, ["wo-1"])
    assert len(between(found, "wo-1")) == 1  # the draft of the other is no reason against this one
    assert found.problems == ()
    with pytest.raises(SourceError, match=OTHER_WELDS):
        as_released(moved, "wo-2")
    report = build(moved, [], everything=False)
    assert [problem.key for problem in report.between] == ["operations[1].programs.C5A"]


def test_what_is_released_counts_and_not_what_its_files_have_become(moved: Path) -> None:
    points = [moved / "instructions" / order / "points.csv" for order in ("wo-1", "wo-2")]
    here, there = (path.read_text(encoding="utf-8") for path in points)
    points[1].write_text(here, encoding="utf-8")
    for order in ("wo-1", "wo-2"):
        as_released(moved, order)
    points[0].write_text(there, encoding="utf-8")
    with pytest.raises(SourceError, match=f"instructions/wo-2 revision A {OTHER_WELDS}"):
        as_released(moved, "wo-1")  # the other order, which is in force, does not know that its program changes
    assert check(moved, ["wo-2"]).problems == ()  # for what only the files of the other order say, none is refused
    points[1].write_text(there, encoding="utf-8")
    (note,) = between(check(moved, ["wo-1"]), "wo-1")
    assert "its files agree: release instructions/wo-2 anew too, or withdraw its revision A" in note
    who = answering("spot moved", "2026-12-02")
    assert any(OTHER_WELDS in line for line in release(moved, "wo-1", who, ""))
    assert any(OTHER_WELDS in line for line in release(moved, "wo-2", who, "")) is False
    report = build(moved, [], everything=False)
    assert [OTHER_WELDS in problem.message for problem in report.between] == []


def test_a_withdrawn_order_no_longer_keeps_its_programs(moved: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    as_released(moved, "wo-1")
    withdraw(moved, "wo-1", "A", answering("its program was changed", "2026-12-02"))
    found = check(moved, ["wo-2"])
    assert found.problems == ()  # it is withdrawn from a day to come, and this one may wait for it
    (note,) = between(found, "wo-2")
    assert "it is in force until 2026-12-01: release this order with effect from a later day" in note
    with pytest.raises(SourceError, match=OTHER_WELDS):
        as_released(moved, "wo-2")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1798882200")  # 2027-01-02
    found = check(moved, ["wo-2"])
    assert (found.problems, between(found, "wo-2")) == ((), [])
    build(moved, [], everything=False)
    assert build(moved, [], everything=True).between == ()


def test_a_revision_may_use_a_program_from_the_day_on_which_another_ends(moved: Path) -> None:
    as_released(moved, "wo-1")
    withdraw(moved, "wo-1", "A", answering("its program was changed", "2026-12-02"))
    release(moved, "wo-2", answering("first issue", "2026-12-02"), "")
    assert build(moved, [], everything=False).between == ()


def test_both_revisions_of_another_order_are_compared_the_one_in_force_and_the_one_to_come(moved: Path) -> None:
    """Of wo-1 revision A is in force with the old place of a spot, and revision B is to come with the new one."""
    as_released(moved, "wo-1")
    old = moved / "instructions" / "wo-1" / "points.csv"
    old.write_text(old.read_text(encoding="utf-8").replace("112,30,0", "112,31,0"), encoding="utf-8")
    release(moved, "wo-1", answering("spot moved", "2026-12-10"), "")
    assert build(moved, [], everything=False).between == ()  # the draft may still be released for later than A
    assert "T-1 revision A makes other welds" in (moved / "site" / "register.html").read_text("utf-8")
    (note,) = between(check(moved, ["wo-2"]), "wo-2")
    assert "revision A" in note
    assert "until 2026-12-09" in note
    with pytest.raises(SourceError, match=f"instructions/wo-1 revision A {OTHER_WELDS}"):
        release(moved, "wo-2", answering("first issue", "2026-12-09"), "")
    release(moved, "wo-2", answering("first issue", "2026-12-10"), "")
    assert build(moved, [], everything=False).between == ()
    points = moved / "instructions" / "wo-2" / "points.csv"
    points.write_text(points.read_text(encoding="utf-8").replace("112,31,0", "112,30,0"), encoding="utf-8")
    (problem,) = check(moved, ["wo-2"]).problems
    assert f"instructions/wo-1 revision B {OTHER_WELDS}" in problem.message


def test_a_withdrawn_order_no_longer_keeps_its_coupon_programs(workshop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    couple(workshop, "wo-1", "T-1", "{C5A: {7: T1}, C5B: {7: T2}}")
    couple(workshop, "wo-2", "T-2", "{C5A: {8: T1}, C5B: {8: T3}}")
    as_released(workshop, "wo-1")
    assert len(check(workshop, ["wo-2"]).problems) == 1
    withdraw(workshop, "wo-1", "A", answering("the order is finished", "2026-12-02"))
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1798882200")  # 2027-01-02
    found = check(workshop, ["wo-2"])
    assert (found.problems, between(found, "wo-2")) == ((), [])
    assert build(workshop, [], everything=False).between == ()


def couple(workshop: Path, order: str, number: str, programs: str) -> None:
    """Give an order its number, and weld schedules and coupon programs to its spot operation."""
    path = workshop / "instructions" / order / "order.yaml"
    text = path.read_text(encoding="utf-8")
    text = text.replace("order: T-1", f"order: {number}")
    text = text.replace(
        "programs: {C5A: P3, C5B: P4}", f"programs: {{C5A: P3, C5B: P4}}\n    coupon programs: {programs}"
    )
    schedule = programs.split("{C5A: {")[1].split(":", maxsplit=1)[0]
    path.write_text(text.replace("[skin, rib]}", f"[skin, rib], weld schedule: {schedule}}}"), encoding="utf-8")


@pytest.fixture(scope="module")
def coupled_plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two orders whose coupon program T1 of C5A calls weld schedule 7 in one, which is released, and 8 in the other."""
    plant = of_two_orders(tmp_path_factory.mktemp("coupled"))
    couple(plant, "wo-1", "T-1", "{C5A: {7: T1}, C5B: {7: T2}}")
    couple(plant, "wo-2", "T-2", "{C5A: {8: T1}, C5B: {8: T3}}")
    with on(DAY):
        as_released(plant, "wo-1")
    return plant


@pytest.fixture
def coupled(coupled_plant: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(coupled_plant, tmp_path / "coupled"))


@pytest.fixture(scope="module")
def coupled_sites(coupled_plant: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same, with their sites."""
    plant = Path(shutil.copytree(coupled_plant, tmp_path_factory.mktemp("built") / "coupled"))
    with on(DAY):
        assert len(build(plant, [], everything=False).between) == 1
    return plant


def test_check_shows_a_reused_coupon_program_with_its_line(coupled: Path) -> None:
    (problem,) = check(coupled, []).problems
    assert (problem.file, problem.key) == ("instructions/wo-2/order.yaml", "operations[1].coupon programs.C5A.8")
    assert problem.line == line_of(coupled, "wo-2", "coupon programs:")
    assert "in instructions/wo-1 revision A this coupon program of C5A calls weld schedule 7" in problem.message


def line_of(workshop: Path, order: str, text: str) -> int:
    lines = (workshop / "instructions" / order / "order.yaml").read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if text in line)


def test_check_of_one_order_holds_it_against_the_others_too(coupled: Path) -> None:
    (note,) = between(check(coupled, ["wo-1"]), "wo-1")
    assert "in the draft of instructions/wo-2" in note


def test_the_same_schedule_with_other_settings_is_reported_by_the_setting(workshop: Path) -> None:
    couple(workshop, "wo-1", "T-1", "{C5A: {7: T1}, C5B: {7: T2}}")
    couple(workshop, "wo-2", "T-2", "{C5A: {7: T1}, C5B: {7: T2}}")
    path = workshop / "instructions" / "wo-2" / "order.yaml"
    text = path.read_text(encoding="utf-8")
    assert check(workshop, []).problems == ()
    as_released(workshop, "wo-1")
    thicker = text.replace("material: DC01\n        thickness: 1 mm", "material: DC01\n        thickness: 1.2 mm")
    path.write_text(thicker, encoding="utf-8")
    problems = check(workshop, []).problems
    assert [problem.key for problem in problems] == [
        "operations[1].coupon programs.C5A.7",
        "operations[1].coupon programs.C5B.7",
    ]
    assert all("weld schedule 7 of C5" in problem.message and "there," in problem.message for problem in problems)


def test_an_order_that_is_wrong_does_not_hide_another(coupled: Path) -> None:
    path = coupled / "instructions" / "wo-1" / "order.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("quantity: 20", "quantity: x"), encoding="utf-8")
    assert [problem.key for problem in check(coupled, []).problems] == [
        "quantity",
        "operations[1].coupon programs.C5A.8",
    ]


def test_build_shows_it_from_the_sites_without_computing_the_other_order_again(coupled: Path) -> None:
    report = build(coupled, ["wo-1"], everything=False)
    assert (report.built, report.problems) == (("wo-1",), ())
    assert not (coupled / "site" / "wo-2").exists()
    report = build(coupled, [], everything=False)
    assert report.built == ("wo-2",)
    (problem,) = report.between
    assert (problem.file, problem.key) == ("instructions/wo-2/order.yaml", "operations[1].coupon programs.C5A.8")
    again = build(coupled, [], everything=False)
    assert (again.built, again.unchanged, again.between) == ((), 2, report.between)


def released_apart(workshop: Path) -> Path:
    """Release two orders of which a correction has reached only the second: their files agree, their records do not."""
    couple(workshop, "wo-1", "T-1", "{C5A: {7: T1}, C5B: {7: T2}}")
    couple(workshop, "wo-2", "T-2", "{C5A: {7: T1}, C5B: {7: T2}}")
    sources = [workshop / "instructions" / order / "order.yaml" for order in ("wo-1", "wo-2")]
    as_released(workshop, "wo-1")
    for path in sources:
        text = path.read_text(encoding="utf-8")
        path.write_text(
            text.replace("DC01\n        thickness: 1 mm", "DC01\n        thickness: 1.2 mm"), encoding="utf-8"
        )
    as_released(workshop, "wo-2")
    assert check(workshop, []).problems == ()
    return workshop


def as_released(workshop: Path, order: str) -> None:
    release(workshop, order, answering("first issue", "2026-12-01"), "")


def test_revisions_that_use_a_program_otherwise_are_named_by_each_build_and_on_pages(workshop: Path) -> None:
    released_apart(workshop)
    report = build(workshop, [], everything=False)
    assert [(each.file, each.key) for each in report.between] == [
        ("instructions/wo-2/released", f"operations[1].coupon programs.{robot}.7") for robot in ("C5A", "C5B")
    ]
    assert "set otherwise in T-1" in report.between[0].message
    assert report.between[0].remedy.startswith("release anew whichever of the two was corrected since")
    assert build(workshop, [], everything=False).between == report.between
    listed = report.landing.read_text("utf-8")
    assert "2 programs of robots are used otherwise in two orders" in listed
    register = (report.landing.parent / "register.html").read_text("utf-8")
    assert (
        '<a href="wo-2/index.html">T-2</a></td><td data-name="Other order"><a href="wo-1/index.html">T-1</a>'
        in register
    )
    as_released(workshop, "wo-1")
    assert build(workshop, [], everything=False).between == ()
    assert "used otherwise" not in report.landing.read_text("utf-8")


@pytest.mark.parametrize(
    "note", [b"", b"{}", b"[]", b"\xff", b"[" * 50_000, b'{"register": "x", "between": 1}', b'{"between": [{"a": 1}]}']
)
def test_what_is_wrong_between_orders_is_found_anew_where_its_note_is_spoilt(
    coupled_sites: Path, tmp_path: Path, note: bytes
) -> None:
    plant = Path(shutil.copytree(coupled_sites, tmp_path / "plant"))
    found = build(plant, [], everything=False).between
    assert len(found) == 1
    (plant / "site" / ".lists").write_bytes(note)
    again = build(plant, [], everything=False)
    assert (again.built, again.between) == ((), found)


def test_an_order_is_exported_though_another_uses_its_program_otherwise(workshop: Path, tmp_path: Path) -> None:
    released_apart(workshop)
    lines = export(workshop, "wo-1", tmp_path / "stick.zip")
    for line, robot, program in zip(lines[:-1], ("C5A", "C5B"), ("T1", "T2"), strict=True):
        said = f"revision A: weld schedule 7 of {robot} is set otherwise in wo-2 revision A: "
        assert line.startswith(f"wo-1: operations[1].coupon programs.{robot}.7 = '{program}': {said}")
    assert lines[-1] == f"wrote {tmp_path / 'stick.zip'}"
    with zipfile.ZipFile(tmp_path / "stick.zip") as archive:
        listed = archive.read("index.html").decode()
    assert listed.count("is set otherwise in wo-2 revision A") == 2
    assert "Program T1 of C5A" in listed
    assert "register.html" not in listed


def test_an_export_says_nothing_of_programs_that_no_other_order_uses_otherwise(coupled: Path, tmp_path: Path) -> None:
    assert export(coupled, "wo-1", tmp_path / "stick.zip") == [f"wrote {tmp_path / 'stick.zip'}"]
    with zipfile.ZipFile(tmp_path / "stick.zip") as archive:
        assert "otherwise" not in archive.read("index.html").decode()
    (note, _) = export(coupled, "wo-2", tmp_path / "draft.zip")
    assert "in wo-1 revision A this coupon program of C5A calls weld schedule 7, here weld schedule 8" in note


def test_release_refuses_it_and_writes_nothing(coupled: Path) -> None:
    who = answering("first issue", "2026-12-01")
    with pytest.raises(SourceError, match="calls weld schedule 7, here weld schedule 8"):
        release(coupled, "wo-2", who, "")
    assert not (coupled / "instructions" / "wo-2" / "released").exists()
