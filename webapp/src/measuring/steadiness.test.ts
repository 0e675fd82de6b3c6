import { describe, expect, it } from 'vitest'
import type { Problem } from '../colourcard/measurement'
import { type Look, Steadiness } from './steadiness'

function look(problem: Problem | undefined, shift = 0): Look {
  const corners = [[10, 10], [60, 10], [60, 50], [10, 50]].map(([x, y]) => ({ x: x! + shift, y: y! }))
  return { width: 100, height: 100, card: { corners }, problems: problem ? [problem] : [] }
}

const unseen: Look = { ...look('no_card'), card: undefined }

/** What is said after each of the looks, one every 200 ms. */
function saidOf(looks: readonly Look[]) {
  const steadiness = new Steadiness()
  return looks.map((one, i) => steadiness.after(one, 200 * i))
}

describe('a picture is tried', () => {
  it('once all has been well for half a second', () => {
    expect(saidOf([look(undefined), look(undefined), look(undefined), look(undefined)]).map(({ ready }) => ready)).toEqual([false, false, false, true])
  })

  it('not by one look alone, however late the next comes', () => {
    const steadiness = new Steadiness()
    steadiness.after(look('dark'), 0)
    expect(steadiness.after(look(undefined), 5000).ready).toBe(false)
    expect(steadiness.after(look(undefined), 5600).ready).toBe(true)
  })

  it('not while something is wrong in between', () => {
    expect(saidOf([look(undefined), look(undefined), look('blurred'), look(undefined), look(undefined)]).some(({ ready }) => ready)).toBe(false)
  })

  it('not while the card moves', () => {
    expect(saidOf([look(undefined, 0), look(undefined, 5), look(undefined, 10), look(undefined, 15)]).some(({ ready }) => ready)).toBe(false)
  })

  it('while a hand trembles a little', () => {
    expect(saidOf([look(undefined, 0), look(undefined, 1), look(undefined, 0), look(undefined, 1)]).at(-1)?.ready).toBe(true)
  })
})

describe('after a head was kept on a walk', () => {
  it('nothing is taken by itself while its card stays in sight', () => {
    const steadiness = new Steadiness(true)
    const said = Array.from({ length: 9 }, (_, i) => steadiness.after(look(undefined), 200 * i))
    expect(said.some(({ ready }) => ready)).toBe(false)
    expect(said.every(({ stale }) => stale)).toBe(true)
  })

  it('nor where a hand that shakes hid the card for some looks', () => {
    const steadiness = new Steadiness(true)
    const hidden = new Set([1, 2, 3, 6, 7, 8])
    const said = Array.from({ length: 20 }, (_, i) => steadiness.after(hidden.has(i) ? unseen : look(undefined), 200 * i))
    expect(said.some(({ ready }) => ready)).toBe(false)
    expect(said.every(({ stale }) => stale)).toBe(true)
  })

  it('the next is, once the card was out of sight for a second', () => {
    const steadiness = new Steadiness(true)
    for (let at = 0; at <= 1000; at += 200) steadiness.after(unseen, at)
    steadiness.after(look(undefined), 1200)
    expect(steadiness.after(look(undefined), 1700)).toMatchObject({ ready: true, stale: false })
  })
})

describe('what is said', () => {
  it('is what was found in the whole picture, until it is tried again or the card shows something else', () => {
    const steadiness = new Steadiness()
    for (let at = 0; at < 800; at += 200) steadiness.after(look(undefined), at)
    steadiness.tried('no_head')
    expect(steadiness.after(look(undefined), 800)).toMatchObject({ problem: 'no_head', ready: false })
    expect(steadiness.after(look(undefined), 1400)).toMatchObject({ problem: 'no_head', ready: true })
    steadiness.after(look('far'), 1600)
    expect(steadiness.after(look('far'), 1800).problem).toBe('far')
    steadiness.after(look(undefined), 2000)
    expect(steadiness.after(look(undefined), 2200).problem).toBeUndefined()
  })

  it('comes at once at first, and later with the second look that says so', () => {
    const said = saidOf([look('no_card'), look('far'), look('no_card'), look('far'), look('far'), look(undefined), look(undefined)])
    expect(said.map(({ problem }) => problem)).toEqual(['no_card', 'no_card', 'no_card', 'no_card', 'far', 'far', undefined])
  })
})
