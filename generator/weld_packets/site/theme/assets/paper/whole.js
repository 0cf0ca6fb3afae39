// Lays the packet out on sheets of one height, which fit A4 and Letter: only so does every browser print the identity
// and "page n of m" on each of them. Blocks are measured once and never divided; a table is divided between its rows.
(() => {
  const whole = document.querySelector(".whole")
  const identity = document.querySelector(".sheet-identity")
  const GAP = 6
  const SMALLEST = 60
  const WORTH = 7 // a flow is begun on a sheet that has at least this part of its height left
  const LINE = 30 // px, 8 mm to write on
  const HIGHER = 0.35
  let room = 0

  const make = (name, parent) => {
    const one = document.createElement("div")
    one.className = name
    parent.append(one)
    return one
  }
  const height = (node) => node.getBoundingClientRect().height

  // Chunks of a flow: what keeps with the next block is one with it, and so are the head and first row of a table.
  const chunksOf = (flow) => {
    const found = []
    let kept = []
    let above = 0
    const close = (chunk) => {
      found.push({ ...chunk, nodes: [...kept, ...chunk.nodes], height: chunk.height + above })
      kept = []
      above = 0
    }
    for (const node of flow.children) {
      if (node.classList.contains("keep")) {
        kept.push(node)
        above += height(node)
      } else if (node.tagName === "TABLE") {
        const top = node.tHead ? height(node.tHead) : 0
        for (const row of node.tBodies[0].rows) close({ nodes: [], table: node, row, top, height: height(row) })
      } else close({ nodes: [node], height: height(node) })
    }
    if (kept.length) close({ nodes: [], height: 0 })
    return found
  }

  // Where a column of a height ends that begins with the chunk "at", and how high it is; a table that goes on has its
  // head again.
  const columnFrom = (chunks, at, room) => {
    let used = 0
    let table = null
    let end = at
    for (; end < chunks.length; end += 1) {
      const chunk = chunks[end]
      const again = chunk.table && (chunk.table !== table || chunk.nodes.length) ? chunk.top : 0
      if (used + chunk.height + again > room) break
      used += chunk.height + again
      table = chunk.table ?? null
    }
    return { end, used }
  }

  const columnsFrom = (chunks, at, room, count) => {
    const ends = [at]
    let tall = 0
    for (let column = 0; column < count; column += 1) {
      const { end, used } = columnFrom(chunks, ends[column], room)
      ends.push(end)
      tall = Math.max(tall, used)
    }
    return { ends, end: ends[count], tall }
  }

  // The lowest height of columns that hold all chunks from "at" on.
  const levelled = (chunks, at, room, count) => {
    let best = columnsFrom(chunks, at, room, count)
    for (let low = SMALLEST, high = best.tall; high - low > 1;) {
      const tried = columnsFrom(chunks, at, (low + high) / 2, count)
      if (tried.end === chunks.length) {
        best = tried
        high = tried.tall
      } else low = (low + high) / 2
    }
    return best
  }

  const fill = (column, chunks) => {
    let table = null
    let rows = null
    for (const chunk of chunks) {
      column.append(...chunk.nodes)
      if (!chunk.table) {
        table = null
        continue
      }
      if (chunk.table !== table || chunk.nodes.length) {
        const copy = chunk.table.cloneNode(false)
        copy.append(...[...chunk.table.children].filter((one) => one.tagName !== "TBODY").map((one) => one.cloneNode(true)))
        rows = document.createElement("tbody")
        copy.append(rows)
        column.append(copy)
        table = chunk.table
      }
      rows.append(chunk.row)
    }
  }

  // Where each block goes: sheets of a part, each with how much of it is taken and what puts its blocks in.
  // `cap` is how much of the sheet `capped` may be taken.
  const planned = (blocks, capped = -1, cap = 0) => {
    const plan = [{ used: 0, put: [] }]
    const last = () => plan[plan.length - 1]
    const roomNow = () => (plan.length - 1 === capped ? cap : room)
    const next = () => {
      if (!last().used) throw new Error("a block is taller than a sheet")
      plan.push({ used: 0, put: [] })
    }
    const flow = ({ chunks, count }) => {
      for (let at = 0; at < chunks.length;) {
        const left = roomNow() - last().used
        let fit = columnsFrom(chunks, at, left, count)
        const ends = fit.end === chunks.length
        if (fit.end === at || (!ends && left < room / WORTH)) {
          next()
          continue
        }
        if (ends) fit = levelled(chunks, at, left, count)
        last().put.push((body) => {
          const band = make("band", body)
          for (let column = 0; column < count; column += 1) {
            const place = make("column", band)
            place.dataset.columns = count
            fill(place, chunks.slice(fit.ends[column], fit.ends[column + 1]))
          }
        })
        last().used += fit.tall + GAP
        at = fit.end
      }
    }
    const wide = ({ node, tall }) => {
      if (last().used && last().used + tall > roomNow()) next()
      last().put.push((body) => body.append(node))
      last().used += tall + GAP
    }
    for (const block of blocks) block.chunks ? flow(block) : wide(block)
    return plan
  }

  // Flows that are neighbours are one: nothing is levelled between them.
  const joined = (order) => order.reduce((done, block) => {
    const before = done[done.length - 1]
    if (!before?.chunks || !block.chunks || before.count !== block.count) return [...done, block]
    return [...done.slice(0, -1), { ...before, chunks: [...before.chunks, ...block.chunks] }]
  }, [])

  // A last sheet that would be nearly empty takes over from the one before until it is half full.
  const shared = (blocks) => {
    const plan = planned(blocks)
    const lasts = (one) => one[one.length - 1].used
    for (let cap = room; plan.length > 1 && lasts(plan) < room / 2 && cap > room / 2; cap -= 5) {
      const tried = planned(blocks, plan.length - 2, cap)
      if (tried.length === plan.length && lasts(tried) >= room / 2) return tried
    }
    return plan
  }

  // Each map may follow any block of its part but the form at the end: where the part takes the fewest sheets,
  // and of those places where its emptiest sheet before the last is fullest.
  const fewest = (blocks) => {
    const emptiest = (plan) => Math.min(...plan.slice(0, -1).map(({ used }) => used))
    const placed = (order, map) => {
      const first = order.findLastIndex((block) => block.isMap) + 1 // maps keep their own order
      return order.map((_, at) => at).filter((at) => at >= Math.max(first, 1)).map((at) => order.toSpliced(at, 0, map))
    }
    const orders = blocks.filter((block) => block.isMap).reduce(
      (known, map) => known.flatMap((order) => placed(order, map)),
      [blocks.filter((block) => !block.isMap)],
    )
    return orders.map((order) => shared(joined(order))).reduce((best, plan) =>
      (plan.length < best.length || (plan.length === best.length && emptiest(plan) > emptiest(best)) ? plan : best))
  }

  // A form at the end of a part takes what is left of its sheet: higher lines, then more of them.
  const stretch = (form, left) => {
    if (left <= 0) return
    const own = height(form)
    const higher = Math.min(left, own * HIGHER)
    form.style.minHeight = `${own + higher}px`
    const notes = make("p-notes", form.parentElement)
    notes.append("Notes")
    for (let rest = left - higher - 2 * LINE; rest >= LINE; rest -= LINE) make("p-line", notes)
    if (notes.childElementCount < 2) notes.remove()
  }

  const show = (part, plan) => {
    for (const { used, put } of plan) {
      const sheet = make("sheet", whole)
      sheet.dataset.of = part.dataset.part
      sheet.append(identity.cloneNode(true))
      sheet.querySelector(".sheet-said").textContent = part.dataset.said
      const code = document.querySelector(`[data-code="${part.dataset.part}"]`)
      if (code) sheet.querySelector(".sheet-code").replaceChildren(code.firstElementChild.cloneNode(true))
      const body = make("sheet-body", sheet)
      put.forEach((each) => each(body))
      const form = body.lastElementChild
      if (form.classList.contains("p-form")) stretch(form, room - used)
    }
    part.remove()
  }

  const measured = (block) => {
    if (!block.classList.contains("flow")) return { node: block, tall: height(block), isMap: block.classList.contains("p-map") }
    block.classList.add("measured")
    return { chunks: chunksOf(block), count: Number(block.dataset.columns ?? 2) }
  }

  const lay = () => {
    const parts = [...whole.children]
    const probe = make("sheet-body", make("sheet", whole))
    room = probe.clientHeight
    probe.parentElement.remove()
    const plans = parts.map((part) => fewest([...part.children].map(measured)))
    parts.forEach((part, at) => show(part, plans[at]))
    const pages = whole.querySelectorAll(".sheet-page")
    pages.forEach((page, at) => { page.textContent = `Page ${at + 1} of ${pages.length}` })
    offer(parts)
    whole.classList.add("laid")
  }

  // A cell needs the sheets of its own operation: what is chosen is shown and printed, numbered as in the whole packet.
  const offer = (parts) => {
    const label = document.querySelector("[data-sheets]")
    const choice = label.querySelector("select")
    const sheets = [...whole.querySelectorAll(".sheet")]
    choice.append(...parts.map((part) => new Option(part.dataset.offered ?? part.dataset.said, part.dataset.part)))
    const choose = () => {
      for (const sheet of sheets) sheet.hidden = Boolean(choice.value) && sheet.dataset.of !== choice.value
      const shown = sheets.filter((sheet) => !sheet.hidden)
      for (const sheet of sheets) sheet.classList.toggle("sheet-last", sheet === shown[shown.length - 1])
      document.querySelector(".sheet-count").textContent = `${shown.length} sheets`
      document.querySelector("[data-print]").textContent = choice.value ? "Print these sheets" : "Print all sheets"
    }
    choice.addEventListener("change", choose)
    label.hidden = false
    choose()
  }

  if (document.readyState === "complete") lay()
  else window.addEventListener("load", lay)
})()
