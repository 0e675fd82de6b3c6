// Solves days of the packing plan by HiGHS, as one mixed-integer program each: whole bunches a line, and stems from each
// supply to each line. It reads a list of days, each as `pack` reads it, from standard input, and writes for each the
// revenue in cents, -1 where not all minimums can be met, or null where HiGHS did not finish. It shares nothing with the planner: the rules are written here
// once more, and the program has a column for every pair of supply and line.
//
//   node testdata/reference/packing/solve.mjs < days.json
//
// npm's highs is taken from webapp/node_modules. The answers in highs.json are of highs 1.15.3 in Node 20; two large days
// of the kind "web" are not among them, since it did not finish those in 400 seconds. How each day is made from its kind
// and seed, and how the answers are made anew, is in internal/packing/instances_test.go and outside_test.go.
import { createRequire } from 'node:module'
import { readFileSync } from 'node:fs'

const require = createRequire(new URL('../../../webapp/package.json', import.meta.url))
const highs = await require('highs')()
const LIMIT_SECONDS = Number(process.env.LIMIT_SECONDS ?? 120)

function mayGo(day, supply, line) {
  const rank = (grade) => day.grades_low_to_high.indexOf(grade)
  return (
    rank(supply.grade) >= rank(line.min_grade) &&
    supply.length_cm >= line.min_length_cm &&
    (line.colours.length === 0 || line.colours.includes(supply.colour)) &&
    line.price_cents >= supply.floor_cents * line.bunch
  )
}

function program(day) {
  const into = day.demand.map(() => [])
  const outOf = day.supply.map(() => [])
  day.supply.forEach((supply, s) =>
    day.demand.forEach((line, l) => {
      if (!mayGo(day, supply, line)) return
      into[l].push(`x${s}_${l}`)
      outOf[s].push(`x${s}_${l}`)
    }),
  )
  const rows = []
  // Rows of the format may not be of any length.
  const sum = (terms) => terms.map((term, i) => (i > 0 && i % 20 === 0 ? `\n + ${term}` : ` + ${term}`)).join('')
  day.supply.forEach((supply, s) => {
    if (outOf[s].length > 0) rows.push(` s${s}:${sum(outOf[s])} <= ${supply.stems}`)
  })
  day.demand.forEach((line, l) => {
    rows.push(` d${l}:${sum(into[l])} - ${line.bunch * lot(line)} n${l} = 0`)
  })
  const worth = day.demand.map((line, l) => `${line.price_cents * lot(line)} n${l}`)
  // Lots, not bunches.
  const lots = (line, bunches) => Math.ceil(bunches / lot(line))
  const bounds = day.demand.map((line, l) => ` ${lots(line, line.min_bunches)} <= n${l} <= ${lots(line, line.max_bunches)}`)
  return [
    'Maximize', ` revenue:${sum(worth)}`, 'Subject To', ...rows, 'Bounds', ...bounds, 'Generals',
    ` ${day.demand.map((_, l) => (l > 0 && l % 20 === 0 ? `\n n${l}` : `n${l}`)).join(' ')}`, 'End',
  ].join('\n')
}

// lot is the bunches that come together.
function lot(line) {
  return line.all_or_nothing && line.max_bunches > 0 ? line.max_bunches : 1
}

const days = JSON.parse(readFileSync(0, 'utf8'))
const revenues = days.map((day) => {
  const started = performance.now()
  const solved = highs.solve(program(day), {
    output_flag: false, mip_rel_gap: 0, mip_abs_gap: 0.5, mip_feasibility_tolerance: 1e-9, time_limit: LIMIT_SECONDS,
  })
  if (process.env.TIMES) console.error(`${day.name}: ${solved.Status}, ${((performance.now() - started) / 1000).toFixed(2)} s`)
  if (solved.Status === 'Infeasible') return -1
  return solved.Status === 'Optimal' ? Math.round(solved.ObjectiveValue) : null
})
console.log(JSON.stringify(revenues))
