// The keys of the bar and of the page that belong to the frame.
(() => {
  // The theme puts the cursor into the search field only from its own button.
  const press = { search: "header [for=__search]", drawer: "header [for=__drawer]" }
  for (const button of document.querySelectorAll("[data-press]")) {
    button.addEventListener("click", (event) => {
      event.preventDefault()
      document.querySelector(press[button.dataset.press]).click()
    })
  }
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => window.print())
  }
  // Paper has no taps: what is behind one there is shown while the page prints.
  window.addEventListener("beforeprint", () => {
    for (const folded of document.querySelectorAll("details[data-print-open]:not([open])")) {
      folded.open = true
      window.addEventListener("afterprint", () => { folded.open = false }, { once: true })
    }
  })
})()
