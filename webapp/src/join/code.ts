// The code of an invitation, which tolerates how people type it. Mirrors server/joining.

/** What a code never has, since it is easily taken for something else. */
const neverInACode = /[^34679ACDEFGHJKMNPQRTWXY]/

/** Of an invitation, and of the link by which the first owner joins. */
const codeLengths: readonly number[] = [8, 24]

/** The code as the shed wants it: capitals without spaces and dashes. */
export function normalCode(typed: string): string {
  return typed.toUpperCase().replace(/[^0-9A-Z]/g, '')
}

export function isWhole(code: string): boolean {
  return codeLengths.includes(code.length) && !neverInACode.test(code)
}

/** The first letter or digit that no code has; '' where all may be right. */
export function misread(code: string): string {
  return neverInACode.exec(code)?.[0] ?? ''
}

/** As people read it: ACDE-FGHJ. */
export function readable(code: string): string {
  return code.replace(/(.{4})(?=.)/g, '$1-')
}
