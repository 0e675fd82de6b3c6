// The bytes of photos in IndexedDB, in a database of their own beside a farm's records. They are kept as
// arrays of bytes and not as Blobs: a Blob is a file beside the database, which browsers have lost (Safari
// above all; from memory), and bytes stand or fall with the transaction that tells of them.

import type { DBSchema, IDBPDatabase, IDBPTransaction } from 'idb'
import { openDB } from 'idb'
import type { PhotoHash, PlantID } from '../crop/nouns'
import { storageError } from '../db/errors'

const format = 1

export type Bytes = Uint8Array<ArrayBuffer>

/** A photo that was taken or chosen on this device, as long as its bytes are here. */
export interface OwnPhoto {
  readonly hash: PhotoHash
  /** The plants to which it was put on this device. */
  readonly plants: readonly PlantID[]
  /** Bytes. */
  readonly size: number
  /** When it was stored, ms since 1970. */
  readonly at: number
  /** 'sent': the shed last said that it has it whole. */
  readonly state: 'waiting' | 'sent'
  /** The code with which the shed refused it for good, or ''. */
  readonly refusal: string
}

interface Small {
  readonly hash: PhotoHash
  readonly bytes: Bytes
  /** When it came, ms since 1970. */
  readonly at: number
}

interface PhotoSchema extends DBSchema {
  own: { key: PhotoHash; value: OwnPhoto }
  /** Those of each photo in 'own'. */
  bytes: { key: PhotoHash; value: Bytes }
  /** Thumbnails, of photos of other phones too. */
  small: { key: PhotoHash; value: Small; indexes: { at: number } }
}

type Stores = ('own' | 'bytes' | 'small')[]
const stores: Stores = ['own', 'bytes', 'small']

/** Opens the photos of a farm. What goes wrong, here and below, is a StorageError. */
export async function openPhotoDB(farm: string): Promise<PhotoDB> {
  try {
    const db = await openDB<PhotoSchema>(`corymb photos ${farm}`, format, {
      upgrade: made => {
        made.createObjectStore('own', { keyPath: 'hash' })
        made.createObjectStore('bytes')
        made.createObjectStore('small', { keyPath: 'hash' }).createIndex('at', 'at')
      },
      blocking: (_current, _blocked, event) => (event.target as IDBDatabase).close(), // for a newer version of the app
    })
    return new PhotoDB(db)
  } catch (cause) {
    throw storageError(`opening the photos of farm ${farm}`, cause)
  }
}

export class PhotoDB {
  constructor(private readonly db: IDBPDatabase<PhotoSchema>) {}

  async own(): Promise<OwnPhoto[]> {
    return this.asked('reading which photos are here', () => this.db.getAll('own'))
  }

  async bytes(hash: PhotoHash): Promise<Bytes | undefined> {
    return this.asked('reading a photo', () => this.db.get('bytes', hash))
  }

  async small(hash: PhotoHash): Promise<Bytes | undefined> {
    return this.asked('reading a thumbnail', async () => (await this.db.get('small', hash))?.bytes)
  }

  /**
   * Stores a photo and tells what is known of it then. One that is here keeps its state, and its plants; one
   * whose bytes were lost has them again.
   */
  async keep(photo: OwnPhoto, bytes: Bytes, small: Bytes): Promise<OwnPhoto> {
    return this.written('storing a photo', async tx => {
      const before = await tx.objectStore('own').get(photo.hash)
      const plants = [...new Set([...(before?.plants ?? []), ...photo.plants])]
      const refusal = before?.refusal === 'lost' ? '' : before?.refusal
      const kept = { ...photo, ...(before && { state: before.state }), ...(refusal !== undefined && { refusal }), plants }
      asking(tx.objectStore('own').put(kept))
      asking(tx.objectStore('bytes').put(bytes, photo.hash))
      asking(tx.objectStore('small').put({ hash: photo.hash, bytes: small, at: photo.at }))
      return kept
    })
  }

  /** Notes what the shed said of photos; of those that are not here any more, nothing. */
  async mark(marks: readonly Pick<OwnPhoto, 'hash' | 'state' | 'refusal'>[]): Promise<OwnPhoto[]> {
    return this.written('noting what the shed said of photos', async tx => {
      const own = tx.objectStore('own')
      const found = await Promise.all(marks.map(({ hash }) => own.get(hash)))
      const marked = marks.flatMap((mark, i) => (found[i] ? [{ ...found[i], ...mark }] : []))
      for (const photo of marked) asking(own.put(photo))
      return marked
    })
  }

  /** Lets go of the bytes of photos; their thumbnails stay. */
  async letGo(hashes: readonly PhotoHash[]): Promise<void> {
    await this.written('letting go of photos', async tx => {
      for (const hash of hashes) deleteFrom(tx, ['own', 'bytes'], hash)
    })
  }

  /** Drops photos and their thumbnails. */
  async drop(hashes: readonly PhotoHash[]): Promise<void> {
    await this.written('dropping photos', async tx => {
      for (const hash of hashes) deleteFrom(tx, stores, hash)
    })
  }

  /** Stores a thumbnail that came from the shed. Beyond so many, those that came first go; own ones stay. */
  async keepSmall(small: Small, most: number): Promise<void> {
    await this.written('storing a thumbnail', async tx => {
      const smalls = tx.objectStore('small')
      await smalls.put(small)
      let over = (await smalls.count()) - most
      if (over <= 0) return
      const own = new Set(await tx.objectStore('own').getAllKeys())
      for (let at = await smalls.index('at').openCursor(); at && over > 0; at = await at.continue()) {
        if (own.has(at.value.hash)) continue
        asking(at.delete())
        over--
      }
    })
  }

  close(): void {
    this.db.close()
  }

  private async asked<T>(doing: string, ask: () => Promise<T>): Promise<T> {
    try {
      return await ask()
    } catch (cause) {
      throw storageError(doing, cause)
    }
  }

  /** One strictly durable transaction. It resolves once what was written is on disk. */
  private async written<T>(doing: string, write: (tx: WriteTransaction) => Promise<T>): Promise<T> {
    return this.asked(doing, async () => {
      const tx = this.db.transaction(stores, 'readwrite', { durability: 'strict' })
      // A failed request also rejects tx.done, which carries the reason.
      const { done } = tx
      done.catch(() => {})
      const result = await write(tx).catch((cause: unknown) => {
        abort(tx)
        throw cause
      })
      await done
      return result
    })
  }
}

type WriteTransaction = IDBPTransaction<PhotoSchema, Stores, 'readwrite'>

/** A value that cannot be stored at all fails alone: then nothing that came with it may stand. */
function abort(tx: WriteTransaction): void {
  try {
    tx.abort()
  } catch {
    // The browser has aborted it itself.
  }
}

/** What fails is said by the transaction, which then fails as a whole. */
function asking(request: Promise<unknown>): void {
  request.catch(() => {})
}

function deleteFrom(tx: WriteTransaction, names: Stores, hash: PhotoHash): void {
  for (const name of names) asking(tx.objectStore(name).delete(hash))
}
