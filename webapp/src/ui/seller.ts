// Who sells, as it heads what is printed.

import type { Farm } from '../crop/nouns'

/** The lines that the farm tells for its papers, else its name. */
export function sellerLines({ sales, name }: Farm): string[] {
  const told = linesOfText(sales.terms.seller)
  return told.length > 0 ? told : [name].filter((one) => one !== '')
}

/** By what name buyers know the farm: '' where it has none. */
export function sellerName(farm: Farm): string {
  return sellerLines(farm)[0] ?? ''
}

export function linesOfText(text: string): string[] {
  return text.split('\n').map((line) => line.trim()).filter((line) => line !== '')
}
