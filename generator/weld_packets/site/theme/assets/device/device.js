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

  // A sample holds what every such value has: its keys, and one item for all of a list.
  const isLike = (value, sample) => {
    if (Array.isArray(sample)) return Array.isArray(value) && value.every((one) => isLike(one, sample[0]))
    if (typeof sample !== "object") return typeof value === typeof sample
    return typeof value === "object" && value !== null && Object.entries(sample).every(([key, part]) => isLike(value[key], part))
  }
  const parsed = (text) => {
    try {
      return JSON.parse(text)
    } catch {
      return undefined
    }
  }
  const read = (key, sample) => {
    const text = raw(key)
    if (text === null) return null
    const value = parsed(text)
    if (isLike(value, sample)) return value
    put(`${key}/unreadable`, text) // not written by pages like these: kept beside, so that no work is lost without a trace
    remove(key)
    return null
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

  const data = (id) => {
    const block = document.getElementById(id)
    return block ? JSON.parse(block.textContent) : null
  }
  const form = window.packetForm ?? null // a script of the operation's own, which its pages share
  const orderData = data("order-data")
  const zone = (form ?? orderData)?.time_zone || undefined

  const two = (number) => String(number).padStart(2, "0")
  // A moment as a clock of the plant shows it, with its offset; by the device's own clock where the plant names no zone.
  const stamp = (moment) => {
    const shown = new Intl.DateTimeFormat("en", {
      timeZone: zone, hourCycle: "h23",
      year: "numeric", month: "2-digit", day: "2-digit", hour: "2-digit", minute: "2-digit", second: "2-digit",
    })
    const { year, month, day, hour, minute, second } = Object.fromEntries(shown.formatToParts(moment).map((part) => [part.type, part.value]))
    const ahead = Math.round((Date.UTC(year, month - 1, day, hour, minute, second) - moment.getTime()) / 60000)
    const offset = `${ahead < 0 ? "-" : "+"}${two(Math.floor(Math.abs(ahead) / 60))}:${two(Math.abs(ahead) % 60)}`
    return `${year}-${month}-${day}T${hour}:${minute}:${second}${offset}`
  }
  // The words of a time as the clock showed it, whatever the offset is today.
  const clock = (time) => {
    const today = stamp(new Date()).slice(0, 10)
    return time.slice(0, 10) === today ? time.slice(11, 16) : `${time.slice(0, 10)} ${time.slice(11, 16)}`
  }
  const hoursSince = (time) => (Date.now() - Date.parse(time)) / 3.6e6

  const TICKS = { owner: "", ticks: [{ list: "", key: "" }] } // of a list that is no part of a record

  const person = () => read("packet/person", "") ?? ""
  const setPerson = (name) => write("packet/person", name.trim())

  // A page that was left open past its time says so in its stamp, which another script keeps up to date.
  const status = (said) => document.querySelector(".stamp")?.dataset.status || said
  const newId = () => [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("")

  document.addEventListener("DOMContentLoaded", () => keeps || sayNotKept())

  return {
    form, orderData, TICKS, read, write, remove, person, setPerson, clock, hoursSince, status, newId,
    keeps: () => keeps, now: () => stamp(new Date()),
  }
})()
