// The set-up of an operation that this device keeps: begun, taken over, set aside; and how far it has come.
window.packetSetUp = (() => {
  const device = window.packetDevice
  const DONE = ["coupons", "first-off"]
  const keyOf = (slug, number) => `packet/set-up/${slug}/${number}`
  const ASIDE = "packet/set-ups"

  // What every script may ask of a set-up that is kept; older ones have no list of what was replaced.
  const entries = [{ at: "", by: "" }]
  const SET_UP = {
    id: "", slug: "", begun: "", status_reason: "", record_digest: "", packet_digest: "", serials: { from: "", to: "" },
    steps: [{ list: "", key: "", done: "" }], readings: entries, numbers: entries, results: entries, deviations: entries,
    accepted: [{ what: "", at: "" }], lots: [{}], counters: [{}], instruments: [{}],
  }
  const kept = (slug, number) => device.read(keyOf(slug, number), SET_UP)
  const own = () => device.form && kept(device.form.slug, device.form.operation)

  const lastAct = (record) => {
    const lists = ["readings", "numbers", "results", "accepted", "deviations"]
    const times = [record.begun, ...record.steps.map((one) => one.done), ...lists.flatMap((list) => record[list].map((one) => one.at))]
    return times.reduce((last, time) => (Date.parse(time) > Date.parse(last) ? time : last))
  }
  const accepted = (record, what) => record?.accepted.find((one) => one.what === what)
  const isOld = (record, hours) => Boolean(hours) && !accepted(record, "first-off") && device.hoursSince(lastAct(record)) > Number(hours)
  // A draft has no record: what it says is known by the digest of its packet.
  const isOf = (record, page) => record.record_digest === page.record_digest && record.packet_digest === page.packet_digest

  const stateOf = (record) => {
    if (!record) return "not begun"
    const found = DONE.filter((what) => accepted(record, what)).pop()
    return found ? `${found} accepted` : "being set"
  }

  const FAILED = ["low", "high", "implausible", "mismatch", "not accepted"]
  const hasFailed = (entry) => FAILED.includes(entry.verdict)
  const noneReplaced = () => ({ readings: [], numbers: [], results: [] })
  const fresh = (reason) => {
    const form = device.form
    return {
      form: "set-up record", version: 1, id: device.newId(),
      order: form.order, slug: form.slug, revision: form.revision, status: device.status(form.status), status_reason: reason,
      record_digest: form.record_digest, packet_digest: form.packet_digest,
      operation: form.operation, operation_name: form.operation_name, cell: form.cell,
      begun: device.now(), finished: "", setter: device.person(),
      steps: [], readings: [], numbers: [], results: [], accepted: [], lots: [], counters: [], instruments: [],
      serials: { from: "", to: "" }, deviations: [], replaced: noneReplaced(),
    }
  }

  // Why the person cannot go on with what is kept, as a word that the page has a text for; empty where they can.
  const hindrance = () => {
    const record = own()
    const form = device.form
    if (record && !isOf(record, form)) return "revision"
    // A revision can go out of force in the middle of a set-up.
    if (device.status(form.status) !== "in force" && !record?.status_reason) return "status"
    if (!record) return ""
    if (isOld(record, form.shift_hours)) return "old"
    return ""
  }

  // Values that limit each other are judged with every change, so that the record never says less than it holds.
  const save = (record) => {
    const judged = isOf(record, device.form) && device.form.limits.length ? { together: window.packetProof.togetherKept(record) } : {}
    // The changeover of the cell is ticked on its own page before a set-up is begun; what was done is part of the record.
    const { changeover: kept = [], ...rest } = record
    const changeover = isOf(record, device.form) ? changeoverDone(device.form, device.form.changeover).map(({ key, digest, done, by }) => ({ key, digest, done, by })) : kept
    device.write(keyOf(record.slug, record.operation), { ...rest, ...judged, ...(changeover.length && { changeover }) })
  }

  const setAside = () => {
    const record = own()
    if (!record) return
    device.write(ASIDE, [...aside().filter((one) => one.id !== record.id), record])
    device.remove(keyOf(record.slug, record.operation))
  }
  // Why one goes on from a revision that is not in force; the first act with it begins the set-up.
  const giveReason = (reason) => save({ ...(own() ?? fresh("")), status: device.status(device.form.status), status_reason: reason })
  // One change of the kept record; a first act begins it. Returns why nothing was changed, empty when it was.
  const change = (act) => {
    const why = hindrance()
    if (why) {
      document.dispatchEvent(new CustomEvent("packet:hindered", { detail: why }))
      return why
    }
    const record = own() ?? fresh("")
    if (!record.setter) record.setter = device.person()
    act(record)
    save(record)
    return ""
  }

  // An entry takes the place of one of the same, which stays in the record with its time and name.
  const enter = (record, kind, entry, same) => {
    record.replaced ??= noneReplaced()
    record.replaced[kind].push(...record[kind].filter(same))
    record[kind] = [...record[kind].filter((one) => !same(one)), entry]
  }
  const deviate = (record, what, reason) => record.deviations.push({ what, reason, at: device.now(), by: device.person() })

  // What is accepted with a hold point is accepted by its tick, and no more when that goes.
  const accept = (record, what) => {
    record.accepted = [...record.accepted.filter((one) => one.what !== what), { what, at: device.now(), by: device.person() }]
    if (what === "first-off") record.finished = device.now()
  }
  const withdraw = (record, what) => {
    const gone = what === "coupons" ? DONE : [what]
    const holds = device.form.steps.filter((step) => gone.includes(step.accepts))
    record.accepted = record.accepted.filter((one) => !gone.includes(one.what))
    record.steps = record.steps.filter((one) => !holds.some((step) => step.list === one.list && step.key === one.key))
    record.finished = ""
  }

  // What is accepted after a step of a list; it was accepted on that step too.
  const restsOn = (list, key) => {
    const steps = device.form.steps
    const at = steps.findIndex((step) => step.list === list && step.key === key)
    return steps.slice(at).filter((step) => step.accepts && accepted(own(), step.accepts)).map((step) => step.accepts)
  }

  // What of the changeover of an operation's cell is not ticked on its page; it takes the place of the set-up.
  const changeoverDone = (page, tasks) => {
    const kept = device.read(`packet/ticks/${page.slug}/changeover.html`, device.TICKS)
    const ticks = kept?.owner === page.packet_digest ? kept.ticks : []
    return ticks.filter((one) => one.list === "changeover" && tasks.some((task) => one.key === task.key && one.digest === task.digest))
  }
  const changeoverLeft = (page, tasks) => {
    const done = changeoverDone(page, tasks)
    return tasks.filter((task) => !done.some((one) => one.key === task.key))
  }
  const FROM_NOTHING = "set up from nothing, not by the changeover"
  const isFromNothing = (record) => Boolean(record?.deviations.some((one) => one.what === FROM_NOTHING))
  const setUpFromNothing = (reason) => change((record) => deviate(record, FROM_NOTHING, reason))

  const confirmOld = () => {
    const record = own()
    deviate(record, `set-up left since ${lastAct(record)} taken over unchanged`, "confirmed on the machine")
    save(record)
  }
  // What the new revision left as it was stays; what it changed is to be done, read and accepted again.
  const takeOver = (staysRead, staysProved, reason) => {
    const record = own()
    const form = device.form
    const equal = (step) => form.steps.some((one) => one.list === step.list && one.key === step.key && one.digest === step.digest)
    const former = record.revision ? `revision ${record.revision}` : `a ${record.status}`
    deviate(record, `begun with ${former}, packet ${record.packet_digest.slice(0, 12)}`, reason)
    const stays = {
      readings: staysRead, results: staysProved,
      numbers: (one) => form.numbers.some((other) => other.robot === one.robot && other.what === one.what && other.number === one.asked),
    }
    const replaced = record.replaced ?? noneReplaced()
    // A failure that this revision cannot judge anew stays in words.
    for (const [kind, isKept] of Object.entries(stays)) {
      for (const one of [...replaced[kind], ...record[kind]].filter((entry) => hasFailed(entry) && !isKept(entry))) {
        const of = [one.value ?? one.result ?? `${one.what} ${one.asked}`, one.robot].filter(Boolean).join(", ")
        deviate(record, `${of}: ${one.entered} ${one.verdict}, ${one.at}${one.by ? `, ${one.by}` : ""}`.slice(0, 300), `judged by ${former}`)
      }
    }
    Object.assign(record, {
      revision: form.revision, status: device.status(form.status),
      status_reason: device.status(form.status) === "in force" ? "" : reason,
      record_digest: form.record_digest, packet_digest: form.packet_digest, finished: "", accepted: [],
      steps: record.steps.filter((step) => equal(step) && !form.steps.some((one) => one.accepts && one.list === step.list && one.key === step.key)),
      ...Object.fromEntries(Object.entries(stays).map(([kind, isKept]) => [kind, record[kind].filter(isKept)])),
      replaced: Object.fromEntries(Object.entries(stays).map(([kind, isKept]) => [kind, replaced[kind].filter(isKept)])),
    })
    save(record)
  }

  const aside = () => device.read(ASIDE, [SET_UP]) ?? []
  const removeAside = (id) => device.write(ASIDE, aside().filter((one) => one.id !== id))

  return { kept, own, stateOf, accepted, isOld, isOf, lastAct, hindrance, giveReason, setAside, change, deviate, confirmOld, takeOver, accept, withdraw, enter, hasFailed, changeoverLeft, isFromNothing, setUpFromNothing, restsOn, aside, removeAside }
})()
