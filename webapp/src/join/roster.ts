// Who has joined the farm, as the shed tells its owners, and what owners do about it.

import type { Role } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import { ShapeError, textOf } from '../log/canonical'
import { type Answer, ask, type Fields, listOf, momentOf, optionalNumber, optionalText, recordOf } from './ask'
import { idOf, roleOf } from './door'

export interface Roster {
  /** The farm's address. */
  readonly origin: string
  readonly devices: readonly JoinedDevice[]
  readonly people: readonly Standing[]
  readonly invitations: readonly Invitation[]
  /** When an older copy of the farm was put back, ms since 1970; 0 where it never was, or an owner has looked since. */
  readonly restored: number
}

/** A person of the farm and what they may do. */
export interface Standing {
  readonly person: PersonID
  readonly name: string
  readonly role: Role
}

export interface JoinedDevice extends Standing {
  readonly device: string
  readonly label: string
  /** Moments in ms since 1970, 0 for never. */
  readonly joined: number
  readonly seen: number
  readonly withdrawn: number
  /** What it last said that it holds unsent; undefined where it never did. */
  readonly unsent: number | undefined
  readonly connected: boolean
  /** It was not heard of for so long that it has to join again. */
  readonly forgotten: boolean
}

export interface Invitation extends Standing {
  readonly id: string
  readonly expires: number
}

/** An invitation as it was just made: nobody is told its code again. */
export interface Invited {
  readonly id: string
  /** As people read it, ABCD-EFGH. */
  readonly code: string
  readonly link: string
  readonly expires: number
  /** The link as a QR code without its quiet zone: rows of 0 and 1. */
  readonly qr: readonly string[]
  /** What comes first for a phone that does not trust the farm's own authority yet. */
  readonly trust: Trust | undefined
}

/** Where a phone learns to trust the farm, and the fingerprint that it then should see. */
export interface Trust {
  readonly link: string
  readonly fingerprint: string
  readonly qr: readonly string[]
}

export function askRoster(): Promise<Answer<Roster>> {
  return ask('GET', '/api/devices', rosterOf)
}

export function invite(person: PersonID, name: string, role: Role): Promise<Answer<Invited>> {
  return ask('POST', '/api/invitations', invitedOf, { person, name, role })
}

export function takeInvitationBack(id: string): Promise<Answer<undefined>> {
  return ask('DELETE', `/api/invitations/${encodeURIComponent(id)}`, () => undefined)
}

export function withdraw(device: string): Promise<Answer<undefined>> {
  return ask('POST', `/api/devices/${encodeURIComponent(device)}/withdraw`, () => undefined)
}

export function withdrawPerson(person: PersonID): Promise<Answer<undefined>> {
  return ask('POST', `/api/members/${encodeURIComponent(person)}/withdraw`, () => undefined)
}

/** An owner has looked who may come since an older copy was put back. */
export function looked(): Promise<Answer<undefined>> {
  return ask('POST', '/api/devices/looked', () => undefined)
}

export function giveRole(person: PersonID, role: Role): Promise<Answer<undefined>> {
  return ask('POST', `/api/members/${encodeURIComponent(person)}/role`, () => undefined, { role })
}

export function rosterOf(answer: Fields): Roster {
  return {
    origin: optionalText(answer['origin']),
    devices: listOf(answer['devices'], (one) => deviceOf(recordOf(one))),
    people: listOf(answer['members'], (one) => standingOf(recordOf(one))),
    invitations: listOf(answer['invitations'], (one) => invitationOf(recordOf(one))),
    restored: momentOf(answer['restored']),
  }
}

function standingOf(fields: Fields): Standing {
  return { person: idOf(fields['person']) as PersonID, name: optionalText(fields['name']), role: roleOf(fields['role']) }
}

function deviceOf(fields: Fields): JoinedDevice {
  return {
    ...standingOf(fields),
    device: idOf(fields['device']),
    label: optionalText(fields['label']),
    joined: momentOf(fields['joined']),
    seen: momentOf(fields['seen']),
    withdrawn: momentOf(fields['withdrawn']),
    unsent: optionalNumber(fields['unsent']),
    connected: fields['connected'] === true,
    forgotten: fields['forgotten'] === true, // a shed of before that was told says nothing
  }
}

function invitationOf(fields: Fields): Invitation {
  return { ...standingOf(fields), id: idOf(fields['id']), expires: momentOf(fields['expires']) }
}

export function invitedOf(fields: Fields): Invited {
  return {
    id: idOf(fields['id']),
    code: textOf(fields['code']),
    link: textOf(fields['link']),
    expires: momentOf(fields['expires']),
    qr: qrOf(fields['qr']),
    trust: fields['trust'] === null ? undefined : trustOf(recordOf(fields['trust'])),
  }
}

function trustOf(fields: Fields): Trust {
  return { link: textOf(fields['link']), fingerprint: textOf(fields['fingerprint']), qr: qrOf(fields['qr']) }
}

function qrOf(part: unknown): string[] {
  const rows = listOf(part, textOf)
  if (rows.some((row) => row.length !== rows.length || /[^01]/.test(row))) throw new ShapeError('a QR code is not a square of 0 and 1')
  return rows
}
