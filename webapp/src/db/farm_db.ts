// One farm's records in IndexedDB. Every batch is one strictly durable transaction.

import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb'
import { openDB } from 'idb'
import { storageError } from './errors'
import { packedChunk } from './format_1'
import type { Format1Chunk } from './format_1'
import type { Contents, DraftOperation, HistoryChunk, OwnOperation, Store, Write } from './records'
import { StorageError } from './records'

/** 2: history is kept packed. */
const format = 2

interface FarmSchema extends DBSchema {
  /** 'pen', 'reading', and 'holder': the token of the tab that may write. */
  meta: { key: string; value: unknown }
  drafts: { key: number; value: DraftOperation }
  own: { key: [string, number]; value: OwnOperation }
  history: { key: [number, number]; value: HistoryChunk }
  kept: { key: string; value: unknown }
}

const stores: StoreNames<FarmSchema>[] = ['meta', 'drafts', 'own', 'history', 'kept']
type UpgradeTransaction = IDBPTransaction<FarmSchema, StoreNames<FarmSchema>[], 'versionchange'>
type WriteTransaction = IDBPTransaction<FarmSchema, StoreNames<FarmSchema>[], 'readwrite'>

export interface OpenFarmDB {
  readonly store: Store
  readonly contents: Contents
}

/**
 * Opens a farm's database and takes the right to write in it: another tab that had it will find so
 * at its next batch. onLost is called when a newer version of the app takes the database, onClosed
 * when the browser closes it.
 */
export async function openFarmDB(
  farm: string, holder: string, onLost: () => void, onClosed: () => void,
): Promise<OpenFarmDB> {
  try {
    const db = await openDB<FarmSchema>(`corymb farm ${farm}`, format, {
      upgrade: (db, before, _to, tx) => (before === 0 ? createStores(db) : void fromFormat1(tx)),
      blocking: (_current, _blocked, event) => {
        ;(event.target as IDBDatabase).close()
        onLost()
      },
      terminated: onClosed,
    })
    const tx = db.transaction(stores, 'readwrite', { durability: 'strict' })
    await tx.objectStore('meta').put(holder, 'holder')
    const contents = await readAll(tx)
    await tx.done
    return { store: new FarmDB(db, holder), contents }
  } catch (cause) {
    throw storageError(`opening the records of farm ${farm}`, cause)
  }
}

function createStores(db: IDBPDatabase<FarmSchema>): void {
  db.createObjectStore('meta')
  db.createObjectStore('drafts', { keyPath: 'id' })
  db.createObjectStore('own', { keyPath: ['incarnation', 'first'] })
  db.createObjectStore('history', { keyPath: ['generation', 'number'] })
  db.createObjectStore('kept')
}

/** All of it or nothing: where it fails, or the app is killed meanwhile, format 1 stands and is tried again. */
async function fromFormat1(tx: UpgradeTransaction): Promise<void> {
  tx.done.catch(() => {}) // the opening is rejected too
  try {
    await packHistory(tx)
  } catch (cause) {
    console.error('bringing the records of a farm to format 2', cause)
    abort(tx)
  }
}

function abort(tx: UpgradeTransaction): void {
  try {
    tx.abort()
  } catch {
    // The browser has aborted it itself.
  }
}

/**
 * From format 1: what was recorded here is left as it lies, byte for byte. What the shed told is packed,
 * shown on, and read anew when the shed is near.
 */
async function packHistory(tx: UpgradeTransaction): Promise<void> {
  const meta = tx.objectStore('meta')
  const reading = (await meta.get('reading')) as Contents['reading']
  if (reading) await meta.put({ ...reading, cursor: null, staging: null }, 'reading')
  for (let at = await tx.objectStore('history').openCursor(); at; at = await at.continue()) {
    const chunk = at.value.generation === reading?.generation ? packed(at.value as unknown as Format1Chunk) : undefined
    await (chunk ? at.update(chunk) : at.delete())
  }
}

/** undefined where it cannot be read: the shed tells it again. */
function packed(chunk: Format1Chunk): HistoryChunk | undefined {
  try {
    return packedChunk(chunk)
  } catch (cause) {
    console.error(`packing chunk ${chunk.number} of the history`, cause)
    return undefined
  }
}

async function readAll(tx: WriteTransaction): Promise<Contents> {
  const kept = tx.objectStore('kept')
  const [pen, reading, drafts, own, chunks, names, values] = await Promise.all([
    tx.objectStore('meta').get('pen'),
    tx.objectStore('meta').get('reading'),
    tx.objectStore('drafts').getAll(),
    tx.objectStore('own').getAll(),
    tx.objectStore('history').getAll(),
    kept.getAllKeys(),
    kept.getAll(),
  ])
  return {
    pen: pen as Contents['pen'],
    reading: reading as Contents['reading'],
    drafts,
    own,
    chunks,
    kept: new Map(names.map((name, i) => [name, values[i]])),
  }
}

class FarmDB implements Store {
  constructor(
    private readonly db: IDBPDatabase<FarmSchema>,
    private readonly holder: string,
  ) {}

  async commit(writes: readonly Write[]): Promise<void> {
    try {
      const tx = this.db.transaction(stores, 'readwrite', { durability: 'strict' })
      // A failed request also rejects tx.done, which carries the reason.
      const done = tx.done
      done.catch(() => {})
      // Asked in the same breath as the puts: waiting for the answer first would double a tap's time.
      const held = tx.objectStore('meta').get('holder')
      held.then(token => token === this.holder || tx.abort(), () => {})
      putAll(tx, writes)
      if ((await held) !== this.holder) {
        throw new StorageError('lost', 'storing records: another tab has taken over this farm')
      }
      await done
    } catch (cause) {
      throw storageError('storing records', cause)
    }
  }

  close(): void {
    this.db.close()
  }
}

/** A value that cannot be stored at all throws at once: then nothing of the batch may stand. */
function putAll(tx: WriteTransaction, writes: readonly Write[]): void {
  try {
    for (const write of writes) put(tx, write).catch(() => {})
  } catch (cause) {
    tx.abort()
    throw cause
  }
}

function put(tx: WriteTransaction, write: Write): Promise<unknown> {
  switch (write.kind) {
    case 'pen':
      return tx.objectStore('meta').put(write.pen, 'pen')
    case 'reading':
      return tx.objectStore('meta').put(write.reading, 'reading')
    case 'draft':
      return tx.objectStore('drafts').put(write.draft)
    case 'drop_draft':
      return tx.objectStore('drafts').delete(write.draft)
    case 'own':
      return tx.objectStore('own').put(write.operation)
    case 'chunk':
      return tx.objectStore('history').put(write.chunk)
    case 'forget':
      return tx.objectStore('history').delete(IDBKeyRange.bound([write.generation], [write.generation, []]))
    case 'kept':
      return tx.objectStore('kept').put(write.value, write.name)
  }
}
