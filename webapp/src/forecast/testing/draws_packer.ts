// Draws packed as the shed packs them, for tests: the days of a week are alike.

import { Missed, mostOnes } from '../coded_bits'
import { gradesLowToHigh } from '../draws'
import { newWeekSplit, type NumberKind, type Numbers, WeekCode, type WeekSplit, wholeWeek } from '../week_code'

export class DrawsPacker {
  private readonly bits = new BitWriter()
  private readonly split: WeekSplit
  private readonly code: WeekCode

  constructor(weeks: number, colours: number, private readonly lengths: number) {
    this.split = newWeekSplit(colours, lengths)
    this.code = new WeekCode(weeks, colours, lengths, this.bits)
  }

  /**
   * The stems of a draw by colour, grade and length, asked week by week; unsaleable ones go to the shortest length. Nothing of
   * a week comes before the weekday on which it begins, Monday 0.
   */
  draw(stems: (week: number) => readonly number[], begins = (_week: number) => 0): void {
    this.code.draw(this.split, (week) => this.fill(stems(week), begins(week)), () => {})
  }

  coded(): string {
    return this.bits.base64()
  }

  private fill(stems: readonly number[], begins: number): void {
    const { split, lengths } = this
    split.colours.fill(0)
    split.grades.fill(0)
    split.lengths.set(stems)
    stems.forEach((n, at) => {
      const grade = Math.floor(at / lengths)
      const colour = Math.floor(grade / gradesLowToHigh.length)
      split.grades[grade] = split.grades[grade]! + n
      split.colours[colour] = split.colours[colour]! + n
    })
    split.total = stems.reduce((sum, n) => sum + n, 0)
    const all = Math.min(split.total, wholeWeek)
    const until = (day: number) => (day < begins ? 0 : Math.round(((day + 1) * all) / 7))
    for (let day = 0; day < 7; day++) split.days[day] = until(day) - until(day - 1)
  }
}

class BitWriter implements Numbers {
  private readonly missed = new Missed()
  private readonly bytes: number[] = []
  private last = 0
  private n = 0

  number(of: NumberKind, guess: number, near: number, n: number): number {
    const at = this.missed.at(of, near)
    const miss = n >= guess ? 2 * (n - guess) : 2 * (guess - n) - 1
    const low = this.missed.lowBits(at)
    const ones = Math.floor(miss / 2 ** low)
    for (let i = 0; i < Math.min(ones, mostOnes); i++) this.bit(1)
    if (ones < mostOnes) this.bit(0)
    for (let k = (ones < mostOnes ? low : 32) - 1; k >= 0; k--) this.bit(Math.floor(miss / 2 ** k) % 2)
    this.missed.learn(at, miss)
    return n
  }

  base64(): string {
    while (this.n > 0) this.bit(0)
    let text = ''
    for (const byte of this.bytes) text += String.fromCharCode(byte)
    return btoa(text)
  }

  private bit(one: number): void {
    this.last = this.last * 2 + one
    if (++this.n < 8) return
    this.bytes.push(this.last)
    this.last = this.n = 0
  }
}
