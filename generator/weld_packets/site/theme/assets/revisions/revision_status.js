// A page that was left open must not call a revision in force after its time: the day at the plant decides.
const revisionStatus = (() => {
  const records = window.packetRecords

  // The day cannot lie before the day on which the pages were built, whatever a device's clock says.
  const today = () => {
    const shown = new Intl.DateTimeFormat("en", { timeZone: records.zone, year: "numeric", month: "2-digit", day: "2-digit" })
    const { year, month, day: number } = Object.fromEntries(shown.formatToParts(new Date()).map((part) => [part.type, part.value]))
    const day = `${year}-${month}-${number}`
    return day < records.built ? records.built : day
  }
  const periodOn = (day) => records.periods.filter((period) => period.since <= day).pop()
  const revisionOf = (mark) => records.revisions.find((revision) => revision.mark === mark)
  const currentOn = (day) => periodOn(day)?.inForce[0]
  const statusOn = (mark, day) => periodOn(day)?.status[mark] ?? ["not yet in force", ""]
  const placeOf = (revision, page = "index.html") => (revision.folder ? `${revision.folder}/${page}` : page)
  // Pages know the records up to the day on which they were built. After the plant's limit they answer for nothing.
  const isOld = () => (Date.parse(today()) - Date.parse(records.built)) / 864e5 > records.goodDays
  const old = `Not confirmed since ${records.built}`
  const whyOld = `These pages know the records up to ${records.built}, more than ${records.goodDays} days ago. Ask for today's pages.`
  const words = ([status, by]) => (by ? `${status} by ${by}` : status)

  return { records, today, isOld, old, whyOld, periodOn, revisionOf, currentOn, statusOn, placeOf, words }
})()

;(() => {
  const stamp = document.querySelector(".stamp")
  const { records, today, isOld, old, whyOld, statusOn, currentOn, revisionOf, placeOf, words } = revisionStatus
  const day = today()
  const own = stamp.dataset.revision
  const current = currentOn(day)
  const home = records.revisions.some((one) => one.folder && location.pathname.includes(`/${one.folder}/`)) ? "../" : ""

  const show = (status, text) => {
    document.querySelector(".md-banner")?.remove()
    const banner = document.createElement("p")
    banner.className = "banner late"
    banner.role = "alert"
    const word = document.createElement("strong")
    word.textContent = status.toUpperCase()
    banner.append(word, ` ${text} `)
    const found = current && revisionOf(current.mark)
    if (found && current.mark !== own) {
      const link = document.createElement("a")
      link.href = home + placeOf(found)
      link.textContent = `Open revision ${current.mark}`
      banner.append(link)
    }
    stamp.before(banner)
  }

  const lapse = (status, sheet = "NO LONGER IN FORCE") => {
    stamp.dataset.status = status[0]
    stamp.querySelector(".stamp-status").textContent = status[0]
    const mark = document.querySelector(".watermark") ?? document.createElement("div")
    mark.className = "watermark"
    mark.textContent = status[0].toUpperCase()
    stamp.after(mark)
    const runEnds = document.getElementById("run-ends")
    if (runEnds && status[0] !== "not confirmed") runEnds.open = true
    for (const said of document.querySelectorAll(".sheet-status")) said.textContent = sheet
    for (const worth of document.querySelectorAll(".sheet-worth")) worth.textContent = "Do not work from this sheet."
  }

  const said = stamp.dataset.status
  if (said === "in force" && own) {
    const status = statusOn(own, day)
    if (status[0] !== "in force") {
      lapse(status)
      show(words(status), `since these pages were built on ${records.built}. Do not work from this page.`)
    } else if (isOld()) {
      lapse(["not confirmed", ""], old.toUpperCase())
      show("Not confirmed", `${whyOld} Do not work from this page.`)
    }
  } else if (said === "not yet in force" && statusOn(own, day)[0] === "in force") {
    show("In force by date", `but these pages were built before, on ${records.built}. Have the site built again.`)
  } else if (said === "no revision in force" && current) {
    show("In force by date", `is revision ${current.mark}. These pages were built before, on ${records.built}.`)
  }
})()
