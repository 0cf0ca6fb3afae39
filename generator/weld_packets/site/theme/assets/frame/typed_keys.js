// Characters that a hand scanner types, with Enter at their end. The theme's one-letter shortcuts would lead away in
// the middle of a code, so no lone character reaches them outside a text field.
(() => {
  const PAUSE = 500 // ms between two characters of one code, on a tablet that is busy
  const PACE = 60 // ms for a character on the average; no person types as fast
  const MINIMUM = 2
  let typed = ""
  let first = 0
  let last = 0

  const inText = (place) => place?.matches?.("textarea, select, [contenteditable], input:not([type=checkbox]):not([type=radio])")

  window.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || inText(event.target)) return
    const pause = event.timeStamp - last
    if (event.key.length === 1) {
      if (pause > PAUSE) typed = ""
      if (!typed) first = event.timeStamp
      typed += event.key
      last = event.timeStamp
      // A space presses the button or ticks the box that has the focus, but not in the middle of a code.
      if (typed.trim()) {
        event.stopImmediatePropagation()
        event.preventDefault()
      }
    } else if (event.key === "Enter" && typed.length >= MINIMUM && pause <= PAUSE) {
      event.stopImmediatePropagation()
      event.preventDefault()
      document.dispatchEvent(new CustomEvent("packet:scanned", { detail: { text: typed.trim(), isFast: (last - first) / typed.length < PACE } }))
      typed = ""
    } else if (event.key !== "Shift") typed = ""
  }, { capture: true })
})()
