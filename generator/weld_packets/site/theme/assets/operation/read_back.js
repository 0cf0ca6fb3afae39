// Read-back: what each robot's control shows, one value at a time, robot by robot, judged as it is entered.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const { judge, judgeNumber, words } = window.packetJudgement
  const proof = window.packetProof
  const form = device.form
  const pad = document.getElementById("read-back")
  const list = document.getElementById("read-back-list")
  const part = Object.fromEntries([pad, ...pad.querySelectorAll("[data-rb]")].map((one) => [one.dataset.rb, one]))
  const NEXT = { equal: 1200, match: 1200, "in range": 2500 } // ms until the next value, long enough to read the verdict

  const sideOf = (robot) => (robot === form.robots[0] ? "A" : "B")
  // A weld schedule is called up once: its number, then all that the control shows under it.
  const bySchedule = (robot) => {
    const values = form.values.filter((value) => value.kind === "setting" && value.robots.includes(robot))
    const numbers = form.numbers.filter((number) => number.robot === robot && number.what === "weld schedule")
    const under = (number) => values.filter((value) => value.weld_schedule === number).map((value) => ({ robot, value }))
    return [...under(""), ...numbers.flatMap((number) => [{ robot, number }, ...under(number.number)])]
  }
  // Robot by robot, programs first, in the order of the data; what shows only while welding comes last.
  const items = [
    ...form.robots.flatMap((robot) => [
      ...form.numbers.filter((number) => number.robot === robot && number.what === "program").map((number) => ({ robot, number })),
      ...bySchedule(robot),
      ...form.numbers.filter((number) => number.robot === robot && number.what === "coupon program").map((number) => ({ robot, number })),
    ]),
    ...form.robots.flatMap((robot) => form.values.filter((value) => value.kind === "reading" && value.robots.includes(robot)).map((value) => ({ robot, value }))),
  ]

  let at = 0
  let repeat = 0
  let waiting = 0
  let scanned = false

  const found = (item) => {
    const record = setUp.own()
    if (item.number) return proof.lastNumber(record, item.number)
    return record?.readings.filter((one) => one.value === item.value.key && one.robot === item.robot && one.repeat === repeat).pop()
  }
  const title = (item) => (item.number ? `${item.number.what[0].toUpperCase()}${item.number.what.slice(1)}` : item.value.label)
  const isHidden = () => part.hide.getAttribute("aria-pressed") === "true"
  const settingOf = (item) => {
    if (item.number) return `required: ${item.number.number}`
    const { setting, unit, low, high } = item.value
    return [item.value.kind === "setting" ? `set ${setting} ${unit}` : setting && `about ${setting} ${unit}`, words.range(low, high, unit)].filter(Boolean).join(", allowed ")
  }

  // What is wrong with a value only beside another one: said at either of the two.
  const conflicts = (item) => proof.together(setUp.own()).filter((one) => item.value && one.said && one.robot === item.robot && [one.value, one.other].includes(item.value))

  const stopWaiting = () => {
    clearTimeout(waiting)
    waiting = 0
  }
  const open = (place) => {
    stopWaiting()
    at = (place + items.length) % items.length
    const item = items[at]
    const number = Boolean(item.number)
    const typed = number && /\D/.test(item.number.number) // a number of digits alone is entered on the pad
    pad.hidden = false
    list.hidden = true
    part.robot.className = `robot robot-${sideOf(item.robot)}`
    part.robot.textContent = item.robot
    part.group.textContent = number ? (item.number.of ?? "") : [item.value.weld_schedule && `weld schedule ${item.value.weld_schedule}`, item.value.group].filter(Boolean).join(": ")
    part.progress.textContent = `${at + 1} of ${items.length}${repeat ? ", repeated" : ""}`
    part.person.textContent = device.person() ? `noted as ${device.person()}` : "no name yet: give it under List"
    part.what.textContent = title(item) + (item.value?.kind === "reading" ? " (read it while the robot welds)" : "")
    part.label.textContent = `${title(item)}, ${item.robot}`
    part.setting.textContent = settingOf(item)
    part.setting.hidden = isHidden() || repeat > 0
    part.unit.textContent = number ? (typed ? "scan or type" : "scan or enter") : item.value.unit
    part.pad.classList.toggle("rb-few", typed)
    part.entry.inputMode = typed ? "text" : "none" // the pad is the page's own
    part.entry.value = ""
    part.after.hidden = part.deviation.hidden = true
    part.pad.hidden = false
    say(found(item), item, true)
    scanned = false
    part.entry.focus({ preventScroll: true })
  }

  const say = (entry, item, earlier) => {
    part.verdict.replaceChildren()
    delete part.verdict.dataset.verdict
    if (!entry) return
    part.verdict.dataset.verdict = entry.verdict
    const head = document.createElement("strong")
    const beside = ["equal", "in range"].includes(entry.verdict) ? conflicts(item) : []
    if (beside.length) part.verdict.dataset.verdict = beside[0].verdict
    head.textContent = beside.length ? "Not together" : words.verdict(entry.verdict)
    const judged = item.number ? judgeNumber(entry.entered, item.number, form.numbers) : judge(entry.entered, item.value)
    const when = earlier ? ` Entered ${device.clock(entry.at)}${entry.by ? ` by ${entry.by}` : ""}.` : ""
    part.verdict.append(head, `: ${entry.number ?? entry.entered}${item.value ? ` ${item.value.unit}` : ""}. ${[...beside.map((one) => one.said), judged.hint].join(" ")}${when}${otherEntry(entry, item)}`)
  }
  const otherEntry = (entry, item) => {
    if (!item.value || !repeat) return ""
    const first = setUp.own()?.readings.filter((one) => one.value === item.value.key && one.robot === item.robot && one.repeat === 0).pop()
    if (!first) return ""
    return first.number === entry.number ? " The first entry was equal." : ` The first entry was ${first.number} ${first.unit}: look again, both of you.`
  }

  const keep = (item, entered) => setUp.change((record) => {
    const entry = entered()
    const kind = item.number ? "numbers" : "readings"
    const same = item.number
      ? (one) => one.robot === entry.robot && one.what === entry.what && one.asked === entry.asked
      : (one) => one.value === entry.value && one.robot === entry.robot && one.repeat === entry.repeat
    setUp.enter(record, kind, entry, same)
    // What was proved was proved with other settings.
    if (["low", "high", "mismatch"].includes(entry.verdict) || proof.together(record).some((one) => one.said && one.robot === item.robot && [one.value, one.other].includes(item.value))) setUp.withdraw(record, "coupons")
  })

  const enter = (text) => {
    const item = items[at]
    const judged = item.number ? judgeNumber(text, item.number, form.numbers) : judge(text, item.value)
    if (judged.verdict === "refused") {
      part.verdict.dataset.verdict = "refused"
      part.verdict.textContent = judged.hint
      part.entry.select()
      return
    }
    const said = { by: device.person() }
    const entry = item.number
      ? { robot: item.robot, what: item.number.what, asked: item.number.number, entered: text.trim(), verdict: judged.verdict, by_scan: scanned, ...said }
      : { value: item.value.key, robot: item.robot, entered: text.trim(), number: judged.number, unit: item.value.unit, verdict: judged.verdict, hidden: part.setting.hidden, ...said, repeat }
    if (keep(item, () => Object.assign(entry, { at: device.now() }))) {
      pad.hidden = true
      list.hidden = false
      return
    }
    say(entry, item, false)
    part.entry.value = ""
    if (NEXT[judged.verdict] && !conflicts(item).length && !part.verdict.textContent.includes("look again")) waiting = setTimeout(next, NEXT[judged.verdict])
    else {
      part.after.hidden = false
      part.pad.hidden = true
      part.deviation.hidden = Boolean(item.number) || Boolean(repeat)
      part.again.focus({ preventScroll: true })
    }
  }

  const isMissing = (item) => !found(item) || conflicts(item).length > 0 || ["low", "high", "implausible", "mismatch"].includes(found(item).verdict)
  const next = () => {
    const after = [...items.keys()].map((step) => (at + 1 + step) % items.length)
    const place = after.find((one) => one > at && !found(items[one])) ?? after.find((one) => isMissing(items[one]) && one !== at)
    if (place === undefined) showList()
    else open(place)
  }

  const showList = () => {
    stopWaiting()
    pad.hidden = true
    list.hidden = false
    const missing = items.filter(isMissing).length
    list.querySelector("[data-rb-said]").textContent = missing ? `${missing} of ${items.length} missing or outside.` : `All ${items.length} are entered.`
    list.querySelector("[data-rb-start]").hidden = !missing
    list.querySelector("[data-rb-lines]").replaceChildren(...items.map((item, place) => {
      const entry = found(item)
      const key = document.createElement("button")
      key.type = "button"
      key.className = "rb-line"
      const robot = Object.assign(document.createElement("span"), { className: `robot robot-${sideOf(item.robot)}`, textContent: item.robot })
      const what = document.createElement("span")
      what.textContent = item.number ? `${title(item)} ${item.number.number}` : item.value.weld_schedule ? `${title(item)}, weld schedule ${item.value.weld_schedule}` : title(item)
      const outcome = document.createElement("b")
      const [beside] = entry ? conflicts(item) : []
      outcome.textContent = entry ? `${entry.number ?? entry.entered} ${beside ? "not together" : words.short(entry.verdict)}` : "not entered"
      if (entry) outcome.dataset.verdict = beside ? beside.verdict : entry.verdict
      key.append(robot, " ", what, " ", outcome)
      key.addEventListener("click", () => open(place))
      const line = document.createElement("li")
      line.append(key)
      return line
    }))
  }

  part.form.addEventListener("submit", (event) => {
    event.preventDefault()
    if (waiting) { // the verdict was read: the same touch goes on
      stopWaiting()
      next()
    } else if (part.entry.value.trim()) enter(part.entry.value)
  })
  for (const key of pad.querySelectorAll("[data-digit]")) {
    key.addEventListener("click", () => {
      if (waiting) return
      part.entry.value += key.dataset.digit
    })
  }
  pad.querySelector("[data-erase]").addEventListener("click", () => { part.entry.value = part.entry.value.slice(0, -1) })
  part.again.addEventListener("click", () => open(at))
  part.leave.addEventListener("click", next)
  part.back.addEventListener("click", () => open(at - 1))
  part.skip.addEventListener("click", () => open(at + 1))
  part.list.addEventListener("click", showList)
  part.hide.addEventListener("click", () => {
    part.hide.setAttribute("aria-pressed", String(!isHidden()))
    open(at)
  })
  part.note.addEventListener("click", () => {
    const reason = part.reason.value.trim()
    if (!reason) {
      part.reason.focus()
      return
    }
    const item = items[at]
    const isGood = ["equal", "in range"].includes(found(item)?.verdict)
    const names = isGood ? conflicts(item).map((one) => one.name) : [proof.nameOf(item.value, item.robot)]
    setUp.change((record) => {
      record.deviations = record.deviations.filter((one) => !names.includes(one.what))
      for (const name of names) setUp.deviate(record, name, reason)
    })
    part.reason.value = ""
    next()
  })
  list.querySelector("[data-rb-start]").addEventListener("click", () => open(Math.max(0, items.findIndex(isMissing))))
  const second = list.querySelector("[data-rb-person]")
  list.querySelector("[data-rb-second]").addEventListener("click", () => {
    second.hidden = false
    second.elements.name.focus()
  })
  second.addEventListener("submit", (event) => {
    event.preventDefault()
    const name = second.elements.name.value.trim()
    const first = setUp.own()?.readings.filter((one) => one.repeat === 0) ?? []
    // An accent, a capital or a full stop makes no other person.
    if (first.some((one) => one.by.localeCompare(name, "en", { sensitivity: "base", ignorePunctuation: true }) === 0)) {
      second.querySelector("[data-rb-person-said]").textContent = "That person made the first entries. Another one repeats them."
      return
    }
    second.hidden = true
    device.setPerson(name)
    repeat = 1
    open(items.findIndex((item) => item.value))
  })

  // A code that is scanned belongs to the number on the screen, else to the robot that has it.
  document.addEventListener("packet:scanned", (event) => {
    const item = items[at]
    if (!pad.hidden && !item.number) return
    const place = pad.hidden ? items.findIndex((one) => one.number && judgeNumber(event.detail.text, one.number, form.numbers).verdict === "match") : at
    if (place < 0) {
      list.querySelector("[data-rb-said]").textContent = `${event.detail.text} is not a program or weld schedule of this operation.`
      return
    }
    open(place)
    scanned = event.detail.isFast
    enter(event.detail.text)
  })
  // A scanner that types into the field itself is known by its pace.
  let first = 0
  part.entry.addEventListener("input", (event) => {
    if (part.entry.value.length <= 1) first = event.timeStamp
    scanned = part.entry.value.length > 2 && (event.timeStamp - first) / part.entry.value.length < 50
  })

  const fromAddress = () => {
    const wanted = new URLSearchParams(location.hash.slice(1))
    const place = items.findIndex((item) => item.robot === wanted.get("robot") && (item.value ? item.value.key === wanted.get("value") : item.number.number === wanted.get("number")))
    if (place >= 0) open(place)
    else if (setUp.hindrance()) {
      showList()
      document.dispatchEvent(new CustomEvent("packet:hindered", { detail: setUp.hindrance() }))
    }
    else {
      const missing = items.findIndex(isMissing)
      if (missing < 0) showList()
      else open(missing)
    }
  }
  window.addEventListener("hashchange", fromAddress)
  document.addEventListener("packet:kept", () => { if (pad.hidden) showList() })
  fromAddress()
})()
