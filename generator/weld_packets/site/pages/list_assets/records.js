// Register and tables: every word typed must be in a record; a chosen table shows its own readers only.
const field = document.getElementById("filter")
if (field) {
  const records = [...document.querySelectorAll(".order")].map((item) => ({ item, text: spelled(item.textContent) }))
  const narrow = () => {
    const words = wordsIn(field.value)
    for (const { item, text } of records) item.hidden = !words.every((word) => text.includes(word))
    said(records.filter(({ item }) => !item.hidden).length, records.length)
  }
  field.addEventListener("input", narrow)
  narrow()
}

const choice = document.getElementById("choose")
if (choice) {
  const uses = [...document.querySelectorAll(".use")]
  const choose = () => {
    for (const use of uses) use.hidden = choice.value !== "" && use.id !== choice.value
    said(uses.filter((use) => !use.hidden).length, uses.length)
  }
  const asked = decodeURIComponent(location.hash.slice(1))
  if (uses.some((use) => use.id === asked)) choice.value = asked
  choice.addEventListener("input", choose)
  choose()
}
