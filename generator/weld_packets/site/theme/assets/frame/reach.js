// The drawer and the search open from keys of the page, close with Escape, and give the focus back to the key.
(() => {
  const toggles = { search: document.getElementById("__search"), drawer: document.getElementById("__drawer") }
  const field = document.querySelector(".md-search__input")
  const drawer = document.querySelector(".md-sidebar--primary")
  let pressed = null

  const set = (name, open) => {
    if (toggles[name].checked !== open) toggles[name].click()
  }

  for (const button of document.querySelectorAll("[data-press]")) {
    button.addEventListener("click", () => {
      pressed = button
      set(button.dataset.press, true)
    })
  }
  toggles.drawer.addEventListener("change", () => {
    if (toggles.drawer.checked) drawer.querySelector("a[href]").focus()
    else if (drawer.contains(document.activeElement)) pressed?.focus()
  })
  toggles.search.addEventListener("change", () => {
    // The theme takes the focus from its field after it has closed the search.
    if (toggles.search.checked) field.focus()
    else setTimeout(() => document.activeElement === document.body && pressed?.focus())
  })
  window.addEventListener("keydown", (event) => {
    if (event.key === "Escape") set("drawer", false)
  })
})()
