// The list of all orders. It draws a screenful and searches all of them as two long texts, one line an order and one line
// a phrase, so that a key stroke costs the same few milliseconds with ten thousand orders.
const DRAWN = 60
const OPENED = "orders/opened" // folders of the orders opened on this device, the last one first
const REMEMBERED = 6
const [SLUG, NUMBER, TITLE, MARK, STATUS, SUMMARY, FACTS, CELLS, UNTIL, REVIEW] = Array(10).keys()

const field = document.getElementById("filter")
const cell = document.getElementById("cell")
const list = document.getElementById("orders")
const more = document.getElementById("more")

// ---- what was opened here

const opened = () => {
  try {
    const kept = JSON.parse(localStorage.getItem(OPENED) ?? "[]")
    return Array.isArray(kept) ? kept : []
  } catch {
    return [] // a browser that keeps nothing, or a text of somebody else's
  }
}
const remember = (slug) => {
  try {
    localStorage.setItem(OPENED, JSON.stringify([slug, ...opened().filter((one) => one !== slug)].slice(0, REMEMBERED)))
  } catch { /* a browser that keeps nothing */ }
}
const lately = opened().map((slug) => ORDERS.findIndex((order) => order[SLUG] === slug)).filter((at) => at >= 0)
const inTurn = [...lately, ...ORDERS.map((_, at) => at).filter((at) => !lately.includes(at))]

// ---- searching

// Text and where each of its lines begins; a match is found by the number of its line.
const lines = (text) => {
  const starts = [0]
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1)
  return { text, starts }
}
const lineAt = (starts, place) => {
  let low = 0, high = starts.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (starts[middle] <= place) low = middle
    else high = middle - 1
  }
  return low
}
const anywhere = () => true
// A value or the number of a weld schedule is meant as a whole.
const isDigit = (text, at) => text.charCodeAt(at) >= 48 && text.charCodeAt(at) <= 57
const isPoint = (text, at) => text.charCodeAt(at) === 46
const wholly = (text, from, to) => (
  !isDigit(text, from - 1) && !isPoint(text, from - 1) && !isDigit(text, to) && !(isPoint(text, to) && isDigit(text, to + 1)))
const linesWith = ({ text, starts }, word, counts) => {
  const found = new Uint8Array(starts.length)
  for (let at = text.indexOf(word); at >= 0;) {
    const from = at
    if (counts(text, from, from + word.length)) {
      const line = lineAt(starts, from)
      found[line] = 1
      at = line + 1 < starts.length ? text.indexOf(word, starts[line + 1]) : -1
    } else at = text.indexOf(word, from + 1)
  }
  return found
}

const oneLine = (text) => text.replaceAll("\n", " ")
let shown, phrases // made when first needed: the list is there before them
const prepare = () => {
  shown ??= lines(spelled(ORDERS.map((order) => (
    oneLine([order[NUMBER], order[TITLE], order[MARK], order[SUMMARY], ...order[FACTS]].join(" ")))).join("\n")))
  if (typeof WORDS !== "undefined") phrases ??= lines(spelled(WORDS.phrases.map(oneLine).join("\n")))
}
const answers = new Map() // by word; a longer text keeps most of its words
const ordersWith = (word) => {
  if (!answers.has(word)) {
    const found = linesWith(shown, word, anywhere)
    if (phrases && WORDS.phrases.length) {
      const said = linesWith(phrases, word, /^\d+(\.\d+)?$/.test(word) ? wholly : anywhere)
      WORDS.of.forEach((own, at) => { if (!found[at] && own.some((phrase) => said[phrase])) found[at] = 1 })
    }
    answers.set(word, found)
  }
  return answers.get(word)
}

// ---- drawing

const made = (tag, className, text) => Object.assign(document.createElement(tag), { className, textContent: text })
const drawn = (at) => {
  const order = ORDERS[at]
  const item = made("li", "order", "")
  const link = Object.assign(document.createElement("a"), { href: `${order[SLUG]}/index.html` })
  const facts = made("ul", "facts", "")
  facts.append(...order[FACTS].map((fact) => made("li", "", fact)))
  link.append(
    made("strong", "", order[NUMBER]), made("span", "title", order[TITLE]),
    made("span", `mark mark-${order[STATUS].replaceAll(" ", "-")}`, order[MARK]), made("span", "summary", order[SUMMARY]), facts)
  if (lately.includes(at)) link.append(made("span", "lately", "Opened on this device"))
  link.addEventListener("click", () => remember(order[SLUG]))
  item.append(link)
  if (order[REVIEW]) {
    item.append(Object.assign(document.createElement("a"), { className: "review", href: `${order[SLUG]}/${order[REVIEW]}`, textContent: "Review what is proposed" }))
  }
  if (order[UNTIL].length) sayLate(item, ...order[UNTIL])
  return item
}
let found = inTurn
const draw = (from) => {
  const next = found.slice(from, from + DRAWN).map(drawn)
  if (from) list.append(...next)
  else list.replaceChildren(...next)
  const left = found.length - list.childElementCount
  more.hidden = left <= 0
  more.textContent = `Show ${Math.min(left, DRAWN)} more of ${left}`
  return next
}
const narrow = () => {
  const words = wordsIn(field.value)
  if (words.length) prepare()
  const kept = words.map(ordersWith), chosen = cell.value
  found = inTurn.filter((at) => (
    (chosen === "" || ORDERS[at][CELLS].includes(chosen)) && kept.every((answer) => answer[at])))
  said(found.length, ORDERS.length)
  draw(0)
}
more.addEventListener("click", () => draw(list.childElementCount)[0]?.querySelector("a").focus())

cell.addEventListener("input", narrow)
field.addEventListener("input", narrow)

// ---- a scanner ends with Enter

// The words of a printed sheet's code are answered by the check page of the order that they name; a draft has none.
const scannedOrder = () => /^\s*ORDER\s+(.+?)\s+(?:REV\s|DRAFT\s|PROPOSED\s)/i.exec(field.value)?.[1].toUpperCase()
field.addEventListener("keydown", (event) => {
  if (event.key !== "Enter") return
  const order = scannedOrder()
  const checked = order && ORDERS.find((one) => one[NUMBER].toUpperCase() === order && one[STATUS] !== "draft")
  if (checked) location.href = `${checked[SLUG]}/check.html#said=${encodeURIComponent(field.value)}`
  else if (field.value.trim() !== "" && found.length === 1) list.querySelector("a").click()
})

narrow()
// What is not needed for the list itself waits until the list is there.
const offerCells = () => {
  const cells = new Set()
  for (const order of ORDERS) for (const name of order[CELLS]) cells.add(name)
  for (const name of [...cells].sort(new Intl.Collator("en", { numeric: true }).compare)) {
    cell.append(Object.assign(document.createElement("option"), { value: name, textContent: name }))
  }
}
addEventListener("load", () => {
  offerCells()
  const words = Object.assign(document.createElement("script"), { src: "orders-words.js" })
  words.addEventListener("load", () => {
    answers.clear()
    prepare()
    if (field.value !== "") narrow()
  })
  document.head.append(words)
})
