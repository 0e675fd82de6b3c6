// The shed's door for tests: it answers what it is set to.

import type { Member } from '../../crop/member'
import type { FarmID, PersonID } from '../../crop/nouns'
import type { Door, Entered, Entry } from '../door'

export class DoorModel implements Door {
  /** The devices that asked, in turn. */
  readonly asked: string[] = []

  constructor(public entry: Entry) {}

  enter(device: string): Promise<Entry> {
    this.asked.push(device)
    return Promise.resolve(this.entry)
  }
}

export function entered(device: string, farm: string, member: Partial<Member> = {}): Entered {
  const ana = { farm: farm as FarmID, farmName: 'Test farm', madeUp: false, person: 'ana' as PersonID, name: 'Ana', role: 'crew' as const, owners: [] }
  return { kind: 'member', device, member: { ...ana, ...member } }
}
