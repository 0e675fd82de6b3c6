// The columns of a count grid: the lengths in use, those asked for today, and those counted in here.

import { useMemo } from 'preact/hooks'
import type { Count } from '../crop/nouns'
import { lengthsAsked } from './device'
import { type LengthsInUse, lengthsInUse, withLengths } from './lengths'
import { useNotebook } from './notebook'
import { today } from './today'

export function useLengths(counted: readonly Count[]): LengthsInUse {
  const farm = useNotebook().farm
  // Every count of a year is looked at, which no tap should wait for.
  const inUse = useMemo(() => lengthsInUse(farm.peek(), today.value), [today.value])
  const asked = lengthsAsked.value?.day === today.value ? lengthsAsked.value.lengths : []
  return withLengths(inUse, [...asked, ...counted.map(({ length }) => length)])
}
