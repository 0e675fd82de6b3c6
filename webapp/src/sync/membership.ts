// Keeps the device told to whom it belongs: asks at the shed's door whenever the shed was just reached.

import type { Member } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import type { Device } from '../db/device_db'
import type { Door, Entered } from './door'
import type { Link } from './events'
import { inReach } from './reach'

/** Stores on the device what the shed says of it. Who counts stays, unless the device was given to somebody else. */
export async function settleMember(device: Device, { device: id, member }: Entered): Promise<void> {
  const person = whoCounts(device, member)
  const same = device.id === id && device.person === person && JSON.stringify(device.member) === JSON.stringify(member)
  if (!same) await device.setMember(id, member, person)
}

function whoCounts({ farm, member: before, person }: Device, member: Member): PersonID {
  const anew = farm !== member.farm || before?.person !== member.person
  // One who looks on signs nothing: nobody else takes their place.
  return anew || member.role === 'viewer' || person === '' ? member.person : person
}

export class Membership {
  private reached = false

  constructor(
    private readonly door: Door,
    private readonly device: Device,
    private readonly onEntered: (entered: Entered) => Promise<void>,
  ) {}

  /** The line to the shed stands thus now. A shed that is open to all lets in whom its line does not know. */
  follow(link: Link, refusal: string | undefined): void {
    const reached = inReach({ link }) || (link === 'refused' && refusal === 'join')
    const first = reached && !this.reached
    this.reached = reached
    if (first) void this.ask()
  }

  private async ask(): Promise<void> {
    try {
      const entry = await this.door.enter(this.device.id)
      if (entry.kind === 'member') await this.onEntered(entry)
    } catch (reason) {
      console.error('keeping to whom this device belongs', reason) // what was known stands, and it is asked again
    }
  }
}
