// Results of coupons and first-off against their limits, what else the record holds, and the two acceptances.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const proof = window.packetProof
  const { judgeResult, words } = window.packetJudgement
  const form = device.form
  const page = document.getElementById("page")

  const accept = (row, result) => {
    const field = row.querySelector("input")
    const said = row.querySelector("[data-result-verdict]")
    // What is judged by eye may be measured too: the largest that was found, against the limit of the imperfection.
    const judged = judgeResult(field.value, result.unit ? result : { unit: result.found_unit, minimum: "", maximum: result.found_maximum })
    if (judged.verdict === "refused") {
      said.textContent = judged.hint
      return
    }
    keep(result, field.value.trim(), judged)
  }
  const keep = (result, entered, judged) => setUp.change((record) => note(record, result, entered, judged))
  const note = (record, result, entered, judged) => {
    const entry = { result: result.key, entered, number: judged.number, verdict: judged.verdict, at: device.now(), by: device.person() }
    setUp.enter(record, "results", entry, (one) => one.result === result.key)
    // What was accepted on another result is accepted no more: somebody looks at the new one first.
    setUp.withdraw(record, result.stage === "coupon" ? "coupons" : "first-off")
  }
  // One look at a part judges all that a check names; what was entered before, good or bad, stays as it is.
  const acceptAll = (keys) => setUp.change((record) => {
    const open = form.results.filter((one) => keys.includes(one.key) && !proof.lastResult(record, one))
    for (const result of open) note(record, result, "accepted", { number: "", verdict: "accepted" })
  })

  const resultOf = (row) => form.results.find((one) => one.key === row.dataset.result)
  for (const row of page.querySelectorAll("[data-result]")) {
    const result = resultOf(row)
    row.querySelector("form")?.addEventListener("submit", (event) => {
      event.preventDefault()
      accept(row, result)
    })
    const ofCheck = row.querySelector("[data-accept-all]")
    ofCheck?.addEventListener("click", () => acceptAll(JSON.parse(ofCheck.dataset.acceptAll)))
    for (const key of row.querySelectorAll("[data-verdict-key]")) {
      key.addEventListener("click", () => keep(result, key.dataset.entered ?? key.dataset.verdictKey, { number: "", verdict: key.dataset.verdictKey }))
    }
  }

  // A size is asked for at a touch: most are judged by eye. On a phone its field is always shown.
  for (const key of page.querySelectorAll("[data-measure]")) {
    key.addEventListener("click", () => {
      const field = key.closest("[data-result]").querySelector("form")
      field.dataset.open = ""
      key.setAttribute("aria-expanded", "true")
      field.querySelector("input").focus()
    })
  }
  // The first-off is folded until its turn comes, so that the coupons are not lost among its results.
  for (const later of page.querySelectorAll("[data-later]")) {
    const begun = form.results.some((result) => result.stage === "first-off" && proof.lastResult(setUp.own(), result))
    if (begun || setUp.accepted(setUp.own(), "coupons")) later.open = true
  }

  // What was accepted before the page was opened is behind a tap; what is judged now stays in its place under the finger.
  for (const folded of page.querySelectorAll("[data-accepted]")) {
    const rows = [...folded.previousElementSibling.children]
    const done = rows.filter((row) => proof.lastResult(setUp.own(), resultOf(row))?.verdict === "accepted" && location.hash !== `#${encodeURIComponent(row.id)}`)
    folded.hidden = !done.length
    folded.firstElementChild.textContent = `Accepted before: ${done.length} of ${rows.length} results`
    folded.append(...done)
    folded.previousElementSibling.hidden = done.length === rows.length
  }

  // Lists that grow: what and its number, one line each.
  for (const adding of page.querySelectorAll("form[data-adds]")) {
    const kind = adding.dataset.adds
    adding.addEventListener("submit", (event) => {
      event.preventDefault()
      const entry = Object.fromEntries([...adding.querySelectorAll("[name]")].map((field) => [field.name, field.value.trim()]))
      if (Object.values(entry).some((text) => !text)) return
      const why = setUp.change((record) => {
        if (kind === "deviations") setUp.deviate(record, entry.what, entry.reason)
        else record[kind] = [...record[kind], entry]
      })
      if (!why) adding.reset()
    })
  }
  const serials = page.querySelector("form[data-serials]")
  serials?.addEventListener("submit", (event) => {
    event.preventDefault()
    setUp.change((record) => { record.serials = { from: serials.elements.from.value.trim(), to: serials.elements.to.value.trim() } })
  })

  const link = (missing) => {
    const line = document.createElement("li")
    line.append(`${missing.words}: `, Object.assign(document.createElement("a"), { className: "step-leads", href: missing.href, textContent: missing.lead }))
    return line
  }
  const line = (text) => Object.assign(document.createElement("li"), { textContent: text })
  // On paper the empty cells of the setter's card take what is not entered here.
  const openLine = (text) => Object.assign(line(text), { className: "no-print" })
  // A line that was typed in error goes at the second touch.
  const removable = (kind, one, text) => {
    const found = line(`${text} `)
    const key = Object.assign(document.createElement("button"), { type: "button", className: "key no-print", textContent: "Remove" })
    key.addEventListener("click", () => {
      if (key.dataset.sure) setUp.change((record) => { record[kind] = record[kind].filter((other) => JSON.stringify(other) !== JSON.stringify(one)) })
      key.dataset.sure = "yes"
      key.textContent = "Touch again to remove it"
    })
    found.append(key)
    return found
  }
  const by = (one) => `${device.clock(one.at ?? one.done)}${one.by ? `, ${one.by}` : ""}`

  const show = () => {
    const record = setUp.own()
    for (const row of page.querySelectorAll("[data-result]")) {
      const result = resultOf(row)
      const found = proof.lastResult(record, result)
      const said = row.querySelector("[data-result-verdict]")
      said.textContent = found ? `${words.verdict(found.verdict)}${found.number ? `: ${found.number} ${result.unit || result.found_unit}` : result.choices.length ? `: ${found.entered}` : ""} (${by(found)})` : "not entered"
      if (found) said.dataset.verdict = found.verdict
      else delete said.dataset.verdict
    }
    for (const part of page.querySelectorAll("[data-missing-for]")) {
      const missing = proof.missingFor(part.dataset.missingFor)
      const done = setUp.accepted(record, part.dataset.missingFor)
      part.querySelector("[data-missing-said]").classList.toggle("no-print", !done)
      part.querySelector("[data-missing-said]").textContent = done ? `Accepted ${by(done)}.` : missing.length ? `${missing.length} missing:` : "Nothing is missing."
      part.querySelector("[data-missing-list]").replaceChildren(...(done ? [] : missing.slice(0, 6).map(link)), ...(done || missing.length <= 6 ? [] : [line(`and ${missing.length - 6} more`)]))
      part.querySelector("[data-hold]").href = proof.holdOf(part.dataset.missingFor)
      part.querySelector("[data-hold]").hidden = Boolean(done)
    }
    const readings = form.values.flatMap((value) => value.robots.map((robot) => {
      const found = record?.readings.filter((one) => one.value === value.key && one.robot === robot) ?? []
      const judged = found.map((one) => `${one.number} ${one.unit} ${words.verdict(one.verdict)}${one.hidden ? ", setting hidden" : ""}${one.repeat ? ", repeated" : ""} (${by(one)})`)
      const name = proof.nameOf(value, robot)
      return judged.length ? line(`${name}: ${judged.join("; ")}`) : openLine(`${name}: not entered`)
    }))
    const apart = proof.together(record).filter((one) => one.said).map((one) => line(`${proof.nameOf(one.value, one.robot)}: not together. ${one.said}`))
    fill("readings", [...readings, ...apart])
    fill("numbers", form.numbers.map((number) => {
      const found = proof.lastNumber(record, number)
      const name = `${number.robot}, ${number.what} ${number.number}`
      return found ? line(`${name}: ${found.entered} ${words.verdict(found.verdict)}${found.by_scan ? ", scanned" : ""} (${by(found)})`) : openLine(`${name}: not compared`)
    }))
    const read = [...form.numbers.map((number) => proof.lastNumber(record, number)), ...form.values.flatMap((value) => value.robots.map((robot) => proof.lastReading(record, value, robot)))]
    const outside = read.filter((one) => one && setUp.hasFailed(one)).length + apart.length
    page.querySelector("[data-read-back-said]").textContent = `${read.filter(Boolean).length} of ${read.length} read back${outside ? `, ${outside} not as required` : ""}`
    const failed = proof.failedBefore(record)
    for (const part of page.querySelectorAll("[data-replaced]")) part.hidden = !failed.length
    fill("replaced", failed.map(([name, one]) => line(`${name}: ${one.number || one.entered}${one.unit ? ` ${one.unit}` : ""} ${words.verdict(one.verdict)} (${by(one)})`)))
    const proved = form.steps.filter((step) => step.list === "prove-out" || proof.isBySetUp(record))
    const stepsDone = proved.length - proof.stepsLeft(record, proved)
    const moved = record?.changeover?.length ? [line(`${record.changeover.length} of ${form.changeover.length} steps of the changeover of cell ${form.cell} are done.`)] : []
    const ofLists = proved.length < form.steps.length ? "the prove-out" : "set-up and prove-out"
    fill("steps", [...moved, line(stepsDone ? `${stepsDone} of ${proved.length} steps of ${ofLists} are done.` : `No step of ${ofLists} is done.`)])
    const kinds = { lots: (one) => `${one.what}: ${one.lot}`, counters: (one) => `${one.what}: ${one.count}`, instruments: (one) => `${one.what}: ${one.number}`, deviations: (one) => `${one.what}: ${one.reason} (${by(one)})` }
    for (const [kind, judged] of Object.entries(kinds)) fill(kind, (record?.[kind] ?? []).map((one) => removable(kind, one, judged(one))))
    if (serials && document.activeElement?.form !== serials) {
      serials.elements.from.value = record?.serials.from ?? ""
      serials.elements.to.value = record?.serials.to ?? ""
    }
  }
  const fill = (kind, lines) => page.querySelector(`[data-kept="${kind}"]`)?.replaceChildren(...lines)

  document.addEventListener("packet:kept", show)
  show()
})()
