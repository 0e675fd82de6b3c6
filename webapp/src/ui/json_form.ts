// Whether something that came from the shed, or was kept of it, has the form that this version reads.

export type Check = (value: unknown) => boolean

export const numeric: Check = (value) => typeof value === 'number'
export const text: Check = (value) => typeof value === 'string'
export const truth: Check = (value) => typeof value === 'boolean'
export const listOf = (one: Check): Check => (value) => Array.isArray(value) && value.every(one)
export const maybe = (one: Check): Check => (value) => value === undefined || one(value)
export const orNull = (one: Check): Check => (value) => value === null || one(value)

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

export const having = (fields: Readonly<Record<string, Check>>): Check => (value) =>
  isRecord(value) && Object.entries(fields).every(([name, check]) => check(value[name]))
export const eachOf = (one: Check): Check => (value) => isRecord(value) && Object.values(value).every(one)
export const numbers = (...names: readonly string[]): Readonly<Record<string, Check>> =>
  Object.fromEntries(names.map((name) => [name, numeric]))

/** Something that the reader of a report must know, to be said in the language in use; `text` says it in English. */
export interface Note {
  readonly code: string
  readonly args: Readonly<Record<string, string>>
  readonly text: string
}

export const note = having({ code: text, args: eachOf(text), text })
