// What belongs to the device and not to a farm: its id, its farm, to whom it belongs, who counts on it.

import type { DBSchema, IDBPDatabase } from 'idb'
import { openDB } from 'idb'
import type { Member } from '../crop/member'
import { isRole } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import { storageError } from './errors'

const format = 1

interface DeviceSchema extends DBSchema {
  settings: { key: string; value: string }
}

export interface Device {
  readonly id: string
  /** '' until the device joined one. */
  readonly farm: string
  /** Who counts on it; '' until it joined. */
  readonly person: PersonID | ''
  /** To whom it belongs, as the shed last said; undefined until it joined. */
  readonly member: Member | undefined
  setPerson(person: PersonID): Promise<void>
  /** Stores under which id and to whom it belongs, and who counts on it from now on. */
  setMember(id: string, member: Member, person: PersonID): Promise<void>
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
    const [id, farm, person, member] = await Promise.all(['device', 'farm', 'person', 'member'].map(name => tx.store.get(name)))
    const known = id ?? newID()
    if (id === undefined) await tx.store.put(known, 'device')
    await tx.done
    return new DeviceDB(db, known, farm ?? '', (person ?? '') as PersonID | '', storedMember(member))
  } catch (cause) {
    throw storageError("opening the device's settings", cause)
  }
}

/** The member as it was stored; one that cannot be read is asked for again. */
function storedMember(text: string | undefined): Member | undefined {
  if (text === undefined) return undefined
  const member = JSON.parse(text) as Member
  return isRole(member.role) ? member : undefined
}

class DeviceDB implements Device {
  constructor(
    private readonly db: IDBPDatabase<DeviceSchema>,
    public id: string,
    public farm: string,
    public person: PersonID | '',
    public member: Member | undefined,
  ) {}

  async setPerson(person: PersonID): Promise<void> {
    await this.store({ person })
    this.person = person
  }

  async setMember(id: string, member: Member, person: PersonID): Promise<void> {
    await this.store({ device: id, farm: member.farm, person, member: JSON.stringify(member) })
    this.id = id
    this.farm = member.farm
    this.person = person
    this.member = member
  }

  close(): void {
    this.db.close()
  }

  private async store(settings: Readonly<Record<string, string>>): Promise<void> {
    try {
      const tx = this.db.transaction('settings', 'readwrite', { durability: 'strict' })
      for (const [name, value] of Object.entries(settings)) void tx.store.put(value, name).catch(() => {})
      await tx.done
    } catch (cause) {
      throw storageError(`storing the device's ${Object.keys(settings).join(', ')}`, cause)
    }
  }
}
