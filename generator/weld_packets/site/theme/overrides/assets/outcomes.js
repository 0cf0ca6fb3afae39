// What each robot showed, beside the settings of the card: the entry and its verdict, in a word where it is not equal.
(() => {
  const setUp = window.packetSetUp
  const cells = [...document.querySelectorAll("[data-outcome-value]")]
  const show = () => {
    const record = setUp.own()
    for (const cell of cells) {
      const { outcomeValue, outcomeRobot } = cell.dataset
      const found = record?.readings.filter((one) => one.value === outcomeValue && one.robot === outcomeRobot).pop()
      cell.textContent = found ? `${found.number} ${found.verdict === "equal" ? "=" : found.verdict}` : ""
      if (found) cell.dataset.verdict = found.verdict
      else delete cell.dataset.verdict
    }
    for (const cell of document.querySelectorAll("[data-outcome-number]")) {
      const { outcomeNumber, outcomeRobot } = cell.dataset
      const found = record?.numbers.filter((one) => one.asked === outcomeNumber && one.robot === outcomeRobot).pop()
      cell.textContent = found ? `${found.entered} ${found.verdict === "match" ? "=" : "does not match"}` : ""
    }
  }
  document.addEventListener("packet:kept", show)
  show()
})()
