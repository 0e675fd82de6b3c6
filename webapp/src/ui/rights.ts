// What the person to whom this device belongs may do on it: what they may not is not offered.

import { mayManage, mayRecord } from '../crop/member'
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
