// The weeks of joint draws, told number by number beside guesses: the other side of internal/forecast/week_code.go, which says
// how each is guessed and why. A season has half a million numbers: plain loops over flat arrays.

/** Tells a number beside its guess, or is told it; near says how far off it may easily be. */
export interface Numbers {
  number(of: NumberKind, guess: number, near: number, n: number): number
}

/** What a number tells; each is missed by as much as others of it were. */
export const numberKinds = { total: 0, colour: 1, grade: 2, length: 3, day: 4 } as const
export type NumberKind = (typeof numberKinds)[keyof typeof numberKinds]

/** One week of one draw: each number is the sum of those that tell it apart. */
export interface WeekSplit {
  total: number
  readonly colours: Float64Array
  /** By colour and grade, the worst first. */
  readonly grades: Float64Array
  /** By colour, grade and length class; of unsaleable stems nothing is told. */
  readonly lengths: Float64Array
  /** From Monday on: stems, or of more than 255 stems how many 255ths of them. */
  readonly days: Float64Array
}

const [grades, weekdays] = [4, 7]
/** What part of a week is over when it is. */
export const wholeWeek = 255
/** As in Go. */
const [seenMost, hereWorth, farOff] = [4096, 40, 4]

export function newWeekSplit(colours: number, lengths: number): WeekSplit {
  return {
    total: 0, colours: new Float64Array(colours), grades: new Float64Array(colours * grades),
    lengths: new Float64Array(colours * grades * lengths), days: new Float64Array(weekdays),
  }
}

export class WeekCode {
  private draws = 0
  private last = 0
  /** Of all draws so far, by week, and what each is told apart by. */
  private readonly totals: Float64Array
  private readonly ofColours: Float64Array
  private readonly ofGrades: Float64Array
  private readonly ofLengths: Float64Array
  private readonly ofDays: Float64Array
  /** Of this week, of the colours told before. */
  private readonly hereGrades = new Float64Array(grades)
  private readonly hereLengths: Float64Array
  private readonly weights: Float64Array

  constructor(private readonly weeks: number, private readonly colours: number, private readonly lengths: number, private readonly numbers: Numbers) {
    this.totals = new Float64Array(weeks)
    this.ofColours = new Float64Array(weeks * colours)
    this.ofGrades = new Float64Array(weeks * grades)
    this.ofLengths = new Float64Array(weeks * grades * lengths)
    this.ofDays = new Float64Array(weeks * weekdays)
    this.hereLengths = new Float64Array(grades * lengths)
    this.weights = new Float64Array(Math.max(colours, grades, lengths, weekdays))
  }

  /** Tells one draw, whose weeks are filled, each in its turn before it is told, or read once it was. */
  draw(split: WeekSplit, fill: (week: number) => void, read: (week: number) => void): void {
    this.last = 0
    for (let week = 0; week < this.weeks; week++) {
      fill(week)
      this.week(week, split)
      read(week)
    }
    this.draws++
  }

  private week(week: number, split: WeekSplit): void {
    const guess = this.guess(week)
    const total = this.numbers.number(numberKinds.total, guess, guess, split.total)
    if (total < 0) throw notSplit()
    split.total = total
    this.totals[week] = this.totals[week]! + total
    this.last = total
    if (total === 0) return
    const { colours, lengths } = this
    this.split(numberKinds.colour, total, split.colours, 0, colours, this.ofColours, week * colours)
    learn(this.ofColours, week * colours, colours, split.colours, 0)
    this.hereGrades.fill(0)
    this.hereLengths.fill(0)
    for (let colour = 0; colour < colours; colour++) {
      if (split.colours[colour]! > 0) this.colour(week, colour, split)
    }
    learn(this.ofGrades, week * grades, grades, this.hereGrades, 0)
    for (let grade = 0; grade < grades; grade++) learn(this.ofLengths, (week * grades + grade) * lengths, lengths, this.hereLengths, grade * lengths)
    this.split(numberKinds.day, Math.min(total, wholeWeek), split.days, 0, weekdays, this.ofDays, week * weekdays)
    learn(this.ofDays, week * weekdays, weekdays, split.days, 0)
  }

  private guess(week: number): number {
    const mean = Math.floor(this.totals[week]! / Math.max(this.draws, 1))
    return week === 0 ? mean : Math.min(Math.floor((this.last * (this.totals[week]! + 1)) / (this.totals[week - 1]! + 1)), farOff * mean)
  }

  private colour(week: number, colour: number, split: WeekSplit): void {
    const { lengths, hereGrades, hereLengths } = this
    const first = colour * grades
    this.split(numberKinds.grade, split.colours[colour]!, split.grades, first, grades, this.ofGrades, week * grades, hereGrades, 0)
    add(hereGrades, 0, grades, split.grades, first)
    for (let grade = 1; grade < grades; grade++) {
      const stems = split.grades[first + grade]!
      if (stems === 0) continue
      const at = (first + grade) * lengths
      this.split(numberKinds.length, stems, split.lengths, at, lengths, this.ofLengths, (week * grades + grade) * lengths, hereLengths, grade * lengths)
      add(hereLengths, grade * lengths, lengths, split.lengths, at)
    }
  }

  /** Of a number its n parts, from a place on; seen are other draws' and here other colours', each from a place on too. */
  private split(of: NumberKind, all: number, parts: Float64Array, at: number, n: number, seen: Float64Array, seenAt: number, here?: Float64Array, hereAt = 0): void {
    const { weights } = this
    let behind = this.weigh(n, seen, seenAt, here, hereAt)
    let left = all
    for (let i = 0; i < n - 1; i++) {
      if (left === 0) {
        parts[at + i] = 0
        continue
      }
      const weight = weights[i]!
      const guess = Math.floor((left * weight) / behind)
      const part = this.numbers.number(of, guess, Math.min(guess, left - guess), parts[at + i]!)
      if (part < 0 || part > left) throw notSplit()
      parts[at + i] = part
      left -= part
      behind -= weight
    }
    parts[at + n - 1] = left
  }

  private weigh(n: number, seen: Float64Array, seenAt: number, here: Float64Array | undefined, hereAt: number): number {
    const { weights } = this
    let all = 0
    for (let i = 0; i < n; i++) all += weights[i] = seen[seenAt + i]! + 1
    if (here === undefined) return all
    let sum = 0
    for (let i = 0; i < n; i++) sum += weights[i] = here[hereAt + i]! * all + hereWorth * weights[i]!
    return sum
  }
}

function notSplit(): Error {
  return new Error('reading the forecast: its draws have parts that are more than the whole')
}

function add(to: Float64Array, at: number, n: number, stems: Float64Array, from: number): void {
  for (let i = 0; i < n; i++) to[at + i] = to[at + i]! + stems[from + i]!
}

function learn(seen: Float64Array, at: number, n: number, stems: Float64Array, from: number): void {
  add(seen, at, n, stems, from)
  for (;;) {
    let sum = 0
    for (let i = 0; i < n; i++) sum += seen[at + i]!
    if (sum <= seenMost) return
    for (let i = 0; i < n; i++) seen[at + i] = Math.floor(seen[at + i]! / 2)
  }
}
