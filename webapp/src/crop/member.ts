// Who a device belongs to, and what a role may write. Mirrors internal/access.

import type { FarmID, PersonID } from './nouns'

/** An owner does everything; crew count, photograph and flag; a viewer looks on. */
export type Role = 'owner' | 'crew' | 'viewer'

export const roles: readonly Role[] = ['owner', 'crew', 'viewer']

/** The person of the farm to whom a device was given when it joined. */
export interface Member {
  readonly farm: FarmID
  /** '' where the farm has none yet; the same for the person's name. */
  readonly farmName: string
  readonly madeUp: boolean
  readonly person: PersonID
  readonly name: string
  readonly role: Role
  /** In whose name only an owner may record. */
  readonly owners: readonly PersonID[]
}

export function isRole(text: string): text is Role {
  return (roles as readonly string[]).includes(text)
}

/** Whether counts, corrections and bench totals may be recorded. A device that has not joined keeps them until it has. */
export function mayRecord(member: Member | undefined): boolean {
  return member?.role !== 'viewer'
}

/** Whether may be recorded in somebody's name: in an owner's only by an owner, or by who that is. */
export function mayRecordFor(member: Member | undefined, person: PersonID): boolean {
  return member === undefined || mayManage(member) || member.person === person || !member.owners.includes(person)
}

/**
 * Whether somebody's record may be put right: by an owner, by who recorded it, and on the phone that it was
 * recorded on, which may have been handed round.
 */
export function mayCorrect(member: Member | undefined, by: PersonID | '', fromHere: boolean): boolean {
  if (!mayRecord(member)) return false
  return mayManage(member) || fromHere || (member !== undefined && by === member.person)
}

/** Whether everything else may be: beds, what is counted, people, the farm itself. */
export function mayManage(member: Member | undefined): boolean {
  return member?.role === 'owner'
}
