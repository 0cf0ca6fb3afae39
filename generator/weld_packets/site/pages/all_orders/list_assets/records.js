// Register and instruments: every word typed must be in a line. Of the register a day may be chosen besides, on which a
// record must have been in force. Tables: a chosen one alone.
const field = document.getElementById("filter")
if (field) {
  const day = document.getElementById("day")
  const records = [...document.querySelectorAll(".order")].map((item) => ({
    item,
    text: spelled(item.textContent),
    times: (item.dataset.inForce ?? "").split(" ").filter(Boolean).map((days) => days.split("/")),
  }))
  const inForce = ({ times }) => !day?.value || times.some(([first, last]) => first <= day.value && (last === "" || day.value <= last))
  const narrow = () => {
    const words = wordsIn(field.value)
    for (const record of records) {
      record.item.hidden = !words.every((word) => record.text.includes(word)) || !inForce(record)
    }
    said(records.filter(({ item }) => !item.hidden).length, records.length)
  }
  field.addEventListener("input", narrow)
  day?.addEventListener("input", narrow)
  narrow()
}

const choice = document.getElementById("choose")
if (choice) {
  const uses = [...document.querySelectorAll(".use")]
  const choose = () => {
    for (const use of uses) {
      use.hidden = choice.value !== "" && use.id !== choice.value
      use.open = use.id === choice.value
    }
    said(uses.filter((use) => !use.hidden).length, uses.length)
  }
  const linked = uses.find((use) => `#${use.id}` === location.hash || `#${encodeURIComponent(use.id)}` === location.hash)
  if (linked) choice.value = linked.id
  choice.addEventListener("input", choose)
  choose()
}
