"""Files that many sites show shared: kept once, whole in each site."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import weld_packets
from weld_packets.site.build.assets import SharedFiles, share_assets

SIGN = b"<svg/>"


def test_a_file_that_two_sites_show_is_kept_once_and_is_whole_in_both(tmp_path: Path) -> None:
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


def test_joined_files_stand_in_place_of_their_parts_in_the_order_that_is_given(tmp_path: Path) -> None:
    for name, text in {"b.css": "b{}", "a.css": "a{}", "b.js": "b()", "a.js": "(a)()", "alone.js": "c()"}.items():
        (tmp_path / "own" / name[0]).mkdir(parents=True, exist_ok=True)
        (tmp_path / "own" / name[0] / name).write_text(text)
    joined = {"assets/site.css": ("assets/b.css", "assets/a.css"), "assets/site.js": ("assets/b.js", "assets/a.js")}
    shared = share_assets(tmp_path / "theme", tmp_path / "own", tmp_path / "none", tmp_path, joined)
    assert set(shared.files) == {"assets/site.css", "assets/site.js", "assets/alone.js"}
    assert (shared.folder / "assets/site.css").read_text() == "b{}\na{}"
    assert (shared.folder / "assets/site.js").read_text() == "b()\n;\n(a)()", "b()(a)() would call what b returns"


def test_no_two_own_assets_have_one_name_as_a_site_has_them_beside_each_other() -> None:
    own = Path(weld_packets.__file__).parent / "site" / "theme" / "assets"
    names = [path.name for path in own.rglob("*") if path.is_file()]
    assert len(names) > 30
    assert sorted(names) == sorted(set(names))


def test_a_part_of_a_joined_file_is_the_plants_where_the_plant_has_one(tmp_path: Path) -> None:
    for folder, owner in (("plant/assets", "plant"), ("own/any", "program")):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / "look.css").write_text(owner)
    shared = share_assets(
        tmp_path / "theme",
        tmp_path / "own",
        tmp_path / "plant",
        tmp_path,
        {"assets/site.css": ("assets/look.css",)},
    )
    assert (shared.folder / "assets/site.css").read_text() == "plant"


def test_every_class_of_the_stylesheets_is_given_by_a_template_a_script_or_a_record() -> None:
    """A rule for a part that no page has any more is of no use. Classes of the theme begin with ``md-``."""
    package = Path(weld_packets.__file__).parent
    made_by = [path.read_text("utf-8") for path in package.rglob("*") if path.suffix in {".html", ".js", ".py"}]
    words = {word for text in made_by for word in re.findall(r"[\w-]+", text)}
    begun = {start for text in made_by for start in re.findall(r"([\w-]*-)(?:\{\{|\$?\{|\" ?[~+])", text)}
    unused = []
    for sheet in (package / "site").rglob("*.css"):
        selectors = re.sub(r"/\*.*?\*/|\{[^{}]*\}", " ", sheet.read_text("utf-8"), flags=re.DOTALL)
        for name in sorted(set(re.findall(r"\.([a-z][\w-]*)", selectors))):
            starts = {name[: hyphen.end()] for hyphen in re.finditer("-", name)}  # such as status-{{ word }}
            if not name.startswith("md-") and name not in words and not starts & begun:
                unused.append(f"{sheet.name}: .{name}")
    assert unused == []
