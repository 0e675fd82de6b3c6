// What the shed says of its backups is kept as long as it says so.

import { describe, expect, test } from 'vitest'
import { Unpacker } from '../log/batch_unpack'
import { ShapeError } from '../log/canonical'
import type { Fact } from '../log/change'
import { readMessage } from './messages'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const start = 1_780_000_000_000
const name: Fact = { scope: 'field', op: 'set', type: 'bed', id: 'b1', field: 'name', value: 'North' }

function world() {
  const shed = new ShedModel(farm, 'epoch 1', start)
  const time = { now: 0 }
  const phone = new Phone('p', shed, time)
  const told = () => statusOf(phone.book, phone.session).backedUp
  return { shed, phone, told, heal: () => heal([phone], time, shed) }
}

describe('a phone', () => {
  test('knows of no backup before the shed has one', () => {
    const { phone, told, heal } = world()
    phone.record(name)
    heal()
    expect(told()).toBeUndefined()
  })

  test('is told by the welcome', () => {
    const { shed, told, heal } = world()
    shed.backedUp = 7
    heal()
    expect(told()).toMatchObject({ epoch: 'epoch 1', arrival: 7 })
  })

  test('is told while it is here, and knows it after a start', () => {
    const { shed, phone, told, heal } = world()
    phone.record(name)
    heal()
    const heardAt = shed.wall
    shed.backUp()
    heal()
    expect(told()).toEqual({ epoch: 'epoch 1', arrival: 1, heardAt })
    phone.start()
    expect(told()).toEqual({ epoch: 'epoch 1', arrival: 1, heardAt })
    heal() // the welcome says the same: that is not news
    expect(told()).toEqual({ epoch: 'epoch 1', arrival: 1, heardAt })
  })

  test('forgets a backup that is gone', () => {
    const { shed, phone, told, heal } = world()
    phone.record(name)
    shed.backUp(1)
    heal()
    expect(told()).toBeDefined()
    shed.backUp(0)
    heal()
    expect(told()).toBeUndefined()
    phone.start()
    expect(told()).toBeUndefined()
  })

  test('forgets what a shed had backed up that has since been restored', () => {
    const { shed, phone, told, heal } = world()
    phone.record(name)
    heal()
    shed.backUp()
    heal()
    shed.restore(0, 'epoch 2')
    heal()
    expect(told()).toBeUndefined()
    shed.backUp()
    heal()
    expect(told()).toMatchObject({ epoch: 'epoch 2', arrival: 1 })
  })

  test('lets go of nothing that a backup holds', () => {
    const { shed, phone, heal } = world()
    phone.record(name)
    heal()
    shed.backUp()
    heal()
    expect(phone.book.own.beyond(phone.book.pen.incarnation, 0)).toHaveLength(1)
    shed.restore(0, 'epoch 2')
    heal()
    expect(shed.kept).toHaveLength(1)
  })
})

describe('the message', () => {
  const read = (text: string) => readMessage(text, new Unpacker())

  test('is read', () => expect(read('{"t":"backup","arrival":12,"later":1}')).toEqual({ t: 'backup', arrival: 12 }))

  test('is none without its number', () => expect(() => read('{"t":"backup"}')).toThrow(ShapeError))

  test('ends the line where it comes before a welcome', () => {
    const { phone } = world()
    const moment = { now: 0, wall: start }
    phone.session.handle({ kind: 'tick' }, moment)
    expect(phone.session.handle({ kind: 'message', data: '{"t":"backup","arrival":1}' }, moment)).toEqual([{ kind: 'close' }])
  })
})
