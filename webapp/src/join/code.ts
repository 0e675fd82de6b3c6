// The code of an invitation: eight letters and digits that tolerate how people type and read them.

/** Letters that an invitation never holds, and the digits they are taken for (Crockford's base 32). */
const lookAlikes: Readonly<Record<string, string>> = { O: '0', I: '1', L: '1' }

const codeLength = 8

/** The code as the shed wants it: capitals without spaces and dashes, look-alikes put right. */
export function normalCode(typed: string): string {
  return typed.toUpperCase().replace(/[^0-9A-Z]/g, '').replace(/[OIL]/g, (letter) => lookAlikes[letter] ?? letter)
}

export function isWhole(code: string): boolean {
  return code.length === codeLength
}

/** As people read it: ABCD-EFGH. */
export function readable(code: string): string {
  return code.length > 4 ? `${code.slice(0, 4)}-${code.slice(4)}` : code
}
