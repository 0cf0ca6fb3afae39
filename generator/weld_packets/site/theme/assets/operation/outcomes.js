// What each robot showed, beside the settings of the card: the entry and its verdict, in a word where it is not equal.
(() => {
  const setUp = window.packetSetUp
  const proof = window.packetProof
  const cells = [...document.querySelectorAll("[data-outcome-value]")]
  // What was entered opens its pad again; an empty cell is no link that a glove could hit.
  const link = (text, place) => Object.assign(document.createElement("a"), { textContent: text, href: `operation-${window.packetDevice.form.operation}-read-back.html#${place}` })
  const show = () => {
    const record = setUp.own()
    const beside = proof.together(record).filter((one) => one.said)
    for (const cell of cells) {
      const { outcomeValue, outcomeRobot } = cell.dataset
      const found = proof.lastReading(record, { key: outcomeValue }, outcomeRobot)
      const isGood = ["equal", "in range"].includes(found?.verdict)
      const conflict = isGood && beside.find((one) => one.robot === outcomeRobot && [one.value.key, one.other.key].includes(outcomeValue))
      const words = found && `${found.number} ${conflict ? "not together" : found.verdict === "equal" ? "=" : found.verdict}`
      cell.replaceChildren(...(found ? [link(words, `value=${encodeURIComponent(outcomeValue)}&robot=${encodeURIComponent(outcomeRobot)}`)] : []))
      if (found) cell.dataset.verdict = conflict ? conflict.verdict : found.verdict
      else delete cell.dataset.verdict
    }
    for (const cell of document.querySelectorAll("[data-outcome-number]")) {
      const { outcomeNumber, outcomeRobot } = cell.dataset
      const found = proof.lastNumber(record, { what: "program", number: outcomeNumber, robot: outcomeRobot })
      cell.textContent = found ? (found.verdict === "match" ? "=" : `${found.entered} does not match`) : ""
    }
  }
  // How far the tasks and entries are that an item of the last check looks at; it is ticked by somebody who looked.
  const showItems = () => {
    for (const place of document.querySelectorAll("[data-killer-state]")) {
      const tasks = place.dataset.tasks.split(" ").filter(Boolean)
      const { all, done } = proof.evidenceOf(place.dataset.killerState, tasks)
      place.textContent = all ? `${done} of ${all} ${tasks.length ? "done" : "read"}` : ""
    }
  }
  document.addEventListener("packet:kept", showItems)
  showItems()
  document.addEventListener("packet:kept", show)
  show()
})()
