"""Files that many sites show shared: kept once, whole in each site."""

from __future__ import annotations

import hashlib
from pathlib import Path

from weld_packets.site.build.assets import SharedFiles

SIGN = b"<svg/>"


def test_a_file_that_two_sites_show_is_kept_once_and_stands_whole_in_both(tmp_path: Path) -> None:
    first, second = tmp_path / "first", tmp_path / "second"
    for site in (first, second):
        nominal = SharedFiles(tmp_path / "store").link_into({"assets/signs/W001.svg": SIGN}, site)
        assert nominal == {"assets/signs/W001.svg": hashlib.sha256(SIGN).hexdigest()}
    one, other = first / "assets/signs/W001.svg", second / "assets/signs/W001.svg"
    assert one.read_bytes() == other.read_bytes() == SIGN
    assert one.samefile(other)


def test_files_of_equal_content_under_two_names_stand_under_both(tmp_path: Path) -> None:
    SharedFiles(tmp_path / "store").link_into({"a/one.svg": SIGN, "b/other.svg": SIGN}, tmp_path)
    assert (tmp_path / "a/one.svg").samefile(tmp_path / "b/other.svg")
    assert len(list((tmp_path / "store").iterdir())) == 1
