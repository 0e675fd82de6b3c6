// Names that JavaScript gives a meaning of its own are names like any other in what comes over the wire.

import { expect, test } from 'vitest'
import { canonical, readChange } from './canonical'
import { State } from './state'

const change = (type: string, id: string, field: string, extra: string) =>
  readChange(`["6f1c9d0e-52a5-4a55-9b43-7f4f5a1d2c3b",1,1,0,0,"","field","set",${JSON.stringify(type)},${JSON.stringify(id)},${JSON.stringify(field)},"polluted",${extra},0]`)

test.each(['__proto__', 'constructor', 'prototype', 'toString'])('%s changes no other object', name => {
  const extra = /^[a-z_]+$/.test(name) ? `{${JSON.stringify(name)}:"polluted"}` : '{}'
  const read = change(name, name, name, extra)
  expect(canonical(read)).toContain(extra)
  const state = new State()
  state.merge(read, read.stamp)
  expect(Object.getPrototypeOf({})).toBe(Object.prototype)
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
  expect(JSON.stringify({})).toBe('{}')
  expect(Object.getPrototypeOf(read)).toBe(Object.prototype)
})
