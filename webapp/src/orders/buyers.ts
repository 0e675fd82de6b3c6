// Finding buyers by a few letters of their names, whatever their accents.

import type { Buyer, Sales } from '../crop/sale_nouns'

/** Those whose name holds every word typed, by name. */
export function buyersFound(sales: Sales, typed: string): Buyer[] {
  return buyersNamed(sales.buyers.values(), typed)
}

/** The same of any buyers. */
export function buyersNamed(buyers: Iterable<Buyer>, typed: string): Buyer[] {
  const wanted = plain(typed).split(/\s+/).filter((word) => word !== '')
  return [...buyers]
    .filter(({ name }) => { const said = plain(name); return wanted.every((word) => said.includes(word)) })
    .sort((a, b) => a.name.localeCompare(b.name))
}

function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{Mark}/gu, '').toLowerCase()
}

/** Whether another buyer is called so: two of one name are told apart by nobody. */
export function isNamedAlike(sales: Sales, { id, name }: Pick<Buyer, 'id' | 'name'>): boolean {
  const asked = plain(name.trim())
  return asked !== '' && [...sales.buyers.values()].some((one) => one.id !== id && plain(one.name.trim()) === asked)
}
