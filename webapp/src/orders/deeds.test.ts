import { beforeEach, describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { orderFacts } from '../crop/sale_facts'
import type { OrderID } from '../crop/sale_nouns'
import { notebookOf } from '../packing/testing/shop'
import { doPlanned, lastDone, pageOpened, undoLast } from './deeds'
import { withdrawOrder } from './order_deeds'
import { ground, orderWith, written } from './testing/sold'
import { dueOf } from '../crop/due'

const shop = async () => (await notebookOf('0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', 'maren', ...ground, ...written)).notebook
const order = 'order' as OrderID

beforeEach(() => { lastDone.value = undefined })

describe('what was done last', () => {
  it('is planned from what stands when its turn comes, and one tap that came twice is one deed, whole to be taken back', async () => {
    const notebook = await shop()
    const facts: Fact[] = orderFacts(orderWith({ note: 'back door' }))
    const before = notebook.record(facts)
    let planned = 0
    const tap = () => doPlanned(notebook, (sales) => {
      planned++
      expect(sales.orders.get(order)?.note).toBe('back door')
      return withdrawOrder(dueOf(sales, order)!)
    }, 'withdrawn')
    await Promise.all([before, tap(), tap()])
    expect([planned, notebook.farm.peek().sales.orders.has(order)]).toEqual([1, false])
    await undoLast(notebook, 'taken back')
    expect(dueOf(notebook.farm.peek().sales, order)?.lines.length).toBe(1)
    expect(lastDone.peek()).toBeUndefined()
  })

  it('is another deed where another was asked for', async () => {
    const notebook = await shop()
    const note = (text: string) => doPlanned(notebook, () => ({ facts: orderFacts(orderWith({ note: text })), undo: [] }), text)
    await Promise.all([note('one'), note('two')])
    expect([notebook.farm.peek().sales.orders.get(order)?.note, lastDone.peek()?.said]).toEqual(['two', 'two'])
  })

  it('is told on the page that it leads to, and not longer', async () => {
    await doPlanned(await shop(), () => ({ facts: [], undo: [] }), 'saved')
    pageOpened()
    expect(lastDone.peek()?.said).toBe('saved')
    pageOpened()
    expect(lastDone.peek()).toBeUndefined()
  })
})
