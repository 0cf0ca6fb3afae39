// What this device keeps of set-ups and runs. Every other script reads and writes through here, and reads anew before
// it writes: another tab of the same browser may have written in between.
window.packetDevice = (() => {
  const memory = new Map()
  let keeps = true
  try {
    localStorage.setItem("packet/trial", "1")
    localStorage.removeItem("packet/trial")
  } catch {
    keeps = false
  }

  const sayNotKept = () => {
    for (const place of document.querySelectorAll("[data-device-none]")) place.hidden = false
  }
  const raw = (key) => (keeps ? localStorage.getItem(key) : (memory.get(key) ?? null))

  const read = (key) => {
    const text = raw(key)
    if (text === null) return null
    try {
      return JSON.parse(text)
    } catch { // not written by these pages: kept beside, so that nobody's work is lost without a trace
      put(`${key}/unreadable`, text)
      remove(key)
      return null
    }
  }

  const put = (key, text) => {
    if (keeps) {
      try {
        localStorage.setItem(key, text)
        return
      } catch { // full: from here on the page's own memory, and the page says so
        keeps = false
        for (let at = 0; at < localStorage.length; at += 1) memory.set(localStorage.key(at), localStorage.getItem(localStorage.key(at)))
        sayNotKept()
      }
    }
    memory.set(key, text)
  }
  const remove = (key) => {
    memory.delete(key)
    if (keeps) localStorage.removeItem(key)
  }
  const announce = () => document.dispatchEvent(new CustomEvent("packet:kept"))
  const write = (key, value) => {
    put(key, JSON.stringify(value))
    announce()
  }
  window.addEventListener("storage", (event) => {
    if (event.key === null || event.key.startsWith("packet/")) announce()
  })

  const two = (number) => String(number).padStart(2, "0")
  const stamp = (day) => {
    const away = -day.getTimezoneOffset()
    const offset = `${away < 0 ? "-" : "+"}${two(Math.floor(Math.abs(away) / 60))}:${two(Math.abs(away) % 60)}`
    const date = `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`
    return `${date}T${two(day.getHours())}:${two(day.getMinutes())}:${two(day.getSeconds())}${offset}`
  }
  // The words of a time as the person's clock showed it, whatever the device's offset is today.
  const clock = (time) => {
    const today = stamp(new Date()).slice(0, 10)
    return time.slice(0, 10) === today ? time.slice(11, 16) : `${time.slice(0, 10)} ${time.slice(11, 16)}`
  }
  const hoursSince = (time) => (Date.now() - Date.parse(time)) / 3.6e6

  const person = () => read("packet/person") ?? ""
  const setPerson = (name) => write("packet/person", name.trim())

  const data = (id) => {
    const block = document.getElementById(id)
    return block ? JSON.parse(block.textContent) : null
  }
  // A page that was left open past its time says so in its stamp, which another script keeps up to date.
  const status = (said) => document.querySelector(".stamp")?.dataset.status || said
  const newId = () => [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("")

  document.addEventListener("DOMContentLoaded", () => keeps || sayNotKept())

  return {
    asked: data("asked"), orderData: data("order-data"), read, write, remove, person, setPerson, clock, hoursSince, status, newId,
    keeps: () => keeps, now: () => stamp(new Date()),
  }
})()
