// Answers the theme's search: whole words before beginnings, operations before sources, and one place a line.
// It runs in a worker, or in a hidden frame where a page was opened from a file.
(() => {
  const SETUP = 0, READY = 1, QUERY = 2, RESULT = 3
  const WHOLE = { title: 8, keys: 7, text: 6 }
  const BEGUN = { title: 4, keys: 3, text: 2 }
  const NEARLY = 1
  const AT_CELL = 5 // ranks below are of pages of an operation
  const SHOWN = 190 // characters of a text beside its title
  const WORD = /[\p{L}\p{N}]+(?:[.,]\p{N}+)*/gu
  const UNIT = /^(\d[\d.,]*)(mm|m|in|ka|a|kn|n|v|ms|s|l|bar|hz)$/
  const IDLE = new Set(["the", "of", "and", "to", "for", "with", "is"])
  const SIGNS = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&#34;": "\"", "&#39;": "'" }
  const plain = (markup) => markup.replace(/&(?:amp|lt|gt|#34|#39);/g, (sign) => SIGNS[sign])
  const markup = (text) => text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`)

  // 1,2 is 1.2, 1.0 is 1, A03 is A3, CO₂ is CO2, caps is cap, galvanized is galvanised; accents do not count.
  const spelled = (word) => {
    let known = word.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replaceAll(",", ".")
    if (/^\d+\.\d+$/.test(known)) known = known.replace(/\.?0+$/, "")
    known = known.replace(/^(\p{L}+)0+(?=\d)/u, "$1")
    if (/\d/.test(known)) return known
    known = known.replace(/iz(?=e|ing|ation)/, "is")
    return known.length > 3 ? known.replace(/s$/, "") : known
  }
  const wordsOf = (text) => [...text.matchAll(WORD)].flatMap((found) => {
    const [, number, unit] = UNIT.exec(found[0].toLowerCase()) ?? []
    const whole = { at: found.index, end: found.index + found[0].length }
    return unit ? [{ ...whole, word: spelled(number) }, { ...whole, word: unit }] : [{ ...whole, word: spelled(found[0]) }]
  })
  const fieldOf = (text) => {
    const words = wordsOf(text)
    return { text, words, set: new Set(words.map(({ word }) => word)) }
  }

  // One letter wrong, missing, too many, or two exchanged; only in words long enough to be sure of.
  const nearly = (one, other) => {
    if (one.length < 5 || Math.abs(one.length - other.length) > 1 || /\d/.test(one + other)) return false
    let at = 0
    while (one[at] === other[at] && at < one.length) at += 1
    const rest = (word, by) => word.slice(at + by)
    return rest(one, 1) === rest(other, 1) || rest(one, 0) === rest(other, 1) || rest(one, 1) === rest(other, 0)
      || (one[at] === other[at + 1] && one[at + 1] === other[at] && rest(one, 2) === rest(other, 2))
  }
  const begins = (word, sought) => word.startsWith(sought) && !(/^[\d.]+$/.test(sought) && sought.length < 3)

  const levelIn = (fields, sought) => {
    const names = Object.keys(WHOLE)
    const whole = names.find((name) => fields[name].set.has(sought))
    if (whole) return WHOLE[whole]
    const begun = names.find((name) => fields[name].words.some(({ word }) => begins(word, sought)))
    if (begun) return BEGUN[begun]
    return names.some((name) => fields[name].words.some(({ word }) => nearly(sought, word))) ? NEARLY : 0
  }
  const inARow = ({ words }, sought) => words.some((_, at) => (
    sought.every((word, place) => (place === sought.length - 1
      ? begins(words[at + place]?.word ?? "", word) || words[at + place]?.word === word
      : words[at + place]?.word === word))))

  const rowOf = (fields, sought) => {
    if (inARow(fields.title, sought) || inARow(fields.keys, sought)) return 2
    return inARow(fields.text, sought) ? 1 : 0
  }

  let places = []
  const answer = (query) => {
    const typed = wordsOf(query).map(({ word }) => word)
    const sought = typed.some((word) => !IDLE.has(word)) ? typed.filter((word) => !IDLE.has(word)) : typed
    if (!sought.length) return []
    const found = places.map(({ doc, fields, order }) => {
      const levels = sought.map((word) => levelIn(fields, word))
      const row = sought.length > 1 ? rowOf(fields, sought) : levels[0] === WHOLE.title && doc.rank < AT_CELL
      return {
        doc, fields, levels,
        has: levels.filter(Boolean).length,
        by: [
          levels.filter(Boolean).length, levels.filter((level) => level >= WHOLE.text).length, Number(row), -doc.rank,
          levels.reduce((sum, level) => sum + level, 0), -order,
        ],
      }
    })
    const most = Math.max(0, ...found.map(({ has }) => has))
    if (!most) return []
    const best = found.filter(({ has }) => has === most).sort((one, other) => {
      const differs = one.by.findIndex((value, at) => value !== other.by[at])
      return differs < 0 ? 0 : other.by[differs] - one.by[differs]
    })
    return best.map(({ doc, fields, levels }, at) => [{
      ...doc,
      title: marked(fields.title, sought, false),
      text: marked(fields.text, sought, true),
      score: best.length - at,
      terms: Object.fromEntries(sought.map((word, place) => [word, levels[place] > 0])),
    }])
  }

  const marked = ({ text, words }, sought, cut) => {
    const hit = words.filter(({ word }) => sought.some((each) => word === each || begins(word, each) || nearly(each, word)))
    const from = cut && text.length > SHOWN && hit.length ? Math.max(0, text.lastIndexOf(" ", Math.max(0, hit[0].at - 60))) : 0
    const until = cut ? Math.min(text.length, from + SHOWN) : text.length
    let shown = from ? "… " : ""
    let at = from
    for (const { at: start, end } of hit) {
      if (start < at || end > until) continue
      shown += `${markup(text.slice(at, start))}<mark>${markup(text.slice(start, end))}</mark>`
      at = end
    }
    return shown + markup(text.slice(at, until)) + (until < text.length ? " …" : "")
  }

  // Places by page, as search_file.py writes them: what the places of a page begin with, and equal texts, stand once.
  const placesOf = (pages) => {
    const all = pages.flatMap(([path, rank, head, start, places]) => places.map(([title, text, anchor, keys = ""]) => (
      { location: anchor === 0 ? path : `${path}#${start}${anchor}`, title: head + title, text, rank, keys })))
    return all.map((doc) => ({ ...doc, text: typeof doc.text === "number" ? all[doc.text].text : doc.text }))
  }

  self.addEventListener("message", ({ data: { type, data } }) => {
    if (type === SETUP) {
      // Beside a server the theme fetches an index without places: then the one for pages from a file is loaded instead.
      if (!data.docs.length) self.importScripts(new URL("../search/search_index.js", self.location.href).href)
      places = placesOf((data.docs.length ? data : self.__index).docs).map((doc, order) => ({
        doc,
        order,
        fields: { title: fieldOf(plain(doc.title)), text: fieldOf(plain(doc.text)), keys: fieldOf(plain(doc.keys)) },
      }))
      self.postMessage({ type: READY })
    } else if (type === QUERY) self.postMessage({ type: RESULT, data: { items: answer(data) } })
  })
})()
