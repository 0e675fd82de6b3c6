// What long lists count on: a row that is a component of its own and reads a signal, as all words do, is drawn
// again only when something that it is given is another. Rows must be given texts and objects that stay the same.

import { signal } from '@preact/signals'
import { createElement, render } from 'preact'
import { useState } from 'preact/hooks'
import { expect, it } from 'vitest'

it.each([['', false], [' that holds state', true]])('a row%s is drawn for what it is given and for signals that it reads, and for nothing else', async (_, holds) => {
  const drawn: string[] = []
  const read = signal('a')
  function Row({ on }: { readonly on: boolean }) {
    if (holds) useState('typed')
    drawn.push(`${on} ${read.value}`)
    return null
  }
  const page = { childNodes: [], firstChild: null } as unknown as Element
  for (const on of [true, true, false]) render(createElement(Row, { on }), page)
  expect(drawn).toEqual(['true a', 'false a'])
  read.value = 'b'
  await new Promise((settled) => setTimeout(settled, 20))
  expect(drawn).toEqual(['true a', 'false a', 'false b'])
})
