// The record of the run as a file, by the person's own hand; a new run begins empty.
(() => {
  const device = window.packetDevice
  const start = window.packetStart
  const files = window.packetFiles
  const part = document.querySelector("[data-run-record]")
  if (!part || !start) return
  const order = device.orderData
  const said = part.querySelector("[data-run-saved]")

  // Before the run has ended each file is a record of its own, and says of which run: the next order waits for its end.
  const record = () => {
    const { id, begun, starts, counts, events, ended } = start.run()
    const { order: number, slug, revision, record_digest, packet_digest } = order
    const state = ended ? { id, ended } : { id: device.newId(), saved_during: id }
    return { form: "run record", version: 1, order: number, slug, revision, status: device.status(order.status), record_digest, packet_digest, begun, starts, counts, events, ...state }
  }
  // What another revision lets be overdue is not known here; what is being noted has no revision yet.
  const overdue = (run) => (!run.revision || run.packet_digest === order.packet_digest ? start.overdue(run) : [])
  const asCsv = (run) => files.csv([
    ["kind", "what", "cell", "due", "part_count", "note", "at", "by"],
    ...["order", "revision", "status", "record_digest", "packet_digest", "id", "begun"].map((key) => ["identity", key, "", "", "", run[key], "", ""]),
    run.ended ? ["end of the run", "", "", "", "", "", run.ended.at, run.ended.by] : ["saved during the run", "", "", "", "", run.saved_during, "", ""],
    ...run.starts.flatMap((one) => [
      ["start", `operation ${one.operation}, revision ${one.revision}`, one.cell, "", "", one.status_reason, one.at, one.by],
      ...one.ticks.map((tick) => ["step of a start", tick.key, one.cell, "", "", tick.digest, tick.done, tick.by]),
    ]),
    ...run.counts.map((one) => ["part count", "", one.cell ?? "", "", one.count, "", one.at, one.by]),
    ...run.events.map((one) => [one.passed_over ? "passed over" : "done", one.what, "", one.due, one.at_count, "", one.at, one.by]),
    ...overdue(run).map((one) => ["overdue", one.what, one.cell, one.at, "", "neither done nor passed over", "", ""]),
  ])
  const save = (run, kind) => { said.textContent = (run.ended ? "" : "Saved during the run: save it again once the run has ended. ") + files.save(`${run.slug}-run-${run.id}`, kind, kind === "json" ? files.json(run) : asCsv(run)) }
  const lastCounts = (run) => [...new Map(run.counts.map((one) => [one.cell ?? "", one.count]))].map((one) => one.join(" ").trim()).join(", ")
  const words = (run) => `Begun ${device.clock(run.begun)}: ${run.starts.length} starts of cells, last part count ${lastCounts(run) || "not entered"}, ${run.events.filter((one) => !one.passed_over).length} done at a part count, ${overdue(run).length} overdue. ${run.ended ? `Ended ${device.clock(run.ended.at)}${run.ended.by ? `, ${run.ended.by}` : ""}.` : "Not ended."}`

  for (const key of part.querySelectorAll("[data-save-run]")) key.addEventListener("click", () => save(record(), key.dataset.saveRun))
  const ending = part.querySelector("[data-end-run]")
  start.atSecondTouch(ending, "Touch again: the last part is counted", start.end)
  start.atSecondTouch(part.querySelector("[data-new-run]"), "Touch again: this run is set aside", () => start.setAside(record()))

  const shelf = part.querySelector("[data-runs-aside]")
  const show = () => {
    const isBegun = Boolean(start.run().id)
    part.querySelector("[data-run-kept]").textContent = isBegun ? words(start.run()) : "Nothing is noted of a run. The first tick or count begins it."
    for (const key of part.querySelectorAll("button[data-save-run], [data-new-run]")) key.hidden = !isBegun
    ending.hidden = !isBegun || Boolean(start.run().ended)
    const here = start.aside().filter((one) => one.slug === order.slug)
    shelf.closest("[data-runs-aside-all]").hidden = !here.length
    files.shelf(shelf, here, { words, write: save, remove: start.removeAside })
  }
  document.addEventListener("packet:kept", show)
  show()
})()
