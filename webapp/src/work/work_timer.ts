// The timer of this device: started, changed over and stopped with one tap each, with no signal, and still running after the
// app was closed. It is kept here alone; what it comes to is work like any other.

import { type Signal, signal } from '@preact/signals'
import { v4 as newUUID } from 'uuid'
import type { WorkID, WorkKind } from '../crop/money_nouns'
import type { BedID } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Notebook, Said } from '../sync/notebook'
import type { Undoing } from '../ui/use_undoable'
import { type Timer, timed } from './timer'
import { timedWork, workedDeed } from './worked'

const keptAs = 'work.timer'

const timers = new WeakMap<Notebook, WorkTimer>()

export class WorkTimer {
  readonly running: Signal<Timer | undefined>

  private constructor(private readonly notebook: Notebook) {
    this.running = signal(notebook.kept<Timer | null>(keptAs) ?? undefined)
  }

  static of(notebook: Notebook): WorkTimer {
    let timer = timers.get(notebook)
    if (!timer) timers.set(notebook, timer = new WorkTimer(notebook))
    return timer
  }

  /** Shows what is kept by now: call once something was stored. */
  look(): void {
    this.running.value = this.notebook.kept<Timer | null>(keptAs) ?? undefined
  }

  /** Begins a kind of work; what ran until now is written down. Nothing is planned while a forgotten timer waits for an answer. */
  starting(kind: WorkKind, now: number): Undoing | string {
    const before = this.running.peek()
    const next: Timer = { kind, since: now, person: this.notebook.person.peek(), bed: before?.bed ?? '' }
    if (!before) return this.undoing(undefined, next, undefined, t('work.said.started', { kind: kindWord(kind) }))
    const outcome = timed(before, now)
    if (outcome === 'ask') return t('work.timer.first')
    return this.undoing(before, next, outcome === 'nothing' ? undefined : outcome.minutes, t('work.said.started', { kind: kindWord(kind) }))
  }

  stopping(now: number): Undoing | string {
    const before = this.running.peek()
    if (!before) return t('work.timer.none')
    const outcome = timed(before, now)
    if (outcome === 'ask') return t('work.timer.first')
    return this.undoing(before, undefined, outcome === 'nothing' ? undefined : outcome.minutes, outcome === 'nothing' ? t('work.said.nothing') : undefined)
  }

  /** What a person says that a forgotten timer comes to; undefined does not count it. */
  answered(minutes: number | undefined): Undoing | string {
    const before = this.running.peek()
    if (!before) return t('work.timer.none')
    return this.undoing(before, undefined, minutes, minutes === undefined ? t('work.said.not_counted') : undefined)
  }

  async atBed(bed: BedID | ''): Promise<void> {
    const before = this.running.peek()
    if (!before) return
    await this.notebook.keep<Timer>(keptAs, { ...before, bed })
    this.look()
  }

  private undoing(before: Timer | undefined, next: Timer | undefined, minutes: number | undefined, said: string | undefined): Undoing {
    const deed = before && minutes !== undefined ? workedDeed(timedWork(newUUID() as WorkID, before, minutes)) : { facts: [], undo: [] }
    const written = before && minutes !== undefined ? t('work.said.written', { kind: kindWord(before.kind), n: minutes }) : ''
    const back: Said = { facts: deed.undo, alongside: { [keptAs]: before ?? null } }
    return {
      facts: deed.facts, alongside: { [keptAs]: next ?? null }, undo: () => back,
      said: [written, said ?? ''].filter((part) => part !== '').join(' '),
    }
  }
}

export function kindWord(kind: WorkKind): string {
  return t(`work.kind.${kind}`)
}
