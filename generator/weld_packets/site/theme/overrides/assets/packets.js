// Keys of the page that belong to the frame.
(() => {
  for (const button of document.querySelectorAll("[data-print]")) {
    button.addEventListener("click", () => window.print())
  }
})()
