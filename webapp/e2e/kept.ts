// What a device keeps for itself, as it is stored: a page may be shown before what it says is.

import type { Page } from 'playwright-core'

/** What stands under a name in the farm's store; undefined while nothing does. */
export function keptBy(page: Page, name: string): Promise<unknown> {
  return page.evaluate(async (key) => {
    const done = <T>(asked: IDBRequest<T>) => new Promise<T>((resolve) => { asked.onsuccess = () => resolve(asked.result) })
    const named = (await indexedDB.databases()).find((one) => one.name?.startsWith('corymb farm'))
    const db = await done(indexedDB.open(named!.name!))
    const found: unknown = await done(db.transaction('kept').objectStore('kept').get(key))
    db.close()
    return found
  }, name)
}
