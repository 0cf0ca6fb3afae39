// What a page says of the device and of the set-up that it keeps: whose it is, since when, and what is to be decided
// before anything more is noted.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const all = (mark) => [...document.querySelectorAll(mark)]
  const refused = new Set()

  const show = () => {
    const name = device.person()
    for (const place of all("[data-person-name]")) place.textContent = name || "no name given"
    for (const form of all("form[data-person]")) form.hidden = Boolean(name) && !form.dataset.open
    for (const place of all("[data-person-shown]")) place.hidden = !name || Boolean(all("form[data-person]")[0]?.dataset.open)
    if (!device.form) return
    const record = setUp.own()
    const why = setUp.hindrance()
    for (const panel of all("[data-hindrance]")) {
      const kind = panel.dataset.hindrance
      panel.hidden = kind !== why || (kind === "status" && !refused.has(kind))
    }
    for (const place of all("[data-set-up-state]")) {
      const by = record?.setter ? `, set by ${record.setter}` : ""
      place.textContent = record ? `Set-up begun ${device.clock(record.begun)}${by}: ${setUp.stateOf(record)}.` : "No set-up is begun. The first tick or entry begins it."
    }
    const left = setUp.changeoverLeft(device.form, device.form.changeover).length
    for (const place of all("[data-changeover-left]")) {
      place.textContent = setUp.isFromNothing(record) ? "It is set up from nothing, for a reason given." : `${device.form.changeover.length - left} of ${device.form.changeover.length} steps are done.`
    }
    for (const part of all("[data-from-nothing]")) part.hidden = setUp.isFromNothing(record)
    for (const key of all("[data-set-up-new]")) key.hidden = !record
    for (const place of all("[data-since]")) place.textContent = record ? device.clock(setUp.lastAct(record)) : ""
    for (const place of all("[data-begun-with]")) place.textContent = record ? (record.revision ? `revision ${record.revision}` : record.status) : ""
  }

  for (const form of all("form[data-person]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault()
      delete form.dataset.open
      device.setPerson(form.elements.name.value)
    })
  }
  for (const key of all("[data-person-change]")) {
    key.addEventListener("click", () => {
      const form = all("form[data-person]")[0]
      form.dataset.open = "yes"
      form.elements.name.value = device.person()
      show()
      form.elements.name.focus()
    })
  }
  for (const form of all("form[data-begin]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault()
      const reason = form.elements.reason.value.trim()
      if (reason) setUp.giveReason(reason)
    })
  }
  for (const form of all("form[data-take-over]")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault()
      const reason = form.elements.reason.value.trim()
      const { staysRead, staysProved } = window.packetProof
      if (reason) setUp.takeOver(staysRead, staysProved, reason)
    })
  }
  for (const form of all("[data-from-nothing] form")) {
    form.addEventListener("submit", (event) => {
      event.preventDefault()
      const reason = form.elements.reason.value.trim()
      if (reason) setUp.setUpFromNothing(reason)
    })
  }
  for (const key of all("[data-confirm-old]")) key.addEventListener("click", () => setUp.confirmOld())
  // Everything kept so far leaves the pages, so it takes two touches, the second on another key.
  for (const key of all("[data-set-up-new]")) {
    key.addEventListener("click", () => { for (const panel of all("[data-new-sure]")) panel.hidden = false })
  }
  for (const key of all("[data-new-sure-yes], [data-new-sure-no]")) {
    key.addEventListener("click", () => {
      for (const panel of all("[data-new-sure]")) panel.hidden = true
      if (key.dataset.newSureYes === undefined) return
      setUp.setAside()
      document.dispatchEvent(new CustomEvent("packet:kept"))
    })
  }
  document.addEventListener("packet:hindered", (event) => {
    refused.add(event.detail)
    show()
    const panel = all(`[data-hindrance="${event.detail}"]`)[0]
    panel?.scrollIntoView({ block: "center" })
    panel?.querySelector("input, button")?.focus()
  })
  document.addEventListener("packet:kept", show)
  show()
})()
