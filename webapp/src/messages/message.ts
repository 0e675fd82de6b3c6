// The form of a message and how it is filled: placeholders in braces, plurals over {n}.

/** A text, or its plural forms chosen by the number given as `n`. */
export type Message = string | { readonly one: string; readonly other: string }

type Names<S extends string> = S extends `${string}{${infer P}}${infer Rest}` ? P | Names<Rest> : never
type TextOf<M extends Message> = M extends string ? M : M extends { one: infer A; other: infer B } ? (A | B) & string : never
type NamesOf<M extends Message> = Names<TextOf<M>> | (M extends string ? never : 'n')

/** What a message needs to be said; an empty tuple where it needs nothing. */
export type ArgsOf<M extends Message> = [NamesOf<M>] extends [never]
  ? []
  : [args: { readonly [P in NamesOf<M>]: string | number }]

/** The same keys in another language, plural where the first is plural. */
export type Translation<T extends Record<string, Message>> = {
  readonly [K in keyof T]: T[K] extends string ? string : { readonly one: string; readonly other: string }
}

/** Fills a message for a locale: numbers by Intl, plural form by Intl, texts as they stand. */
export function fill(message: Message, args: Readonly<Record<string, string | number>>, locale: string): string {
  const text = typeof message === 'string' ? message : formFor(message, args['n'], locale)
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const value = args[name]
    if (value === undefined) return whole
    return typeof value === 'number' ? number(value, locale) : value
  })
}

function formFor(forms: { one: string; other: string }, n: string | number | undefined, locale: string): string {
  return pluralRules(locale).select(Number(n)) === 'one' ? forms.one : forms.other
}

// Making a formatter costs more than drawing the whole count grid, so each is made once a locale.
const pluralRules = oncePerLocale((locale) => new Intl.PluralRules(locale))
const numberFormat = oncePerLocale((locale) => new Intl.NumberFormat(locale))

/** A whole number in the locale's digits and grouping; what was rounded to nothing from below bears no sign. */
export function number(value: number, locale: string): string {
  return numberFormat(locale).format(value === 0 ? 0 : value)
}

/** Makes something at the first call for a locale and keeps it. */
export function oncePerLocale<T>(make: (locale: string) => T): (locale: string) => T {
  const made = new Map<string, T>()
  return (locale) => {
    let one = made.get(locale)
    if (one === undefined) {
      one = make(locale)
      made.set(locale, one)
    }
    return one
  }
}

/** Names of the placeholders in a message, sorted. */
export function placeholders(message: Message): string[] {
  const texts = typeof message === 'string' ? [message] : [message.one, message.other]
  const names = texts.flatMap((text) => [...text.matchAll(/\{(\w+)\}/g)].map((m) => m[1] ?? ''))
  return [...new Set(names)].sort()
}
