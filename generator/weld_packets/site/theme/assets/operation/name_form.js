// Whose tick it is, asked once at the first that has no name, under the step: the tick counts whether or not anybody answers.
window.packetNameForm = (() => {
  const device = window.packetDevice
  const SHOWN_FOR = "packet/name-form"
  let open = null

  const close = () => {
    open?.remove()
    open = null
  }
  // `owner` is the set-up or the list that is ticked: another one asks anew. `put` gets the name for the tick just made.
  const show = (item, owner, put) => {
    if (device.person() || device.read(SHOWN_FOR, "") === owner) return
    device.write(SHOWN_FOR, owner)
    close()
    const made = (tag, more, ...parts) => {
      const element = Object.assign(document.createElement(tag), more)
      element.append(...parts)
      return element
    }
    const name = made("input", { name: "name", autocomplete: "off", maxLength: 60 })
    name.setAttribute("autocapitalize", "words")
    const not = made("button", { type: "button", className: "key key-quiet" }, "Not now")
    const form = made("form", {},
      made("label", {}, "Your name", made("small", {}, "the tick counts without it"), name),
      made("button", { type: "submit", className: "key" }, "Keep the name"), not)
    open = made("li", { className: "device-line name-form no-print" }, form)
    form.addEventListener("submit", (event) => {
      event.preventDefault()
      const said = name.value.trim()
      close()
      if (!said) return
      device.setPerson(said)
      put(said)
    })
    not.addEventListener("click", close)
    item.after(open)
  }
  document.addEventListener("packet:kept", () => { if (device.person()) close() })
  return show
})()
