// What the shed's program says of itself. It is asked each time and not kept: the texts alone are longer
// than everything else that a phone holds of the app.

export interface About {
  readonly version: string
  /** Of the compiler. */
  readonly go: string
  readonly sqlite: string
  /** The library that brings SQLite. */
  readonly driver: string
  readonly dependencies: readonly Dependency[]
}

export interface Dependency {
  readonly name: string
  readonly version: string
  /** An SPDX identifier, or "see text". */
  readonly licence: string
}

/** Milliseconds after which the shed is taken not to answer. */
const longestWait = 10_000

/** Asks the shed; undefined where it gives no answer. */
export async function askAbout(): Promise<About | undefined> {
  const said = await ask('/api/about')
  return isAbout(said) ? said : undefined
}

/** Every licence in full, by the name of what is under it; undefined where the shed gives no answer. */
export async function askTexts(): Promise<ReadonlyMap<string, string> | undefined> {
  const said = await ask('/api/about/texts')
  const texts = isRecord(said) ? said['texts'] : undefined
  if (!isRecord(texts)) return undefined
  return new Map(Object.entries(texts).map(([name, text]) => [name, String(text)]))
}

async function ask(address: string): Promise<unknown> {
  try {
    const response = await fetch(address, { signal: AbortSignal.timeout(longestWait) })
    return response.ok ? await response.json() : undefined
  } catch {
    return undefined // out of reach, or no JSON: the page says that there was no answer
  }
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null
}

function isAbout(value: unknown): value is About {
  return isRecord(value) && typeof value['version'] === 'string' && typeof value['go'] === 'string' &&
    typeof value['sqlite'] === 'string' && typeof value['driver'] === 'string' &&
    Array.isArray(value['dependencies']) && value['dependencies'].every(isDependency)
}

function isDependency(value: unknown): value is Dependency {
  return isRecord(value) && ['name', 'version', 'licence'].every((field) => typeof value[field] === 'string')
}
