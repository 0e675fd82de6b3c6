// Answers of the shed to several questions, kept on the device and read offline with the day on which each came.

import { type Signal, signal } from '@preact/signals'
import type { Day } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'

/** An answer, the question that it is to, and the day on which it came. */
export interface Shelved<A> {
  readonly query: string
  readonly day: Day
  readonly answer: A
}

export interface ShelfOptions<A> {
  /** Where it is asked for; a question follows it. */
  readonly path: string
  /** Under which the device keeps the answers. */
  readonly kept: string
  readonly isAnswer: (value: unknown) => value is A
  /** Questions whose answers are kept, the last asked first. */
  readonly most: number
}

/** How it stands with what is asked: slow is still being worked out at the shed. */
export type Asking = 'no' | 'yes' | 'slow' | 'failed'

/** Milliseconds: how long an answer is waited for, and how long after one that was slow the shed is asked again. */
const longestWait = 90_000
const askAgainAfter = 3_000

/** The status by which the shed says that it goes on working an answer out. */
const tooSlow = 503

export class Shelf<A> {
  readonly all: Signal<readonly Shelved<A>[]> = signal([])
  readonly asking = signal<Asking>('no')
  /** The question asked last: what comes of an earlier one is kept, and says nothing of how it stands. */
  private last = ''

  constructor(private readonly options: ShelfOptions<A>) {}

  find(query: string): Shelved<A> | undefined {
    return this.all.value.find((one) => one.query === query)
  }

  /** Shows what the device has. What an earlier version of the app kept there is as good as nothing. */
  read(notebook: Notebook): void {
    if (this.all.peek().length > 0) return
    const found = notebook.kept<unknown>(this.options.kept)
    if (Array.isArray(found)) this.all.value = found.filter((one) => this.isShelved(one))
  }

  /** Asks the shed anew until it answers, or nobody looks any more. */
  async ask(notebook: Notebook, query: string, left: AbortSignal): Promise<void> {
    this.last = query
    this.tell(query, 'yes')
    try {
      const fresh = await this.answerTo(query, left)
      this.all.value = shelve(this.all.peek(), { query, day: today.peek(), answer: fresh }, this.options.most)
      await notebook.keep(this.options.kept, this.all.peek())
      this.tell(query, 'no')
    } catch (reason) {
      if (left.aborted) return
      console.error(`asking the shed for ${this.options.path}${query}`, reason)
      this.tell(query, 'failed') // the last answer stands, and the page says so
    }
  }

  private async answerTo(query: string, left: AbortSignal): Promise<A> {
    for (;;) {
      const response = await fetch(this.options.path + query, { signal: AbortSignal.any([left, AbortSignal.timeout(longestWait)]) })
      if (response.status === tooSlow) {
        this.tell(query, 'slow')
        await new Promise((again) => setTimeout(again, askAgainAfter))
        left.throwIfAborted()
        continue
      }
      if (!response.ok) throw new Error(`the shed answered ${response.status}`)
      const fresh: unknown = await response.json()
      if (!this.options.isAnswer(fresh)) throw new Error('the shed answered in an unknown form')
      return fresh
    }
  }

  private tell(query: string, how: Asking): void {
    if (query === this.last) this.asking.value = how
  }

  private isShelved(one: unknown): one is Shelved<A> {
    return typeof one === 'object' && one !== null && 'query' in one && 'day' in one && 'answer' in one &&
      typeof one.query === 'string' && typeof one.day === 'string' && this.options.isAnswer(one.answer)
  }
}

/** One more put first, in place of what was answered to the same; of too many the first asked go. */
export function shelve<A>(all: readonly Shelved<A>[], one: Shelved<A>, most: number): Shelved<A>[] {
  return [one, ...all.filter(({ query }) => query !== one.query)].slice(0, most)
}
