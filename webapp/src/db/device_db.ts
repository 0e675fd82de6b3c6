// What belongs to the device and not to a farm: its id, its farm, its person.

import type { DBSchema, IDBPDatabase } from 'idb'
import { openDB } from 'idb'
import { storageError } from './errors'

const format = 1

interface DeviceSchema extends DBSchema {
  settings: { key: string; value: string }
}

export interface Device {
  readonly id: string
  /** '' until the shed was asked once. */
  readonly farm: string
  readonly person: string
  setFarm(farm: string): Promise<void>
  setPerson(person: string): Promise<void>
  close(): void
}

/**
 * Opens the device's database; newID mints the device's id the first time. onLost is called when a
 * newer version of the app takes the database, onClosed when the browser closes it.
 */
export async function openDevice(newID: () => string, onLost: () => void, onClosed: () => void): Promise<Device> {
  try {
    const db = await openDB<DeviceSchema>('corymb device', format, {
      upgrade: db => void db.createObjectStore('settings'),
      blocking: (_current, _blocked, event) => {
        ;(event.target as IDBDatabase).close()
        onLost()
      },
      terminated: onClosed,
    })
    const tx = db.transaction('settings', 'readwrite', { durability: 'strict' })
    const [id, farm, person] = await Promise.all(['device', 'farm', 'person'].map(name => tx.store.get(name)))
    const known = id ?? newID()
    if (id === undefined) await tx.store.put(known, 'device')
    await tx.done
    return new DeviceDB(db, known, farm ?? '', person ?? '')
  } catch (cause) {
    throw storageError("opening the device's settings", cause)
  }
}

class DeviceDB implements Device {
  constructor(
    private readonly db: IDBPDatabase<DeviceSchema>,
    readonly id: string,
    public farm: string,
    public person: string,
  ) {}

  async setFarm(farm: string): Promise<void> {
    await this.set('farm', farm)
    this.farm = farm
  }

  async setPerson(person: string): Promise<void> {
    await this.set('person', person)
    this.person = person
  }

  close(): void {
    this.db.close()
  }

  private async set(name: string, value: string): Promise<void> {
    try {
      const tx = this.db.transaction('settings', 'readwrite', { durability: 'strict' })
      void tx.store.put(value, name).catch(() => {})
      await tx.done
    } catch (cause) {
      throw storageError(`storing the device's ${name}`, cause)
    }
  }
}
