// What the shed works out of everything recorded: asked for while the link is live, kept on the device, and read
// offline with its date.

import { type Signal, signal } from '@preact/signals'
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

export class ShedAnswer<A> {
  readonly answer: Signal<A | undefined> = signal(undefined)
  readonly fetching = signal<'no' | 'yes' | 'failed'>('no')
  /** Why the shed has no answer to what was asked last, where it said so. */
  readonly refused: Signal<Refused | undefined> = signal(undefined)
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
    if (!inReach(notebook.sync.peek())) return this.leaveIt()
    if (this.fetching.peek() === 'yes') {
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
    this.fetching.value = 'yes'
    const waiting = waitingWithin(notebook, this.asked.patience ?? longestWait)
    try {
      const path = howNew === 'recent' ? `${this.asked.path}?recent` : this.asked.path
      const response = await fetch(path, { ...postOf(this.asked.body), signal: waiting.signal })
      if (response.status === unprocessable) return this.refuse(await response.json())
      if (!response.ok) throw new Error(`the shed answered ${response.status}`)
      const fresh: unknown = await response.json()
      if (!this.asked.isAnswer(fresh)) throw new Error('the shed answered in an unknown form')
      this.answer.value = fresh
      this.refused.value = undefined
      await notebook.keep(this.asked.kept, fresh)
      this.fetching.value = 'no'
    } catch (reason) {
      console.error(`asking the shed for ${this.asked.path}`, reason)
      // The last answer stands, and the page says so; where the shed is out of reach nothing has failed.
      this.fetching.value = inReach(notebook.sync.peek()) ? 'failed' : 'no'
    } finally {
      waiting.end()
    }
  }

  /** Out of reach that is what is said: that the shed did not answer before is no news. */
  private leaveIt(): void {
    if (this.fetching.peek() === 'failed') this.fetching.value = 'no'
  }

  private refuse(told: unknown): void {
    if (!isRefused(told)) throw new Error('the shed refused in an unknown form')
    this.refused.value = (told as { readonly error: Refused }).error
    this.fetching.value = 'no'
  }
}

/** A signal to give up waiting: after some milliseconds, or at once where the shed goes out of reach. */
function waitingWithin(notebook: Notebook, patience: number): { readonly signal: AbortSignal; end(): void } {
  const giving = new AbortController()
  const timer = setTimeout(() => giving.abort(), patience)
  const unfollow = notebook.sync.subscribe((status) => { if (!inReach(status)) giving.abort() })
  const end = () => {
    clearTimeout(timer)
    unfollow()
  }
  return { signal: giving.signal, end }
}

/** The status by which the shed says that a question cannot be answered as things stand. */
const unprocessable = 422

function postOf(body: unknown): RequestInit {
  return body === undefined ? {} : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }
}
