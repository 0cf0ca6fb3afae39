// Keys of the page that belong to the frame.
(() => {
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => window.print())
  }
  const folded = () => document.querySelectorAll("details[data-print-open]:not([open])")
  for (const key of document.querySelectorAll("[data-open-all]")) {
    key.addEventListener("click", () => {
      document.documentElement.classList.add("every-step") // the theme opens all that is folded when a page prints
      for (const each of document.querySelectorAll("details:is([data-print-open], .all-steps)")) each.open = true
    })
  }
  // A link to a place behind a tap shows it.
  const named = () => {
    try {
      return decodeURIComponent(location.hash.slice(1))
    } catch {
      return "" // an address that somebody spoilt leads to the head of the page
    }
  }
  const reveal = () => {
    const target = document.getElementById(named())
    const around = target?.closest("details:not([open])")
    if (!around) return
    around.open = true
    target.scrollIntoView()
  }
  window.addEventListener("hashchange", reveal)
  // The address stays the same where the link was followed before.
  document.addEventListener("click", (event) => {
    if (event.target.closest("a[href*='#']")) setTimeout(reveal)
  })
  reveal()
  // What is long and seldom read is printed where somebody opened it.
  for (const head of document.querySelectorAll("details.printed-open > summary")) {
    head.addEventListener("click", () => head.parentElement.classList.toggle("kept", !head.parentElement.open))
  }
  // Paper has no taps: what is behind one there is shown while the page prints.
  window.addEventListener("beforeprint", () => {
    for (const each of folded()) {
      each.open = true
      window.addEventListener("afterprint", () => { each.open = false }, { once: true })
    }
  })
})()
