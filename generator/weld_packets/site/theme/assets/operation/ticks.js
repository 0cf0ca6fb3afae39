// Ticks of steps: kept with the set-up, with time and name. A second touch takes one away with those that rest on it, a
// hold point waits for all above it, and what a revision changed is to be ticked again.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const SECOND_TOUCH = 4000 // ms in which a second touch takes a tick away
  const lists = [...document.querySelectorAll("#page ol.steps[data-list]")]
  const items = [...document.querySelectorAll("#page [data-killer]")]
  if (!lists.length && !items.length) return

  // What a task accepts, and what is entered on another page before it is done.
  const needsOf = (list, key) => {
    const { accepts = "", enter = "" } = device.form?.steps.find((one) => one.list === list && one.key === key) ?? {}
    return { accepts, enter }
  }
  // Who is out and where the robots are holds for now: such a tick is gone when the page is.
  const FOR_NOW = ["home", "out"]
  const steps = items.map((box) => ({
    item: box.closest("label"), list: "card", key: box.dataset.killer, digest: box.closest("label").querySelector("span").textContent.trim(), box, hold: false, accepts: "", enter: "", stage: null,
    tasks: box.closest("label").querySelector("[data-tasks]").dataset.tasks.split(" ").filter(Boolean),
    store: FOR_NOW.includes(box.dataset.killer) ? "page" : "card",
  })).concat(lists.flatMap((list) =>
    [...list.querySelectorAll("li[data-step]")].map((item) => ({
      item, list: list.dataset.list, key: item.dataset.step, digest: item.dataset.digest, store: list.dataset.keep,
      box: item.querySelector("input[type=checkbox]"), stage: item.closest(".stage"), hold: item.classList.contains("hold"),
      ...needsOf(list.dataset.list, item.dataset.step),
    }))))

  const inSetUp = {
    ticks: () => setUp.own()?.steps ?? [],
    change: (act) => setUp.change((record) => { record.steps = act(record.steps) }),
  }
  // Lists with a place of their own: what is looked at before the first tick of a set-up, and the changeover, whose
  // steps the record of each cell's set-up takes over.
  const beside = (key, owner, begin) => ({
    ticks: () => {
      const kept = device.read(key, device.TICKS)
      return kept && kept.owner === owner() ? kept.ticks : []
    },
    change: (act) => {
      const why = begin()
      if (!why) device.write(key, { owner: owner(), ticks: act(beside(key, owner, begin).ticks()) })
      return why
    },
  })
  let ticked = []
  const onPage = {
    ticks: () => ticked,
    change: (act) => {
      ticked = act(ticked)
      showAll()
      return ""
    },
  }
  const place = location.pathname.split("/").pop()
  const stores = {
    "set-up": inSetUp,
    page: onPage,
    card: beside(`packet/ticks/${device.form?.slug}/${device.form?.operation}`, () => setUp.own()?.id ?? "", () => setUp.change(() => {})),
    order: beside(`packet/ticks/${device.orderData?.slug}/${place}`, () => device.orderData.packet_digest, () => ""),
    start: window.packetStart?.store,
  }

  const tickOf = (step) => stores[step.store].ticks().find((one) => one.list === step.list && one.key === step.key)
  // A check of the card holds for no longer than what it rests on.
  const openBehind = (step) => (step.list === "card" ? window.packetProof.evidenceOf(step.key, step.tasks).missing : [])
  const isDone = (step) => tickOf(step)?.digest === step.digest && !openBehind(step).length
  const without = (ticks, step) => ticks.filter((one) => one.list !== step.list || one.key !== step.key)

  const say = (step, words, lead) => {
    let said = step.item.querySelector(".step-said")
    if (!said) {
      said = Object.assign(document.createElement(step.item.matches("label") ? "small" : "p"), { className: "step-said" })
      said.setAttribute("role", "status")
      step.item.append(said)
    }
    said.replaceChildren(words)
    said.hidden = !words
    if (lead) said.append(" ", lead)
  }

  // On the card there is room for no more than a time and a name: what else is said lies over it until the next touch.
  const over = items.length ? Object.assign(document.createElement("p"), { className: "killers-said no-print", hidden: true }) : null
  over?.setAttribute("role", "status")
  const warn = (step, words, lead) => {
    if (step.list !== "card") {
      say(step, words, lead)
      return
    }
    step.item.parentElement.append(over)
    over.replaceChildren(words, ...(lead ? [" ", lead] : []))
    over.hidden = false
  }
  if (over) document.addEventListener("click", (event) => { over.hidden ||= !over.contains(event.target) }, true)

  const show = (step) => {
    const tick = tickOf(step)
    step.box.checked = isDone(step)
    const who = tick?.by ? `, ${tick.by}` : ""
    if (!tick) say(step, "")
    else if (step.box.checked) say(step, `${step.list === "card" ? "" : "Done "}${device.clock(tick.done)}${who}`)
    else if (openBehind(step).length) say(step, "open again")
    else say(step, `Changed since your tick of ${device.clock(tick.done)}. Read it again, then tick it.`)
  }
  const showAll = () => {
    steps.forEach((step) => { if (!step.secondTouch) show(step) })
    for (const list of lists) {
      const all = steps.filter((step) => step.item.parentElement === list) // a list of stages counts each by itself
      const tally = document.getElementById(list.dataset.count)
      if (tally) tally.textContent = `${all.filter(isDone).length} of ${all.length} done`
    }
  }

  const jump = (to) => {
    const key = Object.assign(document.createElement("button"), { type: "button", className: "key", textContent: "Go there" })
    key.addEventListener("click", () => {
      to.box.closest("li").scrollIntoView({ block: "center" })
      to.box.focus()
    })
    return key
  }
  const leadTo = (missing) => Object.assign(document.createElement("a"), { className: "key", href: missing.href, textContent: missing.lead })

  const missingFor = (step) => {
    if (step.list === "card") return openBehind(step)
    if (step.accepts) return window.packetProof.missingFor(step.accepts)
    if (step.enter === "settings") return window.packetProof.missingToRead()
    return step.enter === "readings" ? window.packetProof.missingReadings() : []
  }
  const wordsOf = (step) => step.item.querySelector(".step-do").lastChild.textContent.trim()
  const placeOf = (step) => step.stage?.dataset.place ?? ""
  // A changeover goes from cell to cell, where another person may be at work; what belongs to no cell is for all.
  const isWith = (one, other) => one.list === other.list && [placeOf(other), ""].includes(placeOf(one))
  // What makes the state that a stage is done in: the last step of the stage above, and the first of its own. Behind a
  // locked-out cell the lock that was taken off is all of it.
  const makersOf = (step) => {
    const { stage } = step
    if (!stage) return []
    const here = steps.filter((one) => one.stage === stage)
    const above = steps.slice(0, steps.indexOf(here[0])).filter((one) => one.list === step.list && placeOf(one) === placeOf(step)).pop()
    const isEntered = stage.dataset.lock === undefined || above?.stage.dataset.lock === "on"
    return [above, isEntered || here[0] === step ? undefined : here[0]].filter(Boolean)
  }
  // What a step waits for in its own list: a hold point for all above, every step for hold points and for its makers.
  const waitsFor = (step) => {
    const earlier = steps.slice(0, steps.indexOf(step))
    return {
      above: step.hold ? earlier.filter((one) => isWith(one, step) || (one.list === step.list && !placeOf(step))) : [],
      holds: earlier.filter((one) => isWith(one, step) && one.hold),
      makers: makersOf(step),
    }
  }
  // The ticks that rest on one: without it nobody says any more that the cell was locked out while they were done.
  const restingOn = (gone) => {
    const found = new Set([gone])
    for (const step of steps.slice(steps.indexOf(gone) + 1)) {
      if (step.list === gone.list && tickOf(step) && Object.values(waitsFor(step)).flat().some((one) => found.has(one))) found.add(step)
    }
    found.delete(gone)
    return [...found]
  }
  const held = (step) => {
    const waits = waitsFor(step)
    const above = waits.above.filter((one) => !isDone(one))
    if (above.length) {
      const many = above.length === 1 ? "1 step above is" : `${above.length} steps above are`
      warn(step, `Hold point: ${many} not done. First: ${wordsOf(above[0])}`, jump(above[0]))
      return true
    }
    const before = waits.holds.find((one) => !isDone(one))
    if (before) {
      warn(step, `Not done: the hold point above comes first: ${wordsOf(before)}`, jump(before))
      return true
    }
    const maker = waits.makers.find((one) => !isDone(one))
    if (maker) {
      warn(step, `Not done: this comes first: ${wordsOf(maker)}`, jump(maker))
      return true
    }
    if (step.list === "set-up" && !window.packetProof.isBySetUp()) {
      warn(step, "Not done: the changeover takes the place of this set-up. Follow it, or say at the top why you set up from nothing.")
      return true
    }
    const missing = [...(step.list === "prove-out" ? window.packetProof.missingToProve() : []), ...missingFor(step)]
    if (missing.length) {
      warn(step, `${step.hold ? "Hold point" : "Not done"}: ${missing.length} missing. First: ${missing[0].words}.`, leadTo(missing[0]))
      return true
    }
    return false
  }

  const tick = (step) => {
    if (held(step)) return
    const done = () => ({ list: step.list, key: step.key, digest: step.digest, done: device.now(), by: device.person() })
    const why = step.accepts
      ? setUp.change((record) => {
        record.steps = [...without(record.steps, step), done()]
        setUp.accept(record, step.accepts)
      })
      : stores[step.store].change((ticks) => [...without(ticks, step), done()])
    if (why) warn(step, "Not ticked: see the top of the page.")
    else if (step.list !== "card") window.packetNameForm(step.item, setUp.own()?.id ?? `${place} ${device.orderData?.packet_digest}`, (name) => sign(step, name))
  }
  // The tick for which the name was asked, unless it has gone meanwhile.
  const sign = (step, name) => {
    if (!tickOf(step) || tickOf(step).by) return
    stores[step.store].change((ticks) => ticks.map((one) => (one.list === step.list && one.key === step.key ? { ...one, by: name } : one)))
  }

  const untick = (step) => {
    if (!step.secondTouch) {
      const gone = step.store === "set-up" ? setUp.restsOn(step.list, step.key) : []
      const resting = restingOn(step).length
      warn(step, `Touch again to take the tick away${resting ? `, and ${resting === 1 ? "1 tick that rests" : `${resting} ticks that rest`} on it` : ""}${gone.length ? `; ${gone.join(" and ")} ${gone.length > 1 || gone[0] === "coupons" ? "are" : "is"} then to be accepted again` : ""}`)
      step.secondTouch = setTimeout(() => {
        step.secondTouch = 0
        if (over) over.hidden = true
        show(step)
      }, SECOND_TOUCH)
      return
    }
    const all = [step, ...restingOn(step)]
    for (const one of all) {
      clearTimeout(one.secondTouch)
      one.secondTouch = 0
    }
    const [gone] = step.store === "set-up" ? setUp.restsOn(step.list, step.key) : []
    stores[step.store].change((ticks) => all.reduce(without, ticks))
    if (gone) setUp.change((record) => setUp.withdraw(record, gone))
  }

  for (const step of steps) {
    step.box.addEventListener("click", (event) => {
      event.preventDefault() // what is kept decides what the box shows
      const act = isDone(step) ? untick : tick
      setTimeout(() => act(step)) // the browser puts the box back after this event
    })
  }
  document.addEventListener("packet:kept", showAll)
  for (const key of document.querySelectorAll("[data-empty]")) { // at the second touch, as for one tick
    const words = key.textContent
    key.addEventListener("click", () => {
      const isSure = Boolean(key.dataset.sure)
      if (isSure) stores[key.dataset.empty].change(() => [])
      key.textContent = isSure ? words : "Touch again: every tick goes"
      key.dataset.sure = isSure ? "" : "yes"
    })
  }
  showAll()
})()
