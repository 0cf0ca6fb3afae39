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

  const NOTED = { id: "", begun: "", slug: "", starts: [{ list: "", at: "" }], counts: [{ count: "", at: "" }], events: [{ key: "", at: "" }] }
  const RUN = { ...NOTED, ticks: [{ list: "", key: "", done: "" }] }
  const run = () => device.read(KEY, RUN) ?? { id: "", begun: "", slug: order.slug, start: null, ticks: [], starts: [], counts: [], events: [] }
  // One change of what is kept of the run; the first begins it, and one after its end says that it goes on.
  const change = (act) => {
    const { ended, ...kept } = run()
    device.write(KEY, act(kept.id ? kept : { ...kept, id: device.newId(), begun: device.now() }))
  }
  const end = () => device.write(KEY, { ...run(), ended: { at: device.now(), by: device.person() } })
  const boxes = (list) => document.querySelectorAll(`ol.steps[data-list="${CSS.escape(list)}"] li[data-step]`).length

  // A list of another page cannot be seen to be done here.
  const isDone = (ticks, list) => boxes(list) > 0 && ticks.filter((one) => one.list === list).length >= boxes(list)
  const lapsed = (ticks) => ticks.length > 0 && ticks.every((one) => device.hoursSince(one.done) > LONGEST)

  // A finished list and one that was left lie behind; the page opens with what is still being ticked.
  const clear = () => {
    const kept = run()
    const lists = [...new Set(kept.ticks.map((one) => one.list))]
    const left = lists.filter((list) => {
      const ticks = kept.ticks.filter((one) => one.list === list)
      return !isDone(ticks, list) && !lapsed(ticks)
    })
    if (left.length !== lists.length) device.write(KEY, { ...kept, ticks: kept.ticks.filter((one) => left.includes(one.list)) })
  }

  // Of which list a tick is new: a list does not start an operation that is not accepted, whatever the other cells do.
  const operationOf = (list) => order.run.starts.find((one) => one.list === list)?.operation
  const newLists = (ticks) => new Set(ticks.filter((one) => !run().ticks.some((kept) => kept.list === one.list && kept.key === one.key)).map((one) => one.list))
  const hindrance = (ticks = []) => {
    const isOpen = [...newLists(ticks)].some((list) => operationOf(list) && !states.isReady(operationOf(list)))
    if (states.missing().length || isOpen) return "start"
    const kept = run()
    const status = device.status(order.status)
    if (status !== "in force" && !(kept.start && isOf(kept.start, order))) return "start-status"
    return ""
  }
  const begin = (reason) => change((kept) => ({
    ...kept, ticks: [],
    start: { id: device.newId(), begun: device.now(), by: device.person(), revision: order.revision, record_digest: order.record_digest, packet_digest: order.packet_digest, status: device.status(order.status), status_reason: reason },
  }))
  // A start as the record of the run has it: which cell, by which revision, and who ticked what when.
  const noted = (list, here, start) => {
    const last = here.reduce((late, one) => (Date.parse(one.done) >= Date.parse(late.done) ? one : late))
    const { operation, cell } = order.run.starts.find((one) => one.list === list)
    return {
      list, operation, cell, revision: start.revision, record_digest: start.record_digest, status: start.status, status_reason: start.status_reason,
      at: last.done, by: last.by, ticks: here.map(({ key, digest, done, by }) => ({ key, digest, done, by })),
    }
  }

  const store = {
    ticks: () => run().ticks,
    change: (act) => {
      const why = hindrance(act(run().ticks))
      if (why) {
        document.dispatchEvent(new CustomEvent("packet:hindered", { detail: why }))
        return why
      }
      if (!isOf(run().start ?? {}, order)) begin("")
      change((kept) => {
        const before = new Set(kept.ticks.map((one) => one.list))
        const ticks = act(kept.ticks)
        const done = [...new Set([...before, ...ticks.map((one) => one.list)])].filter((list) => {
          const here = ticks.filter((one) => one.list === list)
          const isKnown = kept.starts.some((one) => one.list === list && here.some((tick) => tick.done === one.at))
          return order.run.starts.some((one) => one.list === list) && isDone(here, list) && !isKnown
        })
        const starts = done.map((list) => noted(list, ticks.filter((one) => one.list === list), kept.start))
        return { ...kept, ticks, starts: [...kept.starts, ...starts] }
      })
      return ""
    },
  }

  // A run that goes on by a revision that has ended: whoever opens a page of another one would not notice.
  const endedBy = (kept) => {
    const last = kept.starts.at(-1)
    if (kept.ended || !last?.revision || typeof revisionStatus === "undefined") return ""
    const [status] = revisionStatus.statusOn(last.revision, revisionStatus.today())
    return ["superseded", "withdrawn"].includes(status) ? `The run noted on this device was started with revision ${last.revision}, which is ${status}. End it.` : ""
  }

  const show = () => {
    const kept = run()
    const why = hindrance()
    const ended = endedBy(kept)
    for (const said of document.querySelectorAll("[data-run-by]")) {
      said.textContent = ended
      said.hidden = !ended
      if (ended) said.closest("details").open = true
    }
    gate.dataset.startGate = why ? "shut" : "open"
    for (const panel of document.querySelectorAll('[data-hindrance="start-status"]')) panel.hidden = why !== "start-status"
    for (const place of document.querySelectorAll("[data-last-start]")) {
      const last = kept.starts.filter((one) => one.list === place.dataset.lastStart).pop()
      place.textContent = last ? `Last start ${device.clock(last.at)}${last.by ? `, ${last.by}` : ""}. The next start begins with an empty list.` : ""
    }
  }
  for (const key of document.querySelectorAll("[data-new-start]")) {
    key.addEventListener("click", () => change((kept) => ({ ...kept, ticks: kept.ticks.filter((one) => one.list !== key.dataset.newStart) })))
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
  const ASIDE = "packet/runs"
  const aside = () => device.read(ASIDE, [NOTED]) ?? []
  const removeAside = (id) => device.write(ASIDE, aside().filter((one) => one.id !== id))
  const setAside = (record) => {
    device.write(ASIDE, [...aside().filter((one) => one.id !== record.id), record])
    device.remove(KEY)
    document.dispatchEvent(new CustomEvent("packet:kept"))
  }
  return { store, run, change, end, aside, removeAside, setAside }
})()
