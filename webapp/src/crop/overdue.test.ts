import { expect, it } from 'vitest'
import { addDays } from './day'
import type { Day } from './nouns'
import { overdueOn, toDeliver } from './overdue'
import type { SaleTerms } from './sale_nouns'
import { day, packedWith, salesOf } from './testing/cutting'

const ago = (days: number) => addDays(day, -days)
const dueOn = (due: Day) => ({ stems: 10, colours: 'ember', due })

it.each<[string, Parameters<typeof salesOf>[0], string[]]>([
  ['of yesterday and nothing packed', { lines: [dueOn(ago(1))] }, [ago(1)]],
  ['of a week ago', { lines: [dueOn(ago(7))] }, [ago(7)]],
  ['not of before', { lines: [dueOn(ago(8))] }, []],
  ['not longer than stems keep', { lines: [dueOn(ago(4)), dueOn(ago(3))], terms: { coolerDays: 3 } as SaleTerms }, [ago(3)]],
  ['not longer than a week where they keep for weeks', { lines: [dueOn(ago(8))], terms: { coolerDays: 90 } as SaleTerms }, []],
  ['not of today', { lines: [dueOn(day)] }, []],
  ['not what went out', { lines: [dueOn(ago(1))], packed: [packedWith('l0', 1, {}, ago(1))] }, []],
  ['not what went out late', { lines: [dueOn(ago(3))], packed: [packedWith('l0', 1, {}, ago(1))] }, []],
  ['still while it is being packed today', { lines: [dueOn(ago(1))], packed: [packedWith('l0', 1, {}, day)] }, [ago(1)]],
  ['still where what was packed was taken back', { lines: [dueOn(ago(1))], packed: [packedWith('l0', 0, {}, ago(1))] }, [ago(1)]],
  ['the oldest first', { lines: [dueOn(ago(1)), dueOn(ago(2))] }, [ago(2), ago(1)]],
])('a delivery is overdue: %s', (_, told, want) => {
  expect(overdueOn(salesOf(told), day).map((due) => due.day)).toEqual(want)
})

it('what is to be delivered begins with what is overdue', () => {
  const sales = salesOf({ lines: [dueOn(day), dueOn(ago(1)), dueOn(addDays(day, 1)), dueOn(addDays(day, 2))] })
  expect(toDeliver(sales, day, addDays(day, 1)).map((due) => due.day)).toEqual([ago(1), day, addDays(day, 1)])
})
