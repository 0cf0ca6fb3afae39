// Characters that a hand scanner types. It ends with Enter, and no person types as fast. The theme's one-letter
// shortcuts would lead away in the middle of a code, so no lone character reaches them outside a text field.
(() => {
  const PAUSE = 150 // ms between two characters of one code; few people type as fast
  const LEAST = 3
  let typed = ""
  let last = 0

  const inText = (place) => place?.matches?.("textarea, select, [contenteditable], input:not([type=checkbox]):not([type=radio])")

  window.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || inText(event.target)) return
    const pause = event.timeStamp - last
    if (event.key.length === 1) {
      typed = pause > PAUSE ? event.key : typed + event.key
      last = event.timeStamp
      // A space presses the button or ticks the box that has the focus, but not in the middle of a code.
      if (typed.trim()) {
        event.stopImmediatePropagation()
        event.preventDefault()
      }
    } else if (event.key === "Enter" && typed.length >= LEAST && pause <= PAUSE) {
      event.stopImmediatePropagation()
      event.preventDefault()
      document.dispatchEvent(new CustomEvent("packet:scanned", { detail: typed.trim() }))
      typed = ""
    } else if (event.key !== "Shift") typed = ""
  }, { capture: true })
})()
