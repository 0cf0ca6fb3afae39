// Answers whether one printed sheet, by the text or address in its code, is in force on the reader's day.
(() => {
  const { records, today, isOld, old, whyOld, currentOn, statusOn, periodOn, revisionOf, placeOf, words } = revisionStatus
  const field = document.getElementById("check-code")
  const answer = document.getElementById("check-answer")
  // Both patterns read words with one blank between: a run of blanks they would divide at each place in turn.
  const plain = /^ORDER (.+?) (?:REV (\S+)|(DRAFT|PROPOSED))\b.*? (?:DIGEST|RECORD|PACKET) ([0-9A-F ]+?)(?: SHEET (\S+))?$/i

  // The same without the words, as a hurried person types it from the foot: LK-2041 B 3cfa 1508 5219.
  const bare = /^(\S+) ([A-Z]{1,3}) ([0-9A-F]{4,12}(?: [0-9A-F]{1,12}){0,15})$/i
  const LONGEST = 400 // no code holds more, and a longer text would keep the patterns busy

  const read = (text) => {
    if (text.length > LONGEST) return null
    const fragment = text.includes("#") ? text.slice(text.indexOf("#") + 1) : ""
    if (fragment) {
      const code = new URLSearchParams(fragment)
      return { order: code.get("order"), mark: code.get("rev"), digest: code.get("digest"), sheet: code.get("sheet") }
    }
    const said = text.replace(/[\s·,]+/g, " ").trim()
    const found = plain.exec(said)
    if (found) return { order: found[1], mark: found[2] ?? "", digest: found[4].replace(/ /g, ""), sheet: found[5] ?? "" }
    const typed = bare.exec(said)
    return typed && { order: typed[1], mark: typed[2], digest: typed[3].replace(/ /g, ""), sheet: "" }
  }

  // The page of a sheet. An older program may have printed a page of an operation that it has no more: its card is meant.
  const pageOf = (revision, code) => {
    const sheet = code?.sheet?.toLowerCase() ?? ""
    const known = revision.sheets.filter((name) => sheet === name || sheet.startsWith(`${name}-`))
    return known.length ? `${known.reduce((one, other) => (other.length > one.length ? other : one))}.html` : ""
  }

  const judge = (code) => {
    if (!code?.order || !code.digest) return ["bad", "Not readable", "This is not the code of a printed sheet. Scan again, or type order, revision and record from its head."]
    if (code.order.toUpperCase() !== records.order.toUpperCase()) {
      return ["bad", "Another order", `This sheet belongs to order ${code.order}; these pages are those of order ${records.order}. Check it there.`]
    }
    if (!code.mark) return ["bad", "Draft", "A draft is never in force. Do not make parts from this sheet."]
    const revision = revisionOf(code.mark.toUpperCase())
    if (!revision) return ["bad", "Unknown revision", `Revision ${code.mark} is not known here. These pages were built on ${records.built}: build them again, or call the approver of the sheet. Until then do not use it.`]
    if (code.digest.length < 12 || !revision.digest.startsWith(code.digest.toLowerCase())) {
      return ["bad", "Not that revision", `The record of revision ${revision.mark} has another digest. This sheet was not printed from it. Do not use it.`]
    }
    if (code.sheet && !pageOf(revision, code)) return ["bad", "No such sheet", `Revision ${revision.mark} has no sheet of that name. Do not use it.`]
    return verdict(revision, code)
  }

  const verdict = (revision, code) => {
    const status = statusOn(revision.mark, today())
    const name = `${code.sheet ? `Sheet ${code.sheet.toLowerCase()}` : "Any sheet"} of order ${records.order}, revision ${revision.mark}`
    if (status[0] !== "in force") {
      const why = status[0] === "withdrawn" ? ` Why: ${revision.reason.replace(/\.$/, "")}.` : ""
      const when = status[0] === "not yet in force" ? ` It takes effect from ${revision.effective}.` : ""
      return ["bad", words(status), `${name} must not be used.${when}${why}`]
    }
    if (isOld()) return ["bad", old, `${name} was in force then. ${whyOld} Until they answer, do not use the sheet.`]
    const covers = periodOn(today()).inForce.find((one) => one.mark === revision.mark)?.covers
    return ["good", "In force", `${name}, effective from ${revision.effective}, approved by ${revision.approver}.${covers ? ` Only for parts ${covers}.` : ""}`]
  }

  const show = (text) => {
    const code = read(text)
    const [good, word, said] = judge(code)
    const head = Object.assign(document.createElement("strong"), { className: "verdict", textContent: word })
    const body = Object.assign(document.createElement("p"), { textContent: said })
    answer.dataset.verdict = good
    answer.replaceChildren(head, body)
    const revision = revisionOf(currentOn(today())?.mark)
    if (good === "bad" && revision) {
      const link = Object.assign(document.createElement("a"), { className: "key", href: placeOf(revision, pageOf(revision, code) || "index.html"), textContent: `Open revision ${revision.mark}, in force` })
      answer.append(link)
    }
    const basis = `Answered for ${today()}, a day of ${records.zone}, from records known when these pages were built, ${records.built} (register ${records.register}). A record made later is not known here.`
    document.getElementById("check-basis").textContent = basis
  }

  document.getElementById("check-form").addEventListener("submit", (event) => {
    event.preventDefault()
    show(field.value)
    field.select()
  })
  const decoded = (text) => {
    try {
      return decodeURIComponent(text)
    } catch {
      return text // not an address that a page of ours made: it is answered as it is
    }
  }
  const fromAddress = () => {
    if (location.hash.startsWith("#said=")) show(field.value = decoded(location.hash.slice(6)))
    else if (location.hash.includes("order=")) show(location.hash)
  }
  window.addEventListener("hashchange", fromAddress)
  fromAddress()
})()
