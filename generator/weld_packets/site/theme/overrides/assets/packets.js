// Ticks outlast a look at another page, but not the tablet's session: a new shift starts with empty boxes.
(() => {
  const key = `ticks ${location.pathname} ${document.querySelector(".stamp-detail")?.textContent ?? ""}`
  const boxes = [...document.querySelectorAll("#page input[type=checkbox]")]

  const counts = () => {
    for (const list of document.querySelectorAll("[data-count]")) {
      const all = [...list.querySelectorAll("input[type=checkbox]")]
      const done = all.filter((box) => box.checked).length
      document.getElementById(list.dataset.count).textContent = `${done} of ${all.length} steps done`
    }
  }

  let kept = []
  try {
    kept = JSON.parse(sessionStorage.getItem(key) ?? "[]")
  } catch {
    kept = []
  }
  boxes.forEach((box, place) => {
    box.checked = kept.includes(place)
    box.addEventListener("change", () => {
      const ticked = boxes.flatMap((one, at) => (one.checked ? [at] : []))
      try {
        sessionStorage.setItem(key, JSON.stringify(ticked))
      } catch { /* storage is closed: ticks last as long as the page */ }
      counts()
    })
  })
  counts()

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
})()
