// How far each operation of the order is, from what this device keeps; and what is missing for the start.
window.packetStates = (() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const order = device.orderData
  if (!order) return null

  const of = (operation) => {
    const record = setUp.kept(order.slug, operation.number)
    const state = setUp.stateOf(record)
    const done = setUp.accepted(record, "first-off") ?? setUp.accepted(record, "coupons")
    const other = record && !setUp.isOf(record, order)
    const old = record && setUp.isOld(record, order.shift_hours)
    const since = done ? done.at : record && setUp.lastAct(record)
    const who = done ? done.by : record?.setter
    const words = record ? `${state}, ${device.clock(since)}${who ? ` by ${who}` : ""}` : state
    const remark = other ? `with ${record.revision ? `revision ${record.revision}` : `a ${record.status}`}, not with this one` : old ? "old: nothing noted for longer than a shift" : ""
    const isAccepted = state === "first-off accepted" && !other
    // Who set up from nothing said why; otherwise the start waits for the changeover too.
    const changeover = setUp.isFromNothing(record) ? 0 : setUp.changeoverLeft(order, operation.changeover).length
    return { state, words, remark, isAccepted, changeover, isReady: isAccepted && !changeover }
  }
  const all = () => order.operations.map((operation) => ({ operation, ...of(operation) }))
  // Operations of one cell follow each other: a further one is set up when the one before it has made its last part.
  const before = ({ cell, number }) => order.operations.filter((one) => one.cell === cell && one.number < number).at(-1)
  const missing = () => all().filter(({ operation, isReady }) => !isReady && !before(operation))
  const firsts = order.operations.filter((operation) => !before(operation)).length
  const several = firsts < order.operations.length ? `${firsts} operations that come first in their cells` : `${firsts} operations`
  const following = () => all().filter(({ operation, isReady }) => !isReady && before(operation)).map(({ operation }) => operation)

  const show = () => {
    for (const { operation, state, words, remark } of all()) {
      for (const place of document.querySelectorAll(`[data-operation-state="${operation.number}"]`)) {
        place.dataset.state = state
        place.textContent = remark ? `${words} (${remark})` : words
      }
    }
    for (const place of document.querySelectorAll("[data-start-missing]")) {
      const left = missing()
      const later = following()
      place.querySelector("[data-start-said]").textContent = left.length
        ? `Not to be started: ${left.length} of ${several} have no accepted first-off${left.some(({ changeover }) => changeover) ? ", or an unfinished changeover," : ""} on this device.`
        : later.length
          ? `The first operation of each cell has an accepted first-off on this device. ${later.map((one) => `Operation ${one.number} follows operation ${before(one).number} in cell ${one.cell}: set it up after the last part of that one.`).join(" ")}`
          : "Every operation has an accepted first-off on this device."
      for (const leads of place.querySelectorAll("[data-start-leads]")) leads.hidden = !left.length
      place.querySelector("[data-start-list]")?.replaceChildren(...left.map(({ operation, words, remark, changeover }) => {
        const line = document.createElement("li")
        const link = Object.assign(document.createElement("a"), { className: "step-leads", href: operation.page, textContent: `Operation ${operation.number}: ${operation.name}` })
        line.append(link, ` ${words}${remark ? ` (${remark})` : ""}`)
        if (changeover) {
          const many = `${changeover} of ${operation.changeover.length} steps open`
          line.append("; ", Object.assign(document.createElement("a"), { className: "step-leads", href: `changeover.html#${encodeURIComponent(`step-changeover-${operation.changeover[0].key}`)}`, textContent: `changeover of cell ${operation.cell}: ${many}` }))
        }
        return line
      }))
    }
  }
  document.addEventListener("packet:kept", show)
  show()
  const isReady = (number) => all().some((one) => one.operation.number === number && one.isReady)
  return { missing, isReady }
})()
