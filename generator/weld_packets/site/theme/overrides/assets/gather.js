// Puts the bodies of the listed pages one after another, so that one print makes the whole paper copy. The pages are
// this site's own; what is taken over is their content alone, and the page's policy holds for it.
(async () => {
  const links = [...document.querySelectorAll("[data-sheet]")]
  const said = document.querySelector(".gathering")
  if (!links.length || location.protocol === "file:") return
  said.textContent = "Collecting the sheets …"
  try {
    const bodies = await Promise.all(links.map(async (link) => {
      const answer = await fetch(link.href)
      if (!answer.ok) throw new Error(link.textContent)
      return new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("page")
    }))
    const sheets = document.querySelector(".sheets")
    bodies.forEach((body, at) => {
      const part = document.createElement("div")
      part.className = `part part-${links[at].dataset.sheet}`
      body.querySelectorAll(".no-print, script").forEach((one) => one.remove())
      part.append(...body.childNodes)
      sheets.append(part)
    })
    await Promise.all([...sheets.querySelectorAll("img")].map((picture) => picture.decode().catch(() => {})))
    said.textContent = `${links.length} sheets collected.`
    document.querySelector("[data-print]").hidden = false
  } catch (missing) {
    said.textContent = `Not all sheets could be read (${missing.message}). Print each from its own page.`
  }
})()
