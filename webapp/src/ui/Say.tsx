// A sentence of a catalogue with its weighty words between double asterisks.

export function Marked({ text }: { readonly text: string }) {
  return <>{text.split('**').map((part, i) => (i % 2 === 1 ? <b key={i}>{part}</b> : part))}</>
}

/** The sentence that leads a page. */
export function Say({ text }: { readonly text: string }) {
  return <p class="say"><Marked text={text} /></p>
}
