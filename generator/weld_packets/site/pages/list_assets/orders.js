// Every word typed must be in an entry; a chosen table shows its own entries only.
const said = (shown, all) => { document.getElementById("found").textContent = `${shown} of ${all}` }

// 1,2 is 1.2 and galvanized is galvanised; CO₂ is CO2.
const spelled = (text) => text.normalize("NFKC").toLowerCase().replace(/(\d),(?=\d)/g, "$1.").replace(/iz(?=e|ing|ation)/g, "is")

const field = document.getElementById("filter")
if (field) {
  const orders = [...document.querySelectorAll(".order")].map((item) => {
    const words = spelled(item.dataset.words ?? "")
    // Part of an order's number is enough; a value or the number of a weld schedule is meant as a whole.
    return { item, text: spelled(item.textContent), words, numbers: new Set(words.match(/\d+(?:\.\d+)?/g)) }
  })
  const has = ({ text, words, numbers }, word) => (
    text.includes(word) || (/^\d+(\.\d+)?$/.test(word) ? numbers.has(word) : words.includes(word)))
  const narrow = () => {
    const words = spelled(field.value).split(/\s+/).filter(Boolean)
    let shown = 0
    for (const order of orders) {
      const { item } = order
      item.hidden = !words.every((word) => has(order, word))
      shown += item.hidden ? 0 : 1
    }
    said(shown, orders.length)
  }
  // The words of a printed sheet's code, scanned into the field, are answered by the order that they name.
  const asked = () => /^\s*ORDER\s+(.+?)\s+(?:REV\s|DRAFT\s)/i.exec(field.value)?.[1].toUpperCase()
  field.addEventListener("keydown", (event) => {
    const order = event.key === "Enter" && asked()
    const found = order && orders.find(({ item }) => item.querySelector("strong")?.textContent.toUpperCase() === order)
    const check = found?.item.dataset.check
    if (check) location.href = `${check}#said=${encodeURIComponent(field.value)}`
  })
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

// A status that was due to change on a day that has passed is not shown as if it still held.
const dayIn = (timeZone) => {
  const shown = new Intl.DateTimeFormat("en", { timeZone, year: "numeric", month: "2-digit", day: "2-digit" })
  const { year, month, day } = Object.fromEntries(shown.formatToParts(new Date()).map((part) => [part.type, part.value]))
  return `${year}-${month}-${day}`
}
for (const place of document.querySelectorAll("[data-until]")) {
  if (place.dataset.until >= dayIn(place.dataset.zone)) continue
  const late = document.createElement("p")
  late.className = "late"
  late.textContent = `A status has changed since this page was built (after ${place.dataset.until}). Open the order, or have the pages built again.`
  ;(place.querySelector("a, main") ?? place).prepend(late)
}
