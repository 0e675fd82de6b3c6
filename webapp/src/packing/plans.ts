// The plans of the days looked at: the last one of each stays on the device, and so does what was asked of it.

import { signal } from '@preact/signals'
import { mayManage } from '../crop/member'
import type { Day } from '../crop/nouns'
import type { LineID } from '../crop/sale_nouns'
import { type Notebook, ownersAlone } from '../sync/notebook'
import { ShedAnswer } from '../ui/shed_answer'
import { isPackingAnswer, type PackingAnswer } from './packing_answer'

/** What is asked of a plan: so many bunches of a line in all, and nothing more of a line. */
export interface Wishes {
  readonly pinned: ReadonlyMap<LineID, number>
  readonly refused: ReadonlySet<LineID>
}

export class DayPlan {
  readonly shed: ShedAnswer<PackingAnswer>
  /** What was wished since the app was opened. */
  private readonly wished = signal<Wishes | undefined>(undefined)

  constructor(readonly day: Day, owner: boolean) {
    const path = () => pathOf(day, this.wishes())
    this.shed = new ShedAnswer<PackingAnswer>({
      get path() { return path() },
      kept: `${owner ? ownersAlone : ''}${keptUnder(day)}`,
      // Also where another version of the app kept it, or the shed took the device for an owner's still.
      isAnswer: (value): value is PackingAnswer => isPackingAnswer(value) && value.day === day && (owner || value.money === undefined),
    })
  }

  /** What was asked for last, here or before the app was closed. Subscribes where it is drawn. */
  wishes(): Wishes {
    return this.wished.value ?? wishesOf(this.shed.answer.value)
  }

  /** What is to be asked for next. */
  wish(wishes: Wishes): void {
    this.wished.value = wishes
  }
}

/** What was asked for with a plan. */
export function wishesOf(answer: Pick<PackingAnswer, 'pinned' | 'refused'> | undefined): Wishes {
  return { pinned: new Map(Object.entries(answer?.pinned ?? {}) as [LineID, number][]), refused: new Set(answer?.refused) }
}

interface Plans {
  readonly owner: boolean
  readonly days: Map<Day, DayPlan>
}

const plans = new WeakMap<Notebook, Plans>()

/**
 * The one plan of a day, with what the device kept of it. An owner's has amounts: once the device is an owner's no
 * longer, or becomes one's, plans are asked for anew.
 */
export function planOf(notebook: Notebook, day: Day): DayPlan {
  const owner = mayManage(notebook.member.value)
  let known = plans.get(notebook)
  if (known?.owner !== owner) plans.set(notebook, known = { owner, days: new Map() })
  let plan = known.days.get(day)
  if (!plan) {
    known.days.set(day, plan = new DayPlan(day, owner))
    plan.shed.read(notebook)
  }
  return plan
}

/** Plans of a few days are kept: a newer one takes the place of one of a week before or after. */
function keptUnder(day: Day): string {
  return `packing.plan.${new Date(`${day}T00:00:00Z`).getUTCDay()}`
}

/** Where the shed is asked. */
export function pathOf(day: Day, { pinned, refused }: Wishes): string {
  const asked = new URLSearchParams({ day })
  for (const line of [...pinned.keys()].sort()) asked.append('pin', `${pinned.get(line)}:${line}`)
  for (const line of [...refused].sort()) asked.append('refuse', line)
  return `/api/packing?${asked}`
}

/** Wishes with a line pinned, refused, or left to the plan again. */
export function wishing({ pinned, refused }: Wishes, line: LineID, wish: number | 'refused' | 'free'): Wishes {
  const others = new Map([...pinned].filter(([id]) => id !== line))
  const out = new Set([...refused].filter((id) => id !== line))
  if (wish === 'refused') out.add(line)
  else if (wish !== 'free') others.set(line, wish)
  return { pinned: others, refused: out }
}
