// What the shed works out of everything recorded: asked for while the link is live, kept on the device, and read
// offline with its date.

import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { Notebook } from '../sync/notebook'
import { inReach } from '../sync/reach'
import { having, text } from './json_form'

export interface Asked<A> {
  /** Where it is asked for; read when it is, so that a question may change. */
  readonly path: string
  /** What is asked, of a question too long for a path; read as the path is. The shed is then asked to answer it, as JSON. */
  readonly body?: unknown
  /** Under which the device keeps the answer. */
  readonly kept: string
  readonly isAnswer: (value: unknown) => value is A
  /** Milliseconds after which the shed is taken not to answer, where what it does takes longer than a fit. */
  readonly patience?: number
}

/** How new what is asked for must be: knowing all that the shed has, or it may be of an hour ago, which costs the shed less. */
export type HowNew = 'newest' | 'recent'

/** Milliseconds after which the shed is taken not to answer: a fit takes a few seconds. */
const longestWait = 60_000

/** What the shed lacks for an answer: a code, and a sentence in English. */
export interface Refused {
  readonly code: string
  readonly text: string
}

const isRefused = having({ error: having({ code: text, text }) })

export type Fetching = 'no' | 'yes' | 'failed'

export class ShedAnswer<A> {
  readonly answer: Signal<A | undefined> = signal(undefined)
  /** Out of reach nothing is on its way and nothing has failed: that it is out of reach is what is said then. */
  readonly fetching: ReadonlySignal<Fetching> = computed(() => (this.sync.value && !inReach(this.sync.value.value) ? 'no' : this.state.value))
  /** Why the shed has no answer to what was asked last, where it said so. */
  readonly refused: Signal<Refused | undefined> = signal(undefined)
  private readonly state = signal<Fetching>('no')
  /** Of who asked last. */
  private readonly sync = signal<Notebook['sync'] | undefined>(undefined)
  /** Of the request under way. */
  private asking: HowNew = 'newest'
  /** The newest is wanted, and what is under way may be older. */
  private again = false

  constructor(private readonly asked: Asked<A>) {}

  /** Shows what the device has. What an earlier version of the app kept there is as good as nothing. */
  read(notebook: Notebook): void {
    const found = notebook.kept<unknown>(this.asked.kept)
    if (this.answer.peek() === undefined && this.asked.isAnswer(found)) this.answer.value = found
  }

  /** Shows what the device has and, while the link is live, asks the shed anew. */
  async refresh(notebook: Notebook, howNew: HowNew = 'newest'): Promise<void> {
    this.read(notebook)
    if (!inReach(notebook.sync.peek())) return
    if (this.state.peek() === 'yes') {
      this.again ||= howNew === 'newest' && this.asking === 'recent'
      return
    }
    await this.ask(notebook, howNew)
    if (!this.again) return
    this.again = false
    await this.refresh(notebook)
  }

  private async ask(notebook: Notebook, howNew: HowNew): Promise<void> {
    this.asking = howNew
    this.sync.value = notebook.sync
    this.state.value = 'yes'
    try {
      const path = howNew === 'recent' ? `${this.asked.path}?recent` : this.asked.path
      const response = await fetch(path, { ...postOf(this.asked.body), signal: AbortSignal.timeout(this.asked.patience ?? longestWait) })
      if (response.status === unprocessable) return this.refuse(await response.json())
      if (!response.ok) throw new Error(`the shed answered ${response.status}`)
      const fresh: unknown = await response.json()
      if (!this.asked.isAnswer(fresh)) throw new Error('the shed answered in an unknown form')
      this.answer.value = fresh
      this.refused.value = undefined
      await notebook.keep(this.asked.kept, fresh)
      this.state.value = 'no'
    } catch (reason) {
      console.error(`asking the shed for ${this.asked.path}`, reason)
      this.state.value = 'failed' // the last answer stands, and the page says so
    }
  }

  private refuse(told: unknown): void {
    if (!isRefused(told)) throw new Error('the shed refused in an unknown form')
    this.refused.value = (told as { readonly error: Refused }).error
    this.state.value = 'no'
  }
}

/** The status by which the shed says that a question cannot be answered as things stand. */
const unprocessable = 422

function postOf(body: unknown): RequestInit {
  return body === undefined ? {} : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }
}
