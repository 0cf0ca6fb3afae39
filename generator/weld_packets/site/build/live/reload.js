// Asks the local server twice a second whether the site was built again, and shows what is wrong with a source.
(() => {
  let round = null
  const banner = document.createElement("pre")
  banner.className = "live-wrong"
  banner.setAttribute("role", "alert")
  banner.hidden = true
  document.body.prepend(banner)

  const ask = async () => {
    try {
      const state = await (await fetch("/.live/state")).json()
      banner.textContent = state.wrong
      banner.hidden = !state.wrong
      if (round !== null && state.round !== round && !state.wrong) location.reload()
      round = state.round
    } catch {
      banner.textContent = "The local server has stopped."
      banner.hidden = false
    }
    setTimeout(ask, 500)
  }
  ask()
})()
