"""MkDocs and its theme, opened once per process and used for every site that the process makes."""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any, cast

import orjson
from jinja2 import Environment, TemplateError, TemplateSyntaxError
from markupsafe import Markup, escape
from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.config_options import ExtraScriptValue
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import AnchorLink, TableOfContents
from mkdocs.utils.templates import TemplateContext

from weld_packets.errors import Problem, SourceError
from weld_packets.site.build.assets import THEME_SCRIPT, THEME_STYLES, SharedAssets, share_assets
from weld_packets.site.build.policy import policy_for
from weld_packets.site.build.search_file import search_file
from weld_packets.site.pages.qr_codes import code_text, inline_code
from weld_packets.site.pages.site_plan import ALL_ORDERS, PageFragment, SitePlan, Stamp
from weld_packets.site.pages.templating import prepare, variables_forgotten

_BASE = Path(__file__).parents[1] / "theme" / "mkdocs.yml"
_EPOCH = "SOURCE_DATE_EPOCH"
_OVERRIDES, _ASSETS = _BASE.parent / "overrides", _BASE.parent / "assets"
_BODY_MARK = "<!--packet-body-->"
_POLICY_MARK = "packet-policy"
_PAGE_ANCHOR = "page"
_PLUGIN = "packet"
_STYLES, _SCRIPTS, _THEME_SCRIPT = "assets/site.css", "assets/site.js", "assets/theme.js"


@dataclass(frozen=True)
class SiteLooks:
    """What a plant sets of the looks of its sites.

    Attributes:
        overrides: folder of templates and assets that come over the program's; need not be there.
        logo: path inside a site of the picture at the head of each page; empty for the program's.
        favicon: the same for the browser's tab.
        styles: stylesheets that come after the program's.
        address: where all sites are for a scanning device; empty for nowhere.

    """

    overrides: Path
    logo: str = ""
    favicon: str = ""
    styles: tuple[str, ...] = ()
    address: str = ""


class MkDocsBuilder:
    """The theme with its templates compiled, ready to print one site after another."""

    def __init__(self, looks: SiteLooks, empty: Path) -> None:
        """Read the program's configuration; ``empty`` is an empty folder in place of the source pages."""
        os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
        if not os.environ.get(_EPOCH, "unset"):
            del os.environ[_EPOCH]  # set to nothing, it means nothing; MkDocs would read a number
        logging.getLogger("mkdocs").setLevel(logging.WARNING)
        self._looks = looks
        self._config = load_config(str(_BASE), docs_dir=str(empty), site_dir=str(empty) + "-site")
        self._joined = {
            _STYLES: (*THEME_STYLES, *self._config.extra_css),
            _SCRIPTS: tuple(map(str, self._config.extra_javascript)),
            _THEME_SCRIPT: (THEME_SCRIPT,),
        }
        self._config.extra_css = [_STYLES, *looks.styles]
        self._config.extra_javascript = [ExtraScriptValue(_SCRIPTS), ExtraScriptValue(_THEME_SCRIPT)]
        theme = self._config.theme
        theme.static_templates = set()
        self._theme = Path(theme.dirs[0])
        theme.dirs[:0] = [str(folder) for folder in (looks.overrides, _OVERRIDES) if folder.is_dir()]
        theme.update({key: path for key, path in (("logo", looks.logo), ("favicon", looks.favicon)) if path})
        self._plugin = _PacketPages()
        self._config.plugins[_PLUGIN] = self._plugin
        with theme_faults_reported(looks.overrides):
            _keep_environment(self._config)

    def share_assets(self, site_root: Path) -> SharedAssets:
        """Put what the pages of all sites show into the store below ``site_root``."""
        return share_assets(self._theme, _ASSETS, self._looks.overrides, site_root, self._joined)

    def build_pages(self, plan: SitePlan, folder: Path) -> None:
        """Write every page of ``plan`` and its search index into ``folder``."""
        self._config.site_dir = str(folder)
        self._config.site_name = _markup(plan.title)
        self._config.nav = _page_list(plan.pages)
        self._plugin.plan, self._plugin.address = plan, self._looks.address
        with theme_faults_reported(self._looks.overrides), variables_forgotten():
            build(self._config)
        _fill_search(folder / "search", plan)


def _fill_search(folder: Path, plan: SitePlan) -> None:
    """Write the file of all places, for pages from files and from a server; the theme's own index stays empty."""
    index = folder / "search_index.json"
    config = orjson.loads(index.read_bytes())["config"]
    index.write_bytes(orjson.dumps({"config": config, "docs": []}))
    index.with_suffix(".js").write_bytes(search_file(config, plan.pages))


def _keep_environment(config: MkDocsConfig) -> None:
    """Compile templates once: MkDocs would make a new environment, and walk every icon, for each site."""
    environment: Environment = config.theme.get_env()
    prepare(environment)
    environment.list_templates = lambda *_, **__: []  # type: ignore[method-assign]  # assets are linked, not copied
    config.theme.get_env = lambda: environment  # type: ignore[method-assign]


def _markup(text: str) -> Markup:
    """Return ``text`` escaped, in a type that no template escapes a second time."""
    return Markup(escape(text))  # noqa: S704 - escaped in the same breath


def _marked(value: str | tuple[str, ...]) -> Markup | list[Markup]:
    """Return what is said in one text, or in several that are each escaped for itself."""
    return _markup(value) if isinstance(value, str) else [_markup(part) for part in value]


def _page_list(pages: tuple[PageFragment, ...]) -> list[Any]:
    """Return MkDocs' navigation: paths, with groups in the order of their first page."""
    entries: list[Any] = []
    groups: dict[str, list[str]] = {}
    for page in pages:
        if not page.listed:
            continue
        if not page.group:
            entries.append(_source_path(page))
            continue
        if page.group not in groups:
            groups[page.group] = []
            entries.append({_markup(page.group): groups[page.group]})
        groups[page.group].append(_source_path(page))
    return entries


def _source_path(page: PageFragment) -> str:
    return page.path.removesuffix(".html") + ".md"


class _FragmentPage(Page):
    """A page whose body is markup already: no Markdown is read or run."""

    def __init__(self, fragment: PageFragment, file: File, config: MkDocsConfig) -> None:
        super().__init__(_markup(fragment.nav_title), file, config)
        self.fragment = fragment

    def read_source(self, config: MkDocsConfig) -> None:  # noqa: ARG002 - the base class's signature
        self.markdown = ""
        self.meta = {"title": _markup(self.fragment.title), "search": {"exclude": True}}

    def render(self, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002 - the base class's signature
        self.content = _BODY_MARK
        top = AnchorLink(_markup(self.fragment.title), _PAGE_ANCHOR, 1)
        top.children = [AnchorLink(_markup(part.title), part.anchor, 2) for part in self.fragment.sections]
        self.toc = TableOfContents([top])
        self.present_anchor_ids = set()
        self.links_to_anchors = {}


class _PacketPages(BasePlugin):  # type: ignore[type-arg,no-untyped-call]
    """Feeds a plan's pages into MkDocs and puts their bodies in after the theme has framed them."""

    plan: SitePlan
    address: str

    def _code(self, stamp: Stamp, sheet: str) -> Markup:
        """Return the code that a printed sheet carries: where its order is checked, or words if sites are nowhere."""
        own = f"{self.address.rstrip('/')}/{self.plan.slug}/" if self.address else ""
        return inline_code(code_text(stamp, sheet, own))

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for fragment in self.plan.pages:
            level = InclusionLevel.INCLUDED if fragment.listed else InclusionLevel.NOT_IN_NAV
            file = File.generated(config, _source_path(fragment), content="", inclusion=level)
            _FragmentPage(fragment, file, config)
            files.append(file)
        return files

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> None:
        """Let a reader of a revision that the page list leaves out turn its pages."""
        del nav, config
        pages = [file.page for file in files.documentation_pages() if isinstance(file.page, _FragmentPage)]
        for one, other in pairwise(page for page in pages if not page.fragment.listed):
            if one.fragment.folder == other.fragment.folder:
                one.next_page, other.previous_page = other, one

    def on_page_context(
        self, context: TemplateContext, *, page: Page, config: MkDocsConfig, nav: Navigation
    ) -> TemplateContext:
        del config, nav
        fragment = _of_plan(page).fragment
        stamp = fragment.stamp or self.plan.stamp
        ours = {
            "policy_mark": _POLICY_MARK,
            "stamp": {name: _marked(value) for name, value in vars(stamp).items()},
            "codes": {sheet: self._code(stamp, sheet) for sheet in (fragment.sheets if fragment.coded else ())},
            "sheet": _markup(fragment.sheet or fragment.title),
            "choices": [{**vars(choice), "label": _markup(choice.label)} for choice in fragment.choices],
            "notice": fragment.notice and {name: _markup(value) for name, value in vars(fragment.notice).items()},
            "scripts": fragment.scripts,
            "bar": [{name: _markup(value) for name, value in vars(key).items()} for key in fragment.bar],
            "has_strip": fragment.has_strip,
            "all_orders": ("../" if fragment.folder else "") + ALL_ORDERS,
        }
        return cast("TemplateContext", {**context, **ours})

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        del config
        frame = "\n".join(filter(None, map(str.strip, output.splitlines())))
        framed = frame.replace(_POLICY_MARK, policy_for(frame), 1)
        whole = framed.replace(_BODY_MARK, _of_plan(page).fragment.html, 1)
        del _of_plan(page).fragment  # MkDocs' pages know each other, a cycle that would keep all of a site for long
        return whole


def _of_plan(page: Page) -> _FragmentPage:
    if not isinstance(page, _FragmentPage):
        raise TypeError(f"{page.file.src_uri} did not come from a plan")
    return page


_REMEDY = "correct it, or delete the file: the program's own then takes its place"


@contextmanager
def theme_faults_reported(overrides: Path) -> Iterator[None]:
    """Turn the refusal of a template inside into a SourceError, where the plant has templates in ``overrides``."""
    try:
        yield
    except TemplateError as error:
        if not overrides.is_dir():
            raise
        raise SourceError([_problem(error, overrides)]) from None


def _problem(error: TemplateError, overrides: Path) -> Problem:
    file, line = overrides.name, 0
    if isinstance(error, TemplateSyntaxError) and error.filename:
        path = Path(error.filename)
        file = str(path.relative_to(overrides.parent)) if path.is_relative_to(overrides) else str(path)
        line = error.lineno
    return Problem(file, line, "", "", f"the template cannot be used: {error.message}", _REMEDY)
