// Keys of the page that belong to the frame.
(() => {
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
