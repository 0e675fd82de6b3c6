// What became of an invitation, and the roster by person.

import type { PersonID } from '../crop/nouns'
import type { Invited, JoinedDevice, Roster, Standing } from '../join/roster'

export interface Waiting {
  readonly invited: Invited
  readonly person: PersonID
  /** As it stood before the invitation was made. */
  readonly before: Roster
}

export type Outcome =
  | { readonly kind: 'open' }
  | { readonly kind: 'used'; readonly device: JoinedDevice }
  | { readonly kind: 'expired' }
  /** Taken back, perhaps on another device. */
  | { readonly kind: 'gone' }

/** now is ms since 1970 by the shed's clock, by which invitations end. */
export function outcomeOf({ invited, person, before }: Waiting, roster: Roster, now: number): Outcome {
  if (roster === before) return now < invited.expires ? { kind: 'open' } : { kind: 'expired' } // not told of since
  if (roster.invitations.some(({ id }) => id === invited.id)) return now < invited.expires ? { kind: 'open' } : { kind: 'expired' }
  const known = new Set(before.devices.map(joining))
  const device = roster.devices.find((one) => one.person === person && one.withdrawn === 0 && !known.has(joining(one)))
  if (device) return { kind: 'used', device }
  return now < invited.expires ? { kind: 'gone' } : { kind: 'expired' }
}

/** Of its own each time that a device joins. */
function joining({ device, joined }: JoinedDevice): string {
  return `${device} ${joined}`
}

export interface PersonsDevices extends Standing {
  readonly devices: readonly JoinedDevice[]
}

/** Everybody who may do something, by name; of each the devices, the withdrawn ones last. */
export function byPerson({ people, devices }: Roster): PersonsDevices[] {
  const standings = new Map<PersonID, Standing>([...devices, ...people].map(({ person, name, role }) => [person, { person, name, role }]))
  return [...standings.values()]
    .map((one) => ({ ...one, devices: devices.filter(({ person }) => person === one.person).sort(bySeen) }))
    .sort((a, b) => a.name.localeCompare(b.name))
}

/** What devices said that they hold unsent, and which of them have said nothing. */
export interface Held {
  readonly unsent: number
  readonly silent: readonly string[]
}

export function heldBy(devices: readonly JoinedDevice[]): Held {
  return {
    unsent: devices.reduce((sum, { unsent }) => sum + (unsent ?? 0), 0),
    silent: devices.filter(({ unsent }) => unsent === undefined).map(({ label }) => label),
  }
}

function bySeen(a: JoinedDevice, b: JoinedDevice): number {
  return a.withdrawn - b.withdrawn || b.seen - a.seen
}

/** Minutes and seconds that are left, "9:05"; "0:00" when it is over. */
export function timeLeft(ms: number): string {
  const seconds = Math.max(0, Math.ceil(ms / 1000))
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`
}
