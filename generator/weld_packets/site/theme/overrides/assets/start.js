// The lists that start a cell. They open when every operation is accepted, and last no longer than the start that they
// belong to: a count of people holds for one closing of the gate.
window.packetStart = (() => {
  const device = window.packetDevice
  const order = device.orderData
  const states = window.packetStates
  const { isOf } = window.packetSetUp
  const gate = document.querySelector("[data-start-gate]")
  if (!gate) return null
  const KEY = `packet/run/${order.slug}`
  const LONGEST = 10 / 60 // hours without a tick after which people may have gone in again

  const run = () => device.read(KEY) ?? { slug: order.slug, start: null, ticks: [], starts: [], counts: [], events: [] }
  const save = (kept) => device.write(KEY, kept)
  const boxes = (list) => document.querySelectorAll(`ol.steps[data-list="${CSS.escape(list)}"] li[data-step]`).length

  const isDone = (ticks, list) => ticks.filter((one) => one.list === list).length >= boxes(list)
  const lapsed = (ticks) => ticks.length > 0 && ticks.every((one) => device.hoursSince(one.done) > LONGEST)

  // A finished list and one that was left lie behind; the page opens with what is still being ticked.
  const clear = () => {
    const kept = run()
    const lists = [...new Set(kept.ticks.map((one) => one.list))]
    const left = lists.filter((list) => {
      const ticks = kept.ticks.filter((one) => one.list === list)
      return !isDone(ticks, list) && !lapsed(ticks)
    })
    if (left.length !== lists.length) save({ ...kept, ticks: kept.ticks.filter((one) => left.includes(one.list)) })
  }

  const hindrance = () => {
    if (states.missing().length) return "start"
    const kept = run()
    const status = device.status(order.status)
    if (status !== "in force" && !(kept.start && isOf(kept.start, order))) return "start-status"
    return ""
  }
  const begin = (reason) => save({
    ...run(), ticks: [],
    start: { id: device.newId(), begun: device.now(), by: device.person(), revision: order.revision, record_digest: order.record_digest, packet_digest: order.packet_digest, status: device.status(order.status), status_reason: reason },
  })

  const store = {
    ticks: () => run().ticks,
    change: (act) => {
      const why = hindrance()
      if (why) {
        document.dispatchEvent(new CustomEvent("packet:hindered", { detail: why }))
        return why
      }
      if (!isOf(run().start ?? {}, order)) begin("")
      const kept = run()
      const before = new Set(kept.ticks.map((one) => one.list))
      kept.ticks = act(kept.ticks)
      for (const list of new Set([...before, ...kept.ticks.map((one) => one.list)])) {
        const here = kept.ticks.filter((one) => one.list === list)
        const known = kept.starts.some((one) => one.list === list && here.some((tick) => tick.done === one.at))
        if (list.startsWith("start-") && isDone(here, list) && !known) {
          const last = here.reduce((late, one) => (Date.parse(one.done) >= Date.parse(late.done) ? one : late))
          kept.starts = [...kept.starts, { list, at: last.done, by: last.by, status_reason: kept.start.status_reason }]
        }
      }
      save(kept)
      return ""
    },
  }

  const show = () => {
    const kept = run()
    const why = hindrance()
    gate.dataset.startGate = why ? "shut" : "open"
    for (const panel of document.querySelectorAll('[data-hindrance="start-status"]')) panel.hidden = why !== "start-status"
    for (const place of document.querySelectorAll("[data-last-start]")) {
      const last = kept.starts.filter((one) => one.list === place.dataset.lastStart).pop()
      place.textContent = last ? `Last start ${device.clock(last.at)}${last.by ? `, ${last.by}` : ""}. The next start begins with an empty list.` : ""
    }
  }
  for (const key of document.querySelectorAll("[data-new-start]")) {
    key.addEventListener("click", () => save({ ...run(), ticks: run().ticks.filter((one) => one.list !== key.dataset.newStart) }))
  }
  document.querySelector("form[data-start-reason]")?.addEventListener("submit", (event) => {
    event.preventDefault()
    const reason = event.target.elements.reason.value.trim()
    if (reason) begin(reason)
  })
  document.addEventListener("packet:kept", show)
  window.addEventListener("pageshow", clear) // also where the browser brings the page back as it was left
  clear()
  show()
  return { store, run, save }
})()
