// The qualification of the person who sets up: named by its number, and judged by the day of the plant.
(() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const form = document.querySelector("form[data-qualified]")
  if (!form) return
  const said = document.querySelector("[data-qualified-said]")
  const options = [...form.elements.number.options]
  const today = device.now().slice(0, 10)
  const ended = (until) => until < today

  for (const option of options) {
    if (ended(option.dataset.until)) option.textContent += ": EXPIRED"
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault()
    const { until } = form.elements.number.selectedOptions[0].dataset
    setUp.change((record) => {
      record.qualification = { number: form.elements.number.value, valid_until: until, at: device.now(), by: device.person() }
    })
  })
  const show = () => {
    const named = setUp.own()?.qualification
    said.textContent = named ? `Named: ${named.number}, ${ended(named.valid_until) ? `EXPIRED on ${named.valid_until}. Call ${form.dataset.call}` : `valid until ${named.valid_until}`}.` : "No qualification is named."
    if (named) said.dataset.verdict = ended(named.valid_until) ? "not accepted" : "accepted"
    else delete said.dataset.verdict
  }
  document.addEventListener("packet:kept", show)
  show()
})()
