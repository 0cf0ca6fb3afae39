// Answers what was in force on a date, from the data of the records alone.
(() => {
  const { records, today, isOld, whyOld, periodOn, revisionOf, placeOf } = revisionStatus
  const field = document.getElementById("as-of")
  const answer = document.getElementById("as-of-answer")

  const line = (...parts) => {
    const found = document.createElement("p")
    found.append(...parts)
    return found
  }
  const strong = (text) => Object.assign(document.createElement("strong"), { textContent: text })
  const link = (mark) => Object.assign(document.createElement("a"), {
    href: placeOf(revisionOf(mark)), textContent: `Open revision ${mark}`,
  })

  const show = () => {
    const day = field.value
    if (!day) {
      answer.replaceChildren(line("Choose a date."))
      return
    }
    const period = periodOn(day)
    const found = period?.inForce ?? []
    const lines = found.map((one) => line(
      `On ${day}: `, strong(`revision ${one.mark}`), one.covers ? ` (parts ${one.covers})` : "",
      ` in force since ${one.since}, approved by ${one.approver}. `, link(one.mark),
    ))
    const turned = period?.since === day && period.turned ? ` from ${period.turned}` : ""
    if (!found.length) lines.push(line(`On ${day}: `, strong("no revision in force"), turned))
    if (period?.since === day && period.earlier.length) {
      lines.push(line(`For a part of that day: ${period.earlier.join(", ")}`))
    }
    if (day > records.built) lines.push(line(`As far as was recorded on ${records.built}, when these pages were built.`))
    if (day > records.built && isOld()) lines.push(line(strong(whyOld)))
    answer.replaceChildren(...lines)
    answer.dataset.verdict = found.length ? "good" : "bad"
  }

  document.getElementById("as-of-form").addEventListener("submit", (event) => event.preventDefault())
  field.addEventListener("input", show)
  field.value = today()
  show()
})()
