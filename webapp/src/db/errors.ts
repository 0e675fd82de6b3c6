// What the browser's storage errors mean.

import { StorageError } from './records'

/** Names the reason behind a DOMException of IndexedDB. */
export function storageError(doing: string, cause: unknown): StorageError {
  if (cause instanceof StorageError) return cause
  const name = cause instanceof Error || cause instanceof DOMException ? cause.name : ''
  const [reason, hint] = reasons[name] ?? (['unavailable', 'the browser gives no storage here'] as const)
  return new StorageError(reason, `${doing}: ${hint}`, { cause })
}

const reasons: Readonly<Record<string, readonly [StorageError['reason'], string] | undefined>> = {
  QuotaExceededError: ['full', 'the storage of this device is full; free some space'],
  VersionError: ['newer_format', 'a newer version of the app has written here; reload to get it'],
  InvalidStateError: ['closed', 'the storage was closed; reload the page'],
  AbortError: ['unavailable', 'the browser broke off the transaction; reload the page and try again'],
}
