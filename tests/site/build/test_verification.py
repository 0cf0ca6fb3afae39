"""What differs in built sites from what was built."""

from __future__ import annotations

import shutil
from hashlib import sha256
from pathlib import Path

import pytest
from weld_packets.site.build.manifest import MANIFEST, compare_manifest, manifest_bytes
from weld_packets.site.build.verification import built_sites, list_findings, site_findings


def digest(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def found_in(site: Path) -> list[str]:
    return [str(finding) for finding in site_findings(site)]


@pytest.fixture
def site(tmp_path: Path) -> Path:
    folder = tmp_path / "site/door-1"
    (folder / "assets").mkdir(parents=True)
    for name in ("index.html", "operation-2.html", "assets/look.css"):
        (folder / name).write_text(f"content of {name}")
    listed = {path.relative_to(folder).as_posix(): digest(path) for path in folder.rglob("*") if path.is_file()}
    (folder / MANIFEST).write_bytes(manifest_bytes(listed))
    return folder


def test_an_untouched_site_verifies(site: Path) -> None:
    assert built_sites(site.parent) == [site]
    assert found_in(site) == []


def test_an_edited_removed_or_added_page_shows(site: Path) -> None:
    (site / "operation-2.html").write_text("9.9 kA")
    (site / "index.html").unlink()
    (site / "operation-3.html").write_text("")
    assert found_in(site) == [
        "door-1/index.html: is missing",
        "door-1/operation-3.html: does not belong to the site",
        "door-1/operation-2.html: is altered",
    ]


def test_every_flipped_byte_of_a_page_shows(site: Path) -> None:
    page = site / "assets/look.css"
    data = page.read_bytes()
    for at in range(len(data)):
        page.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
        assert found_in(site) == ["door-1/assets/look.css: is altered"]


def test_every_flipped_byte_of_a_manifest_shows(site: Path) -> None:
    data = (site / MANIFEST).read_bytes()
    files = (path for path in site.rglob("*") if path.is_file() and path.name != MANIFEST)
    found = {path.relative_to(site).as_posix(): digest(path) for path in files}
    assert compare_manifest(data, found) == []
    for at in range(len(data)):
        assert compare_manifest(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :], found)


@pytest.mark.parametrize("manifest", [b"", b"[]", b"{}", b'{"sha256": []}', b'{"sha256": {"a": 1}}', b'"x"', b"1"])
def test_a_manifest_that_cannot_be_read_shows(manifest: bytes) -> None:
    assert compare_manifest(manifest, {}) == [(MANIFEST, "is altered and cannot be read")]


def test_a_page_with_a_dead_link_shows_even_where_the_manifest_was_made_to_fit(site: Path) -> None:
    (site / "index.html").write_text('<a href="nowhere.html">x</a>')
    files = (path for path in site.rglob("*") if path.is_file() and path.name != MANIFEST)
    (site / MANIFEST).write_bytes(manifest_bytes({path.relative_to(site).as_posix(): digest(path) for path in files}))
    assert found_in(site) == ["door-1/index.html: <a>: leads to nowhere.html, which is not in the site"]


def test_a_site_without_its_manifest_shows(site: Path) -> None:
    (site / MANIFEST).unlink()
    assert built_sites(site.parent) == [site]
    assert found_in(site) == ["door-1/manifest.json: is missing"]


def test_a_folder_without_pages_is_no_site(site: Path) -> None:
    shutil.rmtree(site)
    (site.parent / "assets").mkdir(parents=True)
    assert built_sites(site.parent) == []


def test_the_pages_over_all_orders_have_a_manifest_of_their_own(site: Path) -> None:
    root = site.parent
    assert list_findings(root) == []
    (root / "index.html").write_text("all orders")
    assert [str(finding) for finding in list_findings(root)] == ["manifest.json: is missing"]
    (root / MANIFEST).write_bytes(manifest_bytes({"index.html": digest(root / "index.html")}))
    assert list_findings(root) == []
    (root / "index.html").write_text("other orders")
    assert [str(finding) for finding in list_findings(root)] == ["index.html: is altered"]
