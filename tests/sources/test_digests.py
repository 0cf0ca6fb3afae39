"""Digests: they change with everything that a site depends on, and with nothing else."""

import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest
from weld_packets.sources import digests
from weld_packets.sources.digests import OrderDigests, file_digests

NAMES = ["wo-1", "wo-2", "wo-3"]


def order_digests(root: Path, names: list[str]) -> dict[str, str]:
    found = OrderDigests(root)
    return {name: found.of(name) for name in names}


@pytest.fixture
def generator(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A stand-in for the generator's own folder, which nobody edits meanwhile."""
    folder = tmp_path / "generator"
    folder.mkdir()
    (folder / "formula.py").write_text("1", encoding="utf-8")
    monkeypatch.setattr(digests, "_GENERATOR", folder)
    return folder


@pytest.fixture
def root(tmp_path: Path, generator: Path) -> Path:  # noqa: ARG001 - the digests must not see the real one
    """Three orders: the second names the first as the previous one, the third is alone."""
    for name in NAMES:
        folder = tmp_path / "instructions" / name
        (folder / "released").mkdir(parents=True)
        (folder / "order.yaml").write_text("title: x\n", encoding="utf-8")
        (folder / "points.csv").write_text("id\n", encoding="utf-8")
    (tmp_path / "instructions" / "wo-2" / "order.yaml").write_text("title: x\nprevious order: wo-1\n", encoding="utf-8")
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables" / "gases.yaml").write_text("x", encoding="utf-8")
    (tmp_path / "site_overrides").mkdir()
    (tmp_path / "mkdocs.yml").write_text("x", encoding="utf-8")
    return tmp_path


def changed(root: Path, before: dict[str, str]) -> list[str]:
    after = order_digests(root, NAMES)
    return [name for name in NAMES if after[name] != before[name]]


def test_nothing_changed_is_nothing_changed(root: Path) -> None:
    before = order_digests(root, NAMES)
    os.utime(root / "tables" / "gases.yaml", (0, 0))
    (root / "instructions" / "wo-1" / ".order.yaml.swp").write_text("x", encoding="utf-8")
    assert changed(root, before) == []


@pytest.mark.parametrize(
    ("file", "names"),
    [
        ("instructions/wo-3/order.yaml", ["wo-3"]),
        ("instructions/wo-3/points.csv", ["wo-3"]),
        ("instructions/wo-3/new.dxf", ["wo-3"]),
        ("instructions/wo-3/released/A.json", ["wo-3"]),
        ("instructions/wo-1/points.csv", ["wo-1", "wo-2"]),
        ("instructions/wo-1/released/A.json", ["wo-1", "wo-2"]),
        ("tables/gases.yaml", NAMES),
        ("tables/new.yaml", NAMES),
        ("site_overrides/main.html", NAMES),
        ("mkdocs.yml", NAMES),
    ],
)
def test_a_changed_or_new_file_changes_the_orders_that_depend_on_it(root: Path, file: str, names: list[str]) -> None:
    before = order_digests(root, NAMES)
    (root / file).write_text("changed", encoding="utf-8")
    assert changed(root, before) == names


@pytest.mark.parametrize("file", ["instructions/wo-3/points.csv", "tables/gases.yaml", "mkdocs.yml"])
def test_a_deleted_file_counts_as_a_change(root: Path, file: str) -> None:
    before = order_digests(root, NAMES)
    (root / file).unlink()
    assert "wo-3" in changed(root, before)


def test_a_changed_generator_changes_all_orders(root: Path, generator: Path) -> None:
    before = order_digests(root, NAMES)
    (generator / "formula.py").write_text("2", encoding="utf-8")
    assert changed(root, before) == NAMES


def test_another_library_changes_all_orders(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = order_digests(root, NAMES)
    monkeypatch.setattr(digests, "_versions", lambda: ["pint 99"])
    assert changed(root, before) == NAMES


def test_a_pipe_does_not_hold_the_hashing_up(root: Path) -> None:
    before = order_digests(root, NAMES)
    os.mkfifo(root / "instructions" / "wo-3" / "pipe")
    assert changed(root, before) == ["wo-3"]


def test_a_folder_that_is_not_there_counts_too(root: Path) -> None:
    before = order_digests(root, [*NAMES, "wo-9"])
    (root / "instructions" / "wo-9").mkdir()
    (root / "instructions" / "wo-9" / "order.yaml").write_text("title: x\n", encoding="utf-8")
    assert order_digests(root, ["wo-9"])["wo-9"] != before["wo-9"]


def follow(root: Path, name: str, previous: str) -> None:
    (root / "instructions" / name / "order.yaml").write_text(f"previous order: {previous}\n", encoding="utf-8")


def test_an_order_depends_on_all_orders_before_it(root: Path) -> None:
    follow(root, "wo-3", "wo-2")
    before = order_digests(root, NAMES)
    (root / "instructions" / "wo-1" / "points.csv").write_text("changed", encoding="utf-8")
    assert changed(root, before) == NAMES


def test_the_digest_of_an_order_is_the_same_whichever_orders_are_asked_for(root: Path) -> None:
    follow(root, "wo-3", "wo-2")
    whole = order_digests(root, NAMES)
    assert order_digests(root, ["wo-3"]) == {"wo-3": whole["wo-3"]}
    assert order_digests(root, ["wo-3", "wo-1"]) == {name: whole[name] for name in ("wo-3", "wo-1")}


def test_orders_in_a_ring_have_digests_that_change_with_any_of_them(root: Path) -> None:
    follow(root, "wo-1", "wo-3")
    follow(root, "wo-3", "wo-2")
    before = order_digests(root, NAMES)
    (root / "instructions" / "wo-2" / "points.csv").write_text("changed", encoding="utf-8")
    assert "wo-2" in changed(root, before)


def test_a_chain_of_orders_is_as_long_as_it_likes(root: Path) -> None:
    count = 2_000
    for number in range(count):
        folder = root / "instructions" / f"chain-{number}"
        folder.mkdir()
        (folder / "order.yaml").write_text(f"previous order: chain-{number - 1}\n", encoding="utf-8")
    last = f"chain-{count - 1}"
    before = order_digests(root, [last])[last]
    (root / "instructions" / "chain-0" / "order.yaml").write_text("changed", encoding="utf-8")
    assert order_digests(root, [last])[last] != before


def test_each_file_is_read_once_for_all_orders(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten thousand orders are read by every build: that one names the order before it costs no second reading."""
    follow(root, "wo-3", "wo-2")
    opened: list[str] = []

    def counted(path: str) -> bytes:
        opened.append(path)
        return Path(path).read_bytes()

    monkeypatch.setattr(digests, "plain_content", counted)
    order_digests(root, NAMES)
    files = (path for path in (root / "instructions").rglob("*") if path.is_file())
    assert sorted(path for path in opened if "/wo-" in path) == sorted(map(str, files))


def test_a_renamed_file_counts_as_a_change(root: Path) -> None:
    before = order_digests(root, NAMES)
    (root / "instructions" / "wo-3" / "points.csv").rename(root / "instructions" / "wo-3" / "spots.csv")
    assert changed(root, before) == ["wo-3"]


def test_a_link_counts_by_where_it_leads(root: Path) -> None:
    link = root / "instructions" / "wo-3" / "link.csv"
    link.symlink_to("points.csv")
    before = order_digests(root, NAMES)
    link.unlink()
    link.symlink_to("order.yaml")
    assert changed(root, before) == ["wo-3"]


def test_the_digests_do_not_depend_on_where_the_workspace_is(root: Path, tmp_path: Path) -> None:
    before = order_digests(root, NAMES)
    moved = tmp_path / "moved"
    moved.mkdir()
    for name in ("instructions", "tables", "site_overrides", "mkdocs.yml"):
        (root / name).rename(moved / name)
    assert order_digests(moved, NAMES) == before


def test_source_files_are_listed_with_their_own_digest(root: Path) -> None:
    (root / "instructions" / "wo-1" / "released" / "A.json").write_text("{}", encoding="utf-8")
    listed = file_digests(root, "wo-1")
    assert list(listed) == ["instructions/wo-1/order.yaml", "instructions/wo-1/points.csv", "tables/gases.yaml"]
    assert listed["tables/gases.yaml"] == sha256(b"x").hexdigest()


def test_listing_and_hashing_import_nothing_that_is_slow_to_import() -> None:
    code = "import sys, weld_packets.sources.digests, weld_packets.sources.orders.order_folders; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert {"pint", "pydantic", "yaml", "numpy", "ezdxf"} & set(done.stdout.split()) == set()


@pytest.mark.parametrize(
    "said",
    [
        "previous order: wo-1\n",
        "previous order:   wo-1   # the one before\r\n",
        "previous order: 'wo-1'\n",
        "previous order: >-\n  wo-1\n",
        "previous order: # which one\n  wo-1\n",
        'previous order: "wo\\x2d1"\n',
        '"previous\\x20order": wo-1\n',
        "# not previous order: wo-2\nprevious order: wo-1\n",
    ],
)
def test_the_previous_order_is_found_however_yaml_writes_it(root: Path, said: str) -> None:
    (root / "instructions" / "wo-3" / "order.yaml").write_text(f"title: x\n{said}", encoding="utf-8", newline="")
    before = order_digests(root, NAMES)
    (root / "instructions" / "wo-1" / "points.csv").write_text("id,x\n", encoding="utf-8")
    assert changed(root, before) == ["wo-1", "wo-2", "wo-3"]


def test_a_remark_on_a_previous_order_is_none(root: Path) -> None:
    (root / "instructions" / "wo-3" / "order.yaml").write_text("title: x\n# previous order: wo-1\n", encoding="utf-8")
    before = order_digests(root, NAMES)
    (root / "instructions" / "wo-1" / "points.csv").write_text("id,x\n", encoding="utf-8")
    assert changed(root, before) == ["wo-1", "wo-2"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes")
@pytest.mark.parametrize("name", ["instructions/wo-1/order.yaml", "mkdocs.yml", "tables/gases.yaml"])
@pytest.mark.parametrize("kind", ["pipe", "device", "folder"])
def test_a_pipe_a_device_or_a_folder_in_place_of_a_file_does_not_hold_it_up(root: Path, name: str, kind: str) -> None:
    before = order_digests(root, NAMES)
    path = root / name
    path.unlink()
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "device":
        path.symlink_to("/dev/zero")
    else:
        path.mkdir()
    assert "wo-1" in changed(root, before)


def test_an_entry_of_the_register_concerns_its_order_alone_and_the_first_part_all(root: Path) -> None:
    register = root / "instructions" / "register"
    register.mkdir()
    before = order_digests(root, NAMES)
    (register / "wo-3.20261129T100000Z-0123456789ab.json").write_text("{}", encoding="utf-8")
    assert changed(root, before) == ["wo-3"]
    (root / "instructions" / "register.jsonl").write_text("{}", encoding="utf-8")
    assert changed(root, before) == NAMES
