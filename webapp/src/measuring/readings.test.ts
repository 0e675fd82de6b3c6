// Keeping readings over the real notebook, with the disk in memory.

import { beforeEach, describe, expect, it } from 'vitest'
import { withdrawnFact } from '../crop/facts'
import type { PhotoHash, PlantID } from '../crop/nouns'
import { PhotoProblem } from '../photos/problem'
import { TestWalk, a, b, day } from '../row/testing/walk'
import { today } from '../ui/today'
import { Readings } from './readings'
import { takenWith } from './testing/taken'

const hash = '0a'.repeat(32) as PhotoHash
const prepared = { bytes: new Uint8Array(3), small: new Uint8Array(1) }
const told = { stage: 'full', light: 'shade' } as const

let walk: TestWalk
let readings: Readings
let brought: PlantID[]
const photos = {
  bring: async (plant: PlantID) => {
    brought.push(plant)
    return { hash, isNew: !(walk.notebook.farm.peek().plants.get(plant)?.photos ?? []).some((photo) => photo.hash === hash) }
  },
}

beforeEach(() => {
  walk = new TestWalk()
  readings = Readings.of(walk.notebook)
  brought = []
})

const plant = (id: PlantID) => walk.notebook.farm.value.plants.get(id)!
const all = () => [...walk.notebook.farm.value.readings.values()]

describe('a reading that is kept', () => {
  it('and its photo are one operation, and the last action', async () => {
    await walk.settled()
    const before = walk.commits
    const reading = await readings.keep(photos, plant(a), takenWith(), told, prepared)
    expect(walk.commits).toBe(before + 1)
    expect(all()).toEqual([reading])
    expect(reading).toMatchObject({ plant: a, photo: hash, stage: 'full', light: 'shade', date: day })
    expect(plant(a).photos.map((photo) => photo.hash)).toEqual([hash])
    expect(readings.last()).toMatchObject({ id: reading.id, plant: a })
    expect(brought).toEqual([a])
  })

  it('stands alone where the photo is not to be kept', async () => {
    expect(await readings.keep(photos, plant(a), takenWith(), told, undefined)).toMatchObject({ photo: '' })
    expect(brought).toEqual([])
    expect(plant(a).photos).toEqual([])
  })

  it('is none where its photo could not be stored', async () => {
    const full = { bring: () => Promise.reject(new PhotoProblem('full', 'storing a photo')) }
    await expect(readings.keep(full, plant(a), takenWith(), told, prepared)).rejects.toThrow('storing a photo')
    expect(all()).toEqual([])
    expect(readings.last()).toBeUndefined()
  })

  it('is none where the photo was refused', async () => {
    await expect(readings.keep(photos, plant(a), takenWith({ refused: true }), told, undefined)).rejects.toThrow('refused')
    expect(all()).toEqual([])
  })
})

describe('taking back', () => {
  it('withdraws the last and takes its photo away, then the one before', async () => {
    const first = await readings.keep(photos, plant(a), takenWith(), told, prepared)
    await readings.keep(photos, plant(b), takenWith(), told, undefined)
    await readings.takeBack()
    expect(all()).toEqual([first])
    expect(readings.last()?.plant).toBe(a)
    await readings.takeBack()
    expect(all()).toEqual([])
    expect(plant(a).photos).toEqual([])
    expect(readings.last()).toBeUndefined()
    expect(await readings.takeBack()).toBeUndefined()
  })

  it('leaves a photo alone that the plant had before', async () => {
    await readings.keep(photos, plant(a), takenWith(), told, prepared)
    await readings.keep(photos, plant(a), takenWith(), told, prepared)
    await readings.takeBack()
    expect(plant(a).photos.map((photo) => photo.hash)).toEqual([hash])
  })

  it('passes over one that was withdrawn elsewhere, until it is brought back', async () => {
    const first = await readings.keep(photos, plant(a), takenWith(), told, undefined)
    const second = await readings.keep(photos, plant(b), takenWith(), told, undefined)
    await walk.notebook.record([withdrawnFact('reading', second.id, true)])
    expect(readings.last()?.id).toBe(first.id)
    await walk.notebook.record([withdrawnFact('reading', second.id, false)])
    expect(readings.last()?.id).toBe(second.id)
  })

  it('outlives a closed app, and ends with the day', async () => {
    await readings.keep(photos, plant(a), takenWith(), told, undefined)
    const reopened = new Readings(walk.notebook)
    expect(reopened.last()?.plant).toBe(a)
    today.value = '2026-06-04' as typeof day
    expect(reopened.last()).toBeUndefined()
  })
})
