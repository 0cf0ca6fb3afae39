// Keys of the page that belong to the frame.
(() => {
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => window.print())
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
    const folded = target?.closest("details:not([open])")
    if (!folded) return
    folded.open = true
    target.scrollIntoView()
  }
  window.addEventListener("hashchange", reveal)
  reveal()
  // Paper has no taps: what is behind one there is shown while the page prints.
  window.addEventListener("beforeprint", () => {
    for (const folded of document.querySelectorAll("details[data-print-open]:not([open])")) {
      folded.open = true
      window.addEventListener("afterprint", () => { folded.open = false }, { once: true })
    }
  })
})()
