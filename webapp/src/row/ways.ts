// How each bed is walked on this device: whom to call out, how its plants are cut, and where its walk was
// left. Remembered bed by bed, and never synced.

import { signal } from '@preact/signals'
import type { BedID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import type { Position } from './steps'
import type { Whom } from './walk'

export interface Way {
  readonly whom: Whom
  /** Wanted stems are left standing: counts are then lower bounds. */
  readonly toOrder: boolean
  /** Where the walk stood when it was left for another bed. */
  readonly left?: Position
}

const usual: Way = { whom: 'counted', toOrder: false }

export class Ways {
  /** Those changed since the notebook was opened; the others are as it kept them. */
  private readonly changed = signal<ReadonlyMap<BedID, Way>>(new Map())
  private readonly notebook: Notebook

  constructor(notebook: Notebook) {
    this.notebook = notebook
  }

  of(bed: BedID): Way {
    return this.changed.value.get(bed) ?? this.notebook.kept<Way>(nameOf(bed)) ?? usual
  }

  /** Rejects with a RecordError where it will not be remembered; it holds until the page is closed. */
  async set(bed: BedID, way: Partial<Way>): Promise<void> {
    const alongside = this.change(bed, way)
    await this.notebook.recordInTurn(() => ({ facts: [], alongside }))
  }

  /** Changes a bed's way and tells what of it is to be kept, for who keeps something with it. */
  change(bed: BedID, way: Partial<Way>): Readonly<Record<string, unknown>> {
    const now = { ...this.of(bed), ...way }
    this.changed.value = new Map(this.changed.peek()).set(bed, now)
    return { [nameOf(bed)]: now }
  }
}

function nameOf(bed: BedID): string {
  return `row.way.${bed}`
}
