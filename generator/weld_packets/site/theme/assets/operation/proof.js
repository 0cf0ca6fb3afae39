// What is still missing for an acceptance: settings read back, programs compared, results inside their limits.
window.packetProof = (() => {
  const device = window.packetDevice
  const setUp = window.packetSetUp
  const form = device.form
  const GOOD = ["equal", "in range"]
  const { judgeTogether, togetherWords } = window.packetJudgement

  const lastReading = (record, value, robot) => record?.readings.filter((one) => one.value === value.key && one.robot === robot).pop()
  const lastNumber = (record, number) => record?.numbers.filter((one) => one.robot === number.robot && one.what === number.what && one.asked === number.number).pop()
  const lastResult = (record, result) => record?.results.filter((one) => one.result === result.key).pop()
  const pageOf = (name) => `operation-${form.operation}${name}.html`
  const excused = (record, what) => record?.deviations.some((one) => one.what === what)

  const nameOf = (value, robot) => `${value.label}${value.weld_schedule ? `, weld schedule ${value.weld_schedule}` : ""}, ${robot}`
  const placeOf = (value, robot) => `${pageOf("-read-back")}#value=${encodeURIComponent(value.key)}&robot=${encodeURIComponent(robot)}`

  const failure = (found) => (found && setUp.hasFailed(found) ? `: ${found.number ?? found.entered} ${found.verdict === "mismatch" ? "does not match" : found.verdict}` : "")

  const readingsMissing = (record, kind) => form.values.filter((value) => value.kind === kind).flatMap((value) =>
    value.robots.filter((robot) => {
      const found = lastReading(record, value, robot)
      return !(found && (GOOD.includes(found.verdict) || excused(record, nameOf(value, robot))))
    }).map((robot) => ({ of: `${value.key}/${robot}`, words: `${nameOf(value, robot)}${failure(lastReading(record, value, robot))}`, href: placeOf(value, robot), lead: "Read it back" })))
  // Values that limit each other, as the last entries of one robot are; where one of them is missing nothing is said.
  const together = (record) => (form.limits ?? []).flatMap((limit) => {
    const [value, other] = [limit.value, limit.other].map((key) => form.values.find((one) => one.key === key))
    return value.robots.flatMap((robot) => {
      const [read, beside] = [value, other].map((one) => lastReading(record, one, robot))
      if (!read || !beside) return []
      const verdict = judgeTogether(read.number, beside.number, limit)
      const said = verdict === "in range" ? "" : togetherWords(value, other, beside.number, limit, verdict)
      return [{ value, other, robot, verdict, said, name: `${nameOf(value, robot)}, beside ${other.label.toLowerCase()}` }]
    })
  })
  const togetherMissing = (record) => together(record).filter((one) => one.said && !excused(record, one.name))
    .map((one) => ({ words: `${nameOf(one.value, one.robot)}: ${one.said.replace(/\.$/, "")}`, href: placeOf(one.value, one.robot), lead: "Set and read it again" }))
  // As the record has it; a release that states no such limit has no such line.
  const togetherKept = (record) => together(record).map(({ value, other, robot, verdict }) => ({ value: value.key, other: other.key, robot, verdict }))

  const numbersMissing = (record) => form.numbers.filter((number) => lastNumber(record, number)?.verdict !== "match")
    .map((number) => ({ what: number.what, words: `${number.what} ${number.number}, ${number.robot}${failure(lastNumber(record, number))}`, href: `${pageOf("-read-back")}#number=${encodeURIComponent(number.number)}&robot=${encodeURIComponent(number.robot)}`, lead: "Compare it" }))
  // Results of one name, such as the throat of several weld schedules, are named with their welds.
  const resultName = (result) => {
    const same = form.results.filter((one) => one.stage === result.stage && one.what === result.what && one.robot === result.robot)
    return [result.what, result.robot, same.length > 1 ? result.welds : ""].filter(Boolean).join(", ")
  }
  const resultsMissing = (record, stage) => form.results.filter((result) => result.stage === stage && lastResult(record, result)?.verdict !== "accepted")
    .map((result) => ({ words: resultName(result), href: `${pageOf("-record")}#${encodeURIComponent(`result-${result.key}`)}`, lead: "Enter the result" }))
  const stepsMissing = (record, which) => form.steps.filter((step) => which(step) && !record?.steps.some((one) => one.list === step.list && one.key === step.key && one.digest === step.digest))
    .map((step) => ({ words: step.accepts ? "the coupons are not accepted" : `a ${step.hold ? "hold point" : "step"} of the ${step.list}`, href: `${pageOf(`-${step.list}`)}#${encodeURIComponent(`step-${step.list}-${step.key}`)}`, lead: "Open the step" }))

  // The changeover of a cell takes the place of its set-up, unless that was begun or somebody said why it is not.
  const isBySetUp = (record = setUp.own()) => !form.changeover.length || setUp.isFromNothing(record) || Boolean(record?.steps.some((step) => step.list === "set-up"))
  const changeoverMissing = (record, which = () => true) => (isBySetUp(record) ? [] : setUp.changeoverLeft(form, form.changeover.filter(which)))
    .map((task) => ({ words: "a step of the changeover", href: `changeover.html#${encodeURIComponent(`step-changeover-${task.key}`)}`, lead: "Open the step" }))
  // Prove-out begins when the set-up, or the changeover in its place, is through its last hold point.
  const missingToProve = () => {
    const record = setUp.own()
    return [...(isBySetUp(record) ? stepsMissing(record, (step) => step.list === "set-up" && step.hold) : []), ...changeoverMissing(record)]
  }
  // What one of the five checks of the card rests on: how much there is of it, and what is open or wrong.
  const evidenceOf = (key, tasks) => {
    const record = setUp.own()
    const number = { programs: "program", schedules: "weld schedule" }[key]
    const isTask = (step) => step.list === "set-up" && tasks.includes(step.key)
    const values = key === "schedules" ? form.values.filter((value) => value.kind === "setting").flatMap((value) => value.robots).length : 0
    const numbers = form.numbers.filter((one) => one.what === number).length
    const fitted = isBySetUp(record) ? form.steps.filter(isTask).length : tasks.length ? form.changeover.filter((task) => task.locked).length : 0
    const fittedMissing = isBySetUp(record) ? stepsMissing(record, isTask) : tasks.length ? changeoverMissing(record, (task) => task.locked) : []
    const numbersOpen = numbersMissing(record).filter((one) => one.what === number)
    const readingsOpen = values ? readingsMissing(record, "setting") : []
    // Two values that limit each other are both open while they do not fit.
    const apart = values ? together(record).filter((one) => one.said && !excused(record, one.name)) : []
    const open = new Set([...readingsOpen.map((one) => one.of), ...apart.flatMap((one) => [one.value, one.other].map((value) => `${value.key}/${one.robot}`))])
    const all = numbers + values + fitted
    return {
      all, done: all - numbersOpen.length - open.size - fittedMissing.length,
      missing: [...numbersOpen, ...readingsOpen, ...(values ? togetherMissing(record) : []), ...fittedMissing],
    }
  }

  // The hold point before anything welds: every setting and number as required, on every robot.
  const missingToRead = () => {
    const record = setUp.own()
    return [...numbersMissing(record).filter((one) => one.what !== "coupon program"), ...readingsMissing(record, "setting"), ...togetherMissing(record)]
  }
  // What is read while the coupons weld.
  const missingReadings = () => readingsMissing(setUp.own(), "reading")
  // What an acceptance waits for beside the steps above it in its own list; the first-off comes after the coupons.
  const missingFor = (what) => {
    const record = setUp.own()
    const named = device.person() ? [] : [{ words: "the name of who accepts", href: "#page", lead: "Give it at the top of the page" }]
    const proved = [...numbersMissing(record), ...readingsMissing(record, "setting"), ...togetherMissing(record), ...resultsMissing(record, "coupon")]
    if (what === "coupons") return [...proved, ...named]
    const before = [...stepsMissing(record, (step) => (isBySetUp(record) && step.list === "set-up") || step.accepts === "coupons"), ...changeoverMissing(record)]
    return [...proved, ...before, ...readingsMissing(record, "reading"), ...resultsMissing(record, "first-off"), ...named]
  }

  // Every entry that failed and was then replaced, with what it is of, in the order of time.
  const failedBefore = (record) => {
    const { readings = [], numbers = [], results = [] } = record?.replaced ?? {}
    const ofReading = (one) => {
      const value = form.values.find((other) => other.key === one.value)
      return value ? nameOf(value, one.robot) : `${one.value}, ${one.robot}`
    }
    const ofResult = (one) => {
      const result = form.results.find((other) => other.key === one.result)
      return result ? resultName(result) : one.result
    }
    return [
      ...numbers.map((one) => [`${one.what} ${one.asked}, ${one.robot}`, one]),
      ...readings.map((one) => [ofReading(one), one]),
      ...results.map((one) => [ofResult(one), one]),
    ].filter(([, one]) => setUp.hasFailed(one)).sort(([, one], [, other]) => Date.parse(one.at) - Date.parse(other.at))
  }

  // After a revision: an entry stays where the same entry would be judged the same today.
  const staysRead = (one) => {
    const value = form.values.find((other) => other.key === one.value && other.robots.includes(one.robot))
    return Boolean(value) && value.unit === one.unit && window.packetJudgement.judge(one.entered, value).verdict === one.verdict
  }
  const staysProved = (one) => {
    const result = form.results.find((other) => other.key === one.result)
    return Boolean(result) && Boolean(result.unit) && window.packetJudgement.judgeResult(one.entered, result).verdict === one.verdict
  }

  const stepsLeft = (record, of) => stepsMissing(record, (step) => of.includes(step)).length

  const holdOf = (what) => {
    const step = form.steps.find((one) => one.accepts === what)
    return step && `${pageOf(`-${step.list}`)}#${encodeURIComponent(`step-${step.list}-${step.key}`)}`
  }

  return { holdOf, evidenceOf, isBySetUp, missingToProve, missingToRead, missingReadings, missingFor, stepsLeft, lastReading, lastNumber, lastResult, failedBefore, nameOf, together, togetherKept, staysRead, staysProved }
})()
