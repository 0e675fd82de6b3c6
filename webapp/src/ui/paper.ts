// The paper that the shed's sheets are drawn for.

export type Paper = 'a4' | 'letter'

export const papers: readonly Paper[] = ['a4', 'letter']

/** Under which this device keeps the paper chosen last. */
export const keptPaper = 'tags.paper'

/** The paper that printers hold where the device's first language is spoken: US Letter in North America. */
export function usualPaper(languages: readonly string[]): Paper {
  try {
    const region = new Intl.Locale(languages[0] ?? '').maximize().region
    return region === 'US' || region === 'CA' || region === 'MX' ? 'letter' : 'a4'
  } catch {
    return 'a4' // no language at all
  }
}
