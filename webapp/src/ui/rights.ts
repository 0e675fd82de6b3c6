// What the person to whom this device belongs may do on it: what they may not is not offered.

import { mayCorrect, mayManage, mayRecord } from '../crop/member'
import type { Visit } from '../crop/nouns'
import { useNotebook } from './notebook'

export interface Rights {
  /** Counts, corrections, bench totals. */
  readonly record: boolean
  /** Beds, what is counted, people, devices, the farm's settings. */
  readonly manage: boolean
}

export function useRights(): Rights {
  const member = useNotebook().member.value
  return { record: mayRecord(member), manage: mayManage(member) }
}

/** Whether a visit may be put right here. */
export function useMayCorrect(visit: Visit): boolean {
  const notebook = useNotebook()
  return mayCorrect(notebook.member.value, visit.person, notebook.isFromHere(visit.id))
}
