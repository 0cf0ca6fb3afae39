// The set-up record as a file, by the person's own hand.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const files = window.packetFiles
  const saved = document.querySelector("[data-saved]")
  if (!saved) return

  // One line an entry, the same columns for every kind; a list reads well in any spreadsheet.
  const said = (...notes) => notes.filter(Boolean).join(", ")
  const ofNumbers = (list, note) => list.map((one) => [one.what, one.asked, one.robot, one.entered, "", "", one.verdict, said(one.by_scan && "scanned", note), one.at, one.by])
  const ofReadings = (list, note) => list.map((one) => ["reading", one.value, one.robot, one.entered, one.number, one.unit, one.verdict, said(one.hidden && "setting hidden", one.repeat && "repeated", note), one.at, one.by])
  const ofResults = (list, note) => list.map((one) => ["result", one.result, "", one.entered, one.number, "", one.verdict, note, one.at, one.by])
  const asCsv = (record) => {
    const replaced = record.replaced ?? { readings: [], numbers: [], results: [] }
    const head = ["kind", "what", "robot", "entered", "number", "unit", "verdict", "note", "at", "by"]
    const identity = ["order", "revision", "status", "status_reason", "record_digest", "packet_digest", "operation", "operation_name", "cell", "id", "begun", "finished", "setter"]
    return files.csv([
      head,
      ...identity.map((key) => ["identity", key, "", record[key], "", "", "", "", "", ""]),
      ...(record.qualification ? [["qualification", record.qualification.number, "", "", "", "", "", `valid until ${record.qualification.valid_until}`, record.qualification.at, record.qualification.by]] : []),
      ...ofNumbers(record.numbers, ""), ...ofReadings(record.readings, ""), ...ofResults(record.results, ""),
      ...(record.together ?? []).map((one) => ["together", `${one.value} beside ${one.other}`, one.robot, "", "", "", one.verdict, "", "", ""]),
      ...ofNumbers(replaced.numbers, "replaced"), ...ofReadings(replaced.readings, "replaced"), ...ofResults(replaced.results, "replaced"),
      ...record.steps.map((one) => ["step", `${one.list}: ${one.key}`, "", "", "", "", "done", one.digest, one.done, one.by]),
      ...(record.changeover ?? []).map((one) => ["step", `changeover: ${one.key}`, "", "", "", "", "done", one.digest, one.done, one.by]),
      ...record.accepted.map((one) => ["accepted", one.what, "", "", "", "", "accepted", "", one.at, one.by]),
      ...record.lots.map((one) => ["lot", one.what, "", one.lot, "", "", "", "", "", ""]),
      ...record.counters.map((one) => ["counter", one.what, "", one.count, "", "", "", "", "", ""]),
      ...record.instruments.map((one) => ["instrument", one.what, "", one.number, "", "", "", "", "", ""]),
      ["serials", "from", "", record.serials.from, "", "", "", "", "", ""],
      ["serials", "to", "", record.serials.to, "", "", "", "", "", ""],
      ...record.deviations.map((one) => ["deviation", one.what, "", one.reason, "", "", "", "", one.at, one.by]),
    ])
  }

  const save = (record, kind) => {
    const text = kind === "json" ? files.json(record) : asCsv(record)
    saved.textContent = files.save(`${record.slug}-operation-${record.operation}-${record.id}`, kind, text)
  }

  for (const key of document.querySelectorAll("[data-save]")) {
    key.addEventListener("click", () => save(setUp.own(), key.dataset.save))
  }

  const shelf = document.querySelector("[data-aside]")
  const show = () => {
    for (const key of document.querySelectorAll("[data-save]")) key.hidden = !setUp.own()
    const here = setUp.aside().filter((one) => one.slug === device.form.slug && one.operation === device.form.operation)
    shelf.closest("[data-aside-all]").hidden = !here.length
    files.shelf(shelf, here, {
      words: (record) => `Begun ${device.clock(record.begun)}${record.setter ? ` by ${record.setter}` : ""}, ${record.revision ? `revision ${record.revision}` : record.status}: ${setUp.stateOf(record)}.`,
      write: save, remove: setUp.removeAside,
    })
  }
  document.addEventListener("packet:kept", show)
  show()
})()
