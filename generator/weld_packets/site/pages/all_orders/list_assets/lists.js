// What all pages over the orders share. Their scripts are loaded after this one.
const said = (shown, all) => { document.getElementById("found").textContent = `${shown} of ${all}` }

// 1,2 is 1.2 and galvanized is galvanised; CO₂ is CO2.
const spelled = (text) => text.normalize("NFKC").toLowerCase().replace(/(\d),(?=\d)/g, "$1.").replace(/iz(?=e|ing|ation)/g, "is")
const wordsIn = (text) => spelled(text).split(/\s+/).filter(Boolean)

// A status that was due to change on a day that has passed is not shown as if it still held.
const today = new Map()
const dayIn = (timeZone) => {
  if (!today.has(timeZone)) {
    const shown = new Intl.DateTimeFormat("en", { timeZone, year: "numeric", month: "2-digit", day: "2-digit" })
    const { year, month, day } = Object.fromEntries(shown.formatToParts(new Date()).map((part) => [part.type, part.value]))
    today.set(timeZone, `${year}-${month}-${day}`)
  }
  return today.get(timeZone)
}
// Somewhere it is the day that it was 12 hours ago, somewhere that of 14 hours on. What is past or to come on both needs
// no time zone: to ask for the first one takes a browser longer than all else that a list does before it is there.
const dayAfter = (hours) => new Date(Date.now() + hours * 3_600_000).toISOString().slice(0, 10)
const [earliest, latest] = [dayAfter(-12), dayAfter(14)]
const isPast = (until, zone) => until < latest && (until < earliest || until < dayIn(zone))
const sayLate = (place, until, zone) => {
  if (!isPast(until, zone)) return
  const mark = place.querySelector(".mark-in-force")
  if (mark) Object.assign(mark, { className: "mark", textContent: "not confirmed" })
  const late = document.createElement("p")
  late.className = "late"
  late.textContent = `What is in force may have changed after ${until}. Ask for today's pages.`
  ;(place.querySelector("a, main") ?? place).prepend(late)
}
for (const place of document.querySelectorAll("[data-until]")) sayLate(place, place.dataset.until, place.dataset.zone)
