// The judgement of an entry, the same as the program's: exact, in whole numbers of any size, never in floating point.
window.packetJudgement = (() => {
  const NUMBER = /^[0-9]{1,9}(?:[.,][0-9]{1,9})?$/
  const FAR_OFF = { n: 3n, d: 2n } // off the nearer end by more than this, and right in another unit: that unit was read

  const exact = (text) => {
    const [whole, part = ""] = text.split(".")
    return { n: BigInt(whole + part), d: 10n ** BigInt(part.length) }
  }
  const compare = (one, other) => {
    const left = one.n * other.d
    const right = other.n * one.d
    return left < right ? -1 : left > right ? 1 : 0
  }
  const times = (one, other) => ({ n: one.n * other.n, d: one.d * other.d })
  const minus = (one, other) => ({ n: one.n * other.d - other.n * one.d, d: one.d * other.d })
  // The difference of two decimals is a decimal: with as many digits as it has, never rounded.
  const decimal = ({ n, d }) => {
    const places = String(d).length - 1
    const digits = String(n).padStart(places + 1, "0")
    return places ? `${digits.slice(0, -places)}.${digits.slice(-places)}`.replace(/\.?0+$/, "") : digits
  }

  // The number as decimal text with a point, or why the entry is none.
  const numberOf = (entry) => {
    const text = entry.trim()
    return NUMBER.test(text) ? { text: text.replace(",", ".") } : { hint: hintOf(text) }
  }
  const hintOf = (text) => {
    if (!text) return "Enter what the machine shows."
    if (/^[.,]/.test(text)) return "Not a number. Write the zero before the decimal sign."
    if ((text.match(/[.,]/g) ?? []).length > 1) return "Not a number. Write no sign of thousands."
    return "Not a number. Write digits with one decimal comma or point, and no unit."
  }

  const range = (from, to, unit) => {
    if (from && from === to) return `only ${to} ${unit}`
    if (from && to) return `${from} to ${to} ${unit}`
    if (from) return `at least ${from} ${unit}`
    return to ? `at most ${to} ${unit}` : ""
  }
  const isBelow = (number, from) => Boolean(from) && compare(number, exact(from)) < 0
  const isAbove = (number, to) => Boolean(to) && compare(number, exact(to)) > 0
  const isInside = (number, value) => !isBelow(number, value.low) && !isAbove(number, value.high)

  const readInstead = (number, value) => {
    const far = isBelow(number, value.low) ? compare(times(number, FAR_OFF), exact(value.low)) < 0 : compare(number, times(exact(value.high), FAR_OFF)) > 0
    return far ? value.others.find((other) => isInside(times(number, exact(other.factor)), value)) : undefined
  }

  const judge = (entry, value) => {
    const { text, hint } = numberOf(entry)
    if (hint) return { verdict: "refused", number: "", hint }
    const number = exact(text)
    const { unit } = value
    const allowed = range(value.low, value.high, unit)
    if (compare(number, exact(value.setting)) === 0) return { verdict: "equal", number: text, hint: "As set." }
    if (isInside(number, value)) return { verdict: "in range", number: text, hint: allowed ? `Allowed: ${allowed}.` : "" }
    const low = isBelow(number, value.low)
    const outside = decimal(low ? minus(exact(value.low), number) : minus(number, exact(value.high)))
    const slip = readInstead(number, value)
    if (slip) return { verdict: "implausible", number: text, outside, unit: slip.unit, hint: `Probably read in ${slip.unit}. Enter the value in ${unit}.` }
    const back = value.kind === "setting" ? ` Set it to ${value.setting} ${unit}.` : " Stop and look for the cause: see Troubleshooting."
    return { verdict: low ? "low" : "high", number: text, outside, hint: `${outside} ${unit} ${low ? "below" : "above"} the allowed range, ${allowed}.${back}` }
  }

  // Two values that limit each other: the program's rule, exact and without a division.
  const endTogether = (end, other, power) => {
    const by = power === 1 ? other : times(other, other)
    return power === 1 ? times(exact(end), by) : { n: exact(end).n * by.d, d: exact(end).d * by.n }
  }
  const judgeTogether = (entry, otherEntry, limit) => {
    const number = exact(entry)
    const other = exact(otherEntry)
    const [left, right] = limit.power === 1 ? [number, other] : [times(number, times(other, other)), exact("1")]
    if (limit.minimum && compare(left, times(exact(limit.minimum), right)) < 0) return "low"
    return limit.maximum && compare(left, times(exact(limit.maximum), right)) > 0 ? "high" : "in range"
  }
  // Where the value may end beside the other one, rounded into what is allowed to one digit more than it is set in.
  const togetherWords = (value, other, otherEntry, limit, verdict) => {
    const end = endTogether(verdict === "high" ? limit.maximum : limit.minimum, exact(otherEntry), limit.power)
    const scale = 10n ** BigInt(value.decimals + 1)
    const head = `${value.label} too ${verdict} for this ${other.label.toLowerCase()}`
    if (!end.d) return `${head}.`
    const whole = (end.n * scale) / end.d
    const inward = verdict === "low" && whole * end.d < end.n * scale ? whole + 1n : whole
    const shown = decimal({ n: inward, d: scale })
    return `${head}: ${verdict === "high" ? range("", shown, value.unit) : range(shown, "", value.unit)} at ${otherEntry} ${other.unit}.`
  }

  const judgeResult = (entry, result) => {
    const { text, hint } = numberOf(entry)
    if (hint) return { verdict: "refused", number: "", hint }
    const inside = isInside(exact(text), { low: result.minimum, high: result.maximum })
    return { verdict: inside ? "accepted" : "not accepted", number: text, hint: `Required: ${range(result.minimum, result.maximum, result.unit)}.` }
  }

  const plain = (text) => text.trim().toUpperCase()
  const judgeNumber = (entry, number, all) => {
    const text = plain(entry)
    if (!text) return { verdict: "refused", hint: "Scan or type what the control shows." }
    if (text === plain(number.number)) return { verdict: "match", hint: `It is the ${number.what} of ${number.robot}.` }
    // A number that the same robot has for something else is the commonest slip: it is named first.
    const others = all.filter((one) => plain(one.number) === text)
    const own = others.find((one) => one.robot === number.robot)
    const [owner] = own ? [own] : others
    const needs = `${number.robot} needs ${number.what} ${number.number} here.`
    if (!owner) return { verdict: "mismatch", hint: needs }
    const whose = owner.robot === number.robot && owner.what === number.what ? `another ${owner.what} of ${owner.robot}${owner.of ? `, for ${owner.of}` : ""}` : `the ${owner.what} of ${owner.robot}`
    return { verdict: "mismatch", hint: `That is ${whose}. ${needs}` }
  }

  const WORDS = { equal: "Equal", "in range": "In range", low: "Too low", high: "Too high", implausible: "Not a plausible unit", match: "Match", mismatch: "Does not match", accepted: "Accepted", "not accepted": "Not accepted" }
  const SHORT = { equal: "=", match: "=", mismatch: "does not match" }
  const words = { range, verdict: (verdict) => WORDS[verdict], short: (verdict) => SHORT[verdict] ?? verdict }

  return { judge, judgeTogether, togetherWords, judgeResult, judgeNumber, words }
})()
