// What is due next: from the part count that a person enters, and in how many parts. What recurs is one line; what was
// done is ticked with time and name.
(() => {
  const device = window.packetDevice
  const start = window.packetStart
  const part = document.querySelector("[data-run-count]")
  if (!part || !start) return
  const { events, rules, quantity } = device.orderData.run
  const form = part.querySelector("form")
  const said = part.querySelector("[data-run-said]")
  const dueList = part.querySelector("[data-run-due]")
  const WHOLE = /^\s*\d{1,7}\s*$/

  // Each cell has a counter of its own; where there is one cell alone, no count names it.
  const choice = form.elements.cell
  const countOf = (run, cell) => run.counts.filter((one) => !one.cell || one.cell === cell).at(-1)
  const numberOf = (run, cell) => Number(countOf(run, cell)?.count ?? 0)
  if (choice) choice.value = start.run().counts.at(-1)?.cell ?? choice.value
  const parts = (number) => (number === 1 ? "1 part" : `${number} parts`)

  // Each turn of what recurs is due by itself; its rule's key and its part count say which it is.
  const turnsOf = (rule) => rule.turns.map((at) => ({ key: rule.key, cell: rule.cell, at, what: rule.what, recurs: true, every: rule.every }))
  const all = [...events.map((event) => ({ ...event, recurs: false })), ...rules.flatMap(turnsOf)].sort((one, other) => one.at - other.at)
  // In a cell that has not started nothing is due. Where no start is noted, nothing says which have, but for operations
  // that follow another one in their cell: those have not.
  const { operations, run: { starts } } = device.orderData
  const cellOf = (number) => operations.find((operation) => operation.number === number).cell
  const follows = ({ operation }) => operations.some((one) => one.number < operation && one.cell === cellOf(operation))
  const later = new Set(starts.filter(follows).map((start) => start.cell))
  const isStarted = (kept, one) => (!kept.starts.length && !later.has(one.cell)) || kept.starts.some((start) => start.cell === one.cell)
  const isOf = (done, one) => done.key === one.key && done.due === one.at

  // What was due before the last count of its cell and was neither done nor passed over; the program's rule.
  const overdue = (run) => {
    const past = (one) => one.at < numberOf(run, one.cell) && isStarted(run, one)
    const turns = rules.flatMap((rule) => turnsOf(rule).filter(past).slice(-1))
    return [...events.filter(past), ...turns].filter((one) => !run.events.some((done) => isOf(done, one))).sort((one, other) => one.at - other.at)
  }
  start.overdue = overdue

  // What a slip of a glove must not do waits for a second touch; without one the key is soon as it was.
  start.atSecondTouch = (key, words, act) => {
    const label = key.textContent
    key.addEventListener("click", () => {
      const isSure = key.textContent === words
      key.textContent = isSure ? label : words
      if (isSure) act()
      else setTimeout(() => { key.textContent = label }, 8000)
    })
  }

  const show = () => {
    const kept = start.run()
    const left = (one) => one.at - numberOf(kept, one.cell)
    const open = all.filter((one) => !kept.events.some((done) => isOf(done, one)))
    // Of what recurs only the nearest turn is listed: the latest one that is due, else the next.
    const shown = [...open.filter((one) => !one.recurs), ...rules.flatMap((rule) => {
      const turns = open.filter((one) => one.key === rule.key)
      const due = turns.filter((one) => left(one) <= 0 && isStarted(kept, one))
      return due.length ? [due.at(-1)] : turns.slice(0, 1)
    })].sort((one, other) => isStarted(kept, other) - isStarted(kept, one) || left(one) - left(other)).slice(0, 8)
    const counts = (choice ? [...choice.options].map((option) => option.value) : [""]).flatMap((cell) => {
      const last = countOf(kept, cell)
      return last ? [`${cell ? `Cell ${cell}: part` : "Part"} count ${last.count} of ${quantity}, entered ${device.clock(last.at)}${last.by ? ` by ${last.by}` : ""}.`] : []
    })
    said.textContent = counts.length ? counts.join(" ") : "No part count is entered."
    dueList.replaceChildren(...shown.map((one) => {
      const line = document.createElement("li")
      const ahead = left(one)
      const waits = !isStarted(kept, one)
      line.dataset.due = ahead <= 0 && !waits ? "now" : "later"
      if (!one.recurs) line.dataset.rare = ""
      const when = document.createElement("b")
      // Every cell has a count of its own: a line that does not name its cell would be taken for that of another.
      when.textContent = `Cell ${one.cell}${waits ? " not started" : ahead < 0 ? `: overdue by ${parts(-ahead)}` : ahead === 0 ? ": due now" : `: in ${parts(ahead)}`}`
      const words = document.createElement("span")
      words.append(when, `, ${one.when === "during" ? "while part" : "after part"} ${one.at}${one.when === "during" ? " is welded" : ""}${one.recurs ? `, every ${parts(one.every)}` : ""}. ${one.what}`)
      const key = Object.assign(document.createElement("button"), { type: "button", className: "key", textContent: "Done" })
      // A change may come early, where a gauge or an inspection says so; at a slip the last count is what is missing.
      if (ahead <= 0 && !waits) key.addEventListener("click", () => done(one))
      else start.atSecondTouch(key, `${waits ? "Not started" : countOf(kept, one.cell) ? `${parts(ahead)} early` : "No part count"}: touch again`, () => done(one))
      line.append(words, key)
      return line
    }))
    const last = part.querySelector("[data-run-done]")
    last.parentElement.hidden = !kept.events.length
    last.replaceChildren(...kept.events.slice(-5).reverse().map((one) => {
      const line = document.createElement("li")
      line.textContent = `${one.what}${one.passed_over ? " (passed over)" : ""}: at ${one.at_count}, ${device.clock(one.at)}${one.by ? `, ${one.by}` : ""} `
      const key = Object.assign(document.createElement("button"), { type: "button", className: "key", textContent: "Not done" })
      start.atSecondTouch(key, "Touch again to take it back", () => start.change((now) => ({ ...now, events: now.events.filter((other) => other.key !== one.key || other.due !== one.due) })))
      line.append(key)
      return line
    }))
  }
  // A turn that is done covers the earlier turns of the same rule: nobody dresses twice for a turn that was passed.
  const done = (one) => start.change((kept) => {
    const covered = all.filter((other) => other.key === one.key && other.at < one.at && !kept.events.some((was) => isOf(was, other)))
    const note = (what, passed) => ({ key: what.key, due: what.at, what: what.what, at_count: countOf(kept, what.cell)?.count ?? "0", passed_over: passed, at: device.now(), by: device.person() })
    return { ...kept, events: [...kept.events, ...covered.map((other) => note(other, true)), note(one, false)] }
  })

  form.addEventListener("submit", (event) => {
    event.preventDefault()
    const text = form.elements.count.value
    const cell = choice?.value ?? ""
    const before = numberOf(start.run(), cell)
    const complaint = part.querySelector("[data-run-complaint]")
    if (!WHOLE.test(text)) complaint.textContent = "Enter whole parts, as the counter shows them."
    else if (Number(text) > quantity) complaint.textContent = `The order has ${parts(quantity)}. Read the counter again.`
    else if (Number(text) < before && complaint.dataset.sure !== `${cell} ${text}`) {
      complaint.textContent = `Less than the last count${cell ? ` of cell ${cell}` : ""}, ${before}. Enter it again if the counter was set back.`
      complaint.dataset.sure = `${cell} ${text}`
      return
    } else {
      complaint.textContent = ""
      start.change((kept) => ({ ...kept, counts: [...kept.counts, { count: String(Number(text)), at: device.now(), by: device.person(), ...(cell && { cell }) }] }))
      form.elements.count.value = ""
    }
    delete complaint.dataset.sure
  })
  document.addEventListener("packet:kept", show)
  show()
})()
