// What the theme's script looks for in a page and no reader without scripts can use: the dialogs, and its settings.
// It is here once and not in every page, and it is loaded before the theme's script.
(() => {
  const root = new URL("..", document.currentScript.src)
  const settings = {
    base: root.href,
    features: ["toc.integrate"],
    translations: {
      "clipboard.copy": "Copy",
      "clipboard.copied": "Copied",
      "search.result.placeholder": "Type a number, a name, a value or a word",
      "search.result.none": "Nothing found in this order. Pages are in English; part of a word is enough.",
      "search.result.one": "1 place found",
      "search.result.other": "# places found",
      "search.result.more.one": "1 more on this page",
      "search.result.more.other": "# more on this page",
      "search.result.term.missing": "Not there",
      "select.version": "Select version",
    },
    search: new URL("assets/search.js", root).href, // our own search answers, in our own words
    annotate: null,
    tags: null,
    version: null,
  }
  const SEARCH = `
<div class="md-search" data-md-component="search" role="dialog" aria-label="Search">
<label class="md-search__overlay" for="__search"></label>
<div class="md-search__inner" role="search">
<form class="md-search__form" name="search">
<input type="text" class="md-search__input" name="query" aria-label="Search" placeholder="Search" autocapitalize="off" autocorrect="off" autocomplete="off" spellcheck="false" data-md-component="search-query" required>
<label class="md-search__icon search-sign" for="__search" aria-label="Close the search"></label>
<nav class="md-search__options"><button type="reset" class="md-search__icon search-clear" title="Clear" aria-label="Clear" tabindex="-1"></button></nav>
</form>
<div class="md-search__output"><div class="md-search__scrollwrap" tabindex="0" data-md-scrollfix>
<div class="md-search-result" data-md-component="search-result"><div class="md-search-result__meta">Loading search</div><ol class="md-search-result__list" role="presentation"></ol></div>
</div></div>
</div>
</div>`
  const MESSAGE = `
<div class="md-dialog" data-md-component="dialog"><div class="md-dialog__inner md-typeset"></div></div>`

  document.querySelector(".md-header__inner").insertAdjacentHTML("beforeend", SEARCH)
  document.querySelector(".md-container").insertAdjacentHTML("afterend", MESSAGE)
  const data = document.createElement("script")
  data.id = "__config"
  data.type = "application/json"
  data.textContent = JSON.stringify(settings)
  document.body.append(data)
})()
