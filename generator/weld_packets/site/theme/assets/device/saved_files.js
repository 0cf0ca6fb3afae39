// Files that a person saves from a page: nothing else leaves the device.
window.packetFiles = (() => {
  // A spreadsheet program takes what begins with one of these for a formula, unless it is a number; what people type in
  // free words is opened there by others.
  const inert = (text) => (/^[=+\-@\t\r]/.test(text) && !/^[+-]?\d+(\.\d+)?$/.test(text) ? `'${text}` : text)
  const cell = (text) => `"${inert(String(text)).replaceAll('"', '""')}"`
  const csv = (lines) => `${lines.map((line) => line.map(cell).join(",")).join("\r\n")}\r\n`
  const json = (record) => `${JSON.stringify(record, null, 1)}\n`
  const TYPES = { json: "application/json", csv: "text/csv" }

  const save = (stem, kind, text) => {
    const address = URL.createObjectURL(new Blob([text], { type: TYPES[kind] }))
    const name = `${stem}.${kind}`
    Object.assign(document.createElement("a"), { href: address, download: name }).click()
    setTimeout(() => URL.revokeObjectURL(address), 60000)
    return `Saved as ${name} in the browser's folder of downloads.`
  }
  const key = (line, words, act) => {
    const button = Object.assign(document.createElement("button"), { type: "button", className: "key", textContent: words })
    button.addEventListener("click", () => act(button))
    line.append(button, " ")
  }
  // What was set aside on this device, each with the keys that save it, and remove it at the second touch.
  const shelf = (list, records, { words, write, remove }) => {
    list.replaceChildren(...records.map((record) => {
      const line = document.createElement("li")
      line.append(`${words(record)} `)
      key(line, "Save JSON", () => write(record, "json"))
      key(line, "Save CSV", () => write(record, "csv"))
      key(line, "Remove", (button) => {
        if (button.dataset.sure) remove(record.id)
        button.dataset.sure = "yes"
        button.textContent = "Touch again: it is then gone"
      })
      return line
    }))
  }
  return { csv, json, save, shelf }
})()
